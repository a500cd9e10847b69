//! `garboard due --occasion`: its jobs, whatever their state, and what is to be put right before it.

use super::table::{cells, columns, defects, table};
use crate::book::model::Before;
use crate::reckon::{Defect, JobState, Reckoning};
use std::io::{self, Write};

/// Prints the list of one occasion.
pub fn print(out: &mut dyn Write, reckoning: &Reckoning<'_>, occasion: &str) -> io::Result<()> {
    let names = |job: &JobState<'_>| job.guide.occasions.iter().any(|name| name.value == occasion);
    let jobs: Vec<&JobState<'_>> = reckoning.by_urgency().into_iter().filter(|job| names(job)).collect();
    let by_then = |defect: &&Defect<'_>| matches!(defect.before(), Some(Before::Occasion(name)) if name.value == occasion);
    let found: Vec<&Defect<'_>> = reckoning.defects.iter().filter(by_then).collect();
    if jobs.is_empty() && found.is_empty() {
        return writeln!(out, "no job and no finding names the occasion `{occasion}`");
    }
    if !jobs.is_empty() {
        let columns = columns(&jobs);
        table(out, "", &columns, jobs.iter().map(|job| cells(reckoning, job, &columns)).collect())?;
    }
    if !found.is_empty() {
        let gap = if jobs.is_empty() { "" } else { "\n" };
        writeln!(out, "{gap}to be put right before {occasion}:")?;
        defects(out, &found)?;
    }
    Ok(())
}
