//! No schema refuses what the decoder takes: every key is fed values of every kind, and whatever the
//! decoder reads without a word must follow the schema of its file.

use super::every_key::{keys_of_files, problems, record};
use crate::book::id::looks_like_id;
use crate::book::keys::{Shape, Table};
use crate::schema;
use serde_json::{Value, json};

/// Values of every kind, as they stand in a flow map: plain and quoted, right for some key and wrong for others.
const VALUES: [&str; 60] = [
    "some words",
    "'  some   words '",
    "some-id",
    "Some-Id",
    "17",
    "017",
    "2.0",
    "0",
    "-3",
    "1e3",
    "true",
    "'false'",
    "yes",
    "2026-03-14",
    "' 2026-03-14 '",
    "2026-02-30",
    "2026-03",
    "~2026-03",
    "~ 2026-03-14",
    "~1998",
    "1998",
    "~1200",
    "'~ 1200'",
    "1200 h",
    "~1200 h",
    "haul-out",
    "10 %",
    "10%",
    "½ %",
    "18.50 EUR",
    "18.50EUR",
    "1/2 EUR",
    "2 h",
    "2h40min",
    "'  2 h '",
    "½ h",
    "1 1/2 h",
    "12 months",
    "1 year 6 months",
    "7.5 L",
    "'7.5  L'",
    "1 ½ US gal",
    "11.6m",
    "36 ft",
    "90°",
    "-10 °C",
    "−10 °C",
    "900 nmi",
    "35 N.m",
    "30..35 Nm",
    "35 +/- 3 N·m",
    "..5",
    "2.5.. bar",
    "M8 8.8",
    "https://boat.example/book/",
    "en",
    "[some words, 17]",
    "[some-id, other-id]",
    "{engine: 200 h, calendar: 12 months}",
    "{engine: ~1200, miles: 12034 nmi}",
];

/// The schema of one kind of record.
fn schema_of(table: &Table) -> Value {
    let file = match table.name {
        "boat" | "system" | "meter" | "gear" | "fitted" | "occasion" => "boat",
        "guide" | "torque" | "reading" | "provenance" => "guide",
        "part" if table.key("if-worn").is_some() => "guide",
        "store item" | "count" | "purchase" => "stores",
        "tool" => "tools",
        "passage" => "passages",
        "hazard" => "cautions",
        _ => "entry",
    };
    let whole = schema::of(file).expect("a schema");
    if table.name == file {
        return whole;
    }
    json!({"$ref": format!("#/$defs/{}", table.name.replace(' ', "-")), "$defs": whole["$defs"]})
}

#[test]
fn what_the_decoder_takes_no_schema_refuses() {
    let options = serde_yaml::options! { strict_booleans: true };
    let mut taken = 0;
    let mut refused = Vec::new();
    for (table, key) in keys_of_files() {
        if matches!((table.name, key.name), ("boat", "name") | ("guide", "title") | ("entry", "date" | "started" | "done")) {
            continue;
        }
        let validator = jsonschema::draft202012::new(&schema_of(table)).expect("a schema");
        let refers = matches!(key.shape, Shape::Ref | Shape::Refs | Shape::RefOrRefs);
        for value in VALUES {
            // The decoder takes any words for the id of something else; nothing can have an id of another form.
            if refers && !value.trim_matches(['[', ']']).split(", ").all(looks_like_id) {
                continue;
            }
            let written = record(table, key, value);
            if problems(table, &written).iter().any(|problem| !problem.ends_with("passage-without-figures")) {
                continue;
            }
            // Words for an occasion that none can be called by.
            if matches!(key.shape, Shape::MonthOrOccasion) && matches!(value, "-3" | "true") {
                continue;
            }
            taken += 1;
            let mut flow = written.replace(";;", ", ");
            if table.name == "entry" {
                flow = flow.replacen('{', "{date: 2026-03-14, ", 1);
            }
            let json: Value = serde_yaml::from_str_with_options(&flow, options.clone()).expect("YAML");
            refused.extend(validator.iter_errors(&json).map(|error| format!("{} {flow}: {error}", table.name)));
        }
    }
    assert_eq!(refused, Vec::<String>::new());
    assert!(taken > 1_000, "{taken} values taken");
}
