//! An interval that the log shows was never kept.

use super::{Context, Rule};
use crate::book::diagnostic::{Diagnostic, Notes};
use crate::book::model::RuleBy;
use crate::quantity::Exact;

const ID: &str = "interval-never-kept";

pub(super) const RULE: Rule = Rule {
    id: ID,
    why: "A job that is always overdue teaches the crew to pass over what is due. Either the interval is right, and the job needs \
          another habit; or experience has shown a longer one, which the maker's instructions allow.",
    check,
};

/// How much longer than the interval the middle of those kept must be, as a share of it.
const CLEARLY: (i64, i64) = (5, 4);

/// Fewest intervals that show a habit.
const AT_LEAST: usize = 3;

fn check(context: &Context<'_>) -> Vec<Diagnostic> {
    let mut found = Vec::new();
    for job in context.reckoning.jobs.iter().filter(|job| !job.guide.routine) {
        let Some(kept) = job.kept.as_ref().filter(|kept| kept.intervals >= AT_LEAST) else { continue };
        // Whichever comes first: where one rule was kept, the job was done for it.
        let rules: Vec<_> = job.rules.iter().filter(|rule| !rule.first).collect();
        let late = |rule: &&crate::reckon::RuleState<'_>| {
            let interval = rule.interval.clone()?;
            let really = match &rule.rule.by {
                RuleBy::Calendar(_) => Some(kept.days.clone()),
                _ => kept.meters.iter().find(|meter| meter.meter.id.value == rule.by).map(|meter| meter.run.clone()),
            }?;
            let (over, under) = CLEARLY;
            Some(really > interval * Exact::new(over.into(), under.into()))
        };
        let verdicts: Vec<Option<bool>> = rules.iter().map(late).collect();
        let Some(rule) = rules.first().filter(|_| verdicts.iter().any(|late| *late == Some(true))) else { continue };
        let mut notes = Notes::new(&job.guide.source);
        let of = job.gear.map(|gear| format!(" on `{}`", gear.id.value)).unwrap_or_default();
        notes.advice(
            ID,
            rule.rule.span,
            format!("of {} intervals{of} most were clearly longer than this one", kept.intervals),
            "do it in time, or hold the interval against the maker's instructions and write the one you mean to keep",
        );
        found.append(&mut notes.found);
    }
    found
}
