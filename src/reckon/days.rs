//! Counting on the calendar: days between two dates, and dates so many days or months away.
//!
//! A month later is the same day of the month, cut back to its last day where it has fewer; it is
//! always counted from the same anchor, never from a date that was cut back before.

use jiff::Span;
use jiff::civil::Date;

use crate::quantity::{CalendarSpan, Exact};

/// Days from 1970-01-01.
#[must_use]
pub fn number(date: Date) -> i64 {
    date.duration_since(jiff::civil::date(1970, 1, 1)).as_hours() / 24
}

/// Days from one date to another; below zero where the other is earlier.
#[must_use]
pub fn between(from: Date, to: Date) -> i64 {
    number(to) - number(from)
}

/// The date so many days later. `None`: no calendar goes that far.
pub(super) fn later_by_days(date: Date, days: i64) -> Option<Date> {
    date.checked_add(Span::new().try_days(days).ok()?).ok()
}

/// The date of so many days from 1970-01-01. `None`: no calendar goes that far.
#[must_use]
pub fn date_of(number: i64) -> Option<Date> {
    later_by_days(jiff::civil::date(1970, 1, 1), number)
}

/// Months of the mean length that those of the calendar have over its 400 years, in days.
#[must_use]
pub fn of_months(months: i32) -> Exact {
    Exact::new(146_097 * i128::from(months), 4800)
}

/// A calendar interval in days, its months of the mean length.
#[must_use]
pub fn of_span(span: &CalendarSpan) -> Exact {
    of_months(span.months()) + Exact::from_integer(span.days().into())
}

/// The date a calendar interval later: months first, then days.
pub(super) fn later_by(date: Date, span: &CalendarSpan) -> Option<Date> {
    later_by_days(moved_by_months(date, i64::from(span.months()))?, i64::from(span.days()))
}

/// The date a calendar interval earlier: months first, then days.
pub(super) fn earlier_by(date: Date, span: &CalendarSpan) -> Option<Date> {
    later_by_days(moved_by_months(date, -i64::from(span.months()))?, -i64::from(span.days()))
}

fn moved_by_months(date: Date, months: i64) -> Option<Date> {
    date.checked_add(Span::new().try_months(months).ok()?).ok()
}
