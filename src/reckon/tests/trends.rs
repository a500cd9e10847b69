//! Trends of readings: what they are held against, when there is none, where they meet a limit.

use crate::book::model::Book;
use crate::reckon::testing::{Writing, book, day, entry, gear, guide};
use crate::reckon::{Axis, ReadingHistory, reckon};

/// `by days: 0.6355, meets 1354 on 2025-12-05`, or `no trend`.
fn line(history: &ReadingHistory<'_>) -> String {
    let Some(trend) = &history.trend else {
        return "no trend".to_owned();
    };
    let by = match history.axis {
        Axis::Days => "days",
        Axis::Meter(meter) => &meter.id.value,
    };
    let mut text = format!("by {by}: {:.4}", trend.line.slope);
    if let Some(crossing) = &trend.crossing {
        text.push_str(&format!(", meets {}", crossing.limit));
        if let Some(value) = crossing.meter {
            text.push_str(&format!(" at {value}"));
        }
        if let Some(on) = crossing.on {
            text.push_str(&format!(" on {on}"));
        }
        if crossing.estimated {
            text.push_str(", estimated");
        }
    }
    text
}

#[track_caller]
fn case(book: &Book, expected: &[&str]) {
    let (reckoning, _) = reckon(book, day("2026-12-31"));
    let lines: Vec<String> = reckoning.readings.iter().map(line).collect();
    assert_eq!(lines, expected);
}

/// One guide with one reading in mm, and an entry for each (day, value).
fn wear(every: &str, limits: &str, values: &[(&str, &str)]) -> Book {
    let mut asked = guide("chain").asks("wear", "mm", limits, &[]);
    if !every.is_empty() {
        asked = asked.every(every);
    }
    values.iter().fold(book().guide(asked), |book, (on, value)| {
        book.entry(entry(&format!("{on}-chain")).job("chain").measures("wear", "", &format!("{value} mm")))
    })
}

/// The worked figures of numpy 2.4.6 and scipy 1.17.1: slope 0.6354765948897777 a day, and 1354 on
/// the fitted line on day 242.8708 from 2025-04-06.
const WORKED: [(&str, &str); 5] =
    [("2025-04-06", "1204.0"), ("2025-05-18", "1221.5"), ("2025-07-01", "1249.0"), ("2025-08-15", "1290.5"), ("2025-10-12", "1318.0")];

#[test]
fn a_trend_by_the_calendar_meets_its_limit_on_the_first_whole_day() {
    case(&wear("", "..1354", &WORKED), &["by days: 0.6355, meets 1354 on 2025-12-05"]);
    case(&wear("calendar: 12 months", "..1354", &WORKED), &["by days: 0.6355, meets 1354 on 2025-12-05"]);
}

#[test]
fn only_the_limit_it_moves_towards_is_met_and_only_in_the_future_of_the_last_reading() {
    case(&wear("", "1000..", &WORKED), &["by days: 0.6355"]);
    case(&wear("", "1000..1354", &WORKED), &["by days: 0.6355, meets 1354 on 2025-12-05"]);
    // The line passed 1300 on day 157.9, before the last reading.
    case(&wear("", "..1300", &WORKED), &["by days: 0.6355"]);
}

#[test]
fn a_limit_that_is_reached_in_more_than_fifty_years_is_never_reached() {
    // 50 years after 2025-10-12 are 18 262 days; (y - 1199.66) / 0.63548 = 189 + 18 262 gives y = 12 924.9.
    // (12 900 - 1199.66) / 0.63548 = 18 411.9, so day 18 412 from 2025-04-06.
    case(&wear("", "..12900", &WORKED), &["by days: 0.6355, meets 12900 on 2075-09-03"]);
    case(&wear("", "..13000", &WORKED), &["by days: 0.6355"]);
    case(&wear("", "..1000000000", &WORKED), &["by days: 0.6355"]);
}

#[test]
fn a_trend_goes_by_the_meter_of_the_guides_own_rule() {
    // 1 mm for each 100 h, from 10 mm at 0 h: 4 mm at 600 h. The engine ran 400 h in 200 days, so
    // 600 h are 100 days after 2026-07-20.
    let worn = [("2026-01-01", "10"), ("2026-02-20", "9"), ("2026-04-11", "8"), ("2026-05-31", "7"), ("2026-07-20", "6")];
    let read = |book: Book| book.row("2026-01-01,engine,0").row("2026-07-20,engine,400");
    case(&read(wear("engine: 200 h", "4..", &worn)), &["by engine: -0.0100, meets 4 at 600 on 2026-10-28, estimated"]);
    // Read at 700 h since: the day is between readings and no estimate. 300 h in 60 days, 5 a day: 600 h after 40 days.
    let since = read(wear("engine: 200 h", "4..", &worn)).row("2026-09-18,engine,700");
    case(&since, &["by engine: -0.0100, meets 4 at 600 on 2026-08-29"]);
    // Without readings of the meter, by the calendar: 10 mm - 0.02 mm a day, 4 mm after 300 days.
    case(&wear("engine: 200 h", "4..", &worn), &["by days: -0.0200, meets 4 on 2026-10-28"]);
}

