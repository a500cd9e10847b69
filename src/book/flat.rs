//! One block of Markdown as a flat string, with the way back to the source.
//!
//! A mark may arrive cut into several text events (at `_`, `*`, `<`, a line end). Joined here, the
//! braces are found in one pass; what cannot hold a mark (code, links, pictures, HTML) becomes one
//! U+FFFC.

use super::source::Span;
use pulldown_cmark::{Event, Tag, TagEnd};
use std::ops::Range;

/// Stands for what is no plain text.
pub const OBJECT: char = '\u{fffc}';

/// The text of one block.
#[derive(Debug, Default)]
pub struct Flat {
    pub text: String,
    pieces: Vec<Piece>,
    /// Emphasis inside the block: a mark may lie in it, but not across its edge.
    pub emphasis: Vec<Span>,
    /// Byte offsets in `text` at which a source line begins.
    pub line_starts: Vec<usize>,
}

#[derive(Debug)]
struct Piece {
    flat: usize,
    source: usize,
    exact: bool,
}

/// Braces found in a block.
#[derive(Debug, PartialEq, Eq)]
pub enum Brace<'f> {
    /// A mark: what stands between the braces, and its place with them.
    Mark(&'f str, Span),
    /// Opened and never closed.
    Unclosed(Span),
}

impl Flat {
    fn push(&mut self, text: &str, source: usize, exact: bool) {
        self.pieces.push(Piece { flat: self.text.len(), source, exact });
        self.text.push_str(text);
    }

    /// Where a byte of the flat text stands in the source.
    #[must_use]
    pub fn source_at(&self, flat: usize) -> usize {
        let at = self.pieces.partition_point(|piece| piece.flat <= flat);
        let Some(piece) = at.checked_sub(1).and_then(|at| self.pieces.get(at)) else { return 0 };
        if piece.exact { piece.source + (flat - piece.flat) } else { piece.source }
    }

    /// Where the block begins in the source.
    #[must_use]
    pub fn start(&self) -> usize {
        self.pieces.first().map_or(0, |piece| piece.source)
    }

    /// All marks of the block in order.
    #[must_use]
    pub fn braces(&self) -> Vec<Brace<'_>> {
        let mut found = Vec::new();
        let mut open: Option<usize> = None;
        let unclosed = |at: usize| {
            let start = self.source_at(at);
            Brace::Unclosed(Span::new(start, start + 1))
        };
        for (at, byte) in self.text.bytes().enumerate() {
            match (open, byte) {
                (Some(start), b'}') => {
                    let span = Span::new(self.source_at(start), self.source_at(at) + 1);
                    found.push(Brace::Mark(&self.text[start + 1..at], span));
                    open = None;
                }
                (_, b'{') => {
                    found.extend(open.map(unclosed));
                    open = Some(at);
                }
                _ => {}
            }
        }
        found.extend(open.map(unclosed));
        found
    }

    /// The stretches of a block that stand outside its marks.
    #[must_use]
    pub fn outside_marks(&self) -> Vec<&str> {
        let text = self.text.as_str();
        let mut stretches = Vec::new();
        let mut depth = 0_usize;
        let mut start = 0;
        for (at, byte) in text.bytes().enumerate() {
            match byte {
                b'{' => {
                    if depth == 0 {
                        stretches.extend(text.get(start..at));
                    }
                    depth += 1;
                }
                b'}' if depth > 0 => {
                    depth -= 1;
                    start = at + 1;
                }
                _ => {}
            }
        }
        if depth == 0 {
            stretches.extend(text.get(start..));
        }
        stretches
    }

    /// Whether emphasis begins or ends strictly inside `mark`, but not both.
    #[must_use]
    pub fn cuts_emphasis(&self, mark: Span) -> bool {
        let inside = |at: u32| mark.start < at && at < mark.end;
        // Emphasis comes in the order in which it begins, so what begins in the mark is a short run;
        // what began before it and ends in it must enclose its start.
        let first = self.emphasis.partition_point(|emphasis| emphasis.start <= mark.start);
        let begins_inside =
            self.emphasis[first..].iter().take_while(|emphasis| emphasis.start < mark.end).any(|emphasis| !inside(emphasis.end));
        let ends_inside = self.emphasis[..first].iter().rev().take(NESTED).any(|emphasis| inside(emphasis.end));
        begins_inside || ends_inside
    }
}

/// Emphasis before a mark that may still be open in it; deeper nesting is no text anybody writes.
const NESTED: usize = 64;

