//! Meters: continuous counters, values between readings, rates, and the day a value is reached.

use crate::book::model::Book;
use crate::quantity::to_f64;
use crate::reckon::testing::{Writing, book, day, entry, number, told};
use crate::reckon::{MeterState, ValueOn, reckon};

/// Engine hours of one season. Interpolated values, mean rate and crossing days were computed with
/// numpy 2.4.6 (relative tolerance 1e-9).
pub(super) fn season() -> Book {
    book()
        .row("2025-04-06,engine,1204.0")
        .row("2025-05-18,engine,1221.5")
        .row("2025-07-01,engine,1249.0")
        .row("2025-08-15,engine,1290.5")
        .row("2025-10-12,engine,1318.0")
}

#[track_caller]
fn engine<T>(book: &Book, on: &str, check: impl FnOnce(&MeterState<'_>) -> T) -> T {
    let (reckoning, problems) = reckon(book, day(on));
    assert_eq!(told(&problems), [] as [&str; 0]);
    check(reckoning.meter("engine").expect("the meter"))
}

#[track_caller]
fn near(found: f64, expected: f64) {
    assert!((found - expected).abs() <= expected.abs() * 1e-9, "{found}, not {expected}");
}

#[track_caller]
fn value(date: &str, expected: f64, estimated: bool) {
    let found = engine(&season(), "2025-10-12", |meter| meter.value_on(day(date))).expect("a value");
    near(to_f64(&found.value), expected);
    assert_eq!(found.estimated, estimated, "{date}");
}

/// A value that is carried on.
fn estimate(value: &str) -> ValueOn {
    ValueOn { value: number(value).value(), estimated: true, about: false }
}

#[test]
fn a_value_between_two_readings_is_interpolated() {
    // numpy.interp, see `season`.
    value("2025-06-01", 1230.25, false);
    value("2025-09-01", 1_298.560_344_827_586_3, false);
    value("2025-08-15", 1290.5, false);
    value("2025-04-06", 1204.0, false);
}

#[test]
fn outside_the_readings_it_is_carried_on_at_the_use_rate() {
    // 114 h in 189 days; ten days after the last reading, and ten before the first.
    value("2025-10-22", 1318.0 + 10.0 * 114.0 / 189.0, true);
    value("2025-03-27", 1204.0 - 10.0 * 114.0 / 189.0, true);
}

#[test]
fn a_counter_never_showed_less_than_nothing() {
    let book = book().row("2026-01-01,engine,5").row("2026-01-11,engine,15");
    let found = engine(&book, "2026-01-11", |meter| meter.value_on(day("2025-06-01")));
    assert_eq!(found, Some(estimate("0")));
}

#[test]
fn one_reading_says_nothing_of_other_days() {
    let book = book().row("2026-01-01,engine,100");
    engine(&book, "2026-02-01", |meter| {
        assert_eq!(meter.rate_per_day, None);
        assert_eq!(meter.value_on(day("2026-01-01")), Some(ValueOn { estimated: false, ..estimate("100") }));
        assert_eq!(meter.value_on(day("2026-01-02")), None);
        assert_eq!(meter.value_on(day("2025-12-31")), None);
    });
}

#[track_caller]
fn reached(target: &str, expected: Option<(&str, bool)>) {
    let target = number(target).value();
    let found = engine(&season(), "2025-10-12", |meter| meter.reached(&target));
    let found = found.map(|reached| (reached.on.to_string(), reached.estimated));
    assert_eq!(found, expected.map(|(on, estimated)| (on.to_owned(), estimated)), "{target}");
}

#[test]
fn a_value_is_reached_on_the_first_whole_day_at_or_after_it() {
    // Day 151.036… of the season is the 152nd: numpy, see `season`.
    reached("1300", Some(("2025-09-05", false)));
    reached("1290.5", Some(("2025-08-15", false)));
    // Before the first reading nobody looked.
    reached("1204", Some(("2025-04-06", false)));
    reached("1000", Some(("2025-04-06", false)));
    // 59.68… days after the last reading at the mean rate: numpy, see `season`.
    reached("1354", Some(("2025-12-11", true)));
    // 10¹¹ hours at that rate is past the year 9999.
    reached("100000000000", None);
}

#[test]
fn a_meter_that_stands_still_reaches_nothing() {
    let book = book().row("2026-01-01,engine,100").row("2026-03-01,engine,100");
    engine(&book, "2026-03-01", |meter| {
        assert_eq!(meter.rate_per_day, Some(number("0").value()));
        assert_eq!(meter.reached(&number("101").value()), None);
        assert_eq!(meter.value_on(day("2026-05-01")), Some(estimate("100")));
    });
}

#[test]
fn the_use_rate_is_that_of_the_year_before_the_last_reading() {
    // Days 0, 400 and 500. Day 135 is 1000 + 200·135/400 = 1067.5, so (1500 − 1067.5)/365. Day 410
    // is 1200 + 300·10/100 = 1230, so (1500 − 1230)/90 = 3.
    let book = book().row("2025-01-01,engine,1000").row("2026-02-05,engine,1200").row("2026-05-16,engine,1500");
    engine(&book, "2026-05-16", |meter| {
        near(to_f64(&meter.rate_per_day.expect("a rate")), 432.5 / 365.0);
        near(to_f64(&meter.rate_90.expect("a rate")), 3.0);
    });
    // The season spans 189 days. Day 99 is 1249 + 41.5·13/45.
    engine(&season(), "2025-10-12", |meter| {
        near(to_f64(&meter.rate_per_day.expect("a rate")), 0.603_174_603_174_603_1);
        near(to_f64(&meter.rate_90.expect("a rate")), (69.0 - 41.5 * 13.0 / 45.0) / 90.0);
    });
}

#[test]
fn less_than_ninety_days_have_no_rate_of_ninety_days() {
    // 89 and 90 days after 1 January.
    let short = book().row("2026-01-01,engine,0").row("2026-03-31,engine,89");
    engine(&short, "2026-12-31", |meter| assert_eq!(meter.rate_90, None));
    let enough = book().row("2026-01-01,engine,0").row("2026-04-01,engine,90");
    engine(&enough, "2026-12-31", |meter| {
        assert_eq!(meter.rate_90, Some(number("1").value()));
    });
}

#[test]
fn a_replaced_counter_goes_on_from_the_old_one() {
    // The entry of the day reads the old counter; the new one began at 2 h.
    let book = book()
        .row("2026-01-10,engine,5000")
        .row("2026-02-01,engine,5020,2")
        .row("2026-03-01,engine,12")
        .row("2026-04-01,engine,30,0")
        .row("2026-05-01,engine,1")
        .entry(entry("2026-02-01-new-counter").reads("engine", "5020"));
    engine(&book, "2026-05-01", |meter| {
        let found: Vec<(String, String)> =
            meter.readings.iter().map(|reading| (reading.shown.to_string(), reading.continuous.to_string())).collect();
        let expected = [("5000", "5000"), ("5020", "5020"), ("5020", "5020"), ("12", "5030"), ("30", "5048"), ("1", "5049")];
        let expected = expected.map(|(shown, sum)| (shown.to_owned(), sum.to_owned()));
        assert_eq!(found, expected);
    });
}

#[test]
fn a_replacement_written_twice_is_one_new_counter() {
    let book = book().row("2026-02-01,engine,5020,0").row("2026-02-01,engine,5020,0").row("2026-03-01,engine,12");
    let last = engine(&book, "2026-03-01", |meter| meter.last());
    assert_eq!(last, Some((day("2026-03-01"), number("5032").value())));
}

#[test]
fn of_several_readings_on_a_day_the_largest_counts() {
    let book = book().row("2026-02-01,engine,104").row("2026-02-01,engine,101").row("2026-03-01,engine,110");
    engine(&book, "2026-03-01", |meter| {
        assert_eq!(meter.readings.len(), 3);
        assert_eq!(meter.first(), Some((day("2026-02-01"), number("104").value())));
    });
}

#[track_caller]
fn problems(book: &Book, expected: &[&str]) {
    let (_, problems) = reckon(book, day("2026-12-31"));
    assert_eq!(told(&problems), expected);
    for problem in &problems {
        assert!(!problem.remedy.is_empty());
    }
}

#[test]
fn a_counter_that_runs_backwards_names_both_suspects() {
    let book = book().row("2026-01-10,engine,1840.5").row("2026-06-01,engine,1900").entry(entry("2026-03-14-oil").reads("engine", "1480"));
    problems(
        &book,
        &["error log/2026-03-14-oil.md:3 meter-backwards: meter `engine` runs backwards: 1480 on 2026-03-14 is lower \
            than 1840.5 on 2026-01-10 (meters.csv:2)"],
    );
    // The later one is left out, and the rest goes on.
    let (reckoning, _) = reckon(&book, day("2026-12-31"));
    let meter = reckoning.meter("engine").expect("the meter");
    assert_eq!(meter.last(), Some((day("2026-06-01"), number("1900").value())));
    let used: Vec<bool> = meter.readings.iter().map(|reading| reading.used).collect();
    assert_eq!(used, [true, false, true]);
}

#[test]
fn one_slip_is_told_once() {
    let book =
        book().row("2026-01-10,engine,18405").row("2026-02-01,engine,1842").row("2026-03-01,engine,1850").row("2026-04-01,engine,1860");
    problems(
        &book,
        &["error meters.csv:3 meter-backwards: meter `engine` runs backwards: 1842 on 2026-02-01 is lower than 18405 \
            on 2026-01-10 (meters.csv:2), and so are 2 more readings after it"],
    );
}

#[test]
fn a_counter_that_was_replaced_can_run_backwards_too() {
    let book = book().row("2026-01-10,engine,5000,10").row("2026-02-01,engine,5").row("2026-03-01,engine,20");
    problems(
        &book,
        &["error meters.csv:3 meter-backwards: meter `engine` runs backwards: 5 on 2026-02-01 is lower than 5000 on \
            2026-01-10 (meters.csv:2)"],
    );
}

#[test]
fn what_the_new_counter_shows_on_its_first_day_has_its_place() {
    let book =
        book().row("2026-01-10,engine,5000").row("2026-02-01,engine,5020,0").entry(entry("2026-02-01-new-counter").reads("engine", "0"));
    problems(
        &book,
        &["error log/2026-02-01-new-counter.md:3 meter-backwards: meter `engine` runs backwards: 0 on 2026-02-01 is lower \
            than 5000 on 2026-01-10 (meters.csv:2)"],
    );
    let (_, problems) = reckon(&book, day("2026-12-31"));
    assert_eq!(
        problems.iter().map(|problem| problem.remedy.as_str()).collect::<Vec<_>>(),
        ["on the day its counter was replaced an entry gives what the old one showed: write that, or leave `engine` out; what the \
          new one began with stands in `meters.csv`"]
    );
}

#[test]
fn what_is_only_about_gives_way_to_what_was_read() {
    let guessed_late = book().row("2026-01-10,engine,1840.5").entry(entry("2026-03-14-oil").reads("engine", "~1800"));
    problems(
        &guessed_late,
        &["warning log/2026-03-14-oil.md:3 meter-backwards: meter `engine` runs backwards: 1800 on 2026-03-14 is lower \
            than 1840.5 on 2026-01-10 (meters.csv:2); the one that is only about is left out"],
    );
    let guessed_early = book().row("2026-05-10,engine,1840.5").entry(entry("2026-03-14-oil").reads("engine", "~1900"));
    problems(
        &guessed_early,
        &["warning log/2026-03-14-oil.md:3 meter-backwards: meter `engine` runs backwards: 1900 on 2026-03-14 is \
            higher than 1840.5 on 2026-05-10 (meters.csv:2); the one that is only about is left out"],
    );
    let (reckoning, _) = reckon(&guessed_early, day("2026-12-31"));
    let first = reckoning.meter("engine").and_then(MeterState::first);
    assert_eq!(first, Some((day("2026-05-10"), number("1840.5").value())));
}

#[test]
fn two_values_on_one_day_are_no_slip() {
    problems(&book().row("2026-03-14,engine,1841").entry(entry("2026-03-14-oil").reads("engine", "1840.5")), &[]);
}

#[test]
fn a_reading_on_a_day_only_known_about_is_about() {
    let book = book().entry(entry("2026-03-14-oil on ~2026-03").reads("engine", "1840.5"));
    engine(&book, "2026-12-31", |meter| {
        let value = meter.value_on(day("2026-03-01")).expect("a value");
        assert!(value.about && !value.estimated);
    });
}

#[test]
fn an_hour_meter_that_outruns_the_clock_is_told_also_where_a_reading_is_only_known_about() {
    let told_of = |earlier: &str, later: &str| {
        let book = book().entry(entry(earlier).reads("engine", "512")).entry(entry(later).reads("engine", "~1200"));
        let (_, problems) = reckon(&book, day("2026-12-31"));
        problems.iter().map(|one| (one.rule, one.message.clone())).collect::<Vec<_>>()
    };
    // 688 h; both days count whole, which makes 48 h, or 28 × 24 + 24 = 696 h.
    let message = "meter `engine` gains more hours than there were: ~1200 on 2026-03-02 after 512 on 2026-03-01 (log/2026-03-01-oil.md:3)";
    assert_eq!(told_of("2026-03-01-oil", "2026-03-02-pump"), [("meter-too-fast", message.to_owned())]);
    assert_eq!(told_of("2026-03-01-oil", "2026-03-29-pump"), []);
    // What was done about March 2026 may have been done in April.
    assert_eq!(told_of("2026-03-01-oil", "2026-03-02-pump on ~2026-03"), []);
}
