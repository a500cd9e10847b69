//! A length of time by the clock: `2 h 40 min`, `90 s`, `3 days`.
//!
//! Days and weeks are 24 hours and 7 days here. Months and years are refused: they have no length
//! in minutes, and belong to [`super::CalendarSpan`].

use std::fmt;

use num_traits::CheckedMul;

use super::Exact;
use super::dimension::Dimension;
use super::measure_error::QuantityError;
use super::number::Number;
use super::number_error::NumberError;
use super::pieces::{hyphen_range, number_and_unit_pairs};
use super::spelling::{UnitError, listed};
use super::text::{quoted, tidy, with_article};
use super::unit::{Scale, Unit};

/// Longest duration taken, in seconds: ten years of 366 days.
const LONGEST: i64 = 10 * 366 * 86_400;
/// From here on a duration is shown in days rather than hours.
const SHOWN_IN_DAYS: i64 = 48 * 3_600;

/// A length of time in whole seconds, never below zero.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Default)]
pub struct Duration {
    seconds: i64,
}

/// Why a duration was refused.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum DurationError {
    /// One of its numbers or units is wrong.
    Quantity(QuantityError),
    /// Months or years, which have no length in minutes.
    Calendar {
        written: String,
    },
    /// A unit of something else.
    NotTime {
        written: String,
        found: Dimension,
    },
    /// `2:40`.
    Colon {
        written: String,
        better: String,
    },
    /// The larger unit does not come first, or one comes twice.
    Order {
        written: String,
    },
    /// Not a whole number of seconds.
    Fraction {
        written: String,
    },
    TooLong {
        written: String,
    },
}

impl fmt::Display for DurationError {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Quantity(error) => error.fmt(formatter),
            Self::Calendar { written } => {
                write!(formatter, "{} has no length in minutes", quoted(written))
            }
            Self::NotTime { written, found } => write!(formatter, "{} is {}, not a time", quoted(written), with_article(found.name())),
            Self::Colon { written, .. } => {
                write!(formatter, "{} reads like a time of day", quoted(written))
            }
            Self::Order { written } => {
                write!(formatter, "{} has its units out of order", quoted(written))
            }
            Self::Fraction { written } => write!(formatter, "{} is not a whole number of seconds", quoted(written)),
            Self::TooLong { written } => {
                write!(formatter, "{} is longer than ten years", quoted(written))
            }
        }
    }
}

impl std::error::Error for DurationError {}

impl From<QuantityError> for DurationError {
    fn from(error: QuantityError) -> Self {
        Self::Quantity(error)
    }
}

impl DurationError {
    /// How to mend it, as one sentence.
    #[must_use]
    pub fn remedy(&self) -> String {
        match self {
            Self::Quantity(error) if !matches!(error, QuantityError::MissingUnit { .. }) => error.remedy(),
            Self::Calendar { .. } => "write days or weeks, which have a fixed length, such as `90 days`".to_owned(),
            Self::Quantity(_) | Self::NotTime { .. } => "write a time such as `20 min`, `2 h 40 min` or `3 days`".to_owned(),
            Self::Colon { better, .. } => format!("write {}", quoted(better)),
            Self::Order { .. } => "write each unit once, the largest first: `2 h 40 min`".to_owned(),
            Self::Fraction { .. } => "write it in whole seconds, such as `90 s`".to_owned(),
            Self::TooLong { .. } => "check the number and its unit".to_owned(),
        }
    }
}

impl Duration {
    pub const ZERO: Self = Self { seconds: 0 };

    /// `None` below zero.
    #[must_use]
    pub fn from_seconds(seconds: i64) -> Option<Self> {
        (seconds >= 0).then_some(Self { seconds })
    }

    /// Reads `2 h 40 min`, `90 s`, `1.5 h`, `3 days`.
    ///
    /// # Errors
    /// Months and years, units of anything but time, numbers that cannot be taken, fractions of a
    /// second, and more than ten years.
    pub fn parse(text: &str) -> Result<Self, DurationError> {
        let text = tidy(text);
        Self::in_one_unit(&text).map_or_else(|| Self::in_units(&text), Ok)
    }

    fn in_units(text: &str) -> Result<Self, DurationError> {
        let pairs = number_and_unit_pairs(text);
        if pairs.is_empty() {
            return Err(QuantityError::Number { error: NumberError::Missing, after: String::new() }.into());
        }
        if let Some(better) = text.strip_prefix('~') {
            return Err(QuantityError::About { written: text.to_owned(), better: better.trim().to_owned() }.into());
        }
        if let Some(better) = with_colon(text) {
            return Err(DurationError::Colon { written: text.to_owned(), better });
        }
        let mut seconds: i64 = 0;
        let mut smallest: Option<i128> = None;
        for (number, unit) in pairs {
            let (piece, size) = piece_in_seconds(number, unit, text)?;
            if smallest.is_some_and(|smallest| size >= smallest) {
                return Err(DurationError::Order { written: text.to_owned() });
            }
            smallest = Some(size);
            seconds = match seconds.checked_add(piece) {
                Some(sum) if sum <= LONGEST => sum,
                _ => return Err(DurationError::TooLong { written: text.to_owned() }),
            };
        }
        Ok(Self { seconds })
    }

