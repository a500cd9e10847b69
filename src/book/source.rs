//! A file of the book as it was read, and places in it.
//!
//! Every value that a diagnostic may point at keeps a [`Span`]: byte offsets into the text of its
//! file. Lines and columns are reckoned only when something is said about a place.

use std::borrow::Cow;
use std::fmt;
use std::sync::{Arc, OnceLock};

/// A stretch of a file: byte offsets, end excluded.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Hash, PartialOrd, Ord)]
pub struct Span {
    pub start: u32,
    pub end: u32,
}

impl Span {
    /// A span from byte offsets; offsets past 4 GiB are cut (no file of a book is read that large).
    #[must_use]
    pub fn new(start: usize, end: usize) -> Self {
        let (start, end) = (place(start), place(end));
        Self { start, end: end.max(start) }
    }

    /// The byte range, for slicing.
    #[must_use]
    pub fn range(self) -> std::ops::Range<usize> {
        self.start as usize..self.end as usize
    }

    /// Whether `other` lies wholly inside.
    #[must_use]
    pub fn contains(self, other: Self) -> bool {
        self.start <= other.start && other.end <= self.end
    }
}

/// A value with the place it was written at.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Placed<T> {
    pub value: T,
    pub span: Span,
}

impl<T> Placed<T> {
    /// Puts a value at a place.
    pub fn new(value: T, span: Span) -> Self {
        Self { value, span }
    }
}

/// A name that refers to something by its id, with the place where it was written.
pub type Name = Placed<String>;

/// One text file of the book, or a stretch of it. Cloning is cheap.
#[derive(Clone)]
pub struct Source {
    file: Arc<File>,
    /// What of the text may be seen.
    shown: Span,
}

struct File {
    path: Arc<str>,
    text: Box<str>,
    /// Where each line begins; found when a place is first asked for.
    lines: OnceLock<Box<[u32]>>,
}

/// Where a diagnostic points, with what is needed to show it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Place {
    /// Path inside the book, with forward slashes.
    pub file: String,
    /// Counted from 1.
    pub line: usize,
    /// Counted from 1, in characters.
    pub column: usize,
    /// The line (or, of a very long one, the part round the place).
    pub excerpt: String,
    /// Byte range of the place in `excerpt`.
    pub mark: std::ops::Range<usize>,
}

/// The byte-order mark with which a text may begin.
const MARK: char = '\u{feff}';

/// How much of a long line is shown on either side of a place, in bytes.
const EXCERPT_REACH: usize = 2000;

/// Shows what may be seen.
impl fmt::Debug for Source {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Source").field("path", &self.path()).field("shown", &self.slice(self.shown)).finish()
    }
}

/// The folder that a file stands in, inside the book: `guides/engine` for `guides/engine/oil.md`.
#[must_use]
pub fn folder_of(path: &str) -> &str {
    path.rsplit_once('/').map_or("", |(folder, _)| folder)
}

impl Source {
    /// A file of the book: its path inside the book, and its text.
    #[must_use]
    pub fn new(path: impl Into<String>, text: impl Into<String>) -> Self {
        let (path, text): (String, String) = (path.into(), text.into());
        let shown = Span::new(0, text.len());
        Self { file: Arc::new(File { path: path.into(), text: text.into(), lines: OnceLock::new() }), shown }
    }

    /// The same file, of which nothing can be seen outside of this stretch.
    #[must_use]
    pub fn only(&self, stretch: Span) -> Self {
        let start = stretch.start.clamp(self.shown.start, self.shown.end);
        let shown = Span { start, end: stretch.end.clamp(start, self.shown.end) };
        Self { file: Arc::clone(&self.file), shown }
    }

    /// Whether all of the file can be seen.
    fn is_whole(&self) -> bool {
        self.shown.range() == (0..self.file.text.len())
    }

    /// Path inside the book, with forward slashes.
    #[must_use]
    pub fn path(&self) -> &str {
        &self.file.path
    }

    /// The folder it stands in, as [`folder_of`] has it.
    #[must_use]
    pub fn folder(&self) -> &str {
        folder_of(self.path())
    }

    /// The path, shared with whoever keeps it.
    #[must_use]
    pub fn shared_path(&self) -> Arc<str> {
        Arc::clone(&self.file.path)
    }

    /// The whole text; nothing of a file of which only a stretch can be seen.
    #[must_use]
    pub fn text(&self) -> &str {
        if self.is_whole() { &self.file.text } else { "" }
    }

