//! What the stages of a guide wait for, as lags between their acts.
//!
//! `{after S}` starts when S is done; without marks a stage starts when every stage above it is done;
//! `{alongside S}` starts no earlier than S. That S itself waits for something need not be said again:
//! whatever starts no earlier than S has waited for it too.

use super::acts::Act;
use super::solver::Project;
use crate::book::model::Guide;
use crate::book::outline::Stage;
use crate::book::stages::{ByTitle, Until, waits};
use std::collections::HashSet;

/// Adds the order within stages and between them. A stage without a time gets an activity of no length,
/// so that others can wait for it.
pub(super) fn link(guide: &Guide, acts: &[Act<'_>], project: &mut Project) {
    for (before, pair) in acts.windows(2).enumerate() {
        if let [one, next] = pair
            && one.stage == next.stage
        {
            project.follow(before, before + 1);
        }
    }
    let ends = ends(guide, acts, project);
    let stages = &guide.outline.stages;
    let by_title = ByTitle::of_marks(stages);
    for (at, (first, _)) in ends.iter().copied().enumerate() {
        for (other, until) in waits(stages, &by_title, at) {
            let (start, end) = ends[other];
            match until {
                Until::Begun => project.lag(start, first, 0),
                Until::Done => project.follow(end, first),
            }
        }
    }
}

/// The stage that an activity of the project belongs to.
pub(super) fn of_activity<'g>(guide: &'g Guide, acts: &[Act<'_>], activity: usize) -> Option<&'g Stage> {
    let stages = &guide.outline.stages;
    if let Some(act) = acts.get(activity) {
        return stages.get(act.stage);
    }
    let timed: HashSet<usize> = acts.iter().map(|act| act.stage).collect();
    let mut untimed = stages.iter().enumerate().filter(|(at, _)| !timed.contains(at));
    untimed.nth(activity - acts.len()).map(|(_, stage)| stage)
}

/// First and last activity of each stage.
fn ends(guide: &Guide, acts: &[Act<'_>], project: &mut Project) -> Vec<(usize, usize)> {
    let mut ends: Vec<Option<(usize, usize)>> = vec![None; guide.outline.stages.len()];
    for (at, act) in acts.iter().enumerate() {
        if let Some(end) = ends.get_mut(act.stage) {
            *end = Some((end.map_or(at, |(first, _)| first), at));
        }
    }
    ends.into_iter()
        .map(|end| {
            end.unwrap_or_else(|| {
                let moment = project.add(0, &[]);
                (moment, moment)
            })
        })
        .collect()
}
