//! What the search has seen: of two ways to have placed the same activities, the worse need not be
//! followed.
//!
//! The cutset rule of E. Demeulemeester and W. Herroelen, "A branch-and-bound procedure for the multiple
//! resource-constrained project scheduling problem" (1992): whatever can follow the worse way can follow
//! the better at the same times.

use std::collections::HashMap;

/// Most activities a search takes.
pub(super) const MOST: usize = 512;

/// The activities that are placed, a bit each.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub(super) struct Placed([u64; MOST / 64]);

impl Placed {
    pub(super) fn put(&mut self, activity: usize) {
        self.0[activity / 64] |= 1 << (activity % 64);
    }

    pub(super) fn take(&mut self, activity: usize) {
        self.0[activity / 64] &= !(1 << (activity % 64));
    }

    pub(super) fn has(&self, activity: usize) -> bool {
        self.0[activity / 64] >> (activity % 64) & 1 == 1
    }
}

/// All that the rest of a schedule depends on, once certain activities are placed.
#[derive(Debug, Clone)]
pub(super) struct Way {
    /// The last start.
    pub now: i64,
    /// What is placed keeps the project going at least until then.
    pub settled: i64,
    /// Nothing that follows ends before this.
    pub bound: i64,
    /// Earliest starts of those that wait for a placed one; in the order of the activities.
    pub earliest: Vec<i64>,
    /// Use of all resources from `now` on: when it drops, and what it then drops to. It only drops.
    pub drops: Vec<(i64, Vec<i64>)>,
}

impl Way {
    /// Whether whatever follows `other` could follow this as well.
    fn is_no_worse(&self, other: &Self) -> bool {
        self.now <= other.now
            && self.settled <= other.bound
            && self.earliest.iter().zip(&other.earliest).all(|(own, others)| *own <= (*others).max(other.now))
            && other
                .drops
                .iter()
                .all(|(moment, used)| self.used_at((*moment).max(other.now)).iter().zip(used).all(|(own, others)| own <= others))
    }

    /// Use at a moment; the last drop stands for all later.
    fn used_at(&self, moment: i64) -> &[i64] {
        let after = self.drops.partition_point(|(at, _)| *at <= moment);
        self.drops.get(after.saturating_sub(1)).map_or(&[], |(_, used)| used)
    }
}

/// Ways seen so far.
#[derive(Debug, Default)]
pub(super) struct Memo {
    seen: HashMap<Placed, Vec<Way>>,
}

impl Memo {
    /// Whether a way is worth following: none seen was as good. It is then remembered.
    pub(super) fn is_new(&mut self, placed: &Placed, way: Way) -> bool {
        let ways = self.seen.entry(*placed).or_default();
        if ways.iter().any(|known| known.is_no_worse(&way)) {
            return false;
        }
        ways.retain(|known| !way.is_no_worse(known));
        ways.push(way);
        true
    }
}
