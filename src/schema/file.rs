//! One schema a file: what stands at its top, the records that stand in it, and what its keys ask of
//! each other.

use super::shape::{described, record_name, schema_of};
use crate::book::keys::{self, Table};
use serde_json::{Map, Value, json};

/// The dialect that the schemas are written in.
const DIALECT: &str = "https://json-schema.org/draft/2020-12/schema";

pub(super) fn schema(name: &str) -> Option<Value> {
    Some(match name {
        "boat" => whole("boat.yaml: the boat's facts, systems, meters, gear and preferences", &keys::BOAT),
        "guide" => whole("The front matter of a guide", &keys::GUIDE),
        "entry" => whole("The front matter of an entry in the log", &keys::ENTRY),
        "stores" => list("stores.yaml: parts and consumables aboard", "stores", &keys::STORE_ITEM),
        "tools" => list("tools.yaml: the tools aboard and where they are stowed", "tools", &keys::TOOL),
        "passages" => list("passages.yaml: planned trips", "passages", &keys::PASSAGE),
        "cautions" => list("cautions.yaml: hazards of this boat besides those that ship", "cautions", &keys::HAZARD),
        _ => return None,
    })
}

/// A file that is one record.
fn whole(title: &str, table: &'static Table) -> Value {
    let mut schema = head(title);
    schema.extend(record(table));
    with_definitions(schema, table, false)
}

/// A file that is a list of records: bare, or under its own name; empty is fine. Each keyword holds for
/// one type only, so that what is wrong is told where it stands.
fn list(title: &str, name: &str, table: &'static Table) -> Value {
    let item = json!({"$ref": format!("#/$defs/{}", record_name(table))});
    let mut schema = head(title);
    schema.insert("type".to_owned(), json!(["array", "object", "null"]));
    schema.insert("items".to_owned(), item.clone());
    schema.insert("properties".to_owned(), json!({name: {"type": ["array", "null"], "items": item}}));
    schema.insert("required".to_owned(), json!([name]));
    schema.insert("additionalProperties".to_owned(), json!(false));
    with_definitions(schema, table, true)
}

fn head(title: &str) -> Map<String, Value> {
    let mut head = Map::new();
    head.insert("$schema".to_owned(), json!(DIALECT));
    head.insert("title".to_owned(), json!(title));
    head
}

/// Adds the records that stand in the file; `itself`: also the record that the file is made of.
fn with_definitions(mut schema: Map<String, Value>, table: &'static Table, itself: bool) -> Value {
    let mut definitions = Map::new();
    if itself {
        definitions.insert(record_name(table), Value::Object(record(table)));
    }
    let mut left = vec![table];
    while let Some(table) = left.pop() {
        for inner in table.keys.iter().filter_map(|key| key.shape.table()) {
            let name = record_name(inner);
            if !definitions.contains_key(&name) {
                definitions.insert(name, Value::Object(record(inner)));
                left.push(inner);
            }
        }
    }
    if !definitions.is_empty() {
        schema.insert("$defs".to_owned(), Value::Object(definitions));
    }
    Value::Object(schema)
}

/// A map with the keys of a table and no others.
fn record(table: &'static Table) -> Map<String, Value> {
    let mut properties = Map::new();
    for key in table.keys {
        properties.insert(key.name.to_owned(), described(schema_of(key.shape), key));
    }
    let required: Vec<&str> = table.keys.iter().filter(|key| key.required).map(|key| key.name).collect();
    let mut record = Map::new();
    record.insert("type".to_owned(), json!("object"));
    record.insert("properties".to_owned(), Value::Object(properties));
    if !required.is_empty() {
        record.insert("required".to_owned(), json!(required));
    }
    record.insert("additionalProperties".to_owned(), json!(false));
    record.extend(between_keys(table));
    record
}

/// What the keys of a record ask of each other; the tables know each key by itself.
fn between_keys(table: &Table) -> Map<String, Value> {
    let mut rules = Map::new();
    if std::ptr::eq(table, &raw const keys::ENTRY) {
        rules.insert("anyOf".to_owned(), json!([{"required": ["date"]}, {"required": ["started"]}]));
        rules.insert("dependentSchemas".to_owned(), json!({"date": {"properties": {"started": false, "done": false}}}));
    }
    if std::ptr::eq(table, &raw const keys::STORE_ITEM) {
        rules.insert("dependentSchemas".to_owned(), json!({"counted": {"properties": {"level": false}}}));
    }
    rules
}