#[test]
fn gear_with_a_meter_of_its_own_goes_by_that() {
    let asked = guide("chain").every("own: 100 h").for_gear("port").for_gear("cold").asks("wear", "mm", "..9", &[]);
    let mut book = book().meter("port-hours", "h").gear(gear("port").with_meter("port-hours")).gear(gear("cold")).guide(asked);
    for (at, on) in ["2026-01-01", "2026-01-11", "2026-01-21", "2026-01-31"].into_iter().enumerate() {
        let of = |gear: &str| entry(&format!("{on}-{gear}")).job(&format!("chain/{gear}")).measures("wear", "", &format!("{at} mm"));
        book = book.entry(of("port").reads("port-hours", &format!("{}", at * 50))).entry(of("cold"));
    }
    // 1 mm each 50 h, and each 10 days: 9 mm at 450 h, and 90 days after 2026-01-01.
    case(&book, &["by port-hours: 0.0200, meets 9 at 450 on 2026-04-01, estimated", "by days: 0.1000, meets 9 on 2026-04-01"]);
}

#[test]
fn only_what_was_read_since_the_gear_was_fitted_counts() {
    let asked = guide("chain").for_gear("chain").asks("wear", "mm", "..9", &[]);
    let values = [("2025-12-01", "8"), ("2026-01-01", "0"), ("2026-01-11", "1"), ("2026-01-21", "2"), ("2026-01-31", "3")];
    let fill = |fitted: &str, renewed: bool| {
        let book = book().gear(gear("chain").fitted_on(fitted)).guide(asked.clone());
        values.iter().fold(book, |book, (on, value)| {
            let entry = entry(&format!("{on}-chain")).job("chain").measures("wear", "", &format!("{value} mm"));
            book.entry(if renewed && *on == "2026-01-01" { entry.fits("chain", "") } else { entry })
        })
    };
    case(&fill("2026-01-01", false), &["by days: 0.1000, meets 9 on 2026-04-01"]);
    case(&fill("2020-01-01", true), &["by days: 0.1000, meets 9 on 2026-04-01"]);
    case(&fill("2026-01-11", false), &["no trend"]);
    // With the old chain's 8 mm the slope is within the scatter.
    case(&fill("2020-01-01", false), &["no trend"]);
}

#[test]
fn too_little_or_nothing_but_scatter_is_no_trend() {
    case(&wear("", "..9", &[]), &[]);
    case(&wear("", "..9", &WORKED[..1]), &["no trend"]);
    case(&wear("", "..9", &WORKED[..3]), &["no trend"]);
    // x 0, 1, 2, 3 and y 1, 3, 2, 4: t = 1.886, below 4.303.
    case(&wear("", "..9", &[("2026-01-01", "1"), ("2026-01-02", "3"), ("2026-01-03", "2"), ("2026-01-04", "4")]), &["no trend"]);
    case(&wear("", "..9", &[("2026-01-01", "0.1"), ("2026-01-02", "0.1"), ("2026-01-03", "0.1"), ("2026-01-09", "0.1")]), &["no trend"]);
}

#[test]
fn values_of_one_day_and_a_meter_that_never_moves_are_no_trend() {
    let asked = guide("chain").every("engine: 100 h").asks("wear", "mm", "..9", &[]);
    let one_day = (1..=5).fold(book().guide(asked.clone()), |book, value| {
        book.entry(entry(&format!("2026-01-01-chain-{value}")).job("chain").measures("wear", "", &format!("{value} mm")))
    });
    case(&one_day, &["no trend"]);
    let still = (1..=5).fold(book().guide(asked), |book, value| {
        let entry = entry(&format!("2026-01-0{value}-chain")).job("chain").reads("engine", "1200");
        book.entry(entry.measures("wear", "", &format!("{value} mm")))
    });
    case(&still, &["no trend"]);
}

#[test]
fn huge_and_tiny_values_make_no_panic() {
    let huge =
        [("2026-01-01", "100000000000"), ("2026-01-02", "200000000000"), ("2026-01-03", "300000000000"), ("2026-01-04", "400000000000")];
    case(&wear("", "..9", &huge), &["by days: 100000000000.0000"]);
    let tiny = [("2026-01-01", "0.000000001"), ("2026-01-02", "0.000000002"), ("2026-01-03", "0.000000003"), ("2026-01-04", "0.000000004")];
    case(&wear("", "..9", &tiny), &["by days: 0.0000"]);
}
