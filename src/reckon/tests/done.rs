//! Which entries count as done: of the job itself, of one that covers it, and for which gear.

use crate::book::model::Book;
use crate::reckon::reckon;
use crate::reckon::testing::{Writing, book, case, day, entry, gear, guide};

fn yearly() -> Book {
    book().guide(guide("rig").every("calendar: 12 months"))
}

#[test]
fn doing_a_job_counts_for_those_it_covers_but_not_for_what_they_cover() {
    let book = yearly()
        .guide(guide("level").every("calendar: 1 month"))
        .guide(guide("oil").every("calendar: 6 months").covers("level"))
        .guide(guide("overhaul").every("calendar: 5 years").covers("oil").covers("gone"))
        .entry(entry("2026-01-10-overhaul").job("overhaul"));
    case(&book, "2026-01-10", "oil", "later 2026-07-10 by calendar; calendar 181 days");
    case(&book, "2026-01-10", "level", "no record");
    let (reckoning, _) = reckon(&book, day("2026-01-10"));
    let done = reckoning.jobs_of("oil").first().and_then(|job| job.last_done);
    let through = done.and_then(|done| done.through).map(|guide| guide.id.as_str());
    assert_eq!(through, Some("overhaul"));
}

#[test]
fn an_entry_that_names_a_job_and_one_that_covers_it_counts_once() {
    let book = yearly().guide(guide("overhaul").covers("rig")).entry(entry("2026-01-10-all").job("overhaul").job("rig"));
    let (reckoning, _) = reckon(&book, day("2026-02-01"));
    let job = reckoning.jobs_of("rig").first().expect("the job");
    assert_eq!(job.history.len(), 1);
    assert!(job.last_done.is_some_and(|done| done.through.is_none()));
}

#[test]
fn an_old_name_is_still_that_guide() {
    let book = book()
        .guide(guide("oil").every("calendar: 6 months").formerly("engine-oil"))
        .guide(guide("overhaul").covers("engine-oil"))
        .entry(entry("2026-01-10-oil").job("engine-oil"))
        .entry(entry("2026-03-10-overhaul").job("overhaul"));
    case(&book, "2026-01-10", "oil", "later 2026-07-10 by calendar; calendar 181 days");
    case(&book, "2026-03-10", "oil", "later 2026-09-10 by calendar; calendar 184 days");
}

#[test]
fn of_two_guides_that_had_one_name_everybody_means_the_first() {
    let book = book()
        .guide(guide("anodes").every("calendar: 6 months").formerly("zinc"))
        .guide(guide("zincs").every("calendar: 6 months").formerly("zinc"))
        .entry(entry("2026-01-10-zinc").job("zinc"));
    case(&book, "2026-01-10", "anodes", "later 2026-07-10 by calendar; calendar 181 days");
    case(&book, "2026-01-10", "zincs", "no record");
    assert_eq!(book.guide_or_former("zinc").map(|guide| guide.id.as_str()), Some("anodes"));
}

/// Two engines, and a job for each.
fn twins() -> Book {
    book()
        .gear(gear("port"))
        .gear(gear("starboard"))
        .guide(guide("belt").every("calendar: 12 months").for_gear("port").for_gear("starboard"))
}

#[test]
fn a_job_for_several_counts_for_the_one_that_is_named_or_for_all() {
    let one = twins().entry(entry("2026-01-10-belt").job("belt/port"));
    case(&one, "2026-01-10", "belt/port", "later 2027-01-10 by calendar; calendar 365 days");
    case(&one, "2026-01-10", "belt/starboard", "no record");
    let both = twins().entry(entry("2026-01-10-belt").job("belt"));
    case(&both, "2026-01-10", "belt/starboard", "later 2027-01-10 by calendar; calendar 365 days");
}

#[test]
fn covering_goes_by_gear_where_the_covered_job_does() {
    const YES: &str = "later 2027-01-10 by calendar; calendar 365 days";
    let covering = |guide: crate::book::model::Guide, job: &str| {
        twins()
            .guide(guide.covers("belt").covers("rig"))
            .guide(crate::reckon::testing::guide("rig").every("calendar: 12 months"))
            .entry(entry("2026-01-10-service").job(job))
    };
    let for_each = || guide("service").for_gear("port").for_gear("starboard");
    let one = covering(for_each(), "service/port");
    case(&one, "2026-01-10", "belt/port", YES);
    case(&one, "2026-01-10", "belt/starboard", "no record");
    // A covered job that is for no gear is done for the boat.
    case(&one, "2026-01-10", "rig", YES);
    let all = covering(for_each(), "service");
    case(&all, "2026-01-10", "belt/starboard", YES);
    // A covering job for no gear covers all of it.
    let boat = covering(guide("service"), "service");
    case(&boat, "2026-01-10", "belt/port", YES);
    case(&boat, "2026-01-10", "belt/starboard", YES);
    // One for port alone says nothing of starboard.
    let port_only = covering(guide("service").for_gear("port"), "service");
    case(&port_only, "2026-01-10", "belt/port", YES);
    case(&port_only, "2026-01-10", "belt/starboard", "no record");
}

#[test]
fn the_latest_counts_and_of_one_day_the_last_by_name() {
    let book = yearly()
        .entry(entry("2026-01-10-b").job("rig"))
        .entry(entry("2026-01-10-a").job("rig"))
        .entry(entry("2025-12-01-late done 2026-01-09").job("rig"));
    let (reckoning, _) = reckon(&book, day("2026-02-01"));
    let job = reckoning.jobs_of("rig").first().expect("the job");
    let history: Vec<&str> = job.history.iter().map(|done| done.entry.id.as_str()).collect();
    assert_eq!(history, ["2026-01-10-b", "2026-01-10-a", "2025-12-01-late"]);
    assert_eq!(job.last_done.map(|done| done.entry.id.as_str()), Some("2026-01-10-b"));
}
