//! The record as JSON: what each entry says with its fingerprint, and beside it what explains it.

use super::content::day;
use super::{Record, Recorded};
use crate::reckon::Reckoning;
use rayon::prelude::*;
use serde_json::{Map, Value, json};
use std::collections::BTreeMap;

/// What `record` says in every file of this kind.
pub(super) const MARK: &str = "garboard";
/// Raised when a fingerprint would come out otherwise.
pub(super) const VERSION: u64 = 1;

/// The file `record.json`: one entry a line. `reckoning` is the one the record is of.
#[must_use]
pub fn json(record: &Record<'_>, reckoning: &Reckoning<'_>) -> Vec<u8> {
    let boat = &reckoning.book.boat;
    let facts: Map<String, Value> = [
        ("name", Some(boat.name.clone())),
        ("type", boat.kind.clone()),
        ("built", boat.built.clone()),
        ("length", boat.length.as_ref().map(|length| length.written().to_owned())),
        ("flag", boat.flag.clone()),
    ]
    .into_iter()
    .filter_map(|(key, value)| Some((key.to_owned(), Value::String(value?))))
    .collect();
    let head = [
        ("record", json!(MARK)),
        ("version", json!(VERSION)),
        ("boat", Value::Object(facts)),
        ("as_of", json!(reckoning.on.to_string())),
        ("fingerprint", json!(record.fingerprint)),
    ];
    let mut text = String::from("{\n");
    for (key, value) in head {
        text.push_str(&format!("\"{key}\":{value},\n"));
    }
    let mut cleared: BTreeMap<&str, Vec<Value>> = BTreeMap::new();
    for one in &reckoning.cleared {
        let by = json!({"finding": one.number, "by": one.by.id, "date": day(one.by.when.day())});
        cleared.entry(one.entry.id.as_str()).or_default().push(by);
    }
    let cleared = |one: &Recorded<'_>| cleared.get(one.entry.id.as_str()).map_or(&[][..], Vec::as_slice);
    let lines: Vec<String> = record.entries.par_iter().map(|one| line(reckoning, one, cleared(one))).collect();
    text.push_str(&format!("\"entries\":[\n{}\n]\n}}\n", lines.join(",\n")));
    text.into_bytes()
}

fn line(reckoning: &Reckoning<'_>, one: &Recorded<'_>, cleared: &[Value]) -> String {
    let guides: Vec<Value> = one
        .entry
        .jobs
        .iter()
        .filter_map(|job| reckoning.book.guide_or_former(&job.guide))
        .map(|guide| {
            json!({
                "guide": guide.id,
                "title": guide.title,
                "system": guide.system,
                "revised": guide.revised.map(|date| date.to_string()),
            })
        })
        .collect();
    let [cleared, fingerprint, guides] = [json!(cleared), json!(one.fingerprint), json!(guides)];
    format!("{{\"cleared\":{cleared},\"content\":{},\"fingerprint\":{fingerprint},\"guides\":{guides}}}", one.canonical)
}
