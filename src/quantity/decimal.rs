//! Rounding an exact value to a decimal numeral.
//!
//! NIST SP 811 B.7.1: drop below half, raise above half, and on an exact half go to the even digit.
//! The decision is made on the fraction itself, so no binary float can tip it.

use std::cmp::Ordering;
use std::fmt::{self, Write as _};

use super::Exact;

/// Which way a value goes that does not end at the wanted digit.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Rounding {
    /// To the nearest digit, an exact half to the even one.
    HalfEven,
    /// Towards the larger value.
    Up,
    /// Towards the smaller value (minus infinity).
    Down,
}

/// A decimal numeral: `units` counted in tenths, hundredths, … (or tens, where `decimals` < 0).
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Decimal {
    pub units: i128,
    pub decimals: i32,
}

impl Decimal {
    /// The exact value, unless it is too large to hold.
    #[must_use]
    pub fn value(self) -> Option<Exact> {
        let power = power_of_ten(self.decimals.unsigned_abs())?;
        if self.decimals >= 0 { Some(Exact::new(self.units, power)) } else { Some(Exact::from_integer(self.units.checked_mul(power)?)) }
    }
}

impl fmt::Display for Decimal {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        let sign = if self.units < 0 { "-" } else { "" };
        let digits = self.units.unsigned_abs();
        let shift = self.decimals.unsigned_abs();
        if self.decimals <= 0 {
            let zeros = if digits == 0 { 0 } else { shift };
            write!(formatter, "{sign}{digits}")?;
            return (0..zeros).try_for_each(|_| formatter.write_char('0'));
        }
        // A power that cannot be held is larger than all that can be.
        let (whole, part) = 10_u128.checked_pow(shift).map_or((0, digits), |power| (digits / power, digits % power));
        write!(formatter, "{sign}{whole}.{part:0width$}", width = usize::try_from(shift).unwrap_or(0))
    }
}

/// 10ⁿ, if it can be held.
pub(super) fn power_of_ten(exponent: u32) -> Option<i128> {
    10_i128.checked_pow(exponent)
}

/// Rounds to so many digits after the point (before it, where negative). `None`: too large to hold.
#[must_use]
pub fn round_to_decimals(value: &Exact, decimals: i32, rounding: Rounding) -> Option<Decimal> {
    let (numerator, denominator) = (*value.numer(), *value.denom());
    let power = power_of_ten(decimals.unsigned_abs())?;
    let (floor, rest, divisor) = if decimals >= 0 {
        // The whole part is set aside first: multiplying it with the denominator could overflow.
        let whole = numerator.checked_div_euclid(denominator)?;
        let part = numerator.checked_rem_euclid(denominator)?.checked_mul(power)?;
        let floor = whole.checked_mul(power)?.checked_add(part / denominator)?;
        (floor, part % denominator, denominator)
    } else {
        let divisor = denominator.checked_mul(power)?;
        let floor = numerator.checked_div_euclid(divisor)?;
        (floor, numerator.checked_rem_euclid(divisor)?, divisor)
    };
    let raise = match rounding {
        Rounding::Down => false,
        Rounding::Up => rest > 0,
        Rounding::HalfEven => match rest.cmp(&(divisor - rest)) {
            Ordering::Less => false,
            Ordering::Greater => true,
            Ordering::Equal => floor % 2 != 0,
        },
    };
    let units = floor.checked_add(i128::from(raise))?;
    Some(Decimal { units, decimals })
}

/// Rounds to so many significant digits (at least one). Zero is `0`. `None`: too large to hold.
#[must_use]
pub fn round_to_digits(value: &Exact, digits: u32, rounding: Rounding) -> Option<Decimal> {
    if *value.numer() == 0 {
        return Some(Decimal { units: 0, decimals: 0 });
    }
    let digits = digits.max(1);
    let decimals = i32::try_from(digits).ok()?.checked_sub(1)?.checked_sub(magnitude(value))?;
    let rounded = round_to_decimals(value, decimals, rounding)?;
    if rounded.units.unsigned_abs() >= power_of_ten(digits)?.unsigned_abs() {
        // 9.96 to two digits has become 10.0, which is three.
        return Some(Decimal { units: rounded.units / 10, decimals: rounded.decimals - 1 });
    }
    Some(rounded)
}

