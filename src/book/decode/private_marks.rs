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
        // On one line, as the message is.
        let shown = written.split_whitespace().collect::<Vec<_>>().join(" ");
        let base = body.start as usize;
        notes.error(
            "private-passage",
            Span::new(base + place.start, base + place.end),
            format!("{} hides nothing{unseen}", tick(&shown)),
            "write `<!-- private -->` before and `<!-- /private -->` after what should be hidden; say it in other words if nothing should be",
        );
    }
}

#[cfg(test)]
mod tests {
    use crate::book::load::entry_of;
    use crate::book::source::Source;

    #[test]
    fn what_began_on_the_line_above_is_told_on_one_line() {
        let text = "---\nwork: [Looked]\ndate: 2026-05-01\n---\nAll well.\n\n<!--\nprivate notes to self\n-->\n";
        let (_, problems) = entry_of(&Source::new("log/2026/2026-05-01-looked.md", text));
        let told: Vec<(usize, &str)> = problems.iter().map(|one| (one.place.line, one.message.as_str())).collect();
        assert_eq!(told, [(7, "`<!-- private notes to self` hides nothing")]);
        assert!(problems[0].remedy.ends_with("say it in other words if nothing should be"), "{}", problems[0].remedy);
    }
}
