//! A number as written: its exact value, and how many digits it was written with.
//!
//! `7.50` and `7.5` are the same value but not the same claim, so the spelling is kept. Whatever
//! could be read in two ways (commas, separators, powers of ten) is refused with what to write.

use std::fmt;

use num_traits::CheckedMul;

use super::decimal::{Decimal, Rounding, magnitude, plain_decimal, power_of_ten, round_to_decimals, trimmed};
use super::number_error::NumberError;
use super::stored::Stored;
use super::text::tidy;
use super::{Exact, to_f64};

/// Most digits before the point.
const MOST_WHOLE_DIGITS: usize = 12;
/// Most digits after the point.
const MOST_DECIMALS: usize = 9;
/// Most digits in either part of a fraction; `63/64` is the finest a rule shows.
const MOST_FRACTION_DIGITS: usize = 4;
/// A fraction such as `3/8` counts as exact to so many digits when it is converted.
const FRACTION_DIGITS: i32 = 3;

/// A number as written: an exact value that remembers its digits.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Number {
    value: Stored,
    written: Box<str>,
    /// Digits after the point; none for a fraction.
    decimals: Option<u32>,
}

impl Number {
    /// Reads `7`, `1840.5`, `1/4` or `1 1/2`.
    ///
    /// # Errors
    /// Anything else, a number below zero, or more digits than any job needs.
    pub fn parse(text: &str) -> Result<Self, NumberError> {
        let number = Self::parse_signed(text)?;
        if number.is_negative() {
            return Err(number.refused_as_negative());
        }
        Ok(number)
    }

    /// As [`Number::parse`], but a minus is allowed: temperatures can be below zero.
    pub(super) fn parse_signed(text: &str) -> Result<Self, NumberError> {
        let written = tidy(text);
        if written.is_empty() {
            return Err(NumberError::Missing);
        }
        if let Some(better) = written.strip_prefix('+') {
            let better = better.trim_start().to_owned();
            return Err(NumberError::Sign { written: written.into_owned(), better });
        }
        let (negative, digits) = match written.strip_prefix('-') {
            Some(rest) => (true, rest.trim_start()),
            None => (false, written.as_ref()),
        };
        let (value, decimals) = unsigned(digits, &written)?;
        let without_gap = (negative && 1 + digits.len() < written.len()).then(|| format!("-{digits}"));
        let written = without_gap.unwrap_or_else(|| written.into_owned());
        let value = if negative { -value } else { value };
        Ok(Self { value: value.into(), written: written.into(), decimals })
    }

    /// A computed value with at most so many digits after the point, zeros at the end dropped.
    /// `None`: too large to write.
    #[must_use]
    pub fn from_value(value: &Exact, at_most: u32) -> Option<Self> {
        let decimals = i32::try_from(at_most).ok()?;
        let rounded = round_to_decimals(value, decimals, Rounding::HalfEven)?;
        Self::from_decimal(trimmed(rounded))
    }

    pub(super) fn from_decimal(decimal: Decimal) -> Option<Self> {
        Some(Self {
            value: decimal.value()?.into(),
            written: decimal.to_string().into(),
            decimals: Some(u32::try_from(decimal.decimals).unwrap_or(0)),
        })
    }

    #[must_use]
    pub fn value(&self) -> Exact {
        self.value.value()
    }

    /// The nearest binary float, for drawing only.
    #[must_use]
    pub fn to_f64(&self) -> f64 {
        to_f64(&self.value())
    }

    /// As the crew wrote it, spaces tidied.
    #[must_use]
    pub fn written(&self) -> &str {
        &self.written
    }

    /// Digits after the point; for a fraction, those that make it exact to three digits.
    #[must_use]
    pub fn decimals(&self) -> u32 {
        self.decimals.unwrap_or_else(|| u32::try_from((FRACTION_DIGITS - 1 - magnitude(&self.value())).max(1)).unwrap_or(1))
    }

