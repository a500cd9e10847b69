//! The front matter of a guide.

use super::fields::Fields;
use super::figures::{calendar_span, count, duration};
use super::guide_figures::{parts, readings, torques, values};
use super::guide_names::one_meaning_each;
use super::ids::{id, refs};
use super::intervals::intervals;
use super::scalar::{choice, day, flag, name, text};
use crate::book::diagnostic::Notes;
use crate::book::keys::GUIDE;
use crate::book::model::{GuideFacts, Whereabouts};
use crate::book::node::Node;
use crate::book::outline::Outline;
use crate::book::source::Span;

pub use super::guide_file::{read, read_as_far_as_possible};

const PLACES: [(&str, Whereabouts); 4] = [
    ("under-way", Whereabouts::UnderWay),
    ("at-anchor", Whereabouts::AtAnchor),
    ("moored", Whereabouts::Moored),
    ("ashore", Whereabouts::Ashore),
];

/// Reads the front matter of the guide `id` in the folder `system`; `None` where it is no map.
///
/// The outline is left empty: the body is read by another.
pub fn decode(notes: &mut Notes<'_>, node: &Node<'_>, id_of_file: &str, system: &str, body: Span) -> Option<GuideFacts> {
    let fields = Fields::open_root(notes, node, "the front matter", &GUIDE)?;
    let title = fields.one(notes, "title", text);
    let mut unread_meters = Vec::new();
    let guide = GuideFacts {
        id: id_of_file.to_owned(),
        system: system.to_owned(),
        title: title.unwrap_or_else(|| id_of_file.to_owned()),
        title_span: fields.value_span("title"),
        summary: fields.one(notes, "summary", text),
        every: intervals(notes, fields, "every", &mut unread_meters),
        first: intervals(notes, fields, "first", &mut unread_meters),
        unread_meters,
        for_gear: refs(notes, fields, "for"),
        occasions: refs(notes, fields, "occasions"),
        routine: fields.one(notes, "routine", flag).unwrap_or_default(),
        notice: fields.one(notes, "notice", calendar_span),
        covers: refs(notes, fields, "covers"),
        crew: fields.one(notes, "crew", count).unwrap_or(1),
        places: fields.each(notes, "where", |notes, spot| choice(notes, spot, &PLACES)),
        conditions: fields.each(notes, "conditions", text),
        wear: fields.each(notes, "wear", text),
        dispose: fields.each(notes, "dispose", text),
        time: fields.one(notes, "time", duration),
        time_span: fields.value_span("time"),
        hazards: refs(notes, fields, "hazards"),
        safety: fields.each(notes, "safety", name),
        tools: fields.each(notes, "tools", name),
        parts: parts(notes, fields),
        torques: torques(notes, fields),
        values: values(notes, fields),
        readings: readings(notes, fields),
        applies_to: fields.one(notes, "applies-to", text),
        from: fields.one(notes, "source", text),
        licence: fields.one(notes, "licence", text),
        revised: fields.one(notes, "revised", day),
        checked: fields.one(notes, "checked", day),
        formerly: fields.each(notes, "formerly", id),
        received: super::received::read(notes, fields).map(Box::new),
        body,
        outline: Outline::default(),
    };
    one_meaning_each(notes, &guide);
    Some(guide)
}
