//! Intervals kept against intervals set. Lengths of months and years are counted by hand on the
//! Gregorian calendar: 2024 is a leap year.

use crate::book::model::Book;
use crate::quantity::plain_decimal;
use crate::reckon::testing::{Writing, book, day, entry, gear, guide};
use crate::reckon::{RuleSpans, reckon};

/// `engine: 50+ 60 of 2, largest 60, middle 55, unread 1`; a `+` stands behind what is within the rule.
fn line(rule: &RuleSpans<'_>) -> String {
    let by = rule.meter.map_or("calendar", |meter| meter.id.value.as_str());
    let each: Vec<String> =
        rule.spans.iter().map(|span| format!("{}{}", plain_decimal(&span.length, 1), if span.within { "+" } else { "" })).collect();
    let said = |value| plain_decimal(&value, 1);
    let sums = rule
        .largest()
        .map(|span| span.length)
        .zip(rule.median())
        .map(|(largest, median)| format!(", largest {}, middle {}", said(largest), said(median)));
    let unread = if rule.unread > 0 { format!(", unread {}", rule.unread) } else { String::new() };
    format!("{by}: {} | {} within{}{unread}", each.join(" "), rule.within, sums.unwrap_or_default())
}

#[track_caller]
fn case(book: &Book, expected: &[&str]) {
    let (reckoning, _) = reckon(book, day("2030-01-01"));
    let lines: Vec<String> = reckoning.jobs.iter().flat_map(|job| reckoning.spans(job)).map(|rule| line(&rule)).collect();
    assert_eq!(lines, expected);
}

fn done(book: Book, job: &str, days: &[&str]) -> Book {
    days.iter().fold(book, |book, on| book.entry(entry(&format!("{on}-{}", job.replace('/', "-"))).job(job)))
}

#[test]
fn a_calendar_interval_ends_with_the_same_day_of_the_month() {
    let yearly = || book().guide(guide("oil").every("calendar: 12 months"));
    // To the day is within, a day later is not: 365 days, 366, and 366 over the leap day of 2024.
    case(&done(yearly(), "oil", &["2021-03-14", "2022-03-14"]), &["calendar: 365+ | 1 within, largest 365, middle 365"]);
    case(&done(yearly(), "oil", &["2021-03-14", "2022-03-15"]), &["calendar: 366 | 0 within, largest 366, middle 366"]);
    case(&done(yearly(), "oil", &["2023-06-01", "2024-06-01"]), &["calendar: 366+ | 1 within, largest 366, middle 366"]);
    // From the end of a month, cut back: 31 January and one month is 28 February.
    let monthly = || book().guide(guide("oil").every("calendar: 1 month"));
    case(&done(monthly(), "oil", &["2023-01-31", "2023-02-28", "2023-03-29"]), &["calendar: 28+ 29 | 1 within, largest 29, middle 28.5"]);
}

#[test]
fn what_a_rule_allows_is_counted_as_its_spans_are() {
    let book = book().guide(guide("oil").every("engine: 150 h").every("calendar: 12 months"));
    let (reckoning, _) = reckon(&book, day("2030-01-01"));
    let allowed: Vec<String> =
        reckoning.jobs.iter().flat_map(|job| reckoning.spans(job)).map(|rule| plain_decimal(&rule.allowed, 4)).collect();
    // A year of the Gregorian calendar has 365.2425 days in the mean.
    assert_eq!(allowed, ["150", "365.2425"]);
}

#[test]
fn each_rule_is_held_against_every_span() {
    let oil = book().guide(guide("oil").every("engine: 150 h").every("calendar: 12 months"));
    let oil = oil.row("2020-01-01,engine,100").row("2020-10-01,engine,250").row("2022-01-01,engine,350.5").row("2022-07-01,engine,501");
    // By the rows 150, 100.5 and 150.5 h. 2020-01-01 to 10-01 is 366 - 92 = 274 days; on to 2022-01-01
    // 92 + 365 = 457; on to 07-01 181.
    case(
        &done(oil, "oil", &["2020-01-01", "2020-10-01", "2022-01-01", "2022-07-01"]),
        &["engine: 150+ 100.5+ 150.5 | 2 within, largest 150.5, middle 150", "calendar: 274+ 457 181+ | 2 within, largest 457, middle 274"],
    );
}

