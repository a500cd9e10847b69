//! Readings of the log, job by job: what was read, point by point and gear by gear.
//!
//! An entry's readings belong to the guides it names that ask for them. Each value stands in the
//! unit the guide declares, beside its own spelling, and on the axis its trend is looked for on.

use std::collections::HashMap;

use super::days;
use super::gear::GearState;
use super::meters::MeterState;
use super::slots::Slots;
use super::trend::{Axis, Trend, trend};
use crate::book::date::BookDate;
use crate::book::id::{has_id, key_of};
use crate::book::model::{Boat, Entry, Gear, Guide, ReadingSpec, ReadingValue, RuleBy};
use crate::book::source::Span;
use crate::quantity::{Exact, Quantity, to_f64};

/// What was read at one point of one reading, for one gear.
#[derive(Debug, Clone)]
pub struct ReadingHistory<'b> {
    pub guide: &'b Guide,
    pub spec: &'b ReadingSpec,
    /// As the guide spells it; `None`: there is a single point.
    pub point: Option<&'b str>,
    /// `None`: of the boat, or the entries do not say of which.
    pub gear: Option<&'b Gear>,
    /// Newest first.
    pub values: Vec<ReadingAt<'b>>,
    /// What the values are held against: the meter of the guide's own rule, else the calendar.
    pub axis: Axis<'b>,
    /// Of the values since the gear was fitted; `None`: no trend yet.
    pub trend: Option<Trend>,
}

impl<'b> ReadingHistory<'b> {
    /// The latest value, unless it was read on gear that has been renewed since.
    #[must_use]
    pub fn latest(&self) -> Option<&ReadingAt<'b>> {
        self.values.first().filter(|value| value.of_present_gear)
    }
}

/// One value.
#[derive(Debug, Clone, Copy)]
pub struct ReadingAt<'b> {
    pub entry: &'b Entry,
    pub date: BookDate,
    /// As it was written.
    pub written: &'b Quantity,
    /// In the unit of the guide's reading.
    pub value: Exact,
    /// Outside the limits that the guide gives.
    pub outside: bool,
    /// Where it stands on the axis of its history.
    pub along: f64,
    /// Read on or after the day the gear was fitted.
    pub of_present_gear: bool,
    /// The value in its entry.
    pub span: Span,
}

/// What readings are reckoned with.
pub(super) struct Bench<'a, 'b> {
    pub(super) boat: &'b Boat,
    pub(super) gear: &'a [GearState<'b>],
    pub(super) meters: &'a [MeterState<'b>],
}

/// Whether a value is outside the limits of its reading; not where there are none, or the units do not fit.
#[must_use]
pub fn is_outside(spec: &ReadingSpec, value: &Quantity) -> bool {
    spec.limits.as_ref().and_then(|limits| limits.contains(value)) == Some(false)
}

