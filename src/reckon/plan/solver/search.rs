//! Depth-first search for a shorter schedule, within a number of nodes.
//!
//! Activities are placed in the order of their starts, each as early as those before it allow; every
//! schedule in which nothing could start earlier comes up that way. A way is left where its bound is no
//! better than what is known, where something could start earlier or finish in a gap, and where a way
//! no worse was seen ([`super::memo`]).

use super::bound::{Fluid, Job};
use super::core::Core;
use super::memo::{Memo, Placed, Way};

/// What a search found.
#[derive(Debug)]
pub(super) struct Found {
    /// Starts of the core, where they are better than what was known.
    pub starts: Option<Vec<i64>>,
    /// All was seen: nothing is shorter than what is now known.
    pub complete: bool,
}

/// Looks for a schedule shorter than `known`, no further than `enough`.
pub(super) fn shorter(core: &Core, known: i64, enough: i64, most_nodes: u64) -> Found {
    let mut search = Search {
        core,
        upper: known,
        enough,
        most_nodes,
        nodes: 0,
        best: None,
        memo: Memo::default(),
        fluid: Fluid::default(),
        placed: Placed::default(),
        starts: vec![0; core.len()],
        way: Vec::with_capacity(core.len()),
        going: Vec::new(),
        rows: vec![0; core.len() * (core.len() + 1)],
    };
    let complete = search.visit(i64::MIN) || search.upper <= enough;
    Found { starts: search.best, complete }
}

/// An activity that may come next.
#[derive(Debug, Clone, Copy)]
struct Next {
    activity: usize,
    start: i64,
    /// Earliest by its lags alone.
    freed: i64,
}

struct Search<'c> {
    core: &'c Core,
    /// Only what is shorter is worth finding.
    upper: i64,
    enough: i64,
    most_nodes: u64,
    nodes: u64,
    best: Option<Vec<i64>>,
    memo: Memo,
    fluid: Fluid,
    placed: Placed,
    /// Starts of those placed.
    starts: Vec<i64>,
    /// Those placed, in order.
    way: Vec<usize>,
    /// Those placed that go on after the last start.
    going: Vec<usize>,
    /// Earliest starts, a row for each number of activities placed.
    rows: Vec<i64>,
}

