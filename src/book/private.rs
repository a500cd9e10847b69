//! Passages that the crew keeps to itself: `<!-- private --> … <!-- /private -->`.
//!
//! They are found in the plain text, before Markdown is read and code included, so that nothing can
//! hide one from being hidden. A passage that is not closed goes to the end of the text.

use super::diagnostic::Notes;
use super::source::Span;
use std::borrow::Cow;

/// Longest inside of a tag, in bytes: the word with room for spaces.
const LONGEST_TAG: usize = 200;

fn floor_boundary(text: &str, at: usize) -> usize {
    let at = at.min(text.len());
    (0..=at).rev().find(|at| text.is_char_boundary(*at)).unwrap_or(0)
}

/// A tag in the text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Tag {
    span: Span,
    opens: bool,
}

/// Tags of private passages in order; spaces inside and the case of the word do not matter.
fn tags(text: &str, base: usize) -> Vec<Tag> {
    let mut tags = Vec::new();
    let mut from = 0;
    while let Some(start) = text[from..].find("<!--").map(|at| from + at) {
        let inner_start = start + 4;
        // A tag is short; looking no further keeps a text full of comments cheap.
        let near = floor_boundary(text, inner_start + LONGEST_TAG);
        let found =
            text[inner_start..near].find("-->").map(|length| (inner_start + length + 3, opens(&text[inner_start..inner_start + length])));
        let (end, opens) = found.unwrap_or((inner_start, None));
        match opens {
            Some(opens) => {
                tags.push(Tag { span: Span::new(base + start, base + end), opens });
                from = end;
            }
            // A comment that is not ours may hold the beginning of one that is.
            None => from = inner_start,
        }
    }
    tags
}

/// Places of the tags in a text, in order.
pub(super) fn marks(text: &str) -> Vec<std::ops::Range<usize>> {
    tags(text, 0).into_iter().map(|tag| tag.span.range()).collect()
}

/// `Some(true)`: opens a passage; `Some(false)`: closes one.
fn opens(inner: &str) -> Option<bool> {
    match inner.trim().to_lowercase().as_str() {
        "private" => Some(true),
        word if word.strip_prefix('/').is_some_and(|rest| rest.trim() == "private") => Some(false),
        _ => None,
    }
}

/// Private passages of the text at `span`, with their tags; says what is not closed or not opened.
pub fn passages(notes: &mut Notes<'_>, span: Span) -> Vec<Span> {
    let text = notes.source().slice(span);
    let mut passages = Vec::new();
    let mut open: Option<Tag> = None;
    for tag in tags(text, span.start as usize) {
        match (open, tag.opens) {
            (None, true) => open = Some(tag),
            (Some(opening), false) => {
                passages.push(Span { start: opening.span.start, end: tag.span.end });
                open = None;
            }
            (Some(_), true) => {
                notes.error(
                    "private-passage",
                    tag.span,
                    "a private passage begins inside another",
                    "close the first with `<!-- /private -->`",
                );
            }
            (None, false) => {
                notes.error(
                    "private-passage",
                    tag.span,
                    "this closes a private passage that was not opened",
                    "write `<!-- private -->` where it begins",
                );
            }
        }
    }
    if let Some(opening) = open {
        notes.error(
            "private-passage",
            opening.span,
            "this private passage is not closed, and hides everything to the end",
            "write `<!-- /private -->` where it ends",
        );
        passages.push(Span { start: opening.span.start, end: span.end });
    }
    passages
}

/// The text without the tags, the passages themselves kept.
#[must_use]
pub fn without_tags(text: &str) -> Cow<'_, str> {
    let tags = tags(text, 0);
    if tags.is_empty() {
        return Cow::Borrowed(text);
    }
    let mut shown = String::with_capacity(text.len());
    let mut from = 0;
    for tag in tags {
        shown.push_str(&text[from..tag.span.start as usize]);
        from = tag.span.end as usize;
    }
    shown.push_str(&text[from..]);
    Cow::Owned(shown)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::source::Source;

    #[track_caller]
    fn case(text: &str, expected: &[&str], problems: usize) {
        let source = Source::new("f.md", text);
        let mut notes = Notes::new(&source);
        let found = passages(&mut notes, Span::new(0, text.len()));
        let found: Vec<&str> = found.iter().map(|span| source.slice(*span)).collect();
        assert_eq!(found, expected);
        assert_eq!(notes.found.len(), problems);
    }

    #[test]
    fn passages_are_found_wherever_they_stand() {
        case("a <!-- private -->b<!-- /private --> c", &["<!-- private -->b<!-- /private -->"], 0);
        case("```\n<!--private-->\nx\n<!-- / Private -->\n```", &["<!--private-->\nx\n<!-- / Private -->"], 0);
        case("<!-- <!-- private -->b<!-- /private -->", &["<!-- private -->b<!-- /private -->"], 0);
        case("a <!-- note --> b", &[], 0);
    }

    #[test]
    fn what_is_not_closed_hides_to_the_end() {
        case("a <!-- private --> b\nc", &["<!-- private --> b\nc"], 1);
        case("a <!-- /private --> b", &[], 1);
        case("<!-- private -->a<!-- private -->b<!-- /private -->", &["<!-- private -->a<!-- private -->b<!-- /private -->"], 1);
    }

    #[test]
    fn only_the_tags_go_for_the_crew() {
        assert_eq!(without_tags("a <!-- private -->b<!-- /private --> c"), "a b c");
        assert_eq!(without_tags("a <!-- note --> c"), "a <!-- note --> c");
    }
}
