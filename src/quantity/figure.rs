//! What may stand where a figure stands: one value, a range, or a value with a tolerance.

use std::fmt;

use num_traits::{CheckedAdd, CheckedSub};

use super::Exact;
use super::dimension::Dimension;
use super::figure_error::FigureError;
use super::measure::{Place, Quantity, read_number_and_unit};
use super::measure_error::QuantityError;
use super::number::Number;
use super::pieces::split_number;
use super::text::tidy;
use super::unit::Unit;

/// `35 N·m`, `30..35 N·m`, `2.5.. bar`, `..5 bar` or `35 ± 3 N·m`.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub enum Figure {
    Exact(Quantity),
    /// At least one limit is there; both are in the same unit, and the low one is not above.
    Range {
        low: Option<Quantity>,
        high: Option<Quantity>,
    },
    /// Both in the same unit. For a temperature `plus_minus` is a difference: convert the bounds,
    /// not the tolerance by itself.
    Tolerance {
        value: Quantity,
        plus_minus: Quantity,
    },
}

impl Figure {
    /// Reads a figure of any kind.
    ///
    /// # Errors
    /// Text that is none of the forms, or whose numbers or units cannot be taken.
    pub fn parse(text: &str) -> Result<Self, FigureError> {
        Self::parse_at(text, Place::Any)
    }

    /// As [`Figure::parse`], and the unit must measure what its place asks for.
    ///
    /// # Errors
    /// Also a unit of another kind.
    pub fn parse_in(text: &str, dimension: Dimension) -> Result<Self, FigureError> {
        Self::parse_at(text, Place::Of(dimension))
    }

    /// Reads limits whose unit is declared elsewhere; it may be repeated, not changed.
    ///
    /// # Errors
    /// As [`Figure::parse`], and another unit than the declared one.
    pub fn parse_bare(text: &str, unit: Unit) -> Result<Self, FigureError> {
        Self::parse_at(text, Place::In(unit))
    }

    fn parse_at(text: &str, place: Place) -> Result<Self, FigureError> {
        let text = tidy(text);
        if let Some(error) = not_two_dots(&text) {
            return Err(error);
        }
        if let Some((low, high)) = text.split_once("..") {
            return parse_range(&text, low.trim(), high.trim(), place);
        }
        for sign in ["±", "+/-", "+-"] {
            if let Some((value, plus_minus)) = text.split_once(sign) {
                return parse_tolerance(&text, value.trim(), plus_minus.trim(), place);
            }
        }
        Ok(Self::Exact(Quantity::parse_at(&text, place)?))
    }

    #[must_use]
    pub fn unit(&self) -> Option<Unit> {
        match self {
            Self::Exact(value) | Self::Tolerance { value, .. } => Some(value.unit()),
            Self::Range { low, high } => high.as_ref().or(low.as_ref()).map(Quantity::unit),
        }
    }

    /// The lowest and highest value allowed, in the figure's own unit; `None` is no limit.
    #[must_use]
    pub fn bounds(&self) -> (Option<Exact>, Option<Exact>) {
        match self {
            Self::Exact(value) => (Some(value.value()), Some(value.value())),
            Self::Range { low, high } => (low.as_ref().map(Quantity::value), high.as_ref().map(Quantity::value)),
            Self::Tolerance { value, plus_minus } => {
                let (middle, width) = (value.value(), plus_minus.value());
                // Too large to hold cannot be read; the value itself is the safe side.
                (Some(middle.checked_sub(&width).unwrap_or(middle)), Some(middle.checked_add(&width).unwrap_or(middle)))
            }
        }
    }

    /// Whether a value in the figure's own unit is within it, limits included.
    #[must_use]
    pub fn contains_value(&self, value: &Exact) -> bool {
        let (low, high) = self.bounds();
        low.is_none_or(|low| *value >= low) && high.is_none_or(|high| *value <= high)
    }

    /// The same for a quantity in any unit. `None`: it measures something else.
    #[must_use]
    pub fn contains(&self, quantity: &Quantity) -> Option<bool> {
        Some(self.contains_value(&quantity.in_unit(self.unit()?)?))
    }
}

impl fmt::Display for Figure {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        let number = |side: &Option<Quantity>| side.as_ref().map_or_else(String::new, |side| side.number().to_string());
        match self {
            Self::Exact(value) => value.fmt(formatter),
            Self::Range { low, high } => {
                write!(formatter, "{}..{}", number(low), number(high))?;
                match self.unit() {
                    Some(unit) => write!(formatter, "{}{}", unit.space_before(), unit.symbol()),
                    None => Ok(()),
                }
            }
            Self::Tolerance { value, plus_minus } => {
                write!(formatter, "{} ± {}{}{}", value.number(), plus_minus.number(), value.unit().space_before(), value.unit().symbol())
            }
        }
    }
}

