//! Readings outside their limits: a defect until a later reading is inside.

use crate::book::model::{Book, Entry, Grade};
use crate::reckon::testing::{Writing, book, day, entry, gear, guide, told};
use crate::reckon::{Seen, reckon};

/// The defects in a line each: `oil 2.1 bar in 2026-01-01-a`, or what was found.
fn defects(book: &Book, on: &str) -> Vec<String> {
    let (reckoning, _) = reckon(book, day(on));
    let defects = reckoning.defects.iter();
    defects
        .map(|defect| match defect.seen {
            Seen::Finding { finding, .. } => format!("{} in {}", finding.what, defect.entry.id),
            Seen::Reading(outside) => {
                let words = [outside.point, defect.gear()].into_iter().flatten().map(|word| format!(" {word}")).collect::<String>();
                format!("{}{words} {} in {}", outside.spec.id, outside.value.written, defect.entry.id)
            }
        })
        .collect()
}

fn oil() -> Book {
    book().guide(guide("oil").asks("pressure", "bar", "2.5..5.0", &[]))
}

#[test]
fn the_latest_value_alone_counts() {
    let book = oil()
        .entry(entry("2026-01-01-a").job("oil").measures("pressure", "", "2.1 bar"))
        .entry(entry("2026-02-01-b").job("oil").measures("pressure", "", "5.1 bar"))
        .entry(entry("2026-03-01-c").job("oil").measures("pressure", "", "2.5 bar"));
    assert_eq!(defects(&book, "2026-01-15"), ["pressure 2.1 bar in 2026-01-01-a"]);
    assert_eq!(defects(&book, "2026-02-15"), ["pressure 5.1 bar in 2026-02-01-b"]);
    // A limit is inside.
    assert_eq!(defects(&book, "2026-03-15"), [] as [&str; 0]);
}

#[test]
fn it_is_to_be_acted_on_and_no_entry_clears_it() {
    let book = oil()
        .entry(entry("2026-01-01-rig").finds("chafe", Grade::Watch).finds("cracked", Grade::Act))
        .entry(entry("2026-02-01-a").job("oil").measures("pressure", "", "2.1 bar"))
        .entry(entry("2026-03-01-b").clears("2026-02-01-a", 1));
    assert_eq!(defects(&book, "2026-06-01"), ["cracked in 2026-01-01-rig", "pressure 2.1 bar in 2026-02-01-a", "chafe in 2026-01-01-rig"]);
    let (reckoning, problems) = reckon(&book, day("2026-06-01"));
    let references: Vec<Option<String>> = reckoning.defects.iter().map(|defect| defect.reference()).collect();
    assert_eq!(references, [Some("2026-01-01-rig/2".to_owned()), None, Some("2026-01-01-rig/1".to_owned())]);
    assert!(reckoning.defects.iter().all(|defect| defect.grade() != Grade::Good));
    assert_eq!(
        told(&problems),
        ["warning log/2026-02-01-a.md:4 reading-outside-limits: `pressure` is 2.1 bar, outside the limits of `oil`: 2.5 to 5.0 bar"]
    );
}

#[test]
fn points_and_gear_are_weighed_each_by_itself() {
    let asked = guide("squeeze").for_gear("port").for_gear("starboard").asks("pressure", "bar", "25..", &["one", "two"]);
    let book = book()
        .gear(gear("port"))
        .gear(gear("starboard"))
        .guide(asked)
        .entry(entry("2026-01-01-a").job("squeeze/port").measures("pressure", "one", "20 bar").measures("pressure", "two", "21 bar"))
        .entry(entry("2026-02-01-b").job("squeeze/port").measures("pressure", "two", "26 bar"))
        .entry(entry("2026-03-01-c").job("squeeze/starboard").measures("pressure", "one", "26 bar"));
    assert_eq!(defects(&book, "2026-06-01"), ["pressure one port 20 bar in 2026-01-01-a"]);
    let (_, problems) = reckon(&book, day("2026-06-01"));
    assert_eq!(
        told(&problems),
        [
            "warning log/2026-01-01-a.md:4 reading-outside-limits: `pressure, one, port` is 20 bar, outside the limits of `squeeze`: at least 25 bar"
        ]
    );
}