    /// Reads `20 min`, a whole number of one unit: nearly all marks have such a time. `None`: look closer.
    fn in_one_unit(text: &str) -> Option<Self> {
        let (number, unit) = text.split_once(' ')?;
        if number.is_empty() || number.len() > 9 || !number.bytes().all(|byte| byte.is_ascii_digit()) {
            return None;
        }
        let unit = listed(unit).filter(|unit| unit.dimension() == Dimension::Time)?;
        let Scale::Times(size, 1) = unit.row().scale else { return None };
        let seconds = number.parse::<i64>().ok()?.checked_mul(i64::try_from(size).ok()?)?;
        (seconds <= LONGEST).then_some(Self { seconds })
    }

    #[must_use]
    pub fn seconds(self) -> i64 {
        self.seconds
    }

    #[must_use]
    pub fn minutes(self) -> Exact {
        Exact::new(i128::from(self.seconds), 60)
    }

    #[must_use]
    pub fn is_zero(self) -> bool {
        self.seconds == 0
    }

    #[must_use]
    pub fn checked_add(self, other: Self) -> Option<Self> {
        Self::from_seconds(self.seconds.checked_add(other.seconds)?)
    }

    #[must_use]
    pub fn checked_mul(self, times: i64) -> Option<Self> {
        Self::from_seconds(self.seconds.checked_mul(times)?)
    }

    /// ISO 8601: `PT1H30M`, `P1DT2H`; nothing is `PT0S`.
    #[must_use]
    pub fn iso8601(self) -> String {
        let [days, hours, minutes, seconds] = self.parts(true);
        let part = |count: i64, letter: char| match count {
            0 => String::new(),
            count => format!("{count}{letter}"),
        };
        let clock = [part(hours, 'H'), part(minutes, 'M'), part(seconds, 'S')].concat();
        match (days, clock.as_str()) {
            (0, "") => "PT0S".to_owned(),
            (days, "") => format!("P{days}D"),
            (days, clock) => format!("P{}T{clock}", part(days, 'D')),
        }
    }

    /// Days (where wanted), hours, minutes, seconds.
    fn parts(self, with_days: bool) -> [i64; 4] {
        let days = if with_days { self.seconds / 86_400 } else { 0 };
        let rest = self.seconds - days * 86_400;
        [days, rest / 3_600, rest % 3_600 / 60, rest % 60]
    }
}

impl fmt::Display for Duration {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        let [days, hours, minutes, seconds] = self.parts(self.seconds >= SHOWN_IN_DAYS);
        let mut space = "";
        for (count, unit) in [(days, "days"), (hours, "h"), (minutes, "min"), (seconds, "s")] {
            if count > 0 {
                write!(formatter, "{space}{count} {unit}")?;
                space = " ";
            }
        }
        if space.is_empty() { formatter.write_str("0 min") } else { Ok(()) }
    }
}

/// One number with its unit in seconds, and the size of the unit.
fn piece_in_seconds(number: &str, unit: &str, text: &str) -> Result<(i64, i128), DurationError> {
    let written = || text.to_owned();
    let number_error = |error| QuantityError::Number { error, after: if unit.is_empty() { String::new() } else { format!(" {unit}") } };
    if text.contains("..") || text.contains('±') || text.contains("+/-") {
        return Err(QuantityError::NotOneValue { written: written() }.into());
    }
    if let Some((_, after)) = text.split_once(number)
        && let Some(error) = hyphen_range(number, after.trim_start())
    {
        return Err(QuantityError::NotOneValue {
            written: match error {
                NumberError::HyphenRange { .. } => written(),
                _ => number.to_owned(),
            },
        }
        .into());
    }
    if number.is_empty() {
        return Err(number_error(NumberError::NotANumber { written: written() }).into());
    }
    let number = Number::parse(number).map_err(number_error)?;
    let unit = Unit::parse(unit).map_err(|error| match error {
        UnitError::Missing => QuantityError::MissingUnit { written: number.written().to_owned(), wanted: Some(Dimension::Time) },
        error => QuantityError::Unit { error, number: number.written().to_owned(), wanted: Some(Dimension::Time) },
    })?;
    if unit.dimension() != Dimension::Time {
        return Err(DurationError::NotTime { written: written(), found: unit.dimension() });
    }
    let Scale::Times(size, _) = unit.row().scale else {
        return Err(DurationError::Calendar { written: written() });
    };
    let seconds = number.value().checked_mul(&Exact::from_integer(size)).ok_or_else(|| DurationError::TooLong { written: written() })?;
    if !seconds.is_integer() {
        return Err(DurationError::Fraction { written: written() });
    }
    let seconds = i64::try_from(seconds.to_integer()).map_err(|_| DurationError::TooLong { written: written() })?;
    Ok((seconds, size))
}

/// `2:40` as `2 h 40 min`.
fn with_colon(text: &str) -> Option<String> {
    let (hours, minutes) = text.split_once(':')?;
    let (hours, minutes): (u32, u32) = (hours.parse().ok()?, minutes.parse().ok()?);
    Some(format!("{hours} h {minutes} min"))
}

#[cfg(test)]
#[path = "duration_tests.rs"]
mod tests;
