//! The part of a project that competes for resources: what needs nothing is folded into the lags
//! between the rest, so that the search never has to place it.

use super::bound::{Fluid, Job};
use super::network::{Links, Network};
use std::collections::BTreeMap;

/// Activities that hold something, in an order that respects every lag.
#[derive(Debug)]
pub(super) struct Core {
    /// Place of each in the whole network.
    pub places: Vec<usize>,
    pub durations: Vec<i64>,
    pub capacities: Vec<i64>,
    needs: Vec<i64>,
    /// Needs and capacities the bounds are reckoned with: those above, then what follows from them.
    pub bound_capacities: Vec<i64>,
    bound_needs: Vec<i64>,
    pub ahead: Links,
    pub behind: Links,
    /// No start of each is earlier.
    pub heads: Vec<i64>,
    /// The same along the longest path alone.
    pub path_heads: Vec<i64>,
    /// From the start of each, the project takes at least so long to its end.
    pub tails: Vec<i64>,
    /// The same along the longest path alone.
    pub path_tails: Vec<i64>,
}

impl Core {
    pub(super) fn new(network: &Network) -> Self {
        let places: Vec<usize> = network.order.iter().copied().filter(|at| network.holds(*at)).collect();
        let links = folded(network, &places);
        let back: Vec<(usize, usize, i64)> = links.iter().map(|(from, to, lag)| (*to, *from, *lag)).collect();
        let needs: Vec<i64> = places.iter().flat_map(|at| network.needs(*at).iter().copied()).collect();
        let (bound_capacities, bound_needs) = with_derived(&network.capacities, &needs);
        let path_heads: Vec<i64> = places.iter().map(|at| network.heads[*at]).collect();
        let path_tails: Vec<i64> = places.iter().map(|at| network.tails[*at]).collect();
        Self {
            durations: places.iter().map(|at| network.durations[*at]).collect(),
            capacities: network.capacities.clone(),
            needs,
            bound_capacities,
            bound_needs,
            ahead: Links::new(places.len(), &links),
            behind: Links::new(places.len(), &back),
            heads: path_heads.clone(),
            path_heads,
            tails: path_tails.clone(),
            path_tails,
            places,
        }
    }

    pub(super) fn len(&self) -> usize {
        self.durations.len()
    }

    pub(super) fn needs(&self, activity: usize) -> &[i64] {
        let width = self.capacities.len();
        &self.needs[activity * width..(activity + 1) * width]
    }

    pub(super) fn bound_needs(&self, activity: usize) -> &[i64] {
        let width = self.bound_capacities.len();
        &self.bound_needs[activity * width..(activity + 1) * width]
    }

    /// No schedule of the whole is shorter.
    pub(super) fn bound(&self, fluid: &mut Fluid) -> i64 {
        let path = self.heads.iter().zip(&self.tails).map(|(head, tail)| head + tail).max().unwrap_or(0);
        let jobs = |resource: usize| {
            (0..self.len()).map(move |at| Job {
                head: self.heads[at],
                work: self.durations[at] * self.bound_needs(at)[resource],
                tail: self.tails[at] - self.durations[at],
            })
        };
        let shared = (0..self.bound_capacities.len()).map(|resource| fluid.bound(self.bound_capacities[resource], jobs(resource)));
        shared.max().unwrap_or(0).max(path)
    }

