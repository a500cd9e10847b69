//! List schedules: activities in an order of priority, each as early as what it waits for and needs
//! allow.
//!
//! R. Kolisch, "Serial and parallel resource-constrained project scheduling methods revisited" (1996),
//! for the scheme and the rules; V. Valls, F. Ballestín and S. Quintanilla, "Justification and RCPSP"
//! (2005), for packing a schedule to the right and to the left again.

use super::network::Network;
use super::profile::Profile;
use std::cmp::Reverse;
use std::collections::BinaryHeap;

/// Times a schedule is packed again while it gets shorter.
const ROUNDS: usize = 6;
/// Activities put into lists that are disturbed by chance: so many over all lists.
const DISTURBED: usize = 15_000;

/// Starts by a list; of those that may be next, the one with the lowest rank is.
pub(super) fn by_rank(network: &Network, rank: &[i64]) -> Vec<i64> {
    let mut waits: Vec<usize> = (0..network.len()).map(|at| network.behind.at(at).len()).collect();
    let mut earliest = vec![0_i64; network.len()];
    let mut profile = Profile::new(&network.capacities);
    let mut ready: BinaryHeap<Reverse<(i64, usize)>> =
        (0..network.len()).filter(|at| waits[*at] == 0).map(|at| Reverse((rank[at], at))).collect();
    while let Some(Reverse((_, at))) = ready.pop() {
        if network.holds(at) {
            let (duration, needs) = (network.durations[at], network.needs(at));
            earliest[at] = profile.earliest(earliest[at], duration, needs);
            profile.hold(earliest[at], duration, needs);
        }
        for &(next, lag) in network.ahead.at(at) {
            earliest[next] = earliest[next].max(earliest[at] + lag);
            waits[next] -= 1;
            if waits[next] == 0 {
                ready.push(Reverse((rank[next], next)));
            }
        }
    }
    earliest
}

/// One after another, whatever could be done at the same time.
pub(super) fn one_by_one(network: &Network) -> Vec<i64> {
    let mut starts = vec![0_i64; network.len()];
    let mut free = 0;
    for &at in &network.order {
        starts[at] = starts[at].max(free);
        free = free.max(starts[at] + network.durations[at]);
        for &(next, lag) in network.ahead.at(at) {
            starts[next] = starts[next].max(starts[at] + lag);
        }
    }
    starts
}

/// In the order written.
pub(super) fn as_written(network: &Network) -> Vec<i64> {
    by_rank(network, &places(network))
}

fn places(network: &Network) -> Vec<i64> {
    (0_i64..).take(network.len()).collect()
}

/// The shortest of a schedule and of several list schedules: in the order written, by latest finish, by
/// longest tail, by the work that hangs on it; each packed again. Stops at `enough`.
pub(super) fn best(network: &Network, mut best: Vec<i64>, enough: i64) -> Vec<i64> {
    let mut shortest = network.makespan(&best);
    if shortest <= enough {
        return best;
    }
    let reversed = network.reversed();
    for rank in [places, by_latest_finish, by_longest_tail, by_work_ahead] {
        let mut starts = by_rank(network, &rank(network));
        if let Some(reversed) = &reversed {
            starts = packed(network, reversed, starts);
        }
        let makespan = network.makespan(&starts);
        if makespan < shortest {
            shortest = makespan;
            best = starts;
        }
        if shortest <= enough {
            return best;
        }
    }
    best
}

/// Looks round the best schedule: its order, a little disturbed, again and again. The disturbance comes
/// from a fixed seed, so that the same project always gives the same schedule.
pub(super) fn disturbed(network: &Network, mut best: Vec<i64>, enough: i64) -> Vec<i64> {
    let Some(reversed) = network.reversed() else { return best };
    let mut shortest = network.makespan(&best);
    let mut chance = Chance(SEED);
    for round in 0..DISTURBED / network.len().max(1) {
        // One list in four strays further.
        let reach = (shortest / if round % 4 == 0 { 4 } else { 16 }).max(1);
        let rank: Vec<i64> = best.iter().map(|start| start + chance.below(reach)).collect();
        let starts = packed(network, &reversed, by_rank(network, &rank));
        let makespan = network.makespan(&starts);
        if makespan <= shortest {
            best = starts;
            shortest = makespan;
        }
        if shortest <= enough {
            break;
        }
    }
    best
}

/// Numbers that look like chance: G. Marsaglia, "Xorshift RNGs" (2003).
struct Chance(u64);

const SEED: u64 = 0x9e37_79b9_7f4a_7c15;

impl Chance {
    fn below(&mut self, limit: i64) -> i64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        i64::try_from(self.0 >> 2).unwrap_or(0) % limit.max(1)
    }
}

fn by_latest_finish(network: &Network) -> Vec<i64> {
    (0..network.len()).map(|at| network.durations[at] - network.tails[at]).collect()
}

fn by_longest_tail(network: &Network) -> Vec<i64> {
    network.tails.iter().map(|tail| -tail).collect()
}

/// The more work hangs on an activity, the sooner; work of those that wait for several counts for each.
fn by_work_ahead(network: &Network) -> Vec<i64> {
    let mut work: Vec<i64> = (0..network.len()).map(|at| if network.holds(at) { network.durations[at] } else { 0 }).collect();
    for &at in network.order.iter().rev() {
        for &(next, _) in network.ahead.at(at) {
            work[at] = work[at].saturating_add(work[next]);
        }
    }
    work.into_iter().map(|work| -work).collect()
}

/// Pushes everything as late as the end allows, then as early as possible, while that shortens it.
fn packed(network: &Network, reversed: &Network, starts: Vec<i64>) -> Vec<i64> {
    let mut best = starts;
    let mut shortest = network.makespan(&best);
    for _ in 0..ROUNDS {
        let from_end: Vec<i64> = best.iter().zip(&network.durations).map(|(start, duration)| shortest - start - duration).collect();
        let late = by_rank(reversed, &from_end);
        let end = reversed.makespan(&late);
        let rank: Vec<i64> = late.iter().zip(&network.durations).map(|(start, duration)| end - start - duration).collect();
        let early = by_rank(network, &rank);
        let makespan = network.makespan(&early);
        if makespan >= shortest {
            break;
        }
        shortest = makespan;
        best = early;
    }
    best
}
