//! A whole guide: front matter, then the bones of its body.

use std::cell::{LazyCell, OnceCell};

use super::above::{Told, decoded};
use super::figures::counted;
use super::guide::decode;
use super::guide_names::declared_names;
use crate::book::diagnostic::Notes;
use crate::book::front_matter;
use crate::book::id::{check_id, id_of};
use crate::book::model::{Guide, GuideFacts};
use crate::book::names_of_guide::NamesOfGuide;
use crate::book::node::{self, Kind, Node, Reading};
use crate::book::outline::{MarkKind, Outline};
use crate::book::source::Span;
use crate::book::{body, received, safety};

/// Reads the guide `guides/<system>/<id>.md` of these notes; `None` where its front matter cannot
/// be used. The body is checked all the same.
pub fn read(notes: &mut Notes<'_>) -> Option<Guide> {
    read_as_far_as_possible(notes).whole()
}

/// As [`read`]; of a guide whose front matter has a syntax error, what stands above that.
pub fn read_as_far_as_possible(notes: &mut Notes<'_>) -> Told<Guide> {
    let Some((id, system)) = id_and_system(notes) else { return Told::Whole(None) };
    let Some(parts) = front_matter::split(notes) else { return Told::Whole(None) };
    let front_matter = node::read_as_far_as_possible(notes, parts.yaml);
    let guide = decoded(notes, &front_matter, |notes, node| decode(notes, node, &id, &system, parts.body));
    let title = guide.told().map_or(id.as_str(), |guide| guide.title.as_str()).to_owned();
    let in_safety = guide.told().map(|guide| safety::marks(notes, &guide.safety)).unwrap_or_default();
    let mut outline = body::read(notes, parts.body, &title);
    outline.loose_marks.splice(0..0, in_safety);
    let (source, is_apart) = (notes.source().clone(), notes.is_apart());
    match guide {
        Told::Whole(guide) => Told::Whole(guide.map(|guide| {
            if let Reading::Whole(Some(node)) = &front_matter {
                silence(&mut outline, node, &guide);
            }
            let mut facts = GuideFacts { outline, ..guide };
            received::rename(&mut facts);
            Guide::new(source, facts, is_apart)
        })),
        // Its marks name what may stand below.
        Told::Above(guide) => Told::Above(guide.map(|guide| Guide::new(source, guide, is_apart))),
    }
}

/// Of `guides/engine/Öl wechseln.md`: `ol-wechseln` and `engine`.
fn id_and_system(notes: &mut Notes<'_>) -> Option<(String, String)> {
    let path = notes.source().path();
    let (folders, file) = path.rsplit_once('/').unwrap_or(("", path));
    let system = folders.rsplit('/').next().unwrap_or_default().to_owned();
    let stem = file.rsplit_once('.').map_or(file, |(stem, _)| stem);
    let id = id_of(stem);
    match check_id(&id) {
        Ok(()) => Some((id, system)),
        Err(error) => {
            let message = format!("the name of this file makes no id: {error}");
            notes.error("bad-id", Span::new(0, 0), message, format!("give the file another name; {}", error.remedy));
            None
        }
    }
}

/// A mark whose figure could not be read has its error in the front matter, and needs no second one; nor does one that
/// asks for more hands than a `crew` that could not be read.
fn silence(outline: &mut Outline, front_matter: &Node<'_>, guide: &GuideFacts) {
    let crew_is_unclear = crew_is_unclear(front_matter);
    // In a sound guide no mark asks for them.
    let declared = OnceCell::new();
    let names = LazyCell::new(|| NamesOfGuide::of(guide));
    for mark in outline.marks_mut() {
        if let MarkKind::Name(name) | MarkKind::Read(name) = &mark.kind
            && names.find(name).is_none()
            && declared.get_or_init(|| declared_names(front_matter)).contains(name.as_str())
        {
            mark.kind = MarkKind::Broken;
        }
        if crew_is_unclear && matches!(mark.kind, MarkKind::Hands(_)) {
            mark.kind = MarkKind::Broken;
        }
    }
}

/// Whether `crew` stands in the front matter and says no number.
fn crew_is_unclear(front_matter: &Node<'_>) -> bool {
    let Kind::Map(pairs) = &front_matter.kind else { return false };
    pairs.iter().any(|(key, value)| key.text == "crew" && !matches!(&value.kind, Kind::Scalar { text, .. } if counted(text.trim()).is_ok()))
}
