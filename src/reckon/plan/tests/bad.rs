//! Guides that cannot be planned, and those beyond all measure.

use super::{guide, guide_with, shown, times};
use crate::reckon::plan::{PlanError, plan};
use std::fmt::Write as _;

#[test]
fn too_few_hands_are_told_with_the_step() {
    let guide = guide_with("crew: 3\n", "## A\n\n1. a {takes 1 min}\n2. b {hands 3} {takes 1 min}\n");
    let problem = plan(&guide, 2).expect_err("too few");
    assert_eq!(problem, PlanError::TooFewHands { stage: "A".to_owned(), step: 2, hands: 3, crew: 2 });
    assert_eq!(problem.to_string(), "step 2 of `A` needs 3 people at once, and the crew is 2");
    assert_eq!(problem.remedy(), "plan it for more people: `--crew 3`");
    assert!(plan(&guide, 3).is_ok());
    // Nobody at all is too few for any step.
    assert!(plan(&guide, 0).is_err());
}

#[track_caller]
fn circle(body: &str) {
    let problem = plan(&guide(body), 1).expect_err("a circle");
    assert!(matches!(problem, PlanError::Circle { .. }), "{problem:?}");
}

#[test]
fn circles_of_stages_are_told_not_followed() {
    circle("## A {after B}\n\n1. a {takes 1 min}\n\n## B {after A}\n\n1. b {takes 1 min}\n");
    circle("## A {alongside A}\n\n1. a {takes 1 min}\n");
    circle("## A {after A}\n\n1. a {takes 1 min}\n");
    circle("## A {alongside B}\n\n1. a {takes 1 min}\n\n## B {alongside A}\n\n1. b {takes 1 min}\n");
    // Through stages without times.
    circle("## A {after B}\n\n1. a\n\n## B {after A}\n\n1. b\n\n## C\n\n1. c {takes 1 min}\n");
}

#[test]
fn three_hundred_steps_are_planned() {
    // Ten stages alongside each other, thirty steps of a minute and a wait of a minute each: one person has
    // 300 minutes of work, and the last step's wait may follow it. In sequence 600.
    let mut body = String::new();
    for stage in 0..10 {
        let mark = if stage == 0 { "" } else { "{alongside Stage 0}" };
        let _ = writeln!(body, "## Stage {stage} {mark}\n");
        for step in 1..=30 {
            let _ = writeln!(body, "{step}. Do. {{takes 1 min}} {{wait 1 min}}");
        }
    }
    times(&guide(&body), 1, ["300", "301", "600"]);
}

#[test]
fn waits_of_years_are_planned() {
    // Ten years is the longest time the format takes: 3,660 days of 1,440 minutes.
    let step = "1. a {takes 10 min} {wait 3660 days}\n";
    times(&guide(&format!("## A\n\n{step}\n## B {{alongside A}}\n\n{step}")), 1, ["20", "5270420", "10540820"]);
}

#[test]
fn runs_of_thousands_of_rests_are_planned_as_one() {
    // 10,000 L at 1 L/min, a minute on and a minute off: 10,000 stretches, 9,999 rests.
    let run = "{run 10000 L at 1 L/min, 1 min on, 1 min off}";
    let guide = guide(&format!("## A\n\n1. a {run}\n\n## B {{alongside A}}\n\n1. b {{takes 5 min}}\n"));
    let plan = plan(&guide, 1).expect("a plan");
    assert_eq!([&plan.sums.hands_on, &plan.sums.waiting, &plan.sums.in_sequence].map(shown), ["10005", "9999", "20004"]);
    assert!(plan.elapsed <= plan.sums.in_sequence && plan.bound <= plan.elapsed && !plan.is_optimal());
    assert_eq!(shown(&plan.bound), "19999");
    assert_eq!(plan.tasks.len(), 2);
}

#[test]
fn fractions_no_unit_fits_are_rounded_not_refused() {
    // Rates with primes: the common denominator is beyond any clock.
    let mut body = "## A\n\n".to_owned();
    for (at, rate) in ["1.000003", "1.000033", "1.000037", "1.000039", "1.000081"].iter().enumerate() {
        let _ = writeln!(body, "{}. a {{run 1 L at {rate} L/min, 5 min on, 5 min off}}", at + 1);
    }
    let guide = guide(&body);
    let plan = plan(&guide, 1).expect("a plan");
    // Five times a little less than a minute, each rounded up to a millisecond: 5 × 60,000 less about
    // 0.18, 1.98, 2.22, 2.34 and 4.86 ms, so 60,000 + 59,999 + 59,998 + 59,998 + 59,996 = 299,991 ms.
    assert_eq!(plan.elapsed, crate::quantity::Exact::new(299_991, 60_000));
    assert!(plan.is_optimal());
}
