//! Defects: what an inspection saw and no work has put right yet.
//!
//! Only an entry that clears a finding ends it; that a later inspection no longer mentions it does
//! not.

use std::collections::HashMap;

use crate::book::model::{Entry, Finding, Grade};

/// A finding graded watch or act that no entry has cleared.
#[derive(Debug, Clone, Copy)]
pub struct Defect<'b> {
    pub entry: &'b Entry,
    /// Counted from 1 in its entry.
    pub number: usize,
    pub finding: &'b Finding,
}

impl Defect<'_> {
    /// What an entry writes under `clears` once it is put right: `2025-11-02-rig-check/1`.
    #[must_use]
    pub fn reference(&self) -> String {
        format!("{}/{}", self.entry.id, self.number)
    }
}

/// A defect that was put right.
#[derive(Debug, Clone, Copy)]
pub struct Cleared<'b> {
    pub defect: Defect<'b>,
    /// The first entry that cleared it.
    pub by: &'b Entry,
}

/// Defects, those to act on first and then the oldest first; and those put right, by the day they
/// were, newest first. Entries come oldest first.
pub(super) fn defects<'b>(entries: &[&'b Entry]) -> (Vec<Defect<'b>>, Vec<Cleared<'b>>) {
    let mut clearing: HashMap<(&str, usize), &Entry> = HashMap::new();
    for &entry in entries {
        for finding in &entry.clears {
            clearing.entry((finding.entry.as_str(), finding.number)).or_insert(entry);
        }
    }
    let mut defects = Vec::new();
    let mut cleared = Vec::new();
    for &entry in entries {
        for (at, finding) in entry.findings.iter().enumerate() {
            let number = at + 1;
            let defect = Defect { entry, number, finding };
            match clearing.get(&(entry.id.as_str(), number)) {
                _ if finding.grade == Grade::Good => {}
                Some(by) => cleared.push(Cleared { defect, by }),
                None => defects.push(defect),
            }
        }
    }
    defects.sort_by_key(|defect| defect.finding.grade);
    cleared.sort_by(|a, b| {
        let day = |cleared: &Cleared<'b>| cleared.by.when.day().date;
        day(b).cmp(&day(a)).then_with(|| b.by.id.cmp(&a.by.id))
    });
    (defects, cleared)
}
