//! The date by the last 90 days, beside the one by the use rate.

use crate::book::model::Book;
use crate::reckon::reckon;
use crate::reckon::testing::{Writing, book, day, entry, guide};

/// On 16 May 2026 the engine has 1500 h. The year before it ran 1500 − 1067.5 = 432.5 h in 365 days,
/// in the last 90 days 270 h: 3 h a day (see `the_use_rate_is_that_of_the_year_before_the_last_reading`).
fn season() -> Book {
    book().row("2025-01-01,engine,1000").row("2026-02-05,engine,1200").row("2026-05-16,engine,1500")
}

/// The only job: the date by the rate that governs, then that by the last 90 days.
#[track_caller]
fn both(book: &Book, on: &str, due_on: Option<&str>, lately: Option<&str>) {
    let (reckoning, _) = reckon(book, day(on));
    let job = reckoning.jobs.first().expect("a job");
    let shown = [job.due_on, job.due_on_90()].map(|date| date.map(|date| date.to_string()));
    assert_eq!(shown, [due_on, lately].map(|date| date.map(str::to_owned)));
}

fn oil(book: Book, rules: &[&str]) -> Book {
    let guide = rules.iter().fold(guide("oil"), |guide, rule| guide.every(rule));
    book.guide(guide).entry(entry("2026-05-16-oil").job("oil"))
}

#[test]
fn a_forecast_has_a_second_date_where_it_is_another_one() {
    // 100 h at 432.5/365 = 1.185 h a day are 84.4 days; at 3 h a day 33.3.
    both(&oil(season(), &["engine: 100 h"]), "2026-05-16", Some("2026-08-09"), Some("2026-06-19"));
    // The same at 1 h a day all year.
    let steady = book().row("2025-05-16,engine,1000").row("2026-05-16,engine,1365");
    both(&oil(steady, &["engine: 100 h"]), "2026-05-16", Some("2026-08-24"), None);
}

#[test]
fn what_is_no_forecast_has_one_date() {
    // Read already.
    let passed = season().guide(guide("oil").every("engine: 100 h")).entry(entry("2026-02-05-oil").job("oil"));
    let (reckoning, _) = reckon(&passed, day("2026-05-16"));
    let job = reckoning.jobs.first().expect("a job");
    assert!(job.due_on.is_some() && job.due_on_90().is_none());
    both(&oil(season(), &["calendar: 6 months"]), "2026-05-16", Some("2026-11-16"), None);
    // 60 days of readings say nothing of 90.
    let young = book().row("2026-03-17,engine,0").row("2026-05-16,engine,60");
    both(&oil(young, &["engine: 100 h"]), "2026-05-16", Some("2026-08-24"), None);
    // Laid up for the last 90 days: 365 h in the year, nothing lately.
    let laid_up = book().row("2025-05-16,engine,0").row("2026-02-15,engine,365").row("2026-05-16,engine,365");
    both(&oil(laid_up, &["engine: 100 h"]), "2026-05-16", Some("2026-08-24"), None);
}

#[test]
fn the_earliest_rule_counts_by_either_rate() {
    // Two months are 16 July: by the year the calendar governs, by the last 90 days the engine.
    both(&oil(season(), &["engine: 100 h", "calendar: 2 months"]), "2026-05-16", Some("2026-07-16"), Some("2026-06-19"));
    // A month is 16 June: it comes first by both.
    both(&oil(season(), &["engine: 100 h", "calendar: 1 month"]), "2026-05-16", Some("2026-06-16"), None);
}
