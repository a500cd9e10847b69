//! The index as a whole: sizes, order of adding, common words.

use super::index::LARGEST;
use super::postings::tests::read;
use super::{Document, File, Index, Kind, Place, inline};
use rayon::prelude::*;

/// The same numbers on every run (Knuth, The Art of Computer Programming, vol. 2, 3.3.4: MMIX's generator).
struct Numbers(u64);

impl Numbers {
    fn below(&mut self, limit: usize) -> usize {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) as usize % limit
    }

    /// A made word; of 20,000 the first are common and the last are rare, as in any language (Zipf's law).
    fn word(&mut self) -> String {
        let rank = (20_001_f64.powf(self.below(1_000_000) as f64 / 1e6) - 1.0) as usize;
        let syllables = ["ba", "ke", "lo", "mi", "nu", "pra", "ster", "ten", "wo", "zel", "hal", "gri", "do", "fu", "cha", "vel"];
        let mut rest = rank * 7 + 3;
        let mut word = String::new();
        while rest > 0 {
            word.push_str(syllables[rest % 16]);
            rest /= 16;
        }
        word
    }

    fn words(&mut self, count: usize) -> String {
        (0..count).map(|_| self.word()).collect::<Vec<_>>().join(" ")
    }
}

fn guide(number: usize) -> Document {
    let mut numbers = Numbers(number as u64 + 1);
    let mut places = vec![Place { text: numbers.words(40), ..Place::default() }];
    for stage in 1..=5 {
        let title = numbers.words(2);
        places.push(Place { label: title.clone(), fragment: format!("s-{stage}"), heading: true, text: String::new() });
        for step in 1..=8 {
            let label = format!("{title}, step {step}");
            places.push(Place { label, fragment: format!("s-{stage}--{step}"), heading: false, text: numbers.words(16) });
        }
    }
    let href = format!("guides/job-{number}.html");
    let number = u32::try_from(number).expect("a number");
    Document { kind: Kind::Guide, number, title: numbers.words(5), href, detail: "Engine".to_owned(), places }
}

fn entry(number: usize) -> Document {
    let mut numbers = Numbers(number as u64 + 1_000_003);
    let href = format!("log/{}.html#entry-{number}", 1990 + number / 400);
    let places = vec![Place { text: numbers.words(50), ..Place::default() }];
    let number = u32::try_from(number).expect("a number");
    Document { kind: Kind::Entry, number, title: numbers.words(6), href, detail: "14 March 2026".to_owned(), places }
}

fn made(guides: usize, entries: usize, documents: &[Document]) -> Vec<File> {
    let count = |count: usize| u32::try_from(count).expect("a number");
    let index = Index::new([count(guides), 0, count(entries)]);
    let mut files: Vec<File> = documents.par_iter().filter_map(|document| index.add(document)).collect();
    files.par_extend(index.finish(&Kind::ALL.map(|kind| kind.word().to_owned()), "how do I").files());
    files.sort_by(|a, b| a.name.cmp(&b.name));
    files
}

fn book(guides: usize, entries: usize) -> Vec<Document> {
    (0..guides).map(guide).chain((0..entries).map(entry)).collect()
}

#[test]
fn no_file_is_larger_than_it_may_be() {
    let files = made(150, 1500, &book(150, 1500));
    for file in &files {
        assert!(file.script().len() <= LARGEST, "{}: {}", file.name, file.script().len());
    }
    // One for each guide, one for twenty entries.
    assert_eq!(files.iter().filter(|file| file.name.starts_with("g-")).count(), 150);
    assert_eq!(files.iter().filter(|file| file.name.starts_with("e-")).count(), 75);
    // Full ones, not crumbs: words take little more files than they need.
    let words: Vec<&File> = files.iter().filter(|file| file.name.starts_with("t-")).collect();
    let bytes: usize = words.iter().map(|file| file.json.len()).sum();
    assert!(words.len() < 3 * bytes / LARGEST + 3, "{} files for {bytes} bytes", words.len());
}

#[test]
fn the_order_of_adding_makes_no_difference() {
    let documents = book(40, 300);
    let backwards: Vec<Document> = documents.iter().rev().cloned().collect();
    assert_eq!(made(40, 300, &documents), made(40, 300, &backwards));
}

#[test]
fn a_word_of_every_document_is_short_and_whole() {
    let mut documents = book(0, 1200);
    documents.iter_mut().for_each(|document| document.title.push_str(" everywhere"));
    let files = made(0, 1200, &documents);
    let line = files.iter().filter(|file| file.name.starts_with("t-")).find_map(|file| {
        let text: String = serde_json::from_str(&file.json).expect("a text");
        text.split('|').find_map(|line| line.strip_prefix("everywhere ").map(str::to_owned))
    });
    let line = line.expect("the word is there");
    // 1,200 numbers at six a digit.
    assert!(line.len() < 210, "{}", line.len());
    let (found, cut) = read(&line);
    assert_eq!((found.len(), cut), (1200, None));
}

#[test]
fn a_small_book_can_stand_in_one_page() {
    let files = made(2, 3, &book(2, 3));
    let script = inline(&files);
    let json = script.strip_prefix("window.garboardSearch=").and_then(|rest| rest.strip_suffix(';')).expect("one statement");
    let all: serde_json::Map<String, serde_json::Value> = serde_json::from_str(json).expect("an object");
    assert_eq!(all.len(), files.len());
    assert!(all.contains_key("index") && all.contains_key("g-1") && all.contains_key("e-0"));
    assert!(!script.contains('<'));
}

/// Run by hand, in the release profile: `cargo test --release --lib search::tests::two_thousand -- --ignored --nocapture`.
#[test]
#[ignore = "measures"]
fn two_thousand_guides_and_twenty_thousand_entries() {
    let documents = book(2000, 20_000);
    let since = std::time::Instant::now();
    let files = made(2000, 20_000, &documents);
    let took = since.elapsed();
    for letter in ["t-", "v-", "g-", "e-", "index"] {
        let sizes: Vec<usize> = files.iter().filter(|file| file.name.starts_with(letter)).map(|file| file.script().len()).collect();
        let largest = sizes.iter().max().copied().unwrap_or_default();
        println!("{letter} {} files, {} bytes, largest {largest}", sizes.len(), sizes.iter().sum::<usize>());
        assert!(largest <= LARGEST);
    }
    println!("{took:?}");
}
