//! Passages for tests.

use super::{day, name, number, quantity};
use crate::book::model::Passage;
use crate::book::source::Span;

/// A passage of a day of departure, without any figures.
pub(in crate::reckon) fn passage(depart: &str) -> Passage {
    Passage {
        id: name("isles"),
        title: "To the isles".to_owned(),
        depart: day(depart),
        days: None,
        miles: None,
        meters: Vec::new(),
        reserve_percent: None,
        span: Span::default(),
    }
}

impl Passage {
    pub(in crate::reckon) fn days(mut self, days: u32) -> Self {
        self.days = Some(days);
        self
    }

    pub(in crate::reckon) fn miles(mut self, miles: &str) -> Self {
        self.miles = Some(number(miles));
        self
    }

    pub(in crate::reckon) fn runs(mut self, meter: &str, figure: &str) -> Self {
        self.meters.push((name(meter), quantity(figure)));
        self
    }

    /// In hundredths.
    pub(in crate::reckon) fn with_reserve(mut self, percent: &str) -> Self {
        self.reserve_percent = Some(number(percent));
        self
    }
}