/// The power of ten of the first digit: 0 for 1 to 9.99…, −1 for 0.1 to 0.99…; 0 for zero.
pub(super) fn magnitude(value: &Exact) -> i32 {
    let numerator = value.numer().unsigned_abs();
    let denominator = value.denom().unsigned_abs();
    let mut exponent = 0;
    if numerator >= denominator {
        let mut whole = numerator / denominator;
        while whole >= 10 {
            whole /= 10;
            exponent += 1;
        }
    } else if numerator > 0 {
        let mut scaled = numerator;
        while scaled < denominator {
            let Some(next) = scaled.checked_mul(10) else {
                return exponent - 1;
            };
            scaled = next;
            exponent -= 1;
        }
    }
    exponent
}

/// The value as a plain decimal, with no more digits after the point than asked for and no zeros at
/// its end: `41.5`, `63`, `0.333`. For computed figures that have no written precision.
#[must_use]
pub fn plain_decimal(value: &Exact, at_most: u32) -> String {
    if value.is_integer() {
        return value.to_integer().to_string();
    }
    // Fewer places are always possible to hold; the loop ends at none.
    for places in (0..=at_most.min(18)).rev() {
        let Ok(decimals) = i32::try_from(places) else {
            continue;
        };
        if let Some(rounded) = round_to_decimals(value, decimals, Rounding::HalfEven) {
            return trimmed(rounded).to_string();
        }
    }
    value.to_integer().to_string()
}

/// The same value without zeros at the end of its fraction.
pub(super) fn trimmed(mut decimal: Decimal) -> Decimal {
    while decimal.decimals > 0 && decimal.units % 10 == 0 {
        decimal.units /= 10;
        decimal.decimals -= 1;
    }
    decimal
}

#[cfg(test)]
mod tests {
    use super::{Decimal, Exact, Rounding, plain_decimal, round_to_decimals, round_to_digits};

    #[track_caller]
    fn digits(numerator: i128, denominator: i128, digits: u32, rounding: Rounding, expected: &str) {
        let rounded = round_to_digits(&Exact::new(numerator, denominator), digits, rounding);
        assert_eq!(rounded.expect("small enough").to_string(), expected);
    }

    #[test]
    fn significant_digits() {
        digits(996, 100, 2, Rounding::HalfEven, "10");
        digits(994, 100, 2, Rounding::HalfEven, "9.9");
        digits(9144, 10, 2, Rounding::HalfEven, "910");
        digits(1, 3, 3, Rounding::HalfEven, "0.333");
        digits(1, 3, 3, Rounding::Up, "0.334");
        digits(-1, 3, 3, Rounding::Up, "-0.333");
        digits(-1, 3, 3, Rounding::Down, "-0.334");
        digits(0, 1, 4, Rounding::HalfEven, "0");
        digits(5, 10_000, 1, Rounding::HalfEven, "0.0005");
    }

    #[test]
    fn decimals_before_and_after_the_point() {
        let value = Exact::new(12_345, 10);
        let shown = |decimals| round_to_decimals(&value, decimals, Rounding::HalfEven).expect("small enough").to_string();
        assert_eq!(shown(2), "1234.50");
        assert_eq!(shown(0), "1234");
        assert_eq!(shown(-2), "1200");
    }

    #[test]
    fn more_decimals_than_any_power_that_can_be_held() {
        let small = Decimal { units: -5, decimals: 40 };
        assert_eq!(small.to_string(), format!("-0.{}5", "0".repeat(39)));
    }

    #[test]
    fn too_large_is_told_apart() {
        let largest = Exact::from_integer(i128::MAX);
        assert_eq!(round_to_decimals(&largest, 1, Rounding::HalfEven), None);
        assert_eq!(plain_decimal(&largest, 3), i128::MAX.to_string());
    }

    #[test]
    fn plain_decimals_end_without_zeros() {
        assert_eq!(plain_decimal(&Exact::new(83, 2), 3), "41.5");
        assert_eq!(plain_decimal(&Exact::from_integer(63), 3), "63");
        assert_eq!(plain_decimal(&Exact::new(1, 3), 3), "0.333");
        assert_eq!(plain_decimal(&Exact::new(-1, 10_000), 3), "0");
    }
}
