//! What a text points at: its pictures and its links.

use super::diagnostic::Notes;
use super::markdown;
use super::outline::{LinkRef, PictureRef};
use super::source::{Placed, Span};
use pulldown_cmark::{Event, LinkType, Tag, TagEnd};
use std::ops::Range;

/// Whether a text holds nothing that [`points_at`] could find, and no fenced code: none of them can be
/// written without one of these signs.
#[must_use]
pub fn is_bare(markdown: &str) -> bool {
    !markdown.bytes().any(|byte| matches!(byte, b'[' | b'<' | b'`' | b'~'))
}

/// Pictures and links of a text.
pub fn points_at(notes: &mut Notes<'_>, events: &[markdown::Placed<'_>], pictures: &mut Vec<PictureRef>, links: &mut Vec<LinkRef>) {
    let text = notes.source().text();
    let mut at = 0;
    while at < events.len() {
        let (event, range) = &events[at];
        match event {
            Event::Start(Tag::Image { dest_url, .. }) => {
                let mut alt = String::new();
                for (inner, _) in events.get(at + 1..).unwrap_or_default() {
                    match inner {
                        Event::End(TagEnd::Image) => break,
                        Event::Text(words) | Event::Code(words) => alt.push_str(words),
                        Event::SoftBreak | Event::HardBreak => alt.push(' '),
                        _ => {}
                    }
                }
                let span = target_span(text, range, dest_url);
                pictures.push(PictureRef { path: Placed::new(dest_url.to_string(), span), alt: alt.trim().to_owned() });
            }
            Event::Start(Tag::Link { link_type: LinkType::Email, .. }) => {}
            Event::Start(Tag::Link { dest_url, .. }) => {
                let span = target_span(text, range, dest_url);
                links.push(LinkRef { target: Placed::new(dest_url.to_string(), span) });
            }
            _ => {}
        }
        at += 1;
    }
}

/// The target inside a link or picture, else the whole of it.
fn target_span(text: &str, range: &Range<usize>, target: &str) -> Span {
    let whole = text.get(range.clone()).unwrap_or_default();
    match whole.rfind(target) {
        Some(at) if !target.is_empty() => Span::new(range.start + at, range.start + at + target.len()),
        _ => Span::new(range.start, range.end),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::source::Source;
    use proptest::prelude::*;
    use pulldown_cmark::CodeBlockKind;

    /// The letters that Markdown and marks are made of.
    const SIGNS: &str = "[a-c1.)\\n {}\\[\\]()<>`~!#*_|:;&/\u{fffc}-]{0,40}";

    proptest! {
        #[test]
        fn nothing_is_looked_for_in_vain(text in SIGNS) {
            let text: String = text.chars().filter(|letter| !"[<`~".contains(*letter)).collect();
            prop_assert!(is_bare(&text));
            for (event, _) in markdown::parse(&text, Span::new(0, text.len())) {
                let found = matches!(event, Event::Start(Tag::Image { .. } | Tag::Link { .. } | Tag::CodeBlock(CodeBlockKind::Fenced(_))));
                prop_assert!(!found, "{event:?}");
            }
        }
    }

    #[test]
    fn a_text_with_a_link_or_a_fence_is_not_bare() {
        for text in ["[a](b)", "<https://example.org>", "```nmea\n$x\n```", "~~~nmea\n$x\n~~~", "![a](b)", "[a]\n\n[a]: b"] {
            let source = Source::new("f.md", text);
            assert!(!is_bare(source.text()), "{text}");
        }
    }
}
