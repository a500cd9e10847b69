//! Files of the book: the tree of a YAML text lies inside it, and every decoder tells its problems by their places.

use garboard::book::decode::{boat, cautions, passages, stores, tools};
use garboard::book::diagnostic::{Notes, tidy};
use garboard::book::load::{entry_of, guide_of};
use garboard::book::node::{self, Kind, Node};
use garboard::book::source::{Source, Span};

pub fn check(bytes: &[u8]) {
    let Some(text) = super::text(bytes) else { return };
    for of in [
        |notes: &mut Notes<'_>, node: &Node<'_>| drop(boat::decode(notes, node)),
        |notes: &mut Notes<'_>, node: &Node<'_>| drop(stores::decode(notes, node)),
        |notes: &mut Notes<'_>, node: &Node<'_>| drop(tools::decode(notes, node)),
        |notes: &mut Notes<'_>, node: &Node<'_>| drop(passages::decode(notes, node)),
        |notes: &mut Notes<'_>, node: &Node<'_>| drop(cautions::decode(notes, node)),
    ] {
        let source = Source::new("boat.yaml", text);
        let mut notes = Notes::new(&source);
        if let Some(tree) = node::read(&mut notes, Span::new(0, text.len())) {
            assert_inside(&tree, text);
            of(&mut notes, &tree);
        }
        tidy(&mut notes.found);
        super::assert_told(&notes.found, text);
    }
    let (_, problems) = guide_of(&Source::new("guides/engine/job.md", text));
    super::assert_told(&problems, text);
    let (_, problems) = entry_of(&Source::new("log/2026/2026-03-14-job.md", text));
    super::assert_told(&problems, text);
}

/// A plain scalar without a line break is what stands at its place.
fn assert_inside(node: &Node<'_>, text: &str) {
    let slice = text.get(node.span.range()).unwrap_or_else(|| panic!("{:?} is no part of the text", node.span));
    match &node.kind {
        Kind::Scalar { text: said, plain } => {
            if *plain && !slice.contains(['\n', '\r']) && !node.is_null() {
                assert_eq!(said, slice);
            }
        }
        Kind::List(items) => items.iter().for_each(|item| assert_inside(item, text)),
        Kind::Map(pairs) => {
            for (key, value) in pairs {
                assert!(text.get(key.span.range()).is_some(), "{key:?}");
                assert_inside(value, text);
            }
        }
    }
}
