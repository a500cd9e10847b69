//! Gathers documents, from several threads, and makes the files of the index.
//!
//! Only words and numbers are held; the text of a document is handed out as soon as its file is full. Each thread
//! gathers for itself, so that none waits for another; what they have is put together at the end.

use super::document::{Document, Kind, Shelf};
use super::gather::Gathering;
use super::packed::Packed;
use super::postings::{MARKERS, push_lists};
use super::table::{Lines, Table};
use super::terms::{UNITS, letters, terms_of};
use crate::site::escape;
use crate::site::interner::Interner;
use rayon::prelude::*;
use std::collections::BTreeMap;
use std::sync::{Mutex, MutexGuard, PoisonError};

/// Largest file, in bytes. A search loads at most eight files of words and eight of texts: 288 KB.
pub const LARGEST: usize = 18_000;

/// Room for what stands round the matter of a file.
const ROUND: usize = 120;

/// Words shorter than this have no typing errors.
const SHORTEST_MISTYPED: usize = 4;

/// Words whose lines one thread writes at a time.
const AT_A_TIME: usize = 1024;

/// A file of the index: its name without folder and ending, and what it holds, as JSON.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct File {
    pub name: String,
    pub json: String,
}

impl File {
    /// Where it stands, from the top of the site.
    #[must_use]
    pub fn path(&self) -> String {
        format!("assets/search/{}.js", self.name)
    }

    /// As a classic script that hands what it holds to `search-index.js`.
    #[must_use]
    pub fn script(&self) -> String {
        ["garboardSearch(\"", &self.name, "\",", &self.json, ");\n"].concat()
    }
}

/// All files as one script for a page that holds everything, whose documents have fragments for hrefs: `search-index.js` takes from `garboardSearch` what
/// it would else load.
#[must_use]
pub fn inline(files: &[File]) -> String {
    let all: Vec<String> = files.iter().map(|file| format!("\"{}\":{}", file.name, file.json)).collect();
    format!("window.garboardSearch={{{}}};", all.join(","))
}

/// The index while it is made.
#[derive(Debug)]
pub struct Index {
    /// What each thread has gathered. A lock is only ever waited for where documents come from threads that are not of
    /// one pool.
    gatherings: Vec<Mutex<Gathering>>,
    /// Texts of files that are not full yet.
    texts: Mutex<BTreeMap<(Shelf, u32), BTreeMap<u32, String>>>,
    /// Documents on each shelf.
    counts: [u32; 3],
}

impl Index {
    /// An index for so many guides, things and entries.
    #[must_use]
    pub fn new(counts: [u32; 3]) -> Self {
        let gatherings = (0..rayon::current_num_threads().max(1)).map(|_| Mutex::default()).collect();
        Self { gatherings, texts: Mutex::default(), counts }
    }

    /// Adds a document; gives the file of texts that it fills.
    pub fn add(&self, document: &Document) -> Option<File> {
        let thread = rayon::current_thread_index().unwrap_or_default() % self.gatherings.len();
        lock(self.gatherings.get(thread)?).add(document);
        let shelf = document.kind.shelf();
        let file = document.number / shelf.a_file();
        let line = document.line((LARGEST - ROUND) / shelf.a_file() as usize - 1);
        let count = self.counts.get(shelf as usize).copied().unwrap_or_default();
        let expected = shelf.a_file().min(count.saturating_sub(file * shelf.a_file()));
        let mut texts = lock(&self.texts);
        let lines = texts.entry((shelf, file)).or_default();
        lines.insert(document.number, line);
        if lines.len() < expected as usize {
            return None;
        }
        let lines = texts.remove(&(shelf, file))?;
        drop(texts);
        Some(text_file(shelf, file, lines))
    }

