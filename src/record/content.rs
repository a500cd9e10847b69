//! What the record says of an entry: its public keys as the crew wrote them, and its notes.

use super::pictures::{Hashes, paths};
use crate::book::markdown;
use crate::book::model::{Before, Book, Entry, Finding, JobRef, MeterValue, PartUse, ReadingValue, Renewal, When};
use crate::book::private::without_tags;
use crate::book::source::Span;
use crate::quantity::Money;
use pulldown_cmark::{Event, Tag, TagEnd};
use serde_json::{Map, Value};
use std::borrow::Cow;
use unicode_normalization::{IsNormalized, UnicodeNormalization, is_nfc_quick};

/// Keys with what they say, in the order of the alphabet. What is empty is left out, so that a key that is
/// added to the format some day changes no fingerprint of today.
#[derive(Debug, Default)]
pub struct Content<'b>(Vec<(&'static str, Said<'b>)>);

/// What a key says; texts in NFC.
#[derive(Debug)]
pub enum Said<'b> {
    Text(Cow<'b, str>),
    True,
    List(Vec<Said<'b>>),
    Object(Content<'b>),
}

impl<'b> Content<'b> {
    /// What a key says. `None`: nothing.
    #[must_use]
    pub fn get(&self, key: &str) -> Option<&Said<'b>> {
        self.pairs().find(|(known, _)| *known == key).map(|(_, said)| said)
    }

    /// Every key with what it says, in the order of the alphabet.
    pub fn pairs(&self) -> impl Iterator<Item = (&'static str, &Said<'b>)> {
        self.0.iter().map(|(key, said)| (*key, said))
    }

    /// The same as JSON.
    #[must_use]
    pub fn into_map(self) -> Map<String, Value> {
        self.0.into_iter().map(|(key, said)| (key.to_owned(), said.into_value())).collect()
    }

    fn put(mut self, key: &'static str, said: Option<Said<'b>>) -> Self {
        self.0.extend(said.map(|said| (key, said)));
        self
    }

    fn text(self, key: &'static str, text: impl Into<Cow<'b, str>>) -> Self {
        let text = text.into();
        self.put(key, (!text.is_empty()).then(|| Said::Text(normal(text))))
    }

    fn text_if(self, key: &'static str, text: Option<impl Into<Cow<'b, str>>>) -> Self {
        match text {
            Some(text) => self.text(key, text),
            None => self,
        }
    }

    fn list(self, key: &'static str, list: impl Iterator<Item = Said<'b>>) -> Self {
        let list: Vec<Said<'b>> = list.collect();
        self.put(key, (!list.is_empty()).then_some(Said::List(list)))
    }

    fn texts<T: Into<Cow<'b, str>>>(self, key: &'static str, list: impl Iterator<Item = T>) -> Self {
        self.list(key, list.map(|text| Said::Text(normal(text.into()))))
    }

    fn flag(self, key: &'static str, is: bool) -> Self {
        self.put(key, is.then_some(Said::True))
    }
}

impl Said<'_> {
    fn into_value(self) -> Value {
        match self {
            Self::Text(text) => Value::String(text.into_owned()),
            Self::True => Value::Bool(true),
            Self::List(list) => Value::Array(list.into_iter().map(Said::into_value).collect()),
            Self::Object(content) => Value::Object(content.into_map()),
        }
    }
}

/// Composed (Unicode NFC): the same words typed on another machine are the same text.
pub(super) fn normal(text: Cow<'_, str>) -> Cow<'_, str> {
    if text.is_ascii() || is_nfc_quick(text.chars()) == IsNormalized::Yes { text } else { Cow::Owned(text.nfc().collect()) }
}

/// What an entry of the public book says. `notes` are [those](notes) of the entry.
pub(super) fn of<'b>(book: &'b Book, entry: &'b Entry, notes: Cow<'b, str>, pictures: &'b Hashes) -> Content<'b> {
    let started = match &entry.when {
        When::Finished { started, .. } => Some(started.to_string()),
        When::On(_) | When::Open { .. } => None,
    };
    let shown = paths(book, entry).into_iter().map(|path| pictures.get(&path).map_or("missing", String::as_str));
    let kept = entry.kept();
    let costs =
        kept.costs.iter().map(|cost| Said::Object(Content::default().text("cost", cost.cost.to_string()).text("what", cost.what.as_str())));
    Content(Vec::with_capacity(16))
        .text_if("basis", entry.basis.map(|basis| basis.word()))
        .texts("by", kept.by.iter().map(String::as_str))
        .texts("clears", entry.clears.iter().map(|one| format!("{}/{}", one.entry, one.number)))
        .list("costs", costs)
        .text("date", entry.when.day().to_string())
        .text_if("done-by", entry.done_by.map(|by| by.word()))
        .text("entry", entry.id.as_str())
        .texts("except", entry.except.iter().map(String::as_str))
        .list("findings", entry.findings.iter().map(finding))
        .list("fitted", entry.fitted.iter().enumerate().map(|(at, one)| renewal(one, kept.serial_of(at))))
        .texts("gear", entry.gear.iter().map(|name| name.value.as_str()))
        .texts("jobs", entry.jobs.iter().map(job))
        .texts("left", entry.left.iter().map(String::as_str))
        .list("meters", entry.meters.iter().map(|value| meter(book, value)))
        .text("notes", notes)
        .flag("open", entry.when.is_open())
        .flag("paper-on-file", entry.paper_on_file)
        .texts("papers", kept.papers.iter().map(|name| name.value.as_str()))
        .list("parts", entry.parts.iter().enumerate().map(|(at, one)| part(one, kept.cost_of(at))))
        .texts("pictures", shown)
        .text_if("place", kept.place.as_deref())
        .text_if("reached", entry.reached.as_ref().map(|reached| reached.value.as_str()))
        .list("readings", entry.readings.iter().map(reading))
        .text_if("started", started)
        .text_if("system", entry.system.as_ref().map(|name| name.value.as_str()))
        .text_if("time", entry.time.map(|time| time.iso8601()))
        .texts("work", entry.work.iter().map(String::as_str))
}

fn job(job: &JobRef) -> Cow<'_, str> {
    match &job.gear {
        Some(gear) => Cow::Owned(format!("{}/{gear}", job.guide)),
        None => Cow::Borrowed(&job.guide),
    }
}

