//! Why a fastener was refused, and what to write.

use std::fmt;

use super::text::quoted;

/// Why a fastener was refused.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum FastenerError {
    /// Neither a metric nor an inch thread.
    Unreadable { written: String },
    /// A decimal comma; `better` has a point.
    Comma { written: String, better: String },
    /// A metric size without a coarse pitch, written without its pitch.
    NoPitch { size: String },
    /// What stands as the pitch is a length; `better` is without it.
    Length { length: String, better: String },
    /// An inch thread without its threads an inch.
    NoThreads { written: String },
    /// What follows the thread is no strength that its kind is made in.
    Strength { strength: String, thread: String, metric: bool },
}

impl fmt::Display for FastenerError {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Unreadable { written } => write!(formatter, "{} is not a fastener that can be read", quoted(written)),
            Self::Comma { written, .. } => write!(formatter, "{} has a decimal comma", quoted(written)),
            Self::NoPitch { size } => write!(formatter, "{} has no coarse pitch that is known", quoted(size)),
            Self::Length { length, .. } => write!(formatter, "{} is the length of a fastener, not the pitch of its thread", quoted(length)),
            Self::NoThreads { written } => write!(formatter, "{} does not say how many threads it has to the inch", quoted(written)),
            Self::Strength { strength, metric, .. } => {
                let kind = if *metric { "a metric" } else { "an inch" };
                write!(formatter, "{} is no strength of {kind} fastener", quoted(strength))
            }
        }
    }
}

impl std::error::Error for FastenerError {}

impl FastenerError {
    /// How to mend it, as one sentence.
    #[must_use]
    pub fn remedy(&self) -> String {
        match self {
            Self::Unreadable { .. } => {
                "write it like `M8 8.8`, `M10x1.25 10.9`, `M6 A4-70` or `1/4-20 UNC grade 5`; what is none of these goes into `at`"
                    .to_owned()
            }
            Self::Comma { better, .. } | Self::Length { better, .. } => format!("write {}", quoted(better)),
            Self::NoPitch { size } => format!("write its pitch after it: {} and the pitch", quoted(&format!("{size}x"))),
            Self::NoThreads { .. } => "write them after a hyphen, as in `1/4-20 UNC`".to_owned(),
            Self::Strength { thread, metric, .. } => {
                let known = if *metric {
                    "`4.6`, `5.6`, `8.8`, `10.9`, `12.9`, or `A2` or `A4` with `-50`, `-70` or `-80`"
                } else {
                    "`grade 2`, `grade 5` or `grade 8`"
                };
                format!("write {known}; or the thread alone, {}, which is shown and not checked", quoted(thread))
            }
        }
    }
}
