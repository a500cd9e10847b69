//! The book as of a date: what had been written down by then.
//!
//! Entries, readings and counts that are later are left out, and each is told of, because a mistyped
//! year would otherwise silently take a job out of the record.

use jiff::civil::Date;

use super::places::Findings;
use crate::book::model::{Book, Counted, Entry, MeterRow, StoreItem};

/// What there was on a date.
pub(super) struct AsOf<'b> {
    /// Oldest first, by day, then by id.
    pub(super) entries: Vec<&'b Entry>,
    /// In the order of the file.
    pub(super) rows: Vec<&'b MeterRow>,
    /// Entries and rows that are later.
    pub(super) left_out: usize,
}

/// Leaves out what is later than the date.
pub(super) fn as_of<'b>(book: &'b Book, on: Date, findings: &mut Findings<'b>) -> AsOf<'b> {
    let mut entries = Vec::with_capacity(book.entries.len());
    let mut rows = Vec::with_capacity(book.readings.len());
    let mut left_out = 0;
    for entry in &book.entries {
        // Of a finished entry the day is the day it was done: one that was only begun by then is
        // left out whole, for how it stood on that day is not on record.
        let day = entry.when.day().date;
        if day <= on {
            entries.push(entry);
        } else {
            left_out += 1;
            let place = findings.in_entry(entry, entry.when_span);
            tell(findings, place, day, on, "this entry is");
        }
    }
    for row in &book.readings {
        if row.date <= on {
            rows.push(row);
        } else {
            left_out += 1;
            let place = findings.in_meters(row.span);
            tell(findings, place, row.date, on, "this reading is");
        }
    }
    entries.sort_by(|a, b| (a.when.day().date, &a.id).cmp(&(b.when.day().date, &b.id)));
    AsOf { entries, rows, left_out }
}

/// The count of an item, unless it was made later.
pub(super) fn counted<'b>(item: &'b StoreItem, on: Date, findings: &mut Findings<'b>) -> Option<&'b Counted> {
    let counted = item.counted.as_ref()?;
    if counted.on <= on {
        return Some(counted);
    }
    let place = findings.in_stores(counted.span);
    tell(findings, place, counted.on, on, "this count is");
    None
}

fn tell(findings: &mut Findings<'_>, place: crate::book::source::Place, day: Date, on: Date, what: &str) {
    findings.warning(
        "later-than-on",
        place,
        format!("`{day}` is later than {on}, so {what} left out"),
        "correct the date if it is a slip; if it is right, it counts from that day on".to_owned(),
    );
}
