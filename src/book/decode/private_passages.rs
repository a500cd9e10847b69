//! Passages of an entry that stay out of the public edition: `<!-- private --> … <!-- /private -->`.
//!
//! They are cut from the text before Markdown is read, so that nothing in it, code included, can
//! hide a mark from the cutter. Whatever looks like such a mark and is none is an error: the crew
//! would think something hidden that is not.

use std::ops::Range;

use super::scalar::tick;
use crate::book::diagnostic::Notes;
use crate::book::source::Span;

const RULE: &str = "private-passage";

/// The private passages of a text, and the marks that bound them.
#[derive(Debug, Default)]
pub(super) struct Passages {
    /// From the opening mark to the end of the closing one; to the end of the text where none closes.
    pub spans: Vec<Span>,
    /// Every mark by itself, in order.
    pub marks: Vec<Range<usize>>,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Mark {
    Open,
    Close,
}

/// Finds the private passages in `body`.
pub(super) fn find(notes: &mut Notes<'_>, body: Span) -> Passages {
    let text = notes.source().slice(body);
    let base = body.start as usize;
    let mut found = Passages::default();
    let mut open: Option<Span> = None;
    for comment in comments(text) {
        let words = text.get(comment.clone()).unwrap_or_default();
        let span = Span::new(base + comment.start, base + comment.end);
        let Some(mark) = mark_of(words) else {
            if words.to_lowercase().contains("privat") {
                let message = format!("{} hides nothing", tick(words));
                notes.error(RULE, span, message, "write `<!-- private -->` before and `<!-- /private -->` after what should be hidden");
            }
            continue;
        };
        found.marks.push(span.range());
        match (mark, open) {
            (Mark::Open, None) => open = Some(span),
            (Mark::Open, Some(first)) => {
                let line = notes.source().place(first).line;
                let message = format!("a private passage begins here inside the one that began on line {line}");
                notes.error(RULE, span, message, "close the first one with `<!-- /private -->` before this");
            }
            (Mark::Close, Some(first)) => {
                found.spans.push(Span { start: first.start, end: span.end });
                open = None;
            }
            (Mark::Close, None) => {
                let message = "a private passage ends here that never began";
                notes.error(RULE, span, message, "write `<!-- private -->` before what should be hidden");
            }
        }
    }
    if let Some(first) = open {
        let message = "this private passage is never closed, and hides all that follows";
        notes.error(RULE, first, message, "write `<!-- /private -->` after what should be hidden");
        found.spans.push(Span { start: first.start, end: body.end });
    }
    found
}

/// Every `<!-- … -->`; one that never ends goes to the end of its line.
fn comments(text: &str) -> impl Iterator<Item = Range<usize>> + '_ {
    let mut at = 0;
    std::iter::from_fn(move || {
        let start = at + text.get(at..)?.find("<!--")?;
        let rest = text.get(start..)?;
        let line_end = rest.find('\n').unwrap_or(rest.len());
        // A comment that opens anew before it ends was not ended: only the last opening counts.
        let end = match rest.find("-->") {
            Some(close) if !rest.get(4..close).is_some_and(|inner| inner.contains("<!--")) => start + close + 3,
            _ => start + line_end,
        };
        at = end.max(start + 4).min(text.len());
        Some(start..end)
    })
}

fn mark_of(comment: &str) -> Option<Mark> {
    let inner = comment.strip_prefix("<!--")?.strip_suffix("-->")?;
    match inner.trim().to_lowercase().as_str() {
        "private" => Some(Mark::Open),
        "/private" | "/ private" => Some(Mark::Close),
        _ => None,
    }
}
