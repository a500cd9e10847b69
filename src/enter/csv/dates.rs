//! Days of a spreadsheet: year first, day first or month first, as the crew says and never as guessed.

use super::CsvProblem;
use crate::book::date::{parse_book_date, parse_day};
use jiff::civil::Date;

/// What stands first in a day written with figures.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DateOrder {
    /// `2026-03-14`.
    Iso,
    /// `14.3.2026`.
    DayFirst,
    /// `3/14/2026`.
    MonthFirst,
}

/// How the days of a file are read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Dates {
    pub order: DateOrder,
    /// A year of two digits is the last such year whose day is not after this one.
    pub not_after: Date,
}

/// Days that need a word of the crew: the first of them, and the first that allows one order only.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Undecided {
    pub line: u64,
    pub written: String,
    /// A day that only one order allows, with its line; a hint, for another row may speak against it.
    pub telling: Option<(u64, String, DateOrder)>,
}

/// The order of these days where nobody need be asked: all of them begin with the year.
///
/// # Errors
/// Some do not.
pub fn dates_of<'t>(days: impl Iterator<Item = (u64, &'t str)> + Clone) -> Result<DateOrder, Undecided> {
    let other = |(_, written): &(u64, &str)| figures(written).is_some();
    let Some((line, written)) = days.clone().find(other) else { return Ok(DateOrder::Iso) };
    let telling =
        days.filter_map(|(line, written)| Some((line, written, figures(written)?))).find_map(|(line, written, (first, second, _))| {
            let order = match (first > 12, second > 12) {
                (true, false) => DateOrder::DayFirst,
                (false, true) => DateOrder::MonthFirst,
                _ => return None,
            };
            Some((line, written.to_owned(), order))
        });
    Err(Undecided { line, written: written.to_owned(), telling })
}

impl Dates {
    /// Reads a day into how the log writes it: `2026-03-14`, `~2021-05`.
    ///
    /// # Errors
    /// No day, or one that no calendar has.
    pub fn read(self, written: &str) -> Result<String, CsvProblem> {
        let text = without_midnight(written);
        if let Some((first, second, year)) = figures(text) {
            let (day, month) = match self.order {
                DateOrder::DayFirst => (first, second),
                DateOrder::MonthFirst => (second, first),
                DateOrder::Iso => {
                    return Err(CsvProblem::new(
                        format!("`{written}` does not begin with the year"),
                        "write `2026-03-14`, or say `--dates day-first` or `--dates month-first`",
                    ));
                }
            };
            return self.civil(day, month, year, written);
        }
        let read = if text.starts_with('~') { parse_book_date(text).map(|_| ()) } else { parse_day(&hyphened(text)).map(|_| ()) };
        match read {
            Ok(()) if text.starts_with('~') => Ok(text.to_owned()),
            Ok(()) => Ok(hyphened(text)),
            Err(problem) => Err(CsvProblem::new(problem.message, problem.remedy)),
        }
    }

    fn civil(self, day: u16, month: u16, year: Year, written: &str) -> Result<String, CsvProblem> {
        let full = match year {
            Year::Full(year) => year,
            Year::Short(year) => {
                let century = self.not_after.year() / 100 * 100;
                let this = format!("{:04}-{month:02}-{day:02}", century + year);
                // Where that day is none, the problem is told of it.
                if parse_day(&this).is_ok_and(|date| date > self.not_after) { century + year - 100 } else { century + year }
            }
        };
        let text = format!("{full:04}-{month:02}-{day:02}");
        match parse_day(&text) {
            Ok(_) => Ok(text),
            Err(problem) => {
                let how = match self.order {
                    DateOrder::DayFirst => "day first",
                    _ => "month first",
                };
                Err(CsvProblem::new(format!("`{written}`, read {how}, is no day: {}", problem.message), problem.remedy))
            }
        }
    }
}

#[derive(Debug, Clone, Copy)]
enum Year {
    Full(i16),
    Short(i16),
}

/// `14.3.2026`, `3/14/26`, `14-03-2026`: figures in an order that nobody can see.
fn figures(written: &str) -> Option<(u16, u16, Year)> {
    let text = without_midnight(written);
    let separator = text.chars().find(|letter| matches!(letter, '.' | '/' | '-'))?;
    let mut parts = text.split(separator).map(str::trim);
    let small = |part: &str| {
        let plain = (1..=2).contains(&part.len()) && part.bytes().all(|byte| byte.is_ascii_digit());
        plain.then(|| part.parse::<u16>().ok()).flatten()
    };
    let (first, second, last) = (small(parts.next()?)?, small(parts.next()?)?, parts.next()?);
    if parts.next().is_some() || !last.bytes().all(|byte| byte.is_ascii_digit()) {
        return None;
    }
    let year = last.parse().ok()?;
    match last.len() {
        4 => Some((first, second, Year::Full(year))),
        2 => Some((first, second, Year::Short(year))),
        _ => None,
    }
}

