//! A guide that never falls due.

use super::{Context, Rule, each_guide};
use crate::book::diagnostic::Diagnostic;
use std::collections::BTreeSet;

const ID: &str = "never-due";

pub(super) const RULE: Rule = Rule {
    id: ID,
    why: "A job without an interval and without an occasion is done when somebody thinks of it. That is right for a repair; an \
          inspection or a service should come up by itself.",
    check,
};

fn check(context: &Context<'_>) -> Vec<Diagnostic> {
    let book = context.book;
    // Called for by other things: gear, findings, and jobs that bring it with them.
    let gear = book.boat.gear.iter().filter_map(|gear| gear.guide.as_ref());
    let findings = book.entries.iter().flat_map(|entry| &entry.findings).filter_map(|finding| finding.guide.as_ref());
    let covered = book.guides.iter().flat_map(|guide| &guide.covers);
    let called: BTreeSet<&str> = gear.chain(findings).chain(covered).map(|name| name.value.as_str()).collect();
    each_guide(context, |guide, notes| {
        let comes_up = !guide.every.is_empty() || !guide.first.is_empty() || !guide.occasions.is_empty() || guide.routine;
        if !comes_up && !called.contains(guide.id.as_str()) {
            notes.advice(
                ID,
                guide.title_span,
                "this job has no interval and no occasion: it never falls due",
                "write `every` or `occasions` if it should come up by itself; a repair may stay as it is",
            );
        }
    })
}

#[cfg(test)]
mod tests {
    use crate::survey::testing::found;

    #[test]
    fn an_interval_or_an_occasion_brings_a_job_up() {
        assert_eq!(found("never-due", "", "1. Look."), ["2:8"]);
        assert!(found("never-due", "every: {calendar: 1 year}", "1. Look.").is_empty());
        assert!(found("never-due", "occasions: [haul-out]", "1. Look.").is_empty());
    }
}
