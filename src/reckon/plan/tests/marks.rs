//! What each mark of time does; sums by hand.

use super::{guide, guide_with, lines, times};
use crate::reckon::plan::{Basis, plan, sums};

#[test]
fn marks_of_a_step_happen_in_the_order_written() {
    let guide = guide("## A\n\n1. Boil, soak, wipe. {takes 10 min} {wait 20 min: it soaks} {takes 5 min}\n2. {takes 1 min} End.\n");
    times(&guide, 1, ["16", "36", "36"]);
    let plan = plan(&guide, 1).expect("a plan");
    assert_eq!(lines(&plan), ["A 1 hands-on 0..10", "A 1 wait 10..30", "A 1 hands-on 30..35", "A 2 hands-on 35..36"]);
    assert_eq!(plan.tasks[1].what, Some("it soaks"));
}

#[test]
fn a_step_waits_for_the_waits_of_the_step_before() {
    times(&guide("## A\n\n1. Paint. {takes 10 min} {wait 2 h: it dries}\n2. Sand. {takes 10 min}\n"), 1, ["20", "140", "140"]);
}

#[test]
fn a_stage_ends_when_its_last_wait_is_over() {
    times(&guide("## A\n\n1. Paint. {takes 10 min} {wait 2 h}\n\n## B\n\n1. Sand. {takes 10 min}\n"), 1, ["20", "140", "140"]);
    // A wait at the very end counts as well.
    times(&guide("## A\n\n1. Paint. {takes 10 min} {wait 2 h}\n"), 1, ["10", "130", "130"]);
}

#[test]
fn hands_on_is_counted_in_person_minutes() {
    // 10 minutes by two people, then 5 by one: 25 person-minutes within 15.
    let guide = guide_with("crew: 2\n", "## A\n\n1. Lift it out. {hands 2} {takes 10 min}\n2. Wipe. {takes 5 min}\n");
    times(&guide, 2, ["25", "15", "15"]);
    assert_eq!(plan(&guide, 2).expect("a plan").tasks[0].hands, 2);
}

#[test]
fn two_people_work_side_by_side_but_not_where_both_are_needed() {
    // A 30 by one, B 20 by one, C 10 by two after both: 30 + 10; in sequence 60.
    let text = "## A\n\n1. a {takes 30 min}\n\n## B {alongside A}\n\n1. b {takes 20 min}\n\n## C\n\n1. c {takes 10 min} {hands 2}\n";
    times(&guide_with("crew: 2\n", text), 2, ["70", "40", "60"]);
    // Three are no faster.
    times(&guide_with("crew: 2\n", text), 3, ["70", "40", "60"]);
}

#[test]
fn steps_without_a_time_take_none() {
    let guide = guide("## A\n\n1. Look.\n2. Turn. {takes 4 min}\n3. Look again.\n");
    times(&guide, 1, ["4", "4", "4"]);
    assert_eq!(sums(&guide).basis, Basis::Steps { some_untimed: true });
}

#[test]
fn marks_of_a_heading_take_effect_with_its_first_step() {
    times(&guide("## A {wait 30 min: the paint dries}\n\n1. Sand. {takes 10 min}\n"), 1, ["10", "40", "40"]);
}

#[test]
fn marks_of_a_caution_take_effect_with_the_step_it_precedes() {
    let guide = guide("## A\n\n1. Open it. {takes 1 min}\n\n> WARNING: Pressure. {wait 5 min: it vents}\n\n2. Unscrew. {takes 2 min}\n");
    let plan = plan(&guide, 1).expect("a plan");
    assert_eq!(lines(&plan), ["A 1 hands-on 0..1", "A 2 wait 1..6", "A 2 hands-on 6..8"]);
}

#[test]
fn a_time_in_the_front_matter_stands_for_steps_without_one() {
    let guide = guide_with("time: 2 h\n", "## A\n\n1. Do it.\n");
    times(&guide, 1, ["120", "120", "120"]);
    assert_eq!((sums(&guide).basis, plan(&guide, 1).expect("a plan").tasks.len()), (Basis::FrontMatter, 0));
    // The steps know better where they say something.
    times(&guide_with("time: 2 h\n", "## A\n\n1. Do it. {takes 5 min}\n"), 1, ["5", "5", "5"]);
}

#[test]
fn a_guide_without_times_takes_an_unknown_time() {
    let guide = guide("## A\n\n1. Do it.\n");
    times(&guide, 1, ["0", "0", "0"]);
    assert_eq!(sums(&guide).basis, Basis::Nothing);
}

#[test]
fn waiting_is_what_nobody_need_stand_by_for() {
    // Wait 10, rest 8, an unattended run of 2: 20 of 26.
    let text = "## A\n\n1. a {takes 2 min} {wait 10 min}\n2. b {run 40 L at 10 L/min, 2 min on, 8 min off}\n3. c {run 4 L at 2 L/min, 5 min on, 5 min off, unattended}\n";
    let sums = sums(&guide(text));
    assert_eq!([&sums.hands_on, &sums.waiting, &sums.in_sequence].map(super::shown), ["6", "20", "26"]);
}
