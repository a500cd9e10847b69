//! How the boat's record is laid out: its sections, cut where they are long, and on which page each is.
//!
//! The record of an ordinary boat is one page. A long one has a page for each system, cut by years, so
//! that no page is too heavy for a phone. Each part begins a new sheet on paper, and sheets are counted
//! part by part (`4-1`, `4-2`): so the contents can name them without knowing how long any part gets.

use crate::book::model::{Book, Entry};
use crate::record::{Content, Record, Recorded, Said};
use crate::site::escape;
use crate::site::map::Names;
use crate::site::press::Press;
use rayon::prelude::*;
use std::collections::{BTreeMap, HashMap};
use std::ops::Range;

/// The first page.
pub const FRONT: &str = "record.html";

/// Most entries of a record on one page.
const ONE_PAGE: usize = 200;
/// Most entries in a part.
const ENTRIES_A_PART: usize = 200;
/// The most bytes of a page, reckoned rather too high and without what stands round it.
const BYTES_A_PAGE: usize = 285_000;
/// About the bytes of a row without the words of the crew.
const BYTES_A_ROW: usize = 350;
/// Of a line of intervals, findings or gear: a cell names what it is on a phone.
const BYTES_A_LINE: usize = 400;
/// About the bytes of a job in it, with its title, and of anything else.
const BYTES_A_JOB: usize = 200;
const BYTES_A_THING: usize = 110;

/// What a part is about.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Matter {
    /// Places in the record of the entries with work on a system; `None`: of those that name none.
    System(Option<String>, Vec<usize>),
    /// Places in the lists of these.
    Intervals(Range<usize>),
    Findings(Range<usize>),
    Gear(Range<usize>),
    Proof,
}

/// A section or a piece of one.
#[derive(Debug, Clone)]
pub struct Part {
    /// `4`, or `4.2`.
    pub number: String,
    /// `s4-2`: its kind of sheet, and its fragment after `_`.
    pub sheet: String,
    pub title: String,
    pub matter: Matter,
    /// The page it stands on.
    pub path: String,
    bytes: usize,
    /// What a page of its own is called after.
    name: String,
}

/// Keys of an entry that are not on the page, or as words of ours, which the row is reckoned with.
const NOT_WEIGHED: [&str; 12] =
    ["basis", "by", "costs", "date", "done-by", "jobs", "paper-on-file", "papers", "pictures", "place", "readings", "time"];

/// The whole layout.
#[derive(Debug, Default)]
pub struct RecordPlan<'b> {
    pub parts: Vec<Part>,
    /// Pages with their parts, the first one first.
    pub pages: Vec<(String, Vec<usize>)>,
    /// Beside the entries of the record.
    rows: Vec<Row<'b>>,
    /// Entry id to its place in the record.
    at: HashMap<&'b str, usize>,
}

/// Where an entry is told of.
#[derive(Debug)]
struct Row<'b> {
    shares: Shares<'b>,
    /// The part where it has its place, and its fragment on the page of that.
    home: Option<(usize, Box<str>)>,
    /// All parts that tell of it.
    parts: Vec<usize>,
}

/// The lists that are cut into parts, by the bytes of the crew's words in each row.
#[derive(Debug, Default)]
pub struct Lists {
    pub intervals: Vec<usize>,
    pub findings: Vec<usize>,
    pub gear: Vec<usize>,
}

