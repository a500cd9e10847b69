//! What finished jobs left isolated until an occasion, and no job of that occasion has restored since.
//!
//! A boat that is laid up has her seacocks shut by work that is finished: no open entry tells of them.

use super::{LastDone, Reckoning};
use crate::book::id::key_of;
use crate::book::model::{Entry, Guide};
use crate::book::outline::MarkKind;
use jiff::civil::Date;
use std::collections::HashMap;

/// What a job left isolated.
#[derive(Debug, Clone)]
pub struct StillIsolated<'b> {
    pub guide_id: &'b str,
    /// The latest entry that finished the job.
    pub entry: &'b Entry,
    /// What is isolated, and the id of the occasion until which; in the order of the guide.
    pub what: Vec<(&'b str, &'b str)>,
}

impl<'b> Reckoning<'b> {
    /// Oldest first. Of the job itself, not of one that covers it: that may have been done otherwise.
    #[must_use]
    pub fn still_isolated(&self) -> Vec<StillIsolated<'b>> {
        let until = |guide: &'b Guide| {
            kinds(guide).filter_map(|kind| match kind {
                MarkKind::Isolate { what, until: Some(occasion) } => Some((what.as_str(), occasion.value.as_str())),
                _ => None,
            })
        };
        let isolating: Vec<(&'b Guide, LastDone<'b>)> = (self.book.guides.iter())
            .filter(|guide| until(guide).next().is_some())
            .filter_map(|guide| Some((guide, self.finished(guide)?)))
            .collect();
        if isolating.is_empty() {
            return Vec::new();
        }
        let restored = self.restored();
        let stays = |done: &LastDone<'_>, (what, occasion): (&str, &'b str)| {
            restored.get(&(occasion, key_of(what))).is_none_or(|on| *on < done.date.date)
        };
        let mut all: Vec<(Date, StillIsolated<'b>)> = (isolating.into_iter())
            .map(|(guide, done)| {
                let what = until(guide).filter(|one| stays(&done, *one)).collect();
                (done.date.date, StillIsolated { guide_id: &guide.id, entry: done.entry, what })
            })
            .filter(|(_, isolated)| !isolated.what.is_empty())
            .collect();
        all.sort_by_key(|(date, isolated)| (*date, isolated.entry.id.as_str()));
        all.into_iter().map(|(_, isolated)| isolated).collect()
    }

    /// When each thing was last restored by a job of an occasion.
    fn restored(&self) -> HashMap<(&'b str, String), Date> {
        let mut restored: HashMap<(&'b str, String), Date> = HashMap::new();
        for guide in self.book.guides.iter().filter(|guide| !guide.occasions.is_empty()) {
            let Some(done) = self.finished(guide) else { continue };
            let whats = kinds(guide).filter_map(|kind| if let MarkKind::Restore(what) = kind { Some(key_of(what)) } else { None });
            for what in whats {
                for occasion in &guide.occasions {
                    let on = restored.entry((occasion.value.as_str(), what.clone())).or_insert(done.date.date);
                    *on = (*on).max(done.date.date);
                }
            }
        }
        restored
    }

    /// The last time a job itself was finished, whichever gear it was for.
    fn finished(&self, guide: &Guide) -> Option<LastDone<'b>> {
        let jobs = self.jobs_of(&guide.id).iter();
        let last = jobs.filter_map(|job| job.history.iter().find(|done| done.through.is_none() && !done.entry.when.is_open()));
        last.max_by_key(|done| (done.date.date, done.entry.id.as_str())).copied()
    }
}

fn kinds(guide: &Guide) -> impl Iterator<Item = &MarkKind> {
    let steps = guide.outline.stages.iter().flat_map(|stage| &stage.steps);
    steps.flat_map(|step| step.marks.iter().map(|mark| &mark.kind))
}
