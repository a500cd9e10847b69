//! What the record says of an entry: its public keys as the crew wrote them, and its notes.

use super::pictures::{Hashes, paths};
use crate::book::date::{BookDate, Precision};
use crate::book::markdown;
use crate::book::model::{Before, Book, Entry, Finding, MeterValue, PartUse, ReadingValue, Renewal, When};
use crate::book::private::without_tags;
use crate::book::source::Span;
use crate::quantity::Money;
use pulldown_cmark::{Event, Tag, TagEnd};
use serde_json::{Map, Value};
use unicode_normalization::{IsNormalized, UnicodeNormalization, is_nfc_quick};

/// An object that leaves out what is empty, so that a key that is added to the format some day changes
/// no fingerprint of today.
#[derive(Default)]
struct Object(Map<String, Value>);

impl Object {
    fn text(mut self, key: &str, text: impl Into<Option<String>>) -> Self {
        if let Some(text) = text.into().filter(|text| !text.is_empty()) {
            self.0.insert(key.to_owned(), Value::String(normal(&text)));
        }
        self
    }

    fn list(mut self, key: &str, list: impl IntoIterator<Item = Value>) -> Self {
        let list: Vec<Value> = list.into_iter().collect();
        if !list.is_empty() {
            self.0.insert(key.to_owned(), Value::Array(list));
        }
        self
    }

    fn texts<'t>(self, key: &str, list: impl IntoIterator<Item = &'t str>) -> Self {
        self.list(key, list.into_iter().map(|text| Value::String(normal(text))))
    }

    fn flag(mut self, key: &str, is: bool) -> Self {
        if is {
            self.0.insert(key.to_owned(), Value::Bool(true));
        }
        self
    }

    fn value(self) -> Value {
        Value::Object(self.0)
    }
}

/// Composed (Unicode NFC): the same words typed on another machine are the same text.
fn normal(text: &str) -> String {
    if is_nfc_quick(text.chars()) == IsNormalized::Yes { text.to_owned() } else { text.nfc().collect() }
}

/// What an entry of the public book says. Keys in the order of the alphabet.
pub(super) fn of(book: &Book, entry: &Entry, pictures: &Hashes) -> Map<String, Value> {
    let started = match &entry.when {
        When::Finished { started, .. } => Some(day(started)),
        When::On(_) | When::Open { .. } => None,
    };
    let shown = paths(book, entry).into_iter().map(|path| pictures.get(&path).map_or("missing", String::as_str).to_owned());
    let kept = entry.kept();
    let costs = kept.costs.iter().map(|cost| Object::default().text("cost", cost.cost.to_string()).text("what", cost.what.clone()).value());
    let left = entry.left.iter().map(String::as_str);
    Object::default()
        .text("basis", entry.basis.map(|basis| basis.word().to_owned()))
        .texts("by", kept.by.iter().map(String::as_str))
        .list("clears", entry.clears.iter().map(|one| Value::String(normal(&format!("{}/{}", one.entry, one.number)))))
        .list("costs", costs)
        .text("date", day(entry.when.day()))
        .text("done-by", entry.done_by.map(|by| by.word().to_owned()))
        .text("entry", entry.id.clone())
        .texts("except", entry.except.iter().map(String::as_str))
        .list("findings", entry.findings.iter().map(finding))
        .list("fitted", entry.fitted.iter().enumerate().map(|(at, one)| renewal(one, kept.serial_of(at))))
        .texts("gear", entry.gear.iter().map(|name| name.value.as_str()))
        .list("jobs", entry.jobs.iter().map(job))
        .texts("left", left)
        .list("meters", entry.meters.iter().map(|value| meter(book, value)))
        .text("notes", notes(entry))
        .flag("open", entry.when.is_open())
        .flag("paper-on-file", entry.paper_on_file)
        .texts("papers", kept.papers.iter().map(|name| name.value.as_str()))
        .list("parts", entry.parts.iter().enumerate().map(|(at, one)| part(one, kept.cost_of(at))))
        .list("pictures", shown.map(Value::String))
        .text("place", kept.place.clone())
        .text("reached", entry.reached.as_ref().map(|reached| reached.value.clone()))
        .list("readings", entry.readings.iter().map(reading))
        .text("started", started)
        .text("system", entry.system.as_ref().map(|name| name.value.clone()))
        .text("time", entry.time.map(|time| time.iso8601()))
        .texts("work", entry.work.iter().map(String::as_str))
        .0
}

