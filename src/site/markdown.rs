//! Markdown to HTML: CommonMark with tables, task lists and footnotes; raw HTML as text.
//!
//! Works on slices of the events of one text, so that a guide can be rendered step by step. What a
//! mark says is put in its place; headings never skip a level; nothing with a foreign scheme is linked.

use super::escape;
use super::highlight;
use crate::book::markdown::Placed;
use crate::book::source::Span;
use pulldown_cmark::{Alignment, CodeBlockKind, CowStr, Event, LinkType, Tag, TagEnd};
use std::collections::HashMap;
use std::fmt::Write as _;
use std::ops::Range;

/// What to put where a span of the source stood.
#[derive(Debug, Clone)]
pub struct Cut {
    pub span: Span,
    /// HTML; empty: nothing.
    pub html: String,
}

/// What a link becomes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum LinkTo {
    /// A link of the site or the web.
    Href(String),
    /// Only its words.
    Words,
}

/// What the surroundings know: where links lead, and how pictures are shown.
pub trait Surroundings {
    /// What a link target as written becomes.
    fn link(&self, target: &str) -> LinkTo;
    /// HTML of a picture; `block`: it stands alone in its paragraph.
    fn picture(&self, target: &str, alt: &str, title: &str, block: bool) -> String;
    /// Words for assistive technology: `table` (a table that scrolls), `done`, `not-done`, `back`, `footnotes`.
    fn word(&self, name: &str) -> String;
}

/// Renders runs of events of one text.
pub struct Renderer<'r> {
    text: &'r str,
    /// Sorted by place.
    cuts: &'r [Cut],
    surroundings: &'r dyn Surroundings,
    /// Level of the nearest heading above.
    above: u8,
    /// Added to the level of a heading as written.
    shift: u8,
    footnotes: Footnotes,
    /// Tables so far: each that scrolls has a name of its own.
    tables: usize,
}

/// Footnotes of one page, numbered by their first reference.
#[derive(Debug, Default)]
struct Footnotes {
    prefix: String,
    /// Labels in order, with how often each was referred to.
    order: Vec<(String, usize)>,
    /// Where in that order each label stands.
    places: HashMap<String, usize>,
    /// Label and HTML of each note, as they stand in the text.
    notes: Vec<(String, String)>,
}

impl<'r> Renderer<'r> {
    /// A renderer below a heading of level `above`; `prefix` keeps footnote ids apart on one page.
    #[must_use]
    pub fn new(text: &'r str, cuts: &'r [Cut], surroundings: &'r dyn Surroundings, above: u8, prefix: &str) -> Self {
        let footnotes = Footnotes { prefix: prefix.to_owned(), ..Footnotes::default() };
        Self { text, cuts, surroundings, above, shift: above.saturating_sub(1), footnotes, tables: 0 }
    }

    /// The level of the heading that the next run stands under.
    pub fn under(&mut self, level: u8) {
        self.above = level;
    }

