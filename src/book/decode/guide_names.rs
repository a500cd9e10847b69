//! Within a guide one name has one meaning, over torques, values, readings, parts and tools.

use std::borrow::Cow;
use std::collections::{BTreeSet, HashMap};

use super::scalar::tick;
use crate::book::diagnostic::Notes;
use crate::book::id::id_of;
use crate::book::model::GuideFacts;
use crate::book::names_of_guide::{Named, all_named};
use crate::book::node::{Kind, Node};
use crate::book::source::Span;

/// Notes every name that is given twice.
pub(super) fn one_meaning_each(notes: &mut Notes<'_>, guide: &GuideFacts) {
    let mut all: Vec<(Cow<'_, str>, Named<'_>)> = all_named(guide).collect();
    // In the order of the file, so that the later one is the one to change.
    all.sort_by_key(|(_, named)| named.span().start);
    let mut seen: HashMap<Cow<'_, str>, (&str, Span)> = HashMap::with_capacity(all.len());
    for (name, named) in all {
        let (kind, span) = (named.word(), named.span());
        if name.is_empty() {
            continue;
        }
        let Some((first_kind, first_span)) = seen.get(&name) else {
            seen.insert(name, (kind, span));
            continue;
        };
        let line = notes.source().place(*first_span).line;
        let (message, remedy) = if *first_kind == kind {
            (format!("the {kind} {} stands here twice, first on line {line}", tick(&name)), "keep one of the two, or name them apart")
        } else {
            (
                format!("the name {} means a {kind} here and a {first_kind} on line {line}", tick(&name)),
                "give one of the two another name: within a guide a name has one meaning",
            )
        };
        notes.error("name-twice", span, message, remedy);
    }
}

/// Every name that a front matter declares, also where what stands behind it could not be read: a
/// mark that uses one of these has its error already.
#[must_use]
pub fn declared_names(node: &Node<'_>) -> BTreeSet<String> {
    let mut names = BTreeSet::new();
    let Kind::Map(pairs) = &node.kind else { return names };
    for (key, value) in pairs {
        match (key.text.as_ref(), &value.kind) {
            ("values" | "readings", Kind::Map(pairs)) => names.extend(pairs.iter().map(|(name, _)| id_of(&name.text))),
            ("tools", Kind::List(items)) => names.extend(items.iter().filter_map(words)),
            ("torque", Kind::List(items)) => names.extend(items.iter().filter_map(|item| words_under(item, "at"))),
            ("parts", Kind::List(items)) => names.extend(items.iter().filter_map(|item| words_under(item, "item"))),
            _ => {}
        }
    }
    names.remove("");
    names
}

fn words(node: &Node<'_>) -> Option<String> {
    match &node.kind {
        Kind::Scalar { text, .. } => Some(id_of(text)),
        _ => None,
    }
}

fn words_under(node: &Node<'_>, key: &str) -> Option<String> {
    match &node.kind {
        Kind::Map(pairs) => pairs.iter().find(|(known, _)| known.text == key).and_then(|(_, value)| words(value)),
        _ => None,
    }
}
