//! What was spent, by year and system.
//!
//! What counts is what entries say: their `costs` and the `cost` of their parts, in the year of the
//! entry. Currencies are never added together. Money that was spent on several systems at once is not
//! shared out, since nobody wrote down how.

use std::collections::{BTreeMap, BTreeSet};

use crate::book::model::{Book, Entry, Guide, PartUse};
use crate::quantity::Money;

/// Where money belongs. In this order pages list it: systems as in `boat.yaml`, then the rest.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum CostPlace<'b> {
    /// By its place in `boat.yaml`, and its id; systems that nobody listed come last.
    System(usize, &'b str),
    /// The entry is about several, and does not say what was spent on which.
    Several,
    /// The entry names none.
    None,
}

/// What was spent, by currency.
#[derive(Debug, Clone, Default)]
pub struct Costs<'b> {
    /// The one with the most items first.
    pub currencies: Vec<CurrencyCosts<'b>>,
}

/// What was spent in one currency. A sum that grows too large to hold is `None`.
#[derive(Debug, Clone)]
pub struct CurrencyCosts<'b> {
    /// Three capitals.
    pub code: &'b str,
    /// Years in which something was spent, the latest first.
    pub years: Vec<i16>,
    pub systems: Vec<SystemCosts<'b>>,
    /// Of all systems, year by year.
    pub by_year: Vec<Option<Money>>,
    pub total: Option<Money>,
}

/// What was spent on one system, in one currency.
#[derive(Debug, Clone)]
pub struct SystemCosts<'b> {
    pub place: CostPlace<'b>,
    /// Beside the years of the currency; nothing spent is no item at all.
    pub by_year: Vec<Option<Sum>>,
    pub total: Option<Money>,
}

/// A sum, or `None` where it is too large to hold.
pub type Sum = Option<Money>;

/// Adds up what the entries say.
pub(super) fn costs<'b>(book: &'b Book, entries: &[&'b Entry]) -> Costs<'b> {
    let order: BTreeMap<&str, usize> =
        book.boat.systems.iter().enumerate().rev().map(|(at, system)| (system.id.value.as_str(), at)).collect();
    let mut items: BTreeMap<&str, Vec<Item<'b>>> = BTreeMap::new();
    for &entry in entries {
        for (place, money) in spent(book, entry, &order) {
            items.entry(money.code()).or_default().push(Item { place, year: entry.when.day().date.year(), money });
        }
    }
    let mut counted: Vec<(usize, CurrencyCosts<'b>)> =
        items.into_iter().map(|(code, items)| (items.len(), of_currency(code, &items))).collect();
    counted.sort_by(|(a, one), (b, other)| b.cmp(a).then_with(|| one.code.cmp(other.code)));
    Costs { currencies: counted.into_iter().map(|(_, costs)| costs).collect() }
}

/// One sum of one entry.
struct Item<'b> {
    place: CostPlace<'b>,
    year: i16,
    money: &'b Money,
}

fn of_currency<'b>(code: &'b str, items: &[Item<'b>]) -> CurrencyCosts<'b> {
    let years: BTreeSet<i16> = items.iter().map(|item| item.year).collect();
    let places: BTreeSet<CostPlace<'b>> = items.iter().map(|item| item.place).collect();
    let sum = |wanted: &dyn Fn(&Item<'b>) -> bool| add(items.iter().filter(|item| wanted(item)).map(|item| item.money));
    let years: Vec<i16> = years.into_iter().rev().collect();
    CurrencyCosts {
        code,
        systems: places
            .into_iter()
            .map(|place| SystemCosts {
                place,
                by_year: years.iter().map(|year| sum(&|item| item.place == place && item.year == *year)).collect(),
                total: sum(&|item| item.place == place).flatten(),
            })
            .collect(),
        by_year: years.iter().map(|year| sum(&|item| item.year == *year).flatten()).collect(),
        total: sum(&|_| true).flatten(),
        years,
    }
}

/// The sum of what is all in one currency; the outer `None`: there is nothing to add.
fn add<'m>(mut all: impl Iterator<Item = &'m Money>) -> Option<Sum> {
    let first = all.next()?.clone();
    Some(all.try_fold(first, |sum, money| sum.checked_add(money)))
}

/// Every sum of an entry with where it belongs.
fn spent<'b>(book: &'b Book, entry: &'b Entry, order: &BTreeMap<&str, usize>) -> Vec<(CostPlace<'b>, &'b Money)> {
    let jobs: Vec<&Guide> = entry.jobs.iter().filter_map(|job| book.guide_or_former(&job.guide)).collect();
    let of_entry = place(systems_of(book, entry, &jobs), order);
    let kept = entry.kept();
    let parts = kept.of_parts.iter().filter_map(|(at, cost)| {
        let part = entry.parts.get(*at)?;
        let of_part = jobs_that_use(&jobs, part).map(|guide| guide.system.as_str()).collect();
        // A part that one of the jobs lists was for that job.
        let place = match place(of_part, order) {
            CostPlace::System(at, id) => CostPlace::System(at, id),
            _ => of_entry,
        };
        Some((place, cost))
    });
    parts.chain(kept.costs.iter().map(|cost| (of_entry, &cost.cost))).collect()
}

fn jobs_that_use<'j, 'b>(jobs: &'j [&'b Guide], part: &'j PartUse) -> impl Iterator<Item = &'b Guide> + use<'j, 'b> {
    jobs.iter().copied().filter(|guide| guide.parts.iter().any(|used| used.item.value == part.item.value))
}

/// The systems of its jobs and the one it names; where there is neither, those of its gear.
fn systems_of<'b>(book: &'b Book, entry: &'b Entry, jobs: &[&'b Guide]) -> BTreeSet<&'b str> {
    let mut systems: BTreeSet<&str> = jobs.iter().map(|guide| guide.system.as_str()).collect();
    systems.extend(entry.system.as_ref().map(|name| name.value.as_str()));
    if systems.is_empty() {
        let gear = entry.gear.iter().chain(entry.fitted.iter().map(|renewal| &renewal.gear));
        systems.extend(gear.filter_map(|name| book.boat.gear(&name.value)?.system.as_ref()).map(|name| name.value.as_str()));
    }
    systems
}

fn place<'b>(systems: BTreeSet<&'b str>, order: &BTreeMap<&str, usize>) -> CostPlace<'b> {
    let mut systems = systems.into_iter();
    match (systems.next(), systems.next()) {
        (Some(system), None) => CostPlace::System(order.get(system).copied().unwrap_or(usize::MAX), system),
        (Some(_), Some(_)) => CostPlace::Several,
        (None, _) => CostPlace::None,
    }
}