/// Spreadsheets add a time to days: that of midnight says nothing.
fn without_midnight(text: &str) -> &str {
    let text = text.trim();
    ["00:00:00.000", "00:00:00", "00:00", "0:00:00", "0:00"]
        .iter()
        .find_map(|midnight| text.strip_suffix(midnight)?.strip_suffix([' ', 'T']))
        .map_or(text, str::trim_end)
}

/// `2026/3/4` and `2026.03.04` begin with the year and cannot be mistaken.
fn hyphened(text: &str) -> String {
    let parts: Vec<&str> = text.split(['-', '/', '.']).collect();
    match parts.as_slice() {
        [year, month, day] if year.len() == 4 && month.len() <= 2 && day.len() <= 2 => format!("{year}-{month:0>2}-{day:0>2}"),
        _ => text.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[track_caller]
    fn case(order: DateOrder, written: &str, expected: &str) {
        let dates = Dates { order, not_after: date(2026, 6, 1) };
        assert_eq!(dates.read(written).map_err(|problem| problem.message).as_deref(), Ok(expected), "for {written:?}");
    }

    #[track_caller]
    fn refused(order: DateOrder, written: &str, said: &str) {
        let problem = Dates { order, not_after: date(2026, 6, 1) }.read(written).expect_err("refused");
        assert!(problem.message.contains(said), "{problem:?} for {written:?}");
    }

    #[test]
    fn days_are_read_in_the_order_that_was_said() {
        case(DateOrder::Iso, "2026-03-14", "2026-03-14");
        case(DateOrder::Iso, "2026-03-14 00:00:00", "2026-03-14");
        case(DateOrder::Iso, "2026/3/4", "2026-03-04");
        case(DateOrder::Iso, "~2021-05", "~2021-05");
        case(DateOrder::DayFirst, "3/4/2021", "2021-04-03");
        case(DateOrder::MonthFirst, "3/4/2021", "2021-03-04");
        case(DateOrder::DayFirst, "14. 3. 2021", "2021-03-14");
        case(DateOrder::DayFirst, "14-03-2021", "2021-03-14");
        case(DateOrder::DayFirst, "2021-03-14", "2021-03-14");
        // As of 2026-06-01 the last 1 June is that day itself, the last 2 June was in 1926.
        case(DateOrder::DayFirst, "1.6.26", "2026-06-01");
        case(DateOrder::DayFirst, "2.6.26", "1926-06-02");
        case(DateOrder::MonthFirst, "12/31/99", "1999-12-31");
        case(DateOrder::MonthFirst, "2/29/2024 0:00", "2024-02-29");
    }

    #[test]
    fn days_that_do_not_exist() {
        refused(DateOrder::DayFirst, "31.4.2021", "30 days");
        refused(DateOrder::MonthFirst, "14/3/2021", "no month 14");
        refused(DateOrder::MonthFirst, "2/29/2025", "28 days");
        refused(DateOrder::Iso, "2025-02-30", "28 days");
        refused(DateOrder::Iso, "3/4/2021", "begin with the year");
        refused(DateOrder::DayFirst, "last spring", "not a date");
        refused(DateOrder::DayFirst, "", "not a date");
        refused(DateOrder::DayFirst, "44270", "not a date");
        refused(DateOrder::DayFirst, "2026-03-14 09:30", "not a date");
        refused(DateOrder::DayFirst, "1.1.20211", "not a date");
        refused(DateOrder::DayFirst, "1.1.0021", "cannot be meant");
    }

    #[test]
    fn nothing_is_guessed() {
        let of = |days: &[&str]| dates_of((2..).zip(days.iter().copied()).collect::<Vec<_>>().into_iter());
        assert_eq!(of(&["2026-03-14", "2021-01-01 00:00", "", "rubbish"]), Ok(DateOrder::Iso));
        let undecided = of(&["2026-03-14", "3/4/2021", "5/14/2021"]).expect_err("asks");
        assert_eq!((undecided.line, undecided.written.as_str()), (3, "3/4/2021"));
        assert_eq!(undecided.telling, Some((4, "5/14/2021".to_owned(), DateOrder::MonthFirst)));
        assert_eq!(of(&["3/4/2021"]).expect_err("asks").telling, None);
    }
}
