//! A map of keys and values, read by the table of its keys.
//!
//! Opening it notes unknown and missing keys at once; after that each value is asked for by name.
//! Asking for a key that the table does not have is a bug, and a test asks for all of them.

use super::scalar::{Spot, tick};
use super::stray::{is_cut_off, nothing_written, stray};
use super::wrong_shape::wrong_shape;
use crate::book::diagnostic::{Notes, nearest, offer};
use crate::book::keys::{KeySpec, Shape, Table};
use crate::book::node::{Key, Kind, Node};
use crate::book::source::Span;

/// A record that has been opened.
#[derive(Clone, Copy)]
pub(super) struct Fields<'n, 't> {
    table: &'static Table,
    pairs: &'n [(Key<'t>, Node<'t>)],
    pub span: Span,
}

/// A key and its value in a map whose keys the crew chooses.
pub(super) struct Named<'n, 't> {
    pub name: String,
    pub key_span: Span,
    pub value: Spot<'n, 't>,
    /// From the key to the end of its value.
    pub span: Span,
}

impl<'n, 't> Fields<'n, 't> {
    /// Opens the map that is a whole file or front matter; `None` if it is none.
    pub fn open_root(notes: &mut Notes<'_>, node: &'n Node<'t>, what: &str, table: &'static Table) -> Option<Self> {
        if matches!(node.kind, Kind::Map(_)) {
            return Self::open(notes, Spot { node, key: table.name, shape: Shape::Record(table), in_list: false }, table);
        }
        let message = format!("{what} needs keys with values, and {} stands here", node.describe());
        let example = table.keys.iter().find(|key| key.required).map_or("date", |key| key.name);
        notes.error(
            "wrong-shape",
            node.span,
            message,
            format!("write one key a line, then a colon and a space: {}", tick(&format!("{example}: …"))),
        );
        None
    }

    /// Opens a map; `None` if it is none.
    fn open(notes: &mut Notes<'_>, spot: Spot<'n, 't>, table: &'static Table) -> Option<Self> {
        let Spot { node, key, .. } = spot;
        let Kind::Map(pairs) = &node.kind else {
            if node.is_null() {
                missing_value(notes, spot.span(), key, spot.shape);
            } else {
                wrong_shape(notes, spot);
            }
            return None;
        };
        let mut meant = Vec::new();
        for (index, (key, _)) in pairs.iter().enumerate() {
            if let Some(spec) = table.key(&key.text) {
                notes.met(spec);
                continue;
            }
            meant.extend(nearest(&key.text, table.names()));
            let remedy = stray(notes.source(), pairs, index)
                .map(|stray| stray.remedy)
                .unwrap_or_else(|| offer(&key.text, table.names(), "take it out, or look up the keys in the format reference"));
            notes.error("unknown-key", key.span, format!("{} is not a key of {}", tick(&key.text), table.described()), remedy);
        }
        for key in table.keys.iter().filter(|key| key.required) {
            if !meant.contains(&key.name) && !pairs.iter().any(|(known, _)| known.text == key.name) {
                let message = format!("{} is missing: {} needs it", tick(key.name), table.described());
                notes.error("missing-key", node.span, message, add_key(key));
            }
        }
        Some(Self { table, pairs, span: node.span })
    }

    /// The value of a key. A key with nothing behind it is noted; `~` on an optional key is none.
    fn value(&self, notes: &mut Notes<'_>, name: &'static str) -> Option<Spot<'n, 't>> {
        debug_assert!(self.table.key(name).is_some(), "a decoder asks only for keys of its table");
        // Most keys are not written, and the few that are take less looking through than the table.
        let index = self.pairs.iter().position(|(key, _)| key.text == name)?;
        let spec = self.spec(name);
        if notes.withholds(spec) {
            return None;
        }
        let (_, node) = self.pairs.get(index)?;
        let next_is_unknown = self.pairs.get(index + 1).is_some_and(|(key, _)| self.table.key(&key.text).is_none());
        if next_is_unknown && is_cut_off(notes.source(), self.pairs, index) {
            return None;
        }
        if node.is_null() {
            if spec.required || nothing_written(notes.source(), node) {
                missing_value(notes, self.key_span(name), name, spec.shape);
            }
            return None;
        }
        Some(Spot { node, key: name, shape: spec.shape, in_list: false })
    }

