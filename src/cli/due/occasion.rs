//! `garboard due --occasion`: its jobs, whatever their state, and what is to be put right before it.

use super::table::{cells, columns, defects, table};
use crate::reckon::Reckoning;
use std::io::{self, Write};

/// Prints the list of one occasion.
pub fn print(out: &mut dyn Write, reckoning: &Reckoning<'_>, occasion: &str) -> io::Result<()> {
    let called = reckoning.for_occasion(occasion);
    let (jobs, found) = (called.jobs_by_urgency(), called.defects);
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
