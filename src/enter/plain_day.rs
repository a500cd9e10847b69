//! Days as people say them: `today`, `14 Mar`, `14.3.`, `~May 2021`, in English and, in a German book,
//! in German.
//!
//! What is entered has happened: a day without a year is the last such day that is not after today,
//! and a day after today is refused.

use crate::book::date::{BookDate, DateError, Precision, parse_book_date};
use jiff::ToSpan;
use jiff::civil::{Date, Weekday};

/// Names of the months by their first letters, each with its number; German ones after the English.
const MONTHS: [(&str, i8); 12] = [
    ("january", 1),
    ("february", 2),
    ("march", 3),
    ("april", 4),
    ("may", 5),
    ("june", 6),
    ("july", 7),
    ("august", 8),
    ("september", 9),
    ("october", 10),
    ("november", 11),
    ("december", 12),
];
const MONATE: [(&str, i8); 15] = [
    ("januar", 1),
    ("jänner", 1),
    ("februar", 2),
    ("märz", 3),
    ("maerz", 3),
    ("mrz", 3),
    ("april", 4),
    ("mai", 5),
    ("juni", 6),
    ("juli", 7),
    ("august", 8),
    ("september", 9),
    ("oktober", 10),
    ("november", 11),
    ("dezember", 12),
];
const WEEKDAYS: [(&str, Weekday); 7] = [
    ("monday", Weekday::Monday),
    ("tuesday", Weekday::Tuesday),
    ("wednesday", Weekday::Wednesday),
    ("thursday", Weekday::Thursday),
    ("friday", Weekday::Friday),
    ("saturday", Weekday::Saturday),
    ("sunday", Weekday::Sunday),
];
const WOCHENTAGE: [(&str, Weekday); 8] = [
    ("montag", Weekday::Monday),
    ("dienstag", Weekday::Tuesday),
    ("mittwoch", Weekday::Wednesday),
    ("donnerstag", Weekday::Thursday),
    ("freitag", Weekday::Friday),
    ("samstag", Weekday::Saturday),
    ("sonnabend", Weekday::Saturday),
    ("sonntag", Weekday::Sunday),
];

const REMEDY: &str = "write `today`, `yesterday`, `14 Mar`, `14.3.`, `2026-03-14`, or `~2021-05` where only about then is known";
const GERMAN_REMEDY: &str = "write `heute`, `gestern`, `14. März`, `14.3.`, `2026-03-14`, or `~2021-05` where only about then is known";

const CHECK_THE_DAY: &str = "check the day; `--on` says which day counts as today";

/// Reads a day as people say it; `german`: German words too.
///
/// # Errors
/// No such day, or one after today.
pub fn plain_day(text: &str, today: Date, german: bool) -> Result<BookDate, DateError> {
    let remedy = if german { GERMAN_REMEDY } else { REMEDY };
    let text = text.trim();
    let (rest, about) = match text.strip_prefix('~') {
        Some(rest) => (rest.trim(), true),
        None => (text, false),
    };
    let refused = |message: String| DateError { message, remedy: remedy.to_owned() };
    let said = rest.to_lowercase();
    if said == "tomorrow" || (german && said == "morgen") {
        let message = format!("`{text}` has not come yet: an entry tells what was done");
        return Err(DateError { message, remedy: CHECK_THE_DAY.to_owned() });
    }
    let found = match by_words(&said, today, german) {
        Some(date) => BookDate { date, about, precision: Precision::Day },
        None if is_numbers(&said) => parse_book_date(text)?,
        None => match pieces(&said, german).ok_or_else(|| refused(not_a_day(text)))? {
            Pieces { day: Some(day), month, year } => {
                let date = match year {
                    Some(year) => Date::new(year, month, day).ok(),
                    None => last_such_day(month, day, today),
                };
                BookDate { date: date.ok_or_else(|| refused(format!("there is no day `{text}`")))?, about, precision: Precision::Day }
            }
            Pieces { day: None, month, year } => {
                if !about {
                    let remedy = format!("write the day too, or `~{text}` if only about then is known");
                    return Err(DateError { message: format!("`{text}` is a month, and a day is needed here"), remedy });
                }
                let date = match year {
                    Some(year) => Date::new(year, month, 1).ok(),
                    None => last_such_day(month, 1, today),
                };
                BookDate { date: date.ok_or_else(|| refused(format!("there is no month `{text}`")))?, about, precision: Precision::Month }
            }
        },
    };
    if found.date > today {
        let message = format!("`{text}` is after today, {today}, and an entry tells what was done");
        return Err(DateError { message, remedy: CHECK_THE_DAY.to_owned() });
    }
    if found.date.year() < 1800 {
        return Err(refused(format!("`{text}`: the year cannot be meant")));
    }
    Ok(found)
}

