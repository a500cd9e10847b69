//! The front matter of an entry.

use super::entry_lists::{clears, costs, findings, fitted, jobs, meters, parts, readings};
use super::entry_when::when;
use super::fields::Fields;
use super::figures::duration;
use super::ids::refs;
use super::scalar::{choice, flag, name, text};
use crate::book::diagnostic::Notes;
use crate::book::keys::ENTRY;
use crate::book::model::{Basis, DoneBy, EntryFacts, Kept};
use crate::book::node::Node;
use crate::book::source::Span;

const HANDS: [(&str, DoneBy); 3] = [("owner", DoneBy::Owner), ("yard", DoneBy::Yard), ("licensed", DoneBy::Licensed)];

const BASES: [(&str, Basis); 4] =
    [("own record", Basis::OwnRecord), ("invoice", Basis::Invoice), ("told", Basis::Told), ("judged", Basis::Judged)];

pub use super::entry_file::{read, read_as_far_as_possible};
pub use super::entry_lists::written_unit;
pub use super::figures::amount_of;

/// Reads the front matter of the entry `id`; `None` where it is no map or names no day, not even
/// in the name of its file.
///
/// Pictures and private passages of the notes are left empty: the body is read by another.
pub fn decode(notes: &mut Notes<'_>, node: &Node<'_>, id_of_file: &str, body: Span) -> Option<(EntryFacts, Kept)> {
    let fields = Fields::open_root(notes, node, "the front matter", &ENTRY)?;
    let when = when(notes, fields, id_of_file);
    let jobs = jobs(notes, fields);
    let work = fields.each(notes, "work", text);
    let system = fields.one(notes, "system", name);
    let gear = refs(notes, fields, "gear");
    let reached = fields.one(notes, "reached", name);
    let left = fields.each(notes, "left", text);
    let meters = meters(notes, fields);
    let time = fields.one(notes, "time", duration);
    let (parts, of_parts) = parts(notes, fields);
    let costs = costs(notes, fields);
    let readings = readings(notes, fields);
    let findings = findings(notes, fields);
    let clears = clears(notes, fields);
    let (fitted, serials) = fitted(notes, fields);
    let done_by = fields.one(notes, "done-by", |notes, spot| choice(notes, spot, &HANDS));
    let by = fields.one_or_each(notes, "by", text);
    let place = fields.one(notes, "place", text);
    let papers = fields.each(notes, "papers", name);
    let basis = fields.one(notes, "basis", |notes, spot| choice(notes, spot, &BASES));
    let except = fields.each(notes, "except", text);
    // Where it cannot be read, the entry is kept back: what was shown cannot be taken back.
    let private = fields.one(notes, "private", flag).unwrap_or_else(|| fields.has("private"));
    let (when, when_span) = when?;
    let facts = EntryFacts {
        id: id_of_file.to_owned(),
        when,
        when_span,
        jobs,
        work,
        system,
        gear,
        reached,
        left,
        meters,
        time,
        parts,
        readings,
        findings,
        clears,
        fitted,
        done_by,
        paper_on_file: !papers.is_empty(),
        basis,
        except,
        private,
        body,
        private_passages: Vec::new(),
        pictures: Vec::new(),
        links: Vec::new(),
    };
    Some((facts, Kept { costs, of_parts, serials, by, place, papers }))
}
