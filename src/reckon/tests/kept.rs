//! The interval that was kept, beside the rule.

use crate::book::model::Book;
use crate::reckon::testing::{Writing, book, day, entry, gear, guide};
use crate::reckon::{Kept, reckon};

/// `5 times 365 days, engine 150 (of 4)`.
fn line(kept: Option<&Kept<'_>>) -> String {
    let Some(kept) = kept else {
        return "nothing".to_owned();
    };
    let meters: String = kept.meters.iter().map(|by| format!(", {} {} (of {})", by.meter.id.value, by.run, by.intervals)).collect();
    format!("{} times {} days{meters}", kept.intervals, kept.days)
}

#[track_caller]
fn case(book: &Book, expected: &[&str]) {
    let (reckoning, _) = reckon(book, day("2030-01-01"));
    let lines: Vec<String> = reckoning.jobs.iter().map(|job| line(job.kept.as_ref())).collect();
    assert_eq!(lines, expected);
}

fn done(book: Book, days: &[&str]) -> Book {
    days.iter().fold(book, |book, on| book.entry(entry(&format!("{on}-oil")).job("oil")))
}

#[test]
fn three_records_are_two_intervals() {
    let oil = || book().guide(guide("oil").every("calendar: 12 months"));
    case(&oil(), &["nothing"]);
    case(&done(oil(), &["2025-01-01", "2026-01-01"]), &["nothing"]);
    // 365 and 31 days: by type 7 the median of two is their mean, 198.
    case(&done(oil(), &["2025-01-01", "2026-01-01", "2026-02-01"]), &["2 times 198 days"]);
    // 365, 31, 28: the middle one.
    case(&done(oil(), &["2025-01-01", "2026-01-01", "2026-02-01", "2026-03-01"]), &["3 times 31 days"]);
}

#[test]
fn meters_are_taken_where_they_were_read_at_both_ends() {
    let oil = book().guide(guide("oil").every("engine: 150 h").every("calendar: 12 months"));
    let oil = oil.row("2025-01-01,engine,100").row("2025-04-11,engine,200").row("2025-07-20,engine,360");
    // 100 days each: 100 h by the readings, then 160 h; the last is beyond the readings.
    let days = ["2025-01-01", "2025-04-11", "2025-07-20", "2025-10-28"];
    case(&done(oil, &days), &["3 times 100 days, engine 130 (of 2)"]);
    let once = book().guide(guide("oil").every("engine: 150 h")).row("2025-01-01,engine,100").row("2025-04-11,engine,200");
    case(&done(once, &days), &["3 times 100 days"]);
}

#[test]
fn open_entries_two_on_a_day_and_days_only_known_about_are_no_ends() {
    let oil = || done(book().guide(guide("oil")), &["2025-01-01", "2025-01-11"]);
    case(&oil().entry(entry("2025-02-01-x open").job("oil")), &["nothing"]);
    case(&oil().entry(entry("2025-01-11-y").job("oil")), &["nothing"]);
    // Two stretches touch the day that is only known about, two do not: 10 and 30 days.
    let book = oil().entry(entry("2025-03-01-x on ~2025-03").job("oil"));
    let book = done(book, &["2025-06-01", "2025-07-01"]);
    case(&book, &["2 times 20 days"]);
}

#[test]
fn a_stretch_that_ends_with_new_gear_is_no_interval() {
    let raft = || book().gear(gear("raft")).guide(guide("oil").for_gear("raft"));
    let days = ["2020-01-01", "2020-01-11", "2020-01-21"];
    let book = done(raft(), &days).entry(entry("2025-01-01-new").job("oil").fits("raft", ""));
    case(&book, &["2 times 10 days"]);
}

#[test]
fn a_job_that_covers_another_counts_for_it() {
    let book = book().guide(guide("check")).guide(guide("oil").covers("check"));
    let book = done(book, &["2025-01-01", "2025-01-21"]).entry(entry("2025-01-11-check").job("check"));
    case(&book, &["2 times 10 days", "nothing"]);
}
