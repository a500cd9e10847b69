//! Telling that a list, a map or a single value stands where something else is needed.

use super::scalar::{Spot, tick};
use crate::book::diagnostic::Notes;
use crate::book::keys::{Shape, Table};
use crate::book::node::{Kind, Node};
use crate::quantity::CalendarSpan;

/// Notes that the value has another shape than its key asks for.
pub(super) fn wrong_shape(notes: &mut Notes<'_>, spot: Spot<'_, '_>) {
    let message = format!("{} needs {}, and {} stands here", tick(spot.key), spot.shape.needs(), spot.node.describe());
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
        (Kind::Scalar { text, .. }, Shape::Record(table) | Shape::Records(table)) => match first_required(table) {
            Some(first) if matches!(spot.shape, Shape::Record(_)) => like(&format!("{{{first}: {text}}}")),
            Some(first) => like(&format!("[{{{first}: {text}}}]")),
            None => like(spot.shape.example()),
        },
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

fn first_required(table: &Table) -> Option<&'static str> {
    table.keys.iter().find(|key| key.required).map(|key| key.name)
}