#[test]
fn a_value_noted_without_its_gear_is_over_when_all_of_it_was_read_later() {
    let asked = guide("squeeze").for_gear("port").for_gear("starboard").asks("pressure", "bar", "25..", &[]);
    let of = |day: &str, job: &str, value: &str| entry(day).job(job).measures("pressure", "", value);
    let book = book().gear(gear("port")).gear(gear("starboard")).guide(asked).entry(of("2026-01-01-a", "squeeze", "20 bar"));
    let book = book.entry(of("2026-02-01-b", "squeeze/port", "26 bar"));
    assert_eq!(defects(&book, "2026-06-01"), ["pressure 20 bar in 2026-01-01-a"]);
    let book = book.entry(of("2026-03-01-c", "squeeze/starboard", "24 bar"));
    assert_eq!(defects(&book, "2026-06-01"), ["pressure starboard 24 bar in 2026-03-01-c"]);
}

#[test]
fn what_was_read_on_gear_that_is_gone_is_no_defect() {
    let asked = guide("weigh").for_gear("raft").asks("mass", "kg", "40..", &[]);
    let book = book()
        .gear(gear("raft"))
        .guide(asked)
        .entry(entry("2026-01-01-a").job("weigh").measures("mass", "", "39 kg"))
        .entry(entry("2026-03-01-b").fits("raft", "2029-01"));
    assert_eq!(defects(&book, "2026-02-01"), ["mass raft 39 kg in 2026-01-01-a"]);
    assert_eq!(defects(&book, "2026-03-01"), [] as [&str; 0]);
}

#[test]
fn one_value_that_two_guides_ask_for_is_one_defect() {
    let book = oil()
        .guide(guide("warm-up").asks("pressure", "bar", "3..", &[]))
        .entry(entry("2026-01-01-a").job("oil").job("warm-up").measures("pressure", "", "2.1 bar"));
    assert_eq!(defects(&book, "2026-06-01"), ["pressure 2.1 bar in 2026-01-01-a"]);
}

#[test]
fn a_finding_to_act_on_takes_the_readings_that_it_tells_of() {
    let case = |finding: fn(Entry) -> Entry, expected: &[&str]| {
        let seacocks = guide("seacocks").for_gear("galley").for_gear("heads").asks("force", "kg", "..8", &[]);
        let book = book().gear(gear("galley")).gear(gear("heads")).guide(seacocks).guide(guide("other"));
        let found = entry("2026-01-01-a").job("seacocks/heads").measures("force", "", "8.5 kg");
        let book = book.entry(finding(found));
        let (reckoning, _) = reckon(&book, day("2026-06-01"));
        let folded: usize = reckoning.defects.iter().map(|defect| defect.readings.len()).sum();
        assert_eq!(defects(&book, "2026-06-01"), expected);
        assert_eq!(folded + expected.iter().filter(|line| line.starts_with("force")).count(), 1);
    };
    let reading = "force heads 8.5 kg in 2026-01-01-a";
    let stiff = "stiff in 2026-01-01-a";
    case(|entry| entry.finds("stiff", Grade::Act).about_gear("heads").for_job("seacocks"), &[stiff]);
    case(
        |entry| entry.finds("loose", Grade::Act).finds("stiff", Grade::Act).about_gear("heads").for_job("seacocks"),
        &["loose in 2026-01-01-a", stiff],
    );
    // Of another piece, for another job, for none, or only to be watched.
    case(|entry| entry.finds("stiff", Grade::Act).about_gear("galley").for_job("seacocks"), &[stiff, reading]);
    case(|entry| entry.finds("stiff", Grade::Act).about_gear("heads").for_job("other"), &[stiff, reading]);
    case(|entry| entry.finds("stiff", Grade::Act), &[stiff, reading]);
    case(|entry| entry.finds("stiff", Grade::Watch).about_gear("heads").for_job("seacocks"), &[reading, stiff]);
}

#[test]
fn once_the_finding_is_cleared_the_reading_stands_by_itself_again() {
    let found = entry("2026-01-01-a").job("oil").measures("pressure", "", "2.1 bar").finds("weak", Grade::Act).for_job("oil");
    let book = oil().entry(found).entry(entry("2026-02-01-b").clears("2026-01-01-a", 1));
    assert_eq!(defects(&book, "2026-01-15"), ["weak in 2026-01-01-a"]);
    assert_eq!(defects(&book, "2026-02-15"), ["pressure 2.1 bar in 2026-01-01-a"]);
}
