//! `due` by meters and by gear: worked out by hand from the readings of the book in `due`.

use crate::due::{ON, book, case, done, row, with};
use crate::support::{entry, job};
use serde_json::{Value, json};

#[test]
fn readings_that_have_passed_make_it_overdue() {
    // Done on 2025-05-01 at 1000 h: 200 h later is 1200 h, 200 days on, 2025-11-17. At 1396 h 196
    // are over.
    let book = done(with("every: {engine: 200 h}\n"), "2025-05-01");
    case(&book, "overdue", Some("2025-11-17"), Some("engine"), json!({"engine": "-196 h"}), false);
}

#[test]
fn an_estimate_alone_never_makes_it_overdue() {
    // Done on 2025-11-07, 190 days on, at 1190 h; due at 1390 h, which the last reading of 1365 h
    // has not reached: by the rate on 2026-05-26.
    let book = done(with("every: {engine: 200 h}\n"), "2025-11-07");
    case(&book, "due", Some("2026-05-26"), Some("engine"), json!({"engine": "-6 h"}), true);
    book.run(["due", "--on", ON]).status(0).stdout_has("by estimate").stdout_has("read the meter");
}

#[test]
fn a_meter_without_readings_gives_no_date() {
    let book = done(with("every: {unread: 100 h}\n"), "2026-01-11");
    let row = row(&book.due(ON), "job", None);
    assert_eq!((&row["due_on"], &row["remaining"]), (&Value::Null, &json!({})));
    assert_eq!(row["last_done"]["date"], "2026-01-11");
}

#[test]
fn the_first_time_counts_from_when_the_gear_was_fitted() {
    // 50 h from 0 h on 2026-04-01; 10 h on 04-11 and 30 h on 05-01 are one an hour a day: 20 days
    // after 05-01. On 06-01 it stands at 61 h.
    let book =
        book().file("guides/engine/job.md", job("The job", "first: {generator: 50 h}\nevery: {generator: 200 h}\nfor: [generator]\n"));
    let row = row(&book.due(ON), "job", Some("generator"));
    assert_eq!((&row["state"], &row["due_on"], &row["remaining"]), (&json!("due"), &json!("2026-05-21"), &json!({"generator": "-11 h"})));
    assert_eq!((&row["governed_by"], &row["estimated"], &row["last_done"]), (&json!("generator"), &json!(true), &Value::Null));
}

#[test]
fn each_piece_of_gear_goes_by_its_own_meter() {
    let book = book()
        .file("guides/engine/job.md", job("Impeller", "for: [port-engine, starboard-engine]\nevery: {own: 100 h}\n"))
        .file("log/2026/2026-01-01-port.md", entry("jobs: [job/port-engine]\ndate: 2026-01-01\n"))
        .file("log/2026/2026-04-11-starboard.md", entry("jobs: [job/starboard-engine]\ndate: 2026-04-11\n"));
    let rows = book.due(ON);
    assert_eq!(rows.len(), 2);
    // From 100 h to 200 h, which the reading of 2026-04-11 reached; one an hour a day since: 251 h.
    let port = row(&rows, "job", Some("port-engine"));
    assert_eq!((&port["state"], &port["due_on"], &port["estimated"]), (&json!("overdue"), &json!("2026-04-11"), &json!(false)));
    assert_eq!((&port["governed_by"], &port["remaining"]), (&json!("port-hours"), &json!({"port-hours": "-51 h"})));
    // From 150 h to 250 h at half an hour a day: 200 days. On 06-01 it stands at 175.5 h.
    let starboard = row(&rows, "job", Some("starboard-engine"));
    assert_eq!((&starboard["state"], &starboard["due_on"], &starboard["estimated"]), (&json!("later"), &json!("2026-10-28"), &json!(true)));
    assert_eq!((&starboard["governed_by"], &starboard["remaining"]), (&json!("starboard-hours"), &json!({"starboard-hours": "74.5 h"})));
}

#[test]
fn a_job_that_names_no_gear_counts_for_all() {
    let book = book()
        .file("guides/engine/job.md", job("Impeller", "for: [port-engine, starboard-engine]\nevery: {calendar: 12 months}\n"))
        .file("log/2026/2026-05-01-both.md", entry("jobs: [job]\ndate: 2026-05-01\n"));
    let rows = book.due(ON);
    for gear in ["port-engine", "starboard-engine"] {
        assert_eq!(row(&rows, "job", Some(gear))["due_on"], "2027-05-01");
    }
}

#[test]
fn renewed_gear_begins_its_life_again() {
    let book = book()
        .file("guides/hull/job.md", job("Raft service", "for: [life-raft]\nfirst: {calendar: 36 months}\nevery: {calendar: 12 months}\n"))
        .file("log/2025/2025-01-10-service.md", entry("jobs: [job/life-raft]\ndate: 2025-01-10\n"));
    let before = row(&book.due(ON), "job", Some("life-raft"));
    assert_eq!((&before["state"], &before["due_on"]), (&json!("overdue"), &json!("2026-01-10")));
    let book = book
        .file("log/2026/2026-02-15-new.md", entry("date: 2026-02-15\nwork: [New raft]\nfitted: [{gear: life-raft, expires: 2029-05}]\n"));
    // 2026-02-15 + 36 months, 990 days ahead.
    let after = row(&book.due(ON), "job", Some("life-raft"));
    assert_eq!((&after["state"], &after["due_on"], &after["last_done"]), (&json!("later"), &json!("2029-02-15"), &Value::Null));
    assert_eq!(after["remaining"], json!({"calendar": "990 days"}));
}

#[test]
fn a_replaced_counter_goes_on_counting() {
    // 5000 on 2025-06-01, 5190 when it was replaced by one at 0, 175 on 2026-06-01: 5365, one a day.
    // Done 100 days after the first, at 5100: due at 5400, 35 days on.
    let book = done(with("every: {miles: 300 nmi}\n"), "2025-09-09");
    case(&book, "later", Some("2026-07-06"), Some("miles"), json!({"miles": "35 nmi"}), true);
}

#[test]
fn an_entry_on_the_day_of_a_replacement_reads_the_old_counter() {
    let book = with("every: {miles: 300 nmi}\n")
        .file("log/2025/2025-12-08-job.md", entry("jobs: [job]\ndate: 2025-12-08\nmeters: {miles: 5190}\n"));
    // At 5190: due at 5490, 125 days after 2026-06-01.
    case(&book, "later", Some("2026-10-04"), Some("miles"), json!({"miles": "125 nmi"}), true);
}

#[test]
fn a_guide_may_count_in_another_unit_of_the_same_kind() {
    // 185.2 km are 100 nmi, exactly: 1852 m each. Done at 5100: due at 5200, passed after 200 days.
    let book = with("every: {miles: 185.2 km}\n");
    let row = row(&done(book, "2025-09-09").due(ON), "job", None);
    assert_eq!(
        (&row["state"], &row["due_on"], &row["remaining"]),
        (&json!("overdue"), &json!("2025-12-18"), &json!({"miles": "-165 nmi"}))
    );
}
