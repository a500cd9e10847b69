//! The fate of every row: an entry of its own, in the log already, doubtful, or wrong. All entries
//! are held against the whole book at once, so that a meter that two rows contradict is seen.

use super::columns::{Columns, Target};
use super::dates::Dates;
use super::names::Names;
use super::numbers::DecimalMark;
use super::row::{Values, hash_of, words_of};
use super::table::{Row, Table};
use super::taken::Taken;
use super::{CsvProblem, values};
use crate::book::check::check;
use crate::book::diagnostic::{Diagnostic, Severity, any_error, brought_in};
use crate::book::load::{Loaded, entry_of};
use crate::book::model::{Book, Entry};
use crate::book::source::Source;
use crate::enter::{Spot, spot_of};
use crate::reckon::reckon;
use jiff::civil::Date;
use std::collections::HashMap;

/// What becomes of a row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Fate {
    /// It becomes an entry at this path inside the book.
    New(String),
    /// The log has it, at this path inside the book.
    Already(String),
    /// It cannot become an entry.
    Wrong,
}

impl Fate {
    /// Where it becomes an entry.
    fn new_path(&self) -> Option<&str> {
        if let Self::New(path) = self { Some(path) } else { None }
    }
}

/// A row with its fate.
#[derive(Debug, Clone)]
pub struct Judged {
    /// Line of the file, from 1.
    pub line: u64,
    /// As the entry has it; as the row has it where that is no day.
    pub date: String,
    /// Its jobs and its work.
    pub what: String,
    pub fate: Fate,
    /// What speaks against it.
    pub problems: Vec<CsvProblem>,
    /// What the crew should look at.
    pub doubts: Vec<String>,
    /// The entry, where it becomes one.
    pub text: String,
    pub spot: Option<Spot>,
}

/// All rows, and what they do to the rest of the book.
#[derive(Debug)]
pub struct Judgement {
    pub rows: Vec<Judged>,
    /// Problems that the new entries bring up in other files.
    pub elsewhere: Vec<Diagnostic>,
    /// The book has errors of its own.
    pub book_has_errors: bool,
}

impl Judgement {
    /// The entries may be written.
    #[must_use]
    pub fn is_sound(&self) -> bool {
        !any_error(&self.elsewhere) && self.rows.iter().all(|row| row.fate != Fate::Wrong)
    }

    /// The rows that become entries.
    pub fn new_ones(&self) -> impl Iterator<Item = &Judged> {
        self.rows.iter().filter(|row| matches!(row.fate, Fate::New(_)))
    }
}

/// How cells are read.
#[derive(Debug, Clone, Copy)]
pub struct Reading<'r> {
    pub table: &'r Table,
    pub columns: &'r Columns,
    pub dates: Dates,
    /// As the crew said; else as the numbers of the file show.
    pub decimal: Option<DecimalMark>,
    pub names: &'r Names,
}

/// Judges every row as of a day.
#[must_use]
pub fn judge(mut loaded: Loaded, reading: Reading<'_>, on: Date) -> Judgement {
    let mut before = loaded.problems.clone();
    before.extend(reckon(&loaded.book, on).1);
    let mut rows = Vec::new();
    let mut made = Vec::new();
    let mut judging = Judging {
        reading,
        on,
        mark: reading.decimal.or_else(|| shown_mark(reading)),
        taken: Taken::of(&loaded.book),
        counts: HashMap::new(),
    };
    for row in &reading.table.rows {
        let (judged, one) = judging.row_fate(row, &loaded.book);
        rows.push(judged);
        made.extend(one);
    }
    let elsewhere = hold_against_book(&mut rows, made, &mut loaded, &before, on);
    for row in rows.iter_mut().filter(|row| !row.problems.is_empty()) {
        row.fate = Fate::Wrong;
    }
    Judgement { rows, elsewhere, book_has_errors: any_error(&before) }
}

/// The text of an entry to be, and what it says where that can be read.
struct Made {
    source: Source,
    entry: Option<Entry>,
}

/// What is known while row after row is judged.
struct Judging<'r> {
    reading: Reading<'r>,
    on: Date,
    mark: Option<DecimalMark>,
    taken: Taken,
    /// How many rows had the same words so far.
    counts: HashMap<String, u32>,
}

