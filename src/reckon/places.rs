//! Places for what the reckoning finds.

use crate::book::diagnostic::{Diagnostic, Severity};
use crate::book::model::{Book, Entry};
use crate::book::source::{Place, Source, Span};

/// Where the rows of the bulk readings stand.
const METERS: &str = "meters.csv";
/// Where the stores stand.
const STORES: &str = "stores.yaml";
/// Where the passages stand.
const PASSAGES: &str = "passages.yaml";

/// Gathers what is found, with its places.
pub(super) struct Findings<'b> {
    book: &'b Book,
    pub(super) found: Vec<Diagnostic>,
}

impl<'b> Findings<'b> {
    pub(super) fn new(book: &'b Book) -> Self {
        Self { book, found: Vec::new() }
    }

    pub(super) fn in_entry(&self, entry: &Entry, span: Span) -> Place {
        entry.source.place(span)
    }

    pub(super) fn in_meters(&self, span: Span) -> Place {
        self.in_file(METERS, span)
    }

    pub(super) fn in_stores(&self, span: Span) -> Place {
        self.in_file(STORES, span)
    }

    pub(super) fn in_passages(&self, span: Span) -> Place {
        self.in_file(PASSAGES, span)
    }

    /// The place in a file of the book; of one that is not there, its beginning.
    fn in_file(&self, path: &str, span: Span) -> Place {
        self.book.sources.get(path).map_or_else(|| Source::new(path, "").place(span), |source| source.place(span))
    }

    pub(super) fn error(&mut self, rule: &'static str, place: Place, message: String, remedy: String) {
        self.note(rule, Severity::Error, place, message, remedy);
    }

    pub(super) fn warning(&mut self, rule: &'static str, place: Place, message: String, remedy: String) {
        self.note(rule, Severity::Warning, place, message, remedy);
    }

    pub(super) fn advice(&mut self, rule: &'static str, place: Place, message: String, remedy: String) {
        self.note(rule, Severity::Advice, place, message, remedy);
    }

    fn note(&mut self, rule: &'static str, severity: Severity, place: Place, message: String, remedy: String) {
        self.found.push(Diagnostic { rule, severity, place, message, remedy });
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_place_in_a_file_that_is_not_there_is_its_beginning() {
        let book = Book::default();
        let place = Findings::new(&book).in_stores(Span::new(40, 50));
        assert_eq!((place.file.as_str(), place.line, place.column), ("stores.yaml", 1, 1));
    }
}
