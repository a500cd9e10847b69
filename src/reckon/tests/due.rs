//! Which rule governs, from when it counts, and on which day it is used up.

use super::meters::season;
use crate::book::model::Book;
use crate::reckon::testing::{Writing, book, case, entry, guide};

/// 100 h in a year of 365 days, and an oil change within it.
fn serviced() -> Book {
    book()
        .row("2025-06-01,engine,1000")
        .row("2026-06-01,engine,1100")
        .guide(guide("oil").every("engine: 200 h").every("calendar: 12 months"))
        .entry(entry("2026-01-10-oil").job("oil"))
}

#[test]
fn whichever_comes_first_governs() {
    // On 10 January the engine had 1000 + 100·223/365 h, so 200 h later is at 1261.1 h. The meter
    // gets there 588 days after its last reading; a year after 10 January comes first.
    case(&serviced(), "2026-06-01", "oil", "later 2027-01-10 by calendar; engine 161.1 h, calendar 223 days");
    case(&serviced(), "2027-01-10", "oil", "due 2027-01-10 by calendar; engine 100 h, calendar 0 days");
    case(&serviced(), "2027-01-11", "oil", "overdue 2027-01-10 by calendar; engine 99.7 h, calendar -1 day");
}

#[test]
fn the_meter_governs_where_it_gets_there_first() {
    // 96 h after 1204 is 1300, reached on day 151.04 of the season (numpy, see `season`).
    let book = season()
        .guide(guide("impeller").every("engine: 96 h").every("calendar: 12 months"))
        .entry(entry("2025-04-06-impeller").job("impeller"));
    case(&book, "2025-10-12", "impeller", "overdue 2025-09-05 by engine; engine -18 h, calendar 176 days");
}

#[test]
fn of_two_readings_of_a_day_that_of_the_work_counts_for_it() {
    // Done at 355 h, and the engine ran ten hours more that day: 90 h are left, at 65 h in 59 days for 81.7 days.
    let book = book()
        .row("2026-01-01,engine,300")
        .row("2026-02-01,engine,365")
        .row("2026-03-01,engine,365")
        .guide(guide("oil").every("engine: 100 h"))
        .entry(entry("2026-02-01-oil").job("oil").reads("engine", "355"));
    case(&book, "2026-03-01", "oil", "later 2026-05-22 by engine, estimated; engine 90 h");
}

#[test]
fn what_the_readings_have_not_reached_is_forecast_at_the_use_rate() {
    // 150 h after 1204 is 1354: 59.68… days after the last reading at the mean rate (numpy).
    let book = season().guide(guide("belt").every("engine: 150 h")).entry(entry("2025-04-06-belt").job("belt"));
    case(&book, "2025-10-12", "belt", "later 2025-12-11 by engine, estimated; engine 36 h");
}

#[test]
fn an_estimate_alone_never_makes_a_job_overdue() {
    // As of 15 August: 86.5 h in 131 days, 9.5 h to go: 14.4 days.
    let book = season().guide(guide("impeller").every("engine: 96 h")).entry(entry("2025-04-06-impeller").job("impeller"));
    case(&book, "2025-08-15", "impeller", "soon 2025-08-30 by engine, estimated; engine 9.5 h");
    case(&book, "2025-08-30", "impeller", "due 2025-08-30 by engine, estimated, read the meter; engine -0.4 h");
    case(&book, "2025-10-11", "impeller", "due 2025-08-30 by engine, estimated, read the meter; engine -28.1 h");
    // The reading of 12 October settles it.
    case(&book, "2025-10-12", "impeller", "overdue 2025-09-05 by engine; engine -18 h");
}

#[test]
fn what_readings_have_passed_is_overdue_even_where_an_earlier_forecast_governs() {
    // Engine: 1 h a day, 40 h is forecast for 10 February. Miles: 2 a day, 90 were there on day 45.
    let book = book()
        .row("2026-01-01,engine,0")
        .row("2026-01-31,engine,30")
        .row("2026-01-01,miles,0")
        .row("2026-02-20,miles,100")
        .guide(guide("gland").every("engine: 40 h").every("miles: 90 nmi"))
        .entry(entry("2026-01-01-gland").job("gland"));
    case(&book, "2026-02-20", "gland", "overdue 2026-02-10 by engine, estimated; engine -10 h, miles -10 nmi");
}

