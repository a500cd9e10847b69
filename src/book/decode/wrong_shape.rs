//! Telling that a list, a map or a single value stands where something else is needed.

use super::scalar::{Spot, tick};
use crate::book::date::parse_book_date;
use crate::book::diagnostic::Notes;
use crate::book::id::id_of;
use crate::book::keys::{KeySpec, Shape, Table};
use crate::book::node::{Kind, Node};
use crate::quantity::CalendarSpan;

/// Notes that the value has another shape than its key asks for.
pub(super) fn wrong_shape(notes: &mut Notes<'_>, spot: Spot<'_, '_>) {
    let what = if spot.in_list { format!("an item of {}", tick(spot.key)) } else { tick(spot.key) };
    let message = format!("{what} needs {}, and {} stands here", spot.shape.needs(), spot.node.describe());
    let remedy = remedy(notes, spot);
    notes.error("wrong-shape", spot.span(), message, remedy);
}

fn remedy(notes: &Notes<'_>, spot: Spot<'_, '_>) -> String {
    let key = spot.key;
    let like = |value: &str| format!("write {}", tick(&format!("{key}: {value}")));
    match (&spot.node.kind, spot.shape) {
        (Kind::Scalar { text, .. }, Shape::Intervals) if CalendarSpan::parse(text).is_ok() => like(&format!("{{calendar: {text}}}")),
        (Kind::Scalar { text, plain: true }, shape) if is_map(shape) && colon_without_space(text) => {
            format!("put a space after the colon: {}", tick(&text.replacen(':', ": ", 1)))
        }
        (Kind::Scalar { text, .. }, Shape::Record(table) | Shape::Records(table)) => {
            let (record, choices) = record_of(table, text);
            let written = match spot.shape {
                Shape::Record(_) if spot.in_list => format!("write {} in its place", tick(&record)),
                Shape::Record(_) => like(&record),
                _ => like(&format!("[{record}]")),
            };
            format!("{written}{choices}")
        }
        (Kind::Scalar { text, .. }, shape) if is_list(shape) => like(&format!("[{text}]")),
        (Kind::Map(_), Shape::Records(_) | Shape::RecordsOrWords(_)) => {
            "begin each of them with a hyphen, `- `, also if there is only one".to_owned()
        }
        (Kind::Map(pairs), Shape::Text | Shape::RefOrWords | Shape::Ref) if pairs.len() == 1 && !in_braces(notes, spot.node) => {
            let written = notes.source().slice(spot.node.span).trim().to_owned();
            format!("a text with `: ` in it goes in quotes: {}", tick(&format!("\"{}\"", written.replace('"', "'"))))
        }
        (Kind::List(items), Shape::Record(_)) if items.len() == 1 => {
            "take the hyphen or the brackets out: only one can stand here".to_owned()
        }
        _ if spot.in_list => format!("write {} in its place, such as {}", spot.shape.needs(), tick(spot.shape.example())),
        _ => like(spot.shape.example()),
    }
}

fn is_list(shape: Shape) -> bool {
    matches!(
        shape,
        Shape::Texts
            | Shape::Refs
            | Shape::RefsOrWords
            | Shape::Choices(_)
            | Shape::Measures(_)
            | Shape::Jobs
            | Shape::Findings
            | Shape::KeyNames
            | Shape::PrivateKeyNames
    )
}

fn is_map(shape: Shape) -> bool {
    matches!(
        shape,
        Shape::Intervals
            | Shape::NamedFigures
            | Shape::Names
            | Shape::Named(_)
            | Shape::MeterValues
            | Shape::MeterMeasures
            | Shape::ReadingValues
            | Shape::Record(_)
    )
}

fn colon_without_space(text: &str) -> bool {
    text.split_once(':').is_some_and(|(name, rest)| !name.is_empty() && !rest.is_empty() && !rest.starts_with([' ', '/']))
}

fn in_braces(notes: &Notes<'_>, node: &Node<'_>) -> bool {
    notes.source().slice(node.span).starts_with('{')
}

/// How a word that stands where a record is needed is written as one, with all that the record needs, and which words
/// there are to choose from. What the word does not tell is left open, so that no example is taken for the right one.
fn record_of(table: &'static Table, text: &str) -> (String, String) {
    let required: Vec<&KeySpec> = table.keys.iter().filter(|key| key.required).collect();
    let titled = required.iter().any(|key| key.name == "title");
    let home = required.iter().position(|key| may_be(key.shape, text));
    let mut choices = String::new();
    let mut pairs = Vec::new();
    for (at, key) in required.iter().enumerate() {
        let value = match key.shape {
            Shape::Id if titled => Some(id_of(text)).filter(|id| !id.is_empty()).unwrap_or_else(|| "…".to_owned()),
            _ if Some(at) == home || key.name == "title" => in_braces_too(text),
            Shape::Choice(words) => {
                let words = words.iter().map(|word| tick(word)).collect::<Vec<_>>().join(", ");
                choices = format!(", with one of {words} as {}", tick(key.name));
                "…".to_owned()
            }
            _ => "…".to_owned(),
        };
        pairs.push(format!("{}: {value}", key.name));
    }
    let record = if pairs.is_empty() { Shape::Record(table).example().to_owned() } else { format!("{{{}}}", pairs.join(", ")) };
    (record, choices)
}

/// Whether a text may have been meant as a value of this shape.
fn may_be(shape: Shape, text: &str) -> bool {
    let is_day = parse_book_date(text).is_ok();
    match shape {
        Shape::Day | Shape::LogDay => is_day,
        Shape::Amount => !is_day && text.starts_with(|first: char| first.is_ascii_digit()),
        Shape::Choice(words) => words.contains(&text),
        _ => true,
    }
}

/// A text as it may stand in braces.
fn in_braces_too(text: &str) -> String {
    if text.contains([',', ':', '#', '[', ']', '{', '}', '"']) { format!("\"{}\"", text.replace('"', "'")) } else { text.to_owned() }
}
