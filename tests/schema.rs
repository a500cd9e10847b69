//! The schemas hold the files of a book to keys and shapes, as another program reads JSON Schema
//! (draft 2020-12): the demo book and the examples pass, and books with a wrong key or shape do not.

#![allow(clippy::disallowed_methods, reason = "tests lay and read files, and wait")]

use jsonschema::Validator;
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

/// Rules about keys and shapes: every case that breaks one of them is refused.
const SHAPES: [&str; 11] = [
    "bad-money",
    "counted-and-level",
    "date-and-started",
    "missing-key",
    "missing-value",
    "no-date",
    "not-optional",
    "not-true-or-false",
    "unknown-key",
    "unknown-word",
    "wrong-shape",
];

/// Rules of which a pattern sees some cases and not others: it sees no calendar, and knows no units.
const SOME: [&str; 4] = ["bad-date", "bad-figure", "bad-finding", "bad-id"];

/// Rules of which a schema sees nothing: what stands in another file or in the text below, what
/// depends on other values, and what YAML itself says.
const MEANING: [&str; 39] = [
    "bad-fastener",
    "caution-word",
    "covers",
    "done-before-started",
    "duplicate-id",
    "isolate-without-restore",
    "lost-cell",
    "mark",
    "mark-place",
    "mark-unclosed",
    "meter-backwards",
    "misplaced",
    "missing-paper",
    "missing-picture",
    "name-twice",
    "no-meter",
    "outside-the-book",
    "own-meter",
    "picture-kind",
    "private-passage",
    "restore-without-isolate",
    "slipped-out",
    "stage-circle",
    "stage-reference",
    "swallowed-stage",
    "swallowed-step",
    "too-few-hands",
    "unit",
    "unknown-gear",
    "unknown-hazard",
    "unknown-job",
    "unknown-mark",
    "unknown-meter",
    "unknown-occasion",
    "unknown-reading",
    "unknown-system",
    "usual-caution",
    "yaml-syntax",
    "zero-interval",
];

/// A merge key is resolved before a schema sees it.
const RESOLVED_BEFORE: [&str; 1] = ["merge-key/guides/engine/job.md"];

fn repository() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn validators() -> BTreeMap<String, Validator> {
    let schemas = garboard::schema::files().into_iter();
    schemas
        .map(|(name, text)| {
            let schema: Value = serde_json::from_str(&text).unwrap_or_else(|error| panic!("{name}: {error}"));
            jsonschema::meta::validate(&schema).unwrap_or_else(|error| panic!("{name} is no schema: {error}"));
            let validator = jsonschema::draft202012::new(&schema).unwrap_or_else(|error| panic!("{name}: {error}"));
            (name.trim_end_matches(".schema.json").to_owned(), validator)
        })
        .collect()
}

/// Which schema a file of a book has.
fn schema_of(path: &str) -> Option<&str> {
    match path {
        _ if path.starts_with("guides/") && path.ends_with(".md") => Some("guide"),
        _ if path.starts_with("log/") && path.ends_with(".md") => Some("entry"),
        _ => path.strip_suffix(".yaml").filter(|name| garboard::schema::FILES.contains(name)),
    }
}

/// The YAML of a file; `None` where it has none.
fn yaml_of<'t>(path: &str, text: &'t str) -> Option<&'t str> {
    let text = text.trim_start_matches('\u{feff}');
    if !path.ends_with(".md") {
        return Some(text);
    }
    let rest = text.strip_prefix("---")?.trim_start_matches('\r').strip_prefix('\n')?;
    let end = if rest.starts_with("---") { 0 } else { rest.find("\n---")? + 1 };
    Some(&rest[..end])
}

/// YAML as JSON; `None` where it cannot be read.
fn json_of(yaml: &str) -> Option<Value> {
    serde_yaml::from_str_with_options(yaml, serde_yaml::options! { strict_booleans: true }).ok()
}

