//! Why a piece of text is not taken as a number, and what to write instead.

use std::fmt;

use super::text::quoted;

/// Why a number was refused. `better` is the number as it should stand.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum NumberError {
    Missing,
    NotANumber { written: String },
    DecimalComma { written: String, better: String },
    Thousands { written: String, better: String },
    PowerOfTen { written: String, better: Option<String> },
    BarePoint { written: String, better: String },
    Sign { written: String, better: String },
    Negative { written: String, better: String },
    Fraction { written: String },
    MixedFraction { written: String, better: String },
    ZeroDenominator { written: String },
    TooLong { written: String },
    HyphenRange { written: String, better: String },
}

impl fmt::Display for NumberError {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Missing => write!(formatter, "the number is missing"),
            Self::NotANumber { written } => {
                write!(formatter, "{} is not a number", quoted(written))
            }
            Self::DecimalComma { written, .. } => {
                write!(formatter, "{} has a decimal comma", quoted(written))
            }
            Self::Thousands { written, .. } => {
                write!(formatter, "{} has a separator in its thousands", quoted(written))
            }
            Self::PowerOfTen { written, .. } => {
                write!(formatter, "{} is written with a power of ten", quoted(written))
            }
            Self::BarePoint { written, .. } => {
                write!(formatter, "{} lacks a digit beside its point", quoted(written))
            }
            Self::Sign { written, .. } => write!(formatter, "{} has a sign where none is needed", quoted(written)),
            Self::Negative { written, .. } => write!(formatter, "{} is below zero, which only a temperature can be", quoted(written)),
            Self::Fraction { written } => {
                write!(formatter, "{} is not a fraction", quoted(written))
            }
            Self::MixedFraction { written, .. } => {
                write!(formatter, "{} joins a whole number and a fraction with a hyphen", quoted(written))
            }
            Self::ZeroDenominator { written } => {
                write!(formatter, "{} divides by zero", quoted(written))
            }
            Self::TooLong { written } => {
                write!(formatter, "{} has too many digits", quoted(written))
            }
            Self::HyphenRange { written, .. } => {
                write!(formatter, "{} looks like a range", quoted(written))
            }
        }
    }
}

impl std::error::Error for NumberError {}

impl NumberError {
    /// How to mend it, as one sentence.
    #[must_use]
    pub fn remedy(&self) -> String {
        self.remedy_with("")
    }

    /// The same, with what should follow the number (such as ` L`) in the example.
    pub(super) fn remedy_with(&self, after: &str) -> String {
        let write = |better: &str| format!("write {}", quoted(&format!("{better}{after}")));
        match self {
            Self::Missing | Self::NotANumber { .. } => "write a number in figures, such as `7.5`".to_owned(),
            Self::DecimalComma { better, .. } => {
                format!("write a point: {}", quoted(&format!("{better}{after}")))
            }
            Self::PowerOfTen { better: None, .. } => "write the number out in full".to_owned(),
            Self::HyphenRange { better, .. } => format!("write a range with two dots: {}", quoted(&format!("{better}{after}"))),
            Self::PowerOfTen { better: Some(better), .. }
            | Self::Thousands { better, .. }
            | Self::BarePoint { better, .. }
            | Self::Sign { better, .. }
            | Self::Negative { better, .. }
            | Self::MixedFraction { better, .. } => write(better),
            Self::Fraction { .. } => "write a fraction such as `1/4` or `1 1/2`, in whole numbers of at most four digits".to_owned(),
            Self::ZeroDenominator { .. } => "write a fraction such as `1/4`".to_owned(),
            Self::TooLong { .. } => "use at most 12 digits before the point and 9 after it".to_owned(),
        }
    }
}
