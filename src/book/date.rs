//! Days as the crew writes them: `2026-03-14`, `~2021-05`, and months that end on their last day.

use jiff::civil::Date;
use std::fmt;

/// How exactly a day is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Precision {
    Year,
    Month,
    Day,
}

/// A day of the log, perhaps only known about.
///
/// `~2021-05` stands for its first day: what is counted from it falls due rather early than late.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct BookDate {
    pub date: Date,
    pub about: bool,
    pub precision: Precision,
}

impl BookDate {
    /// A day that is known.
    #[must_use]
    pub fn on(date: Date) -> Self {
        Self { date, about: false, precision: Precision::Day }
    }

    /// As much of it as is known: `~2021-05` is `2021-05`.
    #[must_use]
    pub fn known(&self) -> String {
        let date = self.date;
        match self.precision {
            Precision::Day => date.to_string(),
            Precision::Month => format!("{:04}-{:02}", date.year(), date.month()),
            Precision::Year => format!("{:04}", date.year()),
        }
    }

    /// The last day that it can mean: `~2021-05` may be the end of May.
    #[must_use]
    pub fn last_day(&self) -> Date {
        match self.precision {
            Precision::Day => self.date,
            Precision::Month => self.date.last_of_month(),
            Precision::Year => self.date.last_of_year(),
        }
    }
}

/// As the book writes it: `2026-03-14`, `~2021-05`.
impl fmt::Display for BookDate {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.about {
            f.write_str("~")?;
        }
        f.write_str(&self.known())
    }
}

/// A month or a day by which something ends: `2029-05` is the last day of that month.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Month {
    /// The last day it is good.
    pub last_day: Date,
    /// Only the month was given.
    pub month_only: bool,
}

/// Why a date cannot be read; shown to the crew.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DateError {
    pub message: String,
    pub remedy: String,
}

impl fmt::Display for DateError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.message)
    }
}

fn error(message: String, remedy: &str) -> DateError {
    DateError { message, remedy: remedy.to_owned() }
}

const DAY_REMEDY: &str = "write year-month-day with four, two and two digits: `2026-03-14`";

/// Reads `2026-03-14`.
///
/// # Errors
/// Another shape, or a day that no calendar has.
pub fn parse_day(text: &str) -> Result<Date, DateError> {
    match pieces(text) {
        Some((year, Some(month), Some(day))) => civil(year, month, day, text),
        Some((_, Some(_), None)) => Err(error(format!("`{text}` is a month, and a day is needed here"), DAY_REMEDY)),
        _ => Err(error(format!("`{text}` is not a date"), DAY_REMEDY)),
    }
}

/// Reads a day of the log: `2026-03-14`, `~2026-03-14`, `~2021-05`, `~2021`.
///
/// # Errors
/// Another shape, an impossible day, or a month or year without the `~` that says "about".
pub fn parse_book_date(text: &str) -> Result<BookDate, DateError> {
    let Some(rest) = text.strip_prefix('~') else {
        return parse_day(text).map(BookDate::on).map_err(|mut problem| {
            if matches!(pieces(text), Some((_, _, None))) {
                problem.remedy = format!("write the day too, or `~{text}` if only about then is known");
            }
            problem
        });
    };
    let rest = rest.trim();
    let (year, month, day) = pieces(rest).ok_or_else(|| error(format!("`{text}` is not a date"), "write `~2021-05` for about May 2021"))?;
    let precision = match (month, day) {
        (_, Some(_)) => Precision::Day,
        (Some(_), None) => Precision::Month,
        (None, None) => Precision::Year,
    };
    let date = civil(year, month.unwrap_or(1), day.unwrap_or(1), text)?;
    Ok(BookDate { date, about: true, precision })
}

/// Reads an expiry or a limit: `2029-05` (the end of that month) or a day.
///
/// # Errors
/// Another shape, or a day that no calendar has.
pub fn parse_month(text: &str) -> Result<Month, DateError> {
    match pieces(text) {
        Some((year, Some(month), None)) => {
            let first = civil(year, month, 1, text)?;
            Ok(Month { last_day: first.last_of_month(), month_only: true })
        }
        Some((_, Some(_), Some(_))) => parse_day(text).map(|last_day| Month { last_day, month_only: false }),
        _ => Err(error(format!("`{text}` is not a month or a day"), "write `2029-05` for the end of that month, or `2029-05-14`")),
    }
}