fn files_under(folder: &Path) -> Vec<(String, String)> {
    let walk = walkdir::WalkDir::new(folder).sort_by_file_name().into_iter().map(|item| item.expect("a file"));
    walk.filter(|item| item.file_type().is_file())
        .filter_map(|item| {
            let path = item.path().strip_prefix(folder).expect("inside").to_string_lossy().replace('\\', "/");
            schema_of(&path)?;
            Some((path, fs::read_to_string(item.path()).ok()?))
        })
        .collect()
}

/// What a schema says against a file; `None` where it has no YAML that can be read.
fn refusals(validators: &BTreeMap<String, Validator>, path: &str, text: &str) -> Option<Vec<String>> {
    let value = json_of(yaml_of(path, text)?)?;
    let validator = validators.get(schema_of(path)?).unwrap_or_else(|| panic!("{path} has no schema"));
    Some(validator.iter_errors(&value).map(|error| format!("{path}: {} at {}", error, error.instance_path())).collect())
}

#[test]
fn every_file_of_the_demo_book_is_taken() {
    let validators = validators();
    let mut refused = Vec::new();
    let mut read = BTreeSet::new();
    for (path, text) in files_under(&repository().join("content")) {
        refused.extend(refusals(&validators, &path, &text).unwrap_or_else(|| panic!("{path} cannot be read")));
        read.extend(schema_of(&path).map(str::to_owned));
    }
    assert_eq!(refused, Vec::<String>::new());
    assert_eq!(read, validators.keys().cloned().collect(), "every schema meets a file");
}

/// What a broken book has wrong in one file: the rules of its errors.
fn errors_by_file(case: &Path) -> BTreeMap<String, BTreeSet<String>> {
    let expected = fs::read_to_string(case.join("expected")).expect("what is expected");
    let mut errors: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for line in expected.lines() {
        let words: Vec<&str> = line.split(' ').collect();
        if let [place, "error", rule] = words.as_slice() {
            let path = place.rsplitn(3, ':').last().unwrap_or_default();
            errors.entry(path.to_owned()).or_default().insert((*rule).to_owned());
        }
    }
    errors
}

#[test]
fn broken_books_are_refused_for_keys_and_shapes_and_for_nothing_that_is_right() {
    let validators = validators();
    let broken = repository().join("tests/broken");
    let mut wrong = Vec::new();
    let mut passed: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    let mut caught: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    let mut unread: BTreeSet<String> = BTreeSet::new();
    for case in fs::read_dir(&broken).expect("the broken books").map(|case| case.expect("a case").path()) {
        let name = case.file_name().unwrap_or_default().to_string_lossy().into_owned();
        let errors = if name == "base" { BTreeMap::new() } else { errors_by_file(&case) };
        for (path, text) in files_under(&case) {
            let rules = errors.get(&path).cloned().unwrap_or_default();
            let Some(refusals) = refusals(&validators, &path, &text) else {
                unread.extend(rules);
                continue;
            };
            if rules.is_empty() && !refusals.is_empty() {
                wrong.push(format!("{name}: nothing is wrong, and yet {refusals:?}"));
            }
            let to = if refusals.is_empty() { &mut passed } else { &mut caught };
            for rule in rules {
                to.entry(rule).or_default().insert(format!("{name}/{path}"));
            }
        }
    }
    assert_eq!(wrong, Vec::<String>::new());
    for rule in SHAPES {
        let passed: Vec<&String> =
            passed.get(rule).into_iter().flatten().filter(|case| !RESOLVED_BEFORE.contains(&case.as_str())).collect();
        assert_eq!(passed, Vec::<&String>::new(), "`{rule}` is not seen");
        assert!(caught.contains_key(rule), "no case of `{rule}`");
    }
    for rule in SOME {
        assert!(caught.contains_key(rule), "no case of `{rule}` is seen");
    }
    let known: BTreeSet<&str> = SHAPES.into_iter().chain(SOME).collect();
    let unseen: Vec<&str> = passed.keys().map(String::as_str).filter(|rule| !known.contains(rule)).collect();
    assert_eq!(unseen, MEANING, "the rules that a schema does not see");
}

