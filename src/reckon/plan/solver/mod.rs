//! Schedules activities that share renewable resources in the shortest time that can be found.
//!
//! The resource-constrained project problem with minimum lags between starts. Good schedules come from
//! lists, a bound from the longest path and from work against capacity with heads and tails; where they
//! do not meet, a depth-first search closes the gap, or gives up after a number of nodes. It knows
//! nothing of guides, takes no time from the clock, and the same project always gives the same schedule.

mod bound;
mod core;
mod list;
mod memo;
mod network;
mod profile;
mod project;
mod search;

#[cfg(test)]
mod tests;

pub use project::{Activity, Lag, Need, Project, Schedule, Unsolvable};

use bound::Fluid;
use core::Core;
use network::Network;

/// Most activities that are sorted by lists; more are done one after another.
const MOST_IN_LISTS: usize = 5_000;
/// Nodes times activities that a search may take: some hundredths of a second.
const MOST_WORK: u64 = 500_000;
/// The part of it that is tried before better lists are looked for; most projects are settled by then.
const FIRST_TRY: u64 = 16;

/// A schedule, with a bound that no schedule can beat.
///
/// # Errors
/// Activities that wait for each other in a circle, needs above what there is, lags and needs that name
/// nothing, and times too long to be added up.
///
/// ```
/// use garboard::reckon::plan::solver::{Project, solve};
///
/// // One person; varnish that dries for two hours, and an hour of other work meanwhile.
/// let mut project = Project::with(&[1]);
/// let varnish = project.add(30, &[(0, 1)]);
/// let second_coat = project.add(20, &[(0, 1)]);
/// project.lag(varnish, second_coat, 30 + 120);
/// project.add(60, &[(0, 1)]);
/// let schedule = solve(&project).expect("it can be done");
/// assert_eq!((schedule.makespan, schedule.bound), (170, 170));
/// ```
pub fn solve(project: &Project) -> Result<Schedule, Unsolvable> {
    solve_within(project, MOST_WORK)
}

/// As [`solve`], with so many nodes times activities for the search.
///
/// # Errors
/// As [`solve`].
pub fn solve_within(project: &Project, most_work: u64) -> Result<Schedule, Unsolvable> {
    let network = Network::new(project)?;
    let longest = network.longest();
    if network.len() > MOST_IN_LISTS {
        return Ok(schedule(&network, &list::one_by_one(&network), longest));
    }
    let starts = list::as_written(&network);
    if network.makespan(&starts) == longest {
        return Ok(schedule(&network, &starts, longest));
    }
    let (starts, bound) = improved(&network, starts, longest, most_work);
    Ok(schedule(&network, &starts, bound))
}

/// Brings schedule and bound together, as far as the work goes.
fn improved(network: &Network, starts: Vec<i64>, longest: i64, most_work: u64) -> (Vec<i64>, i64) {
    let mut fluid = Fluid::default();
    let mut core = Core::new(network);
    let bound = longest.max(core.bound(&mut fluid));
    // Where the work alone takes so long, nothing need be tried.
    let starts = list::best(network, starts, bound);
    if network.makespan(&starts) <= bound || core.len() > memo::MOST {
        return (starts, bound);
    }
    core.strengthen(&mut fluid);
    let bound = longest.max(core.bound(&mut fluid));
    let nodes = most_work / core.len().max(1) as u64;
    let (starts, proved) = tried(network, &core, starts, bound, nodes / FIRST_TRY);
    let (starts, proved) =
        if proved || nodes == 0 { (starts, proved) } else { tried(network, &core, list::disturbed(network, starts, bound), bound, nodes) };
    let makespan = network.makespan(&starts);
    (starts, if proved { makespan } else { bound })
}

/// Searches within so many nodes; says whether the schedule is then proved to be the shortest.
fn tried(network: &Network, core: &Core, starts: Vec<i64>, bound: i64, nodes: u64) -> (Vec<i64>, bool) {
    let makespan = network.makespan(&starts);
    if makespan <= bound {
        return (starts, true);
    }
    let found = search::shorter(core, makespan, bound, nodes);
    let starts = found.starts.map_or(starts, |placed| whole(network, core, &placed));
    (starts, found.complete)
}

/// Starts of all from those of the core: what needs nothing starts as soon as it may.
fn whole(network: &Network, core: &Core, placed: &[i64]) -> Vec<i64> {
    let mut starts = vec![0_i64; network.len()];
    for (place, start) in core.places.iter().zip(placed) {
        starts[*place] = *start;
    }
    for &at in &network.order {
        for &(next, lag) in network.ahead.at(at) {
            starts[next] = starts[next].max(starts[at] + lag);
        }
    }
    starts
}

fn schedule(network: &Network, starts: &[i64], bound: i64) -> Schedule {
    let time = |time: i64| u64::try_from(time).unwrap_or(0);
    let makespan = network.makespan(starts);
    Schedule { starts: starts.iter().map(|start| time(*start)).collect(), makespan: time(makespan), bound: time(bound.min(makespan)) }
}
