//! `due --format json`: every figure worked out by hand from the rules.
//!
//! The meters are chosen so that the use rate can be reckoned in the head: 365 hours in 365 days is
//! one an hour a day. Days between dates: `datetime` of Python 3.13 gives the same.

use crate::support::{Book, entry, guide, job};
use serde_json::{Value, json};

pub const ON: &str = "2026-06-01";

const BOAT: &str = "\
name: Test boat
in-service: 2020-04-01
systems: [{id: engine, title: Engine}, {id: hull, title: Hull}]
meters:
  - {id: engine, title: Engine hours, unit: h}
  - {id: miles, title: Miles by log, unit: nmi}
  - {id: port-hours, title: Port hours, unit: h}
  - {id: starboard-hours, title: Starboard hours, unit: h}
  - {id: generator, title: Generator hours, unit: h}
  - {id: unread, title: Never read, unit: h}
gear:
  - {id: port-engine, title: Port engine, meter: port-hours}
  - {id: starboard-engine, title: Starboard engine, meter: starboard-hours}
  - {id: generator, title: Generator, meter: generator, fitted: {on: 2026-04-01, at: 0 h}}
  - {id: life-raft, title: Life raft, fitted: {on: 2023-02-01}}
  - {id: epirb, title: Beacon}
";

/// One hour of the engine a day, measured over a year; the last reading is 31 days old.
const METERS: &str = "\
date,meter,value,replaced
2025-05-01,engine,1000
2026-05-01,engine,1365
2025-06-01,miles,5000
2025-12-08,miles,5190,0
2026-06-01,miles,175
2026-01-01,port-hours,100
2026-04-11,port-hours,200
2026-01-01,starboard-hours,100
2026-04-11,starboard-hours,150
2026-04-11,generator,10
2026-05-01,generator,30
";

pub fn book() -> Book {
    Book::new().file("boat.yaml", BOAT).file("meters.csv", METERS)
}

/// A book with one job, `guides/engine/job.md`.
pub fn with(front: &str) -> Book {
    book().file("guides/engine/job.md", job("The job", front))
}

/// Adds an entry of 2000 to 2099 that did the job on a day.
pub fn done(book: Book, on: &str) -> Book {
    let year = on.get(..4).expect("a year");
    book.file(&format!("log/{year}/{on}-job.md"), entry(&format!("jobs: [job]\ndate: {on}\n")))
}

#[track_caller]
pub fn row(rows: &[Value], guide: &str, gear: Option<&str>) -> Value {
    let found: Vec<&Value> = rows.iter().filter(|row| row["guide"] == guide && row["gear"] == json!(gear)).collect();
    let [row] = found.as_slice() else { panic!("{} rows of {guide}: {rows:?}", found.len()) };
    (*row).clone()
}

/// The only job as of 2026-06-01: state, day, what governs, what remains, whether estimated.
#[track_caller]
pub fn case(book: &Book, state: &str, due_on: Option<&str>, governed_by: Option<&str>, remaining: Value, estimated: bool) {
    let row = row(&book.due(ON), "job", None);
    let found = (&row["state"], &row["due_on"], &row["governed_by"], &row["remaining"], &row["estimated"]);
    assert_eq!(found, (&json!(state), &json!(due_on), &json!(governed_by), &remaining, &json!(estimated)));
}

#[test]
fn a_row_has_these_keys_in_this_order_and_null_for_what_is_absent() {
    let run = with("").run(["due", "--format", "json", "--on", ON]).status(0);
    let rows = run.json();
    let keys: Vec<&String> = rows[0].as_object().expect("a map").keys().collect();
    let expected = [
        "guide",
        "gear",
        "title",
        "system",
        "state",
        "due_on",
        "governed_by",
        "remaining",
        "last_done",
        "estimated",
        "occasions",
        "on_passage",
        "times_due",
    ];
    assert_eq!(keys, expected);
    let absent = json!({
        "guide": "job", "gear": null, "title": "The job", "system": "engine", "state": "as needed", "due_on": null,
        "governed_by": null, "remaining": {}, "last_done": null, "estimated": false, "occasions": [],
        "on_passage": null, "times_due": null,
    });
    assert_eq!(rows, json!([absent]));
    // The order of the text, not only of the parsed map.
    let places: Vec<usize> = expected.iter().map(|key| run.stdout.find(&format!("\"{key}\"")).expect("the key")).collect();
    assert!(places.is_sorted(), "{places:?}");
}

#[test]
fn an_empty_book_has_an_empty_list() {
    Book::new().file("boat.yaml", "name: Solo\n").run(["due", "--format", "json", "--on", ON]).status(0).stdout("[]\n");
}