#[test]
fn a_span_without_readings_at_both_ends_is_not_judged_by_the_meter() {
    let oil = book().guide(guide("oil").every("engine: 150 h")).row("2020-01-01,engine,100").row("2020-04-10,engine,200");
    case(&done(oil, "oil", &["2020-01-01", "2020-04-10", "2021-04-10"]), &["engine: 100+ | 1 within, largest 100, middle 100, unread 1"]);
    // A day between two readings lies on the line between them: half of 100 days, half of 100 h.
    let oil = book().guide(guide("oil").every("engine: 49 h")).row("2020-01-01,engine,100").row("2020-04-10,engine,200");
    case(&done(oil, "oil", &["2020-01-01", "2020-02-20"]), &["engine: 50 | 0 within, largest 50, middle 50"]);
}

#[test]
fn a_replaced_counter_does_not_shorten_a_span() {
    // 100 h, then 40 h on the old counter and 60 h on the new one.
    let oil = book().guide(guide("oil").every("engine: 100 h"));
    let oil = oil.row("2020-01-01,engine,1000").row("2020-03-01,engine,1040,0").row("2020-06-01,engine,60");
    case(&done(oil, "oil", &["2020-01-01", "2020-06-01"]), &["engine: 100+ | 1 within, largest 100, middle 100"]);
}

#[test]
fn gear_is_judged_piece_by_piece_by_its_own_meter_and_begins_anew_when_renewed() {
    let pumps = book()
        .gear(gear("port").with_meter("engine"))
        .gear(gear("starboard").with_meter("miles"))
        .guide(guide("oil").for_gear("port").for_gear("starboard").every("own: 50 h"))
        .row("2020-01-01,engine,0")
        .row("2020-02-01,engine,50")
        .row("2020-03-01,engine,101");
    // Hours cannot be counted by a log of miles: that rule is left out.
    let pumps = done(pumps, "oil/port", &["2020-01-01", "2020-02-01", "2020-03-01"]);
    case(&pumps, &["engine: 50+ 51 | 1 within, largest 51, middle 50.5"]);
    let raft = book().gear(gear("raft")).guide(guide("oil").for_gear("raft").every("calendar: 12 months"));
    let raft = done(raft, "oil", &["2020-01-01", "2020-07-01"]).entry(entry("2025-01-01-new").job("oil").fits("raft", ""));
    // January to June of a leap year: 182 days.
    case(&raft, &["calendar: 182+ | 1 within, largest 182, middle 182"]);
}

#[test]
fn open_entries_and_days_only_known_about_are_no_ends_and_once_is_no_span() {
    let oil = || book().guide(guide("oil").every("calendar: 1 month"));
    case(&done(oil(), "oil", &["2025-01-01"]), &["calendar:  | 0 within"]);
    let with = done(oil(), "oil", &["2025-01-01", "2025-01-11"]);
    let with = with.entry(entry("2025-01-20-x open").job("oil")).entry(entry("2025-02-01-x on ~2025-02").job("oil"));
    case(&with, &["calendar: 10+ | 1 within, largest 10, middle 10"]);
}

#[test]
fn figures_of_any_size_break_nothing() {
    let oil = book().guide(guide("oil").every("engine: 999999999 h").every("calendar: 100 years"));
    let oil = oil.row("2020-01-01,engine,0").row("2020-02-01,engine,999999999");
    case(
        &done(oil, "oil", &["2020-01-01", "2020-02-01"]),
        &["engine: 999999999+ | 1 within, largest 999999999, middle 999999999", "calendar: 31+ | 1 within, largest 31, middle 31"],
    );
}
