//! Arithmetic on exact values that says "no figure" instead of overflowing.
//!
//! A book may hold any numbers; whatever grows too large to hold has no figure, and no date follows
//! from it.

use num_traits::{CheckedAdd, CheckedDiv, CheckedMul, CheckedSub};

use crate::quantity::Exact;

pub(super) fn whole(value: i64) -> Exact {
    Exact::from_integer(i128::from(value))
}

pub(super) fn plus(left: &Exact, right: &Exact) -> Option<Exact> {
    // Most sums of a log are of whole numbers, which need no common denominator.
    if left.is_integer() && right.is_integer() {
        let sum = left.numer().checked_add(right.numer())?;
        return Some(Exact::from_integer(sum));
    }
    left.checked_add(right)
}

pub(super) fn minus(left: &Exact, right: &Exact) -> Option<Exact> {
    if left.is_integer() && right.is_integer() {
        let difference = left.numer().checked_sub(right.numer())?;
        return Some(Exact::from_integer(difference));
    }
    left.checked_sub(right)
}

pub(super) fn times(left: &Exact, right: &Exact) -> Option<Exact> {
    left.checked_mul(right)
}

/// `None` also where the divisor is nothing.
pub(super) fn over(left: &Exact, right: &Exact) -> Option<Exact> {
    left.checked_div(right)
}

/// The largest whole number not above the value.
pub(super) fn floor(value: &Exact) -> Option<i64> {
    i64::try_from(value.numer().div_euclid(*value.denom())).ok()
}

/// The smallest whole number not below the value.
pub(super) fn ceil(value: &Exact) -> Option<i64> {
    let rest = value.numer().rem_euclid(*value.denom());
    floor(value)?.checked_add(i64::from(rest != 0))
}

#[cfg(test)]
mod tests {
    use super::{ceil, floor, over, plus, whole};
    use crate::quantity::Exact;

    #[track_caller]
    fn case(numerator: i128, denominator: i128, floored: i64, raised: i64) {
        let value = Exact::new(numerator, denominator);
        assert_eq!((floor(&value), ceil(&value)), (Some(floored), Some(raised)));
    }

    #[test]
    fn whole_days_are_found_on_either_side_of_nothing() {
        case(7, 2, 3, 4);
        case(8, 2, 4, 4);
        case(0, 1, 0, 0);
        case(-7, 2, -4, -3);
        case(-8, 2, -4, -4);
    }

    #[test]
    fn what_cannot_be_held_has_no_figure() {
        let huge = Exact::from_integer(i128::MAX);
        assert_eq!(plus(&huge, &huge), None);
        assert_eq!(floor(&huge), None);
        assert_eq!(ceil(&Exact::new(i128::MAX, 2)), None);
        assert_eq!(over(&whole(1), &whole(0)), None);
    }
}