    /// The text with blanks for what cannot be seen: places in it are those in the file.
    #[must_use]
    pub fn blanked(&self) -> Cow<'_, str> {
        if self.is_whole() {
            return Cow::Borrowed(&self.file.text);
        }
        let mut text = " ".repeat(self.shown.start as usize);
        text.push_str(self.slice(self.shown));
        Cow::Owned(text)
    }

    /// The text at a span; empty where the span does not fit, or cannot be seen.
    #[must_use]
    pub fn slice(&self, span: Span) -> &str {
        self.file.text.get(span.range()).filter(|_| self.shown.contains(span)).unwrap_or_default()
    }

    /// Reckons line, column and excerpt of a span. There is no excerpt of a file of which only a stretch can be seen.
    #[must_use]
    pub fn place(&self, span: Span) -> Place {
        let text = &*self.file.text;
        let start = floor_boundary(text, span.start as usize);
        let end = floor_boundary(text, span.end as usize).max(start);
        let lines =
            self.file.lines.get_or_init(|| std::iter::once(0).chain(text.match_indices('\n').map(|(at, _)| place(at + 1))).collect());
        let line = lines.partition_point(|begin| *begin as usize <= start);
        let line_start = line.checked_sub(1).and_then(|at| lines.get(at)).map_or(0, |begin| *begin as usize);
        // No editor shows a byte-order mark, or counts it.
        let line_start = if line_start == 0 && text.starts_with(MARK) { MARK.len_utf8().min(start) } else { line_start };
        let line_end = lines.get(line).map_or(text.len(), |next| *next as usize - 1);
        let column = text[line_start..start].chars().count() + 1;
        if !self.is_whole() {
            return Place { file: self.path().to_owned(), line, column, excerpt: String::new(), mark: 0..0 };
        }
        let cut_start = floor_boundary(text, start.saturating_sub(EXCERPT_REACH).max(line_start));
        let reach = (end.min(line_end)).max(start).saturating_add(EXCERPT_REACH);
        let cut_end = floor_boundary(text, reach.min(line_end).min(start.saturating_add(4 * EXCERPT_REACH)));
        let excerpt = text[cut_start..cut_end.max(start)].trim_end_matches('\r').to_owned();
        let mark_start = (start - cut_start).min(excerpt.len());
        let mark_end = end.saturating_sub(cut_start).clamp(mark_start, excerpt.len());
        Place { file: self.path().to_owned(), line, column, excerpt, mark: mark_start..mark_end }
    }
}

/// A byte offset, as places keep it; one past 4 GiB is cut.
fn place(offset: usize) -> u32 {
    u32::try_from(offset).unwrap_or(u32::MAX)
}

/// The nearest character boundary at or before `at`.
fn floor_boundary(text: &str, at: usize) -> usize {
    let mut at = at.min(text.len());
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn case(text: &str, span: (usize, usize), expected: (usize, usize, &str, &str)) {
        let place = Source::new("f.md", text).place(Span::new(span.0, span.1));
        let marked = &place.excerpt[place.mark.clone()];
        assert_eq!((place.line, place.column, place.excerpt.as_str(), marked), expected);
    }

    #[test]
    fn lines_and_columns_count_from_one_and_columns_are_characters() {
        case("abc", (0, 1), (1, 1, "abc", "a"));
        case("a\nbcd\n", (3, 4), (2, 2, "bcd", "c"));
        case("é ü x", (6, 7), (1, 5, "é ü x", "x"));
        case("a\r\nb\r\n", (3, 4), (2, 1, "b", "b"));
        case("ab", (2, 2), (1, 3, "ab", ""));
    }

    #[test]
    fn a_byte_order_mark_is_no_column() {
        case("\u{feff}abc\ndef", (3, 4), (1, 1, "abc", "a"));
        case("\u{feff}abc\ndef", (5, 6), (1, 3, "abc", "c"));
        case("\u{feff}abc\ndef", (7, 8), (2, 1, "def", "d"));
        assert_eq!(Source::new("f.md", "\u{feff}").place(Span::new(0, 0)).column, 1);
    }

    #[test]
    fn a_place_that_does_not_fit_is_brought_inside() {
        case("é", (1, 40), (1, 1, "é", "é"));
        case("", (5, 9), (1, 1, "", ""));
        case("a\nb", (0, 3), (1, 1, "a", "a"));
    }

    #[test]
    fn a_very_long_line_is_shown_in_part() {
        let text = format!("{}X{}", "a".repeat(50_000), "b".repeat(50_000));
        let place = Source::new("f", text).place(Span::new(50_000, 50_001));
        assert_eq!(place.column, 50_001);
        assert!(place.excerpt.len() < 5000);
        assert_eq!(&place.excerpt[place.mark.clone()], "X");
    }

    #[test]
    fn of_a_stretch_nothing_else_is_seen() {
        let whole = Source::new("f.md", "secret\nséen\nmore");
        assert_eq!(whole.blanked(), whole.text());
        let source = whole.only(Span::new(7, 13));
        assert_eq!((source.slice(Span::new(7, 12)), source.slice(Span::new(7, 13))), ("séen", "séen\n"));
        for (start, end) in [(0, 6), (6, 8), (12, 14), (0, 17)] {
            assert_eq!(source.slice(Span::new(start, end)), "", "{start}..{end}");
        }
        assert_eq!((source.text(), source.blanked().as_ref()), ("", "       séen\n"));
        let place = source.place(Span::new(0, 3));
        assert_eq!((place.line, place.column, place.excerpt.as_str()), (1, 1, ""));
        assert_eq!(source.only(Span::new(0, 17)).slice(Span::new(0, 17)), "", "a stretch never grows");
    }
}
