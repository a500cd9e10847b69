//! The front matter of an entry.

use crate::book::decode::entry::written_unit;
use crate::book::decode::testing::{entry_of, whole_entry};
use crate::book::model::{Basis, Before, DoneBy, Grade, When};

/// The example of the format, as a finished job of one day.
const WHOLE: &str = "\
---
jobs: [oil-and-filter, raw-water-impeller/port-engine]
work: [Rewired the bow light]
system: electrics
gear: port-engine
date: 2026-03-14
reached: Refill
left: [start key out, no oil in the engine]
meters: {engine: 1840.5, miles: ~12034, charger: 310 h}
time: 2 h 40 min
parts: [{item: oil-filter, qty: 1, cost: 18.50 EUR}]
costs: [{what: crane, cost: 240 EUR}]
readings: {oil-pressure: 3.8 bar, compression: {cylinder 1: 27 bar, cylinder 2: 26 bar}}
findings:
  - {what: Weep at the rocker cover, grade: watch, guide: rocker-gasket, gear: port-engine, before: 2026-09, limits-use: no motoring over 2000 rpm}
  - {what: Loose clamp, grade: act, before: haul-out}
  - {what: Belt sound, grade: good}
clears: [2025-11-02-rig-check/1]
fitted: [{gear: life-raft, expires: 2029-05, serial: LR-6}]
done-by: yard
by: Maren
place: Ansker
papers: [invoice.pdf]
basis: own record
except: [Did not check the damper]
private: false
---
Notes.
";

#[test]
fn the_example_of_the_format_reads() {
    let entry = whole_entry(WHOLE).clean();
    assert_eq!(entry.id, "2026-03-14-oil-and-filter");
    assert!(matches!(entry.when, When::On(_)));
    assert_eq!(entry.source.slice(entry.when_span), "2026-03-14");
    assert_eq!(entry.jobs[1].gear.as_deref(), Some("port-engine"));
    assert_eq!(entry.gear.len(), 1);
    let meters: Vec<(&str, String, bool)> =
        entry.meters.iter().map(|meter| (meter.meter.value.as_str(), meter.value.to_string(), meter.about)).collect();
    assert_eq!(meters, [("engine", "1840.5".into(), false), ("miles", "12034".into(), true), ("charger", "310".into(), false)]);
    let units: Vec<Option<&str>> = entry.meters.iter().map(|meter| written_unit(&entry.source, meter).map(|unit| unit.symbol())).collect();
    assert_eq!(units, [None, None, Some("h")]);
    assert_eq!(entry.readings.len(), 3);
    assert_eq!(entry.readings[1].point.as_deref(), Some("cylinder 1"));
    assert_eq!(entry.findings.iter().map(|finding| finding.grade).collect::<Vec<_>>(), [Grade::Watch, Grade::Act, Grade::Good]);
    assert!(matches!(entry.findings[0].before, Some(Before::Month(month)) if month.last_day.to_string() == "2026-09-30"));
    assert!(matches!(&entry.findings[1].before, Some(Before::Occasion(name)) if name.value == "haul-out"));
    assert_eq!((entry.clears[0].entry.as_str(), entry.clears[0].number), ("2025-11-02-rig-check", 1));
    assert_eq!(entry.kept().serial_of(0), Some("LR-6"));
    assert_eq!((entry.done_by, entry.basis), (Some(DoneBy::Yard), Some(Basis::OwnRecord)));
    assert_eq!(entry.kept().by, ["Maren"]);
    assert_eq!(entry.kept().cost_of(0).map(ToString::to_string).as_deref(), Some("18.50 EUR"));
}

#[track_caller]
fn when(front: &str) -> When {
    whole_entry(&format!("---\n{front}\n---\n")).clean().when.clone()
}

#[track_caller]
fn when_refused(front: &str, expected: &str, message: &str) {
    whole_entry(&format!("---\n{front}\n---\n")).expect_one(expected, message, "`");
}

#[test]
fn an_entry_has_one_date_or_a_start() {
    assert!(matches!(when("date: ~2021-05"), When::On(date) if date.about));
    assert!(matches!(when("started: 2026-03-14"), When::Open { .. }));
    assert!(matches!(when("started: 2026-03-10\ndone: 2026-03-14"), When::Finished { .. }));
    assert!(matches!(when("started: 2026-03-14\ndone: 2026-03-14"), When::Finished { .. }));
    // About May may be its end.
    assert!(matches!(when("started: 2021-05-20\ndone: ~2021-05"), When::Finished { .. }));
    assert!(matches!(when("started: 2021-05-20\ndone: ~2021"), When::Finished { .. }));
    when_refused("date: 2026-03-14\nstarted: 2026-03-10", "3:1 date-and-started", "`started` stands beside `date`");
    when_refused("date: 2026-03-14\ndone: 2026-03-15", "3:1 date-and-started", "`done` stands beside `date`");
    when_refused("jobs: [a]", "2:1 no-date", "has no date");
    when_refused("done: 2026-03-15", "2:1 no-date", "has no date");
    when_refused("started: 2026-03-14\ndone: 2026-03-10", "3:7 done-before-started", "before it was started");
    when_refused("started: 2021-06-02\ndone: ~2021-05", "3:7 done-before-started", "before it was started");
    when_refused("date: 2021-05", "2:7 bad-date", "a day is needed");
    when_refused("date: tomorrow", "2:7 bad-date", "not a date");
}