#[test]
fn on_one_day_the_meter_comes_before_the_calendar() {
    // 1 h a day: 59 h and two months after 1 January are both 1 March.
    let book = book()
        .row("2026-01-01,engine,0")
        .row("2026-01-31,engine,30")
        .guide(guide("oil").every("calendar: 2 months").every("engine: 59 h"))
        .entry(entry("2026-01-01-oil").job("oil"));
    case(&book, "2026-01-31", "oil", "later 2026-03-01 by engine, estimated; calendar 29 days, engine 29 h");
}

#[test]
fn without_a_rate_a_meter_rule_has_no_date() {
    let oil = guide("oil").every("engine: 50 h");
    let book = book()
        .row("2026-01-01,engine,100")
        .guide(oil)
        .guide(guide("filter").every("engine: 50 h").every("calendar: 1 year"))
        .entry(entry("2026-01-01-oil").job("oil").job("filter"));
    case(&book, "2026-01-01", "oil", "later by engine; engine 50 h");
    // Nothing can be carried on, so what is left is said as of the last reading: 100 + 50 - 100.
    case(&book, "2026-02-01", "oil", "later by engine; engine 50 h");
    case(&book, "2026-02-01", "filter", "later 2027-01-01 by calendar; engine 50 h, calendar 334 days");
}

#[test]
fn a_single_reading_past_the_mark_is_overdue_since_that_reading() {
    let first = |reading: &str| book().row(&format!("2026-01-05,engine,{reading}")).guide(guide("oil").first("engine: 50 h"));
    case(&first("60"), "2026-01-05", "oil", "overdue 2026-01-05 by engine; engine -10 h");
    case(&first("60"), "2026-01-06", "oil", "overdue 2026-01-05 by engine; engine -10 h");
    case(&first("50"), "2026-01-05", "oil", "due 2026-01-05 by engine; engine 0 h");
    case(&first("50"), "2026-01-06", "oil", "overdue 2026-01-05 by engine; engine 0 h");
}

#[test]
fn intervals_are_converted_into_the_units_of_the_meter() {
    // 185.2 km are 100 nmi (1852 m each), at 10 nmi a day.
    let book = book()
        .row("2026-01-01,miles,0")
        .row("2026-01-06,miles,50")
        .guide(guide("anode").every("miles: 185.2 km"))
        .guide(guide("nonsense").every("miles: 5 L"))
        .entry(entry("2026-01-01-anode").job("anode").job("nonsense"));
    case(&book, "2026-01-06", "anode", "later 2026-01-11 by miles, estimated; miles 50 nmi");
    case(&book, "2026-01-06", "nonsense", "later by miles");
}

#[test]
fn a_baseline_that_is_only_about_makes_the_date_an_estimate_but_softens_nothing() {
    // About January 2026 stands for 1 January.
    let book = book().guide(guide("raft").every("calendar: 12 months")).entry(entry("2026-01-15-raft on ~2026-01").job("raft"));
    case(&book, "2026-06-01", "raft", "later 2027-01-01 by calendar, estimated; calendar 214 days");
    case(&book, "2027-01-02", "raft", "overdue 2027-01-01 by calendar, estimated; calendar -1 day");
}

#[test]
fn a_baseline_read_only_about_makes_the_date_an_estimate_but_softens_nothing() {
    // 1 h a day from about 100: 50 h later is day 50, which the reading of day 60 has passed.
    let book = book()
        .guide(guide("oil").every("engine: 50 h"))
        .entry(entry("2026-01-01-oil").job("oil").reads("engine", "~100"))
        .row("2026-03-02,engine,160");
    case(&book, "2026-03-02", "oil", "overdue 2026-02-20 by engine, estimated; engine -10 h");
}

