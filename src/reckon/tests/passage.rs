//! A passage: what is to be done before it, what falls due under way, what is clear, in order.

use crate::book::model::{Book, Grade, Passage};
use crate::quantity::plain_decimal;
use crate::reckon::testing::{Writing, book, day, entry, gear, guide, passage as trip, told};
use crate::reckon::{Course, PassageState, Reckoning, UnderWay, passage, reckon};

/// On 1 May the engine has 230 h, and has run 1 h a day for 100 days.
fn steady() -> Book {
    book().row("2026-01-21,engine,130").row("2026-05-01,engine,230")
}

fn on_passage<T>(book: &Book, trip: &Passage, check: impl FnOnce(&Reckoning<'_>, &PassageState<'_, '_>) -> T) -> T {
    let (reckoning, _) = reckon(book, day("2026-05-01"));
    check(&reckoning, &passage(&reckoning, trip))
}

/// `before: oil 1` of each job.
#[track_caller]
fn jobs(book: &Book, trip: &Passage, expected: &[&str]) {
    let found: Vec<String> = on_passage(book, trip, |_, state| {
        state.jobs.iter().map(|on| format!("{}: {} {}", on.stage.word(), on.job.guide.id, on.falls.times)).collect()
    });
    assert_eq!(found, expected);
}

#[test]
fn jobs_come_by_what_they_mean_for_the_passage() {
    // 261 h on 1 June; 50 h in ten days are 5 h a day. All were done on 1 May at 230 h.
    let trip = trip("2026-06-01").days(10).runs("engine", "50 h");
    let done = ["late", "quick", "anywhere", "afloat", "last", "clear"];
    let book = steady()
        .guide(guide("late").every("calendar: 1 month"))
        // Due at 270 h: 9 h under way are day 1.8. 40 h later are 49 h, day 9.8.
        .guide(guide("quick").every("engine: 40 h").done("moored"))
        // 280 h: 19 h are day 3.8.
        .guide(guide("anywhere").every("engine: 50 h"))
        // 265 h: 4 h are day 0.8. 35 h later are 39 h, day 7.8.
        .guide(guide("afloat").every("engine: 35 h").done("under-way, moored"))
        // 311 h: 50 h are the last day.
        .guide(guide("last").every("engine: 81 h").done("at-anchor, ashore"))
        // 312 h: 51 h.
        .guide(guide("clear").every("engine: 82 h"))
        .guide(guide("never").every("calendar: 1 year"))
        .guide(guide("round").routine())
        .entry(done.iter().fold(entry("2026-05-01-all"), |entry, job| entry.job(job)));
    let expected = [
        "before: never 1",
        "before: late 1",
        // Those that cannot be done under way, by day; then where nothing is said; then those that can.
        "under way: quick 2",
        "under way: last 1",
        "under way: anywhere 1",
        "under way: afloat 2",
        "clear: clear 0",
        "clear: round 0",
    ];
    jobs(&book, &trip, &expected);
    let where_done = on_passage(&book, &trip, |_, state| state.jobs.iter().map(|on| on.under_way).collect::<Vec<_>>());
    let (said_not, no, yes) = (UnderWay::NotSaid, UnderWay::Cannot, UnderWay::Can);
    assert_eq!(where_done, [said_not, said_not, no, no, said_not, yes, said_not, said_not]);
}

#[test]
fn without_figures_only_what_is_due_by_departure_is_told() {
    let book = steady()
        .guide(guide("oil").every("engine: 100 h"))
        .guide(guide("look").every("calendar: 1 month"))
        .entry(entry("2026-05-01-all").job("oil").job("look"));
    jobs(&book, &trip("2026-06-01"), &["before: look 1", "clear: oil 0"]);
    // 1 h a day from 230 h: 330 h on 9 August.
    jobs(&book, &trip("2026-08-09"), &["before: look 1", "before: oil 1"]);
    jobs(&book, &trip("2026-08-08"), &["before: look 1", "clear: oil 0"]);
}

#[test]
fn passages_do_not_add_up() {
    // Due at 630 h. 261 h on 1 June and 291 h on 1 July; with 300 h each they end at 561 h and 591 h.
    let book = steady().guide(guide("oil").every("engine: 400 h")).entry(entry("2026-05-01-oil").job("oil"));
    let first = trip("2026-06-01").days(10).runs("engine", "300 h");
    let second = trip("2026-07-01").days(10).runs("engine", "300 h");
    jobs(&book, &first, &["clear: oil 0"]);
    jobs(&book, &second, &["clear: oil 0"]);
}

#[test]
fn defects_come_by_what_they_keep_her_from() {
    let book = steady()
        .entry(entry("2026-03-01-look").finds("Weep", Grade::Watch).finds("Wire broken", Grade::Act))
        .entry(entry("2026-02-01-look").finds("Play", Grade::Watch).before("before-passage").finds("Crack", Grade::Act).before("haul-out"))
        .entry(entry("2026-04-01-look").finds("Rust", Grade::Watch).before("2026-06").finds("Paint", Grade::Watch).before("2026-07"))
        .entry(entry("2026-04-02-look").finds("Dull", Grade::Watch).before("haul-out").finds("Sound", Grade::Good))
        .entry(entry("2026-04-03-wire").clears("2026-03-01-look", 1));
    let found = |trip: &Passage| {
        on_passage(&book, trip, |_, state| {
            let what = |defects: &[&crate::reckon::Defect<'_>]| {
                defects.iter().map(|defect| defect.finding().expect("a finding").what.clone()).collect::<Vec<_>>()
            };
            (what(&state.to_act_on), what(&state.to_put_right))
        })
    };
    let words = |words: &[&str]| words.iter().map(|word| (*word).to_owned()).collect::<Vec<_>>();
    // June 2026 ends on the 30th: the day of return.
    assert_eq!(found(&trip("2026-06-20").days(10)), (words(&["Crack", "Wire broken"]), words(&["Play", "Rust"])));
    assert_eq!(found(&trip("2026-06-20").days(9)), (words(&["Crack", "Wire broken"]), words(&["Play"])));
}

#[test]
fn what_limits_how_she_may_be_used_is_told_whenever_it_is_to_be_put_right() {
    let book = steady()
        .entry(entry("2026-03-01-look").finds("Hairline", Grade::Watch).before("haul-out").limits_use("no mizzen over 20 kn"))
        .entry(entry("2026-03-02-look").finds("Weep", Grade::Watch).finds("Crack", Grade::Act).limits_use("no motoring"))
        .entry(entry("2026-03-03-look").finds("Play", Grade::Watch).before("before-passage").limits_use("hand steering"));
    let limiting = on_passage(&book, &trip("2026-06-20").days(10), |_, state| {
        state.limiting.iter().map(|defect| defect.finding().expect("a finding").what.clone()).collect::<Vec<_>>()
    });
    // The others stand with those to be put right already, each with its limit.
    assert_eq!(limiting, ["Hairline"]);
}

#[test]
fn gear_that_expires_before_the_return_is_told_soonest_first() {
    let book = steady()
        .gear(gear("flares").good_until("2026-06"))
        .gear(gear("raft").good_until("2026-07"))
        .gear(gear("beacon").good_until("2025-12"))
        .gear(gear("hoses"));
    let found = |days: u32| {
        on_passage(&book, &trip("2026-06-20").days(days), |_, state| {
            state.expiring.iter().map(|gear| gear.gear.id.value.clone()).collect::<Vec<_>>()
        })
    };
    // With 10 days the return is on 30 June, the last day of the flares: they are good until then.
    assert_eq!(found(10), ["beacon"]);
    assert_eq!(found(11), ["beacon", "flares"]);
    assert_eq!(found(42), ["beacon", "flares", "raft"]);
}

#[test]
fn what_open_jobs_left_shut_off_or_apart_is_told() {
    let book = steady()
        .guide(guide("heads").every("calendar: 1 year"))
        .entry(entry("2026-04-01-heads open").job("heads").leaves("intake shut"))
        .entry(entry("2026-04-02-heads open").job("heads"));
    on_passage(&book, &trip("2026-06-01"), |_, state| {
        let left: Vec<&str> = state.left.iter().map(|entry| entry.id.as_str()).collect();
        assert_eq!(left, ["2026-04-01-heads"]);
    });
    jobs(&book, &trip("2026-06-01"), &["before: heads 1"]);
}

/// `engine ~261 +~62.5 =~323.5 by 50 h` of each meter; a `~` where it is an estimate.
#[track_caller]
fn meters(book: &Book, trip: &Passage, expected: &[&str]) {
    let found: Vec<String> = on_passage(book, trip, |reckoning, _| {
        let course = Course::of_passage(reckoning, trip);
        let of = |meter: &crate::reckon::MeterCourse| {
            let shown = |value| plain_decimal(&value, 2);
            let about = if meter.estimated { "~" } else { "" };
            let start = meter.start.map_or_else(|| "?".to_owned(), shown);
            let end = meter.end().map_or_else(|| "?".to_owned(), shown);
            let figure = meter.figure.as_ref().map_or("use rate", |figure| figure.written());
            format!("{} {about}{start} + {} = {end} by {figure}", meter.meter, shown(meter.run))
        };
        course.meters.iter().map(of).collect()
    });
    assert_eq!(found, expected);
}

#[test]
fn meters_are_carried_on_to_departure_and_then_run_by_the_passage() {
    // 230 h on 1 May and 1 h a day. 50 h and a quarter are 62.5 h.
    let figures = trip("2026-06-01").days(10).runs("engine", "50 h").miles("80").with_reserve("25");
    meters(&steady(), &figures, &["engine ~261 + 62.5 = 323.5 by 50 h", "miles ? + 100 = ? by 80 nmi"]);
    // Ten days at 1 h a day; a single reading of the miles stands still.
    let book = steady().row("2026-04-01,miles,1000");
    let none = trip("2026-06-01").days(10).with_reserve("25");
    meters(&book, &none, &["engine ~261 + 10 = 271 by use rate", "miles ~1000 + 0 = 1000 by use rate"]);
    // Leaving on the day of the reading nothing is estimated.
    meters(&book, &trip("2026-05-01"), &["engine 230 + 0 = 230 by use rate", "miles ~1000 + 0 = 1000 by use rate"]);
}

#[test]
fn ten_thousand_entries_of_one_job_are_one_job() {
    let mut book = steady().guide(guide("oil").every("engine: 100 h"));
    for at in 0..10_000 {
        let date = crate::reckon::days::later_by_days(day("1998-12-15"), at).expect("a date");
        book.entries.push(entry(&format!("{date}-oil")).job("oil"));
    }
    book.entries.sort_by(|a, b| a.id.cmp(&b.id));
    // The last is of 1 May 2026 (Python's datetime): 100 h from 230 h.
    jobs(&book, &trip("2026-05-01").days(10).runs("engine", "100 h"), &["under way: oil 1"]);
    jobs(&book, &trip("2026-05-01").days(10).runs("engine", "99 h"), &["clear: oil 0"]);
}

#[test]
fn a_passage_that_has_left_is_told() {
    let mut book = steady();
    book.passages = vec![trip("2026-04-30"), trip("2026-05-01")];
    let (_, problems) = reckon(&book, day("2026-05-01"));
    assert_eq!(told(&problems), ["warning passages.yaml:1 passage-departed: `isles` left on 2026-04-30, before 2026-05-01"]);
}
