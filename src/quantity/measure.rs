//! One number with its unit, as written.
//!
//! The place decides what is allowed: anything, a kind of thing ("a torque"), or the one unit that
//! was declared elsewhere, where the unit may be left out.

use std::fmt;

use super::convert::{convert, rounded};
use super::decimal::Rounding;
use super::dimension::Dimension;
use super::measure_error::QuantityError;
use super::number::Number;
use super::number_error::NumberError;
use super::pieces::{hyphen_range, split_number};
use super::text::tidy;
use super::unit::Unit;
use super::{Exact, to_f64};

/// One number with its unit, as written.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Quantity {
    number: Number,
    unit: Unit,
    written: Box<str>,
}

/// What the place of a figure asks for.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Place {
    Any,
    Of(Dimension),
    /// The unit is declared elsewhere and may be left out.
    In(Unit),
}

impl Place {
    pub(super) fn dimension(self) -> Option<Dimension> {
        match self {
            Self::Any => None,
            Self::Of(dimension) => Some(dimension),
            Self::In(unit) => Some(unit.dimension()),
        }
    }

    /// The unit to use, given the one that was written.
    pub(super) fn settle(self, unit: Option<Unit>, written: &str) -> Result<Unit, QuantityError> {
        let written = || written.to_owned();
        match (self, unit) {
            (Self::Any, Some(unit)) => Ok(unit),
            (Self::Of(wanted), Some(unit)) => {
                let found = unit.dimension();
                if found == wanted { Ok(unit) } else { Err(QuantityError::DoesNotFit { written: written(), found, wanted }) }
            }
            (Self::In(declared), Some(unit)) if unit != declared => Err(QuantityError::OtherUnit { written: written(), declared }),
            (Self::In(declared), _) => Ok(declared),
            (Self::Any, None) => Err(QuantityError::MissingUnit { written: written(), wanted: None }),
            (Self::Of(wanted), None) => Err(QuantityError::MissingUnit { written: written(), wanted: Some(wanted) }),
        }
    }
}

impl Quantity {
    /// Reads `35 N·m`, `1 1/2 in`, `-10 °C`.
    ///
    /// # Errors
    /// A number or unit that cannot be taken, or one without the other; the error says what to
    /// write.
    pub fn parse(text: &str) -> Result<Self, QuantityError> {
        Self::parse_at(text, Place::Any)
    }

    /// As [`Quantity::parse`], and the unit must measure what its place asks for.
    ///
    /// # Errors
    /// Also a unit of another kind.
    pub fn parse_in(text: &str, dimension: Dimension) -> Result<Self, QuantityError> {
        Self::parse_at(text, Place::Of(dimension))
    }

    /// Reads a number whose unit is declared elsewhere; the unit may be repeated, not changed.
    ///
    /// # Errors
    /// A number that cannot be taken, or another unit.
    pub fn parse_bare(text: &str, unit: Unit) -> Result<Self, QuantityError> {
        Self::parse_at(text, Place::In(unit))
    }

    pub(super) fn parse_at(text: &str, place: Place) -> Result<Self, QuantityError> {
        let text = tidy(text);
        let (number, unit) = read_number_and_unit(&text).map_err(|error| error.wanting(place.dimension()))?;
        let unit = place.settle(unit, &text)?;
        Self::checked(number, unit)
    }

    /// Puts the two together; only a temperature may be below zero.
    pub(super) fn checked(number: Number, unit: Unit) -> Result<Self, QuantityError> {
        if number.is_negative() && unit.dimension() != Dimension::Temperature {
            return Err(QuantityError::Number {
                error: number.refused_as_negative(),
                after: format!("{}{}", unit.space_before(), unit.symbol()),
            });
        }
        Ok(Self::new(number, unit))
    }

    #[must_use]
    pub fn new(number: Number, unit: Unit) -> Self {
        let symbol = if number.value() == Exact::from_integer(1) { unit.symbol_after_one() } else { unit.symbol() };
        Self { written: format!("{number}{}{symbol}", unit.space_before()).into(), number, unit }
    }

    /// A computed value, with at most so many digits after the point. `None`: too large to write.
    #[must_use]
    pub fn from_value(value: &Exact, unit: Unit, at_most: u32) -> Option<Self> {
        Some(Self::new(Number::from_value(value, at_most)?, unit))
    }

    #[must_use]
    pub fn number(&self) -> &Number {
        &self.number
    }

    #[must_use]
    pub fn value(&self) -> Exact {
        self.number.value()
    }

    #[must_use]
    pub fn unit(&self) -> Unit {
        self.unit
    }

    #[must_use]
    pub fn dimension(&self) -> Dimension {
        self.unit.dimension()
    }

    /// The exact value in another unit. `None`: it measures something else, or months would have
    /// to become days.
    #[must_use]
    pub fn in_unit(&self, unit: Unit) -> Option<Exact> {
        convert(&self.value(), self.unit, unit)
    }

    /// The nearest binary float of the value in its own unit, for drawing only.
    #[must_use]
    pub fn to_f64(&self) -> f64 {
        to_f64(&self.value())
    }

    /// As the crew wrote it, tidied: `35 N·m`.
    #[must_use]
    pub fn written(&self) -> &str {
        &self.written
    }

    /// The same in another unit, to the precision of what was written (NIST SP 811 B.7.2).
    #[must_use]
    pub fn rounded_in(&self, unit: Unit) -> Option<Self> {
        let decimal = rounded(&self.number, self.unit, unit, Rounding::HalfEven, 0)?;
        Some(Self::new(Number::from_decimal(decimal)?, unit))
    }
}

impl fmt::Display for Quantity {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(&self.written)
    }
}

/// The number of tidied text, and its unit if one is written.
pub(super) fn read_number_and_unit(text: &str) -> Result<(Number, Option<Unit>), QuantityError> {
    if let Some(better) = text.strip_prefix('~') {
        return Err(QuantityError::About { written: text.to_owned(), better: better.trim().to_owned() });
    }
    if text.contains("..") || text.contains('±') || text.contains("+/-") {
        return Err(QuantityError::NotOneValue { written: text.to_owned() });
    }
    let (number, rest) = split_number(text);
    if let Some(error) = hyphen_range(number, rest) {
        let second = rest.trim_start_matches(['-', '–', '—', '‑', '‐']).trim_start();
        let after = after_number(split_number(second).1);
        return Err(QuantityError::Number { error, after });
    }
    if number.is_empty() || !number.contains(|character: char| character.is_ascii_digit()) {
        let error = if text.is_empty() { NumberError::Missing } else { NumberError::NotANumber { written: text.to_owned() } };
        return Err(QuantityError::Number { error, after: String::new() });
    }
    let number = Number::parse_signed(number).map_err(|error| QuantityError::Number { error, after: after_number(rest) })?;
    if rest.is_empty() {
        return Ok((number, None));
    }
    let unit = Unit::parse(rest).map_err(|error| QuantityError::Unit { error, number: number.written().to_owned(), wanted: None })?;
    Ok((number, Some(unit)))
}

/// What follows a number in an example: the unit's own symbol where it is known.
fn after_number(rest: &str) -> String {
    match Unit::parse(rest) {
        Ok(unit) => format!("{}{}", unit.space_before(), unit.symbol()),
        Err(_) if rest.is_empty() => String::new(),
        Err(_) => format!(" {rest}"),
    }
}

#[cfg(test)]
#[path = "measure_tests.rs"]
mod tests;