/// As the book writes it: `2026-03-14`, `~2021-05`.
pub(super) fn day(date: &BookDate) -> String {
    let (year, month) = (date.date.year(), date.date.month());
    let day = match date.precision {
        Precision::Day => date.date.to_string(),
        Precision::Month => format!("{year:04}-{month:02}"),
        Precision::Year => format!("{year:04}"),
    };
    if date.about { format!("~{day}") } else { day }
}

fn job(job: &crate::book::model::JobRef) -> Value {
    let gear = job.gear.as_ref().map(|gear| format!("/{gear}")).unwrap_or_default();
    Value::String(normal(&format!("{}{gear}", job.guide)))
}

/// A figure without its unit says nothing, so the meter's is put to it.
fn meter(book: &Book, value: &MeterValue) -> Value {
    let unit = book.boat.meter(&value.meter.value).map(|meter| format!(" {}", meter.unit.symbol())).unwrap_or_default();
    let about = if value.about { "~" } else { "" };
    let written = format!("{about}{}{unit}", value.value.written());
    Object::default().text("meter", value.meter.value.clone()).text("value", written).value()
}

fn part(part: &PartUse, cost: Option<&Money>) -> Value {
    Object::default()
        .text("cost", cost.map(ToString::to_string))
        .text("item", part.item.value.clone())
        .text("qty", part.amount.as_ref().map(|amount| amount.written().to_owned()))
        .value()
}

fn reading(value: &ReadingValue) -> Value {
    Object::default()
        .text("point", value.point.clone())
        .text("reading", value.reading.value.clone())
        .text("value", value.value.written().to_owned())
        .value()
}

fn finding(finding: &Finding) -> Value {
    let before = finding.before.as_ref().map(|before| match before {
        Before::Month(month) => until(month),
        Before::Occasion(name) => name.value.clone(),
    });
    Object::default()
        .text("before", before)
        .text("gear", finding.gear.as_ref().map(|name| name.value.clone()))
        .text("grade", finding.grade.word().to_owned())
        .text("guide", finding.guide.as_ref().map(|name| name.value.clone()))
        .text("limits-use", finding.limits_use.clone())
        .text("what", finding.what.clone())
        .value()
}

fn renewal(renewal: &Renewal, serial: Option<&str>) -> Value {
    Object::default()
        .text("expires", renewal.expires.as_ref().map(until))
        .text("gear", renewal.gear.value.clone())
        .text("serial", serial.map(str::to_owned))
        .value()
}

fn until(month: &crate::book::date::Month) -> String {
    if month.month_only { format!("{:04}-{:02}", month.last_day.year(), month.last_day.month()) } else { month.last_day.to_string() }
}

/// The words of the notes, line by line. Where links and pictures lead is left out, for it may name an entry
/// that is private, and so are comments. White space is tidied, so that a private passage leaves no gap by
/// which the fingerprint would tell of it.
fn notes(entry: &Entry) -> String {
    let text = without_tags(entry.source.slice(entry.body));
    let mut words = String::new();
    for (event, _) in markdown::parse(&text, Span::new(0, text.len())) {
        match event {
            Event::Text(text) | Event::Code(text) => words.push_str(&text),
            Event::TaskListMarker(done) => words.push_str(if done { "[x] " } else { "[ ] " }),
            Event::End(TagEnd::TableCell) => words.push(' '),
            // Within a paragraph or between two: a passage that was cut out may have made one of the other.
            Event::SoftBreak | Event::HardBreak | Event::Rule => words.push('\n'),
            Event::Start(tag) if !is_inline(&tag) => words.push('\n'),
            _ => {}
        }
    }
    let lines = words.lines().map(|line| line.split_whitespace().collect::<Vec<_>>().join(" "));
    lines.filter(|line| !line.is_empty()).collect::<Vec<_>>().join("\n")
}

fn is_inline(tag: &Tag<'_>) -> bool {
    matches!(tag, Tag::Emphasis | Tag::Strong | Tag::Strikethrough | Tag::Link { .. } | Tag::Image { .. } | Tag::TableCell)
}
