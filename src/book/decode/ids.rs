//! Ids that a file gives, and ids that must be its own.

use std::collections::{BTreeMap, BTreeSet};

use super::fields::Fields;
use super::scalar::{Spot, name, text, tick};
use crate::book::diagnostic::Notes;
use crate::book::id::{check_id, id_of, is_reserved};
use crate::book::source::{Name, Span};

/// A new id. One that is not well formed is noted, and made well formed for going on.
pub(super) fn id(notes: &mut Notes<'_>, spot: Spot<'_, '_>) -> Option<Name> {
    let written = text(notes, spot)?;
    let formed = id_of(&written);
    if formed != written && !formed.is_empty() {
        notes.error(
            "bad-id",
            spot.span(),
            format!("{} is not an id: an id is lower-case letters and digits, joined by single hyphens", tick(&written)),
            format!("write {}", tick(&formed)),
        );
    }
    checked(notes, formed, spot.span())
}

/// The id that words make, for a name inside a file: no file is called by it, so that it may be
/// one that Windows keeps for itself.
pub(super) fn id_of_words(notes: &mut Notes<'_>, words: &str, span: Span) -> Option<String> {
    let id = id_of(words);
    if is_reserved(&id) { Some(id) } else { checked(notes, id, span).map(|name| name.value) }
}

fn checked(notes: &mut Notes<'_>, id: String, span: Span) -> Option<Name> {
    match check_id(&id) {
        Ok(()) => Some(Name::new(id, span)),
        Err(error) => {
            notes.error("bad-id", span, error.message, error.remedy);
            None
        }
    }
}

/// The ids of one list, so that none stands twice.
#[derive(Default)]
pub(super) struct Seen {
    places: BTreeMap<String, Span>,
}

impl Seen {
    /// Whether the id is new; if not, an error names the line where it stood first.
    pub fn is_new(&mut self, notes: &mut Notes<'_>, id: &Name) -> bool {
        let Some(first) = self.places.get(&id.value) else {
            self.places.insert(id.value.clone(), id.span);
            return true;
        };
        let line = notes.source().place(*first).line;
        let message = format!("the id {} is taken: it stands on line {line} already", tick(&id.value));
        notes.error("duplicate-id", id.span, message, "give one of the two another id, or make one of them");
        false
    }
}

/// A list of ids that something else has; one that stands twice counts once, with a warning.
pub(super) fn refs(notes: &mut Notes<'_>, fields: Fields<'_, '_>, key: &'static str) -> Vec<Name> {
    let all = fields.one_or_each(notes, key, name);
    let mut found: Vec<Name> = Vec::with_capacity(all.len());
    let mut seen = BTreeSet::new();
    for name in all {
        if seen.insert(name.value.clone()) {
            found.push(name);
        } else {
            notes.warning("named-twice", name.span, format!("{} stands here twice", tick(&name.value)), "keep one of the two");
        }
    }
    found
}