#[test]
fn an_unreadable_date_leaves_the_entry_on_the_day_of_its_file() {
    let entry = whole_entry("---\ndate: soon\n---\n").value.expect("decoded");
    assert_eq!(entry.when.day().date.to_string(), "2026-03-14");
    // What cannot be read as done must not open the job again.
    let entry = whole_entry("---\nstarted: 2026-03-10\ndone: soon\n---\n").value.expect("decoded");
    assert!(!entry.when.is_open());
}

#[test]
fn jobs_and_findings_are_named_by_their_ids() {
    entry_of("jobs: [a/b/c]").expect_one("3:8 bad-job", "`a/b/c` is not a job", "oil-and-filter/port-engine");
    entry_of("jobs: [/a, b/]").expect(&["3:8 bad-job", "3:12 bad-job"]);
    entry_of("jobs: oil-and-filter").expect_one("3:7 wrong-shape", "a list of jobs", "write `jobs: [oil-and-filter]`");
    for wrong in ["2025-11-02-rig-check", "a/0", "a/x", "/1", "a/-1", "a/99999"] {
        entry_of(&format!("clears: [{wrong}]")).expect_one("3:10 bad-finding", "is not a finding", "counted from 1");
    }
}

#[test]
fn meters_are_numbers() {
    entry_of("meters: {engine: '1,840.5'}").expect_one("3:18 bad-figure", "separator in its thousands", "`1840.5`");
    entry_of("meters: {engine: 1,840}").expect(&["3:20 unknown-key"]);
    entry_of("meters: {engine: about 1200}").expect_one("3:18 bad-figure", "approximate in words", "`~1200`");
    entry_of("meters: {engine: 1200 turns}").expect(&["3:18 bad-figure"]);
    entry_of("meters: {engine: [1200]}").expect(&["3:18 wrong-shape"]);
    entry_of("meters: {engine:1200}").expect_one("3:10 unknown-key", "`engine:1200`", "`engine: 1200`");
}

#[test]
fn readings_have_units() {
    entry_of("readings: {oil-pressure: 3.8}").expect_one("3:26 bad-figure", "`3.8` has no unit", "`3.8 bar`");
    entry_of("readings: {compression: {cylinder 1: 27}}").expect(&["3:38 bad-figure"]);
    entry_of("readings: {compression: {cylinder 1: }}").expect(&["3:26 missing-value"]);
    entry_of("readings: {oil-pressure: [3.8 bar]}").expect(&["3:26 wrong-shape"]);
    entry_of("readings: {oil-pressure: 3 bar, Oil pressure: 4 bar}").expect(&["3:33 name-twice"]);
    assert_eq!(entry_of("readings: {Oil pressure: 3.8 bar, frost: -4 °C}").clean().readings[0].reading.value, "oil-pressure");
}

#[test]
fn findings_keep_their_numbers_whatever_is_wrong_with_them() {
    let read = entry_of("findings:\n  - {what: Rust}\n  - crack\n  - {what: Play, grade: bad}\n  - {what: Fine, grade: good}");
    read.expect(&["4:5 missing-key", "5:5 wrong-shape", "6:25 unknown-word"]);
    let entry = read.value.expect("decoded");
    let findings = &entry.findings;
    assert_eq!(findings.len(), 4);
    assert_eq!(findings[3].what, "Fine");
    entry_of("findings: [{what: a, grade: act, before: 2026-13}]").expect(&["3:42 bad-date"]);
    entry_of("findings: [{what: a, grade: act, before: ~2026-09}]").expect_one(
        "3:42 bad-date",
        "`~2026-09` is only about",
        "write `2026-09`: no `~` can stand here",
    );
}

#[test]
fn words_and_money() {
    entry_of("done-by: friend").expect_one("3:10 unknown-word", "`friend`", "`owner`, `yard`, `licensed`");
    entry_of("basis: memory").expect_one("3:8 unknown-word", "`memory`", "`own record`");
    entry_of("parts: [{item: a, cost: 18.50}]").expect_one("3:25 bad-money", "does not name its currency", "18.50 EUR");
    entry_of("costs: [{what: a, cost: -240 EUR}]").expect_one(
        "3:25 bad-money",
        "`-240 EUR` is below zero",
        "take it off the sum that was paid",
    );
    entry_of("time: ~2 h").expect_one("3:7 bad-figure", "`~2 h` is only approximate", "write `2 h`: no `~` can stand here");
    entry_of("parts: [{item: a, if-worn: true}]").expect(&["3:19 unknown-key"]);
    entry_of("costs: [{cost: 240 EUR}]").expect_one("3:9 missing-key", "`what` is missing", "add");
    entry_of("fitted: [{expires: 2029-05}]").expect_one("3:10 missing-key", "`gear` is missing", "add");
    entry_of("left: key out").expect_one("3:7 wrong-shape", "`left` needs a list", "write `left: [key out]`");
}
