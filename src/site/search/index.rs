//! Gathers documents, from several threads, and makes the files of the index.
//!
//! Only words and numbers are held; the text of a document is handed out as soon as its file is full.

use super::document::{Document, Kind, Shelf, safe};
use super::postings::{MARKERS, Posting, Weight, lists};
use super::shards::{Shard, cut, name_of};
use super::terms::{UNITS, each_term, letters};
use rayon::prelude::*;
use std::collections::{BTreeMap, HashMap};
use std::hash::{BuildHasherDefault, Hasher};
use std::sync::{Mutex, MutexGuard, PoisonError};

/// Largest file, in bytes. A search loads at most eight files of words and eight of texts: 288 KB.
pub const LARGEST: usize = 18_000;

/// Room for what stands round the matter of a file.
const ROUND: usize = 120;

/// A word that stands this often in a text is weighty there.
const OFTEN: u32 = 3;

/// Words shorter than this have no typing errors.
const SHORTEST_MISTYPED: usize = 4;

/// Maps by hash of the word, so that threads seldom wait for each other.
const STRIPES: usize = 32;

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
        format!("garboardSearch(\"{}\",{});\n", self.name, self.json)
    }
}

/// All files as one script for a page that holds everything, whose documents have fragments for hrefs: `search-index.js` takes from `garboardSearch` what
/// it would else load.
#[must_use]
pub fn inline(files: &[File]) -> String {
    let all: Vec<String> = files.iter().map(|file| format!("\"{}\":{}", file.name, file.json)).collect();
    format!("window.garboardSearch={{{}}};", all.join(","))
}

type Words = HashMap<Box<str>, Vec<Posting>, Hashing>;

/// The index while it is made.
#[derive(Debug)]
pub struct Index {
    stripes: Vec<Mutex<Words>>,
    /// Texts of files that are not full yet.
    texts: Mutex<BTreeMap<(Shelf, u32), BTreeMap<u32, String>>>,
    /// Documents on each shelf.
    counts: [u32; 3],
}

impl Index {
    /// An index for so many guides, things and entries.
    #[must_use]
    pub fn new(counts: [u32; 3]) -> Self {
        Self { stripes: (0..STRIPES).map(|_| Mutex::default()).collect(), texts: Mutex::default(), counts }
    }

    /// Adds a document; gives the file of texts that it fills.
    pub fn add(&self, document: &Document) -> Option<File> {
        let shelf = document.kind.shelf();
        let found = Found::of(document);
        let mut words: Vec<(usize, &str, Weight)> =
            found.weighed().map(|(word, weight)| (hash_of(word.as_bytes()) as usize % STRIPES, word, weight)).collect();
        words.sort_unstable_by_key(|(stripe, _, _)| *stripe);
        for words in words.chunk_by(|a, b| a.0 == b.0) {
            let Some(stripe) = words.first().and_then(|(stripe, _, _)| self.stripes.get(*stripe)) else { continue };
            let mut stripe = lock(stripe);
            for (_, word, weight) in words {
                let posting = Posting::new(shelf as u8, *weight, document.number);
                match stripe.get_mut(*word) {
                    Some(postings) => postings.push(posting),
                    None => {
                        stripe.insert(Box::from(*word), vec![posting]);
                    }
                }
            }
        }
        let file = document.number / shelf.a_file();
        let line = document.line((LARGEST - ROUND) / shelf.a_file() as usize - 1);
        let mut texts = lock(&self.texts);
        let lines = texts.entry((shelf, file)).or_default();
        lines.insert(document.number, line);
        let count = self.counts.get(shelf as usize).copied().unwrap_or_default();
        let expected = shelf.a_file().min(count.saturating_sub(file * shelf.a_file()));
        if lines.len() < expected as usize {
            return None;
        }
        texts.remove(&(shelf, file)).map(|lines| text_file(shelf, file, lines))
    }

