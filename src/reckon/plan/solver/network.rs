//! A project made ready for reckoning: checked, in an order that respects every lag, with the longest
//! paths to and from each activity.

use super::project::{Project, Unsolvable};
use std::cmp::Reverse;
use std::collections::BinaryHeap;

/// Longest time that is reckoned with, times the largest capacity: room to add such figures up.
const LONGEST: i64 = 1 << 60;

/// Lags by the activity they start from or lead to.
#[derive(Debug, Clone, Default)]
pub(super) struct Links {
    offsets: Vec<usize>,
    links: Vec<(usize, i64)>,
}

impl Links {
    /// Sorts `(at, other, lag)` by `at`, keeping the order they come in.
    pub(super) fn new(len: usize, all: &[(usize, usize, i64)]) -> Self {
        let mut offsets = vec![0; len + 1];
        for (at, _, _) in all {
            offsets[at + 1] += 1;
        }
        for at in 0..len {
            offsets[at + 1] += offsets[at];
        }
        let mut next = offsets.clone();
        let mut links = vec![(0, 0); all.len()];
        for (at, other, lag) in all {
            links[next[*at]] = (*other, *lag);
            next[*at] += 1;
        }
        Self { offsets, links }
    }

    /// The other ends of the lags at an activity.
    pub(super) fn at(&self, activity: usize) -> &[(usize, i64)] {
        &self.links[self.offsets[activity]..self.offsets[activity + 1]]
    }
}

/// A checked project.
#[derive(Debug, Clone)]
pub(super) struct Network {
    pub durations: Vec<i64>,
    pub capacities: Vec<i64>,
    /// Needs of all resources, activity by activity.
    needs: Vec<i64>,
    /// Lags to those that come after, and from those that come before.
    pub ahead: Links,
    pub behind: Links,
    /// Every activity after those it waits for; else by place.
    pub order: Vec<usize>,
    /// Longest path from the start of the project to the start of each.
    pub heads: Vec<i64>,
    /// Longest path from the start of each to the end of the project.
    pub tails: Vec<i64>,
}

impl Network {
    pub(super) fn new(project: &Project) -> Result<Self, Unsolvable> {
        let len = project.activities.len();
        if project.lags.iter().any(|lag| lag.from >= len || lag.to >= len) {
            return Err(Unsolvable::Unknown);
        }
        let durations = project.activities.iter().map(|activity| held(activity.duration)).collect::<Result<Vec<i64>, _>>()?;
        let (capacities, needs) = resources(project)?;
        let links = project
            .lags
            .iter()
            .map(|lag| Ok((lag.from, lag.to, held(lag.least)?)))
            .collect::<Result<Vec<(usize, usize, i64)>, Unsolvable>>()?;
        fits(&durations, &links, capacities.iter().copied().max().unwrap_or(1))?;
        Self::linked(durations, capacities, needs, &links)
    }

    /// A network of lags that may also be below nothing.
    pub(super) fn linked(
        durations: Vec<i64>,
        capacities: Vec<i64>,
        needs: Vec<i64>,
        links: &[(usize, usize, i64)],
    ) -> Result<Self, Unsolvable> {
        let len = durations.len();
        let ahead = Links::new(len, links);
        let back: Vec<(usize, usize, i64)> = links.iter().map(|(from, to, lag)| (*to, *from, *lag)).collect();
        let behind = Links::new(len, &back);
        let order = order(len, &ahead, &behind)?;
        let mut network = Self { durations, capacities, needs, ahead, behind, order, heads: vec![0; len], tails: vec![0; len] };
        network.heads = network.longest_heads();
        network.tails = network.longest_tails();
        Ok(network)
    }

    pub(super) fn len(&self) -> usize {
        self.durations.len()
    }

    /// What an activity needs of each resource.
    pub(super) fn needs(&self, activity: usize) -> &[i64] {
        let width = self.capacities.len();
        &self.needs[activity * width..(activity + 1) * width]
    }

    /// Whether an activity holds anything for a time.
    pub(super) fn holds(&self, activity: usize) -> bool {
        self.durations[activity] > 0 && self.needs(activity).iter().any(|need| *need > 0)
    }

    /// Length of the longest path: no schedule is shorter.
    pub(super) fn longest(&self) -> i64 {
        self.heads.iter().zip(&self.tails).map(|(head, tail)| head + tail).max().unwrap_or(0)
    }

