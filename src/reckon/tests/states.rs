//! Every state, in the order in which they are tried.

use crate::book::model::Book;
use crate::reckon::testing::{Writing, book, case, day, entry, guide, line, number};
use crate::reckon::{State, reckon};

#[test]
fn the_words_are_those_of_the_json() {
    let words = State::ALL.map(State::word);
    assert_eq!(words, ["overdue", "no record", "due", "open", "soon", "later", "on occasion", "as needed"]);
}

fn yearly() -> Book {
    book().guide(guide("rig").every("calendar: 12 months"))
}

#[test]
fn an_open_entry_makes_a_job_open_and_keeps_the_date_of_the_last_finished_one() {
    let book = yearly().entry(entry("2026-01-10-rig").job("rig")).entry(entry("2026-05-01-rig open").job("rig"));
    case(&book, "2026-04-30", "rig", "later 2027-01-10 by calendar; calendar 255 days");
    case(&book, "2026-06-01", "rig", "open 2027-01-10 by calendar; calendar 223 days");
    // However late it is.
    case(&book, "2027-01-20", "rig", "open 2027-01-10 by calendar; calendar -10 days");
    let never = yearly().entry(entry("2026-05-01-rig open").job("rig"));
    case(&never, "2026-06-01", "rig", "open");
}

#[test]
fn only_its_own_done_closes_an_open_entry() {
    let book = yearly().entry(entry("2026-05-01-rig open").job("rig")).entry(entry("2026-05-20-rig").job("rig"));
    case(&book, "2026-06-01", "rig", "open 2027-05-20 by calendar; calendar 353 days");
    let closed = yearly().entry(entry("2026-05-01-rig done 2026-05-20").job("rig"));
    case(&closed, "2026-06-01", "rig", "later 2027-05-20 by calendar; calendar 353 days");
}

#[test]
fn an_entry_begun_by_then_and_done_later_is_left_out_whole() {
    let book = yearly().entry(entry("2026-05-01-rig done 2026-05-20").job("rig"));
    case(&book, "2026-05-10", "rig", "no record");
}

#[test]
fn a_round_is_never_late() {
    let round = || guide("round").every("calendar: 1 day").routine().occasion("before-passage");
    case(&book().guide(round()), "2026-06-01", "round", "as needed");
    let done = book().guide(round()).entry(entry("2026-01-01-round").job("round"));
    case(&done, "2026-06-01", "round", "as needed");
    let open = book().guide(round()).entry(entry("2026-01-01-round open").job("round"));
    case(&open, "2026-06-01", "round", "open");
}

#[test]
fn without_any_interval_the_occasion_decides() {
    let book = book()
        .guide(guide("antifouling").occasion("haul-out"))
        .guide(guide("splice"))
        .entry(entry("2026-01-01-both").job("antifouling").job("splice"));
    case(&book, "2026-06-01", "antifouling", "on occasion");
    case(&book, "2026-06-01", "splice", "as needed");
}

#[test]
fn an_interval_that_was_never_begun_is_no_record() {
    case(&yearly(), "2026-06-01", "rig", "no record");
    // `first` by a meter that nobody reads.
    let unread = book().guide(guide("oil").first("engine: 50 h").every("engine: 100 h"));
    case(&unread, "2026-06-01", "oil", "no record");
}

#[test]
fn overdue_is_from_the_day_after() {
    let book = yearly().entry(entry("2026-01-10-rig").job("rig"));
    case(&book, "2027-01-09", "rig", "soon 2027-01-10 by calendar; calendar 1 day");
    case(&book, "2027-01-10", "rig", "due 2027-01-10 by calendar; calendar 0 days");
    case(&book, "2027-01-11", "rig", "overdue 2027-01-10 by calendar; calendar -1 day");
}

#[test]
fn soon_is_a_share_of_the_interval_of_at_least_a_week_and_at_most_sixty_days() {
    let book = book()
        .guide(guide("year").every("calendar: 12 months"))
        .guide(guide("month").every("calendar: 30 days"))
        .guide(guide("years").every("calendar: 5 years"))
        .entry(entry("2026-01-01-all").job("year").job("month").job("years"));
    // A tenth of 365 days is 36 whole days.
    case(&book, "2026-11-25", "year", "later 2027-01-01 by calendar; calendar 37 days");
    case(&book, "2026-11-26", "year", "soon 2027-01-01 by calendar; calendar 36 days");
    // A tenth of 30 days would be 3.
    case(&book, "2026-01-23", "month", "later 2026-01-31 by calendar; calendar 8 days");
    case(&book, "2026-01-24", "month", "soon 2026-01-31 by calendar; calendar 7 days");
    // A tenth of five years would be 182.
    case(&book, "2030-11-01", "years", "later 2031-01-01 by calendar; calendar 61 days");
    case(&book, "2030-11-02", "years", "soon 2031-01-01 by calendar; calendar 60 days");
}

