//! A stretch of the calendar: `12 months`, `6 weeks`, `1 year 6 months`.
//!
//! Months and days are kept apart, because a month has no fixed number of days. What date a span
//! leads to is decided elsewhere; this only says how many of each.

use std::fmt;
use std::hash::{Hash, Hasher};

use num_traits::CheckedMul;

use super::Exact;
use super::dimension::Dimension;
use super::measure_error::QuantityError;
use super::number::Number;
use super::number_error::NumberError;
use super::pieces::{hyphen_range, number_and_unit_pairs, split_number};
use super::spelling::UnitError;
use super::text::{quoted, tidy};
use super::unit::Unit;

/// Longest span taken: a hundred years, in months and in days.
const MOST_MONTHS: i32 = 1_200;
const MOST_DAYS: i32 = 36_525;

/// So many months and then so many days; never nothing, never below zero. It remembers how they were written: 2 years
/// are the same as 24 months, and are said as they stand in the book.
#[derive(Clone, Copy, Debug)]
pub struct CalendarSpan {
    years: i32,
    /// Besides the years.
    months: i32,
    weeks: i32,
    /// Besides the weeks.
    days: i32,
}

impl PartialEq for CalendarSpan {
    fn eq(&self, other: &Self) -> bool {
        (self.months(), self.days()) == (other.months(), other.days())
    }
}

impl Eq for CalendarSpan {}

impl Hash for CalendarSpan {
    fn hash<H: Hasher>(&self, state: &mut H) {
        (self.months(), self.days()).hash(state);
    }
}

/// Why a span was refused.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum CalendarSpanError {
    /// One of its numbers or units is wrong.
    Quantity(QuantityError),
    /// Hours, litres: not a stretch of the calendar.
    NotCalendar {
        written: String,
    },
    /// Half a day, a third of a month.
    Fraction {
        written: String,
    },
    /// The larger unit does not come first, or one comes twice.
    Order {
        written: String,
    },
    Nothing {
        written: String,
    },
    TooLong {
        written: String,
    },
}

impl fmt::Display for CalendarSpanError {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Quantity(error) => error.fmt(formatter),
            Self::NotCalendar { written } => {
                write!(formatter, "{} is not a calendar interval", quoted(written))
            }
            Self::Fraction { written } => write!(formatter, "{} is not a whole number of months or days", quoted(written)),
            Self::Order { written } => {
                write!(formatter, "{} has its units out of order", quoted(written))
            }
            Self::Nothing { written } => {
                write!(formatter, "{} is no time at all", quoted(written))
            }
            Self::TooLong { written } => {
                write!(formatter, "{} is longer than a hundred years", quoted(written))
            }
        }
    }
}

impl std::error::Error for CalendarSpanError {}

impl From<QuantityError> for CalendarSpanError {
    fn from(error: QuantityError) -> Self {
        Self::Quantity(error)
    }
}

impl CalendarSpanError {
    /// How to mend it, as one sentence.
    #[must_use]
    pub fn remedy(&self) -> String {
        match self {
            Self::Quantity(QuantityError::MissingUnit { .. }) | Self::NotCalendar { .. } => {
                "a calendar interval is in days, weeks, months or years, such as `12 months`".to_owned()
            }
            Self::Quantity(error) => error.remedy(),
            Self::Fraction { .. } => "write whole months or days, such as `18 months` or `45 days`".to_owned(),
            Self::Order { .. } => "write each unit once, the largest first: `1 year 6 months`".to_owned(),
            Self::Nothing { .. } => "write at least `1 day`".to_owned(),
            Self::TooLong { .. } => "check the number and its unit".to_owned(),
        }
    }
}

impl CalendarSpan {
    /// `None` for nothing, for less than nothing and for more than a hundred years.
    #[must_use]
    pub fn new(months: i32, days: i32) -> Option<Self> {
        Self::of([0, months, 0, days])
    }

