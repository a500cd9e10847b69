//! The schema of one value, by its shape.

use super::patterns;
use crate::book::keys::{KeySpec, Shape, Table, all_names, private_names};
use crate::book::keys::{Withholding, withholding};
use crate::quantity::Unit;
use serde_json::{Value, json};
use std::collections::BTreeSet;

/// Under what name a record stands among the definitions; the parts of a guide and of an entry never
/// meet in one file.
pub(super) fn record_name(table: &Table) -> String {
    table.name.replace(' ', "-")
}

/// Adds the sentence for the crew, and how the value is written.
pub(super) fn described(schema: Value, key: &KeySpec) -> Value {
    let mut described = serde_json::Map::new();
    let private = if key.private { " A public edition leaves it out." } else { "" };
    described.insert("description".to_owned(), json!(format!("{}{private}", key.doc)));
    if let Value::Object(schema) = schema {
        described.extend(schema);
    }
    if let Some(example) = example(key.shape) {
        described.insert("examples".to_owned(), json!([example]));
    }
    Value::Object(described)
}

/// How it is written, where that is one value whose spelling is not plain.
fn example(shape: Shape) -> Option<&'static str> {
    match shape {
        Shape::Day
        | Shape::LogDay
        | Shape::MonthOrDay
        | Shape::MonthOrOccasion
        | Shape::Share
        | Shape::Money
        | Shape::Fastener
        | Shape::Duration
        | Shape::CalendarSpan
        | Shape::Measure(_)
        | Shape::AnyMeasure
        | Shape::Figure(_)
        | Shape::Limits
        | Shape::Amount
        | Shape::WebAddress => Some(shape.example()),
        _ => None,
    }
}

pub(super) fn schema_of(shape: Shape) -> Value {
    match shape {
        Shape::Text | Shape::RefOrWords | Shape::Fastener => scalar(patterns::WORDS),
        Shape::Id | Shape::Ref => scalar(patterns::ID),
        Shape::Flag => json!({"type": ["boolean", "string"], "pattern": patterns::FLAG}),
        Shape::Day => string(&patterns::day()),
        Shape::LogDay => string(&patterns::log_day()),
        Shape::MonthOrDay => string(&patterns::month_or_day()),
        Shape::MonthOrOccasion => string(&patterns::month_or_occasion()),
        Shape::Year => json!({"type": ["integer", "string"], "minimum": 1800, "maximum": 2999, "pattern": patterns::YEAR}),
        Shape::Choice(words) => json!({"enum": words}),
        Shape::Count => json!({"type": ["integer", "string"], "minimum": 1, "maximum": 10_000, "pattern": patterns::COUNT}),
        Shape::Share => string(&patterns::share()),
        Shape::Money => string(&patterns::money()),
        Shape::Duration | Shape::CalendarSpan | Shape::Measure(_) | Shape::AnyMeasure => string(&patterns::measure()),
        // The list is for completing; other spellings are read too.
        Shape::Unit => json!({"anyOf": [{"enum": units()}, string(patterns::WORDS)]}),
        Shape::Figure(_) => string(&patterns::figure()),
        Shape::Limits => number_or(&patterns::limits()),
        Shape::Miles | Shape::Amount => number_or(&patterns::amount()),
        Shape::WebAddress => string(patterns::WEB_ADDRESS),
        Shape::Language => string(patterns::LANGUAGE),
        Shape::TextOrTexts | Shape::RefOrRefs | Shape::AmountOrAmounts => one_or_list(schema_of(shape.item())),
        Shape::Texts | Shape::Refs | Shape::RefsOrWords | Shape::Choices(_) | Shape::Measures(_) => list_of(&schema_of(shape.item())),
        Shape::Names => map_of(&scalar(patterns::ID)),
        Shape::Jobs => list_of(&scalar(patterns::JOB)),
        Shape::Findings => list_of(&string(patterns::FINDING)),
        Shape::KeyNames => list_of(&json!({"enum": withheld()})),
        Shape::PrivateKeyNames => list_of(&json!({"enum": private_first()})),
        Shape::Intervals => intervals(),
        Shape::NamedFigures => map_of(&scalar(patterns::WORDS)),
        Shape::Named(table) => map_of(&reference(table)),
        Shape::MeterValues => map_of(&number_or(&patterns::about())),
        Shape::MeterMeasures => map_of(&string(&patterns::measure())),
        Shape::ReadingValues => {
            let pattern = patterns::measure();
            map_of(&json!({"type": ["string", "object"], "pattern": pattern, "additionalProperties": string(&pattern)}))
        }
        Shape::Record(table) => reference(table),
        Shape::Records(table) => list_of(&reference(table)),
        Shape::RecordsOrWords(table) => list_of(&json!({"anyOf": [scalar(patterns::WORDS), reference(table)]})),
    }
}

/// Words; a title may be a number, or `true`.
fn scalar(pattern: &str) -> Value {
    json!({"type": ["string", "number", "boolean"], "pattern": pattern})
}

fn string(pattern: &str) -> Value {
    json!({"type": "string", "pattern": pattern})
}

/// A bare number from nought, or text.
fn number_or(pattern: &str) -> Value {
    json!({"type": ["number", "string"], "minimum": 0, "pattern": pattern})
}

fn list_of(item: &Value) -> Value {
    json!({"type": "array", "items": item})
}

/// One value, or a list of such. The pattern of the value holds for texts only, so that one schema can
/// say both, and what is wrong is told where it stands.
fn one_or_list(item: Value) -> Value {
    let mut schema = item.clone();
    if let Some(types) = schema.get_mut("type").and_then(Value::as_array_mut) {
        types.push(json!("array"));
    }
    schema["items"] = item;
    schema
}

fn map_of(value: &Value) -> Value {
    json!({"type": "object", "additionalProperties": value})
}

fn reference(table: &Table) -> Value {
    json!({"$ref": format!("#/$defs/{}", record_name(table))})
}

fn intervals() -> Value {
    let measure = |description: &str, example: &str| {
        let mut schema = string(&patterns::measure());
        schema["description"] = json!(description);
        schema["examples"] = json!([example]);
        schema
    };
    json!({
        "type": "object",
        "properties": {
            "calendar": measure("By the calendar.", "12 months"),
            "own": measure("By the meter of the gear that the guide is for.", "200 h"),
        },
        "additionalProperties": measure("By the meter of this id.", "200 h"),
    })
}

fn units() -> Vec<&'static str> {
    Unit::ALL.iter().map(|unit| unit.symbol()).collect()
}

/// Names of keys that may be withheld.
fn withheld() -> BTreeSet<&'static str> {
    all_names().filter(|name| withholding(name) == Withholding::Allowed).collect()
}

/// Names of all keys, the private ones first: to name another is only a warning.
fn private_first() -> Vec<&'static str> {
    let private: BTreeSet<&str> = private_names().collect();
    let others: BTreeSet<&str> = all_names().filter(|name| !private.contains(name)).collect();
    private.into_iter().chain(others).collect()
}
