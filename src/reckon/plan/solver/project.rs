//! What is to be scheduled, and what comes out: plain values, whole units of time.

use std::fmt;

/// Activities, what lies between them, and how much of each resource there is at any moment.
#[derive(Debug, Clone, Default)]
pub struct Project {
    /// How much of each resource there is; it comes back when an activity ends.
    pub capacities: Vec<u32>,
    pub activities: Vec<Activity>,
    pub lags: Vec<Lag>,
}

/// Something that takes time, without a break.
#[derive(Debug, Clone, Default)]
pub struct Activity {
    pub duration: u64,
    /// What it holds from its start to its end.
    pub needs: Vec<Need>,
}

/// So much of a resource.
#[derive(Debug, Clone, Copy)]
pub struct Need {
    /// Place of the resource in [`Project::capacities`].
    pub resource: usize,
    pub amount: u32,
}

/// `to` starts no earlier than `least` after the start of `from`.
#[derive(Debug, Clone, Copy)]
pub struct Lag {
    pub from: usize,
    pub to: usize,
    pub least: u64,
}

impl Project {
    /// A project with these resources and nothing to do.
    #[must_use]
    pub fn with(capacities: &[u32]) -> Self {
        Self { capacities: capacities.to_vec(), ..Self::default() }
    }

    /// Adds an activity with what it needs, as resource and amount, and returns its place.
    pub fn add(&mut self, duration: u64, needs: &[(usize, u32)]) -> usize {
        let needs = needs.iter().map(|(resource, amount)| Need { resource: *resource, amount: *amount }).collect();
        self.activities.push(Activity { duration, needs });
        self.activities.len() - 1
    }

    /// `after` starts when `before` has ended, or later.
    pub fn follow(&mut self, before: usize, after: usize) {
        let least = self.activities.get(before).map_or(0, |activity| activity.duration);
        self.lag(before, after, least);
    }

    /// `to` starts at least so long after the start of `from`.
    pub fn lag(&mut self, from: usize, to: usize, least: u64) {
        self.lags.push(Lag { from, to, least });
    }
}

/// When each activity starts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Schedule {
    /// In the order of the activities; the first starts at 0.
    pub starts: Vec<u64>,
    /// When the last activity ends.
    pub makespan: u64,
    /// No schedule can end before this.
    pub bound: u64,
}

impl Schedule {
    /// Whether it is proved that no schedule is shorter.
    #[must_use]
    pub fn is_optimal(&self) -> bool {
        self.bound == self.makespan
    }
}

/// Why there is no schedule.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unsolvable {
    /// Activities wait for each other in a circle; this one is part of it or waits for it.
    Circle { activity: usize },
    /// An activity needs more of a resource than there is.
    TooMuch { activity: usize, resource: usize },
    /// A lag or a need names an activity or a resource that is not there.
    Unknown,
    /// The times are too long to be added up.
    TooLong,
}

impl fmt::Display for Unsolvable {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Circle { .. } => "activities wait for each other, so that none can begin",
            Self::TooMuch { .. } => "an activity needs more than there is",
            Self::Unknown => "a lag or a need names what is not there",
            Self::TooLong => "the times are too long to be added up",
        })
    }
}

impl std::error::Error for Unsolvable {}
