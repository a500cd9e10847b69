//! Everything isolated is restored, and nothing is restored that was not isolated.

use super::Index;
use crate::book::diagnostic::{Diagnostic, Notes};
use crate::book::id::id_of;
use crate::book::model::Guide;
use crate::book::outline::{Mark, MarkKind};
use crate::book::source::Span;
use std::collections::BTreeMap;

fn marks(guide: &Guide) -> impl Iterator<Item = &Mark> {
    guide.outline.stages.iter().flat_map(|stage| stage.steps.iter().flat_map(|step| step.marks.iter()))
}

/// Pairs within one guide.
pub(super) fn check_pairs(notes: &mut Notes<'_>, guide: &Guide, index: &Index<'_>) {
    // What is shut, off or apart at this point of the guide.
    let mut open: BTreeMap<String, (Span, String)> = BTreeMap::new();
    for mark in marks(guide) {
        match &mark.kind {
            MarkKind::Isolate { what, until: None } => {
                open.insert(id_of(what), (mark.span, what.clone()));
            }
            MarkKind::Isolate { what, until: Some(occasion) } => {
                open.remove(&id_of(what));
                index.occasion(notes, occasion);
            }
            MarkKind::Restore(what) => {
                let isolated_here = open.remove(&id_of(what)).is_some();
                let isolated = isolated_here || isolated_elsewhere(index, guide, what);
                if !isolated {
                    let near = crate::book::diagnostic::nearest(what, open.values().map(|(_, name)| name.as_str())).map(str::to_owned);
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
    let wanted = id_of(what);
    let occasions: Vec<&str> = guide.occasions.iter().map(|name| name.value.as_str()).collect();
    !occasions.is_empty()
        && index.book.guides.iter().any(|other| {
            marks(other).any(|mark| {
                matches!(&mark.kind, MarkKind::Isolate { what, until: Some(occasion) }
                    if id_of(what) == wanted && occasions.contains(&occasion.value.as_str()))
            })
        })
}

/// What is isolated until an occasion must be restored by a guide of that occasion.
pub(super) fn check_until(index: &Index<'_>) -> Vec<Diagnostic> {
    let mut problems = Vec::new();
    for guide in &index.book.guides {
        let mut notes = Notes::new(&guide.source);
        for mark in marks(guide) {
            let MarkKind::Isolate { what, until: Some(occasion) } = &mark.kind else { continue };
            let wanted = id_of(what);
            let restored = index.book.guides.iter().any(|other| {
                other.occasions.iter().any(|name| name.value == occasion.value)
                    && marks(other).any(|mark| matches!(&mark.kind, MarkKind::Restore(name) if id_of(name) == wanted))
            });
            if !restored {
                notes.error(
                    "isolate-without-restore",
                    mark.span,
                    format!("`{what}` stays isolated until {}, and no guide of that occasion restores it", occasion.value),
                    format!("write `{{restore {what}}}` into a guide with `occasions: [{}]`", occasion.value),
                );
            }
        }
        problems.extend(notes.found);
    }
    problems
}
