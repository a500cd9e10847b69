//! Runs with rests: run = volume / rate, rests = stretches − 1, since nothing rests after the last.
//!
//! Figures computed with exact fractions in Python.

use super::{guide, lines, times};
use crate::reckon::plan::plan;

/// Hands-on is the running time, elapsed and in sequence the rests too.
#[track_caller]
fn case(run: &str, hands_on: &str, elapsed: &str, runs: usize) {
    let guide = guide(&format!("## Pump\n\n1. Pump. {{run {run}}}\n"));
    times(&guide, 1, [hands_on, elapsed, elapsed]);
    let plan = plan(&guide, 1).expect("a plan");
    let count = |kind: &str| plan.tasks.iter().filter(|task| task.kind.word() == kind).count();
    assert_eq!((count("run"), count("rest")), (runs, runs.saturating_sub(1)));
}

#[test]
fn rests_lie_between_stretches_only() {
    case("40 L at 10 L/min, 2 min on, 8 min off", "4", "12", 2);
    case("100 L at 12 L/min, 3 min on, 10 min off", "8.333", "28.333", 3);
    case("30 L at 10 L/min, 3 min on, 5 min off", "3", "3", 1);
    case("60 L at 10 L/min, 3 min on, 5 min off", "6", "11", 2);
    case("7.5 L at 15 L/min, 1 min on, 4 min off", "0.5", "0.5", 1);
    case("200 L at 8 L/min, 5 min on, 15 min off", "25", "85", 5);
    // In binary floats 7.000000000000001 minutes, which would be 7 rests.
    case("4.2 L at 0.6 L/min, 1 min on, 2 min off", "7", "19", 7);
    case("0 L at 10 L/min, 2 min on, 5 min off", "0", "0", 0);
}

#[test]
fn nobody_is_needed_where_it_runs_unattended() {
    let guide = guide("## Pump\n\n1. Pump. {run 40 L at 10 L/min, 2 min on, 8 min off, unattended}\n2. Look. {takes 3 min}\n");
    times(&guide, 1, ["3", "15", "15"]);
    let plan = plan(&guide, 1).expect("a plan");
    assert_eq!(lines(&plan), ["Pump 1 run 0..2", "Pump 1 rest 2..10", "Pump 1 run 10..12", "Pump 2 hands-on 12..15"]);
}

#[test]
fn a_rest_may_last_longer_while_hands_are_busy() {
    // The pump must rest from 2 to 10; the filter takes until 14, and the pump goes on then: 16, which is
    // all the hands-on time there is.
    let guide = guide(
        "## Pump\n\n1. Pump. {run 40 L at 10 L/min, 2 min on, 8 min off}\n\n## Filter {alongside Pump}\n\n1. Change it. {takes 12 min}\n",
    );
    times(&guide, 1, ["16", "16", "24"]);
    let plan = plan(&guide, 1).expect("a plan");
    assert_eq!(lines(&plan), ["Pump 1 run 0..2", "Pump 1 rest 2..10", "Filter 1 hands-on 2..14", "Pump 1 run 14..16"]);
    // With two people the filter fills the pump's rest and two stretches beside.
    times(&guide, 2, ["16", "12", "24"]);
}
