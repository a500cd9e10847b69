//! How Markdown is read, everywhere the same: CommonMark with tables, task lists and footnotes.

use super::source::Span;
use pulldown_cmark::{Event, Options, Parser};
use std::ops::Range;

/// An event with the byte range it was read from.
pub type Placed<'t> = (Event<'t>, Range<usize>);

/// The extensions of the format. Heading attributes would eat marks, smart punctuation would change
/// figures, and alert quotes would hide cautions: they stay off.
#[must_use]
pub fn options() -> Options {
    Options::ENABLE_TABLES | Options::ENABLE_TASKLISTS | Options::ENABLE_FOOTNOTES
}

/// Bytes of text for each of its events, where they are many: room is made for so many at once.
const BYTES_AN_EVENT: usize = 16;

/// Parses the Markdown in `span` of `text`; ranges count from the start of `text`.
pub fn parse(text: &str, span: Span) -> Vec<Placed<'_>> {
    let base = span.start as usize;
    let body = text.get(span.range()).unwrap_or_default();
    let mut events = Vec::with_capacity(body.len() / BYTES_AN_EVENT);
    events.extend(Parser::new_ext(body, options()).into_offset_iter().map(|(event, range)| (event, range.start + base..range.end + base)));
    events
}

/// For every event the index just past its element: of a start tag, past the matching end tag.
#[must_use]
pub fn ends(events: &[Placed<'_>]) -> Vec<usize> {
    let mut ends: Vec<usize> = (1..=events.len()).collect();
    let mut open = Vec::new();
    for (at, (event, _)) in events.iter().enumerate() {
        match event {
            Event::Start(_) => open.push(at),
            Event::End(_) => {
                if let Some(start) = open.pop() {
                    ends[start] = at + 1;
                }
            }
            _ => {}
        }
    }
    for start in open {
        ends[start] = events.len();
    }
    ends
}