/// What is said of a text, as `/place: words`.
#[track_caller]
fn case(schema: &str, yaml: &str, expected: &[&str]) {
    let value = json_of(yaml).expect("YAML");
    let validators = validators();
    let errors = validators[schema].iter_errors(&value);
    let mut said: Vec<String> = errors.map(|error| format!("{}: {}", error.instance_path(), error.kind().keyword())).collect();
    said.sort();
    assert_eq!(said, expected, "of {yaml}");
}

#[test]
fn what_is_wrong_is_told_where_it_stands() {
    case("boat", "name: Skerrywake", &[]);
    case(
        "boat",
        "{name: Skerrywake, meters: [{id: engine, title: Engine hours, uint: h}]}",
        &["/meters/0: additionalProperties", "/meters/0: required"],
    );
    case("stores", "[{id: oil-filter, titel: Oil filter}]", &["/0: additionalProperties", "/0: required"]);
    case("stores", "stores: [{id: oil-filter, title: Oil filter, sold-in: [5 L, low]}]", &["/stores/0/sold-in/1: pattern"]);
    case("stores", "parts: []", &[": additionalProperties", ": required"]);
    case("guide", "{title: Change the oil, every: 200 h}", &["/every: type"]);
    case("guide", "{title: Change the oil, every: {engine: 200}}", &["/every/engine: type"]);
    case("guide", "{title: Change the oil, routine: yes}", &["/routine: pattern"]);
    case("guide", "{title: Change the oil, where: [afloat]}", &["/where/0: enum"]);
    case("entry", "{date: 2026-03-14, done: 2026-03-15}", &["/done: falseSchema"]);
    case("entry", "{jobs: [oil-and-filter]}", &[": anyOf"]);
    case("entry", "{date: 2026-03-14, readings: {compression: {cylinder 1: 27}}}", &["/readings/compression/cylinder 1: type"]);
}

#[test]
fn what_the_program_takes_is_taken() {
    case("stores", "", &[]);
    case("stores", "stores:", &[]);
    case("tools", "tools: [{id: strap-wrench, title: 17}]", &[]);
    case("boat", "{name: true, built: ~1988, crew: Maren, occasions: [spring cruise, {id: regatta, title: Regatta}]}", &[]);
    case("boat", "{name: Skerrywake, built: 1988, public-fields: [hull-number, title], private-fields: [home-port]}", &[]);
    case("guide", "{title: Change the oil, routine: 'true', crew: 2, time: 1 ½ h, parts: [{item: oil, qty: ½ L}]}", &[]);
    case("guide", "{title: Change the oil, torque: [{at: plug, value: 35 ± 3 N·m}], readings: {oil: {unit: bar, limits: ..5}}}", &[]);
    case("entry", "{date: ~1998, meters: {engine: ~1200, miles: 12034 nmi}, readings: {air: −10 °C}}", &[]);
    case("passages", "[{id: isles, title: Isles, depart: 2026-06-01, miles: 1,5 L}]", &["/0: additionalProperties"]);
    case("passages", "[{id: isles, title: Isles, depart: 2026-06-01, miles: 900, reserve: 25 %, meters: {engine: 60 h}}]", &[]);
}

#[test]
fn the_examples_of_the_schemas_follow_them() {
    for (name, text) in garboard::schema::files() {
        let schema: Value = serde_json::from_str(&text).expect("JSON");
        let mut left = vec![&schema];
        let mut seen = 0;
        while let Some(part) = left.pop() {
            if let (Some(examples), Some(_)) = (part.get("examples").and_then(Value::as_array), part.get("type")) {
                let mut whole = part.clone();
                whole["$defs"] = schema["$defs"].clone();
                for example in examples {
                    assert!(jsonschema::draft202012::is_valid(&whole, example), "{name}: {part}");
                    seen += 1;
                }
            }
            left.extend(part.as_object().into_iter().flat_map(|map| map.values()));
        }
        assert!(seen > 0 || name.starts_with("tools") || name.starts_with("cautions"), "{name} shows no example");
    }
}
