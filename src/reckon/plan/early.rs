//! Stages that begin before what they lie alongside has isolated something.
//!
//! A stage `{alongside S}` may start as soon as S does. Where S first runs an engine and then takes the key
//! out, whoever works alongside may have his hands in it by then.

use super::{Plan, Task};
use crate::book::outline::{MarkKind, Stage};
use crate::book::stages::ByTitle;
use crate::quantity::Exact;
use std::collections::BTreeMap;

/// A stage that begins before something is isolated in the stage that it lies alongside.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Early<'g> {
    /// The stage that begins too early, from 0.
    pub stage: usize,
    /// Where it is isolated: stage and step from 0.
    pub by: usize,
    pub step: usize,
    /// What is isolated there: `start key`.
    pub what: &'g str,
}

/// In the order of the stages; of several isolations of one stage the last, which the others come before.
pub(super) fn early<'g>(plan: &Plan<'g>) -> Vec<Early<'g>> {
    let stages = &plan.guide.outline.stages;
    if stages.iter().all(|stage| stage.alongside.is_empty()) {
        return Vec::new();
    }
    let mut found = Vec::new();
    let by_title = ByTitle::new(stages);
    let starts = first_starts(plan);
    for (at, stage) in stages.iter().enumerate() {
        let Some(start) = starts.get(&at) else { continue };
        for named in &stage.alongside {
            let named = by_title.find(&named.value).map(|(named, _)| named);
            let Some((by, other)) = named.filter(|by| *by != at).and_then(|by| Some((by, stages.get(by)?))) else { continue };
            let late = isolations(other).filter(|one| isolated_at(plan, by, one).is_some_and(|end| *start < end)).last();
            found.extend(late.map(|Isolation { step, what, .. }| Early { stage: at, by, step, what }));
        }
    }
    found
}

/// When each stage begins that has a time at all.
fn first_starts(plan: &Plan<'_>) -> BTreeMap<usize, Exact> {
    let mut starts = BTreeMap::new();
    for task in &plan.tasks {
        starts.entry(task.stage).or_insert(task.start);
    }
    starts
}

/// Something isolated: step and mark, from 0, and what.
struct Isolation<'g> {
    step: usize,
    mark: usize,
    what: &'g str,
}

fn isolations(stage: &Stage) -> impl Iterator<Item = Isolation<'_>> {
    stage.steps.iter().enumerate().flat_map(|(step, of_step)| {
        of_step.marks.iter().enumerate().filter_map(move |(mark, of_mark)| match &of_mark.kind {
            MarkKind::Isolate { what, .. } => Some(Isolation { step, mark, what }),
            _ => None,
        })
    })
}

/// When all that stands before it in its stage is over. `None`: nothing with a time does.
fn isolated_at(plan: &Plan<'_>, stage: usize, isolation: &Isolation<'_>) -> Option<Exact> {
    let before = |task: &&Task<'_>| task.stage == stage && (task.step, task.mark) < (isolation.step, isolation.mark);
    plan.tasks.iter().filter(before).map(|task| task.end).max()
}
