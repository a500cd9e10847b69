//! Why a piece of text is not taken as a figure with limits, and what to write instead.

use std::fmt;

use super::measure_error::QuantityError;
use super::text::quoted;

/// Why a figure was refused. `better` is the figure as it should stand.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum FigureError {
    /// One of its numbers or units is wrong.
    Quantity(QuantityError),
    /// A range with neither limit.
    NoLimit { written: String },
    /// A range in words, signs or the wrong number of dots.
    NotTwoDots { written: String, better: Option<String> },
    /// Two units in one figure.
    TwoUnits { written: String },
    /// The low limit is above the high one.
    Reversed { written: String, better: String },
    /// A tolerance of nothing.
    NoTolerance { written: String, better: String },
    /// A tolerance that reaches below zero.
    WideTolerance { written: String },
}

impl fmt::Display for FigureError {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Quantity(error) => error.fmt(formatter),
            Self::NoLimit { written } => write!(formatter, "{} has no limit", quoted(written)),
            Self::NotTwoDots { written, .. } => {
                write!(formatter, "{} is not how limits are written", quoted(written))
            }
            Self::TwoUnits { written } => {
                write!(formatter, "{} mixes two units", quoted(written))
            }
            Self::Reversed { written, .. } => write!(formatter, "{} has its lower limit above its upper one", quoted(written)),
            Self::NoTolerance { written, .. } => {
                write!(formatter, "{} has a tolerance of nothing", quoted(written))
            }
            Self::WideTolerance { written } => write!(formatter, "{} has a tolerance wider than its value", quoted(written)),
        }
    }
}

impl std::error::Error for FigureError {}

impl From<QuantityError> for FigureError {
    fn from(error: QuantityError) -> Self {
        Self::Quantity(error)
    }
}

impl FigureError {
    /// How to mend it, as one sentence.
    #[must_use]
    pub fn remedy(&self) -> String {
        match self {
            Self::Quantity(error) => error.remedy(),
            Self::NotTwoDots { better: Some(better), .. } => format!("write limits with two dots: {}", quoted(better)),
            Self::NotTwoDots { better: None, .. } | Self::NoLimit { .. } => {
                "write limits as `2.5..5 bar`, `2.5.. bar` or `..5 bar`".to_owned()
            }
            Self::TwoUnits { .. } => "give both numbers in one unit".to_owned(),
            Self::Reversed { better, .. } | Self::NoTolerance { better, .. } => {
                format!("write {}", quoted(better))
            }
            Self::WideTolerance { .. } => "write the tolerance after the sign, in the unit of the value: `35 ± 3 N·m`".to_owned(),
        }
    }
}
