//! Reads a folder into a [`Book`]. Beside `find`, which lists its files, the only part of `book` that touches the disk.
//!
//! Every problem is gathered; a file that cannot be used is left out and named in [`Loaded::broken`].

#![expect(clippy::disallowed_methods, reason = "reads the files of a book")]

use super::check::{self, Aside};
use super::decode;
use super::decode::above::{Told, decoded};
use super::diagnostic::{Diagnostic, Notes, Severity, tidy};
use super::find::{self, Class, Found};
use super::model::{Boat, Book, Entry, Guide, MeterRow, StoreItem, Tool};
use super::node::{self, Node, Reading};
use super::public::Withheld;
use super::received;
use super::source::{Source, Span};
use super::unlisted;
use super::usual;
use crate::disk;
use rayon::prelude::*;
use std::collections::BTreeSet;
use std::fs::File;
use std::io::{self, Read};
use std::path::{Path, PathBuf};

/// Largest text file of a book, in bytes; a long guide has a hundredth of it.
pub const LARGEST_TEXT: u64 = 4 * 1024 * 1024;
/// Largest `meters.csv`, in bytes: some ten readings a day for a century.
pub const LARGEST_CSV: u64 = 16 * 1024 * 1024;

/// A book as read, with everything that is wrong with it.
#[derive(Debug, Default)]
pub struct Loaded {
    pub book: Book,
    /// Sorted by place.
    pub problems: Vec<Diagnostic>,
    /// Files of which nothing could be used.
    pub broken: BTreeSet<String>,
}

/// Why there is no book to read at all.
#[derive(Debug)]
pub struct NoBook {
    pub folder: PathBuf,
    pub why: String,
    pub remedy: String,
}

impl std::fmt::Display for NoBook {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "cannot read the book `{}`: {}", self.folder.display(), self.why)
    }
}

/// Reads the book in `folder` and checks it.
///
/// # Errors
/// The folder is not there or cannot be listed. Everything else is a problem of the book.
pub fn load(folder: &Path) -> Result<Loaded, NoBook> {
    let (found, mut problems) = find::find(folder)?;
    // First, for it says what of the others a public edition leaves out.
    let boat = found.iter().find(|file| file.class == Class::Boat).map(|file| parse(folder, file, &Withheld::default()));
    let withheld = match &boat {
        Some(Parsed { content: Some(Content::Boat(boat)), .. }) => Withheld::of(boat),
        _ => Withheld::default(),
    };
    let others = found.par_iter().filter(|file| !matches!(file.class, Class::Other | Class::Boat));
    let others: Vec<Parsed> = others.map(|file| parse(folder, file, &withheld)).collect();
    let mut loaded = Loaded { book: Book { withheld, ..Book::default() }, ..Loaded::default() };
    for file in &found {
        if file.class == Class::Other {
            loaded.book.files.insert(file.path.clone(), file.size);
        }
    }
    let mut own_hazards = Vec::new();
    let mut aside = Aside::default();
    let mut has_boat = false;
    for file in boat.into_iter().chain(others) {
        problems.extend(file.problems);
        let path = file.source.path().to_owned();
        loaded.book.sources.insert(file.source.shared_path(), file.source);
        match file.content {
            None => {
                has_boat |= path == "boat.yaml";
                loaded.broken.insert(path);
            }
            Some(Content::Boat(boat)) => {
                has_boat = true;
                loaded.book.boat = *boat;
            }
            Some(Content::Stores(stores)) => loaded.book.stores = stores,
            Some(Content::Tools(tools)) => loaded.book.tools = tools,
            Some(Content::Passages(passages)) => {
                loaded.book.passages = passages.whole;
                aside.passage_meters = passages.undated;
            }
            Some(Content::Cautions(hazards)) => own_hazards = hazards,
            Some(Content::Meters(rows)) => loaded.book.readings = rows,
            Some(Content::Guide(guide)) => loaded.book.guides.push(guide),
            Some(Content::Entry(entry)) => loaded.book.entries.push(entry),
            Some(Content::Aside(half)) => {
                aside.guides.extend(half.guides);
                aside.entries.extend(half.entries);
                loaded.broken.insert(path);
            }
        }
    }
    if !has_boat {
        // What it would have named is not missed name by name.
        loaded.broken.insert("boat.yaml".to_owned());
        problems.push(whole_file(
            "boat.yaml",
            "no-boat",
            "there is no `boat.yaml` in this book",
            "write one with at least `name: …`, or name the book's folder with `--book DIR`",
        ));
    }
    loaded.book.hazards = usual::usual(&loaded.book.boat.language);
    problems.extend(add_hazards(&mut loaded.book, own_hazards));
    problems.extend(sort_and_dedup(&mut loaded.book));
    unlisted::name_systems(&mut loaded.book);
    problems.extend(check::check_with(&loaded.book, &loaded.broken, &aside));
    received::settle(&mut loaded.book);
    tidy(&mut problems);
    let errors = problems.iter().filter(|problem| problem.severity == Severity::Error);
    loaded.book.faulty = errors.map(|problem| problem.place.file.clone()).collect();
    loaded.problems = problems;
    Ok(loaded)
}

