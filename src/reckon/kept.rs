//! The interval that was really kept, beside the one the guide asks for.
//!
//! Medians of the days, and of what meters ran, between successive days on which a job was done. A
//! stretch that ends with new gear was no interval of the job, and one from or to a day that is only
//! known about says nothing.

use jiff::civil::Date;

use super::days;
use super::exact::{minus, whole};
use super::history::LastDone;
use super::meters::MeterState;
use super::times::quantile;
use crate::book::date::BookDate;
use crate::book::model::Meter;
use crate::quantity::Exact;

/// Fewest intervals that make a habit: a job done three times has two.
const AT_LEAST: usize = 2;

/// What lay between the times a job was done.
#[derive(Debug, Clone)]
pub struct Kept<'b> {
    /// How many intervals there are.
    pub intervals: usize,
    /// Median of the days between them.
    pub days: Exact,
    /// In the order of the guide's rules; a meter that was not read at both ends often enough is
    /// left out.
    pub meters: Vec<KeptByMeter<'b>>,
}

/// What a meter ran between the times a job was done.
#[derive(Debug, Clone, Copy)]
pub struct KeptByMeter<'b> {
    pub meter: &'b Meter,
    /// How many intervals lie within its readings.
    pub intervals: usize,
    /// Median, in the meter's unit.
    pub run: Exact,
}

/// The intervals of a job. `history` comes newest first, with open entries; `renewals` are the days
/// its gear was renewed; `meters` are those of the guide's rules. `None`: done less than three times.
pub(super) fn kept<'a, 'b: 'a>(
    history: &[LastDone<'b>],
    renewals: &[Date],
    meters: impl Iterator<Item = &'a MeterState<'b>>,
) -> Option<Kept<'b>> {
    let stretches = stretches(history, renewals);
    if stretches.len() < AT_LEAST {
        return None;
    }
    let half = Exact::new(1, 2);
    let mut lengths: Vec<Exact> = stretches.iter().map(|(from, to)| whole(days::between(*from, *to))).collect();
    lengths.sort();
    let by_meter = meters.filter_map(|meter| {
        let read = |date: Date| meter.value_on(date).filter(|on| !on.estimated).map(|on| on.value);
        let run = |(from, to): &(Date, Date)| minus(&read(*to)?, &read(*from)?);
        let mut runs: Vec<Exact> = stretches.iter().filter_map(run).collect();
        runs.sort();
        let intervals = runs.len();
        (intervals >= AT_LEAST).then_some(())?;
        Some(KeptByMeter { meter: meter.meter, intervals, run: quantile(&runs, &half)? })
    });
    Some(Kept { intervals: stretches.len(), days: quantile(&lengths, &half)?, meters: by_meter.collect() })
}

/// The days between which a job was really done, oldest first: two on a day are one, without those only
/// known about, and without those from one piece of gear to the next. `history` and `renewals` as of [`kept`].
pub(super) fn stretches(history: &[LastDone<'_>], renewals: &[Date]) -> Vec<(Date, Date)> {
    let mut done: Vec<BookDate> = history.iter().filter(|done| !done.entry.when.is_open()).map(|done| done.date).collect();
    // Known about and known on one day is known.
    done.sort();
    done.dedup_by(|later, kept| later.date == kept.date);
    done.iter()
        .zip(done.iter().skip(1))
        .filter(|(from, to)| !from.about && !to.about)
        .map(|(from, to)| (from.date, to.date))
        .filter(|(from, to)| !renewals.iter().any(|renewed| from < renewed && renewed <= to))
        .collect()
}
