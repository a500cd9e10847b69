//! Planned trips, and readings in bulk.

use crate::book::source::{Name, Span};
use crate::quantity::{Exact, Number, Quantity};
use jiff::civil::Date;

/// A line of `passages.yaml`.
#[derive(Debug, Clone)]
pub struct Passage {
    pub id: Name,
    pub title: String,
    pub depart: Date,
    pub days: Option<u32>,
    /// Nautical miles.
    pub miles: Option<Number>,
    /// What each meter will run.
    pub meters: Vec<(Name, Quantity)>,
    /// In hundredths.
    pub reserve_percent: Option<Number>,
    pub span: Span,
}

impl Passage {
    /// Its reserve in hundredths; `None`: it gives none, or none is what it gives.
    #[must_use]
    pub fn reserve(&self) -> Option<&Number> {
        self.reserve_percent.as_ref().filter(|percent| percent.value() > Exact::from_integer(0))
    }
}

/// A row of `meters.csv`.
#[derive(Debug, Clone)]
pub struct MeterRow {
    pub date: Date,
    pub meter: Name,
    pub value: Number,
    /// First value of the counter that replaced this one.
    pub replaced: Option<Number>,
    pub span: Span,
}
