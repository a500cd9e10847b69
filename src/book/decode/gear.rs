//! Gear of `boat.yaml`.

use super::fields::Fields;
use super::figures::of_meter;
use super::ids::{Seen, id};
use super::scalar::{log_day, month, name, text};
use crate::book::diagnostic::Notes;
use crate::book::model::{Fitted, Gear};

/// Reads the gear of the boat.
pub(super) fn gear(notes: &mut Notes<'_>, boat: Fields<'_, '_>) -> Vec<Gear> {
    let mut seen = Seen::default();
    boat.records(notes, "gear", |notes, fields| {
        let id = fields.one(notes, "id", id);
        let title = fields.one(notes, "title", text);
        let system = fields.one(notes, "system", name);
        let expires = fields.one(notes, "expires", month);
        let guide = fields.one(notes, "guide", name);
        let meter = fields.one(notes, "meter", name);
        let serial = fields.one(notes, "serial", text);
        let fitted = fields.record(notes, "fitted").and_then(|fields| fitted(notes, fields));
        let note = fields.one(notes, "note", text);
        let id = id.filter(|id| seen.is_new(notes, id))?;
        let title = title.unwrap_or_else(|| id.value.clone());
        Some(Gear { id, title, system, expires, guide, meter, serial, fitted, note })
    })
}

fn fitted(notes: &mut Notes<'_>, fields: Fields<'_, '_>) -> Option<Fitted> {
    let on = fields.one(notes, "on", log_day);
    let at = fields.one(notes, "at", of_meter);
    Some(Fitted { on: on?, at })
}
