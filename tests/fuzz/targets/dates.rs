//! Days: those that are read are days of the calendar, and are written as they were read.

use garboard::book::date::{parse_book_date, parse_day, parse_month};
use garboard::enter::csv::{DateOrder, Dates};
use garboard::enter::plain_day;
use jiff::civil::{Date, date};

const TODAY: Date = date(2026, 11, 24);

pub fn check(bytes: &[u8]) {
    let Some(text) = super::text(bytes) else { return };
    if let Ok(day) = parse_day(text) {
        assert_eq!(day.to_string(), text);
    }
    if let Ok(day) = parse_book_date(text) {
        assert_eq!(parse_book_date(&day.to_string()), Ok(day));
    }
    if let Ok(month) = parse_month(text) {
        assert!(!month.month_only || month.last_day == month.last_day.last_of_month());
    }
    for german in [false, true] {
        match plain_day(text, TODAY, german) {
            Ok(day) => {
                assert!(day.date <= TODAY && day.date.year() >= 1800, "{day:?}");
                assert_eq!(parse_book_date(&day.to_string()), Ok(day));
            }
            Err(error) => assert!(!error.message.is_empty() && !error.remedy.is_empty()),
        }
    }
    for order in [DateOrder::Iso, DateOrder::DayFirst, DateOrder::MonthFirst] {
        if let Ok(written) = (Dates { order, not_after: TODAY }).read(text) {
            assert!(parse_book_date(&written).is_ok(), "`{text}` became `{written}`");
        }
    }
}