fn parse_range(text: &str, low: &str, high: &str, place: Place) -> Result<Figure, FigureError> {
    let written = || text.to_owned();
    let side = |text| read_side(text).map_err(|error| error.wanting(place.dimension()));
    let (low, low_unit) = side(low)?;
    let (high, high_unit) = side(high)?;
    if low.is_none() && (high.is_none() || low_unit.is_some()) {
        return Err(FigureError::NoLimit { written: written() });
    }
    let unit = one_unit(text, low_unit, high_unit)?;
    let unit = place.settle(unit, text)?;
    let limit = |number: Option<Number>| number.map(|number| Quantity::checked(number, unit)).transpose();
    let (low, high) = (limit(low)?, limit(high)?);
    if let (Some(lowest), Some(highest)) = (&low, &high)
        && lowest.value() > highest.value()
    {
        let better = Figure::Range { low: high.clone(), high: low.clone() };
        return Err(FigureError::Reversed { written: written(), better: better.to_string() });
    }
    Ok(Figure::Range { low, high })
}

/// One side of a range: a number, a unit, both or nothing.
fn read_side(text: &str) -> Result<(Option<Number>, Option<Unit>), QuantityError> {
    if text.is_empty() {
        return Ok((None, None));
    }
    if split_number(text).0.is_empty()
        && let Ok(unit) = Unit::parse(text)
    {
        return Ok((None, Some(unit)));
    }
    let (number, unit) = read_number_and_unit(text)?;
    Ok((Some(number), unit))
}

fn parse_tolerance(text: &str, value: &str, plus_minus: &str, place: Place) -> Result<Figure, FigureError> {
    let written = || text.to_owned();
    let side = |text| read_number_and_unit(text).map_err(|error| error.wanting(place.dimension()));
    let (value, value_unit) = side(value)?;
    let (plus_minus, width_unit) = side(plus_minus)?;
    let unit = place.settle(one_unit(text, value_unit, width_unit)?, text)?;
    if plus_minus.is_negative() {
        return Err(FigureError::Quantity(QuantityError::Number { error: plus_minus.refused_as_negative(), after: String::new() }));
    }
    let value = Quantity::checked(value, unit)?;
    if plus_minus.value() == Exact::from_integer(0) {
        return Err(FigureError::NoTolerance { written: written(), better: value.to_string() });
    }
    if unit.dimension() != Dimension::Temperature && plus_minus.value() > value.value() {
        return Err(FigureError::WideTolerance { written: written() });
    }
    Ok(Figure::Tolerance { value, plus_minus: Quantity::new(plus_minus, unit) })
}

fn one_unit(text: &str, first: Option<Unit>, second: Option<Unit>) -> Result<Option<Unit>, FigureError> {
    match (first, second) {
        (Some(first), Some(second)) if first != second => Err(FigureError::TwoUnits { written: text.to_owned() }),
        _ => Ok(first.or(second)),
    }
}

/// Limits in words or signs, or with too many dots: readable, but not by a program.
fn not_two_dots(text: &str) -> Option<FigureError> {
    let refused = |better: Option<String>| Some(FigureError::NotTwoDots { written: text.to_owned(), better });
    for dots in ["…", "...", ".. .."] {
        if let Some((low, high)) = text.split_once(dots) {
            let one_more = high.contains('.') && high.starts_with('.');
            return refused((!one_more).then(|| format!("{}..{}", low.trim(), high.trim())));
        }
    }
    if let Some((_, second)) = text.split_once("..")
        && second.contains("..")
    {
        return refused(None);
    }
    for (offset, dash) in text.match_indices(['-', '–', '—']) {
        // `30 N·m - 35 N·m`; without a unit before the dash the number itself complains.
        let low = text.get(..offset).unwrap_or_default();
        let high = text.get(offset + dash.len()..).unwrap_or_default();
        if Quantity::parse(low).is_ok() && Quantity::parse(high).is_ok() {
            return refused(Some(format!("{}..{}", low.trim(), high.trim())));
        }
    }
    if let Some((low, high)) = text.split_once(" to ") {
        return refused(Some(format!("{}..{}", low.trim(), high.trim())));
    }
    // A digit begins none of these words and signs.
    if text.starts_with(|first: char| first.is_ascii_digit()) {
        return None;
    }
    let lower = text.to_lowercase();
    for (words, upper) in [
        ("max ", true),
        ("max. ", true),
        ("at most ", true),
        ("up to ", true),
        ("≤", true),
        ("<=", true),
        ("<", true),
        ("min ", false),
        ("min. ", false),
        ("at least ", false),
        ("≥", false),
        (">=", false),
        (">", false),
    ] {
        if let Some(rest) = lower.strip_prefix(words) {
            // The units of the rest keep their capitals: the prefix is as long in either case.
            let rest = text.get(text.len().saturating_sub(rest.len())..)?;
            let (number, unit) = split_number(rest.trim());
            return refused(Some(if upper { format!("..{number} {unit}") } else { format!("{number}.. {unit}") }));
        }
    }
    None
}

#[cfg(test)]
#[path = "figure_tests.rs"]
mod tests;