impl<'b> RecordPlan<'b> {
    /// Lays the record out.
    #[must_use]
    pub fn new(press: &Press<'b>, record: &Record<'b>, lists: &Lists) -> Self {
        let book = press.book;
        let (shares, weights): (Vec<Shares<'b>>, Vec<Weights>) =
            record.entries.par_iter().map(|one| (Shares::of(book, one.entry), Weights::of(record, one))).unzip();
        let rows = shares.into_iter().map(|shares| Row { shares, home: None, parts: Vec::new() }).collect();
        let at = record.entries.iter().enumerate().map(|(at, one)| (one.entry.id.as_str(), at)).collect();
        let mut plan = Self { rows, at, ..Self::default() };
        let mut section = 0;
        for (system, entries) in plan.by_system(book) {
            section += 1;
            let title = system.map_or_else(
                || press.words.text("record.other"),
                |id| book.boat.system(id).map_or_else(|| id.to_owned(), |known| known.title.clone()),
            );
            let chunks = by_years(record, &weights, &entries);
            let pieces = chunks.len();
            for (at, chunk) in chunks.into_iter().enumerate() {
                let title = if pieces == 1 { title.clone() } else { format!("{title}, {}", years(press, record, &chunk)) };
                let rows = chunk.iter().filter_map(|at| Some((plan.rows.get(*at)?, weights.get(*at)?)));
                let bytes = rows.map(|(row, bytes)| if row.shares.first() == system { bytes.at_home } else { bytes.again }).sum();
                plan.add(section, (at, pieces), title, Matter::System(system.map(str::to_owned), chunk), bytes, system.unwrap_or("other"));
            }
        }
        let mut cut = |name: &str, rows: &[usize], matter: fn(Range<usize>) -> Matter| {
            section += 1;
            let chunks = by_bytes(rows);
            let pieces = chunks.len();
            for (at, (range, bytes)) in chunks.into_iter().enumerate() {
                plan.add(section, (at, pieces), press.words.text(&format!("record.{name}")), matter(range), bytes, name);
            }
        };
        cut("intervals", &lists.intervals, Matter::Intervals);
        cut("findings", &lists.findings, Matter::Findings);
        cut("gear", &lists.gear, Matter::Gear);
        plan.add(section + 1, (0, 1), press.words.text("record.proof"), Matter::Proof, 4_000, "proof");
        plan.share_out();
        plan.find_places(record);
        plan
    }

    /// Entries by system in the order of `boat.yaml`, then systems that it does not list, then the rest.
    fn by_system(&self, book: &'b Book) -> Vec<(Option<&'b str>, Vec<usize>)> {
        let mut found: BTreeMap<&'b str, Vec<usize>> = BTreeMap::new();
        let mut others = Vec::new();
        for (at, row) in self.rows.iter().enumerate() {
            for system in &row.shares.systems {
                found.entry(system).or_default().push(at);
            }
            if row.shares.systems.is_empty() {
                others.push(at);
            }
        }
        let listed = book.boat.systems.iter().filter_map(|system| found.remove_entry(system.id.value.as_str())).collect::<Vec<_>>();
        let all = listed.into_iter().chain(found).map(|(system, entries)| (Some(system), entries));
        all.chain((!others.is_empty()).then_some((None, others))).collect()
    }

    fn add(&mut self, section: usize, (at, pieces): (usize, usize), title: String, matter: Matter, bytes: usize, name: &str) {
        let piece = at + 1;
        let (number, sheet) = if pieces == 1 {
            (section.to_string(), format!("s{section}"))
        } else {
            (format!("{section}.{piece}"), format!("s{section}-{piece}"))
        };
        let name = if piece == 1 { name.to_owned() } else { format!("{name}-{piece}") };
        self.parts.push(Part { number, sheet, title, matter, path: FRONT.to_owned(), bytes, name });
    }

    /// Puts the parts on pages.
    fn share_out(&mut self) {
        let whole: usize = self.parts.iter().map(|part| part.bytes).sum();
        let one_page = self.rows.len() <= ONE_PAGE && whole <= BYTES_A_PAGE;
        let mut names = Names::default();
        let mut front = (FRONT.to_owned(), Vec::new());
        let mut others = Vec::new();
        let mut room = BYTES_A_PAGE / 2;
        for (at, part) in self.parts.iter_mut().enumerate() {
            let small = !matches!(part.matter, Matter::System(..)) && part.bytes <= room;
            if one_page || small {
                room = room.saturating_sub(part.bytes);
                front.1.push(at);
            } else {
                part.path = format!("record-{}.html", names.unique("record", &part.name));
                others.push((part.path.clone(), vec![at]));
            }
        }
        self.pages.push(front);
        self.pages.append(&mut others);
    }

    /// An entry has its place where the first of its systems is told of.
    fn find_places(&mut self, record: &Record<'_>) {
        let mut names = Names::default();
        for (number, part) in self.parts.iter().enumerate() {
            let Matter::System(system, entries) = &part.matter else { continue };
            for at in entries {
                let (Some(one), Some(row)) = (record.entries.get(*at), self.rows.get_mut(*at)) else { continue };
                row.parts.push(number);
                if row.shares.first() == system.as_deref() {
                    row.home = Some((number, names.unique(&part.path, &one.entry.id).into()));
                }
            }
        }
    }

    /// The systems of an entry, by its place in the record.
    #[must_use]
    pub fn shares(&self, entry: usize) -> Option<&Shares<'b>> {
        self.rows.get(entry).map(|row| &row.shares)
    }

    /// Fragment of an entry, by its place in the record, on the page where it has its place.
    #[must_use]
    pub fn anchor(&self, entry: usize) -> &str {
        self.home(entry).map_or("", |(_, anchor)| anchor)
    }

    /// The parts that tell of an entry, by its place in the record.
    pub fn parts_of(&self, entry: usize) -> impl Iterator<Item = &Part> {
        self.rows.get(entry).into_iter().flat_map(|row| &row.parts).filter_map(|at| self.parts.get(*at))
    }

    /// Link to an entry from a page of the record.
    #[must_use]
    pub fn href(&self, entry: &str, from: &str) -> String {
        let home = self.at.get(entry).and_then(|at| self.home(*at));
        home.map(|(part, anchor)| link(&part.path, anchor, from)).unwrap_or_default()
    }

    fn home(&self, entry: usize) -> Option<(&Part, &str)> {
        let (part, anchor) = self.rows.get(entry)?.home.as_ref()?;
        Some((self.parts.get(*part)?, anchor))
    }

    /// Link to a part from a page of the record.
    #[must_use]
    pub fn part_href(&self, part: &Part, from: &str) -> String {
        link(&part.path, &format!("_{}", part.sheet), from)
    }
}

