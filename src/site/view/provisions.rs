//! What to buy: one page for the days ahead, one a passage, one an occasion.

use super::{Link, More};
use serde::Serialize;

#[derive(Debug, Clone, Serialize)]
pub struct ProvisionsPage {
    /// What the list is for, in a sentence.
    pub what: String,
    /// The other lists.
    pub others: Vec<Link>,
    /// The list as a table for spreadsheets.
    pub csv: Link,
    pub buy: Vec<ProvisionRow>,
    pub buy_more: Option<More>,
    /// What cannot be reckoned: somebody has to look.
    pub look: Vec<ProvisionRow>,
    pub look_more: Option<More>,
    /// Needed, and enough aboard.
    pub enough: Vec<ProvisionRow>,
    pub enough_more: Option<More>,
    /// What it costs, one sum a currency.
    pub total: Vec<String>,
    /// Lines to buy that have no price.
    pub unpriced: usize,
}

/// A line of the list.
#[derive(Debug, Clone, Serialize)]
pub struct ProvisionRow {
    pub title: String,
    /// Its line of the stores; `None`: they do not list it.
    pub href: Option<String>,
    pub part_number: Option<String>,
    pub stowed: Option<String>,
    /// `6 L`; `None`: nobody can say how much.
    pub buy: Option<String>,
    /// `1 × 5 L + 1 × 1 L`; `None` where that says no more.
    pub packs: Option<String>,
    pub needed: Option<String>,
    pub minimum: Option<String>,
    /// `2 aboard`, `plenty`.
    pub aboard: String,
    pub cost: Option<String>,
    pub uses: Vec<UseView>,
    pub uses_more: Option<More>,
    /// What there is to say besides, a sentence each.
    pub remarks: Vec<String>,
}

/// A guide that needs it.
#[derive(Debug, Clone, Serialize)]
pub struct UseView {
    pub guide: Link,
    pub gear: Vec<Link>,
    /// `7 pieces`: where there is more gear than is named.
    pub pieces: Option<String>,
    /// `3 times`; `None`: once.
    pub times: Option<String>,
    pub if_worn: bool,
}
