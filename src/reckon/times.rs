//! How long jobs really took, according to the log.
//!
//! Only entries that are about one job, finished, and once for one gear can say how long it takes;
//! a sum over several jobs cannot be shared out. Quartiles are those of Hyndman and Fan's type 7.

use std::collections::BTreeMap;

use super::exact::{floor, minus, plus, times, whole};
use super::slots::Slots;
use crate::book::model::Entry;
use crate::quantity::Exact;

/// How long a job took, in minutes.
#[derive(Debug, Clone)]
pub struct Times<'b> {
    pub count: usize,
    pub median: Exact,
    /// A quarter of the times are no longer than this.
    pub lower_quartile: Exact,
    /// A quarter of the times are no shorter than this.
    pub upper_quartile: Exact,
    pub shortest: Exact,
    pub longest: Exact,
    pub last: Exact,
    pub last_entry: &'b Entry,
}

/// By guide id; entries come oldest first.
pub(super) fn by_guide<'b>(slots: &Slots<'b>, entries: &[&'b Entry]) -> BTreeMap<&'b str, Times<'b>> {
    let guides = slots.guides();
    let mut logged: Vec<Vec<(Exact, &Entry)>> = guides.iter().map(|_| Vec::new()).collect();
    for &entry in entries {
        let ([job], Some(time)) = (entry.jobs.as_slice(), entry.time) else {
            continue;
        };
        let Some(at) = slots.position(&job.guide) else {
            continue;
        };
        let several = guides.get(at).is_some_and(|guide| guide.for_gear.len() > 1);
        let for_one = !several || job.gear.is_some();
        if !entry.when.is_open()
            && entry.work.is_empty()
            && for_one
            && let Some(logged) = logged.get_mut(at)
        {
            logged.push((time.minutes(), entry));
        }
    }
    let guides = guides.iter().map(|guide| guide.id.as_str());
    guides.zip(logged).filter_map(|(guide, logged)| Some((guide, spread(&logged)?))).collect()
}

fn spread<'b>(logged: &[(Exact, &'b Entry)]) -> Option<Times<'b>> {
    let (last, last_entry) = *logged.last()?;
    let mut sorted: Vec<Exact> = logged.iter().map(|(minutes, _)| *minutes).collect();
    sorted.sort();
    Some(Times {
        count: sorted.len(),
        median: quantile(&sorted, &Exact::new(1, 2))?,
        lower_quartile: quantile(&sorted, &Exact::new(1, 4))?,
        upper_quartile: quantile(&sorted, &Exact::new(3, 4))?,
        shortest: *sorted.first()?,
        longest: *sorted.last()?,
        last,
        last_entry,
    })
}

/// The quantile of a sorted sample: at h = (n − 1)·p, linear between the neighbours.
///
/// R. J. Hyndman and Y. Fan, "Sample quantiles in statistical packages" (1996), definition 7.
/// `None`: an empty sample, or `p` outside 0 to 1.
///
/// ```
/// use garboard::{quantity::Exact, reckon::quantile};
///
/// let sorted = [1, 2, 3, 4].map(Exact::from_integer);
/// assert_eq!(quantile(&sorted, &Exact::new(1, 4)), Some(Exact::new(7, 4)));
/// ```
#[must_use]
pub fn quantile(sorted: &[Exact], p: &Exact) -> Option<Exact> {
    let steps = i64::try_from(sorted.len()).ok()?.checked_sub(1)?;
    let position = times(&whole(steps), p)?;
    let below = floor(&position)?;
    let low = sorted.get(usize::try_from(below).ok()?)?;
    let part = minus(&position, &whole(below))?;
    if part == whole(0) {
        return Some(*low);
    }
    let high = sorted.get(usize::try_from(below).ok()?.checked_add(1)?)?;
    plus(low, &times(&minus(high, low)?, &part)?)
}