    fn spec(&self, name: &'static str) -> &'static KeySpec {
        self.table.key(name).expect("a decoder asks only for keys of its table: a test asks for all of them")
    }

    /// Whether the key was written at all.
    pub fn has(&self, name: &'static str) -> bool {
        self.pairs.iter().any(|(key, _)| key.text == name)
    }

    /// Where the key was written; the whole record if it was not.
    pub fn key_span(&self, name: &'static str) -> Span {
        self.pairs.iter().find(|(key, _)| key.text == name).map_or(self.span, |(key, _)| key.span)
    }

    /// Where the value was written; the whole record if it was not.
    pub fn value_span(&self, name: &'static str) -> Span {
        self.pairs.iter().find(|(key, _)| key.text == name).map_or(self.span, |(_, value)| value.span)
    }

    /// Reads a single value.
    pub fn one<T>(
        &self,
        notes: &mut Notes<'_>,
        name: &'static str,
        read: impl FnOnce(&mut Notes<'_>, Spot<'n, 't>) -> Option<T>,
    ) -> Option<T> {
        let spot = self.value(notes, name)?;
        read(notes, spot)
    }

    /// Reads every item of a list.
    pub fn each<T>(
        &self,
        notes: &mut Notes<'_>,
        name: &'static str,
        mut read: impl FnMut(&mut Notes<'_>, Spot<'n, 't>) -> Option<T>,
    ) -> Vec<T> {
        let items = self.items(notes, name);
        items.into_iter().filter_map(|item| read(notes, item)).collect()
    }

    /// Reads every item of a list, or a single value where the key takes one too.
    pub fn one_or_each<T>(
        &self,
        notes: &mut Notes<'_>,
        name: &'static str,
        read: impl Fn(&mut Notes<'_>, Spot<'n, 't>) -> Option<T>,
    ) -> Vec<T> {
        match self.value(notes, name) {
            Some(spot) if takes_one(spot.shape) && !matches!(spot.node.kind, Kind::List(_)) => read(notes, spot).into_iter().collect(),
            Some(_) => self.each(notes, name, read),
            None => Vec::new(),
        }
    }

    /// The items of a list, unread.
    pub fn items(&self, notes: &mut Notes<'_>, name: &'static str) -> Vec<Spot<'n, 't>> {
        let Some(spot) = self.value(notes, name) else { return Vec::new() };
        match &spot.node.kind {
            Kind::List(items) => items.iter().map(|node| spot.item(node)).collect(),
            _ => {
                wrong_shape(notes, spot);
                Vec::new()
            }
        }
    }

    /// Opens a record that stands under a key.
    pub fn record(&self, notes: &mut Notes<'_>, name: &'static str) -> Option<Self> {
        let spot = self.value(notes, name)?;
        open_item(notes, spot)
    }

    /// Opens every record of a list and reads it.
    pub fn records<T>(
        &self,
        notes: &mut Notes<'_>,
        name: &'static str,
        mut read: impl FnMut(&mut Notes<'_>, Fields<'n, 't>) -> Option<T>,
    ) -> Vec<T> {
        self.each(notes, name, |notes, item| {
            let fields = open_item(notes, item)?;
            read(notes, fields)
        })
    }

    /// The pairs of a map whose keys the crew chooses; those without a value are noted.
    pub fn named(&self, notes: &mut Notes<'_>, name: &'static str) -> Vec<Named<'n, 't>> {
        self.value(notes, name).map_or_else(Vec::new, |spot| named(notes, spot))
    }
}

fn takes_one(shape: Shape) -> bool {
    matches!(shape, Shape::TextOrTexts | Shape::RefOrRefs | Shape::AmountOrAmounts)
}

/// Opens a record that stands as a value or an item.
pub(super) fn open_item<'n, 't>(notes: &mut Notes<'_>, spot: Spot<'n, 't>) -> Option<Fields<'n, 't>> {
    let table = spot.shape.table().expect("a record is asked for only where its shape names a table");
    Fields::open(notes, spot, table)
}

/// The pairs of a map whose keys the crew chooses.
pub(super) fn named<'n, 't>(notes: &mut Notes<'_>, spot: Spot<'n, 't>) -> Vec<Named<'n, 't>> {
    let Kind::Map(pairs) = &spot.node.kind else {
        wrong_shape(notes, spot);
        return Vec::new();
    };
    let mut found = Vec::new();
    for (index, (key, value)) in pairs.iter().enumerate() {
        if value.is_null() {
            match stray(notes.source(), pairs, index) {
                Some(stray) => {
                    notes.error("unknown-key", key.span, format!("{} stands here as a key without a value", tick(&key.text)), stray.remedy);
                }
                None => notes.error(
                    "missing-value",
                    key.span,
                    format!("{} has no value", tick(&key.text)),
                    "write a value after its colon, or take it out",
                ),
            }
            continue;
        }
        if is_cut_off(notes.source(), pairs, index) {
            continue;
        }
        let Some(name) = super::scalar::plain_words(notes, &key.text, key.span) else { continue };
        if name.is_empty() {
            notes.error("bad-id", key.span, format!("a name is missing here in {}", tick(spot.key)), "write the name before the colon");
            continue;
        }
        let span = Span { start: key.span.start, end: value.span.end.max(key.span.end) };
        found.push(Named {
            name: name.into_owned(),
            key_span: key.span,
            value: Spot { node: value, key: &key.text, shape: spot.shape, in_list: false },
            span,
        });
    }
    found
}

/// How a missing key is written; where there is a choice, all of it, so that none is taken for the right one.
fn add_key(key: &KeySpec) -> String {
    match key.shape {
        Shape::Choice(words) => {
            format!("add `{}:` with one of {}", key.name, words.iter().map(|word| tick(word)).collect::<Vec<_>>().join(", "))
        }
        shape => format!("add {}", tick(&format!("{}: {}", key.name, shape.example()))),
    }
}

fn missing_value(notes: &mut Notes<'_>, span: Span, key: &str, shape: Shape) {
    notes.error(
        "missing-value",
        span,
        format!("{} needs {}, and nothing stands here", tick(key), shape.needs()),
        format!("write {}, or take the key out", tick(&format!("{key}: {}", shape.example()))),
    );
}
