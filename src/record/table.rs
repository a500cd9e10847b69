//! The record as CSV (RFC 4180), an entry a row. Lists are joined by `; `.

use super::{Record, Recorded};
use crate::spreadsheet::harmless;
use rayon::prelude::*;
use serde_json::Value;

/// Keys of the content, in the order of the columns; never changed, new ones are put behind. The
/// fingerprint is the last of today's.
const KEYS: [&str; 26] = [
    "entry",
    "date",
    "started",
    "open",
    "system",
    "gear",
    "jobs",
    "work",
    "meters",
    "time",
    "parts",
    "readings",
    "findings",
    "clears",
    "fitted",
    "done-by",
    "basis",
    "paper-on-file",
    "except",
    "reached",
    "left",
    "notes",
    "pictures",
    "by",
    "place",
    "papers",
];

/// Rows that are made at once, on all processors.
const AT_ONCE: usize = 4_096;

/// The file `record.csv`: heads, then every entry, oldest first.
#[must_use]
pub fn csv(record: &Record<'_>) -> Vec<u8> {
    let mut writer = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    // Writing into memory does not fail.
    let _ = writer.write_record(KEYS.into_iter().chain(["costs", "fingerprint"]));
    for some in record.entries.chunks(AT_ONCE) {
        for row in some.par_iter().map(cells).collect::<Vec<_>>() {
            let _ = writer.write_record(row);
        }
    }
    writer.into_inner().unwrap_or_default()
}

fn cells(one: &Recorded<'_>) -> Vec<String> {
    let content = one.content();
    let cell = |key: &str| content.get(key).map(said).unwrap_or_default();
    let mut cells: Vec<String> = KEYS.into_iter().chain(["costs"]).map(cell).collect();
    cells.push(one.fingerprint.clone());
    cells.into_iter().map(harmless).collect()
}

/// `true`; a text as it is; a list joined; of an object `key: value, key: value`.
fn said(value: &Value) -> String {
    match value {
        Value::String(text) => text.clone(),
        Value::Array(list) => list.iter().map(said).collect::<Vec<_>>().join("; "),
        Value::Object(object) => object.iter().map(|(key, value)| format!("{key}: {}", said(value))).collect::<Vec<_>>().join(", "),
        other => other.to_string(),
    }
}
