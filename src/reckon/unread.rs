//! Intervals by meters that were never read: nobody can say how far they are.

use std::collections::BTreeSet;

use super::due::JobState;
use super::meters::MeterState;
use super::places::Findings;

/// Tells of jobs that were done and count by a meter without any reading, once for each guide and meter.
pub(super) fn check<'b>(jobs: &[JobState<'b>], meters: &[MeterState<'b>], findings: &mut Findings<'b>) {
    let unread: BTreeSet<&str> = meters.iter().filter(|meter| meter.first().is_none()).map(|meter| meter.meter.id.value.as_str()).collect();
    let mut told = BTreeSet::new();
    for job in jobs.iter().filter(|job| job.last_done.is_some()) {
        for rule in job.rules.iter().filter(|rule| unread.contains(rule.by.as_str())) {
            if told.insert((job.guide.id.as_str(), rule.by.clone())) {
                findings.warning(
                    "meter-never-read",
                    job.guide.source.place(rule.rule.span),
                    format!("the meter `{}` was never read, so this interval cannot be reckoned", rule.by),
                    format!("note what it shows in an entry: `meters: {{{}: 1840.5}}`", rule.by),
                );
            }
        }
    }
}