#[test]
fn a_full_row_by_hand() {
    // Done on 2026-01-11, 255 days after the reading of 1000 h: at 1255 h. Due at 1455 h, 90 days
    // after 2026-05-01; on 2026-06-01 the meter stands at 1365 + 31 = 1396 h, so 59 h remain.
    // By the calendar 2027-01-11, 224 days from 2026-06-01.
    let book = done(with("every: {engine: 200 h, calendar: 12 months}\noccasions: [haul-out]\n"), "2026-01-11");
    let expected = json!({
        "guide": "job", "gear": null, "title": "The job", "system": "engine", "state": "later", "due_on": "2026-07-30",
        "governed_by": "engine", "remaining": {"engine": "59 h", "calendar": "224 days"},
        "last_done": {"entry": "2026-01-11-job", "date": "2026-01-11"}, "estimated": true, "occasions": ["haul-out"],
        "on_passage": null, "times_due": null,
    });
    assert_eq!(Value::from(book.due(ON)), json!([expected]));
}

#[test]
fn whichever_comes_first_governs() {
    // 12 months end on 2027-01-11, 400 h at one a day on 2027-02-15.
    let book = done(with("every: {engine: 400 h, calendar: 12 months}\n"), "2026-01-11");
    // 1255 + 400 − 1396 = 259 h.
    case(&book, "later", Some("2027-01-11"), Some("calendar"), json!({"engine": "259 h", "calendar": "224 days"}), false);
}

#[test]
fn months_end_on_the_last_day_that_there_is() {
    case(
        &done(with("every: {calendar: 6 months}\n"), "2025-12-31"),
        "later",
        Some("2026-06-30"),
        Some("calendar"),
        json!({"calendar": "29 days"}),
        false,
    );
    // 2025-08-31 + 6 months = 2026-02-28 (python-dateutil, chrono and jiff agree); 93 days before.
    case(
        &done(with("every: {calendar: 6 months}\n"), "2025-08-31"),
        "overdue",
        Some("2026-02-28"),
        Some("calendar"),
        json!({"calendar": "-93 days"}),
        false,
    );
    // 2024-02-29 + 48 months = 2028-02-29, 638 days ahead.
    case(
        &done(with("every: {calendar: 48 months}\n"), "2024-02-29"),
        "later",
        Some("2028-02-29"),
        Some("calendar"),
        json!({"calendar": "638 days"}),
        false,
    );
}

#[test]
fn overdue_begins_the_day_after() {
    case(
        &done(with("every: {calendar: 12 months}\n"), "2025-06-01"),
        "due",
        Some("2026-06-01"),
        Some("calendar"),
        json!({"calendar": "0 days"}),
        false,
    );
    case(
        &done(with("every: {calendar: 12 months}\n"), "2025-05-31"),
        "overdue",
        Some("2026-05-31"),
        Some("calendar"),
        json!({"calendar": "-1 day"}),
        false,
    );
    case(
        &done(with("every: {calendar: 12 months}\n"), "2025-06-02"),
        "soon",
        Some("2026-06-02"),
        Some("calendar"),
        json!({"calendar": "1 day"}),
        false,
    );
}

#[test]
fn soon_is_a_tenth_of_the_interval_from_seven_days_to_sixty() {
    // A year: 36 days.
    case(
        &done(with("every: {calendar: 12 months}\n"), "2025-07-07"),
        "soon",
        Some("2026-07-07"),
        Some("calendar"),
        json!({"calendar": "36 days"}),
        false,
    );
    case(
        &done(with("every: {calendar: 12 months}\n"), "2025-07-08"),
        "later",
        Some("2026-07-08"),
        Some("calendar"),
        json!({"calendar": "37 days"}),
        false,
    );
    // Five years: no more than 60.
    case(
        &done(with("every: {calendar: 60 months}\n"), "2021-07-31"),
        "soon",
        Some("2026-07-31"),
        Some("calendar"),
        json!({"calendar": "60 days"}),
        false,
    );
    case(
        &done(with("every: {calendar: 60 months}\n"), "2021-08-01"),
        "later",
        Some("2026-08-01"),
        Some("calendar"),
        json!({"calendar": "61 days"}),
        false,
    );
    // A fortnight: at least 7.
    case(
        &done(with("every: {calendar: 14 days}\n"), "2026-05-25"),
        "soon",
        Some("2026-06-08"),
        Some("calendar"),
        json!({"calendar": "7 days"}),
        false,
    );
    case(
        &done(with("every: {calendar: 14 days}\n"), "2026-05-26"),
        "later",
        Some("2026-06-09"),
        Some("calendar"),
        json!({"calendar": "8 days"}),
        false,
    );
}

