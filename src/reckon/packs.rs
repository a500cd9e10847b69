//! How many packs of which sizes to buy: the least left over, and of those the fewest packs.
//!
//! Sizes become whole numbers of their greatest common measure, so that nothing is rounded. Where a
//! table of all sums is small enough the answer is found there and is the best there is; else a
//! search with a fixed number of trials takes the best it meets. Whatever the input, the work is
//! bounded and the purchase is never less than what is short.

use super::exact::{over, times, whole};
use crate::quantity::Exact;

/// Most sums looked at, times sizes: under a millisecond, for a list may have a thousand items.
const MOST_SUMS: i128 = 100_000;
/// Most trials of the search.
const MOST_TRIALS: u32 = 100_000;
/// Most different sizes that are searched through.
const MOST_SIZES: usize = 64;

/// So many packs of one size.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Pack {
    /// Which of the sizes, from 0.
    pub size: usize,
    pub count: u64,
}

/// A purchase in packs.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Packs {
    /// The largest size first.
    pub packs: Vec<Pack>,
    /// What they hold together: never less than was short.
    pub total: Exact,
    /// No other purchase leaves less over, nor as little in fewer packs.
    pub best: bool,
}

/// Packs that hold at least `short`. Sizes that are not above nothing are passed over.
///
/// `None`: there is no size to buy, or the figures are too large to hold.
#[must_use]
pub(super) fn packs(short: &Exact, sizes: &[Exact]) -> Option<Packs> {
    let zero = whole(0);
    if *short <= zero {
        return Some(Packs { packs: Vec::new(), total: zero, best: true });
    }
    // The largest first; of two that are alike the one written first.
    let mut order: Vec<usize> = (0..sizes.len()).filter(|at| sizes.get(*at).is_some_and(|size| *size > zero)).collect();
    order.sort_by(|a, b| sizes.get(*b).cmp(&sizes.get(*a)).then(a.cmp(b)));
    order.dedup_by(|a, b| sizes.get(*a) == sizes.get(*b));
    let cut = order.len() > MOST_SIZES;
    if cut {
        // The large ones carry the bulk, the small ones fit the rest.
        order.drain(MOST_SIZES / 2..order.len() - MOST_SIZES / 2);
    }
    let chosen: Vec<Exact> = order.iter().filter_map(|at| sizes.get(*at)).copied().collect();
    let found = in_whole_numbers(short, &chosen).or_else(|| one_size(short, &chosen))?;
    let mut total = zero;
    let mut packs = Vec::new();
    for ((&size, exact), count) in order.iter().zip(&chosen).zip(found.counts) {
        if count > 0 {
            total = super::exact::plus(&total, &times(exact, &Exact::from_integer(count))?)?;
            packs.push(Pack { size, count: u64::try_from(count).ok()? });
        }
    }
    (total >= *short).then_some(Packs { packs, total, best: found.best && !cut })
}

/// How many of each size, the sizes from the largest to the smallest.
struct Found {
    counts: Vec<i128>,
    best: bool,
}

/// The sizes as whole numbers of their greatest common measure. `None`: too large to hold.
fn in_whole_numbers(short: &Exact, sizes: &[Exact]) -> Option<Found> {
    let mut denominator: i128 = 1;
    for size in sizes {
        let common = gcd(denominator, *size.denom());
        denominator = denominator.checked_mul(size.denom() / common)?;
    }
    let mut scaled = Vec::with_capacity(sizes.len());
    for size in sizes {
        scaled.push(size.numer().checked_mul(denominator / size.denom())?);
    }
    let measure = scaled.iter().fold(0, |measure, size| gcd(measure, *size));
    if measure == 0 {
        return None;
    }
    let scaled: Vec<i128> = scaled.into_iter().map(|size| size / measure).collect();
    let needed = ceil(&over(short, &Exact::new(measure, denominator))?)?;
    match scaled.as_slice() {
        [] => None,
        [only] => Some(Found { counts: vec![whole_packs(needed, *only)?], best: true }),
        _ => by_table(needed, &scaled).or_else(|| by_search(needed, &scaled)),
    }
}

/// Fewest packs for every sum, in a table. `None`: it would be too large.
fn by_table(needed: i128, sizes: &[i128]) -> Option<Found> {
    let (largest, smallest) = (*sizes.first()?, *sizes.last()?);
    // Of any `largest` smaller packs some hold together a multiple of the largest (two of their
    // partial sums leave the same rest), and fewer of the largest hold as much. So the best
    // purchase has fewer than `largest` smaller packs, and what is above that is of the largest.
    let bound = largest.checked_mul(largest)?;
    let peeled = if needed > bound { (needed - bound) / largest } else { 0 };
    let rest = needed - peeled.checked_mul(largest)?;
    // One more of the smallest always fits: less than that is left over.
    let end = rest.checked_add(smallest)?;
    if end.checked_mul(i128::try_from(sizes.len()).ok()?)? > MOST_SUMS {
        return None;
    }
    let (rest, end) = (usize::try_from(rest).ok()?, usize::try_from(end).ok()?);
    let steps: Vec<usize> = sizes.iter().filter_map(|size| usize::try_from(*size).ok()).collect();
    // Of each sum the fewest packs that make it, and the size of one of them.
    let mut table: Vec<Option<(u32, usize)>> = vec![None; end];
    *table.first_mut()? = Some((0, 0));
    for sum in 1..end {
        let mut best: Option<(u32, usize)> = None;
        for (at, step) in steps.iter().enumerate() {
            look();
            let before = sum.checked_sub(*step).and_then(|before| table.get(before).copied().flatten());
            if let Some((count, _)) = before
                && best.is_none_or(|(fewest, _)| count + 1 < fewest)
            {
                best = Some((count + 1, at));
            }
        }
        if let Some(cell) = table.get_mut(sum) {
            *cell = best;
        }
    }
    let mut sum = (rest..end).find(|sum| table.get(*sum).is_some_and(Option::is_some))?;
    let mut counts = vec![0; sizes.len()];
    *counts.first_mut()? = peeled;
    while sum > 0 {
        let (_, at) = table.get(sum).copied().flatten()?;
        *counts.get_mut(at)? += 1;
        sum = sum.checked_sub(*steps.get(at)?)?;
    }
    Some(Found { counts, best: true })
}

