//! What finished jobs left isolated until an occasion, and no job of that occasion has restored since.
//!
//! A boat that is laid up has her seacocks shut by work that is finished: no open entry tells of them.

use super::{JobState, LastDone, Reckoning};
use crate::book::id::key_of;
use crate::book::model::{Entry, Gear, Guide};
use crate::book::outline::MarkKind;
use jiff::civil::Date;
use std::collections::HashMap;

/// What a job left isolated.
#[derive(Debug, Clone)]
pub struct StillIsolated<'b> {
    pub guide: &'b Guide,
    /// `None` for a guide that is not for several.
    pub gear: Option<&'b Gear>,
    /// The latest entry that finished the job.
    pub entry: &'b Entry,
    /// What is isolated, and the id of the occasion until which; in the order of the guide.
    pub what: Vec<(&'b str, &'b str)>,
}

/// When things were last restored, by the occasion, what it is, and the gear.
type Restored<'b> = HashMap<(&'b str, String, Option<&'b str>), Date>;

impl<'b> Reckoning<'b> {
    /// Oldest first, each piece of gear by itself. Of the job itself, not of one that covers it: that may have been done
    /// otherwise.
    #[must_use]
    pub fn still_isolated(&self) -> Vec<StillIsolated<'b>> {
        let until = |guide: &'b Guide| {
            guide.outline.step_marks().filter_map(|mark| match &mark.kind {
                MarkKind::Isolate { what, until: Some(occasion) } => Some((what.as_str(), occasion.value.as_str())),
                _ => None,
            })
        };
        let isolating: Vec<(&JobState<'b>, LastDone<'b>)> =
            (self.jobs.iter()).filter(|job| until(job.guide).next().is_some()).filter_map(|job| Some((job, finished(job)?))).collect();
        if isolating.is_empty() {
            return Vec::new();
        }
        let restored = self.restored();
        let mut all: Vec<(Date, StillIsolated<'b>)> = (isolating.into_iter())
            .map(|(job, done)| {
                let on = done.date.date;
                let is_restored = |what: &str, occasion: &'b str| {
                    // By a job for this piece, or by one that is for all there is.
                    let by = |gear| restored.get(&(occasion, key_of(what), gear)).is_some_and(|restored| *restored >= on);
                    by(None) || by(gear_id(job))
                };
                let what = until(job.guide).filter(|(what, occasion)| !is_restored(what, occasion)).collect();
                (on, StillIsolated { guide: job.guide, gear: job.gear, entry: done.entry, what })
            })
            .filter(|(_, isolated)| !isolated.what.is_empty())
            .collect();
        all.sort_by_key(|(date, isolated)| (*date, isolated.entry.id.as_str()));
        all.into_iter().map(|(_, isolated)| isolated).collect()
    }

    fn restored(&self) -> Restored<'b> {
        let mut restored = Restored::new();
        for guide in self.book.guides.iter().filter(|guide| !guide.occasions.is_empty()) {
            let jobs = self.jobs_of(&guide.id);
            let done: Vec<(Option<&'b str>, Date)> = jobs.iter().filter_map(|job| Some((gear_id(job), finished(job)?.date.date))).collect();
            // All pieces are restored once the last of them is: no earlier than the first was done last.
            let whole = done.iter().map(|(_, on)| *on).min().filter(|_| done.len() == jobs.len()).map(|on| (None, on));
            for what in guide.outline.restored_for_others() {
                for (occasion, (gear, on)) in
                    guide.occasions.iter().flat_map(|occasion| done.iter().copied().chain(whole).map(move |one| (occasion, one)))
                {
                    let last = restored.entry((occasion.value.as_str(), what.clone(), gear)).or_insert(on);
                    *last = (*last).max(on);
                }
            }
        }
        restored
    }
}

fn gear_id<'b>(job: &JobState<'b>) -> Option<&'b str> {
    job.gear.map(|gear| gear.id.value.as_str())
}

/// The last time a job itself was finished.
fn finished<'b>(job: &JobState<'b>) -> Option<LastDone<'b>> {
    job.history.iter().find(|done| done.through.is_none() && !done.entry.when.is_open()).copied()
}
