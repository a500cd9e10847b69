//! The same plain work, logged again and again.

use super::phrases::Text;
use super::{Context, Rule};
use crate::book::diagnostic::{Diagnostic, Notes};
use crate::book::model::Entry;
use std::collections::BTreeMap;

const ID: &str = "work-without-guide";

pub(super) const RULE: Rule = Rule {
    id: ID,
    why: "What is done a third time will be done a fourth. A guide remembers how, with what, and when it is next due; the log alone \
          remembers that it was.",
    check,
};

/// How often makes a job of it.
const TIMES: usize = 3;

/// Words that tell one work from another begin at this length.
const TELLING: usize = 4;

fn check(context: &Context<'_>) -> Vec<Diagnostic> {
    let mut same: BTreeMap<Vec<String>, Vec<(&Entry, &str)>> = BTreeMap::new();
    for entry in &context.reckoning.entries {
        for work in &entry.work {
            let mut words = Text::new(work).telling(TELLING);
            words.sort();
            words.dedup();
            if !words.is_empty() {
                same.entry(words).or_default().push((entry, work));
            }
        }
    }
    let mut found = Vec::new();
    for entries in same.into_values().filter(|entries| entries.len() >= TIMES) {
        let latest = entries.iter().max_by_key(|(entry, _)| (entry.when.day().date, entry.id.as_str()));
        let Some((entry, work)) = latest else { continue };
        let mut notes = Notes::new(&entry.source);
        notes.advice(
            ID,
            entry.when_span,
            format!("`{work}` was logged {} times, and no guide describes it", entries.len()),
            "write a guide for it: `garboard draft` begins one",
        );
        found.append(&mut notes.found);
    }
    found
}
