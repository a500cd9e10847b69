//! Which parts the jobs ahead need, by item of the stores or by their words.

use std::collections::{BTreeMap, HashMap};

use super::super::{Held, JobState, Reckoning};
use super::{Asked, Need};
use crate::book::id::key_of;
use crate::book::model::{Entry, PartUse};

/// Everything that is needed.
pub(super) struct Needs<'b> {
    /// One for each line of the stores, in their order.
    pub(super) of_stores: Vec<ItemNeeds<'b>>,
    /// What the stores do not list, by title, with the words first found for it.
    pub(super) unlisted: Vec<(&'b str, Vec<Need<'b>>)>,
}

/// What needs an item of the stores.
#[derive(Default)]
pub(super) struct ItemNeeds<'b> {
    pub(super) needs: Vec<Need<'b>>,
    /// Entries of those jobs that are not finished, and have used some of it.
    pub(super) begun: Vec<&'b Entry>,
}

impl<'b> Needs<'b> {
    /// The parts of jobs that are done so many times each.
    pub(super) fn of(reckoning: &Reckoning<'b>, times: impl Fn(&JobState<'b>) -> u64) -> Self {
        let items = reckoning.stock.iter().enumerate().rev();
        let index: HashMap<&str, usize> = items.map(|(at, stock)| (stock.item.id.value.as_str(), at)).collect();
        let mut of_stores: Vec<ItemNeeds<'b>> = reckoning.stock.iter().map(|_| ItemNeeds::default()).collect();
        let mut unlisted: BTreeMap<String, (&'b str, Vec<Need<'b>>)> = BTreeMap::new();
        for job in reckoning.jobs.iter().filter(|job| !job.guide.parts.is_empty()) {
            let times = times(job);
            if times == 0 {
                continue;
            }
            for part in &job.guide.parts {
                let need = need(job, part, times);
                let words = part.item.value.as_str();
                match index.get(words).and_then(|at| of_stores.get_mut(*at)) {
                    Some(item) => {
                        item.needs.push(need);
                        item.begin(job, words);
                    }
                    None => unlisted.entry(key_of(words)).or_insert_with(|| (words, Vec::new())).1.push(need),
                }
            }
        }
        let mut unlisted: Vec<(&str, Vec<Need<'b>>)> = unlisted.into_values().collect();
        unlisted.sort_by_cached_key(|(words, _)| (words.to_lowercase(), *words));
        Self { of_stores, unlisted }
    }
}

impl<'b> ItemNeeds<'b> {
    fn begin(&mut self, job: &JobState<'b>, item: &str) {
        for entry in &job.open {
            let uses_it = entry.parts.iter().any(|part| part.item.value == item);
            if uses_it && !self.begun.iter().any(|begun| begun.id == entry.id) {
                self.begun.push(entry);
            }
        }
    }
}

fn need<'b>(job: &JobState<'b>, part: &PartUse, times: u64) -> Need<'b> {
    let asked = match &part.amount {
        _ if part.unclear => Asked::Unclear,
        Some(amount) => Asked::Much(Held::of(amount)),
        None => Asked::Unsaid,
    };
    let times = if part.if_worn { 1 } else { times };
    Need { guide: job.guide, gear: job.gear, times, if_worn: part.if_worn, asked }
}