    /// The files that hold the words, and the list of them all. `kinds`: what the pages call a guide, an
    /// entry and so on, in the order of [`Kind::ALL`].
    #[must_use]
    pub fn finish(self, kinds: &[String; Kind::ALL.len()]) -> Vec<File> {
        let mut words: Vec<(Box<str>, Vec<Posting>)> =
            self.stripes.into_iter().flat_map(|stripe| stripe.into_inner().unwrap_or_else(PoisonError::into_inner)).collect();
        words.par_sort_unstable_by(|a, b| a.0.cmp(&b.0));
        let lines: Vec<String> = words
            .par_iter_mut()
            .map(|(word, postings)| {
                postings.sort_unstable();
                format!("{word} {}", lists(postings, LARGEST - ROUND - word.len()))
            })
            .collect();
        let keys: Vec<&str> = words.iter().map(|(word, _)| word.as_ref()).collect();
        let (terms, mut files) = word_files("t", &keys, &lines);

        let mut mistyped: Vec<(String, String)> = keys
            .iter()
            .filter(|word| word.chars().count() >= SHORTEST_MISTYPED && word.chars().all(char::is_alphabetic))
            .map(|word| (word.chars().rev().collect(), (*word).to_owned()))
            .collect();
        mistyped.sort_unstable();
        let (keys, lines): (Vec<String>, Vec<String>) = mistyped.into_iter().unzip();
        let keys: Vec<&str> = keys.iter().map(String::as_str).collect();
        let (tails, more) = word_files("v", &keys, &lines);
        files.extend(more);

        let leftover = self.texts.into_inner().unwrap_or_else(PoisonError::into_inner);
        files.extend(leftover.into_iter().map(|((shelf, file), lines)| text_file(shelf, file, lines)));
        let shelves: Vec<(char, u32, u32)> =
            Shelf::ALL.iter().zip(self.counts).map(|(shelf, count)| (shelf.letter(), shelf.a_file(), count)).collect();
        let index = serde_json::json!({
            "kinds": kinds,
            "shelves": shelves,
            "markers": MARKERS,
            "units": UNITS.into_iter().collect::<BTreeMap<_, _>>(),
            "letters": letters().collect::<BTreeMap<_, _>>(),
            "terms": terms,
            "tails": tails,
        });
        files.push(File { name: "index".to_owned(), json: safe(index.to_string()) });
        files
    }
}

/// The words of a document as often as they stand there, one behind the other in one piece of memory: there
/// are millions of them in a large book.
#[derive(Default)]
struct Found {
    letters: String,
    /// Where each word ends, and what it weighs.
    ends: Vec<(u32, Weight)>,
}

impl Found {
    fn of(document: &Document) -> Self {
        let mut found = Self::default();
        found.note(&document.title, Weight::Title);
        found.note(&document.detail, Weight::Text);
        for place in &document.places {
            if place.heading {
                found.note(&place.label, Weight::Heading);
            }
            found.note(&place.text, Weight::Text);
        }
        found
    }

    fn note(&mut self, text: &str, weight: Weight) {
        each_term(text, |word| {
            self.letters.push_str(word);
            self.ends.push((u32::try_from(self.letters.len()).unwrap_or(u32::MAX), weight));
        });
    }

    /// Each word once, with the most prominent place it stands in.
    fn weighed(&self) -> impl Iterator<Item = (&str, Weight)> {
        let mut seen: HashMap<&str, (Weight, u32), Hashing> = HashMap::with_capacity_and_hasher(self.ends.len() / 2, Hashing::default());
        let mut from = 0;
        for (to, weight) in &self.ends {
            let word = self.letters.get(from..*to as usize).unwrap_or_default();
            from = *to as usize;
            let (best, count) = seen.entry(word).or_insert((*weight, 0));
            *best = (*best).min(*weight);
            *count += 1;
        }
        let often = |weight, count| if weight == Weight::Text && count >= OFTEN { Weight::Often } else { weight };
        seen.into_iter().map(move |(word, (weight, count))| (word, often(weight, count)))
    }
}

/// Words are short and come from the crew's own book: a quick hash will do, and what comes out is sorted.
fn hash_of(bytes: &[u8]) -> u64 {
    let mut hash = 0xcbf2_9ce4_8422_2325_u64;
    for chunk in bytes.chunks(8) {
        let piece = chunk.iter().fold(0_u64, |piece, byte| piece << 8 | u64::from(*byte));
        hash = (hash.rotate_left(5) ^ piece).wrapping_mul(0x517c_c1b7_2722_0a95);
    }
    hash ^ hash >> 32
}

#[derive(Debug, Default)]
struct Hash(u64);

impl Hasher for Hash {
    fn write(&mut self, bytes: &[u8]) {
        self.0 = self.0.rotate_left(5) ^ hash_of(bytes);
    }

    fn finish(&self) -> u64 {
        self.0
    }
}

type Hashing = BuildHasherDefault<Hash>;

/// Files of lines by their keys, with where each file begins.
fn word_files(letter: &str, keys: &[&str], lines: &[String]) -> (Vec<String>, Vec<File>) {
    let sizes: Vec<usize> = lines.iter().map(|line| line.len() + 1).collect();
    let shards = cut(keys, &sizes, LARGEST - ROUND);
    let file = |shard: &Shard| {
        let lines = lines.get(shard.range.clone()).unwrap_or_default().join("|");
        File { name: format!("{letter}-{}", name_of(&shard.start)), json: serde_json::Value::String(lines).to_string() }
    };
    let files = shards.par_iter().map(file).collect();
    (shards.into_iter().map(|shard| shard.start).collect(), files)
}

fn text_file(shelf: Shelf, file: u32, lines: BTreeMap<u32, String>) -> File {
    let lines: Vec<String> = lines.into_values().collect();
    File { name: format!("{}-{file}", shelf.letter()), json: format!("[{}]", lines.join(",\n")) }
}

/// A lock that another thread poisoned still guards plain data.
fn lock<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}