    /// Of years, months, weeks and days.
    fn of([years, months, weeks, days]: [i32; 4]) -> Option<Self> {
        let whole = |large: i32, size: i32, small: i32, most: i32| {
            large.checked_mul(size)?.checked_add(small).filter(|sum| large >= 0 && small >= 0 && *sum <= most)
        };
        let sums = whole(years, 12, months, MOST_MONTHS).zip(whole(weeks, 7, days, MOST_DAYS));
        sums.filter(|sums| *sums != (0, 0)).map(|_| Self { years, months, weeks, days })
    }

    /// Reads `12 months`, `2 years`, `6 weeks`, `1 year 6 months`.
    ///
    /// # Errors
    /// Hours and other units, parts of a month or a day, nothing at all, and more than a hundred
    /// years.
    pub fn parse(text: &str) -> Result<Self, CalendarSpanError> {
        let text = tidy(text);
        let written = || text.to_string();
        let pairs = number_and_unit_pairs(&text);
        if pairs.is_empty() {
            return Err(QuantityError::Number { error: NumberError::Missing, after: String::new() }.into());
        }
        if let Some(better) = text.strip_prefix('~') {
            return Err(QuantityError::About { written: written(), better: better.trim().to_owned() }.into());
        }
        if text.contains("..") || text.contains('±') || dashed(&text) {
            return Err(QuantityError::NotOneValue { written: written() }.into());
        }
        let mut counts = [0_i32; 4];
        let mut last = None;
        for (number, unit) in pairs {
            let (number, unit) = read_pair(number, unit, &text)?;
            let (is_month, size) = match unit {
                Unit::Year => (true, 12),
                Unit::Month => (true, 1),
                Unit::Week => (false, 7),
                Unit::Day => (false, 1),
                _ => return Err(CalendarSpanError::NotCalendar { written: written() }),
            };
            if last.is_some_and(|last| (is_month, size) >= last) {
                return Err(CalendarSpanError::Order { written: written() });
            }
            last = Some((is_month, size));
            // One and a half years are said in months, as half a year is no whole number of years.
            let (at, size) = match (unit, number.value().is_integer()) {
                (Unit::Year, true) => (0, 1),
                (Unit::Year | Unit::Month, _) => (1, size),
                (Unit::Week, true) => (2, 1),
                (_, _) => (3, size),
            };
            let count = whole(&number, size, &text)?;
            if let Some(sum) = counts.get_mut(at) {
                *sum = sum.checked_add(count).ok_or_else(|| CalendarSpanError::TooLong { written: written() })?;
            }
        }
        if counts == [0; 4] {
            return Err(CalendarSpanError::Nothing { written: written() });
        }
        Self::of(counts).ok_or_else(|| CalendarSpanError::TooLong { written: written() })
    }

    /// How many of each unit, as they were written: years, months, weeks, days.
    #[must_use]
    pub fn written(self) -> [i32; 4] {
        [self.years, self.months, self.weeks, self.days]
    }

    /// All months, those of the years too.
    #[must_use]
    pub fn months(self) -> i32 {
        self.years * 12 + self.months
    }

    /// All days, those of the weeks too.
    #[must_use]
    pub fn days(self) -> i32 {
        self.weeks * 7 + self.days
    }
}

impl fmt::Display for CalendarSpan {
    /// As written: `24 months`, `2 years`, `1 year 6 months`, `6 weeks`.
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        let units = [Unit::Year, Unit::Month, Unit::Week, Unit::Day];
        let shown: Vec<String> = (self.written().into_iter().zip(units))
            .filter(|(count, _)| *count > 0)
            .map(|(count, unit)| match count {
                1 => format!("1 {}", unit.symbol_after_one()),
                count => format!("{count} {}", unit.symbol()),
            })
            .collect();
        formatter.write_str(&shown.join(" "))
    }
}

/// `6-12 months`.
fn dashed(text: &str) -> bool {
    let (number, rest) = split_number(text);
    hyphen_range(number, rest).is_some()
}

