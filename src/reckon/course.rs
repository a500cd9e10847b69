//! How meters run over a span of days: at their use rates, or by the figures of a passage.
//!
//! Under way a meter that the passage names runs its figure with the reserve, evenly over the days;
//! all others go on at their use rates. A point of the way is measured in days from the first; where
//! the span has none, all of it lies within the first day, and the way is one stretch long.

use jiff::civil::Date;

use super::exact::{ceil, over, plus, times, whole};
use super::meters::MeterState;
use super::{Reckoning, days};
use crate::book::model::Passage;
use crate::quantity::{Exact, Number, Quantity, Unit};

/// The meter that the miles of a passage run on.
pub(super) const MILES: &str = "miles";

/// How meters run from the first day of a span to its last.
#[derive(Debug, Clone)]
pub struct Course {
    pub start: Date,
    /// The last day; never before the first.
    pub end: Date,
    /// In the order of `boat.yaml`.
    pub meters: Vec<MeterCourse>,
    /// Days from the first to the last.
    pub(super) days: i64,
    /// It is a passage, before which some jobs are to be done whenever it is.
    pub(super) is_passage: bool,
}

/// How one meter runs over a span, made continuous and in the meter's own unit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MeterCourse {
    /// Its id.
    pub meter: String,
    pub unit: Unit,
    /// On the first day; `None`: it was never read.
    pub start: Option<Exact>,
    /// The value of the first day is carried on, or rests on a reading that is only known about.
    pub estimated: bool,
    /// What it runs until the last day, evenly; with its reserve.
    pub run: Exact,
    /// What the passage says it will run, before the reserve. `None`: it goes on at its use rate, or
    /// stands still without one.
    pub figure: Option<Quantity>,
}

impl Course {
    /// From the day of the reckoning until a date, all meters at their use rates.
    #[must_use]
    pub fn at_use_rates(reckoning: &Reckoning<'_>, until: Date) -> Self {
        let start = reckoning.on;
        let days = days::between(start, until).max(0);
        let meters = reckoning.meters.iter().map(|meter| MeterCourse::at_use_rate(meter, start, days)).collect();
        Self { start, end: until.max(start), meters, days, is_passage: false }
    }

    /// From departure over the days of a passage, by its own figures with its reserve; meters it
    /// does not name go on at their use rates. Without days all its figures fall on the first day.
    #[must_use]
    pub fn of_passage(reckoning: &Reckoning<'_>, passage: &Passage) -> Self {
        let start = passage.depart;
        let wanted = i64::from(passage.days.unwrap_or(0));
        let (days, end) = match days::later_by_days(start, wanted) {
            Some(end) => (wanted, end),
            None => (days::between(start, Date::MAX), Date::MAX),
        };
        let meters = reckoning.meters.iter().map(|meter| {
            let course = MeterCourse::at_use_rate(meter, start, days);
            match figure_of(passage, &course.meter, course.unit) {
                Some((run, figure)) => MeterCourse { run, figure: Some(figure), ..course },
                None => course,
            }
        });
        Self { start, end, meters: meters.collect(), days, is_passage: true }
    }

    /// How a meter runs.
    #[must_use]
    pub fn meter(&self, id: &str) -> Option<&MeterCourse> {
        self.meters.iter().find(|course| course.meter == id)
    }

    /// How long the way is.
    pub(super) fn length(&self) -> Exact {
        whole(self.days.max(1))
    }

    /// The first whole day at or after a point of the way.
    pub(super) fn day_of(&self, point: &Exact) -> Option<Date> {
        if self.days == 0 {
            return Some(self.start);
        }
        days::later_by_days(self.start, ceil(point)?)
    }

    /// The point of the way at which a later day begins to count; `None`: past the last day.
    pub(super) fn point_of(&self, day: Date) -> Option<Exact> {
        (day <= self.end).then(|| whole(days::between(self.start, day)))
    }

    /// How much of the way a meter takes for so much of its unit; `None`: it stands still.
    pub(super) fn way_for(&self, meter: &MeterCourse, amount: &Exact) -> Option<Exact> {
        if meter.run <= whole(0) {
            return None;
        }
        over(&times(amount, &self.length())?, &meter.run)
    }
}

impl MeterCourse {
    /// On the last day; `None`: it was never read.
    #[must_use]
    pub fn end(&self) -> Option<Exact> {
        plus(&self.start?, &self.run)
    }

    fn at_use_rate(meter: &MeterState<'_>, start: Date, days: i64) -> Self {
        let on_the_day = meter.value_on(start);
        let value = on_the_day.map(|on| on.value).or_else(|| meter.last().map(|(_, value)| value));
        let run = meter.rate_per_day.and_then(|rate| times(&rate, &whole(days)));
        Self {
            meter: meter.meter.id.value.clone(),
            unit: meter.meter.unit,
            start: value,
            estimated: value.is_some() && on_the_day.is_none_or(|on| on.estimated || on.about),
            run: run.unwrap_or(whole(0)),
            figure: None,
        }
    }
}

/// What a passage says a meter will run: with its reserve, and as written. Where `miles` is given in
/// two ways, the larger figure counts.
fn figure_of(passage: &Passage, meter: &str, unit: Unit) -> Option<(Exact, Quantity)> {
    let named = passage.meters.iter().filter(|(name, _)| name.value == meter).map(|(_, figure)| figure.clone());
    let miles = passage.miles.as_ref().filter(|_| meter == MILES);
    let miles = miles.map(|miles| Quantity::new(miles.clone(), Unit::NauticalMile));
    let figures = named.chain(miles).filter_map(|figure| Some((figure.in_unit(unit)?, figure)));
    let (amount, figure) = figures.max_by_key(|(amount, _)| *amount)?;
    let hundred = whole(100);
    let reserve = passage.reserve_percent.as_ref().map_or(whole(0), Number::value);
    Some((over(&times(&amount, &plus(&hundred, &reserve)?)?, &hundred)?, figure))
}
