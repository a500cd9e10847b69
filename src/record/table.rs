//! The record as CSV (RFC 4180), an entry a row. Lists are joined by `; `.

use super::content::{Content, Said};
use super::pieces::write_lines;
use super::{Record, Recorded};
use crate::spreadsheet::harmless;
use std::io::{self, Write};

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

/// Writes the file `record.csv`: heads, then every entry, oldest first.
///
/// # Errors
/// Those of `out`.
pub fn write_csv(record: &Record<'_>, out: &mut impl Write) -> io::Result<()> {
    let mut heads = writer();
    // Writing into memory does not fail, here and below.
    let _ = heads.write_record(KEYS.into_iter().chain(["costs", "fingerprint"]));
    out.write_all(&heads.into_inner().unwrap_or_default())?;
    write_lines(&record.entries, out, |_, one, text| {
        let mut row = writer();
        write_row(record, one, &mut row);
        text.append(&mut row.into_inner().unwrap_or_default());
    })
}

fn writer() -> csv::Writer<Vec<u8>> {
    csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new())
}

fn write_row(record: &Record<'_>, one: &Recorded<'_>, row: &mut csv::Writer<Vec<u8>>) {
    let content = record.content(one);
    let mut cell = String::new();
    for key in KEYS.into_iter().chain(["costs"]) {
        cell.clear();
        if let Some(said) = content.get(key) {
            say(said, &mut cell);
        }
        cell = harmless(cell);
        let _ = row.write_field(&cell);
    }
    let _ = row.write_record([one.fingerprint.to_string()]);
}

/// `true`; a text as it is; a list joined; of an object `key: value, key: value`.
fn say(said: &Said<'_>, cell: &mut String) {
    match said {
        Said::Text(text) => cell.push_str(text),
        Said::True => cell.push_str("true"),
        Said::List(list) => {
            for (at, said) in list.iter().enumerate() {
                cell.push_str(if at == 0 { "" } else { "; " });
                say(said, cell);
            }
        }
        Said::Object(content) => say_object(content, cell),
    }
}

fn say_object(content: &Content<'_>, cell: &mut String) {
    for (at, (key, said)) in content.pairs().enumerate() {
        cell.push_str(if at == 0 { "" } else { ", " });
        cell.push_str(key);
        cell.push_str(": ");
        say(said, cell);
    }
}
