//! What was spent.

use super::Link;
use serde::Serialize;

#[derive(Debug, Clone, Serialize)]
pub struct CostsPage {
    /// The currency with the most items first.
    pub currencies: Vec<CostsOfCurrency>,
    /// Something was spent on several systems at once.
    pub several: bool,
}

#[derive(Debug, Clone, Serialize)]
pub struct CostsOfCurrency {
    /// Three capitals.
    pub code: String,
    /// A few years each, the latest first.
    pub tables: Vec<CostsTable>,
}

/// Systems down, years across.
#[derive(Debug, Clone, Serialize)]
pub struct CostsTable {
    /// `EUR, 2022 to 2026`.
    pub caption: String,
    /// Pages of the log, the latest year first.
    pub years: Vec<Link>,
    pub rows: Vec<CostRow>,
    /// Of all systems, year by year.
    pub sums: Vec<String>,
    /// Over all years; only in the first of several years' tables.
    pub total: Option<String>,
    /// Head of the column of totals.
    pub total_head: String,
}

/// What was spent on one system.
#[derive(Debug, Clone, Serialize)]
pub struct CostRow {
    pub name: String,
    /// Page of the system, where it has one.
    pub href: Option<String>,
    /// Year by year; empty where nothing was spent.
    pub sums: Vec<String>,
    /// Over all years; only where the table has it.
    pub total: Option<String>,
}
