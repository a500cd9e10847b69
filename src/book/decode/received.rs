//! Where a guide of another boat came from.

use std::collections::BTreeMap;

use super::fields::Fields;
use super::ids::id;
use super::scalar::{Spot, day, name, text, tick};
use crate::book::diagnostic::Notes;
use crate::book::id::id_of;
use crate::book::keys::Shape;
use crate::book::model::Received;
use jiff::civil::Date;

/// Reads the key `received` of a guide.
pub(super) fn read(notes: &mut Notes<'_>, guide: Fields<'_, '_>) -> Option<Received> {
    let fields = guide.record(notes, "received")?;
    Some(Received {
        from: fields.one(notes, "from", text).unwrap_or_default(),
        // Without a day it counts as never checked, which is the safe side.
        on: fields.one(notes, "on", day).unwrap_or(Date::MAX),
        checked: fields.one(notes, "checked", day),
        licence: fields.one(notes, "licence", text),
        system: fields.one(notes, "system", text),
        revises: fields.one(notes, "revises", name),
        systems: names(notes, fields, "systems"),
        meters: names(notes, fields, "meters"),
        items: names(notes, fields, "items"),
        cautions: names(notes, fields, "cautions"),
        guides: names(notes, fields, "guides"),
        passed_over: Vec::new(),
    })
}

/// Ids there with ids here.
fn names(notes: &mut Notes<'_>, fields: Fields<'_, '_>, key: &'static str) -> BTreeMap<String, String> {
    let mut names = BTreeMap::new();
    for pair in fields.named(notes, key) {
        let theirs = id_of(&pair.name);
        if theirs != pair.name {
            let message = format!("{} is not an id: an id is lower-case letters and digits, joined by single hyphens", tick(&pair.name));
            notes.error("bad-id", pair.key_span, message, "write the id as that boat has it");
            continue;
        }
        if let Some(ours) = id(notes, Spot { shape: Shape::Id, ..pair.value }) {
            names.insert(theirs, ours.value);
        }
    }
    names
}