    /// When the last activity ends.
    pub(super) fn makespan(&self, starts: &[i64]) -> i64 {
        starts.iter().zip(&self.durations).map(|(start, duration)| start + duration).max().unwrap_or(0)
    }

    /// The same project with time running backwards: a lag between starts becomes one between ends.
    pub(super) fn reversed(&self) -> Option<Self> {
        let links: Vec<(usize, usize, i64)> = (0..self.len())
            .flat_map(|from| self.ahead.at(from).iter().map(move |(to, lag)| (from, *to, *lag)))
            .map(|(from, to, lag)| (to, from, lag + self.durations[to] - self.durations[from]))
            .collect();
        Self::linked(self.durations.clone(), self.capacities.clone(), self.needs.clone(), &links).ok()
    }

    fn longest_heads(&self) -> Vec<i64> {
        let mut heads = vec![0; self.len()];
        for &at in &self.order {
            for &(next, lag) in self.ahead.at(at) {
                heads[next] = heads[next].max(heads[at] + lag);
            }
        }
        heads
    }

    fn longest_tails(&self) -> Vec<i64> {
        let mut tails = self.durations.clone();
        for &at in self.order.iter().rev() {
            for &(next, lag) in self.ahead.at(at) {
                tails[at] = tails[at].max(lag + tails[next]);
            }
        }
        tails
    }
}

fn held(time: u64) -> Result<i64, Unsolvable> {
    i64::try_from(time).map_err(|_| Unsolvable::TooLong)
}

/// Capacities that can run short, and the needs of them. What there is always enough of is left out.
fn resources(project: &Project) -> Result<(Vec<i64>, Vec<i64>), Unsolvable> {
    let width = project.capacities.len();
    let mut needs = vec![0_i64; width * project.activities.len()];
    let mut sums = vec![0_i64; width];
    for (at, activity) in project.activities.iter().enumerate() {
        for need in &activity.needs {
            let capacity = project.capacities.get(need.resource).ok_or(Unsolvable::Unknown)?;
            let own = &mut needs[at * width + need.resource];
            *own = own.saturating_add(i64::from(need.amount));
            if *own > i64::from(*capacity) {
                return Err(Unsolvable::TooMuch { activity: at, resource: need.resource });
            }
            sums[need.resource] = sums[need.resource].saturating_add(i64::from(need.amount));
        }
    }
    let scarce: Vec<usize> = (0..width).filter(|at| sums[*at] > i64::from(project.capacities[*at])).collect();
    let capacities = scarce.iter().map(|at| i64::from(project.capacities[*at])).collect();
    let kept = needs.chunks(width.max(1)).flat_map(|own| scarce.iter().map(|resource| own[*resource])).collect();
    Ok((capacities, kept))
}

/// Everything done one after another must be a time that can be reckoned with.
fn fits(durations: &[i64], links: &[(usize, usize, i64)], largest: i64) -> Result<(), Unsolvable> {
    let mut longest = durations.to_vec();
    for (from, _, lag) in links {
        longest[*from] = longest[*from].max(*lag);
    }
    let total = longest.iter().try_fold(0_i64, |sum, one| sum.checked_add(*one)).ok_or(Unsolvable::TooLong)?;
    match total.checked_mul(largest.max(2)) {
        Some(scaled) if scaled < LONGEST => Ok(()),
        _ => Err(Unsolvable::TooLong),
    }
}

fn order(len: usize, ahead: &Links, behind: &Links) -> Result<Vec<usize>, Unsolvable> {
    let mut waits: Vec<usize> = (0..len).map(|at| behind.at(at).len()).collect();
    let mut ready: BinaryHeap<Reverse<usize>> = (0..len).filter(|at| waits[*at] == 0).map(Reverse).collect();
    let mut order = Vec::with_capacity(len);
    while let Some(Reverse(at)) = ready.pop() {
        order.push(at);
        for (next, _) in ahead.at(at) {
            waits[*next] -= 1;
            if waits[*next] == 0 {
                ready.push(Reverse(*next));
            }
        }
    }
    match waits.iter().position(|left| *left > 0) {
        Some(activity) => Err(Unsolvable::Circle { activity }),
        None => Ok(order),
    }
}
