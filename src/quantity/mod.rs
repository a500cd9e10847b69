//! Figures with units: reading them as a person writes them, converting them exactly and rounding
//! what is shown.
//!
//! Values are exact fractions from end to end; a binary float is only ever handed out, never
//! reckoned with. A figure keeps the digits it was written with, because they say how far it can be
//! trusted. This module knows nothing of books, dates, files or pages.

mod approximate;
mod calendar_span;
mod convert;
mod decimal;
mod dimension;
mod duration;
mod duty_cycle;
mod fastener;
mod fastener_error;
mod fastener_parse;
mod fastener_strength;
mod figure;
mod figure_conversion;
mod figure_error;
mod measure;
mod measure_error;
mod minutes;
mod money;
mod number;
mod number_error;
mod pieces;
mod spelling;
mod stored;
mod text;
mod unit;

#[cfg(test)]
mod outside_checks;
#[cfg(test)]
mod properties;

pub use approximate::{Approximate, ApproximateError};
pub use calendar_span::{CalendarSpan, CalendarSpanError};
pub use convert::{convert, counterparts};
pub use decimal::{Decimal, Rounding, plain_decimal, round_to_decimals, round_to_digits};
pub use dimension::{Dimension, System};
pub use duration::{Duration, DurationError};
pub use duty_cycle::{DutyCycle, DutyCycleError};
pub use fastener::{Fastener, Thread, pounds_force};
pub use fastener_error::FastenerError;
pub use fastener_strength::Strength;
pub use figure::Figure;
pub use figure_error::FigureError;
pub use measure::Quantity;
pub use measure_error::QuantityError;
pub use minutes::{clock_text, minutes_text};
pub use money::{Money, MoneyError};
pub use number::Number;
pub use number_error::NumberError;
pub use spelling::UnitError;
pub use unit::Unit;

/// An exact value: a fraction of two whole numbers, always in lowest terms.
pub type Exact = num_rational::Ratio<i128>;

/// The nearest binary float, for drawing and statistics; never for deciding anything.
#[must_use]
#[expect(clippy::cast_precision_loss, reason = "a float is what the caller asked for, and it carries some 15 digits")]
pub fn to_f64(value: &Exact) -> f64 {
    *value.numer() as f64 / *value.denom() as f64
}