/// `2026-03-14`, `2021-05`, `2021`: the form of the format itself.
fn is_numbers(said: &str) -> bool {
    said.starts_with(|letter: char| letter.is_ascii_digit()) && (said.contains('-') || whole_year(said).is_some())
}

fn not_a_day(text: &str) -> String {
    if text.contains('/') {
        return format!("`{text}` may be one day or another: some write the month first, some the day");
    }
    format!("`{text}` is not a day")
}

/// Days counted from today, and days of the week: the last one before today.
fn by_words(said: &str, today: Date, german: bool) -> Option<Date> {
    let back = |days: i64| today.checked_sub(days.days()).ok();
    match said {
        "today" => return Some(today),
        "yesterday" => return back(1),
        "heute" if german => return Some(today),
        "gestern" if german => return back(1),
        "vorgestern" if german => return back(2),
        _ => {}
    }
    let english = WEEKDAYS.iter().find(|(name, _)| begins(name, said));
    let weekday = english.or_else(|| WOCHENTAGE.iter().find(|(name, _)| german && begins(name, said)));
    let (_, weekday) = weekday?;
    let days = i64::from(today.weekday().since(*weekday));
    back(if days == 0 { 7 } else { days })
}

/// A name, or its first letters, three at least.
fn begins(name: &str, said: &str) -> bool {
    let said = said.strip_suffix('.').unwrap_or(said);
    said.chars().count() >= 3 && name.starts_with(said)
}

struct Pieces {
    day: Option<i8>,
    month: i8,
    year: Option<i16>,
}

/// `14 mar`, `mar 14, 2026`, `14.3.2026`, `may 2021`.
fn pieces(said: &str, german: bool) -> Option<Pieces> {
    let numbered: Vec<&str> = said.strip_suffix('.').unwrap_or(said).split('.').map(str::trim).collect();
    if let [day, month] | [day, month, ""] = numbered.as_slice()
        && let (Some(day), Some(month)) = (small(day, 31), small(month, 12))
    {
        return Some(Pieces { day: Some(day), month, year: None });
    }
    if let [day, month, year] = numbered.as_slice()
        && let (Some(day), Some(month)) = (small(day, 31), small(month, 12))
    {
        return Some(Pieces { day: Some(day), month, year: Some(whole_year(year)?) });
    }
    let words: Vec<&str> = said.split([' ', ',']).filter(|word| !word.is_empty() && *word != "of").collect();
    let day = |word: &str| {
        let word = ["st", "nd", "rd", "th", "."].iter().find_map(|end| word.strip_suffix(end)).unwrap_or(word);
        small(word, 31)
    };
    match words.as_slice() {
        [first, second] => match (month(first, german), month(second, german)) {
            (None, Some(month)) => Some(Pieces { day: Some(day(first)?), month, year: None }),
            (Some(month), None) => match whole_year(second) {
                Some(year) => Some(Pieces { day: None, month, year: Some(year) }),
                None => Some(Pieces { day: Some(day(second)?), month, year: None }),
            },
            _ => None,
        },
        [first, second, year] => {
            let year = Some(whole_year(year)?);
            match (month(first, german), month(second, german)) {
                (None, Some(month)) => Some(Pieces { day: Some(day(first)?), month, year }),
                (Some(month), None) => Some(Pieces { day: Some(day(second)?), month, year }),
                _ => None,
            }
        }
        [only] => Some(Pieces { day: None, month: month(only, german)?, year: None }),
        _ => None,
    }
}

fn month(word: &str, german: bool) -> Option<i8> {
    let english = MONTHS.iter().find(|(name, _)| begins(name, word));
    english.or_else(|| MONATE.iter().find(|(name, _)| german && begins(name, word))).map(|(_, number)| *number)
}

