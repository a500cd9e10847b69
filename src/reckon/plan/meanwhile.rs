//! What to do while something waits: "while the pump rests, do the filter".

use super::{Plan, Task, TaskKind};
use crate::quantity::Exact;

/// Plans with more tasks are not told in such words.
const MOST_TASKS: usize = 1_000;

/// A step that nobody need stand by for a while, and what is done in that time.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Meanwhile<'g> {
    /// The step that waits: stage and step from 0.
    pub stage: usize,
    pub step: usize,
    /// Why nobody is needed: it waits, its machine rests, or runs unattended.
    pub kind: TaskKind,
    /// What the wait is for.
    pub what: Option<&'g str>,
    /// Other stages to work on, in order of time.
    pub filled_by: Vec<Filling>,
}

/// Steps of a stage, from 0, the last included.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Filling {
    pub stage: usize,
    pub first: usize,
    pub last: usize,
}

pub(super) fn meanwhile<'g>(plan: &Plan<'g>) -> Vec<Meanwhile<'g>> {
    let mut told: Vec<Meanwhile<'g>> = Vec::new();
    if plan.tasks.len() > MOST_TASKS {
        return told;
    }
    for (at, task) in plan.tasks.iter().enumerate().filter(|(_, task)| task.hands == 0) {
        let until = until(plan, at, task);
        let others = plan.tasks.iter().filter(|other| other.hands > 0 && other.stage != task.stage);
        let fillings: Vec<&Task<'_>> = others.filter(|other| other.start < until && task.start < other.end).collect();
        if fillings.is_empty() {
            continue;
        }
        let known = told.iter().position(|one| one.stage == task.stage && one.step == task.step && one.kind == task.kind);
        let place = known.unwrap_or_else(|| {
            let (stage, step) = (task.stage, task.step);
            told.push(Meanwhile { stage, step, kind: task.kind, what: task.what, filled_by: Vec::new() });
            told.len() - 1
        });
        if let Some(one) = told.get_mut(place) {
            fillings.into_iter().for_each(|filling| note(&mut one.filled_by, filling));
        }
    }
    told
}

/// When the stage goes on: its next task may begin later than the wait is over.
fn until(plan: &Plan<'_>, at: usize, task: &Task<'_>) -> Exact {
    let next = plan.tasks.iter().skip(at + 1).find(|other| other.stage == task.stage);
    next.map_or(task.end, |next| next.start.max(task.end))
}

fn note(filled_by: &mut Vec<Filling>, task: &Task<'_>) {
    match filled_by.iter_mut().find(|filling| filling.stage == task.stage) {
        Some(filling) => {
            filling.first = filling.first.min(task.step);
            filling.last = filling.last.max(task.step);
        }
        None => filled_by.push(Filling { stage: task.stage, first: task.step, last: task.step }),
    }
}
