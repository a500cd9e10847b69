//! What the log holds already, and what row after row adds to it: names, rows, and work on a day.

use super::row::row_of;
use crate::book::id::loose_key_of;
use crate::book::model::{Book, Entry};
use crate::enter::Spot;
use jiff::civil::Date;
use std::collections::{BTreeSet, HashMap, HashSet};

pub struct Taken {
    /// Hashes of rows, with paths.
    rows: HashMap<String, String>,
    /// Stems in lower case: some systems do not tell capitals apart.
    stems: HashSet<String>,
    /// By the stem of a spot the number from which on one may be free, so that no row counts from 1 again.
    next: HashMap<String, u32>,
    /// What was done on which day, with the entry or line that says so.
    done: HashMap<(String, Date), String>,
}

impl Taken {
    pub fn of(book: &Book) -> Self {
        let log = || book.sources.iter().filter(|(path, _)| path.starts_with("log/"));
        let stem = |path: &str| {
            let file = path.rsplit('/').next().unwrap_or(path);
            file.rsplit_once('.').map_or(file, |(stem, _)| stem).to_lowercase()
        };
        let rows = log().filter_map(|(path, source)| Some((row_of(source.text())?.to_owned(), path.to_string()))).collect();
        let stems = log().map(|(path, _)| stem(path)).collect();
        let mut taken = Self { rows, stems, next: HashMap::new(), done: HashMap::new() };
        for entry in &book.entries {
            taken.add(entry, format!("`{}`", entry.source.path()));
        }
        taken
    }

    /// The path of the entry that was made of the row with this hash.
    pub fn row(&self, hash: &str) -> Option<&str> {
        self.rows.get(hash).map(String::as_str)
    }

    /// The first name of the spot that nobody has; it is taken from now on.
    pub fn free(&mut self, spot: &Spot) -> String {
        let first = self.next.get(&spot.stem).copied().unwrap_or(1);
        let mut numbered = (first..).zip(spot.numbered_from(first));
        let (number, name) = numbered.find(|(_, name)| !self.stems.contains(name)).unwrap_or_else(|| (first, spot.stem.clone()));
        self.next.insert(spot.stem.clone(), number.saturating_add(1));
        self.stems.insert(name.clone());
        name
    }

    pub fn add(&mut self, entry: &Entry, from: String) {
        for what in whats(entry) {
            self.done.entry(what).or_insert_with(|| from.clone());
        }
    }

    /// What tells of the same work on the same day.
    pub fn doubts(&self, entry: &Entry) -> Vec<String> {
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_counted_on_and_none_is_given_twice() {
        let spot = |stem: &str| Spot { year: "2026".to_owned(), stem: stem.to_owned() };
        let mut taken = Taken::of(&Book::default());
        taken.stems.extend(["oil".to_owned(), "oil-3".to_owned()]);
        let given: Vec<String> = ["oil", "oil", "oil-3", "oil", "belt"].map(|stem| taken.free(&spot(stem))).into();
        assert_eq!(given, ["oil-2", "oil-4", "oil-3-2", "oil-5", "belt"]);
    }
}
