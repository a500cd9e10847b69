//! The record as JSON: what each entry says with its fingerprint, and beside it what explains it.

use super::canonical::{write_content, write_text};
use super::pieces::write_lines;
use super::{Record, Recorded};
use crate::reckon::{Cleared, Reckoning};
use serde_json::{Map, Value, json};
use std::collections::HashMap;
use std::io::{self, Write};

/// What `record` says in every file of this kind.
pub(super) const MARK: &str = "garboard";
/// Raised when a fingerprint would come out otherwise.
pub(super) const VERSION: u64 = 1;

/// Findings that were cleared, by the entry that found them.
type ClearedBy<'r, 'b> = HashMap<&'b str, Vec<&'r Cleared<'b>>>;

/// Writes the file `record.json`: one entry a line. `reckoning` is the one the record is of.
///
/// # Errors
/// Those of `out`.
pub fn write_json(record: &Record<'_>, reckoning: &Reckoning<'_>, out: &mut impl Write) -> io::Result<()> {
    out.write_all(b"{\n")?;
    for (key, value) in head(record, reckoning) {
        writeln!(out, "\"{key}\":{value},")?;
    }
    let mut cleared = ClearedBy::new();
    for one in &reckoning.cleared {
        cleared.entry(one.entry.id.as_str()).or_default().push(one);
    }
    out.write_all(b"\"entries\":[\n")?;
    write_lines(&record.entries, out, |at, one, text| {
        text.extend_from_slice(if at == 0 { b"" } else { b",\n" });
        let cleared = cleared.get(one.entry.id.as_str()).map_or(&[][..], Vec::as_slice);
        write_line(record, one, cleared, text);
    })?;
    out.write_all(b"\n]\n}\n")
}

fn head(record: &Record<'_>, reckoning: &Reckoning<'_>) -> [(&'static str, Value); 5] {
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
    [
        ("record", json!(MARK)),
        ("version", json!(VERSION)),
        ("boat", Value::Object(facts)),
        ("as_of", json!(reckoning.on.to_string())),
        ("fingerprint", json!(record.fingerprint)),
    ]
}

fn write_line(record: &Record<'_>, one: &Recorded<'_>, cleared: &[&Cleared<'_>], out: &mut Vec<u8>) {
    out.extend_from_slice(b"{\"cleared\":[");
    for (at, cleared) in cleared.iter().enumerate() {
        out.extend_from_slice(if at == 0 { b"{\"finding\":" } else { b",{\"finding\":" });
        out.extend_from_slice(cleared.number.to_string().as_bytes());
        write_pair(",\"by\":", &cleared.by.id, out);
        write_pair(",\"date\":", &cleared.by.when.day().to_string(), out);
        if let Some(reference) = cleared.followed_reference() {
            write_pair(",\"followed_by\":", &reference, out);
        }
        out.push(b'}');
    }
    out.extend_from_slice(b"],\"content\":");
    write_content(&record.content(one), out);
    // Writing into memory does not fail.
    let _ = write!(out, ",\"fingerprint\":\"{}\",\"guides\":[", one.fingerprint);
    let guides = one.entry.jobs.iter().filter_map(|job| record.book.guide_or_former(&job.guide));
    for (at, guide) in guides.enumerate() {
        write_pair(if at == 0 { "{\"guide\":" } else { ",{\"guide\":" }, &guide.id, out);
        write_pair(",\"title\":", &guide.title, out);
        write_pair(",\"system\":", &guide.system, out);
        match guide.revised {
            Some(date) => write_pair(",\"revised\":", &date.to_string(), out),
            None => out.extend_from_slice(b",\"revised\":null"),
        }
        out.push(b'}');
    }
    out.extend_from_slice(b"]}");
}

/// Appends a key, written with all that stands before its value, and its text.
fn write_pair(key: &str, text: &str, out: &mut Vec<u8>) {
    out.extend_from_slice(key.as_bytes());
    write_text(text, out);
}
