//! What looks like the mark of a private passage in the notes of an entry and is none.
//!
//! The marks themselves are found by [`crate::book::private`].

use super::scalar::tick;
use crate::book::diagnostic::Notes;
use crate::book::private_like::{holds_unseen, lookalikes};
use crate::book::source::Span;

/// Notes whatever was meant as a mark and hides nothing: `<!-- privat -->`. The crew would think
/// something hidden that is not.
pub(super) fn near_misses(notes: &mut Notes<'_>, body: Span) {
    let text = notes.source().slice(body);
    for place in lookalikes(text) {
        let written = &text[place.clone()];
        let unseen = if holds_unseen(written) { ": a character that nobody sees stands in it" } else { "" };
        let base = body.start as usize;
        notes.error(
            "private-passage",
            Span::new(base + place.start, base + place.end),
            format!("{} hides nothing{unseen}", tick(written)),
            "write `<!-- private -->` before and `<!-- /private -->` after what should be hidden",
        );
    }
}