    /// Renders blocks. Loose words (of a tight list item) become paragraphs.
    pub fn blocks(&mut self, events: &[Placed<'_>]) -> String {
        let wrapped = wrap_loose(events);
        let mut out = String::new();
        let transformed = self.transform(&wrapped);
        pulldown_cmark::html::push_html(&mut out, transformed.into_iter());
        out
    }

    /// Renders words inside one block, without a paragraph.
    pub fn inline(&mut self, events: &[Placed<'_>]) -> String {
        let mut out = String::new();
        let transformed = self.transform(events);
        pulldown_cmark::html::push_html(&mut out, transformed.into_iter());
        out.trim().to_owned()
    }

    /// The footnotes of all that was rendered, as a list; empty without any.
    pub fn footnotes(&mut self) -> String {
        // A note that nothing refers to is still the crew's words.
        let known = &self.footnotes.places;
        let orphans = self.footnotes.notes.iter().map(|(label, _)| label).filter(|label| !known.contains_key(*label));
        self.footnotes.order.extend(orphans.map(|label| (label.clone(), 0)));
        if self.footnotes.notes.is_empty() {
            return String::new();
        }
        let mut out = String::from("<ol class=\"footnotes\">\n");
        let prefix = &self.footnotes.prefix;
        // Of two notes with one label the first is meant.
        let notes: HashMap<&str, &str> = self.footnotes.notes.iter().rev().map(|(label, note)| (label.as_str(), note.as_str())).collect();
        for (number, (label, references)) in self.footnotes.order.iter().enumerate() {
            let number = number + 1;
            let Some(note) = notes.get(label.as_str()) else { continue };
            let _ = write!(out, "<li id=\"{prefix}fn-{number}\" value=\"{number}\">{note}");
            for reference in 1..=*references {
                let back = escape::html(&self.surroundings.word("back"));
                let _ = write!(out, " <a href=\"#{prefix}fnref-{number}-{reference}\" aria-label=\"{back} {number}\">↩</a>");
            }
            out.push_str("</li>\n");
        }
        out.push_str("</ol>\n");
        out
    }

    fn transform<'e>(&mut self, events: &'e [Placed<'_>]) -> Vec<Event<'e>> {
        let mut out: Vec<Event<'e>> = Vec::with_capacity(events.len() + 8);
        let mut links: Vec<bool> = Vec::new();
        let mut table = Table::default();
        let mut at = 0;
        while let Some((event, range)) = events.get(at) {
            at += 1;
            match event {
                Event::Start(Tag::Heading { level, .. }) => {
                    let level = (*level as u8 + self.shift).clamp(1, (self.above + 1).min(6));
                    self.above = level;
                    out.push(html(format!("<h{level}>")));
                }
                Event::End(TagEnd::Heading(_)) => out.push(html(format!("</h{}>\n", self.above))),
                Event::Start(Tag::CodeBlock(kind)) => {
                    let (code, next) = text_until(events, at, TagEnd::CodeBlock);
                    at = next;
                    out.push(html(code_block(kind, &code)));
                }
                Event::Start(Tag::HtmlBlock) => out.push(html("<p>".to_owned())),
                Event::End(TagEnd::HtmlBlock) => out.push(html("</p>\n".to_owned())),
                Event::Html(raw) => out.push(Event::Text(CowStr::from(raw.trim_end_matches('\n').to_owned() + "\n"))),
                Event::InlineHtml(raw) => out.push(Event::Text(raw.clone())),
                Event::Start(Tag::Paragraph) if alone(events, at) => {
                    // A picture alone in its paragraph becomes a figure, which no paragraph may hold.
                    if let Some((Event::Start(Tag::Image { dest_url, title, .. }), _)) = events.get(at) {
                        let (alt, next) = text_until(events, at + 1, TagEnd::Image);
                        at = next + 1;
                        out.push(html(self.surroundings.picture(dest_url, &alt, title, true)));
                    }
                }
                Event::Start(Tag::Image { dest_url, title, .. }) => {
                    let (alt, next) = text_until(events, at, TagEnd::Image);
                    at = next;
                    out.push(html(self.surroundings.picture(dest_url, &alt, title, false)));
                }
                Event::Start(Tag::Link { link_type, dest_url, title, .. }) => {
                    let to = if *link_type == LinkType::Email {
                        LinkTo::Href(format!("mailto:{dest_url}"))
                    } else {
                        self.surroundings.link(dest_url)
                    };
                    links.push(matches!(to, LinkTo::Href(_)));
                    if let LinkTo::Href(href) = to {
                        let title = if title.is_empty() { String::new() } else { format!(" title=\"{}\"", escape::html(title)) };
                        out.push(html(format!("<a href=\"{}\"{title}>", escape::html(&escape::url(&href)))));
                    }
                }
                Event::End(TagEnd::Link) => {
                    if links.pop() == Some(true) {
                        out.push(html("</a>".to_owned()));
                    }
                }
                Event::Start(Tag::Table(_) | Tag::TableHead | Tag::TableRow | Tag::TableCell)
                | Event::End(TagEnd::Table | TagEnd::TableHead | TagEnd::TableRow | TagEnd::TableCell) => {
                    if matches!(event, Event::Start(Tag::Table(_))) {
                        self.tables += 1;
                    }
                    out.push(html(table.piece(event, || self.table_label())));
                }
                Event::Start(Tag::FootnoteDefinition(label)) => {
                    let end = (at..events.len())
                        .find(|at| matches!(events[*at].0, Event::End(TagEnd::FootnoteDefinition)))
                        .unwrap_or(events.len());
                    let note = self.blocks(&events[at..end]);
                    self.footnotes.notes.push((label.to_lowercase(), note.trim_end().to_owned()));
                    at = end + 1;
                }
                Event::FootnoteReference(label) => out.push(html(self.reference(label))),
                Event::TaskListMarker(done) => {
                    let word = escape::html(&self.surroundings.word(if *done { "done" } else { "not-done" }));
                    let checked = if *done { " checked" } else { "" };
                    out.push(html(format!("<input type=\"checkbox\" disabled aria-label=\"{word}\"{checked}> ")));
                }
                Event::Text(words) => self.words(words, range, &mut out),
                other if self.inside_cut(range) => {
                    // The inside of a mark: its words are replaced as a whole.
                    debug_assert!(!matches!(other, Event::Start(Tag::Paragraph)));
                }
                other => out.push(other.clone()),
            }
        }
        out
    }

    /// Whether a piece of markup lies inside something that is replaced.
    fn inside_cut(&self, range: &Range<usize>) -> bool {
        let at = self.cuts.partition_point(|cut| (cut.span.end as usize) < range.end);
        self.cuts.get(at).is_some_and(|cut| (cut.span.start as usize) < range.start && range.end < cut.span.end as usize)
    }

    /// Text, with what marks say in their place.
    fn words<'e>(&self, words: &CowStr<'e>, range: &Range<usize>, out: &mut Vec<Event<'e>>) {
        let first = self.cuts.partition_point(|cut| cut.span.end as usize <= range.start);
        let touching = self.cuts[first..].iter().take_while(|cut| (cut.span.start as usize) < range.end);
        let exact = self.text.get(range.clone()) == Some(words.as_ref());
        let mut from = range.start;
        let mut any = false;
        for cut in touching {
            any = true;
            let (start, end) = (cut.span.start as usize, cut.span.end as usize);
            if !exact {
                // An entity or the like; it belongs to the mark or it does not.
                if start <= range.start && range.end <= end {
                    return;
                }
                continue;
            }
            if start >= from {
                let before = self.text.get(from..start).unwrap_or_default();
                let before = if cut.html.is_empty() { before.trim_end() } else { before };
                if !before.is_empty() {
                    out.push(Event::Text(CowStr::from(before.to_owned())));
                }
                out.push(html(cut.html.clone()));
            }
            from = end.max(from);
        }
        if !any || !exact {
            out.push(Event::Text(words.clone()));
        } else if from < range.end {
            let rest = self.text.get(from..range.end).unwrap_or_default();
            out.push(Event::Text(CowStr::from(rest.to_owned())));
        }
    }

    fn table_label(&self) -> String {
        let word = self.surroundings.word("table");
        let of = self.footnotes.prefix.trim_end_matches('-');
        let label = if of.is_empty() { format!("{word} {}", self.tables) } else { format!("{word} {} ({of})", self.tables) };
        escape::html(&label)
    }

    fn reference(&mut self, label: &str) -> String {
        // Markdown reads `[^A]` and `[^a]` as one name.
        let label = label.to_lowercase();
        let at = self.footnotes.places.get(&label).copied().unwrap_or_else(|| {
            let at = self.footnotes.order.len();
            self.footnotes.order.push((label.clone(), 0));
            self.footnotes.places.insert(label, at);
            at
        });
        let number = at + 1;
        let count = self.footnotes.order.get_mut(at).map_or(1, |(_, count)| {
            *count += 1;
            *count
        });
        let prefix = &self.footnotes.prefix;
        format!("<sup class=\"footnote\"><a href=\"#{prefix}fn-{number}\" id=\"{prefix}fnref-{number}-{count}\">{number}</a></sup>")
    }
}

fn html<'e>(text: String) -> Event<'e> {
    Event::Html(CowStr::from(text))
}

/// Whether the paragraph that begins before `at` holds one picture and nothing else.
fn alone(events: &[Placed<'_>], at: usize) -> bool {
    if !matches!(events.get(at), Some((Event::Start(Tag::Image { .. }), _))) {
        return false;
    }
    let end = (at..events.len()).find(|at| matches!(events[*at].0, Event::End(TagEnd::Image)));
    end.is_some_and(|end| matches!(events.get(end + 1), Some((Event::End(TagEnd::Paragraph), _))))
}

/// The plain text up to an end tag, and the index past it.
fn text_until(events: &[Placed<'_>], from: usize, end: TagEnd) -> (String, usize) {
    let mut text = String::new();
    for (at, (event, _)) in events.iter().enumerate().skip(from) {
        match event {
            Event::End(tag) if *tag == end => return (text, at + 1),
            Event::Text(words) | Event::Code(words) | Event::InlineHtml(words) | Event::Html(words) => text.push_str(words),
            Event::SoftBreak | Event::HardBreak => text.push(' '),
            _ => {}
        }
    }
    (text, events.len())
}

fn code_block(kind: &CodeBlockKind<'_>, code: &str) -> String {
    let info = match kind {
        CodeBlockKind::Fenced(info) => info.split([' ', ',', '\t']).next().unwrap_or_default(),
        CodeBlockKind::Indented => "",
    };
    let inner = highlight::highlight(code, info).unwrap_or_else(|| escape::html(code));
    if info.is_empty() {
        format!("<pre tabindex=\"0\"><code>{inner}</code></pre>\n")
    } else {
        format!("<pre tabindex=\"0\"><code class=\"language-{}\">{inner}</code></pre>\n", escape::html(info))
    }
}

/// Words that stand in no paragraph of their own are put into one.
fn wrap_loose<'e>(events: &'e [Placed<'_>]) -> Vec<Placed<'e>> {
    let mut out: Vec<Placed<'e>> = Vec::with_capacity(events.len() + 2);
    let mut depth = 0_usize;
    let mut open = false;
    for (event, range) in events {
        let block = matches!(
            event,
            Event::Start(
                Tag::Paragraph
                    | Tag::Heading { .. }
                    | Tag::BlockQuote(_)
                    | Tag::CodeBlock(_)
                    | Tag::HtmlBlock
                    | Tag::List(_)
                    | Tag::Table(_)
                    | Tag::FootnoteDefinition(_)
                    | Tag::Item
            ) | Event::Rule
        );
        if depth == 0 {
            if open && block {
                out.push((Event::End(TagEnd::Paragraph), range.start..range.start));
                open = false;
            }
            if !open && !block && !matches!(event, Event::End(_)) {
                out.push((Event::Start(Tag::Paragraph), range.start..range.start));
                open = true;
            }
        }
        match event {
            Event::Start(_) => depth += 1,
            Event::End(_) => depth = depth.saturating_sub(1),
            _ => {}
        }
        out.push((event.clone(), range.clone()));
    }
    if open {
        let end = events.last().map_or(0, |(_, range)| range.end);
        out.push((Event::End(TagEnd::Paragraph), end..end));
    }
    out
}

/// A table, piece by piece.
#[derive(Default)]
struct Table {
    alignments: Vec<Alignment>,
    column: usize,
    head: bool,
}

impl Table {
    fn piece(&mut self, event: &Event<'_>, label: impl Fn() -> String) -> String {
        match event {
            Event::Start(Tag::Table(alignments)) => {
                self.alignments.clone_from(alignments);
                format!("<section class=\"scroll\" tabindex=\"0\" aria-label=\"{}\"><table>\n", label())
            }
            Event::End(TagEnd::Table) => "</tbody></table></section>\n".to_owned(),
            Event::Start(Tag::TableHead) => {
                self.head = true;
                self.column = 0;
                "<thead><tr>".to_owned()
            }
            Event::End(TagEnd::TableHead) => {
                self.head = false;
                "</tr></thead>\n<tbody>".to_owned()
            }
            Event::Start(Tag::TableRow) => {
                self.column = 0;
                "<tr>".to_owned()
            }
            Event::End(TagEnd::TableRow) => "</tr>\n".to_owned(),
            Event::Start(Tag::TableCell) => {
                let class = match self.alignments.get(self.column) {
                    Some(Alignment::Right) => " class=\"right\"",
                    Some(Alignment::Center) => " class=\"centre\"",
                    _ => "",
                };
                self.column += 1;
                if self.head { format!("<th scope=\"col\"{class}>") } else { format!("<td{class}>") }
            }
            Event::End(TagEnd::TableCell) => if self.head { "</th>" } else { "</td>" }.to_owned(),
            _ => String::new(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::markdown;

    /// Leads nowhere and shows no pictures.
    struct Nothing;

    impl Surroundings for Nothing {
        fn link(&self, _: &str) -> LinkTo {
            LinkTo::Words
        }

        fn picture(&self, _: &str, _: &str, _: &str, _: bool) -> String {
            String::new()
        }

        fn word(&self, name: &str) -> String {
            name.to_owned()
        }
    }

    #[test]
    fn a_footnote_is_found_by_its_name_in_small_letters_and_capitals() {
        let text = "See.[^A] And that.[^a]\n\n[^a]: One.\n";
        let mut renderer = Renderer::new(text, &[], &Nothing, 2, "");
        let body = renderer.blocks(&markdown::parse(text, Span::new(0, text.len())));
        assert!(body.contains("href=\"#fn-1\" id=\"fnref-1-1\"") && body.contains("href=\"#fn-1\" id=\"fnref-1-2\""), "{body}");
        assert_eq!(
            renderer.footnotes(),
            "<ol class=\"footnotes\">\n<li id=\"fn-1\" value=\"1\"><p>One.</p> <a href=\"#fnref-1-1\" aria-label=\"back 1\">↩</a> \
             <a href=\"#fnref-1-2\" aria-label=\"back 1\">↩</a></li>\n</ol>\n"
        );
    }
}
