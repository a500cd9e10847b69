use super::{DutyCycle, Exact};

/// run = V/r, rests = max(0, ceil(run/on) − 1), elapsed = run + rests × off, computed with Python's
/// exact fractions.
#[track_caller]
fn case(row: [&str; 4], run: (i128, i128), rests: u32, elapsed: (i128, i128)) {
    let [volume, rate, on, off] = row;
    let text = format!("run {volume} L at {rate} L/min, {on} min on, {off} min off");
    let cycle = DutyCycle::parse(&text).unwrap_or_else(|error| panic!("{text}: {error}"));
    assert_eq!(cycle.run_minutes(), Exact::new(run.0, run.1), "{text}");
    assert_eq!(cycle.rests(), rests, "{text}");
    assert_eq!(cycle.elapsed_minutes(), Exact::new(elapsed.0, elapsed.1), "{text}");
}

#[track_caller]
fn refused(written: &str, message: &str, remedy: &str) {
    let error = DutyCycle::parse(written).expect_err(written);
    assert_eq!(error.to_string(), message, "for {written:?}");
    assert_eq!(error.remedy(), remedy, "for {written:?}");
}

#[test]
fn run_rests_and_elapsed() {
    // Exact multiple.
    case(["40", "10", "2", "8"], (4, 1), 1, (12, 1));
    // A fraction of a minute: 8 1/3, and 28 1/3 in all.
    case(["100", "12", "3", "10"], (25, 3), 2, (85, 3));
    // Exactly one stretch.
    case(["30", "10", "3", "5"], (3, 1), 0, (3, 1));
    case(["60", "10", "3", "5"], (6, 1), 1, (11, 1));
    // Less than one stretch.
    case(["7.5", "15", "1", "4"], (1, 2), 0, (1, 2));
    // Five stretches.
    case(["200", "8", "5", "15"], (25, 1), 4, (85, 1));
    // In binary floats 7.000000000000001, which gives 7 rests.
    case(["4.2", "0.6", "1", "2"], (7, 1), 6, (19, 1));
    // Nothing to pump.
    case(["0", "10", "2", "5"], (0, 1), 0, (0, 1));
    // No rest needed.
    case(["40", "10", "2", "0"], (4, 1), 1, (4, 1));
}

#[test]
fn forms() {
    #[track_caller]
    fn case(written: &str, tidied: &str) {
        let cycle = DutyCycle::parse(written).unwrap_or_else(|error| panic!("{written}: {error}"));
        assert_eq!(cycle.to_string(), tidied);
        assert_eq!(DutyCycle::parse(tidied), Ok(cycle));
    }
    case("run 7.5 L at 0.25 L/min, 15 min on, 10 min off", "run 7.5 L at 0.25 L/min, 15 min on, 10 min off");
    case("7.5 l at 0.25 l/min,15 min on,10 min off,unattended", "run 7.5 L at 0.25 L/min, 15 min on, 10 min off, unattended");
    case("run 2 US gal at 4 US gal/h, 90 s on, 0 min off", "run 2 US gal at 4 US gal/h, 1 min 30 s on, 0 min off");
}

#[test]
fn refusals() {
    let shape = "write `run 7.5 L at 0.25 L/min, 15 min on, 10 min off`, \
                 with `, unattended` at the end where nobody need stay";
    refused("run 7.5 L", "`run 7.5 L` does not say how it runs", shape);
    refused("run 7.5 L at 0.25 L/min", "`run 7.5 L at 0.25 L/min` does not say how it runs", shape);
    refused("run 7,5 L at 0.25 L/min, 15 min on, 10 min off", "`7,5` has a decimal comma", "write a point: `7.5 L`");
    refused(
        "run 7.5 L at 0 L/min, 15 min on, 10 min off",
        "at `0 L/min` nothing is moved",
        "write a rate above zero, such as `0.25 L/min`",
    );
    refused(
        "run 7.5 L at 0.25 L/min, 0 min on, 10 min off",
        "with `0 min` on, it never runs",
        "write how long it may run before it rests, such as `15 min on`",
    );
    refused("run 7.5 L at -1 L/min, 15 min on, 10 min off", "`-1` is below zero, which only a temperature can be", "write `1 L/min`");
    refused(
        "run 7.5 L at 0.25 L, 15 min on, 10 min off",
        "`0.25 L` is a volume, not a rate",
        "write a rate, such as `0.25 L/min` or `4 US gal/h`",
    );
    refused(
        "run 999999 L at 0.000001 L/min, 15 min on, 10 min off",
        "`999999 L at 0.000001 L/min` would not end within a year",
        "check the volume, the rate and their units",
    );
    refused(
        "run 7.5 L at 0.25 L/min, 1 month on, 10 min off",
        "`1 month` has no length in minutes",
        "write days or weeks, which have a fixed length, such as `90 days`",
    );
}
