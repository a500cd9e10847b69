//! Everything isolated is restored, and nothing is restored that was not isolated.

use super::Index;
use crate::book::diagnostic::Notes;
use crate::book::id::key_of;
use crate::book::model::{Book, Guide};
use crate::book::outline::MarkKind;
use crate::book::source::Span;
use std::collections::{BTreeMap, HashSet};

/// What guides do for each other: by occasion, and by what is isolated.
#[derive(Debug, Default)]
pub(super) struct Handed {
    /// Isolated until an occasion.
    until: HashSet<(String, String)>,
    /// Restored by a guide of an occasion that did not isolate it itself.
    restored: HashSet<(String, String)>,
}

impl Handed {
    /// Looks through all guides once.
    pub fn new(book: &Book) -> Self {
        let mut handed = Self::default();
        for guide in &book.guides {
            for mark in guide.outline.step_marks() {
                if let MarkKind::Isolate { what, until: Some(occasion) } = &mark.kind {
                    handed.until.insert((occasion.value.clone(), key_of(what)));
                }
            }
            if guide.occasions.is_empty() {
                continue;
            }
            for key in guide.outline.restored_for_others() {
                handed.restored.extend(guide.occasions.iter().map(|occasion| (occasion.value.clone(), key.clone())));
            }
        }
        handed
    }
}

/// Pairs within one guide.
pub(super) fn check_pairs(notes: &mut Notes<'_>, guide: &Guide, index: &Index<'_>) {
    // What is shut, off or apart at this point of the guide.
    let mut open: BTreeMap<String, (Span, String)> = BTreeMap::new();
    for mark in guide.outline.step_marks() {
        match &mark.kind {
            MarkKind::Isolate { what, until: None } => {
                if let Some((first, _)) = open.insert(key_of(what), (mark.span, what.clone())) {
                    let line = guide.source.place(first).line;
                    notes.warning(
                        "isolated-twice",
                        mark.span,
                        format!("`{what}` is isolated already, on line {line}"),
                        "isolate it once, or restore it in between; two different things need two names",
                    );
                }
            }
            MarkKind::Isolate { what, until: Some(occasion) } => {
                open.remove(&key_of(what));
                index.occasion(notes, occasion);
                check_until(notes, mark.span, what, &occasion.value, index, guide);
            }
            MarkKind::Restore(what) => {
                let isolated_here = open.remove(&key_of(what)).is_some();
                if !isolated_here && !isolated_elsewhere(index, guide, what) {
                    let near = notes.nearest(what, open.values().map(|(_, name)| name.as_str())).map(str::to_owned);
                    let remedy = near.map_or_else(
                        || format!("write `{{isolate {what}}}` at the step that shuts it off or takes it apart"),
                        |near| format!("did you mean `{{restore {near}}}`?"),
                    );
                    notes.error(
                        "restore-without-isolate",
                        mark.span,
                        format!("`{what}` is restored here, and was not isolated before"),
                        remedy,
                    );
                }
            }
            _ => {}
        }
    }
    for (span, what) in open.into_values() {
        notes.error(
            "isolate-without-restore",
            span,
            format!("`{what}` is isolated here, and never restored"),
            format!("write `{{restore {what}}}` at the step that opens or reconnects it, or `{{isolate {what} until fitting-out}}` if another guide does"),
        );
    }
}

/// Whether another guide leaves this isolated until an occasion that this guide is for.
fn isolated_elsewhere(index: &Index<'_>, guide: &Guide, what: &str) -> bool {
    let key = key_of(what);
    guide.occasions.iter().any(|occasion| index.handed.until.contains(&(occasion.value.clone(), key.clone())))
}

/// What is isolated until an occasion must be restored by a guide of that occasion. Of a guide of another boat the one
/// that restores it may not have come along, and the crew is warned.
fn check_until(notes: &mut Notes<'_>, span: Span, what: &str, occasion: &str, index: &Index<'_>, guide: &Guide) {
    if index.handed.restored.contains(&(occasion.to_owned(), key_of(what))) {
        return;
    }
    let message = format!("`{what}` stays isolated until {occasion}, and no guide of that occasion restores it");
    let remedy = format!("write `{{restore {what}}}` into a guide with `occasions: [{occasion}]` that does not isolate it first");
    if guide.received.is_some() {
        notes.warning("isolate-without-restore", span, message, remedy);
    } else {
        notes.error("isolate-without-restore", span, message, remedy);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_in_any_script_are_told_apart() {
        assert_ne!(key_of("кингстон"), key_of("батарея"));
        assert_eq!(key_of("Start key"), key_of("start-key"));
    }
}
