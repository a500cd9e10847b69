//! Places for what the reckoning finds, cheap even when a long file has thousands of them.
//!
//! A [`Source`] counts lines from the top each time; here the starts of the lines are found once a
//! file, so that a past `--on` date does not make every later row of a long `meters.csv` costly.

use std::cell::OnceCell;

use crate::book::diagnostic::{Diagnostic, Severity};
use crate::book::model::{Book, Entry};
use crate::book::source::{Place, Source, Span};

/// Where the rows of the bulk readings stand.
const METERS: &str = "meters.csv";
/// Where the stores stand.
const STORES: &str = "stores.yaml";

/// Gathers what is found, with its places.
pub(super) struct Findings<'b> {
    book: &'b Book,
    meters: OnceCell<Lines>,
    stores: OnceCell<Lines>,
    pub(super) found: Vec<Diagnostic>,
}

impl<'b> Findings<'b> {
    pub(super) fn new(book: &'b Book) -> Self {
        Self { book, meters: OnceCell::new(), stores: OnceCell::new(), found: Vec::new() }
    }

    pub(super) fn in_entry(&self, entry: &Entry, span: Span) -> Place {
        entry.source.place(span)
    }

    pub(super) fn in_meters(&self, span: Span) -> Place {
        self.meters.get_or_init(|| Lines::of(self.book, METERS)).place(span)
    }

    pub(super) fn in_stores(&self, span: Span) -> Place {
        self.stores.get_or_init(|| Lines::of(self.book, STORES)).place(span)
    }

    pub(super) fn error(&mut self, rule: &'static str, place: Place, message: String, remedy: String) {
        self.note(rule, Severity::Error, place, message, remedy);
    }

    pub(super) fn warning(&mut self, rule: &'static str, place: Place, message: String, remedy: String) {
        self.note(rule, Severity::Warning, place, message, remedy);
    }

    fn note(&mut self, rule: &'static str, severity: Severity, place: Place, message: String, remedy: String) {
        self.found.push(Diagnostic { rule, severity, place, message, remedy });
    }
}

/// A file with the start of each of its lines.
struct Lines {
    source: Source,
    starts: Vec<usize>,
}

impl Lines {
    fn of(book: &Book, path: &str) -> Self {
        let source = match book.sources.get(path) {
            Some(source) => source.clone(),
            None => Source::new(path, ""),
        };
        let breaks = source.text().bytes().enumerate();
        let starts = std::iter::once(0).chain(breaks.filter(|(_, byte)| *byte == b'\n').map(|(at, _)| at + 1)).collect();
        Self { source, starts }
    }

    /// The same as [`Source::place`], without counting from the top.
    fn place(&self, span: Span) -> Place {
        let start = span.start as usize;
        let before = self.starts.partition_point(|line| *line <= start).saturating_sub(1);
        let (Some(&line_start), text) = (self.starts.get(before), self.source.text()) else {
            return self.source.place(span);
        };
        let line_end = self.starts.get(before + 1).copied().unwrap_or(text.len());
        let Some(line) = text.get(line_start..line_end) else {
            return self.source.place(span);
        };
        let within = Span::new(start - line_start, (span.end as usize).saturating_sub(line_start));
        let mut place = Source::new(self.source.path(), line.trim_end_matches('\n')).place(within);
        place.line = before + 1;
        place
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_are_those_that_the_source_itself_gives() {
        let text = "date,meter,value\r\n2026-01-05,engine,1840.5\r\n\r\n2026-02-01,é,3\r\nlast";
        let source = Source::new(METERS, text);
        let mut book = Book::default();
        book.sources.insert(METERS.to_owned(), source.clone());
        let findings = Findings::new(&book);
        for start in 0..=text.len() {
            for end in start..=(start + 9).min(text.len()) {
                // A span over a line's end is marked up to that end; the source marks the same.
                let span = Span::new(start, end);
                let (ours, its) = (findings.in_meters(span), source.place(span));
                assert_eq!((ours.line, ours.column), (its.line, its.column), "{span:?}");
                assert_eq!(ours.excerpt, its.excerpt, "{span:?}");
            }
        }
    }

    #[test]
    fn a_place_in_a_file_that_is_not_there_is_its_beginning() {
        let book = Book::default();
        let place = Findings::new(&book).in_stores(Span::new(40, 50));
        assert_eq!((place.file.as_str(), place.line, place.column), ("stores.yaml", 1, 1));
    }
}
