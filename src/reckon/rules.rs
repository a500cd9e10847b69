//! One rule of a job: from when it counts, how far it is, and the day it is used up.
//!
//! A rule counts from the last time the job was done. One of `first` counts from the beginning: of
//! the gear, or of the boat's service. Baselines of a meter are its continuous value on that day.

use std::fmt;

use jiff::civil::Date;

use super::days;
use super::exact::{floor, minus, plus, times, whole};
use super::meters::{MeterState, ValueOn};
use crate::book::date::BookDate;
use crate::book::model::Rule;
use crate::quantity::{CalendarSpan, Exact, Quantity, Unit};

/// Fewest days before a calendar date that count as soon.
const SOON_AT_LEAST: i64 = 7;
/// Most days before a calendar date that count as soon.
const SOON_AT_MOST: i64 = 60;

/// How far one rule of a job is.
#[derive(Debug, Clone)]
pub struct RuleState<'b> {
    pub rule: &'b Rule,
    /// One of `first`: it counts until the job has been done once.
    pub first: bool,
    /// Id of the meter it goes by, or `calendar`; `own` where the gear has no meter.
    pub by: String,
    /// The day it counts from.
    pub since: Option<BookDate>,
    pub due_on: Option<Date>,
    /// The date by the meter's use in the 90 days before its last reading, where it is another one:
    /// a season afloat and a year are not the same.
    pub due_on_90: Option<Date>,
    pub remaining: Option<Remaining>,
    /// The date rests on a use rate, or on a baseline that is carried on or only known about.
    pub estimated: bool,
    /// The date is a forecast: the readings have not got there.
    pub forecast: bool,
    /// Used up by the calendar or by readings, and the day is over.
    pub passed: bool,
    /// No more than the boat's share of the interval is left.
    pub near: bool,
    /// Its date is the one that counts for the job.
    pub governs: bool,
    /// Continuous value of the meter at which it is used up, in the meter's unit.
    pub target: Option<Exact>,
    /// In the meter's unit; of the calendar in days.
    pub interval: Option<Exact>,
}

/// What is left of an interval; below zero: by how much it was overrun.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Remaining {
    Meter { value: Exact, unit: Unit },
    Days(i64),
}

impl fmt::Display for Remaining {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Meter { value, unit } => match Quantity::from_value(value, *unit, 1) {
                Some(quantity) => quantity.fmt(formatter),
                None => write!(formatter, "? {}", unit.symbol()),
            },
            Self::Days(days) => {
                let word = if days.unsigned_abs() == 1 { "day" } else { "days" };
                write!(formatter, "{days} {word}")
            }
        }
    }
}

/// What a rule counts on a meter from.
#[derive(Debug, Clone, Copy)]
pub(super) struct Baseline {
    pub(super) since: Option<BookDate>,
    pub(super) value: Option<ValueOn>,
}

/// The date and the share of an interval against which rules are held.
#[derive(Debug, Clone, Copy)]
pub(super) struct Measure {
    pub(super) on: Date,
    pub(super) soon_share: Exact,
}

impl<'b> RuleState<'b> {
    /// A rule of which nothing is known.
    pub(super) fn unknown(rule: &'b Rule, first: bool, by: &str) -> Self {
        Self {
            rule,
            first,
            by: by.to_owned(),
            since: None,
            due_on: None,
            due_on_90: None,
            remaining: None,
            estimated: false,
            forecast: false,
            passed: false,
            near: false,
            governs: false,
            target: None,
            interval: None,
        }
    }

    /// Reckons a calendar rule.
    pub(super) fn by_calendar(mut self, span: &CalendarSpan, since: Option<BookDate>, measure: &Measure) -> Self {
        self.since = since;
        let Some(since) = since else {
            return self;
        };
        let Some(due_on) = days::later_by(since.date, span) else {
            return self;
        };
        let interval = days::between(since.date, due_on);
        let left = days::between(measure.on, due_on);
        let share = times(&whole(interval), &measure.soon_share).and_then(|share| floor(&share));
        let soon = share.unwrap_or(SOON_AT_MOST).clamp(SOON_AT_LEAST, SOON_AT_MOST);
        self.due_on = Some(due_on);
        self.interval = Some(whole(interval));
        self.remaining = Some(Remaining::Days(left));
        self.estimated = since.about;
        self.passed = left < 0;
        self.near = left <= soon;
        self
    }

    /// Reckons a rule that goes by a meter, with the meter's value on the day of the reckoning.
    pub(super) fn by_meter(
        mut self,
        interval: &Quantity,
        meter: &MeterState<'_>,
        today: Option<&ValueOn>,
        baseline: Baseline,
        measure: &Measure,
    ) -> Self {
        let unit = meter.meter.unit;
        self.since = baseline.since;
        self.interval = interval.in_unit(unit);
        let (Some(interval), Some(from)) = (self.interval, baseline.value) else {
            return self;
        };
        let Some(target) = plus(&from.value, &interval) else {
            return self;
        };
        self.target = Some(target);
        // Without a use rate nothing can be carried on: what was left at the last reading is said.
        let value = today.map(|today| today.value).or_else(|| meter.last().map(|(_, value)| value));
        if let Some(left) = value.and_then(|value| minus(&target, &value)) {
            self.remaining = Some(Remaining::Meter { value: left, unit });
            self.near = times(&interval, &measure.soon_share).is_some_and(|soon| left <= soon);
        }
        let Some(reached) = meter.reached(&target) else {
            return self;
        };
        let about = baseline.since.is_some_and(|since| since.about);
        let over = meter.last().is_some_and(|(_, last)| last > target);
        self.due_on = Some(reached.on);
        self.due_on_90 = meter.reached_by_90(&target).filter(|date| *date != reached.on);
        self.forecast = reached.estimated;
        self.estimated = reached.estimated || from.estimated || from.about || about;
        self.passed = !reached.estimated && (measure.on > reached.on || (reached.at_first_reading && over));
        self
    }
}
