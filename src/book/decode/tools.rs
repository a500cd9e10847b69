//! `tools.yaml`.

use super::fields::Fields;
use super::ids::{Seen, id};
use super::root;
use super::scalar::text;
use crate::book::diagnostic::Notes;
use crate::book::keys::TOOL;
use crate::book::model::Tool;
use crate::book::node::Node;

/// Reads the tools aboard; `None` where the file is no list.
pub fn decode(notes: &mut Notes<'_>, node: &Node<'_>) -> Option<Vec<Tool>> {
    let mut seen = Seen::default();
    root::records(notes, node, "tools", &TOOL, |notes, fields| tool(notes, fields, &mut seen))
}

fn tool(notes: &mut Notes<'_>, fields: Fields<'_, '_>, seen: &mut Seen) -> Option<Tool> {
    let id = fields.one(notes, "id", id);
    let title = fields.one(notes, "title", text);
    let stowed = fields.one(notes, "stowed", text);
    let note = fields.one(notes, "note", text);
    let id = id.filter(|id| seen.is_new(notes, id))?;
    let title = title.unwrap_or_else(|| id.value.clone());
    Some(Tool { id, title, stowed, note })
}
