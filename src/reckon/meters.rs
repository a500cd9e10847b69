//! Meters: what they showed, made continuous, and what they show on any day.
//!
//! Between two readings a meter is taken to run evenly. Outside the readings it is carried on at the
//! use rate, and that is an estimate. Without a rate there is no value outside the readings.

use jiff::civil::Date;

use super::days;
use super::exact::{ceil, minus, over, plus, times, whole};
use crate::book::date::BookDate;
use crate::book::model::{Entry, Meter};
use crate::quantity::{Exact, Number};

/// What a meter showed on a day.
#[derive(Debug, Clone)]
pub struct Reading<'b> {
    pub date: Date,
    /// As the counter showed it.
    pub shown: &'b Number,
    /// With what replaced counters had run before it.
    pub continuous: Exact,
    /// The value or the day is only known about.
    pub about: bool,
    /// The value is only known about, whatever the day.
    pub value_about: bool,
    /// First value of the counter that was put in on this day.
    pub replaced: Option<&'b Number>,
    /// The entry it stands in; `None`: a row of `meters.csv`.
    pub entry: Option<&'b Entry>,
    /// `false`: the counter would run backwards, so the reckoning leaves it out.
    pub used: bool,
}

impl Reading<'_> {
    /// Its day as the crew wrote it, which may be a month or a year; a row of `meters.csv` has an exact one.
    #[must_use]
    pub fn day(&self) -> BookDate {
        self.entry.map_or_else(|| BookDate::on(self.date), |entry| *entry.when.day())
    }
}

/// What is reckoned with: one value a day, never falling.
#[derive(Debug, Clone, Copy)]
pub(super) struct Point {
    pub(super) date: Date,
    pub(super) day: i64,
    pub(super) value: Exact,
    pub(super) about: bool,
}

/// A counter that was put in, and what must be added to the readings on either side of that day.
#[derive(Debug, Clone, Copy)]
pub(super) struct Replacement {
    pub(super) date: Date,
    pub(super) before: Exact,
    pub(super) after: Exact,
}

/// A meter with its readings as of a date.
#[derive(Debug, Clone)]
pub struct MeterState<'b> {
    pub meter: &'b Meter,
    /// Oldest first; all of them, also those that are not reckoned with.
    pub readings: Vec<Reading<'b>>,
    /// Use a day over the year before the last reading, or over all there is.
    pub rate_per_day: Option<Exact>,
    /// Use a day over the 90 days before the last reading; `None` where the readings span less.
    pub rate_90: Option<Exact>,
    pub(super) points: Vec<Point>,
    pub(super) replacements: Vec<Replacement>,
}

/// What a meter shows on a day, made continuous.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ValueOn {
    pub value: Exact,
    /// Carried on from the readings at the use rate.
    pub estimated: bool,
    /// Rests on a reading that is only known about.
    pub about: bool,
}

/// The day a meter gets somewhere.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Reached {
    pub on: Date,
    /// By the use rate: the readings have not got there yet.
    pub estimated: bool,
    /// The first reading was there already, so the true day is this one or earlier.
    pub at_first_reading: bool,
}

impl<'b> MeterState<'b> {
    pub(super) fn new(meter: &'b Meter, readings: Vec<Reading<'b>>, points: Vec<Point>, replacements: Vec<Replacement>) -> Self {
        let mut state = Self { meter, readings, rate_per_day: None, rate_90: None, points, replacements };
        state.rate_per_day = state.rate_over(365, true);
        state.rate_90 = state.rate_over(90, false);
        state
    }

