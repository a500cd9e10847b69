//! What looks like the mark of a private passage and is none.
//!
//! The marks themselves are found by [`crate::book::private`].

use super::scalar::tick;
use crate::book::diagnostic::Notes;
use crate::book::private::is_mark;
use crate::book::source::Span;

/// Notes every short comment that was meant as a mark and hides nothing: `<!-- privat -->`. The crew
/// would think something hidden that is not.
pub(super) fn near_misses(notes: &mut Notes<'_>, body: Span) {
    let text = notes.source().slice(body);
    let mut from = 0;
    while let Some(start) = next_comment(text, from) {
        from = start + 4;
        let rest = near(text, from);
        // Where the end is mistyped too, the comment would go on to who knows where.
        let length = [">", "\n", "\r", "<!--"].into_iter().filter_map(|end| rest.find(end)).min().unwrap_or(rest.len());
        let words = rest.get(..length).unwrap_or_default();
        let is_closed = words.ends_with("--") && rest.get(length..).is_some_and(|after| after.starts_with('>'));
        let few = words.split_whitespace().filter(|word| *word != "--").count() <= 3;
        let meant = few && words.to_lowercase().contains("privat");
        if meant && !(is_closed && is_mark(words.trim_end_matches("--"))) {
            let length = if rest.get(length..).is_some_and(|after| after.starts_with('>')) { length + 1 } else { length };
            let span = Span::new(body.start as usize + start, body.start as usize + from + length);
            let message = format!("{} hides nothing", tick(notes.source().slice(span).trim_end()));
            notes.error(
                "private-passage",
                span,
                message,
                "write `<!-- private -->` before and `<!-- /private -->` after what should be hidden",
            );
        }
    }
}

/// The text after `from`, no longer than a mark can be.
fn near(text: &str, from: usize) -> &str {
    let end = (from..text.len().min(from + 120) + 1).rev().find(|end| text.is_char_boundary(*end)).unwrap_or(from);
    text.get(from..end).unwrap_or_default()
}

/// Where the next comment begins.
fn next_comment(text: &str, from: usize) -> Option<usize> {
    Some(from + text.get(from..)?.find("<!--")?)
}
