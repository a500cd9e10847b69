//! The plain words of a step, with the figures its marks name.

use crate::book::id::id_of;
use crate::book::markdown;
use crate::book::model::{Book, Guide, ValueFigure};
use crate::book::outline::{MarkKind, Step};
use crate::book::source::Span;
use crate::site::in_sentence;
use pulldown_cmark::{Event, Tag, TagEnd};

/// Words of a step without its cautions and pictures; a `{name}` is what it stands for, other marks are
/// left out.
pub(super) fn step_words(book: &Book, guide: &Guide, step: &Step) -> String {
    let text = filled(book, guide, step);
    let mut words = String::new();
    // Quotes and pictures are cautions and what the eye must see.
    let mut skipped = 0_usize;
    // Since the last words an item of a list has ended, and another has begun.
    let (mut ended, mut next) = (false, false);
    for (event, _) in markdown::parse(&text, Span::new(0, text.len())) {
        match event {
            Event::Start(Tag::BlockQuote(_) | Tag::Image { .. } | Tag::Table(_) | Tag::CodeBlock(_)) => skipped += 1,
            Event::End(TagEnd::BlockQuote(_) | TagEnd::Image | TagEnd::Table | TagEnd::CodeBlock) => skipped = skipped.saturating_sub(1),
            _ if skipped > 0 => {}
            Event::Text(part) | Event::Code(part) => {
                if std::mem::take(&mut next) {
                    words.truncate(words.trim_end().len());
                    words.push_str(if words.ends_with([',', ';', ':', '.', '!', '?']) { " " } else { ", " });
                }
                ended = false;
                words.push_str(&part);
            }
            Event::InlineHtml(tag) if !tag.to_ascii_lowercase().starts_with("<br") => {}
            Event::Start(Tag::Item) => next = ended,
            Event::End(TagEnd::Item) => ended = true,
            Event::Start(Tag::Paragraph | Tag::List(_) | Tag::Heading { .. })
            | Event::End(TagEnd::Paragraph | TagEnd::List(_) | TagEnd::Heading(_))
            | Event::SoftBreak
            | Event::HardBreak
            | Event::InlineHtml(_)
            | Event::Html(_) => words.push(' '),
            _ => {}
        }
    }
    words.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The Markdown of a step with plain words in the place of its marks.
fn filled(book: &Book, guide: &Guide, step: &Step) -> String {
    let whole = guide.source.text();
    let end = step.span.end as usize;
    let mut at = step.span.start as usize;
    let mut text = String::new();
    for mark in step.marks.iter().filter(|mark| mark.span.start >= step.span.start && mark.span.end <= step.span.end) {
        text.push_str(whole.get(at..mark.span.start as usize).unwrap_or_default());
        if let MarkKind::Name(id) = &mark.kind {
            text.push_str(&named(book, guide, id));
        }
        at = mark.span.end as usize;
    }
    text.push_str(whole.get(at..end).unwrap_or_default());
    text
}

/// What a `{name}` stands for, as written.
fn named(book: &Book, guide: &Guide, id: &str) -> String {
    if let Some(torque) = guide.torques.iter().find(|torque| torque.id == id) {
        return format!("{} {}", torque.at, torque.value);
    }
    if let Some(value) = guide.values.iter().find(|value| value.id == id) {
        return match &value.figure {
            ValueFigure::Figure(figure) => figure.to_string(),
            ValueFigure::Duration(time) => time.to_string(),
            ValueFigure::Calendar(span) => span.to_string(),
            ValueFigure::Words(words) => words.clone(),
        };
    }
    if let Some(reading) = guide.readings.iter().find(|reading| reading.id == id) {
        return reading.name.clone();
    }
    let part = guide.parts.iter().map(|part| &part.item.value).find(|item| id_of(item) == id);
    if let Some(item) = part {
        return in_sentence(&book.boat, book.store(item).map_or(item.as_str(), |item| item.title.as_str()));
    }
    let tool = guide.tools.iter().map(|tool| &tool.value).find(|tool| id_of(tool) == id);
    if let Some(tool) = tool {
        return in_sentence(&book.boat, book.tool(tool).map_or(tool.as_str(), |tool| tool.title.as_str()));
    }
    id.replace('-', " ")
}