#[test]
fn the_boat_may_choose_another_share() {
    let book = done(with("every: {calendar: 12 months}\n"), "2025-07-14").file("boat.yaml", format!("{BOAT}soon: 12 %\n"));
    // 12 % of 365 days: 43.
    case(&book, "soon", Some("2026-07-14"), Some("calendar"), json!({"calendar": "43 days"}), false);
    // A meter's share: 12 % of 100 h is 12 h. Done on 2026-03-05, 308 days after the reading of
    // 1000 h: due at 1408 h, 43 days after the last reading; 1408 − 1396 = 12 h.
    let meter = done(with("every: {engine: 100 h}\n"), "2026-03-05");
    case(&meter, "later", Some("2026-06-13"), Some("engine"), json!({"engine": "12 h"}), true);
    case(
        &meter.file("boat.yaml", format!("{BOAT}soon: 12 %\n")),
        "soon",
        Some("2026-06-13"),
        Some("engine"),
        json!({"engine": "12 h"}),
        true,
    );
}

#[test]
fn any_rule_that_is_near_makes_it_soon() {
    // By the calendar on 2027-03-02, with 274 of 365 days left; by the meter 9 h of 100 are left.
    // Done on 2026-03-02, 305 days on: due at 1405 h, 2026-06-10.
    let book = done(with("every: {engine: 100 h, calendar: 12 months}\n"), "2026-03-02");
    case(&book, "soon", Some("2026-06-10"), Some("engine"), json!({"engine": "9 h", "calendar": "274 days"}), true);
}

#[test]
fn a_notice_replaces_the_share() {
    // 2026-10-01 less 6 months is 2026-04-01.
    case(
        &done(with("every: {calendar: 36 months}\nnotice: 6 months\n"), "2023-10-01"),
        "soon",
        Some("2026-10-01"),
        Some("calendar"),
        json!({"calendar": "122 days"}),
        false,
    );
    case(
        &done(with("every: {calendar: 36 months}\nnotice: 4 months\n"), "2023-10-02"),
        "later",
        Some("2026-10-02"),
        Some("calendar"),
        json!({"calendar": "123 days"}),
        false,
    );
    // Nineteen days are within a tenth of a year, and not within a week.
    case(
        &done(with("every: {calendar: 12 months}\nnotice: 7 days\n"), "2025-06-20"),
        "later",
        Some("2026-06-20"),
        Some("calendar"),
        json!({"calendar": "19 days"}),
        false,
    );
}

#[test]
fn the_first_time_counts_from_the_boats_service_otherwise() {
    // 2020-04-01 + 12 months; 1887 days before 2026-06-01.
    case(
        &with("first: {calendar: 12 months}\nevery: {calendar: 24 months}\n"),
        "overdue",
        Some("2021-04-01"),
        Some("calendar"),
        json!({"calendar": "-1887 days"}),
        false,
    );
}

#[test]
fn once_done_only_every_counts() {
    let book = done(with("first: {calendar: 12 months}\nevery: {calendar: 24 months}\n"), "2026-01-11");
    // 2028-01-11: 589 days.
    case(&book, "later", Some("2028-01-11"), Some("calendar"), json!({"calendar": "589 days"}), false);
}

#[test]
fn an_interval_never_done_has_no_record_and_no_date() {
    case(&with("every: {engine: 200 h, calendar: 12 months}\n"), "no record", None, None, json!({}), false);
}

#[test]
fn states_without_a_date() {
    case(&with("occasions: [haul-out]\n"), "on occasion", None, None, json!({}), false);
    case(&with(""), "as needed", None, None, json!({}), false);
    case(&done(with("routine: true\nevery: {calendar: 7 days}\n"), "2025-01-01"), "as needed", None, None, json!({}), false);
}

#[test]
fn an_open_job_keeps_the_date_of_the_last_finished_one() {
    let book = done(with("every: {calendar: 12 months}\n"), "2025-06-01")
        .file("log/2026/2026-05-20-begun.md", entry("jobs: [job]\nstarted: 2026-05-20\nleft: [no oil in the engine]\n"));
    let row = row(&book.due(ON), "job", None);
    assert_eq!((&row["state"], &row["due_on"]), (&json!("open"), &json!("2026-06-01")));
    assert_eq!(row["last_done"], json!({"entry": "2025-06-01-job", "date": "2025-06-01"}));
}

