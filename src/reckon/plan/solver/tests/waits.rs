//! Waits that need nobody: cases W1 to W4, their optima proved by Google OR-Tools CP-SAT 9.15.

use super::check;
use crate::reckon::plan::solver::{Project, Schedule, solve};

const ONE: &[(usize, u32)] = &[(0, 1)];

#[track_caller]
fn optimum(project: &Project, expected: u64) -> Schedule {
    let schedule = solve(project).expect("it can be done");
    check(project, &schedule);
    assert_eq!((schedule.makespan, schedule.bound), (expected, expected));
    schedule
}

#[test]
fn w1_a_long_wait_is_filled_with_all_other_work() {
    // A 30, then 120 of waiting, then B 20; C 60; D 45. One person: A, C, D, 15 idle, B at 150.
    let mut project = Project::with(&[1]);
    let a = project.add(30, ONE);
    let b = project.add(20, ONE);
    project.add(60, ONE);
    project.add(45, ONE);
    project.lag(a, b, 30 + 120);
    assert_eq!(optimum(&project, 170).starts[b], 150);
}

#[test]
fn w2_the_longer_wait_is_begun_first() {
    // A 40, 60 of waiting, B 30; C 20, 90 of waiting, D 25; E 50. No idle time: C, A, E, D, B. What begins
    // with A takes 175 at best.
    let mut project = Project::with(&[1]);
    let a = project.add(40, ONE);
    let b = project.add(30, ONE);
    let c = project.add(20, ONE);
    let d = project.add(25, ONE);
    project.add(50, ONE);
    project.lag(a, b, 40 + 60);
    project.lag(c, d, 20 + 90);
    assert_eq!(optimum(&project, 165).starts[c], 0);
    project.lag(a, c, 1);
    project.lag(a, 4, 1);
    optimum(&project, 175);
}

#[test]
fn w3_two_people_share_one_bench() {
    // A 60 (one person); B 30 and C 45 (one person and the bench); D 20 (two people) after A and 15 after B;
    // E 40 (one person) after C.
    let mut project = Project::with(&[2, 1]);
    let a = project.add(60, ONE);
    let b = project.add(30, &[(0, 1), (1, 1)]);
    let c = project.add(45, &[(0, 1), (1, 1)]);
    let d = project.add(20, &[(0, 2)]);
    let e = project.add(40, ONE);
    project.follow(a, d);
    project.lag(b, d, 30 + 15);
    project.follow(c, e);
    optimum(&project, 120);
}

#[test]
fn w4_a_day_of_curing_is_no_work() {
    let mut project = Project::with(&[1]);
    let a = project.add(15, ONE);
    let wait = project.add(1440, &[]);
    let b = project.add(10, ONE);
    project.follow(a, wait);
    project.follow(wait, b);
    optimum(&project, 1465);
}