#[test]
fn soon_by_a_meter_is_its_value_of_the_day_compared_exactly() {
    // 1 h a day; 100 h after 1 January are there on 11 April, and a tenth is left from 1 April.
    let mut book = book()
        .row("2026-01-01,engine,0")
        .row("2026-01-31,engine,30")
        .guide(guide("oil").every("engine: 100 h"))
        .entry(entry("2026-01-01-oil").job("oil"));
    case(&book, "2026-03-31", "oil", "later 2026-04-11 by engine, estimated; engine 11 h");
    case(&book, "2026-04-01", "oil", "soon 2026-04-11 by engine, estimated; engine 10 h");
    // A boat that wants to know earlier.
    book.boat.soon_percent = Some(number("50"));
    case(&book, "2026-02-19", "oil", "later 2026-04-11 by engine, estimated; engine 51 h");
    case(&book, "2026-02-20", "oil", "soon 2026-04-11 by engine, estimated; engine 50 h");
}

#[test]
fn any_rule_that_is_near_makes_it_soon() {
    // 92 h in two months, then laid up: the calendar governs and is 61 days off, but by the meter
    // no more than a tenth is left.
    let book = book()
        .row("2026-01-01,engine,0")
        .row("2026-03-02,engine,92")
        .row("2027-11-01,engine,92.1")
        .guide(guide("oil").every("engine: 100 h").every("calendar: 24 months"))
        .entry(entry("2026-01-01-oil").job("oil"));
    case(&book, "2027-11-01", "oil", "soon 2028-01-01 by calendar; engine 7.9 h, calendar 61 days");
}

#[test]
fn a_notice_replaces_the_shares() {
    let book = book()
        .guide(guide("raft").every("calendar: 12 months").notice("6 months"))
        .guide(guide("bilge").every("calendar: 30 days").notice("3 days"))
        .entry(entry("2026-01-31-both").job("raft").job("bilge"));
    // Six months before 31 January is 31 July.
    case(&book, "2026-07-30", "raft", "later 2027-01-31 by calendar; calendar 185 days");
    case(&book, "2026-07-31", "raft", "soon 2027-01-31 by calendar; calendar 184 days");
    case(&book, "2026-02-26", "bilge", "later 2026-03-02 by calendar; calendar 4 days");
    case(&book, "2026-02-27", "bilge", "soon 2026-03-02 by calendar; calendar 3 days");
}

#[test]
fn the_most_pressing_comes_first() {
    let every = |id: &str, interval: &str| guide(id).every(&format!("calendar: {interval}"));
    let book = book()
        .guide(every("a-later", "24 months"))
        .guide(every("b-overdue", "2 months"))
        .guide(every("c-overdue-longer", "1 month"))
        .guide(every("d-never", "1 month"))
        .guide(every("e-open", "1 month"))
        .guide(every("f-due", "151 days"))
        .guide(every("g-soon", "155 days"))
        .guide(guide("h-as-needed"))
        .guide(guide("i-occasion").occasion("haul-out"))
        .guide(every("j-overdue-too", "2 months"))
        .entry(
            ["a-later", "b-overdue", "c-overdue-longer", "f-due", "g-soon", "j-overdue-too"]
                .into_iter()
                .fold(entry("2026-01-01-all"), crate::book::model::Entry::job),
        )
        .entry(entry("2026-02-01-begun open").job("e-open"));
    // 151 days after 1 January is 1 June.
    let (reckoning, _) = reckon(&book, day("2026-06-01"));
    let lines: Vec<String> = reckoning.by_urgency().iter().map(|job| format!("{}: {}", job.guide.id, line(job))).collect();
    assert_eq!(
        lines,
        [
            "c-overdue-longer: overdue 2026-02-01 by calendar; calendar -120 days",
            "b-overdue: overdue 2026-03-01 by calendar; calendar -92 days",
            "j-overdue-too: overdue 2026-03-01 by calendar; calendar -92 days",
            "d-never: no record",
            "f-due: due 2026-06-01 by calendar; calendar 0 days",
            "e-open: open",
            "g-soon: soon 2026-06-05 by calendar; calendar 4 days",
            "a-later: later 2028-01-01 by calendar; calendar 579 days",
            "i-occasion: on occasion",
            "h-as-needed: as needed",
        ]
    );
}