#[test]
fn covering_is_direct_and_not_chained() {
    let every = "every: {calendar: 12 months}\n";
    let book = book()
        .file("guides/engine/a.md", job("A", &format!("{every}covers: [b]\n")))
        .file("guides/engine/b.md", job("B", &format!("{every}covers: [c]\n")))
        .file("guides/engine/c.md", job("C", every))
        .file("log/2026/2026-05-01-a.md", entry("jobs: [a]\ndate: 2026-05-01\n"));
    let rows = book.due(ON);
    let done = json!({"entry": "2026-05-01-a", "date": "2026-05-01"});
    assert_eq!((&row(&rows, "b", None)["last_done"], &row(&rows, "b", None)["due_on"]), (&done, &json!("2027-05-01")));
    assert_eq!((&row(&rows, "c", None)["last_done"], &row(&rows, "c", None)["state"]), (&Value::Null, &json!("no record")));
}

#[test]
fn a_renamed_guide_keeps_its_log() {
    let book = book()
        .file("guides/engine/job.md", job("The job", "every: {calendar: 12 months}\nformerly: [old-job]\n"))
        .file("log/2026/2026-05-01-old.md", entry("jobs: [old-job]\ndate: 2026-05-01\n"));
    case(&book, "later", Some("2027-05-01"), Some("calendar"), json!({"calendar": "334 days"}), false);
}

#[test]
fn entries_after_the_day_are_left_out_and_told_of() {
    let book = done(done(with("every: {calendar: 12 months}\n"), "2025-06-20"), "2026-05-01");
    let rows = book.due("2026-03-01");
    // From the earlier one: 2026-06-20, 111 days.
    assert_eq!((&rows[0]["due_on"], &rows[0]["last_done"]["entry"]), (&json!("2026-06-20"), &json!("2025-06-20-job")));
    assert_eq!(rows[0]["remaining"], json!({"calendar": "111 days"}));
    let run = book.run(["survey", "--format", "json", "--on", "2026-03-01"]).status(0);
    let warned: Vec<String> = run
        .json()
        .as_array()
        .expect("a list")
        .iter()
        .filter(|row| row["rule"] == "later-than-on")
        .map(|row| row["file"].to_string())
        .collect();
    assert!(warned.contains(&"\"log/2026/2026-05-01-job.md\"".to_owned()), "{warned:?}");
    book.run(["due", "--on", "2026-03-01"]).status(0).stderr_has("warning");
}

#[test]
fn a_finished_entry_that_was_only_begun_by_then_is_left_out_whole() {
    let book = with("every: {calendar: 12 months}\n")
        .file("log/2026/2026-02-20-job.md", entry("jobs: [job]\nstarted: 2026-02-20\ndone: 2026-03-10\n"));
    assert_eq!(book.due("2026-03-01")[0]["state"], "no record");
    assert_eq!(book.due("2026-03-10")[0]["due_on"], "2027-03-10");
}

#[test]
fn json_holds_everything_and_the_most_pressing_first() {
    let every = |months: u32| format!("every: {{calendar: {months} months}}\n");
    let book = book()
        .file("guides/engine/later.md", job("Later", &every(12)))
        .file("guides/engine/over.md", job("Over", &every(12)))
        .file("guides/engine/never.md", job("Never", &every(12)))
        .file("guides/engine/needed.md", job("Needed", ""))
        .file("log/2026/2026-05-01-later.md", entry("jobs: [later]\ndate: 2026-05-01\n"))
        .file("log/2025/2025-05-01-over.md", entry("jobs: [over]\ndate: 2025-05-01\n"));
    let order: Vec<Value> = book.due(ON).iter().map(|row| row["guide"].clone()).collect();
    assert_eq!(order, ["over", "never", "later", "needed"]);
}

#[test]
fn a_note_without_a_job_counts_for_nothing() {
    let book = with("every: {calendar: 12 months}\n")
        .file("log/2026/2026-05-01-note.md", entry("date: 2026-05-01\nwork: [The job, more or less]\n"));
    case(&book, "no record", None, None, json!({}), false);
}

#[test]
fn about_dates_count_from_their_first_day_and_are_estimates() {
    let book = with("every: {calendar: 24 months}\n").file("log/2025/2025-05-job.md", entry("jobs: [job]\ndate: ~2025-05\n"));
    let row = row(&book.due(ON), "job", None);
    assert_eq!((&row["due_on"], &row["estimated"]), (&json!("2027-05-01"), &json!(true)));
    assert_eq!(row["last_done"]["date"], "2025-05-01");
}

#[test]
fn words_of_a_guide_come_out_as_they_are() {
    let book = book().file("guides/hull/job.md", guide("\"Öl \\\"wechseln\\\"\"", "", "## W\n\n1. Do it.\n"));
    let rows = book.due(ON);
    assert_eq!((&rows[0]["title"], &rows[0]["system"]), (&json!("Öl \"wechseln\""), &json!("hull")));
}
