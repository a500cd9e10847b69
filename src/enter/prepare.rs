//! Holding an entry against the whole book, before anything is written.
//!
//! Only what the entry itself brings in counts against it: at sea a slip elsewhere in the book must
//! not keep a record out of the log.

use super::place::{Spot, spot_of};
use super::record::{record_of, same_content};
use crate::book::check::check;
use crate::book::diagnostic::{Diagnostic, any_error, brought_in, tidy};
use crate::book::load::{Loaded, entry_of};
use crate::book::model::{Book, Entry, JobRef};
use crate::book::source::Source;
use crate::reckon::reckon;
use jiff::civil::Date;
use std::collections::BTreeSet;

/// An entry that may be written.
#[derive(Debug)]
pub struct Prepared {
    pub spot: Spot,
    /// Of the names of the spot the first that is free.
    pub name: String,
    /// Path inside the book under that name; problems of the entry point there.
    pub path: String,
    /// What could be better, and no error.
    pub problems: Vec<Diagnostic>,
    /// An earlier state of the same record stands in the log already.
    pub former: Option<Former>,
    /// Open entries of jobs that this entry finishes: they stay open until they are closed.
    pub still_open: Vec<String>,
    /// Entries of the same jobs, finished on the same day.
    pub same_day: Vec<String>,
    /// The book has errors of its own.
    pub book_has_errors: bool,
}

/// An earlier state of the record, as path inside the book.
pub type Former = String;

/// Why an entry is not written.
#[derive(Debug)]
pub enum Refused {
    /// It has errors, or would make the book have some; `path` is where its own problems point.
    Problems { path: String, problems: Vec<Diagnostic> },
    /// The log has it already: path inside the book, and whether the crew has changed it there since.
    Already { path: String, changed: bool },
    /// The log has an earlier state of the record, still open: to close it is the crew's to do.
    Open(Former),
}

/// Where a candidate stands until its day and its work are known.
const NO_PLACE: &str = "log/entry.md";

/// Holds the text of an entry against the book.
///
/// # Errors
/// The entry has errors, or it is in the log already.
pub fn prepare(mut loaded: Loaded, text: &str, on: Date) -> Result<Prepared, Refused> {
    let mut problems_before = loaded.problems.clone();
    problems_before.extend(reckon(&loaded.book, on).1);
    let log: Vec<(&str, &str)> = texts_of_the_log(&loaded.book).collect();
    if let Some((path, _)) = log.iter().find(|(_, known)| same_content(known, text)) {
        return Err(Refused::Already { path: (*path).to_owned(), changed: false });
    }
    let (first_look, found) = entry_of(&Source::new(NO_PLACE, text));
    let Some(first_look) = first_look else { return Err(refused(NO_PLACE.to_owned(), found)) };
    // Of several states in the log the latest counts.
    let record = record_of(text);
    let states = log
        .iter()
        .filter_map(|(path, known)| Some((record_of(known)?, *path)))
        .filter(|(known, _)| Some(known.id) == record.map(|one| one.id));
    let former = states.max_by_key(|(known, _)| known.state);
    if let (Some(record), Some((known, path))) = (record, former)
        && record.state <= known.state
    {
        return Err(Refused::Already { path: path.to_owned(), changed: true });
    }
    let former: Option<Former> = former.map(|(_, path)| path.to_owned());
    if let Some(path) = &former
        && loaded.book.entries.iter().any(|entry| entry.source.path() == path && is_begun(entry, &first_look))
    {
        return Err(Refused::Open(path.clone()));
    }
    let still_open = opened_by_others(&loaded.book, &first_look, former.as_deref());
    let same_day = finished_the_same_day(&loaded.book, &first_look, former.as_deref());
    let spot = spot_of(&first_look);
    let taken: BTreeSet<String> = log.iter().map(|(path, _)| stem(path).to_lowercase()).collect();
    let name = spot.names().find(|name| !taken.contains(name)).unwrap_or_else(|| spot.stem.clone());
    let path = spot.path(&name);

    let source = Source::new(&path, text);
    let (entry, mut problems) = entry_of(&source);
    let Some(entry) = entry else { return Err(refused(path, problems)) };
    let place = loaded.book.entries.partition_point(|known| known.id < entry.id);
    loaded.book.entries.insert(place, entry);
    loaded.book.sources.insert(source.shared_path(), source);
    problems.extend(check(&loaded.book, &loaded.broken));
    problems.extend(reckon(&loaded.book, on).1);
    let problems = brought_in(&problems_before, problems);
    if any_error(&problems) {
        return Err(refused(path, problems));
    }
    Ok(Prepared { spot, name, path, problems, former, still_open, same_day, book_has_errors: any_error(&problems_before) })
}

fn refused(path: String, mut problems: Vec<Diagnostic>) -> Refused {
    tidy(&mut problems);
    Refused::Problems { path, problems }
}

/// Every file of the log with its text, readable as an entry or not.
fn texts_of_the_log(book: &Book) -> impl Iterator<Item = (&str, &str)> {
    book.sources.iter().filter(|(path, _)| path.starts_with("log/")).map(|(path, source)| (&**path, source.text()))
}

fn stem(path: &str) -> &str {
    let file = path.rsplit('/').next().unwrap_or(path);
    file.rsplit_once('.').map_or(file, |(stem, _)| stem)
}

/// Whether `entry` is the open beginning of what `later` says.
fn is_begun(entry: &Entry, later: &Entry) -> bool {
    entry.when.is_open() && !entry.jobs.is_empty() && names(&entry.jobs) == names(&later.jobs)
}

fn names(jobs: &[JobRef]) -> BTreeSet<(&str, Option<&str>)> {
    jobs.iter().map(|job| (job.guide.as_str(), job.gear.as_deref())).collect()
}

/// Open entries that name a job of this one, which is finished.
fn opened_by_others(book: &Book, entry: &Entry, former: Option<&str>) -> Vec<String> {
    if entry.when.is_open() {
        return Vec::new();
    }
    let finished = names(&entry.jobs);
    let open = open_entries(book, &finished, entry.when.day().date);
    open.filter(|path| Some(*path) != former).map(str::to_owned).collect()
}

/// Entries that leave one of these jobs open, begun no later than a day: their paths inside the book. A job is its guide
/// and its gear.
pub fn open_entries<'b>(book: &'b Book, jobs: &BTreeSet<(&str, Option<&str>)>, until: Date) -> impl Iterator<Item = &'b str> {
    let open = book.entries.iter().filter(move |entry| entry.when.is_open() && entry.when.day().date <= until);
    open.filter(move |entry| !names(&entry.jobs).is_disjoint(jobs)).map(|entry| entry.source.path())
}

/// Entries that finished just these jobs on this day.
fn finished_the_same_day(book: &Book, entry: &Entry, former: Option<&str>) -> Vec<String> {
    if entry.when.is_open() || entry.jobs.is_empty() || entry.when.day().about {
        return Vec::new();
    }
    let same = book.entries.iter().filter(|other| !other.when.is_open() && other.when.day() == entry.when.day());
    let same = same.filter(|other| names(&other.jobs) == names(&entry.jobs));
    same.map(|other| other.source.path().to_owned()).filter(|path| Some(path.as_str()) != former).collect()
}
