//! What the examples of the document show: which keys of which records, and which marks.

use garboard::book::keys::{self, Shape, Table};
use serde_json::Value;
use std::collections::BTreeSet;

/// `table/key` of every key that a file of an example has.
pub fn keys_in(path: &str, text: &str) -> BTreeSet<String> {
    let mut shown = BTreeSet::new();
    let (table, yaml) = match path {
        "boat.yaml" => (&keys::BOAT, text),
        "stores.yaml" => (&keys::STORE_ITEM, text),
        "tools.yaml" => (&keys::TOOL, text),
        "passages.yaml" => (&keys::PASSAGE, text),
        "cautions.yaml" => (&keys::HAZARD, text),
        _ if path.starts_with("guides/") => (&keys::GUIDE, front_matter(text)),
        _ if path.starts_with("log/") => (&keys::ENTRY, front_matter(text)),
        _ => return shown,
    };
    let options = serde_yaml::options! { strict_booleans: true };
    let value: Value = serde_yaml::from_str_with_options(yaml, options).unwrap_or_else(|error| panic!("{path}: {error}"));
    match &value {
        Value::Array(items) => items.iter().for_each(|item| record(table, item, &mut shown)),
        other => record(table, other, &mut shown),
    }
    shown
}

/// How a key is named here: two tables are called `part`.
pub fn name_of(table: &Table, key: &str) -> String {
    let kind = if std::ptr::eq(table, &raw const keys::ENTRY_PART) { "used part" } else { table.name };
    format!("{kind}/{key}")
}

fn front_matter(text: &str) -> &str {
    text.split("---\n").nth(1).unwrap_or_default()
}

fn record(table: &Table, value: &Value, shown: &mut BTreeSet<String>) {
    for (name, value) in value.as_object().into_iter().flatten() {
        let Some(key) = table.key(name) else { continue };
        shown.insert(name_of(table, name));
        let Some(inner) = key.shape.table() else { continue };
        match (key.shape, value) {
            (Shape::Named(_), Value::Object(map)) => map.values().for_each(|value| record(inner, value, shown)),
            (_, Value::Array(items)) => items.iter().for_each(|item| record(inner, item, shown)),
            (_, other) => record(inner, other, shown),
        }
    }
}

/// The first word of a mark: `takes` of `{takes 10 min}`.
pub fn word_of_mark(mark: &str) -> &str {
    mark.trim_matches(['{', '}']).split(' ').next().unwrap_or_default()
}
