//! A figure that is declared and that no step uses.

use super::{Check, Context, GuideCheck, Rule};
use crate::book::model::Guide;
use crate::book::outline::{Mark, MarkKind};
use std::collections::BTreeSet;

const ID: &str = "figure-never-used";

pub(super) const RULE: Rule = Rule {
    id: ID,
    why: "On deck one step is on the screen at a time. A figure that stands in a table alone is not there when the hands need \
          it, and a reading that no step asks for is never taken.",
    check: Check::Guides(check),
};

/// Every mark of a guide, wherever it stands.
pub(super) fn marks(guide: &Guide) -> impl Iterator<Item = &Mark> {
    let stages = guide.outline.stages.iter();
    let steps = stages.flat_map(|stage| stage.heading_marks.iter().chain(stage.steps.iter().flat_map(|step| &step.marks)));
    steps.chain(&guide.outline.loose_marks)
}

/// Names in braces.
pub(super) fn names(guide: &Guide) -> BTreeSet<&str> {
    let named = marks(guide).filter_map(|mark| match &mark.kind {
        MarkKind::Name(name) | MarkKind::Read(name) => Some(name.as_str()),
        _ => None,
    });
    named.collect()
}

fn check<'c>(_: &'c Context<'_>) -> GuideCheck<'c> {
    Box::new(move |guide, _, notes| {
        // Without steps there is nowhere to use one; another rule says so.
        if guide.outline.stages.iter().all(|stage| stage.steps.is_empty()) {
            return;
        }
        let used = names(guide);
        let figures = guide.torques.iter().map(|torque| (torque.id.as_str(), torque.span, "{"));
        let figures = figures.chain(guide.values.iter().map(|value| (value.id.as_str(), value.span, "{")));
        let figures = figures.chain(guide.readings.iter().map(|reading| (reading.id.as_str(), reading.span, "{read ")));
        for (id, span, mark) in figures.filter(|(id, ..)| !used.contains(id)) {
            notes.advice(
                ID,
                span,
                format!("no step uses `{id}`"),
                format!("write `{mark}{id}}}` in the step it belongs to, or take it out"),
            );
        }
    })
}

#[cfg(test)]
mod tests {
    use crate::survey::testing::found;

    #[test]
    fn what_is_declared_is_used_in_a_step() {
        let front = "torque: [{at: plug, value: 25 N·m}]\nvalues: {refill: 2 L}\nreadings: {level: {unit: mm}}";
        assert_eq!(found("figure-never-used", front, "1. Look."), ["3:10", "4:10", "5:12"]);
        assert!(found("figure-never-used", front, "1. Tighten the {plug}, fill in {refill}. {read level}").is_empty());
    }
}