/// A whole number from 1 to `most`, of one or two digits.
fn small(word: &str, most: i8) -> Option<i8> {
    let digits = (1..=2).contains(&word.len()) && word.bytes().all(|byte| byte.is_ascii_digit());
    word.parse().ok().filter(|number| digits && (1..=most).contains(number))
}

/// Four digits: with two, nobody can tell the century.
fn whole_year(word: &str) -> Option<i16> {
    let digits = word.len() == 4 && word.bytes().all(|byte| byte.is_ascii_digit());
    word.parse().ok().filter(|_| digits)
}

/// The last such day that is not after today; eight years always hold a 29 February.
fn last_such_day(month: i8, day: i8, today: Date) -> Option<Date> {
    (0..=8).filter_map(|back| Date::new(today.year().checked_sub(back)?, month, day).ok()).find(|date| *date <= today)
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[track_caller]
    fn case(text: &str, expected: &str) {
        // Wednesday 25 November 2026.
        let day = plain_day(text, date(2026, 11, 25), false).unwrap_or_else(|problem| panic!("{text}: {problem}"));
        assert_eq!(day.to_string(), expected, "for {text:?}");
    }

    #[track_caller]
    fn german(text: &str, expected: &str) {
        let day = plain_day(text, date(2026, 11, 25), true).unwrap_or_else(|problem| panic!("{text}: {problem}"));
        assert_eq!(day.to_string(), expected, "for {text:?}");
    }

    #[track_caller]
    fn refused(text: &str, message: &str) {
        let problem = plain_day(text, date(2026, 11, 25), false).expect_err(text);
        assert!(problem.message.contains(message), "{text}: {problem}");
        assert!(!problem.remedy.is_empty());
    }

    #[test]
    fn days_counted_from_today() {
        case("today", "2026-11-25");
        case(" Yesterday ", "2026-11-24");
        case("monday", "2026-11-23");
        case("Wed", "2026-11-18");
        case("thu", "2026-11-19");
        assert_eq!(date(2026, 11, 25).weekday(), Weekday::Wednesday);
    }

    #[test]
    fn days_in_every_usual_form() {
        case("2026-03-14", "2026-03-14");
        case("14 Mar", "2026-03-14");
        case("14 march 2025", "2025-03-14");
        case("Mar 14", "2026-03-14");
        case("March 14th, 2025", "2025-03-14");
        case("14.3.", "2026-03-14");
        case("14.3", "2026-03-14");
        case("14. 3. 2025", "2025-03-14");
        case("14.03.2025", "2025-03-14");
        case("25 Nov", "2026-11-25");
    }

    #[test]
    fn a_day_without_a_year_is_the_last_such_day() {
        case("26 Nov", "2025-11-26");
        case("31.12.", "2025-12-31");
        // 2024 was a leap year, 2025 and 2026 are none.
        case("29 Feb", "2024-02-29");
    }

    #[test]
    fn only_about_then() {
        case("~2021-05", "~2021-05");
        case("~2021", "~2021");
        case("~2021-05-09", "~2021-05-09");
        case("~May 2021", "~2021-05");
        case("~ 14 Mar", "~2026-03-14");
        case("~December", "~2025-12");
    }

    #[test]
    fn german_words_in_a_german_book() {
        german("heute", "2026-11-25");
        german("gestern", "2026-11-24");
        german("vorgestern", "2026-11-23");
        german("Montag", "2026-11-23");
        german("14. März", "2026-03-14");
        german("14. Mrz. 2025", "2025-03-14");
        german("3. Okt", "2026-10-03");
        german("~Mai 2021", "~2021-05");
        german("today", "2026-11-25");
        refused("heute", "is not a day");
    }

    #[test]
    fn what_is_no_day_that_has_been() {
        refused("2026-11-26", "after today");
        refused("26 Nov 2026", "after today");
        refused("~2027", "after today");
        refused("tomorrow", "`tomorrow` has not come yet: an entry tells what was done");
        refused("~Tomorrow", "has not come yet");
        // The German word only in a German book.
        refused("morgen", "is not a day");
        refused("14/3", "some write the month first");
        refused("14.3.26", "is not a day");
        refused("31 Apr", "there is no day");
        refused("2026-02-30", "28 days");
        refused("2021-05", "a day is needed");
        refused("May 2021", "a day is needed");
        refused("", "is not a day");
        refused("14", "is not a day");
        refused("14 14", "is not a day");
        refused("~", "is not a day");
    }
}
