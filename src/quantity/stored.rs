//! An exact value in a quarter of its room: a book keeps hundreds of thousands of them.

use super::Exact;
use std::fmt;

/// An exact value as it is kept; [`Stored::value`] is what is reckoned with.
#[derive(Clone, PartialEq, Eq, Hash)]
pub(super) enum Stored {
    /// All but those with more than eighteen digits.
    Small {
        numerator: i64,
        denominator: u32,
    },
    Large(Box<Exact>),
}

impl From<Exact> for Stored {
    /// Every value is kept in one way alone, so that equal ones are equal here.
    fn from(value: Exact) -> Self {
        match (i64::try_from(*value.numer()), u32::try_from(*value.denom())) {
            (Ok(numerator), Ok(denominator)) => Self::Small { numerator, denominator },
            _ => Self::Large(Box::new(value)),
        }
    }
}

impl Stored {
    pub(super) fn value(&self) -> Exact {
        match self {
            // It was in lowest terms when it was put away.
            Self::Small { numerator, denominator } => Exact::new_raw(i128::from(*numerator), i128::from(*denominator)),
            Self::Large(value) => **value,
        }
    }
}

impl fmt::Debug for Stored {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.value().fmt(formatter)
    }
}

#[cfg(test)]
mod tests {
    use super::{Exact, Stored};

    #[test]
    fn what_is_put_away_comes_back() {
        let largest = i128::from(i64::MAX);
        for value in [
            Exact::from_integer(0),
            Exact::new(-7, 3),
            Exact::new(largest, 10),
            Exact::new(-largest - 1, 7),
            Exact::from_integer(largest + 1),
            Exact::new(1, i128::from(u32::MAX) + 2),
            Exact::from_integer(i128::MAX),
            Exact::from_integer(i128::MIN),
        ] {
            assert_eq!(Stored::from(value).value(), value);
            assert_eq!(Stored::from(value), Stored::from(value));
        }
        assert!(matches!(Stored::from(Exact::new(999_999_999_999, 1_000)), Stored::Small { .. }));
        assert_eq!(size_of::<Stored>(), 16);
    }
}
