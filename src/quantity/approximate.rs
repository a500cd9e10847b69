//! A number that may be marked as approximate: `~1200`.

use std::fmt;

use super::measure::Quantity;
use super::measure_error::QuantityError;
use super::number::Number;
use super::number_error::NumberError;
use super::text::{quoted, tidy};
use super::unit::Unit;

/// A number, and whether it is only about right.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Approximate {
    pub about: bool,
    pub number: Number,
}

/// Why an approximate number was refused.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum ApproximateError {
    Number(QuantityError),
    /// `about 1200`, `ca. 1200`.
    Worded {
        written: String,
        better: String,
    },
}

impl fmt::Display for ApproximateError {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Number(error) => error.fmt(formatter),
            Self::Worded { written, .. } => {
                write!(formatter, "{} is approximate in words", quoted(written))
            }
        }
    }
}

impl std::error::Error for ApproximateError {}

impl ApproximateError {
    /// How to mend it, as one sentence.
    #[must_use]
    pub fn remedy(&self) -> String {
        match self {
            Self::Number(error) => error.remedy(),
            Self::Worded { better, .. } => format!("write {}", quoted(better)),
        }
    }
}

impl Approximate {
    /// Reads `1840.5` or `~1200`.
    ///
    /// # Errors
    /// A number that cannot be taken, or "about" in words.
    pub fn parse(text: &str) -> Result<Self, ApproximateError> {
        Self::read(text, |number| Number::parse(number).map_err(|error| QuantityError::Number { error, after: String::new() }))
    }

    /// The same, where the number's unit is declared elsewhere; it may be repeated, not changed.
    ///
    /// # Errors
    /// Also another unit.
    pub fn parse_bare(text: &str, unit: Unit) -> Result<Self, ApproximateError> {
        Self::read(text, |number| Quantity::parse_bare(number, unit).map(|quantity| quantity.number().clone()))
    }

    fn read(text: &str, number: impl Fn(&str) -> Result<Number, QuantityError>) -> Result<Self, ApproximateError> {
        let text = tidy(text);
        // A digit begins none of these words.
        let worded = !text.starts_with(|first: char| first.is_ascii_digit());
        for sign in ["about ", "approx. ", "approx ", "ca. ", "ca ", "c. ", "≈", "∼"] {
            if worded && let Some(rest) = text.strip_prefix(sign) {
                return Err(ApproximateError::Worded { better: format!("~{}", rest.trim()), written: text.to_string() });
            }
        }
        let (about, rest) = match text.strip_prefix('~') {
            Some(rest) => (true, rest.trim_start()),
            None => (false, text.as_ref()),
        };
        if rest.is_empty() {
            return Err(ApproximateError::Number(QuantityError::Number { error: NumberError::Missing, after: String::new() }));
        }
        let number = number(rest).map_err(ApproximateError::Number)?;
        Ok(Self { about, number })
    }
}

impl fmt::Display for Approximate {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        let sign = if self.about { "~" } else { "" };
        write!(formatter, "{sign}{}", self.number)
    }
}

#[cfg(test)]
mod tests {
    use super::{Approximate, Unit};

    #[track_caller]
    fn case(written: &str, about: bool, number: &str) {
        let read = Approximate::parse_bare(written, Unit::Hour).unwrap_or_else(|error| panic!("{written}: {error}"));
        assert_eq!((read.about, read.number.written()), (about, number));
    }

    #[track_caller]
    fn refused(written: &str, message: &str, remedy: &str) {
        let error = Approximate::parse(written).expect_err(written);
        assert_eq!(error.to_string(), message, "for {written:?}");
        assert_eq!(error.remedy(), remedy, "for {written:?}");
    }

    #[test]
    fn about_or_exact() {
        case("1840.5", false, "1840.5");
        case("~1200", true, "1200");
        case("~ 1200", true, "1200");
        case("~1200 h", true, "1200");
    }

    #[test]
    fn refusals() {
        refused("about 1200", "`about 1200` is approximate in words", "write `~1200`");
        refused("~1,200", "`1,200` has a separator in its thousands", "write `1200`");
        refused("~", "the number is missing", "write a number in figures, such as `7.5`");
        refused("~-3", "`-3` is below zero, which only a temperature can be", "write `3`");
    }
}