/// Splits `YYYY[-MM[-DD]]`; `None` where the shape is another.
fn pieces(text: &str) -> Option<(i16, Option<i8>, Option<i8>)> {
    let mut parts = text.split('-');
    let year = digits(parts.next()?, 4)?;
    let month = match parts.next() {
        Some(part) => Some(i8::try_from(digits(part, 2)?).ok()?),
        None => None,
    };
    let day = match parts.next() {
        Some(part) => Some(i8::try_from(digits(part, 2)?).ok()?),
        None => None,
    };
    if parts.next().is_some() { None } else { Some((year, month, day)) }
}

fn digits(part: &str, count: usize) -> Option<i16> {
    if part.len() == count && part.bytes().all(|byte| byte.is_ascii_digit()) { part.parse().ok() } else { None }
}

fn civil(year: i16, month: i8, day: i8, text: &str) -> Result<Date, DateError> {
    if !(1..=12).contains(&month) {
        return Err(error(format!("`{text}`: there is no month {month:02}"), "months run from 01 to 12; write year-month-day"));
    }
    if !(1800..=2999).contains(&year) {
        return Err(error(format!("`{text}`: the year {year:04} cannot be meant"), "write the year with four digits, from 1800 to 2999"));
    }
    Date::new(year, month, day).map_err(|_| {
        let last = Date::new(year, month, 1).map_or(31, |first| first.days_in_month());
        error(format!("`{text}`: that month has {last} days"), "write a day that the calendar has")
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[track_caller]
    fn refused(text: &str, message: &str) {
        let problem = parse_day(text).expect_err("refused");
        assert!(problem.message.contains(message), "{problem}");
    }

    #[test]
    fn days_have_one_shape() {
        assert_eq!(parse_day("2026-03-14").ok(), Some(date(2026, 3, 14)));
        assert_eq!(parse_day("2024-02-29").ok(), Some(date(2024, 2, 29)));
        refused("2025-02-29", "28 days");
        refused("2025-13-01", "no month 13");
        refused("2025-00-10", "no month 00");
        refused("20250209", "not a date");
        refused("2025-2-9", "not a date");
        refused("2025-02-09T10:00", "not a date");
        refused("14.3.2026", "not a date");
        refused("2025-02", "a day is needed");
        refused("0026-02-01", "cannot be meant");
        refused("２０２５-02-01", "not a date");
    }

    #[test]
    fn about_dates_may_be_months_or_years() {
        let may = parse_book_date("~2021-05").expect("reads");
        assert_eq!((may.date, may.about, may.precision), (date(2021, 5, 1), true, Precision::Month));
        let year = parse_book_date("~1998").expect("reads");
        assert_eq!((year.date, year.precision), (date(1998, 1, 1), Precision::Year));
        let problem = parse_book_date("2021-05").expect_err("needs a day");
        assert!(problem.remedy.contains("~2021-05"));
    }

    #[test]
    fn a_day_is_written_as_it_was_read_and_known_without_its_tilde() {
        for (text, known) in [("2026-03-14", "2026-03-14"), ("~2026-03-14", "2026-03-14"), ("~2021-05", "2021-05"), ("~1998", "1998")] {
            let day = parse_book_date(text).expect("reads");
            assert_eq!((day.to_string().as_str(), day.known().as_str()), (text, known));
        }
    }

    #[test]
    fn an_expiry_month_is_good_to_its_last_day() {
        assert_eq!(parse_month("2029-05").map(|m| m.last_day).ok(), Some(date(2029, 5, 31)));
        assert_eq!(parse_month("2028-02").map(|m| m.last_day).ok(), Some(date(2028, 2, 29)));
        assert_eq!(parse_month("2029-05-14").map(|m| m.last_day).ok(), Some(date(2029, 5, 14)));
        assert!(parse_month("2029").is_err());
    }
}
