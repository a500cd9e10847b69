//! Estimates held against the log.

use crate::book::model::{Book, Guide};
use crate::reckon::plan::{Basis, sums};
use crate::reckon::reckon;
use crate::reckon::testing::{Writing, book, day, entry, guide, told};

/// A guide that was done so often, each time for so long.
fn logged(guide: Guide, times: &[&str]) -> Book {
    let mut book = book();
    for (at, time) in times.iter().enumerate() {
        book = book.entry(entry(&format!("2025-{:02}-01-job", at + 1)).job("job").takes(time));
    }
    book.guide(guide)
}

#[track_caller]
fn case(guide: Guide, times: &[&str], expected: &[&str]) {
    let book = logged(guide, times);
    let (_, problems) = reckon(&book, day("2026-06-01"));
    let expected: Vec<String> = expected.iter().map(|said| format!("advice guides/engine/job.md:1 estimate-off: {said}")).collect();
    assert_eq!(told(&problems), expected);
}

#[test]
fn an_estimate_may_be_off_by_half() {
    let two_hours = || guide("job").stated("2 h");
    // Half of two hours and half as much again: 1 h to 3 h.
    case(two_hours(), &["1 h", "1 h", "1 h"], &[]);
    case(two_hours(), &["3 h", "3 h", "3 h"], &[]);
    case(
        two_hours(),
        &["59 min", "59 min", "59 min"],
        &["this guide says 2 h, and according to the log it usually takes 59 min (done 3 times)"],
    );
    case(
        two_hours(),
        &["5 h", "3 h 1 min", "1 h"],
        &["this guide says 2 h, and according to the log it usually takes 3 h 1 min (done 3 times)"],
    );
    // The middle of four is between the two in the middle: 4 h and 5 h.
    case(
        two_hours(),
        &["2 h", "4 h", "5 h", "9 h"],
        &["this guide says 2 h, and according to the log it usually takes 4 h 30 min (done 4 times)"],
    );
}

#[test]
fn two_times_are_too_few_to_tell() {
    case(guide("job").stated("2 h"), &["9 h", "9 h"], &[]);
    case(guide("job"), &["9 h", "9 h", "9 h"], &[]);
}

#[test]
fn steps_count_before_the_stated_time() {
    let steps = || guide("job").stated("9 h").step(&["takes 20 min"]).step(&["takes 40 min"]);
    case(steps(), &["1 h", "1 h", "1 h"], &[]);
    case(steps(), &["9 h", "9 h", "9 h"], &["its steps add up to 1 h, and according to the log it usually takes 9 h (done 3 times)"]);
}

#[test]
fn waits_may_be_counted_in_or_not() {
    // 30 min of work and 2 h of waiting: 15 min is half of the work, 2 h 30 min is all of it one after the other.
    let glue = || guide("job").step(&["takes 20 min", "wait 2 h"]).step(&["takes 10 min"]);
    case(glue(), &["15 min", "15 min", "15 min"], &[]);
    case(glue(), &["1 h 30 min", "1 h 30 min", "1 h 30 min"], &[]);
    case(glue(), &["2 h 30 min", "2 h 30 min", "2 h 30 min"], &[]);
    case(
        glue(),
        &["2 h 31 min", "2 h 31 min", "2 h 31 min"],
        &["its steps add up to 30 min, and according to the log it usually takes 2 h 31 min (done 3 times)"],
    );
    case(
        glue(),
        &["14 min", "14 min", "14 min"],
        &["its steps add up to 30 min, and according to the log it usually takes 14 min (done 3 times)"],
    );
}

#[test]
fn a_crew_may_share_the_work() {
    let heavy = || {
        let mut heavy = guide("job").step(&["takes 3 h"]);
        heavy.crew = 3;
        heavy
    };
    case(heavy(), &["1 h", "1 h", "1 h"], &[]);
    case(
        heavy(),
        &["59 min", "59 min", "59 min"],
        &["its steps add up to 3 h, and according to the log it usually takes 59 min (done 3 times)"],
    );
}

#[test]
fn sums_of_the_steps() {
    // 7.5 L at 0.25 L/min is 30 min in two stretches of 15 min, with one rest of 10 min between.
    let run = "run 7.5 L at 0.25 L/min, 15 min on, 10 min off";
    let minutes = |guide: Guide| {
        let sums = sums(&guide);
        (sums.hands_on.to_integer(), sums.waiting.to_integer(), sums.basis)
    };
    let by_steps = |some_untimed| Basis::Steps { some_untimed };
    assert_eq!(minutes(guide("job").step(&["takes 5 min", run])), (35, 10, by_steps(false)));
    assert_eq!(minutes(guide("job").step(&["takes 5 min", &format!("{run}, unattended")])), (5, 40, by_steps(false)));
    assert_eq!(minutes(guide("job").step(&["wait 1 h"]).step(&[])), (0, 60, by_steps(true)));
    assert_eq!(minutes(guide("job").step(&[])), (0, 0, Basis::Nothing));
    assert_eq!(minutes(guide("job")), (0, 0, Basis::Nothing));
}