/// Sorted by guide, then as the guide lists its readings and points, then by gear as the boat lists
/// it; entries come oldest first.
pub(super) fn histories<'b>(bench: &Bench<'_, 'b>, slots: &Slots<'b>, entries: &[&'b Entry]) -> Vec<ReadingHistory<'b>> {
    let boat = bench.boat;
    let gear_index = super::gear::by_id(boat);
    // Guide, reading, point (0: a single one), gear (0: none): each in the order it is listed.
    type Key<'b> = (&'b str, usize, usize, usize);
    let mut index: HashMap<Key<'b>, usize> = HashMap::new();
    let mut histories: Vec<(Key<'b>, ReadingHistory<'b>)> = Vec::new();
    for &entry in entries {
        if entry.readings.is_empty() {
            continue;
        }
        for (at, job) in entry.jobs.iter().enumerate() {
            let twice = entry.jobs.iter().take(at).any(|other| (&other.guide, &other.gear) == (&job.guide, &job.gear));
            let Some(guide) = slots.guide(&job.guide).filter(|_| !twice) else {
                continue;
            };
            let only = match guide.for_gear.as_slice() {
                [only] => Some(only.value.as_str()),
                _ => None,
            };
            let gear = job.gear.as_deref().or(only);
            let gear = gear.and_then(|gear| gear_index.get(gear).copied());
            for value in &entry.readings {
                let Some(found) = find(guide, value) else {
                    continue;
                };
                let Some(in_unit) = value.value.in_unit(found.spec.unit) else {
                    continue;
                };
                let key = (guide.id.as_str(), found.reading, found.point_at, gear.map_or(0, |gear| gear + 1));
                let place = *index.entry(key).or_insert_with(|| {
                    let history = ReadingHistory {
                        guide,
                        spec: found.spec,
                        point: found.point,
                        gear: gear.and_then(|gear| boat.gear.get(gear)),
                        values: Vec::new(),
                        axis: Axis::Days,
                        trend: None,
                    };
                    histories.push((key, history));
                    histories.len() - 1
                });
                let outside = is_outside(found.spec, &value.value);
                let date = *entry.when.day();
                let fitted = gear.and_then(|gear| bench.gear.get(gear)).and_then(|state| state.fitted);
                let at = ReadingAt {
                    entry,
                    date,
                    written: &value.value,
                    value: in_unit,
                    outside,
                    along: as_float(days::number(date.date)),
                    of_present_gear: fitted.is_none_or(|fitted| date.date >= fitted.date),
                    span: value.value_span,
                };
                if let Some((_, history)) = histories.get_mut(place) {
                    history.values.push(at);
                }
            }
        }
    }
    histories.sort_by_key(|(key, _)| *key);
    let mut sorted: Vec<ReadingHistory<'b>> = Vec::with_capacity(histories.len());
    for (_, mut history) in histories {
        let meter = meter_of(&mut history, bench);
        if let Some(meter) = meter {
            history.axis = Axis::Meter(meter.meter);
        }
        let present: Vec<(f64, f64)> =
            history.values.iter().filter(|at| at.of_present_gear).map(|at| (at.along, to_f64(&at.value))).collect();
        if let Some(last) = history.values.last() {
            history.trend = trend(&present, history.spec.limits.as_ref(), meter, last.date.date);
        }
        history.values.reverse();
        sorted.push(history);
    }
    sorted
}

/// The meter of the guide's own rule, where it knows a value for the day of every reading; those
/// are then put in the place of the days.
fn meter_of<'a, 'b>(history: &mut ReadingHistory<'b>, bench: &Bench<'a, 'b>) -> Option<&'a MeterState<'b>> {
    let by_meter = history.guide.every.iter().find_map(|rule| match &rule.by {
        RuleBy::Calendar(_) => None,
        RuleBy::Meter { meter, .. } => Some(meter.as_str()),
        RuleBy::Own { .. } => history.gear.and_then(|gear| gear.meter.as_ref()).map(|meter| meter.value.as_str()),
    })?;
    let meter = bench.meters.iter().find(|state| state.meter.id.value == by_meter)?;
    let values = history.values.iter();
    let along: Option<Vec<f64>> = values.map(|at| meter.value_on(at.date.date).map(|on| to_f64(&on.value))).collect();
    for (at, along) in history.values.iter_mut().zip(along?) {
        at.along = along;
    }
    Some(meter)
}

#[expect(clippy::cast_precision_loss, reason = "no calendar has so many days")]
fn as_float(day: i64) -> f64 {
    day as f64
}

/// A reading of a guide that a value belongs to.
struct Found<'b> {
    reading: usize,
    spec: &'b ReadingSpec,
    /// From 1; 0: a single point.
    point_at: usize,
    point: Option<&'b str>,
}

fn find<'b>(guide: &'b Guide, value: &ReadingValue) -> Option<Found<'b>> {
    let (reading, spec) = guide.readings.iter().enumerate().find(|(_, spec)| has_id(&value.reading.value, &spec.id))?;
    let (point_at, point) = match &value.point {
        None => (0, None),
        Some(named) => {
            let mut points = spec.points.iter().enumerate();
            let (at, point) = points.find(|(_, point)| *point == named || key_of(point) == key_of(named))?;
            (at + 1, Some(point.as_str()))
        }
    };
    Some(Found { reading, spec, point_at, point })
}
