//! What the log says of each job: when it was done, and where it is still open.
//!
//! Doing a job counts for it and for the jobs it covers, directly: what those cover in turn was not
//! done by it.

use super::slots::Slots;
use crate::book::date::BookDate;
use crate::book::model::{Entry, Guide};

/// An entry that counts for a job.
#[derive(Debug, Clone, Copy)]
pub struct LastDone<'b> {
    pub entry: &'b Entry,
    /// Done, or begun where it is open.
    pub date: BookDate,
    /// The guide whose doing covered this job; `None`: the entry names the job itself.
    pub through: Option<&'b Guide>,
}

/// Of each slot the entries that count for it, oldest first.
pub(super) fn histories<'b>(slots: &Slots<'b>, entries: &[&'b Entry]) -> Vec<Vec<LastDone<'b>>> {
    let mut histories: Vec<Vec<LastDone<'b>>> = slots.slots.iter().map(|_| Vec::new()).collect();
    for &entry in entries {
        for job in &entry.jobs {
            slots.counted_for(job, |slot, through| {
                let Some(history) = histories.get_mut(slot) else {
                    return;
                };
                // An entry may name a job and one that covers it: it counts once, by its own name.
                match history.last_mut() {
                    Some(last) if std::ptr::eq(last.entry, entry) => {
                        if through.is_none() {
                            last.through = None;
                        }
                    }
                    _ => history.push(LastDone { entry, date: *entry.when.day(), through }),
                }
            });
        }
    }
    histories
}
