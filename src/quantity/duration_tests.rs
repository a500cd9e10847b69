use super::{Duration, Unit};
use proptest::prelude::*;

#[track_caller]
fn case(written: &str, seconds: i64, shown: &str, iso: &str) {
    let duration = Duration::parse(written).unwrap_or_else(|error| panic!("{written}: {error}"));
    assert_eq!(duration.seconds(), seconds, "for {written:?}");
    assert_eq!(duration.to_string(), shown, "for {written:?}");
    assert_eq!(duration.iso8601(), iso, "for {written:?}");
}

#[track_caller]
fn refused(written: &str, message: &str, remedy: &str) {
    let error = Duration::parse(written).expect_err(written);
    assert_eq!(error.to_string(), message, "for {written:?}");
    assert_eq!(error.remedy(), remedy, "for {written:?}");
}

/// The ISO forms of 90 min, 45 min and 26 h are those of the Python library isodate 0.7.2.
#[test]
fn clock_times() {
    case("90 min", 5_400, "1 h 30 min", "PT1H30M");
    case("45 min", 2_700, "45 min", "PT45M");
    case("26 h", 93_600, "26 h", "P1DT2H");
    case("2 h 40 min", 9_600, "2 h 40 min", "PT2H40M");
    case("2h40min", 9_600, "2 h 40 min", "PT2H40M");
    case("90 s", 90, "1 min 30 s", "PT1M30S");
    case("1.5 h", 5_400, "1 h 30 min", "PT1H30M");
    case("1 1/2 h", 5_400, "1 h 30 min", "PT1H30M");
    case("1 day", 86_400, "24 h", "P1D");
    case("3 days", 259_200, "3 days", "P3D");
    case("2 weeks", 1_209_600, "14 days", "P14D");
    case("2 days 1 h", 176_400, "2 days 1 h", "P2DT1H");
    case("0 min", 0, "0 min", "PT0S");
}

#[test]
fn what_is_not_a_clock_time() {
    let fixed = "write days or weeks, which have a fixed length, such as `90 days`";
    refused("3 months", "`3 months` has no length in minutes", fixed);
    refused("1 year", "`1 year` has no length in minutes", fixed);
    refused("~2 h", "`~2 h` is only approximate", "write `2 h`: no `~` can stand here");
    refused("20", "`20` has no unit", "write a time such as `20 min`, `2 h 40 min` or `3 days`");
    refused("2 h 30", "`30` has no unit", "write a time such as `20 min`, `2 h 40 min` or `3 days`");
    refused("2 hours", "`hours` is written `h` here", "write `2 h`");
    refused("5 L", "`5 L` is a volume, not a time", "write a time such as `20 min`, `2 h 40 min` or `3 days`");
    refused("2:40", "`2:40` reads like a time of day", "write `2 h 40 min`");
    let order = "write each unit once, the largest first: `2 h 40 min`";
    refused("40 min 2 h", "`40 min 2 h` has its units out of order", order);
    refused("2 h 3 h", "`2 h 3 h` has its units out of order", order);
    refused("0.001 min", "`0.001 min` is not a whole number of seconds", "write it in whole seconds, such as `90 s`");
    refused("1,5 h", "`1,5` has a decimal comma", "write a point: `1.5 h`");
    refused("2..3 h", "`2..3 h` is not one single value", "write one number with its unit");
    refused("2-3 h", "`2-3 h` is not one single value", "write one number with its unit");
    refused("-5 min", "`-5` is below zero, which only a temperature can be", "write `5 min`");
    refused("999999999999 h", "`999999999999 h` is longer than ten years", "check the number and its unit");
    let figures = "write a number in figures, such as `7.5`";
    refused("", "the number is missing", figures);
    refused("an hour", "`an hour` is not a number", figures);
}

proptest! {
    #[test]
    fn one_unit_is_read_as_several_are(number in "0{0,2}[0-9]{1,8}", unit in proptest::sample::select(Unit::ALL)) {
        let text = format!("{number} {}", unit.symbol());
        if let Some(duration) = Duration::in_one_unit(&text) {
            prop_assert_eq!(Duration::in_units(&text), Ok(duration));
        }
    }
}
