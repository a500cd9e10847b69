//! Values with numbers in them: counts, amounts, times, money.

use num_traits::ToPrimitive;

use super::scalar::{Refusal, Spot, parsed, tick};
use crate::book::diagnostic::Notes;
use crate::book::keys::Shape;
use crate::book::model::Amount;
use crate::quantity::{CalendarSpan, Dimension, Duration, Exact, Figure, Money, Number, NumberError, Quantity, QuantityError, Unit};

/// The rule under which figures that cannot be read are noted.
pub(super) const BAD_FIGURE: &str = "bad-figure";

/// Largest count: of people, of days.
const MOST: u32 = 10_000;

/// A whole number from 1.
pub(super) fn count(notes: &mut Notes<'_>, spot: Spot<'_, '_>) -> Option<u32> {
    parsed(notes, spot, BAD_FIGURE, counted)
}

/// The whole number from 1 that a text says, or why it says none.
pub(super) fn counted(text: &str) -> Result<u32, (String, String)> {
    let remedy = "write a whole number, such as `2`".to_owned();
    let value = match Number::parse(text) {
        Ok(number) => number.value(),
        Err(error) => return Err((error.to_string(), remedy)),
    };
    match value.is_integer().then(|| value.to_integer().to_u32()).flatten() {
        Some(count @ 1..=MOST) => Ok(count),
        _ => Err((format!("{} is not a whole number from 1 to {MOST}", tick(text)), remedy)),
    }
}

/// A share in hundredths, up to `most`.
pub(super) fn share(notes: &mut Notes<'_>, spot: Spot<'_, '_>, most: i128) -> Option<Number> {
    parsed(notes, spot, BAD_FIGURE, |text| {
        let share = Quantity::parse_in(text, Dimension::Share).map_err(Refusal::tell)?;
        if share.value() <= Exact::from_integer(most) {
            Ok(share.number().clone())
        } else {
            Err((format!("{} is more than {most} %", tick(text)), format!("write a share from `0 %` to `{most} %`")))
        }
    })
}

/// A sum of money.
pub(super) fn money(notes: &mut Notes<'_>, spot: Spot<'_, '_>) -> Option<Money> {
    parsed(notes, spot, "bad-money", Money::parse)
}

/// A length of time by the clock.
pub(super) fn duration(notes: &mut Notes<'_>, spot: Spot<'_, '_>) -> Option<Duration> {
    parsed(notes, spot, BAD_FIGURE, Duration::parse)
}

/// A stretch of the calendar.
pub(super) fn calendar_span(notes: &mut Notes<'_>, spot: Spot<'_, '_>) -> Option<CalendarSpan> {
    parsed(notes, spot, BAD_FIGURE, CalendarSpan::parse)
}

/// A unit of the list.
pub(super) fn unit(notes: &mut Notes<'_>, spot: Spot<'_, '_>) -> Option<Unit> {
    parsed(notes, spot, BAD_FIGURE, Unit::parse)
}

/// One number with its unit, of the kind that the key asks for.
pub(super) fn measure(notes: &mut Notes<'_>, spot: Spot<'_, '_>) -> Option<Quantity> {
    parsed(notes, spot, BAD_FIGURE, |text| match spot.shape {
        Shape::Measure(dimension) => Quantity::parse_in(text, dimension),
        _ => Quantity::parse(text),
    })
}

/// So much of a meter, in the unit that it counts in.
pub(super) fn of_meter(notes: &mut Notes<'_>, spot: Spot<'_, '_>) -> Option<Quantity> {
    parsed(notes, spot, BAD_FIGURE, |text| {
        Quantity::parse(text).map_err(|error| match &error {
            QuantityError::MissingUnit { written, .. } => (
                error.to_string(),
                format!(
                    "write the unit that the meter counts in, such as {} or {}",
                    tick(&format!("{written} h")),
                    tick(&format!("{written} nmi"))
                ),
            ),
            _ => error.tell(),
        })
    })
}

/// A figure of the kind that the key asks for.
pub(super) fn figure(notes: &mut Notes<'_>, spot: Spot<'_, '_>) -> Option<Figure> {
    parsed(notes, spot, BAD_FIGURE, |text| match spot.shape {
        Shape::Figure(dimension) => Figure::parse_in(text, dimension),
        _ => Figure::parse(text),
    })
}

/// A bare number of pieces, or a volume, a mass or a length.
pub(super) fn amount(notes: &mut Notes<'_>, spot: Spot<'_, '_>) -> Option<Amount> {
    parsed(notes, spot, BAD_FIGURE, amount_of)
}

/// Words people put after a number of pieces.
const PIECES: [&str; 12] = ["pc", "pcs", "pc.", "pcs.", "piece", "pieces", "x", "off", "each", "ea", "stk", "stück"];

/// Reads an amount of a part.
///
/// # Errors
/// It is none: what is wrong, and how to mend it.
pub fn amount_of(text: &str) -> Result<Amount, (String, String)> {
    let as_pieces = match Number::parse(text) {
        Ok(pieces) => return Ok(Amount::Pieces(pieces)),
        Err(error) => error,
    };
    match Quantity::parse(text) {
        Ok(measured) if matches!(measured.dimension(), Dimension::Volume | Dimension::Mass | Dimension::Length) => {
            Ok(Amount::Measured(measured))
        }
        Ok(measured) => Err((
            format!("{} is not an amount of a part: it measures {}", tick(text), measured.dimension().name()),
            "write a bare number of pieces, a volume, a mass or a length: `2`, `7.5 L`, `400 g`, `3 m`".to_owned(),
        )),
        // Without a unit it was meant as a number of pieces.
        Err(QuantityError::MissingUnit { .. }) => Err(as_pieces.tell()),
        Err(QuantityError::Unit { number, .. }) if is_pieces(text, &number) => {
            Err((format!("{} has a word after the number of pieces", tick(text)), format!("write {}", tick(&number))))
        }
        Err(error) => Err(error.tell()),
    }
}

fn is_pieces(text: &str, number: &str) -> bool {
    text.strip_prefix(number).is_some_and(|rest| PIECES.contains(&rest.trim().to_lowercase().as_str()))
}

/// A bare number of nautical miles, or a distance that is brought to nautical miles.
pub(super) fn miles(notes: &mut Notes<'_>, spot: Spot<'_, '_>) -> Option<Number> {
    parsed(notes, spot, BAD_FIGURE, |text| {
        let bare: Result<Number, NumberError> = Number::parse(text);
        if let Ok(miles) = bare {
            return Ok(miles);
        }
        let distance = Quantity::parse_in(text, Dimension::Distance).map_err(Refusal::tell)?;
        if distance.unit() == Unit::NauticalMile {
            return Ok(distance.number().clone());
        }
        let converted = distance.in_unit(Unit::NauticalMile).and_then(|miles| Number::from_value(&miles, 1));
        converted.ok_or_else(|| (format!("{} is too far", tick(text)), "write it in nautical miles".to_owned()))
    })
}
