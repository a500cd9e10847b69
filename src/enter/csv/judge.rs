//! The fate of every row: an entry of its own, in the log already, doubtful, or wrong. All entries
//! are held against the whole book at once, so that a meter that two rows contradict is seen.

use super::columns::{Columns, Target};
use super::dates::Dates;
use super::names::Names;
use super::numbers::DecimalMark;
use super::row::{Values, hash_of, row_of, words_of};
use super::table::{Row, Table};
use super::{CsvProblem, values};
use crate::book::check::check;
use crate::book::diagnostic::{Diagnostic, Severity, any_error, brought_in};
use crate::book::id::loose_key_of;
use crate::book::load::{Loaded, entry_of};
use crate::book::model::{Book, Entry};
use crate::book::source::Source;
use crate::enter::{Spot, spot_of};
use crate::reckon::reckon;
use jiff::civil::Date;
use std::collections::{BTreeMap, BTreeSet, HashMap};

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
    let mark = reading.decimal.or_else(|| shown_mark(reading));
    let mut taken = Taken::of(&loaded.book);
    let mut counts: HashMap<String, u32> = HashMap::new();
    let mut by_path: BTreeMap<String, usize> = BTreeMap::new();
    let mut rows: Vec<Judged> = Vec::new();
    let mut entries: Vec<Entry> = Vec::new();
    for row in &reading.table.rows {
        let words = words_of(&reading.table.header, row);
        let count = counts.entry(words.clone()).and_modify(|count| *count += 1).or_insert(1);
        let hash = hash_of(&words, *count);
        let (values, problems) = values_of(reading, row, mark, &loaded.book);
        let mut judged = Judged {
            line: row.line,
            date: values.date.clone(),
            what: values.what(),
            fate: Fate::Wrong,
            problems,
            doubts: doubts_of_name(reading, row),
            text: String::new(),
            spot: None,
        };
        if let Some(path) = taken.rows.get(&hash) {
            judged.fate = Fate::Already(path.clone());
            judged.problems.clear();
            judged.doubts.clear();
        } else if judged.problems.is_empty() {
            let text = values.text(&hash);
            let known = entry_of(&Source::new("log/entry.md", text.as_str())).0.map(|entry| spot_of(&entry));
            if let Some(spot) = known {
                let path = spot.path(&taken.free(&spot));
                let source = Source::new(&path, text.as_str());
                let (entry, found) = entry_of(&source);
                judged.add_all(found);
                if let Some(entry) = entry {
                    if entry.when.day().date > on {
                        judged.problems.push(CsvProblem::new(
                            format!("{} is later than {on}: work that lies ahead is no history", entry.when.day().date),
                            "correct the date of the row, or take the row out",
                        ));
                    }
                    judged.doubts.extend(taken.doubts(&entry));
                    taken.add(&entry, format!("line {}", row.line));
                    entries.push(entry);
                }
                loaded.book.sources.insert(source.shared_path(), source);
                by_path.insert(path.clone(), rows.len());
                judged.fate = Fate::New(path);
                judged.text = text;
                judged.spot = Some(spot);
            } else {
                judged.problems.push(CsvProblem::new("the row makes no entry", "look at its cells"));
            }
        }
        rows.push(judged);
    }
    loaded.book.entries.extend(entries);
    loaded.book.entries.sort_by(|a, b| a.id.cmp(&b.id));
    let mut after = check(&loaded.book, &loaded.broken);
    after.extend(reckon(&loaded.book, on).1);
    let lines: BTreeMap<&str, u64> = by_path.iter().filter_map(|(path, at)| Some((path.as_str(), rows.get(*at)?.line))).collect();
    let lines: Vec<(String, u64)> = lines.into_iter().map(|(path, line)| (path.to_owned(), line)).collect();
    let mut elsewhere = Vec::new();
    for mut problem in brought_in(&before, after) {
        problem.message = with_lines(&problem.message, &lines, &by_path);
        match by_path.get(&problem.place.file).and_then(|at| rows.get_mut(*at)) {
            Some(row) => row.add_all(vec![problem]),
            None => elsewhere.push(problem),
        }
    }
    for row in rows.iter_mut().filter(|row| !row.problems.is_empty()) {
        row.fate = Fate::Wrong;
    }
    Judgement { rows, elsewhere, book_has_errors: any_error(&before) }
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

/// Entries that are not written yet are called by the line they come from.
fn with_lines(message: &str, lines: &[(String, u64)], by_path: &BTreeMap<String, usize>) -> String {
    let Some(at) = message.find("log/") else { return message.to_owned() };
    let path: String = message.get(at..).unwrap_or_default().chars().take_while(|letter| !matches!(letter, '`' | ':' | ' ')).collect();
    if !by_path.contains_key(&path) {
        return message.to_owned();
    }
    let line = lines.binary_search_by(|(known, _)| known.cmp(&path)).ok().and_then(|at| lines.get(at)).map_or(0, |(_, line)| *line);
    message.replace(&path, &format!("line {line}"))
}

/// What the log holds, and what the rows before this one add to it.
struct Taken {
    /// Hashes of rows, with paths.
    rows: HashMap<String, String>,
    /// Stems in lower case: some systems do not tell capitals apart.
    stems: BTreeSet<String>,
    /// What was done on which day, with the entry or line that says so.
    done: HashMap<(String, Date), String>,
}

impl Taken {
    fn of(book: &Book) -> Self {
        let log = || book.sources.iter().filter(|(path, _)| path.starts_with("log/"));
        let stem = |path: &str| {
            let file = path.rsplit('/').next().unwrap_or(path);
            file.rsplit_once('.').map_or(file, |(stem, _)| stem).to_lowercase()
        };
        let rows = log().filter_map(|(path, source)| Some((row_of(source.text())?.to_owned(), path.to_string()))).collect();
        let mut taken = Self { rows, stems: log().map(|(path, _)| stem(path)).collect(), done: HashMap::new() };
        for entry in &book.entries {
            taken.add(entry, format!("`{}`", entry.source.path()));
        }
        taken
    }

    fn free(&mut self, spot: &Spot) -> String {
        let name = spot.names().find(|name| !self.stems.contains(name)).unwrap_or_else(|| spot.stem.clone());
        self.stems.insert(name.clone());
        name
    }

    fn add(&mut self, entry: &Entry, from: String) {
        for what in whats(entry) {
            self.done.entry(what).or_insert_with(|| from.clone());
        }
    }

    fn doubts(&self, entry: &Entry) -> Vec<String> {
        let known: BTreeSet<&String> = whats(entry).iter().filter_map(|what| self.done.get(what)).collect();
        known.into_iter().map(|from| format!("the same work on the same day is in {from}")).collect()
    }
}

/// What an entry is about, each with its day. Work that is called alike is asked about rather than taken twice.
fn whats(entry: &Entry) -> Vec<(String, Date)> {
    let day = entry.when.day().date;
    let jobs = entry.jobs.iter().map(|job| format!("{}/{}", job.guide, job.gear.as_deref().unwrap_or_default()));
    jobs.chain(entry.work.iter().map(|work| loose_key_of(work))).map(|what| (what, day)).collect()
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
