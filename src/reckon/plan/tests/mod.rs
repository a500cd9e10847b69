//! Work plans of guides, written as the crew writes them.

mod bad;
mod duty_cycles;
mod engine_service;
mod marks;
mod properties;
mod stages;

use super::{Plan, plan};
use crate::book::decode;
use crate::book::diagnostic::Notes;
use crate::book::model::Guide;
use crate::book::source::Source;
use crate::quantity::{Exact, plain_decimal};

/// A guide of this body, as it is read; front matter lines may be given.
pub(super) fn guide_with(front: &str, body: &str) -> Guide {
    let source = Source::new("guides/engine/job.md", format!("---\ntitle: The job\n{front}---\n{body}"));
    decode::guide::read(&mut Notes::new(&source)).expect("a guide")
}

pub(super) fn guide(body: &str) -> Guide {
    guide_with("", body)
}

/// `3`, `28.333`: minutes in figures.
pub(super) fn shown(minutes: &Exact) -> String {
    plain_decimal(minutes, 3)
}

/// `Drain 2 run 5..15`, a task each.
pub(super) fn lines(plan: &Plan<'_>) -> Vec<String> {
    let line = |task: &super::Task<'_>| {
        let title = plan.stage(task).map_or("", |stage| stage.title.as_str());
        format!("{title} {} {} {}..{}", task.step + 1, task.kind.word(), shown(&task.start), shown(&task.end))
    };
    plan.tasks.iter().map(line).collect()
}

/// Hands-on, elapsed and in-sequence minutes of a guide for a crew; the elapsed time must be proved.
#[track_caller]
pub(super) fn times(guide: &Guide, crew: u32, expected: [&str; 3]) {
    let plan = plan(guide, crew).expect("a plan");
    assert_eq!([&plan.sums.hands_on, &plan.elapsed, &plan.sums.in_sequence].map(shown), expected);
    assert_eq!(plan.bound, plan.elapsed);
}