/// A problem of a file as a whole.
fn whole_file(path: &str, rule: &'static str, message: impl Into<String>, remedy: impl Into<String>) -> Diagnostic {
    Diagnostic::of_file(path, rule, Severity::Error, message, remedy)
}

/// A file that is there and cannot be read: it must not be missing without a word.
#[must_use]
pub fn unreadable(path: &str, error: &io::Error) -> Diagnostic {
    whole_file(
        path,
        "unreadable",
        format!("this file cannot be read: {}", disk::why(error)),
        "check that it is there and that you may read it",
    )
}

struct Parsed {
    source: Source,
    problems: Vec<Diagnostic>,
    content: Option<Content>,
}

enum Content {
    Boat(Box<Boat>),
    Stores(Vec<StoreItem>),
    Tools(Vec<Tool>),
    Passages(decode::passages::Passages),
    Cautions(Vec<decode::cautions::OwnHazard>),
    Meters(Vec<MeterRow>),
    Guide(Guide),
    Entry(Entry),
    /// No part of the book.
    Aside(Aside),
}

fn parse(folder: &Path, file: &Found, withheld: &Withheld) -> Parsed {
    let text = match read_text(folder, file) {
        Ok(text) => text,
        Err(problem) => {
            return Parsed { source: Source::new(&file.path, ""), problems: vec![*problem], content: None };
        }
    };
    let source = Source::new(&file.path, text);
    let mut notes = Notes::knowing(&source, withheld);
    let content = parse_text(&mut notes, file);
    let problems = notes.found;
    Parsed { source, problems, content }
}

/// Reads a text as an entry of the book, as [`load`] would where its path says; not checked against
/// the rest of the book. `None` where nothing of it can be used.
#[must_use]
pub fn entry_of(source: &Source) -> (Option<Entry>, Vec<Diagnostic>) {
    let mut notes = Notes::new(source);
    let file = Found { path: source.path().to_owned(), class: Class::Entry, size: source.text().len() as u64 };
    let entry = match parse_text(&mut notes, &file) {
        Some(Content::Entry(entry)) => Some(entry),
        _ => None,
    };
    (entry, notes.found)
}

/// Reads a text as a guide of the book, as [`entry_of`] reads an entry.
#[must_use]
pub fn guide_of(source: &Source) -> (Option<Guide>, Vec<Diagnostic>) {
    let mut notes = Notes::new(source);
    let file = Found { path: source.path().to_owned(), class: Class::Guide, size: source.text().len() as u64 };
    let guide = match parse_text(&mut notes, &file) {
        Some(Content::Guide(guide)) => Some(guide),
        _ => None,
    };
    (guide, notes.found)
}

/// Reads an entry again, keys that are withheld passed over. What was wrong with it has been said.
pub(super) fn read_entry_again(source: &Source, withheld: &Withheld) -> Option<Entry> {
    decode::entry::read(&mut Notes::withholding(source, withheld))
}

/// Reads a guide again, as [`read_entry_again`] reads an entry.
pub(super) fn read_guide_again(source: &Source, withheld: &Withheld) -> Option<Guide> {
    decode::guide::read(&mut Notes::withholding(source, withheld))
}