fn link(path: &str, anchor: &str, from: &str) -> String {
    if path == from { format!("#{anchor}") } else { format!("{path}#{anchor}") }
}

/// Which systems an entry has work on, and which of its things belong to which.
#[derive(Debug)]
pub struct Shares<'b> {
    /// In the order in which the entry names them.
    pub systems: Vec<&'b str>,
}

impl<'b> Shares<'b> {
    /// Those that the entry belongs to.
    #[must_use]
    pub fn of(book: &'b Book, entry: &'b Entry) -> Self {
        Self { systems: book.systems_of(entry) }
    }

    /// Where the entry has its place.
    #[must_use]
    pub fn first(&self) -> Option<&'b str> {
        self.systems.first().copied()
    }

    /// Whether a thing of this system, if it is of any, is told of in the section of `here`.
    #[must_use]
    pub fn belongs(&self, system: Option<&str>, here: Option<&str>) -> bool {
        let home = system.filter(|system| self.systems.contains(system)).or_else(|| self.first());
        home == here
    }
}

/// Cuts entries where a year begins, and within a year where it alone is too long.
fn by_years(record: &Record<'_>, weights: &[Weights], entries: &[usize]) -> Vec<Vec<usize>> {
    let year = |at: &usize| record.entries.get(*at).map(|one| one.entry.when.day().date.year());
    let bytes = |piece: &[usize]| piece.iter().filter_map(|at| weights.get(*at)).map(|bytes| bytes.at_home).sum::<usize>();
    let mut pieces: Vec<Vec<usize>> = Vec::new();
    for of_year in entries.chunk_by(|a, b| year(a) == year(b)) {
        let fits =
            pieces.last().is_some_and(|last| last.len() + of_year.len() <= ENTRIES_A_PART && bytes(last) + bytes(of_year) <= BYTES_A_PAGE);
        if fits && let Some(last) = pieces.last_mut() {
            last.extend(of_year);
            continue;
        }
        let mut piece: Vec<usize> = Vec::new();
        let mut sum = 0;
        for at in of_year {
            let more = bytes(&[*at]);
            if !piece.is_empty() && (piece.len() == ENTRIES_A_PART || sum + more > BYTES_A_PAGE) {
                pieces.push(std::mem::take(&mut piece));
                sum = 0;
            }
            piece.push(*at);
            sum += more;
        }
        pieces.push(piece);
    }
    pieces
}

/// `2019`, `2019 to 2021`.
fn years(press: &Press<'_>, record: &Record<'_>, entries: &[usize]) -> String {
    let year = |at: Option<&usize>| at.and_then(|at| record.entries.get(*at)).map(|one| one.entry.when.day().date.year().to_string());
    let (first, last) = (year(entries.first()).unwrap_or_default(), year(entries.last()).unwrap_or_default());
    if first == last { first } else { press.words.say("record.from-to", &[("from", &first), ("to", &last)]) }
}

/// Cuts rows so that none of the pieces is too heavy; one piece, perhaps empty, at least.
fn by_bytes(rows: &[usize]) -> Vec<(Range<usize>, usize)> {
    let mut pieces = vec![(0..0, 0)];
    for (at, row) in rows.iter().enumerate() {
        let more = row + BYTES_A_LINE;
        match pieces.last_mut() {
            Some((range, sum)) if range.start == range.end || *sum + more <= BYTES_A_PAGE => {
                range.end = at + 1;
                *sum += more;
            }
            _ => pieces.push((at..at + 1, more)),
        }
    }
    pieces
}

/// About the bytes of an entry where it has its place, and of one that is named once more, for its share in another system.
#[derive(Debug, Clone, Copy)]
struct Weights {
    at_home: usize,
    again: usize,
}

impl Weights {
    fn of(record: &Record<'_>, one: &Recorded<'_>) -> Self {
        let entry = one.entry;
        let things = entry.meters.len() + entry.parts.len() + entry.findings.len() + entry.clears.len() + entry.fitted.len();
        let content = record.content(one);
        let words: usize = content.pairs().filter(|(key, _)| !NOT_WEIGHED.contains(key)).map(|(_, said)| weight(said)).sum();
        let words_again: usize = ["findings", "work", "parts"].into_iter().filter_map(|key| content.get(key)).map(weight).sum();
        Self {
            at_home: BYTES_A_ROW + BYTES_A_JOB * entry.jobs.len() + BYTES_A_THING * things + words,
            again: BYTES_A_ROW + BYTES_A_JOB + BYTES_A_THING * (1 + entry.meters.len() + entry.findings.len()) + words_again,
        }
    }
}

fn weight(said: &Said<'_>) -> usize {
    match said {
        Said::Text(text) => escape::html_len(text),
        Said::True => 0,
        Said::List(list) => list.iter().map(weight).sum(),
        Said::Object(content) => weight_of_all(content),
    }
}

fn weight_of_all(content: &Content<'_>) -> usize {
    content.pairs().map(|(_, said)| weight(said)).sum()
}
