//! The work plan of a guide: how long it takes, and the order that fits stages into each other's waits.
//!
//! [`plan()`] turns the marks of time of a guide into activities and asks the general [`solver`] for the
//! shortest schedule that a crew can keep. Waits and rests need nobody, runs need one unless unattended;
//! steps keep their order within a stage, and hands-on work is not interrupted.

mod acts;
mod early;
mod meanwhile;
pub mod solver;
mod stages;

#[cfg(test)]
mod tests;

use std::fmt;

use acts::{Act, Clock};
use solver::{Project, Unsolvable, solve};

use super::exact::whole;
use crate::book::model::Guide;
use crate::book::outline::{Stage, Step};
use crate::quantity::Exact;

pub use early::Early;
pub use meanwhile::{Filling, Meanwhile};

/// What somebody, a machine or nobody does for a while.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum TaskKind {
    HandsOn,
    /// Nobody need stand by.
    Wait,
    /// A machine runs; somebody stays with it unless it is unattended.
    Run,
    /// A machine must rest; nobody need stand by.
    Rest,
}

impl TaskKind {
    /// As the JSON has it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::HandsOn => "hands-on",
            Self::Wait => "wait",
            Self::Run => "run",
            Self::Rest => "rest",
        }
    }
}

/// A task with its times, in minutes from the start of the job.
#[derive(Debug, Clone, PartialEq)]
pub struct Task<'g> {
    /// Place of the stage in the guide, from 0.
    pub stage: usize,
    /// Place of the step in the stage, from 0.
    pub step: usize,
    /// Place of its mark in the step, from 0.
    pub mark: usize,
    pub kind: TaskKind,
    pub start: Exact,
    pub end: Exact,
    /// People it needs.
    pub hands: u32,
    /// What a wait is for.
    pub what: Option<&'g str>,
}

/// Where the times of a guide come from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Basis {
    /// From the marks of its steps; some steps may say none.
    Steps { some_untimed: bool },
    /// From `time` in the front matter.
    FrontMatter,
    /// The guide gives no times.
    Nothing,
}

/// Times of a guide that need no schedule, in minutes.
#[derive(Debug, Clone, PartialEq)]
pub struct Sums {
    pub basis: Basis,
    /// Person-minutes: hands-on time by the people it needs, and runs that somebody stays with.
    pub hands_on: Exact,
    /// Waits, rests and runs that nobody need stay with, one after another.
    pub waiting: Exact,
    /// Everything one after another, waits and rests included.
    pub in_sequence: Exact,
}

/// The work plan of a guide for a crew.
#[derive(Debug, Clone)]
pub struct Plan<'g> {
    pub guide: &'g Guide,
    /// People at hand.
    pub crew: u32,
    pub sums: Sums,
    /// Minutes from start to end; never more than in sequence.
    pub elapsed: Exact,
    /// No order of work takes fewer minutes.
    pub bound: Exact,
    /// By start, then in the order of the guide.
    pub tasks: Vec<Task<'g>>,
}

/// Why a guide has no work plan.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PlanError {
    /// A step needs more people than there are; the step is counted from 1.
    TooFewHands { stage: String, step: usize, hands: u32, crew: u32 },
    /// Stages wait for each other; this is one of them, or waits for them.
    Circle { stage: String },
    /// The times cannot be added up.
    TooLong,
}

impl fmt::Display for PlanError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooFewHands { stage, step, hands, crew } => {
                let people = if *hands == 1 { "one person".to_owned() } else { format!("{hands} people") };
                write!(f, "step {step} of `{stage}` needs {people} at once, and the crew is {crew}")
            }
            Self::Circle { stage } => write!(f, "the stage `{stage}` waits for stages that wait for each other, so that none can begin"),
            Self::TooLong => f.write_str("the times of this guide are too long to be added up"),
        }
    }
}

impl std::error::Error for PlanError {}

impl PlanError {
    /// How to mend it.
    #[must_use]
    pub fn remedy(&self) -> String {
        match self {
            Self::TooFewHands { hands, .. } => format!("plan it for more people: `--crew {hands}`"),
            Self::Circle { .. } => "take one of the stages out of an `{after …}` or `{alongside …}`".to_owned(),
            Self::TooLong => "look for a time with the wrong unit".to_owned(),
        }
    }
}

