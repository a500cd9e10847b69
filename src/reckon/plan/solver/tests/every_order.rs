//! Small projects against trying out every order, and what must hold of any.

use super::check;
use crate::reckon::plan::solver::{Need, Project, core::Core, list, network::Network, search, solve, solve_within};
use proptest::collection::vec;
use proptest::prelude::*;

/// The shortest of all schedules: every order of activities, each as early as the former allow. Some
/// order gives the shortest, for its activities in the order of their starts can each only move earlier.
fn shortest(project: &Project) -> u64 {
    let mut starts = vec![None; project.activities.len()];
    best_from(project, &mut starts).expect("no circle")
}

fn best_from(project: &Project, starts: &mut Vec<Option<u64>>) -> Option<u64> {
    if let Some(all) = starts.iter().copied().collect::<Option<Vec<u64>>>() {
        return Some(project.activities.iter().zip(all).map(|(one, start)| start + one.duration).max().unwrap_or(0));
    }
    let mut best = None;
    for at in 0..starts.len() {
        let before = project.lags.iter().filter(|lag| lag.to == at);
        let freed = before.map(|lag| starts[lag.from].map(|start| start + lag.least)).collect::<Option<Vec<u64>>>();
        let (None, Some(freed)) = (starts[at], freed) else { continue };
        let mut start = freed.into_iter().max().unwrap_or(0);
        while !fits(project, starts, at, start) {
            start += 1;
        }
        starts[at] = Some(start);
        best = best.into_iter().chain(best_from(project, starts)).min();
        starts[at] = None;
    }
    best
}

/// Whether an activity can go on from a start to its end, moment by moment.
fn fits(project: &Project, starts: &[Option<u64>], at: usize, start: u64) -> bool {
    let amount = |needs: &[Need], resource| -> u32 { needs.iter().filter(|need| need.resource == resource).map(|need| need.amount).sum() };
    let own = &project.activities[at];
    (start..start + own.duration).all(|moment| {
        project.capacities.iter().enumerate().all(|(resource, capacity)| {
            let going = project
                .activities
                .iter()
                .zip(starts)
                .filter(|(one, start)| start.is_some_and(|start| start <= moment && moment < start + one.duration));
            let used: u32 = going.map(|(one, _)| amount(&one.needs, resource)).sum();
            let own = amount(&own.needs, resource);
            own == 0 || used + own <= *capacity
        })
    })
}

/// Projects of up to so many activities; lags lead from earlier to later ones.
fn projects(most: usize) -> impl Strategy<Value = Project> {
    let one = (0_u64..8, vec(0_u32..4, 2));
    let lag = (any::<prop::sample::Index>(), any::<prop::sample::Index>(), 0_u64..3, 0_u64..10);
    (vec(one, 1..=most), vec(lag, 0..2 * most), vec(1_u32..4, 2)).prop_map(|(activities, lags, capacities)| {
        let mut project = Project::with(&capacities);
        for (duration, needs) in &activities {
            let needs: Vec<(usize, u32)> = needs.iter().zip(&capacities).map(|(need, capacity)| *need.min(capacity)).enumerate().collect();
            project.add(*duration, &needs);
        }
        for (one, other, kind, least) in lags {
            let (one, other) = (one.index(activities.len()), other.index(activities.len()));
            let (from, to) = (one.min(other), one.max(other));
            match kind {
                _ if from == to => {}
                // Finish to start, start to start, finish to start with a wait.
                0 => project.follow(from, to),
                1 => project.lag(from, to, 0),
                _ => project.lag(from, to, activities[from].0 + least),
            }
        }
        project
    })
}

/// What the search finds by itself, knowing only what takes everything one after another.
fn searched(project: &Project) -> u64 {
    let network = Network::new(project).expect("it can be done");
    let core = Core::new(&network);
    let known = network.makespan(&list::one_by_one(&network)) + 1;
    let found = search::shorter(&core, known, 0, u64::MAX);
    assert!(found.complete);
    let starts = found.starts.map(|placed| super::super::whole(&network, &core, &placed));
    let makespan = starts.map_or(0, |starts| network.makespan(&starts)).max(network.longest());
    u64::try_from(makespan).expect("not below nothing")
}

#[test]
fn of_two_ways_the_one_that_ends_later_is_not_the_better() {
    // One person: A 2, B 4, C 1 at least 12 after the start of B, D 2; E needs nobody for 2, at least 10 after
    // the start of A. A first: B 2-6, D, C at 14, all over at 15. B first: C could be over at 13, but A at 4
    // lets E end at 16 only.
    let mut project = Project::with(&[1]);
    let [a, b, c, _] = [2, 4, 1, 2].map(|duration| project.add(duration, &[(0, 1)]));
    let e = project.add(2, &[]);
    project.lag(a, e, 10);
    project.lag(b, c, 12);
    project.lag(b, e, 4);
    assert_eq!((shortest(&project), searched(&project)), (15, 15));
}

/// Nodes times activities: enough for the small ones, and soon over for the large.
const SOME_WORK: u64 = 40_000;

proptest! {
    #![proptest_config(ProptestConfig { cases: 1000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn small_projects_are_solved_to_the_optimum(project in projects(6)) {
        let schedule = solve_within(&project, SOME_WORK).expect("it can be done");
        check(&project, &schedule);
        let shortest = shortest(&project);
        prop_assert_eq!((schedule.makespan, schedule.bound), (shortest, shortest));
        // Lists mostly find it first; the search alone must find it too.
        prop_assert_eq!(searched(&project), shortest);
    }
}

proptest! {
    // Seven activities have 5,040 orders.
    #![proptest_config(ProptestConfig { cases: 100, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn seven_activities_too(project in projects(7)) {
        let schedule = solve(&project).expect("it can be done");
        let shortest = shortest(&project);
        prop_assert_eq!((schedule.makespan, schedule.bound), (shortest, shortest));
        prop_assert_eq!(searched(&project), shortest);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn lags_and_capacities_are_kept_and_the_bound_holds(project in projects(30), work in prop_oneof![Just(0), Just(3_000)]) {
        let schedule = solve_within(&project, work).expect("it can be done");
        check(&project, &schedule);
        // A bound holds for whatever else is found, and the same project gives the same schedule.
        let better = solve_within(&project, SOME_WORK).expect("it can be done");
        check(&project, &better);
        prop_assert!(schedule.bound <= better.makespan && better.bound <= schedule.makespan);
        prop_assert_eq!(solve_within(&project, work), Ok(schedule));
    }
}
