//! The boat's record: every public entry as plain data, with a fingerprint by which it is known again.
//!
//! It is made from the public book alone, whatever edition is published. What it says of an entry is in
//! the book's own terms (ids, words and figures as written), so that neither the language of the pages
//! nor the theme nor the version of the program changes a fingerprint. Only [`pictures`] touches the
//! disk.

mod canonical;
mod compare;
mod content;
mod earlier;
mod file;
pub mod pictures;
mod table;

#[cfg(test)]
mod tests;

use canonical::canonical_object;
pub use canonical::{canonical, sha256};
pub use compare::{Changed, Comparison, Renamed, compare};
pub use earlier::{Earlier, LARGEST, NotARecord};
pub use file::json;
pub use table::csv;

use crate::book::model::Entry;
use crate::reckon::Reckoning;
use rayon::prelude::*;
use serde_json::{Map, Value};

/// An entry as the record has it.
#[derive(Debug, Clone)]
pub struct Recorded<'b> {
    pub entry: &'b Entry,
    /// What the fingerprint is of, in its canonical form: a tree of it would take several times the memory.
    canonical: Box<str>,
    /// SHA-256 of that, 64 hexadecimal digits.
    pub fingerprint: String,
}

impl Recorded<'_> {
    /// What the fingerprint is of: keys sorted, texts in NFC, nothing that is empty.
    #[must_use]
    pub fn content(&self) -> Map<String, Value> {
        // It was written by this program a moment ago, so that reading it does not fail.
        serde_json::from_str(&self.canonical).unwrap_or_default()
    }
}

/// The record of a public book as of a day.
#[derive(Debug, Clone)]
pub struct Record<'b> {
    /// Oldest first.
    pub entries: Vec<Recorded<'b>>,
    /// One fingerprint of all, 64 hexadecimal digits.
    pub fingerprint: String,
}

impl<'b> Record<'b> {
    /// Of the entries of a reckoning, which must be of the public book.
    #[must_use]
    pub fn of(reckoning: &Reckoning<'b>, pictures: &pictures::Hashes) -> Self {
        let entries: Vec<Recorded<'b>> = reckoning
            .entries
            .par_iter()
            .map(|entry| {
                let canonical = canonical_object(&content::of(reckoning.book, entry, pictures)).into_boxed_str();
                Recorded { entry, fingerprint: sha256(canonical.as_bytes()), canonical }
            })
            .collect();
        let fingerprint = of_all(entries.iter().map(|one| one.fingerprint.as_str()));
        Self { entries, fingerprint }
    }
}

/// The fingerprint of a whole record: SHA-256 of its fingerprints, sorted, each followed by a line feed.
#[must_use]
pub fn of_all<'f>(fingerprints: impl Iterator<Item = &'f str>) -> String {
    let mut sorted: Vec<&str> = fingerprints.collect();
    sorted.sort_unstable();
    sha256(sorted.iter().flat_map(|one| [one, "\n"]).collect::<String>().as_bytes())
}