    /// Puts together what all threads have gathered. `kinds`: what the pages call a guide, an entry and so on, in the
    /// order of [`Kind::ALL`]; `small`: words that are passed over in what is searched for.
    #[must_use]
    pub fn finish(self, kinds: &[String; Kind::ALL.len()], small: &str) -> Finished {
        let gatherings = self.gatherings.into_iter().map(|gathering| unlock(gathering).into_parts());
        let (words, documents): (Vec<Interner>, Vec<Vec<Packed>>) = gatherings.unzip();
        let mut gathered: Vec<Gathered<'_>> = (words.iter().zip(documents))
            .flat_map(|(words, documents)| words.texts().zip(documents).map(|(word, documents)| Gathered { word, documents }))
            .collect();
        gathered.par_sort_unstable_by_key(|gathered| gathered.word);
        let words_of_all: Vec<&[Gathered<'_>]> = gathered.chunk_by(|one, next| one.word == next.word).collect();
        let lines = words_of_all.par_chunks(AT_A_TIME).map(lines_of).collect();
        let keys: Vec<&str> = words_of_all.iter().filter_map(|same| same.first()).map(|gathered| gathered.word).collect();
        drop(gathered);
        let terms = Table::new('t', &keys, Lines::joined(lines), LARGEST - ROUND);
        let tails = tails(&keys);

        let texts = unlock(self.texts).into_iter().map(|((shelf, file), lines)| text_file(shelf, file, lines)).collect();
        let shelves: Vec<(char, u32, u32)> =
            Shelf::ALL.iter().zip(self.counts).map(|(shelf, count)| (shelf.letter(), shelf.a_file(), count)).collect();
        let index = serde_json::json!({
            "kinds": kinds,
            "small": terms_of(small),
            "shelves": shelves,
            "markers": MARKERS,
            "units": UNITS.into_iter().collect::<BTreeMap<_, _>>(),
            "letters": letters().collect::<BTreeMap<_, _>>(),
            "terms": terms.starts().collect::<Vec<_>>(),
            "tails": tails.starts().collect::<Vec<_>>(),
        });
        let index = File { name: "index".to_owned(), json: escape::script_json(index.to_string()) };
        Finished { terms, tails, texts, index }
    }
}

/// A word of one thread with the documents that it has there.
struct Gathered<'w> {
    word: &'w str,
    documents: Packed,
}

/// The lines of words, each of which comes from one thread or several.
fn lines_of(words: &[&[Gathered<'_>]]) -> Lines {
    let mut lines = Lines::default();
    let mut documents = Vec::new();
    for same in words {
        documents.clear();
        same.iter().for_each(|gathered| gathered.documents.unpack(&mut documents));
        documents.sort_unstable();
        let word = same.first().map_or("", |gathered| gathered.word);
        lines.push(|out| {
            out.push_str(word);
            out.push(' ');
            push_lists(&documents, LARGEST - ROUND - word.len(), out);
        });
    }
    lines
}

/// Words in the order of their last letters, where a slip among the first is looked up.
fn tails(words: &[&str]) -> Table {
    let mistyped = words.iter().filter(|word| word.chars().count() >= SHORTEST_MISTYPED && word.chars().all(char::is_alphabetic));
    let mut tails: Vec<(String, &str)> = mistyped.map(|word| (word.chars().rev().collect(), *word)).collect();
    tails.par_sort_unstable();
    let mut lines = Lines::default();
    tails.iter().for_each(|(_, word)| lines.push(|out| out.push_str(word)));
    let keys: Vec<&str> = tails.iter().map(|(tail, _)| tail.as_str()).collect();
    Table::new('v', &keys, lines, LARGEST - ROUND)
}

/// The files that are left when all documents are in, each made when it is asked for.
#[derive(Debug)]
pub struct Finished {
    terms: Table,
    tails: Table,
    /// Files of texts that are not full.
    texts: Vec<File>,
    /// The list of them all.
    index: File,
}

impl Finished {
    /// Always in the same order.
    pub fn files(&self) -> impl ParallelIterator<Item = File> {
        let tables = [&self.terms, &self.tails].into_par_iter().flat_map(Table::files);
        tables.chain(self.texts.par_iter().cloned()).chain(rayon::iter::once(self.index.clone()))
    }
}

fn text_file(shelf: Shelf, file: u32, lines: BTreeMap<u32, String>) -> File {
    let lines: Vec<String> = lines.into_values().collect();
    File { name: format!("{}-{file}", shelf.letter()), json: format!("[{}]", lines.join(",\n")) }
}

/// A lock that another thread poisoned still guards plain data.
fn lock<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

/// As [`lock`], for good.
fn unlock<T>(mutex: Mutex<T>) -> T {
    mutex.into_inner().unwrap_or_else(PoisonError::into_inner)
}
