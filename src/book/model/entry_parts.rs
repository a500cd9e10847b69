//! What an entry says, one kind a type.

use crate::book::date::{BookDate, Month};
use crate::book::source::{Name, Span};
use crate::quantity::{Money, Number, Quantity};

/// A job named in an entry: a guide, and the gear where the guide is for several.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct JobRef {
    pub guide: String,
    pub gear: Option<String>,
    pub span: Span,
}

/// When an entry's work was done.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum When {
    /// On one day.
    On(BookDate),
    /// Begun on one day and finished on another.
    Finished { started: BookDate, done: BookDate },
    /// Begun and not finished.
    Open { started: BookDate },
}

impl When {
    /// The day the entry counts from: done, or begun while open.
    #[must_use]
    pub fn day(&self) -> &BookDate {
        match self {
            Self::On(date) | Self::Finished { done: date, .. } | Self::Open { started: date } => date,
        }
    }

    /// The job is not finished.
    #[must_use]
    pub fn is_open(&self) -> bool {
        matches!(self, Self::Open { .. })
    }
}

/// What an inspection says of what it saw.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Grade {
    Act,
    Watch,
    Good,
}

impl Grade {
    /// As the format spells it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Act => "act",
            Self::Watch => "watch",
            Self::Good => "good",
        }
    }
}

/// Until when a finding should be put right.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Before {
    Month(Month),
    Occasion(Name),
}

/// What an inspection saw. Counted from 1 in its entry.
#[derive(Debug, Clone)]
pub struct Finding {
    pub what: String,
    pub grade: Grade,
    pub guide: Option<Name>,
    pub gear: Option<Name>,
    pub before: Option<Before>,
    pub limits_use: Option<String>,
    pub span: Span,
}

/// A reference to a finding: `2025-11-02-rig-check/1`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FindingRef {
    pub entry: String,
    pub number: usize,
    pub span: Span,
}

/// Gear renewed by the work of an entry.
#[derive(Debug, Clone)]
pub struct Renewal {
    pub gear: Name,
    pub expires: Option<Month>,
    pub span: Span,
}

/// A meter as read: `1840.5`, `~1200`.
#[derive(Debug, Clone)]
pub struct MeterValue {
    pub meter: Name,
    pub value: Number,
    pub about: bool,
    pub span: Span,
}

/// A value of a reading, at a point where there are several.
#[derive(Debug, Clone)]
pub struct ReadingValue {
    pub reading: Name,
    pub point: Option<String>,
    pub value: Quantity,
    /// The name of the reading or of its point, with the value.
    pub span: Span,
    /// The value alone.
    pub value_span: Span,
}

/// Money spent on something.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cost {
    pub what: String,
    pub cost: Money,
}

/// Who did the work. Public.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DoneBy {
    Owner,
    Yard,
    Licensed,
}

impl DoneBy {
    /// As the format spells it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Owner => "owner",
            Self::Yard => "yard",
            Self::Licensed => "licensed",
        }
    }
}

/// How the crew knows what an entry says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Basis {
    OwnRecord,
    Invoice,
    Told,
    Judged,
}

impl Basis {
    /// As the format spells it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::OwnRecord => "own record",
            Self::Invoice => "invoice",
            Self::Told => "told",
            Self::Judged => "judged",
        }
    }
}
