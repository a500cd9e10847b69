//! When and where a job is done.

use crate::book::source::Span;
use crate::quantity::{CalendarSpan, Quantity};

/// What an interval is counted by.
#[derive(Debug, Clone, PartialEq)]
pub enum RuleBy {
    Calendar(CalendarSpan),
    /// A meter by its id, and how much of it.
    Meter {
        meter: String,
        interval: Quantity,
    },
    /// The meter of the gear the job is reckoned for.
    Own {
        interval: Quantity,
    },
}

/// One rule of `every` or `first`.
#[derive(Debug, Clone, PartialEq)]
pub struct Rule {
    pub by: RuleBy,
    pub span: Span,
}

/// Where a job can be done.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Whereabouts {
    UnderWay,
    AtAnchor,
    Moored,
    Ashore,
}

impl Whereabouts {
    /// As the format spells it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::UnderWay => "under-way",
            Self::AtAnchor => "at-anchor",
            Self::Moored => "moored",
            Self::Ashore => "ashore",
        }
    }
}
