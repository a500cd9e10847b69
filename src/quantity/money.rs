//! A sum of money: an exact decimal and a currency code.
//!
//! Codes look like those of ISO 4217, three capitals; which ones exist is not checked, so that the
//! program need not follow the world's currencies. Sums of different currencies do not mix.

use std::fmt;

use num_traits::{CheckedAdd, CheckedMul};

use super::Exact;
use super::decimal::{Rounding, round_to_decimals};
use super::number::Number;
use super::number_error::NumberError;
use super::pieces::split_number;
use super::stored::Stored;
use super::text::{quoted, tidy};

/// Most digits after the point that a currency has.
const MOST_DECIMALS: u32 = 3;

/// An amount in one currency, never below zero.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Money {
    amount: Stored,
    decimals: u32,
    code: [u8; 3],
}

/// Why a sum of money was refused.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum MoneyError {
    Number {
        error: NumberError,
        after: String,
    },
    /// No three capitals after the number; `better` is the sum as it should stand, if that is plain.
    NoCode {
        written: String,
        better: Option<String>,
    },
    TooFine {
        written: String,
    },
    /// Below zero.
    Negative {
        written: String,
    },
}

impl fmt::Display for MoneyError {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Number { error, .. } => error.fmt(formatter),
            Self::NoCode { written, .. } => {
                write!(formatter, "{} does not name its currency", quoted(written))
            }
            Self::Negative { written } => write!(formatter, "{} is below zero, which no sum is here", quoted(written)),
            Self::TooFine { written } => write!(formatter, "{} has more than three digits after its point", quoted(written)),
        }
    }
}

impl std::error::Error for MoneyError {}

impl MoneyError {
    /// How to mend it, as one sentence.
    #[must_use]
    pub fn remedy(&self) -> String {
        match self {
            Self::Number { error, after } => error.remedy_with(after),
            Self::NoCode { better: Some(better), .. } => format!("write {}", quoted(better)),
            Self::NoCode { better: None, .. } => "write the amount, then the three capitals of its currency: `18.50 EUR`".to_owned(),
            Self::Negative { .. } => "what came back is no cost: take it off the sum that was paid, or leave it out".to_owned(),
            Self::TooFine { .. } => "write at most three digits after the point".to_owned(),
        }
    }
}

impl Money {
    /// Reads `18.50 EUR`.
    ///
    /// # Errors
    /// A number that cannot be taken, a sum without its code, or more than three decimals.
    pub fn parse(text: &str) -> Result<Self, MoneyError> {
        let text = tidy(text);
        let (number, code) = split_number(&text);
        let no_code = |better: Option<String>| MoneyError::NoCode { written: text.to_string(), better };
        if number.is_empty() {
            return Err(code_first(&text).map_or_else(
                || match text.as_ref() {
                    "" => MoneyError::Number { error: NumberError::Missing, after: String::new() },
                    _ => no_code(None),
                },
                |better| no_code(Some(better)),
            ));
        }
        let after = || if code.is_empty() { String::new() } else { format!(" {code}") };
        let refused = |error| MoneyError::Number { error, after: after() };
        if number.contains('/') {
            return Err(refused(NumberError::NotANumber { written: number.to_owned() }));
        }
        let number = match Number::parse_signed(number) {
            Ok(number) if number.is_negative() => {
                return Err(MoneyError::Negative { written: text.into_owned() });
            }
            Ok(number) => number,
            Err(error) => return Err(refused(error)),
        };
        if !is_code(code) {
            let capitals = code.to_ascii_uppercase();
            return Err(no_code(is_code(&capitals).then(|| format!("{number} {capitals}"))));
        }
        if number.decimals() > MOST_DECIMALS {
            return Err(MoneyError::TooFine { written: text.into_owned() });
        }
        let code = code.as_bytes().try_into().map_err(|_| no_code(None))?;
        // One decimal is no price: 18.5 is 18.50, and the two are the same sum.
        let decimals = if number.decimals() == 1 { 2 } else { number.decimals() };
        Ok(Self { amount: number.value().into(), decimals, code })
    }

    /// The exact amount, in the currency's main unit.
    #[must_use]
    pub fn amount(&self) -> Exact {
        self.amount.value()
    }

    /// Three capitals.
    #[must_use]
    pub fn code(&self) -> &str {
        std::str::from_utf8(&self.code).unwrap_or_default()
    }

    /// Digits after the point with which it is shown.
    #[must_use]
    pub fn decimals(&self) -> u32 {
        self.decimals
    }

    /// The amount alone with so many digits after the point, for columns of sums.
    #[must_use]
    pub fn amount_with(&self, decimals: u32) -> String {
        let shown = i32::try_from(decimals).ok().and_then(|decimals| round_to_decimals(&self.amount(), decimals, Rounding::HalfEven));
        shown.map_or_else(|| self.amount().to_integer().to_string(), |amount| amount.to_string())
    }

