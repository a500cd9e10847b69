//! The systems of a boat whose `boat.yaml` lists none: the folders of her guides, and whatever her gear and her log name.

use super::id::{looks_like_id, title_of};
use super::model::{Book, System};
use super::source::{Name, Span};
use std::collections::BTreeSet;

/// Names the systems of such a boat, in the order of the alphabet. A system that only a guide of another boat stands in is
/// added elsewhere, with the title that it has there.
pub(super) fn name_systems(book: &mut Book) {
    if book.boat.lists_systems {
        return;
    }
    let guides = book.guides.iter().filter(|guide| guide.received.is_none()).map(|guide| guide.system.as_str());
    let gear = book.boat.gear.iter().filter_map(|gear| gear.system.as_ref());
    let named = gear.chain(book.entries.iter().filter_map(|entry| entry.system.as_ref())).map(|name| name.value.as_str());
    let ids: BTreeSet<&str> = guides.chain(named).filter(|id| looks_like_id(id)).collect();
    let systems = ids.into_iter().map(|id| System { id: Name::new(id.to_owned(), Span::default()), title: title_of(id) });
    book.boat.systems = systems.collect();
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::decode::{entry, guide};
    use crate::book::diagnostic::Notes;
    use crate::book::model::Gear;
    use crate::book::source::Source;

    fn book() -> Book {
        let mut book = Book::default();
        for (path, front) in [
            ("guides/running-rigging/whip.md", ""),
            ("guides/hull/wash.md", ""),
            ("guides/Deck Gear/oil.md", ""),
            ("guides/tern/a.md", "received: {from: Tern, on: 2026-01-01}\n"),
        ] {
            let source = Source::new(path, format!("---\ntitle: A job\n{front}---\n1. Do it.\n"));
            book.guides.extend(guide::read(&mut Notes::new(&source)));
        }
        let source = Source::new("log/2026/2026-03-01-a.md", "---\ndate: 2026-03-01\nsystem: rig\n---\n");
        book.entries.extend(entry::read(&mut Notes::new(&source)));
        let name = |id: &str| Name::new(id.to_owned(), Span::default());
        book.boat.gear.push(Gear {
            id: name("raft"),
            title: "Raft".to_owned(),
            system: Some(name("safety")),
            expires: None,
            guide: None,
            meter: None,
            serial: None,
            fitted: None,
            note: None,
        });
        book
    }

    fn titles(book: &Book) -> Vec<&str> {
        book.boat.systems.iter().map(|system| system.title.as_str()).collect()
    }

    #[test]
    fn folders_and_what_gear_and_log_name_are_the_systems() {
        let mut book = book();
        name_systems(&mut book);
        assert_eq!(titles(&book), ["Hull", "Rig", "Running rigging", "Safety"]);
    }

    #[test]
    fn who_lists_systems_has_these_alone() {
        let mut book = book();
        book.boat.lists_systems = true;
        name_systems(&mut book);
        assert_eq!(titles(&book), Vec::<&str>::new());
    }
}
