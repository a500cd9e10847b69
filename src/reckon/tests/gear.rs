//! Gear: its expiry, and its life starting again when it is renewed.

use crate::book::model::Book;
use crate::reckon::reckon;
use crate::reckon::testing::{Writing, book, case, day, entry, gear, guide};

fn raft() -> Book {
    book()
        .gear(gear("raft").fitted_on("2020-05-01").good_until("2026-05"))
        .guide(guide("service").every("calendar: 3 years").for_gear("raft"))
        .entry(entry("2023-05-10-service").job("service"))
}

#[track_caller]
fn life(book: &Book, on: &str, fitted: &str, expires: Option<&str>, days_left: Option<i64>) {
    let (reckoning, _) = reckon(book, day(on));
    let raft = reckoning.gear_of("raft").expect("the gear");
    assert_eq!(raft.fitted.map(|fitted| fitted.date.to_string()).as_deref(), Some(fitted));
    let last_day = raft.expires.map(|month| month.last_day.to_string());
    assert_eq!(last_day.as_deref(), expires);
    assert_eq!(raft.days_left, days_left);
    assert_eq!(raft.expired(), days_left.is_some_and(|days| days < 0));
}

#[test]
fn a_month_is_good_to_its_end() {
    life(&raft(), "2026-05-31", "2020-05-01", Some("2026-05-31"), Some(0));
    life(&raft(), "2026-06-01", "2020-05-01", Some("2026-05-31"), Some(-1));
}

#[test]
fn renewed_gear_starts_again_with_what_was_noted_of_it() {
    let book = raft().entry(entry("2026-04-10-new-raft").fits("raft", "2032-04")).entry(entry("2026-08-01-another").fits("raft", ""));
    life(&book, "2026-04-09", "2020-05-01", Some("2026-05-31"), Some(52));
    life(&book, "2026-04-10", "2026-04-10", Some("2032-04-30"), Some(2212));
    // Nothing noted: the old date is not the new raft's.
    life(&book, "2026-08-01", "2026-08-01", None, None);
}

#[test]
fn what_was_done_to_the_old_gear_no_longer_counts() {
    case(&raft(), "2026-04-10", "service/raft", "soon 2026-05-10 by calendar; calendar 30 days");
    let renewed = raft().entry(entry("2026-04-10-new-raft").fits("raft", "2032-04"));
    case(&renewed, "2026-04-10", "service/raft", "no record");
    let (reckoning, _) = reckon(&renewed, day("2026-04-10"));
    let job = reckoning.jobs_of("service").first().expect("the job");
    assert!(job.last_done.is_none());
    assert_eq!(job.history.len(), 1);
    // The entry that renews it may be the job itself, and others of that day count too.
    let serviced = raft().entry(entry("2026-04-10-new-raft").fits("raft", "2032-04").job("service/raft"));
    case(&serviced, "2026-04-10", "service/raft", "later 2029-04-10 by calendar; calendar 1096 days");
    let same_day = renewed.entry(entry("2026-04-10-again").job("service"));
    case(&same_day, "2026-04-10", "service/raft", "later 2029-04-10 by calendar; calendar 1096 days");
}

#[test]
fn first_counts_again_from_the_day_of_the_renewal() {
    // 1 h a day. Fitted anew on 11 January at 1010 h, though `boat.yaml` still says 0 h in 2020.
    let book = book()
        .row("2026-01-01,engine,1000")
        .row("2026-01-31,engine,1030")
        .gear(gear("alternator").with_meter("engine").fitted_on("2020-01-01").at("0 h"))
        .guide(guide("belt").first("own: 50 h").first("calendar: 3 months").for_gear("alternator"))
        .entry(entry("2026-01-11-alternator").fits("alternator", ""));
    case(&book, "2026-01-31", "belt/alternator", "later 2026-03-02 by engine, estimated; engine 30 h, calendar 70 days");
    // Any other meter is read on that day too.
    let by_miles =
        book.row("2026-01-01,miles,0").row("2026-01-31,miles,300").guide(guide("mount").first("miles: 500 nmi").for_gear("alternator"));
    // 10 nmi a day: 100 on 11 January, 600 thirty days after the last reading.
    case(&by_miles, "2026-01-31", "mount/alternator", "later 2026-03-02 by miles, estimated; miles 300 nmi");
}

#[test]
fn gear_that_nobody_knows_leaves_the_job_with_the_boat() {
    let book = book()
        .guide(guide("service").every("calendar: 1 year").for_gear("gone"))
        .entry(entry("2026-01-10-service").job("service/gone").fits("gone", "2030-01"));
    case(&book, "2026-01-10", "service", "later 2027-01-10 by calendar; calendar 365 days");
}

#[test]
fn a_service_before_the_gear_was_first_fitted_counts() {
    // Serviced ashore, then put aboard: only an entry that renews it starts a new life.
    let book = book()
        .gear(gear("raft").fitted_on("2026-02-01"))
        .guide(guide("service").every("calendar: 3 years").for_gear("raft"))
        .entry(entry("2026-01-10-service").job("service"));
    case(&book, "2026-02-01", "service/raft", "later 2029-01-10 by calendar; calendar 1074 days");
}