    /// Digits that count: all but the zeros in front (`120` has three, `0.25` two).
    #[must_use]
    pub fn significant_digits(&self) -> u32 {
        let numeral = self.numeral().unwrap_or_default().to_integer();
        if numeral == 0 {
            return 1;
        }
        u32::try_from(numeral.to_string().len()).unwrap_or(u32::MAX)
    }

    #[must_use]
    pub fn is_fraction(&self) -> bool {
        self.decimals.is_none()
    }

    /// The digits read without their point, as a value: 75 for `7.5`. The relative rounding error
    /// of a number is half of one part in this.
    pub(super) fn numeral(&self) -> Option<Exact> {
        let power = Exact::from_integer(power_of_ten(self.decimals())?);
        let numeral = self.value().checked_mul(&power)?;
        Some(if numeral < Exact::from_integer(0) { -numeral } else { numeral })
    }

    pub(super) fn is_negative(&self) -> bool {
        self.written.starts_with('-')
    }

    pub(super) fn refused_as_negative(&self) -> NumberError {
        NumberError::Negative { written: self.written().to_owned(), better: self.written.trim_start_matches('-').to_owned() }
    }
}

impl fmt::Display for Number {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(&self.written)
    }
}

fn unsigned(digits: &str, written: &str) -> Result<(Exact, Option<u32>), NumberError> {
    if let Some((value, decimals)) = plain(digits) {
        return Ok((value, Some(decimals)));
    }
    if digits.contains('/') {
        return fraction(digits, written).map(|value| (value, None));
    }
    if let Some(error) = ambiguous(digits, written) {
        return Err(error);
    }
    let (whole, part) = digits.split_once('.').unwrap_or((digits, ""));
    if !digits.chars().all(|character| character.is_ascii_digit() || character == '.')
        || part.contains('.')
        || (whole.is_empty() && part.is_empty())
    {
        return Err(NumberError::NotANumber { written: written.to_owned() });
    }
    if whole.is_empty() || (part.is_empty() && digits.contains('.')) {
        let whole = if whole.is_empty() { "0" } else { whole };
        let point = if part.is_empty() { "" } else { "." };
        return Err(NumberError::BarePoint { written: written.to_owned(), better: format!("{whole}{point}{part}") });
    }
    let too_long = || NumberError::TooLong { written: written.to_owned() };
    if whole.len() > MOST_WHOLE_DIGITS || part.len() > MOST_DECIMALS {
        return Err(too_long());
    }
    let decimals = u32::try_from(part.len()).map_err(|_| too_long())?;
    let numeral: i128 = format!("{whole}{part}").parse().map_err(|_| too_long())?;
    let power = power_of_ten(decimals).ok_or_else(too_long)?;
    Ok((Exact::new(numeral, power), Some(decimals)))
}

/// The value of `7` or `1840.50` and its digits after the point: nearly all numbers are written so, and
/// about these there is nothing to ask. `None`: look closer.
fn plain(digits: &str) -> Option<(Exact, u32)> {
    let (whole, part) = match digits.split_once('.') {
        Some((_, "")) => return None,
        Some(parts) => parts,
        None => (digits, ""),
    };
    if whole.is_empty() || whole.len() > MOST_WHOLE_DIGITS || part.len() > MOST_DECIMALS {
        return None;
    }
    let numeral = whole.bytes().chain(part.bytes()).try_fold(0_u64, |sum, byte| {
        let digit = byte.is_ascii_digit().then(|| u64::from(byte - b'0'))?;
        sum.checked_mul(10)?.checked_add(digit)
    })?;
    let decimals = u32::try_from(part.len()).ok()?;
    Some((tenths(numeral, decimals), decimals))
}

/// So many tenths, hundredths, … in lowest terms. A power of ten has no factors but 2 and 5, so that no
/// greatest common divisor of large numbers need be looked for. At most [`MOST_DECIMALS`].
fn tenths(numeral: u64, decimals: u32) -> Exact {
    if numeral == 0 {
        return Exact::from_integer(0);
    }
    let shared = numeral.trailing_zeros().min(decimals);
    let (mut numeral, twos, mut fives) = (numeral >> shared, decimals - shared, decimals);
    while fives > 0 && numeral.is_multiple_of(5) {
        numeral /= 5;
        fives -= 1;
    }
    Exact::new_raw(i128::from(numeral), 5_i128.pow(fives) << twos)
}