/// Gathers the blocks of a run of events; `text` is the whole text the ranges point into.
pub fn blocks(events: &[(Event<'_>, Range<usize>)], text: &str) -> Vec<Flat> {
    let mut done = Vec::new();
    let mut flat = Flat::default();
    let mut skip: Option<usize> = None;
    let mut depth = 0_usize;
    for (event, range) in events {
        match event {
            Event::Start(_) => depth += 1,
            Event::End(_) => depth = depth.saturating_sub(1),
            _ => {}
        }
        if let Some(level) = skip {
            if matches!(event, Event::End(_)) && depth == level {
                skip = None;
            }
            continue;
        }
        match event {
            Event::Start(Tag::Link { .. } | Tag::Image { .. }) => {
                flat.push("\u{fffc}", range.start, false);
                skip = Some(depth - 1);
            }
            Event::Start(Tag::CodeBlock(_) | Tag::HtmlBlock) => {
                finish(&mut done, &mut flat);
                skip = Some(depth - 1);
            }
            Event::Start(Tag::Emphasis | Tag::Strong) => flat.emphasis.push(Span::new(range.start, range.end)),
            Event::End(TagEnd::Emphasis | TagEnd::Strong) => {}
            Event::Start(_) | Event::End(_) | Event::Rule => finish(&mut done, &mut flat),
            Event::Text(words) => push_text(&mut flat, words, range, text),
            Event::SoftBreak | Event::HardBreak => {
                flat.push(" ", range.start, false);
                flat.line_starts.push(flat.text.len());
            }
            Event::Code(_)
            | Event::Html(_)
            | Event::InlineHtml(_)
            | Event::FootnoteReference(_)
            | Event::InlineMath(_)
            | Event::DisplayMath(_) => {
                flat.push("\u{fffc}", range.start, false);
            }
            Event::TaskListMarker(_) => {}
        }
    }
    finish(&mut done, &mut flat);
    done
}

/// The words of some events, code and all, without what stands in braces.
#[must_use]
pub fn plain_words(events: &[(Event<'_>, Range<usize>)]) -> String {
    let mut text = String::new();
    for (event, _) in events {
        match event {
            Event::Text(words) | Event::Code(words) => text.push_str(words),
            Event::SoftBreak | Event::HardBreak => text.push(' '),
            _ => {}
        }
    }
    let mut plain = String::new();
    let mut rest = text.as_str();
    while let Some((before, after)) = rest.split_once('{') {
        plain.push_str(before);
        rest = after.split_once('}').map_or("", |(_, after)| after);
    }
    plain.push_str(rest);
    plain
}

fn finish(done: &mut Vec<Flat>, flat: &mut Flat) {
    let block = std::mem::take(flat);
    if !block.text.is_empty() {
        done.push(block);
    }
}

fn push_text(flat: &mut Flat, words: &str, range: &Range<usize>, text: &str) {
    let exact = text.get(range.clone()) == Some(words);
    let escaped = words.starts_with(['{', '}']) && range.start > 0 && text.as_bytes().get(range.start - 1) == Some(&b'\\');
    if !exact && words.contains(['{', '}']) {
        // A brace that was written as a character reference (`&#123;`) was meant as a character.
        flat.push(&words.replace(['{', '}'], "\u{fffc}"), range.start, false);
    } else if escaped {
        flat.push("\u{fffc}", range.start, false);
        flat.push(&words[1..], range.start + 1, true);
    } else {
        flat.push(words, range.start, exact);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use pulldown_cmark::Parser;

    #[track_caller]
    fn case(markdown: &str, expected: &[&str]) {
        let events: Vec<_> = Parser::new(markdown).into_offset_iter().collect();
        let blocks = blocks(&events, markdown);
        let found: Vec<String> = blocks
            .iter()
            .flat_map(Flat::braces)
            .map(|brace| match brace {
                Brace::Mark(inner, span) => {
                    let there = &markdown[span.range()];
                    assert!(there.starts_with('{') && there.ends_with('}'), "{there}");
                    inner.to_owned()
                }
                Brace::Unclosed(span) => format!("unclosed at {}", span.start),
            })
            .collect();
        assert_eq!(found, expected);
    }

    #[test]
    fn marks_are_found_however_markdown_cuts_the_text() {
        case("a {b} c", &["b"]);
        case("{wait 20 min:\noil cools}", &["wait 20 min: oil cools"]);
        case("{prove a_b < c & d}", &["prove a_b < c & d"]);
        case("*{takes 5 min}* and **x {y}**", &["takes 5 min", "y"]);
        case("| a |\n|---|\n| {b} |", &["b"]);
        case("1. tight {a}\n2. two {b}", &["a", "b"]);
    }

    #[test]
    fn code_links_and_escapes_hold_no_marks() {
        case("`{a}` and \\{b} and [{c}](d)", &[]);
        case("    {a}\n\n```\n{b}\n```", &[]);
        case("![{a}](b.jpg)", &[]);
        case("{a `b` c}", &["a \u{fffc} c"]);
        // CommonMark 0.31.2, 2.5: character references cannot stand for symbols of structure.
        case("&#123;a} and &lbrace;b&rbrace; and {c&#125;d}", &["c\u{fffc}d"]);
    }

    #[test]
    fn an_open_brace_is_told() {
        case("a { b", &["unclosed at 2"]);
        case("{a {b}", &["unclosed at 0", "b"]);
    }
}