fn read_pair(number: &str, unit: &str, text: &str) -> Result<(Number, Unit), QuantityError> {
    let number_error = |error| QuantityError::Number { error, after: if unit.is_empty() { String::new() } else { format!(" {unit}") } };
    if number.is_empty() {
        return Err(number_error(NumberError::NotANumber { written: text.to_owned() }));
    }
    let number = Number::parse(number).map_err(number_error)?;
    let unit = Unit::parse(unit).map_err(|error| match error {
        UnitError::Missing => QuantityError::MissingUnit { written: number.written().to_owned(), wanted: Some(Dimension::Time) },
        error => QuantityError::Unit { error, number: number.written().to_owned(), wanted: Some(Dimension::Time) },
    })?;
    Ok((number, unit))
}

fn whole(number: &Number, size: i128, text: &str) -> Result<i32, CalendarSpanError> {
    let too_long = || CalendarSpanError::TooLong { written: text.to_owned() };
    let count = number.value().checked_mul(&Exact::from_integer(size)).ok_or_else(too_long)?;
    if !count.is_integer() {
        return Err(CalendarSpanError::Fraction { written: text.to_owned() });
    }
    i32::try_from(count.to_integer()).map_err(|_| too_long())
}

#[cfg(test)]
mod tests {
    use super::CalendarSpan;

    #[track_caller]
    fn case(written: &str, months: i32, days: i32, shown: &str) {
        let span = CalendarSpan::parse(written).unwrap_or_else(|error| panic!("{written}: {error}"));
        assert_eq!((span.months(), span.days()), (months, days), "{written}");
        assert_eq!(span.to_string(), shown, "for {written:?}");
        assert_eq!(CalendarSpan::parse(shown), Ok(span), "for {written:?}");
    }

    #[track_caller]
    fn refused(written: &str, message: &str, remedy: &str) {
        let error = CalendarSpan::parse(written).expect_err(written);
        assert_eq!(error.to_string(), message, "for {written:?}");
        assert_eq!(error.remedy(), remedy, "for {written:?}");
    }

    #[test]
    fn stretches_of_the_calendar() {
        case("12 months", 12, 0, "12 months");
        case("24 months", 24, 0, "24 months");
        case("14 days", 0, 14, "14 days");
        case("1 year 6 months 1 week 3 days", 18, 10, "1 year 6 months 1 week 3 days");
        case("1 month", 1, 0, "1 month");
        case("2 years", 24, 0, "2 years");
        case("1 year", 12, 0, "1 year");
        case("6 weeks", 0, 42, "6 weeks");
        case("10 days", 0, 10, "10 days");
        case("1 day", 0, 1, "1 day");
        case("1 year 6 months", 18, 0, "1 year 6 months");
        case("1.5 years", 18, 0, "18 months");
        case("3 months 2 weeks", 3, 14, "3 months 2 weeks");
    }

    #[test]
    fn spans_of_one_length_are_equal_however_they_are_written() {
        assert_eq!(CalendarSpan::parse("2 years"), CalendarSpan::parse("24 months"));
        assert_eq!(CalendarSpan::parse("1 week 1 day"), CalendarSpan::parse("8 days"));
        assert_ne!(CalendarSpan::parse("1 month"), CalendarSpan::parse("30 days"));
    }

    #[test]
    fn what_is_not_a_stretch_of_the_calendar() {
        let units = "a calendar interval is in days, weeks, months or years, such as `12 months`";
        refused("200 h", "`200 h` is not a calendar interval", units);
        refused("5 L", "`5 L` is not a calendar interval", units);
        refused("~12 months", "`~12 months` is only approximate", "write `12 months`: no `~` can stand here");
        refused("12", "`12` has no unit", units);
        refused("6-12 months", "`6-12 months` is not one single value", "write one number with its unit");
        refused("1 year, 6 months", "`,` cannot stand after a unit", "write `1 year`");
        refused(
            "1.5 months",
            "`1.5 months` is not a whole number of months or days",
            "write whole months or days, such as `18 months` or `45 days`",
        );
        refused(
            "6 months 1 year",
            "`6 months 1 year` has its units out of order",
            "write each unit once, the largest first: `1 year 6 months`",
        );
        refused("0 days", "`0 days` is no time at all", "write at least `1 day`");
        refused("101 years", "`101 years` is longer than a hundred years", "check the number and its unit");
        refused("12 mths", "`mths` is written `months` here", "write `12 months`");
    }
}
