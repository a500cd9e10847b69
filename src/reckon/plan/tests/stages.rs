//! What stages wait for: `{after …}`, `{alongside …}`, or all above.

use super::{guide, lines, times};
use crate::reckon::plan::{Filling, TaskKind, plan};

/// Three stages of hands-on minutes and waits, with the marks of the second and third.
fn three(second: &str, third: &str) -> crate::book::model::Guide {
    guide(&format!(
        "## A\n\n1. a {{takes 10 min}} {{wait 60 min: glue sets}}\n\n## B {second}\n\n1. b {{takes 20 min}}\n\n## C {third}\n\n1. c {{takes 30 min}}\n"
    ))
}

#[test]
fn without_marks_each_stage_waits_for_all_above() {
    times(&three("", ""), 1, ["60", "120", "120"]);
}

#[test]
fn alongside_fills_the_waits() {
    // A 0-10 and its wait to 70; B and C within it.
    times(&three("{alongside A}", "{alongside A}"), 1, ["60", "70", "120"]);
    // C waits for the wait of A all the same.
    times(&three("{alongside A}", ""), 1, ["60", "100", "120"]);
}

#[test]
fn after_names_all_it_waits_for() {
    // C after B alone: A 0-10, B 10-30, C 30-60; the wait is over at 70.
    times(&three("{alongside A}", "{after B}"), 1, ["60", "70", "120"]);
    times(&three("{alongside A}", "{after A, B}"), 1, ["60", "100", "120"]);
}

#[test]
fn alongside_starts_no_earlier_and_waits_for_the_same() {
    // C alongside B, which comes after A: C cannot fill A's wait.
    times(&three("{after A}", "{alongside B}"), 1, ["60", "120", "120"]);
    let plan_of = three("{after A}", "{alongside B}");
    let plan = plan(&plan_of, 1).expect("a plan");
    assert_eq!(lines(&plan), ["A 1 hands-on 0..10", "A 1 wait 10..70", "B 1 hands-on 70..90", "C 1 hands-on 90..120"]);
}

#[test]
fn both_marks_together_both_hold() {
    // D alongside A, but after B: not before 10 + 20.
    let text = "## A\n\n1. a {takes 10 min} {wait 60 min}\n\n## B {alongside A}\n\n1. b {takes 20 min}\n\n## D {alongside A} {after B}\n\n1. d {takes 5 min}\n";
    let guide = guide(text);
    let plan = plan(&guide, 2).expect("a plan");
    assert_eq!(lines(&plan), ["A 1 hands-on 0..10", "B 1 hands-on 0..20", "A 1 wait 10..70", "D 1 hands-on 20..25"]);
}

#[test]
fn a_stage_may_wait_for_a_later_one() {
    let text = "## A {after B}\n\n1. a {takes 10 min}\n\n## B {alongside C}\n\n1. b {takes 20 min}\n\n## C {after D}\n\n1. c {takes 5 min}\n\n## D {alongside E}\n\n1. d {takes 1 min}\n\n## E {after F}\n\n1. e {takes 1 min}\n\n## F {alongside G}\n\n1. f {takes 1 min}\n";
    // Nothing waits, so all of it is one after another; `G` is no stage, which loading has told.
    times(&guide(text), 1, ["38", "38", "38"]);
}

#[test]
fn a_stage_without_times_passes_on_what_it_waits_for() {
    // B has no times; C after B still waits for A.
    let text = "## A\n\n1. a {takes 10 min} {wait 60 min}\n\n## B\n\n1. Look.\n\n## C {after B}\n\n1. c {takes 5 min}\n";
    times(&guide(text), 1, ["15", "75", "75"]);
}

#[test]
fn what_to_do_meanwhile_is_told() {
    let guide = three("{alongside A}", "{alongside A}");
    let plan = plan(&guide, 1).expect("a plan");
    let [one] = plan.meanwhile().try_into().expect("one wait");
    assert_eq!((one.stage, one.step, one.kind, one.what), (0, 0, TaskKind::Wait, Some("glue sets")));
    assert_eq!(one.filled_by, [Filling { stage: 1, first: 0, last: 0 }, Filling { stage: 2, first: 0, last: 0 }]);
}

#[test]
fn a_wait_that_nothing_fills_is_not_told() {
    assert_eq!(plan(&three("", ""), 1).expect("a plan").meanwhile(), []);
}
