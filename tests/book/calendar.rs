//! Days as the crew writes them, through two centuries, against `chrono`.

use chrono::{Datelike, NaiveDate};
use garboard::book::date::{parse_book_date, parse_day, parse_month};
use garboard::enter::plain_day;
use jiff::civil::Date;

/// Every year, month and day from 1900-01-00 to 2100-13-32, whether there is such a day or not.
fn spellings() -> impl Iterator<Item = (i32, u32, u32)> {
    (1900..=2100).flat_map(|year| (0..=13).flat_map(move |month| (0..=32).map(move |day| (year, month, day))))
}

fn theirs(date: Date) -> NaiveDate {
    let part = |number: i8| u32::try_from(number).expect("not below zero");
    NaiveDate::from_ymd_opt(date.year().into(), part(date.month()), part(date.day())).expect("a date")
}

fn ours(date: NaiveDate) -> Date {
    parse_day(&date.format("%Y-%m-%d").to_string()).expect("a date")
}

#[test]
fn a_day_is_read_where_the_calendar_has_it_and_refused_with_a_remedy_elsewhere() {
    for (year, month, day) in spellings() {
        let text = format!("{year:04}-{month:02}-{day:02}");
        match (parse_day(&text), NaiveDate::from_ymd_opt(year, month, day)) {
            (Ok(read), Some(expected)) => assert_eq!(theirs(read), expected),
            (Err(error), None) => assert!(error.message.contains(&text) && !error.remedy.is_empty(), "{error:?}"),
            (read, expected) => panic!("{text}: {read:?}, and chrono says {expected:?}"),
        }
    }
}

#[test]
fn a_month_ends_on_its_last_day() {
    for (year, month) in (1900..=2100).flat_map(|year| (1..=12).map(move |month| (year, month))) {
        let next = if month == 12 { NaiveDate::from_ymd_opt(year + 1, 1, 1) } else { NaiveDate::from_ymd_opt(year, month + 1, 1) };
        let last = next.and_then(|next| next.pred_opt()).expect("a date");
        assert_eq!(parse_month(&format!("{year}-{month:02}")).map(|month| theirs(month.last_day)), Ok(last));
    }
}

#[test]
fn a_day_is_written_as_it_was_read() {
    for text in ["1900-02-28", "2000-02-29", "~2024-02-29", "~2021-05", "~1999"] {
        assert_eq!(parse_book_date(text).map(|day| day.to_string()), Ok(text.to_owned()));
    }
}

/// The last such day that is not after today, sought day by day.
fn last(today: NaiveDate, is: impl Fn(NaiveDate) -> bool) -> NaiveDate {
    std::iter::successors(Some(today), |date| date.pred_opt()).find(|date| is(*date)).expect("a date")
}

#[test]
fn the_29th_of_february_without_a_year_is_the_last_there_was() {
    let mut today = NaiveDate::from_ymd_opt(1904, 2, 29).expect("a date");
    while today.year() <= 2100 {
        let expected = last(today, |date| (date.month(), date.day()) == (2, 29));
        for text in ["29.2.", "29 Feb", "Feb 29"] {
            assert_eq!(plain_day(text, ours(today), false).map(|day| theirs(day.date)), Ok(expected), "{text} on {today}");
        }
        today = today + chrono::Days::new(59);
    }
}

#[test]
fn a_weekday_is_the_last_one_before_today() {
    let names = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"];
    let mut today = NaiveDate::from_ymd_opt(1900, 1, 8).expect("a date");
    while today.year() <= 2100 {
        for (number, name) in (0..).zip(names) {
            let expected = last(today.pred_opt().expect("a date"), |date| date.weekday().num_days_from_monday() == number);
            assert_eq!(plain_day(name, ours(today), false).map(|day| theirs(day.date)), Ok(expected), "{name} on {today}");
        }
        today = today + chrono::Days::new(11);
    }
}
