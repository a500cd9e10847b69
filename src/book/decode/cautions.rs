//! `cautions.yaml`: hazards of this boat besides those that ship.

use super::fields::Fields;
use super::ids::{Seen, id};
use super::root;
use super::scalar::{choice, text};
use crate::book::diagnostic::Notes;
use crate::book::keys::HAZARD;
use crate::book::model::{Hazard, Signal};
use crate::book::node::Node;
use crate::book::source::Span;

const SIGNALS: [(&str, Signal); 4] =
    [("danger", Signal::Danger), ("warning", Signal::Warning), ("caution", Signal::Caution), ("notice", Signal::Notice)];

/// A hazard of the boat, with the place of its id. Whether that is one that ships, the loader asks.
#[derive(Debug, Clone)]
pub struct OwnHazard {
    pub hazard: Hazard,
    pub span: Span,
}

/// Reads the boat's own hazards; `None` where the file is no list.
pub fn decode(notes: &mut Notes<'_>, node: &Node<'_>) -> Option<Vec<OwnHazard>> {
    let mut seen = Seen::default();
    root::records(notes, node, "cautions", &HAZARD, |notes, fields| hazard(notes, fields, &mut seen))
}

fn hazard(notes: &mut Notes<'_>, fields: Fields<'_, '_>, seen: &mut Seen) -> Option<OwnHazard> {
    let id = fields.one(notes, "id", id);
    let title = fields.one(notes, "title", text);
    let signal = fields.one(notes, "signal", |notes, spot| choice(notes, spot, &SIGNALS));
    let harm = fields.one(notes, "harm", text);
    let avoid = fields.one_or_each(notes, "avoid", text);
    let defer = fields.one(notes, "defer", text);
    let words = fields.each(notes, "words", text);
    let id = id.filter(|id| seen.is_new(notes, id))?;
    let span = id.span;
    let hazard = Hazard {
        title: title.unwrap_or_else(|| id.value.clone()),
        id: id.value,
        // Where the word cannot be read, rather too grave than not grave enough.
        signal: signal.unwrap_or(Signal::Danger),
        harm: harm.unwrap_or_default(),
        avoid,
        defer,
        words,
    };
    Some(OwnHazard { hazard, span })
}
