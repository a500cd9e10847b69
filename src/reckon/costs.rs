//! What was spent, by year and system.
//!
//! What counts is what entries say: their `costs` and the `cost` of their parts, in the year of the
//! entry. Currencies are never added together. Money that was spent on several systems at once is not
//! shared out, since nobody wrote down how.

use std::collections::btree_map::Entry as Place;
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
    let mut added: BTreeMap<&str, Added<'b>> = BTreeMap::new();
    for &entry in entries {
        for (place, money) in spent(book, entry, &order) {
            added.entry(money.code()).or_default().add(place, entry.when.day().date.year(), money);
        }
    }
    let mut counted: Vec<(usize, CurrencyCosts<'b>)> = added.into_iter().map(|(code, added)| (added.items, added.told(code))).collect();
    counted.sort_by(|(a, one), (b, other)| b.cmp(a).then_with(|| one.code.cmp(other.code)));
    Costs { currencies: counted.into_iter().map(|(_, costs)| costs).collect() }
}

/// What was spent in one currency, added up.
#[derive(Default)]
struct Added<'b> {
    items: usize,
    sums: BTreeMap<(CostPlace<'b>, i16), Sum>,
}

impl<'b> Added<'b> {
    fn add(&mut self, place: CostPlace<'b>, year: i16, money: &Money) {
        put(&mut self.sums, (place, year), Some(money));
        self.items += 1;
    }

    fn told(&self, code: &'b str) -> CurrencyCosts<'b> {
        let mut by_year: BTreeMap<i16, Sum> = BTreeMap::new();
        let mut by_place: BTreeMap<CostPlace<'b>, Sum> = BTreeMap::new();
        let mut total: BTreeMap<(), Sum> = BTreeMap::new();
        for ((place, year), sum) in &self.sums {
            put(&mut by_year, *year, sum.as_ref());
            put(&mut by_place, *place, sum.as_ref());
            put(&mut total, (), sum.as_ref());
        }
        let years: Vec<i16> = by_year.keys().rev().copied().collect();
        let systems = by_place.into_iter().map(|(place, total)| SystemCosts {
            place,
            by_year: years.iter().map(|year| self.sums.get(&(place, *year)).cloned()).collect(),
            total,
        });
        CurrencyCosts {
            code,
            systems: systems.collect(),
            by_year: by_year.into_values().rev().collect(),
            total: total.into_values().next().flatten(),
            years,
        }
    }
}

/// Adds to the sum that stands at a place; what cannot be held is `None`, and stays so.
fn put<K: Ord>(sums: &mut BTreeMap<K, Sum>, place: K, money: Option<&Money>) {
    match sums.entry(place) {
        Place::Vacant(free) => {
            free.insert(money.cloned());
        }
        Place::Occupied(mut sum) => {
            let more = sum.get().as_ref().and_then(|sum| sum.checked_add(money?));
            sum.insert(more);
        }
    }
}

/// Every sum of an entry with where it belongs.
fn spent<'b>(book: &'b Book, entry: &'b Entry, order: &BTreeMap<&str, usize>) -> Vec<(CostPlace<'b>, &'b Money)> {
    let kept = entry.kept();
    if kept.costs.is_empty() && kept.of_parts.is_empty() {
        return Vec::new();
    }
    let jobs: Vec<&Guide> = entry.jobs.iter().filter_map(|job| book.guide_or_former(&job.guide)).collect();
    let of_entry = place(systems_that_pay(book, entry, &jobs), order);
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

/// The systems that what an entry spent is told under: of its jobs and the one it names; only where there is neither, those of
/// its gear. (`Book::systems_of` has those of its gear always.)
fn systems_that_pay<'b>(book: &'b Book, entry: &'b Entry, jobs: &[&'b Guide]) -> BTreeSet<&'b str> {
    let mut systems: BTreeSet<&str> = jobs.iter().map(|guide| guide.system.as_str()).collect();
    systems.extend(entry.system.as_ref().map(|name| name.value.as_str()));
    if systems.is_empty() {
        systems.extend(entry.gear_touched().filter_map(|name| book.system_of_gear(&name.value)));
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