    /// The last reading that is reckoned with.
    #[must_use]
    pub fn last_reading(&self) -> Option<&Reading<'b>> {
        self.readings.iter().rfind(|reading| reading.used)
    }

    /// The latest day with a reading that is reckoned with, and its continuous value.
    #[must_use]
    pub fn last(&self) -> Option<(Date, Exact)> {
        self.points.last().map(|point| (point.date, point.value))
    }

    /// The first day with a reading that is reckoned with, and its continuous value.
    #[must_use]
    pub fn first(&self) -> Option<(Date, Exact)> {
        self.points.first().map(|point| (point.date, point.value))
    }

    /// The continuous value on a date. `None`: outside the readings, and no rate is known.
    #[must_use]
    pub fn value_on(&self, date: Date) -> Option<ValueOn> {
        let day = days::number(date);
        let next = self.points.partition_point(|point| point.day < day);
        let after = self.points.get(next);
        if let Some(point) = after
            && point.day == day
        {
            return Some(ValueOn { value: point.value, estimated: false, about: point.about });
        }
        let before = next.checked_sub(1).and_then(|at| self.points.get(at));
        match (before, after) {
            (Some(before), Some(after)) => {
                Some(ValueOn { value: interpolated(before, after, day)?, estimated: false, about: before.about || after.about })
            }
            (Some(point), None) | (None, Some(point)) => {
                let run = times(&self.rate_per_day?, &whole(day - point.day))?;
                let value = plus(&point.value, &run)?;
                Some(ValueOn { value: value.max(whole(0)), estimated: true, about: false })
            }
            (None, None) => None,
        }
    }

    /// The continuous value that an entry of this date gives itself. `None`: it gives none that is reckoned with, or
    /// one that is only known about.
    pub(super) fn value_in(&self, entry: &Entry, date: Date) -> Option<ValueOn> {
        let first = self.readings.partition_point(|reading| reading.date < date);
        let of_the_day = self.readings.get(first..)?.iter().take_while(|reading| reading.date == date);
        let mut own = of_the_day.filter(|reading| reading.used && !reading.about);
        let own = own.find(|reading| reading.entry.is_some_and(|other| other.id == entry.id))?;
        Some(ValueOn { value: own.continuous, estimated: false, about: false })
    }

    /// The first whole day on which the meter has got to a continuous value.
    ///
    /// `None`: it is not there yet, and no rate is known, or it stands still.
    #[must_use]
    pub fn reached(&self, target: &Exact) -> Option<Reached> {
        let at = self.points.partition_point(|point| point.value < *target);
        let before = at.checked_sub(1).and_then(|at| self.points.get(at));
        let (on, estimated, at_first_reading) = match (before, self.points.get(at)) {
            (None, Some(first)) => (first.date, false, true),
            (Some(before), Some(after)) => {
                let rate = over(&minus(&after.value, &before.value)?, &whole(after.day - before.day))?;
                (day_when(before, target, &rate)?, false, false)
            }
            (Some(last), None) => (day_when(last, target, &self.rate_per_day?)?, true, false),
            (None, None) => return None,
        };
        Some(Reached { on, estimated, at_first_reading })
    }

    /// A figure that the counter showed on a date, made continuous.
    ///
    /// On the day a counter was replaced either may be meant; the one that fits the meter's value
    /// of that day is taken, so that an engine put in with a new counter at 0 starts there.
    pub(super) fn made_continuous(&self, shown: &Exact, date: Date) -> Option<Exact> {
        let at = self.replacements.partition_point(|replacement| replacement.date < date);
        let on_the_day = self.replacements.get(at).filter(|replacement| replacement.date == date);
        let Some(replacement) = on_the_day else {
            let last = at.checked_sub(1).and_then(|at| self.replacements.get(at));
            return match last {
                Some(replacement) => plus(shown, &replacement.after),
                None => Some(*shown),
            };
        };
        let old = plus(shown, &replacement.before)?;
        let new = plus(shown, &replacement.after)?;
        let Some(value) = self.value_on(date).map(|on| on.value) else {
            return Some(old);
        };
        let distance = |candidate: &Exact| {
            let (low, high) = (value.min(*candidate), value.max(*candidate));
            minus(&high, &low)
        };
        Some(if distance(&new)? < distance(&old)? { new } else { old })
    }

    /// What the counter of the time shows at a continuous value. `None`: it was never read.
    #[must_use]
    pub fn as_counted(&self, value: &Exact) -> Option<Exact> {
        self.points.first()?;
        for replacement in self.replacements.iter().rev() {
            let at = self.value_on(replacement.date)?.value;
            if *value >= at {
                return minus(value, &replacement.after);
            }
        }
        self.replacements.first().map_or(Some(*value), |first| minus(value, &first.before))
    }

    /// The first whole day on which the meter would get to a continuous value that the readings have
    /// not reached, if it ran on as in the 90 days before the last one.
    #[must_use]
    pub fn reached_by_90(&self, target: &Exact) -> Option<Date> {
        let last = self.points.last().filter(|last| last.value < *target)?;
        day_when(last, target, self.rate_90.as_ref().filter(|rate| **rate > whole(0))?)
    }

    /// Use a day over so many days before the last reading.
    fn rate_over(&self, span: i64, or_over_all: bool) -> Option<Exact> {
        let (first, last) = (self.points.first()?, self.points.last()?);
        let all = last.day - first.day;
        if all <= 0 || (all < span && !or_over_all) {
            return None;
        }
        let span = span.min(all);
        let day = last.day - span;
        let next = self.points.partition_point(|point| point.day < day);
        let after = self.points.get(next)?;
        let start = match next.checked_sub(1).and_then(|at| self.points.get(at)) {
            Some(before) if after.day > day => interpolated(before, after, day)?,
            _ => after.value,
        };
        over(&minus(&last.value, &start)?, &whole(span))
    }
}

/// The value on a day between two points, as if the meter ran evenly.
fn interpolated(before: &Point, after: &Point, day: i64) -> Option<Exact> {
    let run = minus(&after.value, &before.value)?;
    let share = over(&whole(day - before.day), &whole(after.day - before.day))?;
    plus(&before.value, &times(&run, &share)?)
}

/// The first whole day on which a meter that runs at a rate from a point has got to the target.
fn day_when(from: &Point, target: &Exact, rate: &Exact) -> Option<Date> {
    let days = ceil(&over(&minus(target, &from.value)?, rate)?)?;
    days::later_by_days(from.date, days)
}