impl Judging<'_> {
    /// What becomes of a row by itself.
    fn row_fate(&mut self, row: &Row, book: &Book) -> (Judged, Option<Made>) {
        let words = words_of(&self.reading.table.header, row);
        let count = self.counts.entry(words.clone()).and_modify(|count| *count += 1).or_insert(1);
        let hash = hash_of(&words, *count);
        let (values, problems) = values_of(self.reading, row, self.mark, book);
        let mut judged = Judged {
            line: row.line,
            date: values.date.clone(),
            what: values.what(),
            fate: Fate::Wrong,
            problems,
            doubts: Vec::new(),
            text: String::new(),
            spot: None,
        };
        if let Some(path) = self.taken.row(&hash) {
            judged.fate = Fate::Already(path.to_owned());
            judged.problems.clear();
            return (judged, None);
        }
        judged.doubts = doubts_of_name(self.reading, row);
        if !judged.problems.is_empty() {
            return (judged, None);
        }
        let text = values.text(&hash);
        let Some(spot) = entry_of(&Source::new("log/entry.md", text.as_str())).0.map(|entry| spot_of(&entry)) else {
            judged.problems.push(CsvProblem::new("the row makes no entry", "look at its cells"));
            return (judged, None);
        };
        let path = spot.path(&self.taken.free(&spot));
        let source = Source::new(&path, text.as_str());
        let (entry, found) = entry_of(&source);
        judged.add_all(found);
        if let Some(entry) = &entry {
            let (date, on) = (entry.when.day().date, self.on);
            if date > on {
                judged.problems.push(CsvProblem::new(
                    format!("{date} is later than {on}: work that lies ahead is no history"),
                    "correct the date of the row, or take the row out",
                ));
            }
            judged.doubts.extend(self.taken.doubts(entry));
            self.taken.add(entry, format!("line {}", row.line));
        }
        judged.fate = Fate::New(path);
        judged.text = text;
        judged.spot = Some(spot);
        (judged, Some(Made { source, entry }))
    }
}

/// Puts all entries to be into the book, and gives each row what they bring in there; what they bring up in files of the
/// log is returned.
fn hold_against_book(rows: &mut [Judged], made: Vec<Made>, loaded: &mut Loaded, before: &[Diagnostic], on: Date) -> Vec<Diagnostic> {
    for Made { source, entry } in made {
        loaded.book.entries.extend(entry);
        loaded.book.sources.insert(source.shared_path(), source);
    }
    loaded.book.entries.sort_by(|a, b| a.id.cmp(&b.id));
    let mut after = check(&loaded.book, &loaded.broken);
    after.extend(reckon(&loaded.book, on).1);
    let by_path: HashMap<String, usize> =
        rows.iter().enumerate().filter_map(|(at, row)| Some((row.fate.new_path()?.to_owned(), at))).collect();
    let mut elsewhere = Vec::new();
    for mut problem in brought_in(before, after) {
        problem.message = with_lines(&problem.message, |path| Some(rows.get(*by_path.get(path)?)?.line));
        match by_path.get(&problem.place.file).and_then(|at| rows.get_mut(*at)) {
            Some(row) => row.add_all(vec![problem]),
            None => elsewhere.push(problem),
        }
    }
    elsewhere
}

impl Judged {
    fn add_all(&mut self, found: Vec<Diagnostic>) {
        for problem in found {
            if problem.severity == Severity::Error {
                self.problems.push(CsvProblem::new(problem.message, problem.remedy));
            } else {
                self.doubts.push(problem.message);
            }
        }
    }
}

/// Entries that are not written yet are called by the line they come from, wherever a message names them. Their paths are
/// those of no file, so nothing else is taken for one; the place inside the file, which nobody can look at, is left out.
fn with_lines(message: &str, line_of: impl Fn(&str) -> Option<u64>) -> String {
    let mut told = String::with_capacity(message.len());
    let mut rest = message;
    while let Some(at) = rest.find("log/") {
        let (before, from) = rest.split_at(at);
        told.push_str(before);
        // No name of an entry has a point in it.
        let end = from.find('.').map_or(from.len(), |point| point + ".md".len());
        let (path, behind) = from.split_at_checked(end).unwrap_or((from, ""));
        if let Some(line) = line_of(path) {
            told.push_str(&format!("line {line}"));
            rest = without_place(behind);
        } else {
            let (word, behind) = from.split_at("log/".len());
            told.push_str(word);
            rest = behind;
        }
    }
    told.push_str(rest);
    told
}

/// What stands behind `:5` or `:5:3`.
fn without_place(text: &str) -> &str {
    let one = |text: &str| text.strip_prefix(':').map(|rest| rest.trim_start_matches(|letter: char| letter.is_ascii_digit()).len());
    let mut rest = text;
    while let Some(left) = one(rest).filter(|left| left + 1 < rest.len()) {
        rest = rest.get(rest.len() - left..).unwrap_or_default();
    }
    rest
}

fn doubts_of_name(reading: Reading<'_>, row: &Row) -> Vec<String> {
    let Some(column) = reading.columns.one(&Target::Job) else { return Vec::new() };
    let name = super::names::one_line(row.cell(column));
    let one = reading.names.doubtful.iter().find(|one| one.name == name);
    one.map(|one| format!("nobody has decided on `{name}` yet: it would become `{}`", one.suggestion.written())).into_iter().collect()
}

