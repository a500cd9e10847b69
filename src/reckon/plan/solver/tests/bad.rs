//! Projects that cannot be done, and those at the edges.

use super::check;
use crate::reckon::plan::solver::{Project, Unsolvable, solve};

#[track_caller]
fn refused(project: &Project, expected: Unsolvable) {
    assert_eq!(solve(project), Err(expected));
}

/// So many activities of one person, ten minutes each.
fn several(count: usize) -> Project {
    let mut project = Project::with(&[1]);
    for _ in 0..count {
        project.add(10, &[(0, 1)]);
    }
    project
}

#[test]
fn circles_are_told_not_followed() {
    let mut project = several(3);
    project.follow(0, 1);
    project.follow(1, 0);
    refused(&project, Unsolvable::Circle { activity: 0 });
    let mut own = several(2);
    own.lag(1, 1, 0);
    refused(&own, Unsolvable::Circle { activity: 1 });
}

#[test]
fn more_than_there_is_is_refused() {
    let mut project = several(1);
    let two = project.add(5, &[(0, 2)]);
    refused(&project, Unsolvable::TooMuch { activity: two, resource: 0 });
    // Two needs of the same resource add up.
    let mut twice = several(1);
    let two = twice.add(5, &[(0, 1), (0, 1)]);
    refused(&twice, Unsolvable::TooMuch { activity: two, resource: 0 });
}

#[test]
fn names_of_nothing_are_refused() {
    let mut project = several(1);
    project.lag(0, 7, 1);
    refused(&project, Unsolvable::Unknown);
    let mut project = Project::with(&[1]);
    project.add(1, &[(3, 1)]);
    refused(&project, Unsolvable::Unknown);
}

#[test]
fn times_beyond_all_measure_are_refused() {
    for time in [u64::MAX, 1 << 62, 1 << 59] {
        let mut project = several(1);
        project.add(time, &[(0, 1)]);
        refused(&project, Unsolvable::TooLong);
    }
    let mut project = several(2);
    project.lag(0, 1, u64::MAX);
    refused(&project, Unsolvable::TooLong);
}

#[test]
fn nothing_to_do_takes_no_time() {
    let schedule = solve(&Project::default()).expect("it can be done");
    assert_eq!((schedule.makespan, schedule.bound, schedule.starts.len()), (0, 0, 0));
}

#[test]
fn what_takes_no_time_holds_nothing() {
    let mut project = several(1);
    let moment = project.add(0, &[(0, 1)]);
    project.follow(0, moment);
    let schedule = solve(&project).expect("it can be done");
    check(&project, &schedule);
    assert_eq!(schedule.makespan, 10);
}

#[test]
fn too_many_to_be_sorted_are_done_one_after_another() {
    let mut project = several(6_000);
    project.lag(0, 5_999, 5);
    let schedule = solve(&project).expect("it can be done");
    check_ends(&schedule.starts);
    // One person has 6,000 times ten minutes of work; of that the bound knows only the longest path.
    assert_eq!((schedule.makespan, schedule.bound), (60_000, 15));
}

#[track_caller]
fn check_ends(starts: &[u64]) {
    let mut sorted = starts.to_vec();
    sorted.sort_unstable();
    assert!(sorted.windows(2).all(|pair| pair[1] - pair[0] >= 10));
}

#[test]
fn hundreds_that_fit_lists_are_bounded_by_their_work() {
    let mut project = several(800);
    let last = project.add(5, &[(0, 1)]);
    project.lag(0, last, 40);
    let schedule = solve(&project).expect("it can be done");
    assert_eq!((schedule.makespan, schedule.bound), (8_005, 8_005));
}