    /// The sum of two amounts. `None`: two currencies, or too large to hold.
    #[must_use]
    pub fn checked_add(&self, other: &Self) -> Option<Self> {
        if self.code != other.code {
            return None;
        }
        let amount = self.amount().checked_add(&other.amount())?;
        Some(Self { amount: amount.into(), decimals: self.decimals.max(other.decimals), code: self.code })
    }

    /// So many times the amount, to the nearest of its smallest units (an exact half to the even
    /// one). `None`: below zero, or too large to hold.
    #[must_use]
    pub fn checked_mul(&self, times: &Exact) -> Option<Self> {
        if *times < Exact::from_integer(0) {
            return None;
        }
        let amount = self.amount().checked_mul(times)?;
        // `12 EUR` three and a half times over still has cents.
        let decimals = if amount.is_integer() { self.decimals } else { self.decimals.max(2) };
        let rounded = round_to_decimals(&amount, i32::try_from(decimals).ok()?, Rounding::HalfEven)?;
        Some(Self { amount: rounded.value()?.into(), decimals, code: self.code })
    }
}

impl fmt::Display for Money {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(formatter, "{} {}", self.amount_with(self.decimals()), self.code())
    }
}

fn is_code(text: &str) -> bool {
    text.len() == 3 && text.bytes().all(|byte| byte.is_ascii_uppercase())
}

/// `EUR 18.50` and `€18.50` turned round, where the sign has one meaning.
fn code_first(text: &str) -> Option<String> {
    let start = text.find(|character: char| character.is_ascii_digit())?;
    let (sign, number) = text.split_at(start);
    let number = Number::parse(number).ok()?;
    let code = match sign.trim() {
        "€" => "EUR".to_owned(),
        "£" => "GBP".to_owned(),
        other => other.to_ascii_uppercase(),
    };
    is_code(&code).then(|| format!("{number} {code}"))
}

#[cfg(test)]
mod tests {
    use super::{Exact, Money};

    #[track_caller]
    fn case(written: &str, shown: &str, amount: (i128, i128)) {
        let money = Money::parse(written).unwrap_or_else(|error| panic!("{written}: {error}"));
        assert_eq!(money.to_string(), shown, "for {written:?}");
        assert_eq!(money.amount(), Exact::new(amount.0, amount.1), "{written}");
    }

    #[track_caller]
    fn refused(written: &str, message: &str, remedy: &str) {
        let error = Money::parse(written).expect_err(written);
        assert_eq!(error.to_string(), message, "for {written:?}");
        assert_eq!(error.remedy(), remedy, "for {written:?}");
    }

    #[test]
    fn amounts() {
        case("18.50 EUR", "18.50 EUR", (37, 2));
        case("18.5 EUR", "18.50 EUR", (37, 2));
        case("240 EUR", "240 EUR", (240, 1));
        case("0.125 KWD", "0.125 KWD", (1, 8));
        case("1840\u{a0}JPY", "1840 JPY", (1840, 1));
    }

    #[test]
    fn what_is_shown_is_the_same_sum() {
        for written in ["18.5 EUR", "18.50 EUR", "581.0 EUR", "240 EUR", "240.000 EUR"] {
            let money = Money::parse(written).expect(written);
            assert_eq!(Money::parse(&money.to_string()), Ok(money), "{written}");
        }
        assert_eq!(Money::parse("18.5 EUR"), Money::parse("18.50 EUR"));
    }

    #[test]
    fn sums_and_products() {
        let money = |text| Money::parse(text).expect(text);
        let sum = money("240 EUR").checked_add(&money("18.50 EUR"));
        assert_eq!(sum.map(|sum| sum.to_string()).as_deref(), Some("258.50 EUR"));
        assert_eq!(money("240 EUR").checked_add(&money("240 USD")), None);
        let product = money("18.50 EUR").checked_mul(&Exact::from_integer(3));
        assert_eq!(product.map(|sum| sum.to_string()).as_deref(), Some("55.50 EUR"));
        let half = money("12 EUR").checked_mul(&Exact::new(1, 8));
        assert_eq!(half.map(|sum| sum.to_string()).as_deref(), Some("1.50 EUR"));
    }

    #[test]
    fn a_sum_names_its_currency() {
        let form = "write the amount, then the three capitals of its currency: `18.50 EUR`";
        refused("18.50", "`18.50` does not name its currency", form);
        refused("$5", "`$5` does not name its currency", form);
        refused("5 euros", "`5 euros` does not name its currency", form);
        refused("18.50 eur", "`18.50 eur` does not name its currency", "write `18.50 EUR`");
        refused("€18.50", "`€18.50` does not name its currency", "write `18.50 EUR`");
        refused("EUR 18.50", "`EUR 18.50` does not name its currency", "write `18.50 EUR`");
        refused("18,50 EUR", "`18,50` has a decimal comma", "write a point: `18.50 EUR`");
        refused(
            "-5 EUR",
            "`-5 EUR` is below zero, which no sum is here",
            "what came back is no cost: take it off the sum that was paid, or leave it out",
        );
        refused("1.2345 EUR", "`1.2345 EUR` has more than three digits after its point", "write at most three digits after the point");
    }
}