impl Search<'_> {
    /// Whether all below this node was seen.
    fn visit(&mut self, now: i64) -> bool {
        if self.nodes >= self.most_nodes {
            return false;
        }
        self.nodes += 1;
        if self.way.len() == self.core.len() {
            let makespan = self.settled();
            if makespan < self.upper {
                self.upper = makespan;
                self.best = Some(self.starts.clone());
            }
            return true;
        }
        self.going.clear();
        self.going.extend(self.way.iter().filter(|at| self.starts[**at] + self.core.durations[**at] > now));
        let mut nexts = self.nexts(now);
        let bound = self.bound(now);
        if bound >= self.upper || !self.memo.is_new(&self.placed, self.as_way(now, bound)) {
            return true;
        }
        self.only_without_gaps(&mut nexts);
        let mut complete = true;
        for next in nexts {
            if self.upper <= self.enough {
                return true;
            }
            if next.start + self.core.tails[next.activity] >= self.upper || self.could_start_earlier(next) {
                continue;
            }
            self.placed.put(next.activity);
            self.way.push(next.activity);
            self.starts[next.activity] = next.start;
            complete &= self.visit(next.start);
            self.way.pop();
            self.placed.take(next.activity);
            if !complete && self.nodes >= self.most_nodes {
                return false;
            }
        }
        complete
    }

    /// Those that may come next, and the earliest starts of all that are not placed into the row of
    /// this depth.
    fn nexts(&mut self, now: i64) -> Vec<Next> {
        let len = self.core.len();
        let row = self.way.len() * len;
        let mut nexts = Vec::new();
        for at in 0..len {
            if self.placed.has(at) {
                continue;
            }
            let mut freed = 0;
            let mut earliest = self.core.heads[at].max(now);
            let mut ready = true;
            for &(before, lag) in self.core.behind.at(at) {
                if self.placed.has(before) {
                    freed = freed.max(self.starts[before] + lag);
                } else {
                    ready = false;
                    earliest = earliest.max(self.rows[row + before] + lag);
                }
            }
            earliest = earliest.max(freed);
            if ready {
                earliest = self.fits_from(earliest, at);
                nexts.push(Next { activity: at, start: earliest, freed: freed.max(self.core.path_heads[at]) });
            }
            self.rows[row + at] = earliest;
        }
        nexts
    }

    /// The earliest moment at which the needs of an activity can be met; use only drops from `now` on.
    fn fits_from(&self, from: i64, activity: usize) -> i64 {
        let mut moment = from;
        while !self.fits_among(&self.going, moment, activity) {
            let ends = self.going.iter().map(|at| self.starts[*at] + self.core.durations[*at]);
            match ends.filter(|end| *end > moment).min() {
                Some(end) => moment = end,
                None => break,
            }
        }
        moment
    }

    fn fits_among(&self, others: &[usize], moment: i64, activity: usize) -> bool {
        let needs = self.core.needs(activity);
        (0..needs.len()).all(|resource| {
            let used: i64 = others
                .iter()
                .filter(|at| self.starts[**at] <= moment && moment < self.starts[**at] + self.core.durations[**at])
                .map(|at| self.core.needs(*at)[resource])
                .sum();
            used + needs[resource] <= self.core.capacities[resource]
        })
    }

    /// An activity that starts after another could be over is put before it by another way.
    fn only_without_gaps(&self, nexts: &mut Vec<Next>) {
        let end = |next: &Next| next.start + self.core.durations[next.activity];
        let first = nexts.iter().map(end).min().unwrap_or(i64::MAX);
        nexts.retain(|next| next.start < first);
        nexts.sort_by_key(|next| (next.start, -self.core.tails[next.activity], next.activity));
    }

    fn could_start_earlier(&self, next: Next) -> bool {
        next.start > next.freed && self.fits_among(&self.way, next.start - 1, next.activity)
    }

    /// Until when what is placed keeps the project going.
    fn settled(&self) -> i64 {
        self.way.iter().map(|at| self.starts[*at] + self.core.path_tails[*at]).max().unwrap_or(0)
    }

    /// Nothing that follows ends before this; not looked into further once nothing shorter can.
    fn bound(&mut self, now: i64) -> i64 {
        let core = self.core;
        let row = self.way.len() * core.len();
        let rest = (0..core.len()).filter(|at| !self.placed.has(*at));
        let mut bound = rest.map(|at| self.rows[row + at] + core.tails[at]).max().unwrap_or(0).max(self.settled());
        for (resource, capacity) in core.bound_capacities.iter().enumerate() {
            if bound >= self.upper {
                break;
            }
            let going_on = self.going.iter().map(|at| {
                let end = self.starts[*at] + core.durations[*at];
                Job { head: now, work: (end - now) * core.bound_needs(*at)[resource], tail: self.starts[*at] + core.tails[*at] - end }
            });
            let to_come = (0..core.len()).filter(|at| !self.placed.has(*at)).map(|at| Job {
                head: self.rows[row + at],
                work: core.durations[at] * core.bound_needs(at)[resource],
                tail: core.tails[at] - core.durations[at],
            });
            bound = bound.max(self.fluid.bound(*capacity, going_on.chain(to_come)));
        }
        bound
    }

    fn as_way(&self, now: i64, bound: i64) -> Way {
        let core = self.core;
        let earliest = (0..core.len())
            .filter(|at| !self.placed.has(*at))
            .filter_map(|at| {
                let freed = core.behind.at(at).iter().filter(|(before, _)| self.placed.has(*before));
                freed.map(|(before, lag)| self.starts[*before] + lag).max()
            })
            .collect();
        let mut moments: Vec<i64> = self.going.iter().map(|at| self.starts[*at] + core.durations[*at]).collect();
        moments.push(now);
        moments.sort_unstable();
        moments.dedup();
        let used = |moment: i64| -> Vec<i64> {
            let going_on = || self.going.iter().filter(move |at| self.starts[**at] + core.durations[**at] > moment);
            (0..core.capacities.len()).map(|resource| going_on().map(|at| core.needs(*at)[resource]).sum()).collect()
        };
        Way { now, settled: self.settled(), bound, earliest, drops: moments.into_iter().map(|moment| (moment, used(moment))).collect() }
    }
}
