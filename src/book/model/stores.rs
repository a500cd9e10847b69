//! What is aboard: stores and tools.

use crate::book::date::Month;
use crate::book::source::{Name, Span};
use crate::quantity::{Money, Number, Quantity};
use jiff::civil::Date;

/// A line of `stores.yaml`.
#[derive(Debug, Clone, Default)]
pub struct StoreItem {
    pub id: Name,
    pub title: String,
    pub part_number: Option<String>,
    pub stowed: Option<String>,
    pub counted: Option<Counted>,
    pub level: Option<Level>,
    pub minimum: Option<Amount>,
    /// Sizes it is sold in; empty: singly.
    pub sold_in: Vec<Amount>,
    pub price: Option<Money>,
    pub also_fits: Vec<String>,
    pub expires: Option<Month>,
    pub bought: Vec<Bought>,
    pub note: Option<String>,
    /// The whole item, for messages about it.
    pub span: Span,
}

impl StoreItem {
    /// The amount that says what the item is reckoned in, by the piece or in a unit: its count where that is believed,
    /// else the first that is written for it. `None`: no amount is written for it at all.
    #[must_use]
    pub fn reckoned_as<'a>(&'a self, counted: Option<&'a Counted>) -> Option<&'a Amount> {
        let counted = counted.map(|counted| &counted.amount);
        counted.or(self.minimum.as_ref()).or(self.sold_in.first()).or_else(|| self.bought.first().map(|bought| &bought.amount))
    }
}

/// A count of what is aboard.
#[derive(Debug, Clone)]
pub struct Counted {
    pub on: Date,
    pub amount: Amount,
    pub span: Span,
}

/// A purchase.
#[derive(Debug, Clone)]
pub struct Bought {
    pub on: Date,
    pub amount: Amount,
    pub span: Span,
}

/// For what nobody counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Level {
    Plenty,
    Low,
    None,
}

/// So many pieces, or so much of something.
#[derive(Debug, Clone, PartialEq)]
pub enum Amount {
    Pieces(Number),
    Measured(Quantity),
}

impl Amount {
    /// As the crew wrote it, spaces tidied.
    #[must_use]
    pub fn written(&self) -> &str {
        match self {
            Self::Pieces(number) => number.written(),
            Self::Measured(quantity) => quantity.written(),
        }
    }
}

/// A line of `tools.yaml`.
#[derive(Debug, Clone)]
pub struct Tool {
    pub id: Name,
    pub title: String,
    pub stowed: Option<String>,
    pub note: Option<String>,
}
