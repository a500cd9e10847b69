//! Every key of the tables is read: fed a map of maps, which no key takes, each one is told about
//! at its value. Its example is read without a word.

use crate::book::decode::testing::{boat_of, cautions_of, entry_of, guide_of, passages_of, stores_of, tools_of};
use crate::book::keys::{self, KeySpec, Shape, Table};

/// What no key takes, whatever its shape.
const NONSENSE: &str = "{x: {y: {z: [q]}}}";

/// Problems of a record in its file, the record being given as a flow map.
pub(super) fn problems(table: &Table, record: &str) -> Vec<String> {
    let inner = record.strip_prefix('{').and_then(|inner| inner.strip_suffix('}')).expect("a flow map");
    let block: String = inner.split(";;").map(|pair| format!("{}\n", pair.trim())).collect();
    let flow = format!("{{{}}}", inner.replace(";;", ","));
    match table.name {
        "boat" => boat_of(&block.replace("name: some words\n", "")).rules(),
        "system" => boat_of(&format!("systems: [{flow}]")).rules(),
        "meter" => boat_of(&format!("meters: [{flow}]")).rules(),
        "gear" => boat_of(&format!("gear: [{flow}]")).rules(),
        "fitted" => boat_of(&format!("gear: [{{id: a, title: A, fitted: {flow}}}]")).rules(),
        "occasion" => boat_of(&format!("occasions: [{flow}]")).rules(),
        "guide" => guide_of(&block.replace("title: some words\n", "")).rules(),
        "torque" => guide_of(&format!("torque: [{flow}]")).rules(),
        "reading" => guide_of(&format!("readings: {{a: {flow}}}")).rules(),
        "provenance" => guide_of(&format!("received: {flow}")).rules(),
        "part" if table.key("if-worn").is_some() => guide_of(&format!("parts: [{flow}]")).rules(),
        "part" => entry_of(&format!("parts: [{flow}]")).rules(),
        "entry" => entry_of(&block).rules(),
        "cost" => entry_of(&format!("costs: [{flow}]")).rules(),
        "finding" => entry_of(&format!("findings: [{flow}]")).rules(),
        "renewal" => entry_of(&format!("fitted: [{flow}]")).rules(),
        "store item" => stores_of(&format!("[{flow}]")).rules(),
        "count" => stores_of(&format!("[{{id: a, title: A, counted: {flow}}}]")).rules(),
        "purchase" => stores_of(&format!("[{{id: a, title: A, bought: [{flow}]}}]")).rules(),
        "tool" => tools_of(&format!("[{flow}]")).rules(),
        "passage" => passages_of(&format!("[{flow}]")).rules(),
        "hazard" => cautions_of(&format!("[{flow}]")).rules(),
        other => panic!("a table without a file: {other}"),
    }
}

/// A record with the keys it needs, and one more.
pub(super) fn record(table: &Table, key: &KeySpec, value: &str) -> String {
    let needed = table.keys.iter().filter(|other| other.required && other.name != key.name);
    let mut pairs: Vec<String> = needed.map(|other| format!("{}: {}", other.name, example(other))).collect();
    pairs.push(format!("{}: {value}", key.name));
    format!("{{{}}}", pairs.join(";;"))
}

/// The example of a key's shape, with the records it holds written out.
fn example(key: &KeySpec) -> String {
    let inner = |table: &Table| {
        let needed = table.keys.iter().filter(|key| key.required);
        let pairs: Vec<String> = needed.map(|key| format!("{}: {}", key.name, example(key))).collect();
        format!("{{{}}}", pairs.join(", "))
    };
    match key.shape {
        Shape::Record(table) => inner(table),
        Shape::Records(table) | Shape::RecordsOrWords(table) => format!("[{}]", inner(table)),
        shape => shape.example().to_owned(),
    }
}

pub(super) fn keys_of_files() -> impl Iterator<Item = (&'static Table, &'static KeySpec)> {
    keys::ALL.into_iter().flat_map(|table| table.keys.iter().map(move |key| (table, key)))
}

#[test]
fn every_key_is_read() {
    for (table, key) in keys_of_files() {
        // These two hold the title line of the helper.
        if matches!((table.name, key.name), ("boat", "name") | ("guide", "title") | ("entry", "date")) {
            continue;
        }
        let found = problems(table, &record(table, key, NONSENSE));
        assert!(!found.is_empty(), "`{}` of {} is never read", key.name, table.name);
        // A record under the key says that `x` is none of its keys; the key itself is known.
        let holds_keys = matches!(key.shape, Shape::Record(_) | Shape::Named(_));
        assert!(holds_keys || found.iter().all(|problem| !problem.ends_with("unknown-key")), "`{}` of {}: {found:?}", key.name, table.name);
    }
}

#[test]
fn every_example_is_read_without_a_word() {
    for (table, key) in keys_of_files() {
        let beside_another =
            matches!((table.name, key.name), ("entry", "date" | "started" | "done") | ("boat", "name") | ("guide", "title"));
        if beside_another {
            continue;
        }
        let written = record(table, key, &example(key));
        let mut found = problems(table, &written);
        // A passage with its needed keys alone has no figures, and is told so.
        found.retain(|problem| !problem.ends_with("passage-without-figures"));
        assert_eq!(found, Vec::<String>::new(), "{}: {written}", table.name);
    }
}