#[test]
fn a_baseline_before_the_first_reading_is_carried_back() {
    // 1 h a day; ten days before the first reading it was 90, and 100 h later is day 90 from then.
    let book = book()
        .row("2026-01-11,engine,100")
        .row("2026-01-31,engine,120")
        .guide(guide("oil").every("engine: 100 h"))
        .entry(entry("2026-01-01-oil").job("oil"));
    case(&book, "2026-01-31", "oil", "later 2026-04-11 by engine, estimated; engine 70 h");
}

#[test]
fn calendar_intervals_clamp_at_the_end_of_the_month_and_count_from_the_anchor() {
    // python-dateutil: see the table of months.
    let book = book()
        .guide(guide("month").every("calendar: 1 month"))
        .guide(guide("half").every("calendar: 6 months"))
        .guide(guide("fortnight").every("calendar: 2 weeks"))
        .entry(entry("2025-08-31-all").job("month").job("half").job("fortnight"));
    case(&book, "2025-08-31", "month", "later 2025-09-30 by calendar; calendar 30 days");
    case(&book, "2025-08-31", "half", "later 2026-02-28 by calendar; calendar 181 days");
    case(&book, "2025-08-31", "fortnight", "later 2025-09-14 by calendar; calendar 14 days");
}

#[test]
fn a_date_past_the_end_of_the_calendar_is_no_date() {
    let book = book()
        .guide(guide("hull").every("calendar: 100 years"))
        .entry(entry("2999-12-31-hull").job("hull"))
        .meter("slow", "days")
        .row("2026-01-01,slow,0")
        .row("2999-12-30,slow,0.000000001")
        .guide(guide("clock").every("slow: 999999999999 days"))
        .entry(entry("2026-01-01-clock").job("clock"));
    case(&book, "2999-12-31", "hull", "later 3099-12-31 by calendar; calendar 36524 days");
    case(&book, "2999-12-31", "clock", "later by slow; slow 999999999999 days");
}

#[test]
fn a_day_that_is_only_about_makes_a_date_by_the_meter_an_estimate() {
    let book = book()
        .row("2026-01-01,engine,100")
        .row("2026-03-02,engine,160")
        .guide(guide("oil").every("engine: 50 h"))
        .entry(entry("2026-01-01-oil on ~2026-01").job("oil"));
    case(&book, "2026-03-02", "oil", "overdue 2026-02-20 by engine, estimated; engine -10 h");
}

#[test]
fn a_baseline_between_a_reading_and_a_guess_is_a_guess() {
    // 1 h a day from about 100 on 1 January: 110 on the 11th, and 50 h later is 2 March.
    let book = book()
        .entry(entry("2026-01-01-note").reads("engine", "~100"))
        .row("2026-03-02,engine,160")
        .guide(guide("oil").every("engine: 50 h"))
        .entry(entry("2026-01-11-oil").job("oil"));
    case(&book, "2026-03-02", "oil", "due 2026-03-02 by engine, estimated; engine 0 h");
}

#[test]
fn readings_that_passed_a_carried_back_baseline_make_it_overdue_by_estimate() {
    // 1 h a day; 90 ten days before the first reading, and 115 fifteen days after it.
    let book = book()
        .row("2026-01-11,engine,100")
        .row("2026-01-31,engine,120")
        .guide(guide("oil").every("engine: 25 h"))
        .entry(entry("2026-01-01-oil").job("oil"));
    case(&book, "2026-01-31", "oil", "overdue 2026-01-26 by engine, estimated; engine -5 h");
}

#[test]
fn a_covered_job_is_not_begun_with_the_one_that_covers_it() {
    // 2026-01-01 and a year; the unfinished service has not looked at anything yet.
    let book = book()
        .guide(guide("service").covers("look"))
        .guide(guide("look").every("calendar: 1 year"))
        .entry(entry("2026-01-01-look").job("look"))
        .entry(entry("2026-02-01-service open").job("service"));
    case(&book, "2026-03-01", "look", "later 2027-01-01 by calendar; calendar 306 days");
    case(&book, "2026-03-01", "service", "open");
}