/// The best of a bounded number of trials: as many of the large ones as fit, then fewer.
fn by_search(needed: i128, sizes: &[i128]) -> Option<Found> {
    let mut search = Search { sizes, counts: vec![0; sizes.len()], best: None, trials: MOST_TRIALS };
    search.descend(0, needed, 0);
    let done = search.trials > 0;
    // The trials may all have gone into large packs: each size alone is looked at in any case.
    for (at, size) in sizes.iter().enumerate() {
        look();
        let count = whole_packs(needed, *size)?;
        let Some(held) = size.checked_mul(count) else { continue };
        search.counts = vec![0; sizes.len()];
        if let Some(cell) = search.counts.get_mut(at) {
            *cell = count;
        }
        search.note(held - needed, count);
    }
    search.best.map(|(_, _, counts)| Found { counts, best: done })
}

struct Search<'s> {
    sizes: &'s [i128],
    counts: Vec<i128>,
    /// What is left over, how many packs, and which.
    best: Option<(i128, i128, Vec<i128>)>,
    trials: u32,
}

impl Search<'_> {
    fn note(&mut self, left: i128, count: i128) {
        if self.best.as_ref().is_none_or(|(least, fewest, _)| (left, count) < (*least, *fewest)) {
            self.best = Some((left, count, self.counts.clone()));
        }
    }

    /// Tries every number of packs of one size and of those below it, the most first.
    fn descend(&mut self, at: usize, needed: i128, count: i128) {
        let Some(&size) = self.sizes.get(at) else { return };
        let Some(most) = whole_packs(needed, size) else { return };
        let last = at + 1 == self.sizes.len();
        let least = if last { most } else { 0 };
        let mut here = most;
        while here >= least && self.trials > 0 {
            self.trials -= 1;
            look();
            if let Some(cell) = self.counts.get_mut(at) {
                *cell = here;
            }
            let rest = size.checked_mul(here).and_then(|held| needed.checked_sub(held));
            let total = count.checked_add(here);
            let (Some(rest), Some(total)) = (rest, total) else { break };
            if rest <= 0 {
                self.note(-rest, total);
            } else if self.could_be_better(at + 1, rest, total) {
                self.descend(at + 1, rest, total);
            } else {
                // With fewer of this size the packs only become more.
                break;
            }
            here -= 1;
        }
        if let Some(cell) = self.counts.get_mut(at) {
            *cell = 0;
        }
    }

    /// Nothing beats a purchase without a rest but one in fewer packs.
    fn could_be_better(&self, next: usize, rest: i128, count: i128) -> bool {
        let Some((0, fewest, _)) = &self.best else { return true };
        let least = self.sizes.get(next).and_then(|size| whole_packs(rest, *size));
        least.and_then(|least| least.checked_add(count)).is_none_or(|least| least < *fewest)
    }
}

/// The one size of which the least is left over, where nothing better can be reckoned.
fn one_size(short: &Exact, sizes: &[Exact]) -> Option<Found> {
    let bought = |size: &Exact| -> Option<(Exact, i128)> {
        look();
        let count = ceil(&over(short, size)?)?;
        Some((times(size, &Exact::from_integer(count))?, count))
    };
    let all = sizes.iter().enumerate().filter_map(|(at, size)| bought(size).map(|(total, count)| (total, count, at)));
    let (_, count, at) = all.min_by(|a, b| (a.0, a.1).cmp(&(b.0, b.1)))?;
    let mut counts = vec![0; sizes.len()];
    *counts.get_mut(at)? = count;
    Some(Found { counts, best: sizes.len() == 1 })
}

#[cfg(test)]
thread_local! {
    /// How many sums and purchases were looked at: the work it was.
    static LOOKED: std::cell::Cell<u64> = const { std::cell::Cell::new(0) };
}

/// One more sum or purchase is looked at; a test counts them.
fn look() {
    #[cfg(test)]
    LOOKED.set(LOOKED.get() + 1);
}

/// How many of a size hold at least so much.
fn whole_packs(needed: i128, size: i128) -> Option<i128> {
    let whole = needed.checked_div(size)?;
    whole.checked_add(i128::from(needed.checked_rem(size)? != 0))
}

/// The smallest whole number not below a value above nothing.
fn ceil(value: &Exact) -> Option<i128> {
    whole_packs(*value.numer(), *value.denom())
}

fn gcd(a: i128, b: i128) -> i128 {
    let (mut a, mut b) = (a, b);
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a.saturating_abs()
}

#[cfg(test)]
#[path = "tests/packs.rs"]
mod tests;