/// The mark before decimals that the numbers of the file agree on.
fn shown_mark(reading: Reading<'_>) -> Option<DecimalMark> {
    let columns: Vec<usize> =
        reading.columns.all(|target| matches!(target, Target::Meter(_) | Target::Cost(_) | Target::Time(_))).collect();
    let cells = reading.table.rows.iter().flat_map(|row| columns.iter().map(|column| row.cell(*column)));
    DecimalMark::shown_by(cells.map(values::number_in))
}

fn values_of(reading: Reading<'_>, row: &Row, mark: Option<DecimalMark>, book: &Book) -> (Values, Vec<CsvProblem>) {
    let header = &reading.table.header;
    let mut values = Values::default();
    let mut problems = Vec::new();
    if row.cells.iter().skip(header.len()).any(|cell| !cell.is_empty()) {
        problems.push(CsvProblem::new(
            format!("the row has {} fields, and the header {}", row.cells.len(), header.len()),
            "put a field that holds the separator between quotes",
        ));
    }
    for (at, target) in reading.columns.targets.iter().enumerate() {
        let (cell, Some(target)) = (row.cell(at), target) else { continue };
        let column = header.get(at).map_or("", String::as_str);
        if cell.is_empty() && *target != Target::Date {
            continue;
        }
        let read = match target {
            Target::Date if cell.is_empty() => {
                Err(CsvProblem::new("the row has no date", "write the day it was done, about as it may be: `~2021-05`"))
            }
            Target::Date => reading.dates.read(cell).map(|date| values.date = date),
            Target::Job => match reading.names.meaning(cell) {
                Some(meaning) => {
                    values.add_job(cell, meaning);
                    Ok(())
                }
                None => Err(CsvProblem::new(format!("nobody has decided on `{cell}` yet"), "run the command again")),
            },
            Target::Work => {
                values.work.push(super::names::one_line(cell));
                Ok(())
            }
            Target::Meter(id) => match book.boat.meter(id) {
                Some(meter) => values::meter(cell, meter.unit, mark).map(|value| values.meters.push((id.clone(), value))),
                None => Err(CsvProblem::new(format!("`boat.yaml` has no meter `{id}`"), "run the command again")),
            },
            Target::Time(unit) => values::time(cell, unit.as_deref(), mark, column).map(|time| values.time = Some(time)),
            Target::Cost(code) => values::cost(cell, code.as_deref(), mark, column).map(|cost| values.cost = Some(cost)),
            Target::Place => {
                values.place = Some(cell.to_owned());
                Ok(())
            }
            Target::DoneBy | Target::By => {
                match values::hand(cell) {
                    Some(hand) if *target == Target::DoneBy => values.done_by = Some(hand),
                    _ => values.by = Some(values.by.take().map_or_else(|| cell.to_owned(), |by| format!("{by}, {cell}"))),
                }
                Ok(())
            }
            Target::Notes => {
                values.notes.push(cell.to_owned());
                Ok(())
            }
            Target::Nothing => Ok(()),
        };
        if let Err(mut problem) = read {
            problem.message = format!("{column}: {}", problem.message);
            problems.push(problem);
        }
    }
    if values.date.is_empty() {
        values.date = reading.columns.one(&Target::Date).map_or_else(String::new, |at| row.cell(at).to_owned());
    }
    if problems.is_empty() && values.is_empty() {
        problems.push(CsvProblem::new("the row says nothing but its day", "write what was done, or take the row out"));
    }
    (values, problems)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn case(message: &str, expected: &str) {
        let line_of = |path: &str| match path {
            "log/2025/2025-09-01-oil.md" => Some(4),
            "log/2025/2025-09-02-oil-2.md" => Some(17),
            _ => None,
        };
        assert_eq!(with_lines(message, line_of), expected);
    }

    #[test]
    fn entries_to_be_are_called_by_their_lines() {
        case("1900 h is lower than 1840.5 on 2026-03-14 (meters.csv:7)", "1900 h is lower than 1840.5 on 2026-03-14 (meters.csv:7)");
        case("it is lower than 1900 on 2025-09-01 (log/2025/2025-09-01-oil.md:5)", "it is lower than 1900 on 2025-09-01 (line 4)");
        case("`log/2025/2025-09-02-oil-2.md:5:3` and log/2025/2025-09-01-oil.md: no", "`line 17` and line 4: no");
        // A file of the log keeps its name and place, beside one that is none yet.
        case("log/2025/2025-01-01-oil.md:5, log/2025/2025-09-01-oil.md", "log/2025/2025-01-01-oil.md:5, line 4");
        // Words of the crew that only look like it.
        case("`catalog/2025 log/` is no name; log/é", "`catalog/2025 log/` is no name; log/é");
        case("log/2025/2025-09-01-oil", "log/2025/2025-09-01-oil");
    }
}