/// Plans a guide for so many people.
///
/// # Errors
/// Too few people for some step, stages that wait for each other in a circle, times beyond all measure.
pub fn plan(guide: &Guide, crew: u32) -> Result<Plan<'_>, PlanError> {
    enough_hands(guide, crew)?;
    let work = Work::of(guide);
    let sums = work.sums();
    if sums.basis == Basis::Nothing || sums.basis == Basis::FrontMatter {
        return Ok(Plan { guide, crew, elapsed: sums.in_sequence, bound: sums.in_sequence, sums, tasks: Vec::new() });
    }
    let schedule = solve(&work.project(crew)).map_err(|problem| work.error(problem))?;
    let bound = if work.whole_runs {
        // A run taken whole is held longer than it need be: only the lags and the work are sure.
        let lags = solve(&work.project(u32::MAX)).map_err(|problem| work.error(problem))?.makespan;
        lags.max(work.hands_on().div_ceil(u128::from(crew.max(1))).try_into().unwrap_or(u64::MAX)).min(schedule.makespan)
    } else {
        schedule.bound
    };
    let minutes = |units: u64| work.clock.minutes(u128::from(units));
    let mut tasks: Vec<Task<'_>> = work
        .acts
        .iter()
        .zip(&schedule.starts)
        .map(|(act, start)| Task {
            stage: act.stage,
            step: act.step,
            mark: act.mark,
            kind: act.kind,
            start: minutes(*start),
            end: minutes(start + work.clock.units(&act.minutes)),
            hands: act.hands,
            what: act.what,
        })
        .collect();
    tasks.sort_by_key(|task| (task.start, task.stage, task.step));
    Ok(Plan { guide, crew, elapsed: minutes(schedule.makespan), bound: minutes(bound), sums, tasks })
}

/// The sums of a guide, also where it cannot be planned.
#[must_use]
pub fn sums(guide: &Guide) -> Sums {
    Work::of(guide).sums()
}

impl<'g> Plan<'g> {
    /// Whether it is proved that no order of work is shorter.
    #[must_use]
    pub fn is_optimal(&self) -> bool {
        self.bound == self.elapsed
    }

    /// The stage of a task.
    #[must_use]
    pub fn stage(&self, task: &Task<'_>) -> Option<&'g Stage> {
        self.guide.outline.stages.get(task.stage)
    }

    /// The step of a task.
    #[must_use]
    pub fn step(&self, task: &Task<'_>) -> Option<&'g Step> {
        self.stage(task).and_then(|stage| stage.steps.get(task.step))
    }

    /// Stages that begin before the stage that they lie alongside has isolated something.
    #[must_use]
    pub fn early(&self) -> Vec<Early<'g>> {
        early::early(self)
    }

    /// What to do while a step waits or its machine rests, in order of time.
    #[must_use]
    pub fn meanwhile(&self) -> Vec<Meanwhile<'g>> {
        meanwhile::meanwhile(self)
    }
}

/// Acts of a guide with the unit their times are counted in.
struct Work<'g> {
    guide: &'g Guide,
    acts: Vec<Act<'g>>,
    clock: Clock,
    whole_runs: bool,
}

impl<'g> Work<'g> {
    fn of(guide: &'g Guide) -> Self {
        let whole_runs = acts::count(guide) > acts::MOST_ACTS;
        let acts = acts::acts(guide, whole_runs);
        let clock = Clock::for_acts(&acts);
        Self { guide, acts, clock, whole_runs }
    }

    /// Person-time in units.
    fn hands_on(&self) -> u128 {
        self.acts.iter().map(|act| u128::from(self.clock.units(&act.worked)) * u128::from(act.hands)).sum()
    }

    fn sums(&self) -> Sums {
        let units = |act: &Act<'_>| u128::from(self.clock.units(&act.minutes));
        let worked: u128 = self.acts.iter().map(|act| u128::from(self.clock.units(&act.worked))).sum();
        let in_sequence: u128 = self.acts.iter().map(units).sum();
        if acts::any_time(self.guide) {
            return Sums {
                basis: Basis::Steps { some_untimed: acts::some_untimed(self.guide) },
                hands_on: self.clock.minutes(self.hands_on()),
                waiting: self.clock.minutes(in_sequence.saturating_sub(worked)),
                in_sequence: self.clock.minutes(in_sequence),
            };
        }
        let (basis, time) = match self.guide.time {
            Some(time) => (Basis::FrontMatter, time.minutes()),
            None => (Basis::Nothing, whole(0)),
        };
        Sums { basis, hands_on: time, waiting: whole(0), in_sequence: time }
    }

    /// Acts as activities of a crew, with what lies between them.
    fn project(&self, crew: u32) -> Project {
        let mut project = Project::with(&[crew]);
        for act in &self.acts {
            let duration = self.clock.units(&act.minutes);
            if act.hands > 0 {
                project.add(duration, &[(0, act.hands)])
            } else {
                project.add(duration, &[])
            };
        }
        stages::link(self.guide, &self.acts, &mut project);
        project
    }

    fn error(&self, problem: Unsolvable) -> PlanError {
        match problem {
            Unsolvable::Circle { activity } => {
                let stage = stages::of_activity(self.guide, &self.acts, activity);
                PlanError::Circle { stage: stage.map(|stage| stage.title.clone()).unwrap_or_default() }
            }
            Unsolvable::TooMuch { .. } | Unsolvable::Unknown | Unsolvable::TooLong => PlanError::TooLong,
        }
    }
}

fn enough_hands(guide: &Guide, crew: u32) -> Result<(), PlanError> {
    for stage in &guide.outline.stages {
        for (at, step) in stage.steps.iter().enumerate() {
            let hands = acts::hands(step);
            if hands > crew {
                return Err(PlanError::TooFewHands { stage: stage.title.clone(), step: at + 1, hands, crew });
            }
        }
    }
    Ok(())
}