/// A figure without its unit says nothing, so the meter's is put to it.
fn meter<'b>(book: &Book, value: &'b MeterValue) -> Said<'b> {
    let unit = book.boat.meter(&value.meter.value).map(|meter| meter.unit.symbol());
    let (space, unit) = unit.map_or(("", ""), |unit| (" ", unit));
    let about = if value.about { "~" } else { "" };
    let written = format!("{about}{}{space}{unit}", value.value.written());
    Said::Object(Content::default().text("meter", value.meter.value.as_str()).text("value", written))
}

fn part<'b>(part: &'b PartUse, cost: Option<&Money>) -> Said<'b> {
    let content = Content::default()
        .text_if("cost", cost.map(ToString::to_string))
        .text("item", part.item.value.as_str())
        .text_if("qty", part.amount.as_ref().map(|amount| amount.written()));
    Said::Object(content)
}

fn reading(value: &ReadingValue) -> Said<'_> {
    let content = Content::default()
        .text_if("point", value.point.as_deref())
        .text("reading", value.reading.value.as_str())
        .text("value", value.value.written());
    Said::Object(content)
}

fn finding(finding: &Finding) -> Said<'_> {
    let before = finding.before.as_ref().map(|before| match before {
        Before::Month(month) => Cow::Owned(until(month)),
        Before::Occasion(name) => Cow::Borrowed(name.value.as_str()),
    });
    let content = Content::default()
        .text_if("before", before)
        .text_if("gear", finding.gear.as_ref().map(|name| name.value.as_str()))
        .text("grade", finding.grade.word())
        .text_if("guide", finding.guide.as_ref().map(|name| name.value.as_str()))
        .text_if("limits-use", finding.limits_use.as_deref())
        .text("what", finding.what.as_str());
    Said::Object(content)
}

fn renewal<'b>(renewal: &'b Renewal, serial: Option<&'b str>) -> Said<'b> {
    let content = Content::default()
        .text_if("expires", renewal.expires.as_ref().map(until))
        .text("gear", renewal.gear.value.as_str())
        .text_if("serial", serial);
    Said::Object(content)
}

fn until(month: &crate::book::date::Month) -> String {
    if month.month_only { format!("{:04}-{:02}", month.last_day.year(), month.last_day.month()) } else { month.last_day.to_string() }
}

/// The words of the notes, line by line, in NFC. Where links and pictures lead is left out, for it may name an
/// entry that is private, and so are comments. White space is tidied, so that a private passage leaves no gap by
/// which the fingerprint would tell of it.
pub(super) fn notes(entry: &Entry) -> Cow<'_, str> {
    let text = without_tags(entry.source.slice(entry.body));
    let mut words = String::with_capacity(text.len());
    let mut in_comment = false;
    for (event, _) in markdown::parse(&text, Span::new(0, text.len())) {
        match event {
            Event::Text(text) | Event::Code(text) => words.push_str(&text),
            // Pages show HTML as it is written, so a change of it is a change of what can be read.
            Event::Html(text) | Event::InlineHtml(text) => push_uncommented(&text, &mut words, &mut in_comment),
            Event::TaskListMarker(done) => words.push_str(if done { "[x] " } else { "[ ] " }),
            Event::End(TagEnd::TableCell) => words.push(' '),
            // Within a paragraph or between two: a passage that was cut out may have made one of the other.
            Event::SoftBreak | Event::HardBreak | Event::Rule => words.push('\n'),
            Event::Start(tag) if !is_inline(&tag) => words.push('\n'),
            _ => {}
        }
    }
    let mut tidy = String::with_capacity(words.len());
    for line in words.lines() {
        for (at, word) in line.split_whitespace().enumerate() {
            if !tidy.is_empty() {
                tidy.push(if at == 0 { '\n' } else { ' ' });
            }
            tidy.push_str(word);
        }
    }
    let written = written_notes(entry);
    normal(if tidy == written { Cow::Borrowed(written) } else { Cow::Owned(tidy) })
}

/// Appends HTML without its comments; `inside`: it begins in one that an earlier line opened.
fn push_uncommented(html: &str, words: &mut String, inside: &mut bool) {
    let mut rest = html;
    while !rest.is_empty() {
        if *inside {
            let Some((_, after)) = rest.split_once("-->") else { return };
            (rest, *inside) = (after, false);
        } else {
            let Some((before, after)) = rest.split_once("<!--") else { return words.push_str(rest) };
            words.push_str(before);
            (rest, *inside) = (after, true);
        }
    }
}

/// The notes as they stand in the file, without blanks round them.
pub(super) fn written_notes(entry: &Entry) -> &str {
    entry.source.slice(entry.body).trim()
}

fn is_inline(tag: &Tag<'_>) -> bool {
    matches!(tag, Tag::Emphasis | Tag::Strong | Tag::Strikethrough | Tag::Link { .. } | Tag::Image { .. } | Tag::TableCell)
}