/// Reads lists of a book again, keys that are withheld passed over, and adds them to `book`. What was
/// wrong with them has been said.
pub(super) fn read_again(book: &mut Book, sources: &[Source], withheld: &Withheld) {
    let read = |source: &Source| {
        let path = source.path();
        let file = Found { path: path.to_owned(), class: find::class_of(path), size: source.text().len() as u64 };
        parse_text(&mut Notes::withholding(source, withheld), &file)
    };
    for content in sources.par_iter().map(read).collect::<Vec<_>>() {
        match content {
            Some(Content::Boat(boat)) => book.boat = *boat,
            Some(Content::Stores(stores)) => book.stores = stores,
            Some(Content::Tools(tools)) => book.tools = tools,
            Some(Content::Meters(rows)) => book.readings = rows,
            Some(Content::Cautions(own)) => {
                let new = own.into_iter().map(|own| own.hazard).filter(|own| !book.hazards.iter().any(|known| known.id == own.id));
                book.hazards.extend(new.collect::<Vec<_>>());
            }
            Some(Content::Guide(_) | Content::Entry(_) | Content::Passages(_) | Content::Aside(_)) | None => {}
        }
    }
}

/// Reads a list of a book again from another text; what it refers to is not checked.
pub(crate) fn read_list_again(book: &mut Book, source: &Source) {
    read_again(book, std::slice::from_ref(source), &Withheld::default());
    book.sources.insert(source.shared_path(), source.clone());
}

fn parse_text(notes: &mut Notes<'_>, file: &Found) -> Option<Content> {
    let text = notes.source().text();
    if let Some(at) = text.find('\0') {
        notes.error("control-character", Span::new(at, at + 1), "a NUL byte: this is no text file", "save it as plain UTF-8 text");
        return None;
    }
    let whole = Span::new(if text.starts_with('\u{feff}') { 3 } else { 0 }, text.len());
    match file.class {
        Class::Guide => match decode::guide::read_as_far_as_possible(notes) {
            Told::Whole(guide) => guide.map(Content::Guide),
            Told::Above(guide) => guide.map(|guide| Content::Aside(Aside { guides: vec![guide], ..Aside::default() })),
        },
        Class::Entry => match decode::entry::read_as_far_as_possible(notes) {
            Told::Whole(entry) => entry.map(Content::Entry),
            Told::Above(entry) => entry.map(|entry| Content::Aside(Aside { entries: vec![entry], ..Aside::default() })),
        },
        Class::Meters => decode::meters_csv::decode(notes).map(Content::Meters),
        Class::Boat => boat(notes, whole).map(|boat| Content::Boat(Box::new(boat))),
        Class::Stores => list(notes, whole, decode::stores::decode).map(Content::Stores),
        Class::Tools => list(notes, whole, decode::tools::decode).map(Content::Tools),
        Class::Passages => list(notes, whole, decode::passages::decode).map(Content::Passages),
        Class::Cautions => list(notes, whole, decode::cautions::decode).map(Content::Cautions),
        Class::Other => None,
    }
}

fn boat(notes: &mut Notes<'_>, span: Span) -> Option<Boat> {
    let read = node::read_as_far_as_possible(notes, span);
    if matches!(read, Reading::Whole(None)) {
        notes.error("empty-file", Span::new(0, 0), "this file is empty", "write at least `name: …` into it");
    }
    decoded(notes, &read, decode::boat::decode).whole()
}

/// A file that holds a list; empty is fine.
fn list<T: Default>(notes: &mut Notes<'_>, span: Span, decode: impl Fn(&mut Notes<'_>, &Node<'_>) -> Option<T>) -> Option<T> {
    let read = node::read_as_far_as_possible(notes, span);
    match &read {
        Reading::Whole(None) => Some(T::default()),
        Reading::Whole(Some(node)) if node.is_null() => Some(T::default()),
        _ => decoded(notes, &read, decode).whole(),
    }
}

