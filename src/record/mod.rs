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
mod pieces;
mod table;

#[cfg(test)]
mod tests;

pub use canonical::{Fingerprint, canonical, sha256};
use canonical::{sha256_of_lines, write_content};
pub use compare::{Changed, Comparison, Renamed, compare};
pub use content::{Content, Said};
pub use earlier::{Earlier, LARGEST, NotARecord};
pub use file::write_json;
pub use table::write_csv;

use crate::book::model::{Book, Entry};
use crate::reckon::Reckoning;
use rayon::prelude::*;
use std::borrow::Cow;
use std::fmt::Display;

/// An entry as the record has it.
#[derive(Debug, Clone)]
pub struct Recorded<'b> {
    pub entry: &'b Entry,
    /// Of its content in canonical form. The content itself is told again from the entry whenever it is asked for: to
    /// keep that of every entry would take several times the memory.
    pub fingerprint: Fingerprint,
    /// The notes stand in the file as the record has them.
    as_written: bool,
}

impl<'b> Recorded<'b> {
    /// The public words of its notes, line by line, in NFC.
    #[must_use]
    pub fn notes(&self) -> Cow<'b, str> {
        if self.as_written { Cow::Borrowed(content::written_notes(self.entry)) } else { content::notes(self.entry) }
    }
}

/// The record of a public book as of a day.
#[derive(Debug, Clone)]
pub struct Record<'b> {
    /// Oldest first.
    pub entries: Vec<Recorded<'b>>,
    /// One fingerprint of all, 64 hexadecimal digits.
    pub fingerprint: String,
    book: &'b Book,
    pictures: pictures::Hashes,
}

impl<'b> Record<'b> {
    /// Of the entries of a reckoning, which must be of the public book.
    #[must_use]
    pub fn of(reckoning: &Reckoning<'b>, pictures: pictures::Hashes) -> Self {
        let book = reckoning.book;
        let recorded = |text: &mut Vec<u8>, entry: &&'b Entry| {
            let notes = content::notes(entry);
            let as_written = matches!(notes, Cow::Borrowed(_));
            text.clear();
            write_content(&content::of(book, entry, notes, &pictures), text);
            Recorded { entry, fingerprint: Fingerprint::of(text), as_written }
        };
        let entries: Vec<Recorded<'b>> = reckoning.entries.par_iter().map_init(Vec::new, recorded).collect();
        let fingerprint = of_all(entries.iter().map(|one| one.fingerprint));
        Self { entries, fingerprint, book, pictures }
    }

    /// What the fingerprint of an entry is of.
    #[must_use]
    pub fn content<'r>(&'r self, one: &'r Recorded<'b>) -> Content<'r> {
        content::of(self.book, one.entry, one.notes(), &self.pictures)
    }
}

/// The fingerprint of a whole record: SHA-256 of its fingerprints, sorted, each followed by a line feed.
#[must_use]
pub fn of_all(fingerprints: impl Iterator<Item = impl Ord + Display>) -> String {
    let mut sorted: Vec<_> = fingerprints.collect();
    sorted.sort_unstable();
    sha256_of_lines(sorted.into_iter())
}
