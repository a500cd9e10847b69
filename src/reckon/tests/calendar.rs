//! Calendar intervals: the clamp at the end of a month, and counting days.

use chrono::Months;
use jiff::civil::Date;
use proptest::prelude::*;

use crate::quantity::CalendarSpan;
use crate::reckon::days;
use crate::reckon::testing::day;

#[track_caller]
fn months(from: &str, months: i32, expected: &str) {
    let span = CalendarSpan::new(months.abs(), 0).expect("a span");
    let found = if months < 0 { days::earlier_by(day(from), &span) } else { days::later_by(day(from), &span) };
    assert_eq!(found, Some(day(expected)), "{from} {months:+} months");
}

#[test]
fn a_month_later_is_the_same_day_or_the_last_of_a_shorter_month() {
    // Results on which python-dateutil 4.0.0, chrono 0.4.45 and jiff 1.0.2 agree.
    months("2025-01-31", 1, "2025-02-28");
    months("2024-01-31", 1, "2024-02-29");
    months("2025-03-31", 1, "2025-04-30");
    months("2025-08-31", 6, "2026-02-28");
    months("2023-10-31", 4, "2024-02-29");
    months("2025-12-31", 2, "2026-02-28");
    months("2024-02-29", 12, "2025-02-28");
    months("2024-02-29", 48, "2028-02-29");
    months("2025-06-30", 1, "2025-07-30");
    months("2025-11-30", 3, "2026-02-28");
    months("2026-03-31", -1, "2026-02-28");
    months("2025-05-15", 18, "2026-11-15");
    months("2099-12-31", 2, "2100-02-28");
    months("2000-02-29", 1200, "2100-02-28");
    months("2026-05-30", -3, "2026-02-28");
}

#[track_caller]
fn between(from: &str, to: &str, expected: i64) {
    assert_eq!(days::between(day(from), day(to)), expected, "{from} to {to}");
    assert_eq!(days::between(day(to), day(from)), -expected);
    assert_eq!(days::later_by_days(day(from), expected), Some(day(to)));
}

#[test]
fn days_between_two_dates() {
    // Python's datetime.
    between("2025-01-31", "2025-03-01", 29);
    between("2024-01-31", "2024-03-01", 30);
    between("2024-02-28", "2025-02-28", 366);
    between("2023-12-31", "2024-12-31", 366);
    between("2025-04-06", "2025-10-12", 189);
    between("2025-12-31", "2026-01-01", 1);
}

#[test]
fn past_the_end_of_the_calendar_there_is_no_date() {
    let century = CalendarSpan::new(1200, 0).expect("a span");
    assert_eq!(days::later_by(Date::MAX, &century), None);
    assert_eq!(days::earlier_by(Date::MIN, &century), None);
    assert_eq!(days::later_by_days(day("2026-01-01"), i64::MAX), None);
    assert_eq!(days::later_by_days(day("2026-01-01"), i64::MIN), None);
}

fn chrono_date(date: Date) -> chrono::NaiveDate {
    let (year, month, day) = (date.year(), date.month(), date.day());
    chrono::NaiveDate::from_ymd_opt(year.into(), u32::try_from(month).expect("a month"), u32::try_from(day).expect("a day"))
        .expect("a date")
}

proptest! {
    /// chrono 0.4 adds months with the same clamp.
    #[test]
    fn months_and_days_are_those_of_chrono(offset in 0_i64..438_000, months in 0_i32..=1200, extra in 0_i32..=3000) {
        prop_assume!(months + extra > 0);
        let from = days::later_by_days(day("1800-01-01"), offset).expect("a date");
        let span = CalendarSpan::new(months, extra).expect("a span");
        let wanted = u32::try_from(months).expect("months");
        let theirs = chrono_date(from)
            .checked_add_months(Months::new(wanted))
            .and_then(|date| date.checked_add_days(chrono::Days::new(extra.unsigned_abs().into())))
            .expect("a date");
        let ours = days::later_by(from, &span).expect("a date");
        prop_assert_eq!(chrono_date(ours), theirs);
        prop_assert_eq!(days::between(from, ours), (theirs - chrono_date(from)).num_days());
        let back = chrono_date(from).checked_sub_months(Months::new(wanted)).expect("a date");
        let plain = days::earlier_by(from, &span).and_then(|date| days::later_by_days(date, extra.into()));
        prop_assert_eq!(plain.map(chrono_date), Some(back));
    }
}

/// Every day of two centuries, oldest first.
fn two_centuries() -> impl Iterator<Item = Date> {
    std::iter::successors(Some(day("1900-01-01")), |date| date.tomorrow().ok()).take_while(|date| date.year() <= 2100)
}

#[test]
fn two_centuries_have_their_days() {
    // 201 years of 365 days and 49 leap days (1900 and 2100 have none, 2000 has one).
    assert_eq!(two_centuries().count(), 201 * 365 + 49);
    for date in two_centuries() {
        let theirs = chrono_date(date);
        let epoch = chrono::NaiveDate::from_ymd_opt(1970, 1, 1).expect("a date");
        assert_eq!(days::number(date), (theirs - epoch).num_days(), "{date}");
        assert_eq!(days::date_of(days::number(date)), Some(date));
    }
}

#[test]
fn an_interval_from_a_later_day_never_ends_earlier() {
    // The clamp maps several days to one, and never turns two round; chrono 0.4 says which day.
    for months in [1, 2, 3, 6, 11, 12, 13, 24, 48, 120] {
        let span = CalendarSpan::new(months, 0).expect("a span");
        let mut before = None;
        for date in two_centuries() {
            let due = days::later_by(date, &span).expect("a date");
            assert_eq!(chrono_date(due), chrono_date(date) + Months::new(months.unsigned_abs()), "{date} + {months} months");
            assert!(before <= Some(due), "{date} + {months} months");
            before = Some(due);
            // There and back loses no more than the clamp took: nothing up to the 28th.
            let back = days::earlier_by(due, &span).expect("a date");
            assert!(back <= date && days::between(back, date) <= 3, "{date} + {months} months and back");
            assert!(back == date || date.day() > 28, "{date} + {months} months and back");
        }
    }
}

#[test]
fn days_there_and_back_are_the_same_day() {
    for count in [1, 7, 28, 30, 31, 365, 366, 1461, 36_525] {
        let span = CalendarSpan::new(0, count).expect("a span");
        for date in two_centuries() {
            let later = days::later_by(date, &span).expect("a date");
            assert_eq!(days::between(date, later), i64::from(count));
            assert_eq!(days::earlier_by(later, &span), Some(date));
        }
    }
}
