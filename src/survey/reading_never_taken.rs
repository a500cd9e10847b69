//! A reading that a guide asks for and nobody ever took.

use super::{Context, Rule};
use crate::book::diagnostic::{Diagnostic, Notes};
use std::collections::BTreeSet;

const ID: &str = "reading-never-taken";

pub(super) const RULE: Rule = Rule {
    id: ID,
    why: "A trend shows wear long before a limit does, and it needs values. A reading that is skipped each time is asked for at the \
          wrong moment, needs a tool that is not aboard, or is not wanted.",
    check,
};

/// Times the job was done without it.
const TIMES: usize = 3;

fn check(context: &Context<'_>) -> Vec<Diagnostic> {
    let mut found = Vec::new();
    for guide in context.book.guides.iter().filter(|guide| !guide.readings.is_empty()) {
        let taken: BTreeSet<&str> = context
            .reckoning
            .readings_of(&guide.id)
            .iter()
            .filter(|history| !history.values.is_empty())
            .map(|history| history.spec.id.as_str())
            .collect();
        let done: BTreeSet<&str> = context
            .reckoning
            .jobs_of(&guide.id)
            .iter()
            .flat_map(|job| &job.history)
            .filter(|done| !done.entry.when.is_open() && done.entry.jobs.iter().any(|job| job.guide == guide.id))
            .map(|done| done.entry.id.as_str())
            .collect();
        if done.len() < TIMES {
            continue;
        }
        let mut notes = Notes::new(&guide.source);
        for spec in guide.readings.iter().filter(|spec| !taken.contains(spec.id.as_str())) {
            notes.advice(
                ID,
                spec.span,
                format!("`{}` was never taken, and the job was done {} times", spec.id, done.len()),
                "take it next time and note it under `readings`, or take it out of the guide",
            );
        }
        found.append(&mut notes.found);
    }
    found
}