/// `3/8` or `1 1/2`.
fn fraction(digits: &str, written: &str) -> Result<Exact, NumberError> {
    let refused = || NumberError::Fraction { written: written.to_owned() };
    let part = |text: &str| -> Result<i128, NumberError> {
        let plain = !text.is_empty() && text.len() <= MOST_FRACTION_DIGITS && text.chars().all(|character| character.is_ascii_digit());
        if plain { text.parse().map_err(|_| refused()) } else { Err(refused()) }
    };
    if let Some((whole, rest)) = digits.split_once('-')
        && rest.contains('/')
        && !whole.contains('/')
    {
        return Err(NumberError::MixedFraction { written: written.to_owned(), better: format!("{} {}", whole.trim(), rest.trim()) });
    }
    let (whole, fraction) = match digits.split_once(' ') {
        Some((whole, fraction)) => (part(whole)?, fraction),
        None => (0, digits),
    };
    let (above, below) = fraction.split_once('/').ok_or_else(refused)?;
    let (above, below) = (part(above)?, part(below)?);
    if below == 0 {
        return Err(NumberError::ZeroDenominator { written: written.to_owned() });
    }
    // Four digits each: nowhere near what can be held.
    Ok(Exact::new(whole * below + above, below))
}

/// Spellings that mean different numbers in different countries, or that deck talk never needs.
fn ambiguous(digits: &str, written: &str) -> Option<NumberError> {
    let written = written.to_owned();
    let lower = digits.to_ascii_lowercase();
    if let Some((mantissa, exponent)) = lower.split_once('e')
        && mantissa.starts_with(|first: char| first.is_ascii_digit())
        && exponent.ends_with(|last: char| last.is_ascii_digit())
    {
        let better = without_power(mantissa, exponent);
        return Some(NumberError::PowerOfTen { written, better });
    }
    if !digits.chars().all(|character| character.is_ascii_digit() || matches!(character, '.' | ',' | '\'' | '’' | ' ' | '_')) {
        return None;
    }
    let groups: Vec<&str> = digits.split([',', '\'', '’', ' ', '_', '.']).collect();
    if groups.len() < 2 || groups.iter().any(|group| group.is_empty()) {
        return None;
    }
    let separators: Vec<char> = digits.chars().filter(|character| !character.is_ascii_digit()).collect();
    let threes = |groups: &[&str]| groups.iter().skip(1).all(|group| group.len() == 3);
    let leading_zero = groups.first().is_some_and(|group| group.starts_with('0'));
    match separators.as_slice() {
        ['.'] => None,
        [','] if leading_zero || !threes(&groups) => Some(NumberError::DecimalComma { written, better: groups.join(".") }),
        // All of one kind and groups of three: thousands.
        [first, rest @ ..] if rest.iter().all(|next| next == first) && threes(&groups) => {
            Some(NumberError::Thousands { written, better: groups.concat() })
        }
        // The last one of another kind is the decimal sign: 1,200.5 or 1.200,5.
        [rest @ .., last @ ('.' | ',')] if !rest.contains(last) => {
            let (part, whole) = groups.split_last()?;
            threes(whole).then(|| NumberError::Thousands { written, better: format!("{}.{part}", whole.concat()) })
        }
        _ => None,
    }
}

/// `1e3` as `1000`, where that is short enough to be worth proposing.
fn without_power(mantissa: &str, exponent: &str) -> Option<String> {
    let mantissa = Number::parse(mantissa).ok()?.value();
    let exponent: i32 = exponent.parse().ok()?;
    let power = Exact::from_integer(power_of_ten(exponent.unsigned_abs())?);
    let power = if exponent < 0 { power.recip() } else { power };
    let value = mantissa.checked_mul(&power)?;
    let text = plain_decimal(&value, 9);
    (Number::parse(&text).ok()?.value() == value).then_some(text)
}

#[cfg(test)]
#[path = "number_tests.rs"]
mod tests;