/// Reads a file as UTF-8, refusing what is too large to be meant.
fn read_text(folder: &Path, file: &Found) -> Result<String, Box<Diagnostic>> {
    let limit = if file.class == Class::Meters { LARGEST_CSV } else { LARGEST_TEXT };
    let refuse = |rule, message: String, remedy: &str| Box::new(whole_file(&file.path, rule, message, remedy));
    let (size, bytes) = read_at_most(&folder.join(&file.path), limit).map_err(|error| Box::new(unreadable(&file.path, &error)))?;
    if size > limit {
        return Err(refuse(
            "too-large",
            format!("this file has {} MB, and a text of the book at most {} MB", size / 1_000_000, limit / 1_000_000),
            "look whether it is a picture or a copy gone wrong; split a very long text",
        ));
    }
    if bytes.len() as u64 > limit {
        return Err(refuse("too-large", "this file grew while it was read".to_owned(), "try again"));
    }
    text_of(&file.path, bytes)
}

/// The size of a file as it is opened, and its bytes, but none where it is larger than `limit`, and no
/// more than one beyond where it grows.
fn read_at_most(path: &Path, limit: u64) -> io::Result<(u64, Vec<u8>)> {
    let file = File::open(path)?;
    let size = file.metadata()?.len();
    if size > limit {
        return Ok((size, Vec::new()));
    }
    // One byte of room to spare: the end is then seen without asking for more of it.
    let mut bytes = Vec::with_capacity(usize::try_from(size).unwrap_or_default().saturating_add(1));
    file.take(limit + 1).read_to_end(&mut bytes)?;
    Ok((size, bytes))
}

/// The text of a file of the book; `path` is what a problem names it by.
///
/// # Errors
/// The bytes are not UTF-8 (`not-utf-8`).
pub fn text_of(path: &str, bytes: Vec<u8>) -> Result<String, Box<Diagnostic>> {
    String::from_utf8(bytes).map_err(|error| {
        let at = error.utf8_error().valid_up_to();
        let lossy = String::from_utf8_lossy(error.as_bytes()).into_owned();
        let source = Source::new(path, lossy);
        // Up to the first bad byte the lossy text and the file agree.
        let place = source.place(Span::new(at, at + '\u{fffd}'.len_utf8()));
        Box::new(Diagnostic {
            rule: "not-utf-8",
            severity: Severity::Error,
            place,
            message: "this file is not UTF-8 text".to_owned(),
            remedy: "save it as UTF-8: the editor's `save as` has a choice of encodings".to_owned(),
        })
    })
}

/// Adds the hazards of `cautions.yaml`; those that ship can be neither reworded nor dropped.
fn add_hazards(book: &mut Book, own: Vec<decode::cautions::OwnHazard>) -> Vec<Diagnostic> {
    let Some(source) = book.sources.get("cautions.yaml").cloned() else { return Vec::new() };
    let mut notes = Notes::new(&source);
    for hazard in own {
        if book.hazards.iter().any(|known| known.id == hazard.hazard.id) {
            notes.error(
                "usual-caution",
                hazard.span,
                format!("`{}` is a hazard that ships with the program", hazard.hazard.id),
                "give yours an id of its own; the usual cautions are neither reworded nor dropped",
            );
        } else {
            book.hazards.push(hazard.hazard);
        }
    }
    notes.found
}

/// Sorts guides and entries by id and keeps the first of two with the same id.
fn sort_and_dedup(book: &mut Book) -> Vec<Diagnostic> {
    let mut problems = keep_first(&mut book.guides, "guide", |guide| (guide.id.as_str(), guide.source.path()));
    problems.extend(keep_first(&mut book.entries, "entry", |entry| (entry.id.as_str(), entry.source.path())));
    problems
}

/// `naming` gives the id and the path of each.
fn keep_first<T>(all: &mut Vec<T>, what: &str, naming: impl Fn(&T) -> (&str, &str)) -> Vec<Diagnostic> {
    let mut problems = Vec::new();
    all.sort_by(|a, b| naming(a).cmp(&naming(b)));
    all.dedup_by(|later, kept| {
        let ((id, path), (first, first_path)) = (naming(later), naming(kept));
        let same = id == first;
        if same {
            problems.push(whole_file(
                path,
                "duplicate-id",
                format!("another {what} has the id `{id}` already: `{first_path}`"),
                "give one of the two files another name; ids are unique over all folders",
            ));
        }
        same
    });
    problems
}
