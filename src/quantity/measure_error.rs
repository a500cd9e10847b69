//! Why a piece of text is not taken as a quantity, and what would be right in its place.

use std::fmt;

use super::dimension::Dimension;
use super::number_error::NumberError;
use super::spelling::UnitError;
use super::text::{either, quoted, with_article};
use super::unit::Unit;

/// Why a quantity was refused.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum QuantityError {
    /// The number is wrong; `after` is what should follow it in an example.
    Number { error: NumberError, after: String },
    /// The unit is wrong; `number` is what stood before it, `wanted` what its place asks for.
    Unit { error: UnitError, number: String, wanted: Option<Dimension> },
    /// A bare number where a unit is needed.
    MissingUnit { written: String, wanted: Option<Dimension> },
    /// The unit measures something else than its place asks for.
    DoesNotFit { written: String, found: Dimension, wanted: Dimension },
    /// The unit was settled elsewhere, and this is another one.
    OtherUnit { written: String, declared: Unit },
    /// A range or tolerance where one value is needed.
    NotOneValue { written: String },
    /// `~` where an exact figure is needed.
    About { written: String, better: String },
}

impl fmt::Display for QuantityError {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Number { error, .. } => error.fmt(formatter),
            Self::Unit { error, .. } => error.fmt(formatter),
            Self::MissingUnit { written, .. } => {
                write!(formatter, "{} has no unit", quoted(written))
            }
            Self::DoesNotFit { written, found, wanted } => {
                write!(formatter, "{} is {}, not {}", quoted(written), with_article(found.name()), with_article(wanted.name()))
            }
            Self::OtherUnit { written, declared } => {
                write!(formatter, "{} is not in {}, the unit declared for it", quoted(written), quoted(declared.symbol()))
            }
            Self::NotOneValue { written } => {
                write!(formatter, "{} is not one single value", quoted(written))
            }
            Self::About { written, .. } => {
                write!(formatter, "{} is only approximate", quoted(written))
            }
        }
    }
}

impl std::error::Error for QuantityError {}

impl QuantityError {
    /// How to mend it, as one sentence.
    #[must_use]
    pub fn remedy(&self) -> String {
        match self {
            Self::Number { error, after } => error.remedy_with(after),
            Self::Unit { error, number, wanted } => unit_remedy(error, number, *wanted),
            Self::MissingUnit { wanted: Some(wanted), .. } => {
                format!("write {}, such as {}; the units are {}", with_article(wanted.name()), wanted.examples(), units_of(*wanted))
            }
            Self::MissingUnit { written, wanted: None } => {
                format!("write its unit after the number, such as {}", quoted(&format!("{written} L")))
            }
            Self::DoesNotFit { wanted, .. } => format!("write {}, such as {}", with_article(wanted.name()), wanted.examples()),
            Self::OtherUnit { declared, .. } => format!("give it in {}, or without a unit", quoted(declared.symbol())),
            Self::NotOneValue { .. } => "write one number with its unit".to_owned(),
            Self::About { better, .. } => format!("write {}: no `~` can stand here", quoted(better)),
        }
    }
}

impl QuantityError {
    /// The same error, knowing what its place asks for.
    pub(super) fn wanting(self, dimension: Option<Dimension>) -> Self {
        match self {
            Self::Unit { error, number, .. } => Self::Unit { error: error.wanting(dimension), number, wanted: dimension },
            other => other,
        }
    }
}

fn unit_remedy(error: &UnitError, number: &str, wanted: Option<Dimension>) -> String {
    let choices: Vec<String> = error.choices().iter().map(|unit| with_unit(number, *unit)).collect();
    match (choices.as_slice(), error, wanted) {
        ([], UnitError::Unknown { nearest, .. }, Some(wanted)) if nearest.is_none_or(|unit| unit.dimension() != wanted) => {
            format!("write {}, in {}", with_article(wanted.name()), units_of(wanted))
        }
        ([], _, _) => error.remedy(),
        ([choice], _, _) => format!("write {}", quoted(choice)),
        (choices, _, _) => format!("say which: {}", either(choices.iter().map(String::as_str))),
    }
}

fn with_unit(number: &str, unit: Unit) -> String {
    let symbol = if number == "1" { unit.symbol_after_one() } else { unit.symbol() };
    format!("{number}{}{symbol}", unit.space_before())
}

/// The units of a kind in words; rates follow from the volumes and need not be spelled out.
fn units_of(dimension: Dimension) -> String {
    if dimension == Dimension::Rate {
        return "a volume per `min` or `h`".to_owned();
    }
    either(Unit::of(dimension).map(Unit::symbol))
}
