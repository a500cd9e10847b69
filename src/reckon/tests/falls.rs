//! How often and on which days jobs fall due over a passage, or until a date.

use crate::book::model::{Book, Passage};
use crate::reckon::testing::{Writing, book, day, entry, gear, guide, passage};
use crate::reckon::{Course, Falls, MOST_DAYS, MOST_TIMES, Reckoning, reckon};

/// On 1 May the engine has 230 h, and has run 1 h a day for 100 days.
fn steady() -> Book {
    book().row("2026-01-21,engine,130").row("2026-05-01,engine,230")
}

/// `start 2026-06-05 2026-06-09 ~; 3 by engine`, or `clear`.
fn shown(falls: &Falls) -> String {
    if falls.times == 0 {
        return "clear".to_owned();
    }
    let start = falls.at_start.then(|| "start".to_owned());
    let days = falls.days.iter().map(ToString::to_string);
    let sign = falls.estimated.then(|| "~".to_owned());
    let words: Vec<String> = start.into_iter().chain(days).chain(sign).collect();
    let by = if falls.by.is_empty() { String::new() } else { format!(" by {}", falls.by.join(", ")) };
    format!("{}; {}{by}", words.join(" "), falls.times)
}

#[track_caller]
fn falls(book: &Book, on: &str, course: impl FnOnce(&Reckoning<'_>) -> Course) -> Falls {
    let (reckoning, _) = reckon(book, day(on));
    let job = reckoning.jobs.first().expect("a job");
    reckoning.falls(job, &course(&reckoning))
}

#[track_caller]
fn over(book: &Book, on: &str, passage: &Passage, expected: &str) {
    let found = falls(book, on, |reckoning| Course::of_passage(reckoning, passage));
    assert_eq!(shown(&found), expected);
}

#[track_caller]
fn until(book: &Book, on: &str, until: &str, expected: &str) {
    let found = falls(book, on, |reckoning| Course::at_use_rates(reckoning, day(until)));
    assert_eq!(shown(&found), expected);
}

fn oil(interval: &str) -> Book {
    steady().guide(guide("oil").every(interval)).entry(entry("2026-05-01-oil").job("oil"))
}

#[test]
fn a_job_may_fall_due_several_times() {
    // At 230 h a service of 100 h is due at 330 h. 1 h a day until 20 July, 80 days on, leaves 20 h at
    // departure. 250 h in 25 days are 10 h a day: 20, 120 and 220 h are there after 2, 12 and 22 days.
    let trip = passage("2026-07-20").days(25).runs("engine", "250 h");
    over(&oil("engine: 100 h"), "2026-05-01", &trip, "2026-07-22 2026-08-01 2026-08-11 ~; 3 by engine");
    // 200 h with 25 % in reserve are the same.
    let trip = passage("2026-07-20").days(25).runs("engine", "200 h").with_reserve("25");
    over(&oil("engine: 100 h"), "2026-05-01", &trip, "2026-07-22 2026-08-01 2026-08-11 ~; 3 by engine");
    // 219 h reach it twice: 20 h of 219 h take 2.28 of 25 days, 120 h take 13.7.
    let trip = passage("2026-07-20").days(25).runs("engine", "219 h");
    over(&oil("engine: 100 h"), "2026-05-01", &trip, "2026-07-23 2026-08-03 ~; 2 by engine");
}

#[test]
fn a_list_names_the_first_four_days_each_once() {
    #[track_caller]
    fn case(days: &[&str], named: &[&str], more: bool) {
        let falls = Falls { days: days.iter().map(|text| day(text)).collect(), ..Falls::default() };
        let expected: Vec<_> = named.iter().map(|text| day(text)).collect();
        assert_eq!(falls.first_days(), (expected, more));
    }
    let [a, b, c, d, e] = ["2026-06-01", "2026-06-02", "2026-06-03", "2026-06-04", "2026-06-05"];
    case(&[], &[], false);
    case(&[a, a, b, b, c, d], &[a, b, c, d], false);
    case(&[a, b, c, d, d, e], &[a, b, c, d], true);
}

#[test]
fn both_ends_of_a_passage_belong_to_it() {
    // 330 h at 1 h a day from 230 h on 1 May are there on 9 August.
    let stands = |depart: &str| passage(depart).days(10).runs("engine", "0 h");
    over(&oil("engine: 100 h"), "2026-05-01", &stands("2026-08-09"), "start; 1");
    over(&oil("engine: 100 h"), "2026-05-01", &stands("2026-08-08"), "clear");
    // At 230 h on departure, 100 h in ten days get there on the last of them, 99 h do not.
    let runs = |hours: &str| passage("2026-05-01").days(10).runs("engine", hours);
    over(&oil("engine: 100 h"), "2026-05-01", &runs("100 h"), "2026-05-11 ~; 1 by engine");
    over(&oil("engine: 100 h"), "2026-05-01", &runs("99 h"), "clear");
    // A calendar rule: three months after 1 May.
    let trip = |depart: &str| passage(depart).days(10);
    over(&oil("calendar: 3 months"), "2026-05-01", &trip("2026-07-22"), "2026-08-01; 1 by calendar");
    over(&oil("calendar: 3 months"), "2026-05-01", &trip("2026-07-21"), "clear");
}

#[test]
fn what_is_due_by_departure_is_done_then_and_counts_on_from_there() {
    // Due on 9 August; done on the 20th, 100 h later is after 10 and 20 days at 10 h a day.
    let trip = passage("2026-08-20").days(25).runs("engine", "250 h");
    over(&oil("engine: 100 h"), "2026-05-01", &trip, "start 2026-08-30 2026-09-09 ~; 3 by engine");
    // Never done, and begun but not finished: the same.
    let never = steady().guide(guide("oil").every("engine: 100 h"));
    over(&never, "2026-05-01", &trip, "start 2026-08-30 2026-09-09 ~; 3 by engine");
    let open = oil("engine: 1000 h").entry(entry("2026-05-01-oil-again open").job("oil"));
    over(&open, "2026-05-01", &trip, "start; 1");
}

#[test]
fn the_first_interval_is_over_once_it_was_done() {
    // 30 h on 1 May, 40 h on departure: the first 50 h come after 10 h, the next 100 h later. 10 h a
    // day.
    let book = book().row("2026-04-01,engine,0").row("2026-05-01,engine,30");
    let new = book.guide(guide("oil").first("engine: 50 h").every("engine: 100 h"));
    let trip = passage("2026-05-11").days(12).runs("engine", "120 h");
    over(&new, "2026-05-01", &trip, "2026-05-12 2026-05-22 ~; 2 by engine");
    // Departing on 21 May the first is due; after it 100 h are 10 days.
    let trip = passage("2026-05-21").days(12).runs("engine", "120 h");
    over(&new, "2026-05-01", &trip, "start 2026-05-31 ~; 2 by engine");
    // A job that is only done once.
    let once = steady().guide(guide("retighten").first("engine: 300 h"));
    over(&once, "2026-05-01", &passage("2026-07-01").days(60), "2026-07-10 ~; 1 by engine");
}

#[test]
fn meters_that_a_passage_does_not_name_go_on_at_their_use_rates() {
    // 1 h a day: 330 h on 9 August.
    over(&oil("engine: 100 h"), "2026-05-01", &passage("2026-07-20").days(30), "2026-08-09 ~; 1 by engine");
    over(&oil("engine: 100 h"), "2026-05-01", &passage("2026-07-20").days(30).miles("900"), "2026-08-09 ~; 1 by engine");
    // 0 h named are 0 h.
    over(&oil("engine: 100 h"), "2026-05-01", &passage("2026-07-20").days(30).runs("engine", "0 h"), "clear");
}

#[test]
fn a_meter_without_a_use_rate_stands_still_unless_the_passage_names_it() {
    // A single reading: at departure it is taken as it is.
    let gland = || guide("gland").every("miles: 100 nmi");
    let book = book().row("2026-05-01,miles,1000").guide(gland()).entry(entry("2026-05-01-gland").job("gland"));
    over(&book, "2026-05-01", &passage("2027-05-10").days(30), "clear");
    // 80 miles and a quarter are 100 miles, there on the last of ten days.
    let trip = passage("2026-05-10").days(10).miles("80").with_reserve("25");
    over(&book, "2026-05-01", &trip, "2026-05-20 ~; 1 by miles");
    // Twice read on one day: still no use rate.
    let book = book.entry(entry("2026-05-01-note").reads("miles", "1000"));
    over(&book, "2026-05-01", &trip, "2026-05-20 ~; 1 by miles");
    // Never moved: the use rate is nothing.
    let book = book.row("2026-06-01,miles,1000");
    over(&book, "2026-06-01", &passage("2026-06-10").days(300), "clear");
    over(&book, "2026-06-01", &passage("2026-06-10").days(10).miles("100"), "2026-06-20 ~; 1 by miles");
}

#[test]
fn a_baseline_that_nobody_knows_is_taken_to_be_departure() {
    // No reading at all. 12 h a day: 100 h are there on the ninth day.
    let book = book().guide(guide("oil").every("engine: 100 h")).entry(entry("2026-04-01-oil").job("oil"));
    over(&book, "2026-05-01", &passage("2026-05-01").days(10).runs("engine", "120 h"), "2026-05-10 ~; 1 by engine");
    over(&book, "2026-05-01", &passage("2026-05-01").days(10).runs("engine", "99 h"), "clear");
    // A single reading before the job was done.
    let book = book.row("2026-03-01,engine,500");
    over(&book, "2026-05-01", &passage("2026-05-01").days(10).runs("engine", "120 h"), "2026-05-10 ~; 1 by engine");
}

#[test]
fn whichever_rule_comes_first_makes_it_fall_and_all_count_on_from_there() {
    // 240 h at departure, 5 h a day: 100 h are 20 days. Done on 1 May: three weeks later is day 11 of
    // the passage, the engine would be there on day 18. From day 11: engine 31, calendar 32. From day
    // 31: engine 51, calendar 52.
    let book = steady().guide(guide("oil").every("engine: 100 h").every("calendar: 3 weeks")).entry(entry("2026-05-01-oil").job("oil"));
    let trip = passage("2026-05-11").days(60).runs("engine", "300 h");
    over(&book, "2026-05-01", &trip, "2026-05-22 2026-06-11 2026-07-01 ~; 3 by calendar, engine");
}

#[test]
fn the_calendar_counts_on_from_the_day_it_was_done() {
    // A month after 31 January is cut back to 28 February; done then, the next is 28 March.
    let book = book().guide(guide("look").every("calendar: 1 month")).entry(entry("2026-01-31-look").job("look"));
    over(&book, "2026-01-31", &passage("2026-02-01").days(60), "2026-02-28 2026-03-28; 2 by calendar");
}

#[test]
fn without_days_all_figures_fall_on_the_day_of_departure() {
    // 230 h, due at 330 h and 430 h; 250 h lead to 480 h.
    let trip = passage("2026-05-01").runs("engine", "250 h");
    over(&oil("engine: 100 h"), "2026-05-01", &trip, "2026-05-01 2026-05-01 ~; 2 by engine");
    over(&oil("engine: 100 h"), "2026-05-01", &passage("2026-05-01"), "clear");
    over(&oil("calendar: 1 day"), "2026-05-01", &passage("2026-05-01"), "clear");
    over(&oil("calendar: 1 day"), "2026-05-01", &passage("2026-05-02"), "start; 1");
}

#[test]
fn jobs_of_the_occasion_before_a_passage_are_done_before_it() {
    let trip = passage("2026-06-01").days(10);
    let with = |guide| steady().guide(guide).entry(entry("2026-05-01-look").job("look"));
    over(&with(guide("look").occasion("before-passage")), "2026-05-01", &trip, "start; 1");
    over(&with(guide("look").occasion("before-passage").routine()), "2026-05-01", &trip, "start; 1");
    // A week from 1 June.
    over(&with(guide("look").occasion("before-passage").every("calendar: 1 week")), "2026-06-01", &trip, "start 2026-06-08; 2 by calendar");
    over(&with(guide("look").occasion("haul-out")), "2026-05-01", &trip, "clear");
    over(&with(guide("look")), "2026-05-01", &trip, "clear");
    over(&with(guide("look").routine().every("calendar: 1 day")), "2026-05-01", &trip, "clear");
    // Only a passage is an occasion.
    until(&with(guide("look").occasion("before-passage")), "2026-05-01", "2027-05-01", "clear");
}

#[test]
fn a_passage_that_has_left_is_reckoned_by_the_same_rules() {
    // 130 h on 21 January and 1 h a day: 169 h on 1 March, 11 h short of 180 h. 22 h in 20 days take
    // ten days for them.
    let book = steady().guide(guide("oil").every("engine: 50 h")).entry(entry("2026-01-21-oil").job("oil"));
    over(&book, "2026-05-01", &passage("2026-03-01").days(20).runs("engine", "22 h"), "2026-03-11 ~; 1 by engine");
}

#[test]
fn figures_are_converted_into_the_unit_of_the_meter() {
    // 6000 min are 100 h.
    over(&oil("engine: 100 h"), "2026-05-01", &passage("2026-05-01").days(10).runs("engine", "6000 min"), "2026-05-11 ~; 1 by engine");
    // 185.2 km are 100 nmi. Of two figures for the miles the larger counts.
    let book =
        book().row("2026-05-01,miles,0").guide(guide("gland").every("miles: 185.2 km")).entry(entry("2026-05-01-gland").job("gland"));
    over(&book, "2026-05-01", &passage("2026-05-01").days(10).miles("100"), "2026-05-11 ~; 1 by miles");
    over(&book, "2026-05-01", &passage("2026-05-01").days(10).miles("100").runs("miles", "50 nmi"), "2026-05-11 ~; 1 by miles");
    over(&book, "2026-05-01", &passage("2026-05-01").days(10).runs("miles", "50 nmi"), "clear");
    // A figure that no such meter can run is none.
    over(&book, "2026-05-01", &passage("2026-05-01").days(10).runs("miles", "500 h"), "clear");
}

#[test]
fn a_job_of_several_gear_goes_by_the_meter_of_each() {
    let book = book()
        .meter("port-hours", "h")
        .row("2026-05-01,port-hours,0")
        .gear(gear("port").with_meter("port-hours"))
        .guide(guide("oil").every("own: 100 h").for_gear("port"))
        .entry(entry("2026-05-01-oil").job("oil/port"));
    let trip = passage("2026-05-01").days(10).runs("port-hours", "250 h");
    // 25 h a day.
    over(&book, "2026-05-01", &trip, "2026-05-05 2026-05-09 ~; 2 by port-hours");
}

#[test]
fn until_a_date_all_meters_run_at_their_use_rates() {
    until(&oil("engine: 100 h"), "2026-05-01", "2026-08-09", "2026-08-09 ~; 1 by engine");
    until(&oil("engine: 100 h"), "2026-05-01", "2026-08-08", "clear");
    // Late: once from today, then by its interval.
    let late = steady().guide(guide("oil").every("engine: 100 h")).entry(entry("2026-01-21-oil").job("oil"));
    until(&late, "2026-05-01", "2026-08-09", "start 2026-08-09 ~; 2 by engine");
    until(&late, "2026-05-01", "2026-04-01", "start; 1");
    let never = steady().guide(guide("oil").every("engine: 100 h"));
    until(&never, "2026-05-01", "2026-08-08", "start; 1");
}

#[test]
fn an_interval_of_a_minute_does_not_count_for_ever() {
    #[track_caller]
    fn counts(book: &Book, trip: &Passage, times: u64) {
        let found = falls(book, "2026-05-01", |reckoning| Course::of_passage(reckoning, trip));
        assert_eq!((found.times, found.days.len()), (times, MOST_DAYS));
        assert_eq!(found.days.first().map(ToString::to_string), Some("2026-05-02".to_owned()));
    }
    let trip = passage("2026-05-01").days(10);
    // 60 h have 3600 min.
    counts(&oil("engine: 1 min"), &trip.clone().runs("engine", "60 h"), 3_600);
    // 5000 h have 300 000 min.
    counts(&oil("engine: 1 min"), &trip.clone().runs("engine", "5000 h"), MOST_TIMES);
    let with_calendar =
        steady().guide(guide("oil").every("calendar: 1 day").every("engine: 1 min")).entry(entry("2026-05-01-oil").job("oil"));
    counts(&with_calendar, &trip.clone().runs("engine", "60 h"), 3_600);
    counts(&with_calendar, &trip.runs("engine", "5000 h"), MOST_TIMES);
    // Day by day to the end of the calendar.
    counts(&oil("calendar: 1 day"), &passage("2026-05-01").days(u32::MAX), MOST_TIMES);
}

#[test]
fn what_is_too_large_to_hold_is_more_than_is_counted() {
    // About 3·10¹⁹ s, of which a billionth each is an interval.
    let trip = passage("2026-05-01").days(u32::MAX).runs("engine", "999999999999 years").with_reserve("500");
    let found = falls(&oil("engine: 0.000000001 s"), "2026-05-01", |reckoning| Course::of_passage(reckoning, &trip));
    assert_eq!((found.times, found.days.len()), (MOST_TIMES, MOST_DAYS));
}
