//! The first interval of new gear, and from when it counts.

use crate::book::model::Book;
use crate::reckon::testing::{Writing, book, case, entry, gear, guide};

/// 1 h a day from 10 h.
fn new_engine() -> Book {
    book().row("2026-01-01,engine,10").row("2026-01-31,engine,40")
}

#[test]
fn until_it_was_done_once_only_first_counts_and_then_only_every() {
    let oil = || guide("oil").first("engine: 50 h").every("engine: 100 h");
    let never = new_engine().guide(oil());
    // From 0 on the meter: 50 h are there ten days after the reading of 40.
    case(&never, "2026-01-31", "oil", "later 2026-02-10 by engine, estimated; engine 10 h");
    // At 29 h on 20 January; 129 h are there 89 days after 31 January.
    let done = new_engine().guide(oil()).entry(entry("2026-01-20-oil").job("oil"));
    case(&done, "2026-01-31", "oil", "later 2026-04-30 by engine, estimated; engine 89 h");
    // Without `every` the first time was the only one.
    let once = new_engine().guide(guide("oil").first("engine: 50 h")).entry(entry("2026-01-20-oil").job("oil"));
    case(&once, "2026-01-31", "oil", "as needed");
}

#[test]
fn a_first_calendar_interval_counts_from_when_she_was_put_in_service() {
    let check = || guide("bolts").first("calendar: 6 months").every("calendar: 5 years");
    let book = book().in_service("2019-04-01").guide(check());
    case(&book, "2019-04-02", "bolts", "later 2019-10-01 by calendar; calendar 182 days");
    let unknown = new_engine().guide(check());
    case(&unknown, "2019-04-02", "bolts", "no record");
}

/// 1 h a day from 1000 h, on a meter of the port engine's own.
fn port() -> Book {
    book()
        .meter("port", "h")
        .row("2026-01-01,port,1000")
        .row("2026-01-31,port,1030")
        .guide(guide("oil").first("own: 50 h").every("own: 100 h").for_gear("port-engine"))
}

#[test]
fn a_first_interval_by_the_meter_counts_from_what_it_showed_when_the_gear_was_fitted() {
    let port_engine = || gear("port-engine").with_meter("port");
    let shown = port().gear(port_engine().fitted_on("2026-01-01").at("1000 h"));
    case(&shown, "2026-01-31", "oil/port-engine", "later 2026-02-20 by port, estimated; port 20 h");
    // Not noted: what it showed on that day, 1010.
    let dated = port().gear(port_engine().fitted_on("2026-01-11"));
    case(&dated, "2026-01-31", "oil/port-engine", "later 2026-03-02 by port, estimated; port 30 h");
    // Nothing known: from 0, which the first reading had passed.
    let unknown = port().gear(port_engine());
    case(&unknown, "2026-01-31", "oil/port-engine", "overdue 2026-01-01 by port; port -980 h");
    // About that day: the date is an estimate, and the readings have passed nothing.
    let about = port().gear(port_engine().fitted_on("~2026-01").at("1000 h"));
    case(&about, "2026-01-31", "oil/port-engine", "later 2026-02-20 by port, estimated; port 20 h");
    // No meter of its own: no date.
    let without = port().gear(gear("port-engine").fitted_on("2026-01-01"));
    case(&without, "2026-01-31", "oil/port-engine", "no record");
}

#[test]
fn gear_fitted_on_the_day_of_a_new_counter_begins_at_the_one_that_fits() {
    // The old counter ended at 1000 on the day; the new one shows 30 thirty days later. Fitted with
    // the new counter at 0, or under the old one at 1000, it begins at the same point.
    for shown in ["0 h", "1000 h"] {
        let port_engine = gear("port-engine").with_meter("port");
        let book = book()
            .meter("port", "h")
            .row("2025-12-02,port,970")
            .row("2026-01-01,port,1000,0")
            .row("2026-01-31,port,30")
            .guide(guide("oil").first("own: 50 h").for_gear("port-engine"))
            .gear(port_engine.fitted_on("2026-01-01").at(shown));
        case(&book, "2026-01-31", "oil/port-engine", "later 2026-02-20 by port, estimated; port 20 h");
    }
}

#[test]
fn gear_fitted_after_she_was_put_in_service_counts_from_its_own_day() {
    let book = book()
        .in_service("2019-04-01")
        .gear(gear("raft").fitted_on("2026-01-10"))
        .guide(guide("lashing").first("calendar: 3 months").for_gear("raft"));
    case(&book, "2026-01-10", "lashing/raft", "later 2026-04-10 by calendar; calendar 90 days");
}

#[test]
fn own_is_the_meter_of_each_gear() {
    let book = port()
        .meter("starboard", "h")
        .row("2026-01-01,starboard,500")
        .row("2026-01-31,starboard,560")
        .gear(gear("port-engine").with_meter("port"))
        .gear(gear("starboard-engine").with_meter("starboard"))
        .guide(guide("belt").every("own: 100 h").for_gear("port-engine").for_gear("starboard-engine"))
        .entry(entry("2026-01-01-belt").job("belt"));
    case(&book, "2026-01-31", "belt/port-engine", "later 2026-04-11 by port, estimated; port 70 h");
    case(&book, "2026-01-31", "belt/starboard-engine", "later 2026-02-20 by starboard, estimated; starboard 40 h");
}

#[test]
fn gear_fitted_after_the_only_reading_is_not_late_before_it_was_fitted() {
    // Read once, at 266 h on 12 May; no use rate. The engine put in on 15 June has its first 5 h from then on:
    // the counter showed no less than 266 h that day, so it is due at 271 h at the earliest, and nobody knows when.
    let renewed = book()
        .meter("eng", "h")
        .row("2026-05-12,eng,266")
        .gear(gear("engine").with_meter("eng"))
        .guide(guide("bolts").first("own: 5 h").for_gear("engine"))
        .entry(entry("2026-06-15-engine").fits("engine", ""));
    case(&renewed, "2026-07-16", "bolts/engine", "later by eng; eng 5 h");
}

#[test]
fn a_first_interval_on_a_meter_read_once_says_what_is_left() {
    // 200 h from 0; 40 h at the only reading: 160 h left, and no date without a use rate.
    let book = book().meter("gen", "h").row("2026-05-01,gen,40").guide(guide("break-in").first("gen: 200 h"));
    case(&book, "2026-05-31", "break-in", "later by gen; gen 160 h");
    // 210 h at the only reading: past it, so overdue since that reading.
    let past = self::book().meter("gen", "h").row("2026-05-01,gen,210").guide(guide("break-in").first("gen: 200 h"));
    case(&past, "2026-05-31", "break-in", "overdue 2026-05-01 by gen; gen -10 h");
}