    /// Lengthens tails and heads by the work that must lie between: what comes after an activity needs
    /// its time too.
    pub(super) fn strengthen(&mut self, fluid: &mut Fluid) {
        let mut away = vec![i64::MIN; self.len()];
        for at in (0..self.len()).rev() {
            self.distances(at, &mut away);
            for resource in 0..self.bound_capacities.len() {
                let jobs = (at..self.len()).filter(|other| away[*other] >= 0).map(|other| Job {
                    head: away[other],
                    work: self.durations[other] * self.bound_needs(other)[resource],
                    tail: self.tails[other] - self.durations[other],
                });
                let bound = fluid.bound(self.bound_capacities[resource], jobs);
                self.tails[at] = self.tails[at].max(bound);
            }
            for &(next, lag) in self.ahead.at(at) {
                self.tails[at] = self.tails[at].max(lag + self.tails[next]);
            }
        }
        for at in 0..self.len() {
            self.distances_back(at, &mut away);
            for resource in 0..self.bound_capacities.len() {
                let jobs = (0..at).filter(|other| away[*other] >= 0).map(|other| Job {
                    head: self.heads[other],
                    work: self.durations[other] * self.bound_needs(other)[resource],
                    tail: away[other] - self.durations[other],
                });
                let bound = fluid.bound(self.bound_capacities[resource], jobs);
                self.heads[at] = self.heads[at].max(bound);
            }
            for &(before, lag) in self.behind.at(at) {
                self.heads[at] = self.heads[at].max(self.heads[before] + lag);
            }
        }
    }

    /// Longest paths from an activity to those after it; below nothing where there is none.
    fn distances(&self, from: usize, away: &mut [i64]) {
        away.fill(i64::MIN);
        away[from] = 0;
        for at in from..self.len() {
            if away[at] >= 0 {
                for &(next, lag) in self.ahead.at(at) {
                    away[next] = away[next].max(away[at] + lag);
                }
            }
        }
    }

    fn distances_back(&self, to: usize, away: &mut [i64]) {
        away.fill(i64::MIN);
        away[to] = 0;
        for at in (0..=to).rev() {
            if away[at] >= 0 {
                for &(before, lag) in self.behind.at(at) {
                    away[before] = away[before].max(away[at] + lag);
                }
            }
        }
        away[to] = i64::MIN;
    }
}

/// Lags between those that hold something, over any number of those that do not. Places count within
/// the core.
fn folded(network: &Network, places: &[usize]) -> Vec<(usize, usize, i64)> {
    let mut own = vec![None; network.len()];
    for (at, place) in places.iter().enumerate() {
        own[*place] = Some(at);
    }
    // For what holds nothing: the longest lags from those that do.
    let mut through: Vec<BTreeMap<usize, i64>> = vec![BTreeMap::new(); network.len()];
    let mut links = Vec::new();
    for &at in &network.order {
        let mut from: BTreeMap<usize, i64> = BTreeMap::new();
        let mut note = |place: usize, lag: i64| {
            let known = from.entry(place).or_insert(lag);
            *known = (*known).max(lag);
        };
        for &(before, lag) in network.behind.at(at) {
            match own[before] {
                Some(place) => note(place, lag),
                None => through[before].iter().for_each(|(place, so_far)| note(*place, so_far + lag)),
            }
        }
        match own[at] {
            Some(place) => links.extend(from.into_iter().map(|(before, lag)| (before, place, lag))),
            None => through[at] = from,
        }
    }
    links
}

/// Beside each resource, what follows from it: of activities that need more than half of it only one
/// can go on at a time, and of those that need just half of it two.
fn with_derived(capacities: &[i64], needs: &[i64]) -> (Vec<i64>, Vec<i64>) {
    let width = capacities.len();
    let large = |resource: usize| {
        let capacity = capacities[resource];
        needs.iter().skip(resource).step_by(width).any(|need| *need < capacity && 2 * need > capacity)
    };
    let derived: Vec<usize> = (0..width).filter(|resource| large(*resource)).collect();
    let all: Vec<i64> = capacities.iter().copied().chain(derived.iter().map(|_| 2)).collect();
    let share = |need: i64, capacity: i64| match (2 * need).cmp(&capacity) {
        std::cmp::Ordering::Greater => 2,
        std::cmp::Ordering::Equal => 1,
        std::cmp::Ordering::Less => 0,
    };
    let needs = needs
        .chunks(width.max(1))
        .flat_map(|own| own.iter().copied().chain(derived.iter().map(|resource| share(own[*resource], capacities[*resource]))))
        .collect();
    (all, needs)
}
