//! What a guide needs, and its figures.

use super::Amount;
use crate::book::source::{Name, Placed, Span};
use crate::quantity::{CalendarSpan, Duration, Fastener, Figure, Quantity, Unit};

/// A part with how much of it.
#[derive(Debug, Clone)]
pub struct PartUse {
    /// An id of the stores, or plain words.
    pub item: Name,
    /// How many or how much; one unless given.
    pub amount: Option<Amount>,
    /// An amount was written and could not be read: it is not one.
    pub unclear: bool,
    pub if_worn: bool,
    pub span: Span,
}

/// How a thread is prepared.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Surface {
    Dry,
    Oiled,
    AntiSeize,
    Threadlock,
}

impl Surface {
    /// As the format spells it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Dry => "dry",
            Self::Oiled => "oiled",
            Self::AntiSeize => "anti-seize",
            Self::Threadlock => "threadlock",
        }
    }
}

/// A torque of a guide.
#[derive(Debug, Clone)]
pub struct Torque {
    pub id: String,
    pub at: String,
    pub value: Figure,
    pub steps: Vec<Placed<Quantity>>,
    pub then: Option<Figure>,
    pub fastener: Option<Placed<Fastener>>,
    pub surface: Option<Surface>,
    pub source: Option<String>,
    pub span: Span,
    /// The value alone.
    pub value_span: Span,
}

/// A named figure of a guide.
#[derive(Debug, Clone)]
pub struct Value {
    pub id: String,
    pub name: String,
    pub figure: ValueFigure,
    pub span: Span,
}

/// A figure of `values`: measured, or a time.
#[derive(Debug, Clone, PartialEq)]
pub enum ValueFigure {
    Figure(Figure),
    Duration(Duration),
    Calendar(CalendarSpan),
    /// `1:50`, `SAE 15W-40`: kept as written.
    Words(String),
}

/// A reading that a guide asks for.
#[derive(Debug, Clone)]
pub struct ReadingSpec {
    pub id: String,
    pub name: String,
    pub unit: Unit,
    pub limits: Option<Figure>,
    pub when: Option<String>,
    /// Points, as written; empty: a single one.
    pub points: Vec<String>,
    pub span: Span,
}
