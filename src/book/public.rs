//! The book as others may read it: everything private taken out first.
//!
//! Each file is read again from its text, and the keys that are withheld are passed over as if they
//! had not been written, so that none can be forgotten. Then the front matter is blanked in the text
//! that goes on: nothing later can show what nobody read.

use super::check::paths_of_paper;
use super::keys::KeySpec;
use super::load::read_again;
use super::model::{Boat, Book, Entry};
use super::received;
use super::source::{Source, Span};
use super::usual::usual;
use rayon::prelude::*;
use std::collections::{BTreeMap, BTreeSet};

/// The keys that a public edition passes over.
#[derive(Debug, Default)]
pub struct Withheld {
    /// Optional keys that the boat keeps to herself.
    private: BTreeSet<String>,
    /// Private keys that she shows all the same.
    public: BTreeSet<String>,
}

impl Withheld {
    /// What `boat.yaml` says of it.
    #[must_use]
    pub fn of(boat: &Boat) -> Self {
        let names = |list: &[super::source::Name]| list.iter().map(|name| name.value.clone()).collect();
        Self { private: names(&boat.private_fields), public: names(&boat.public_fields) }
    }

    /// Whether a key is passed over.
    #[must_use]
    pub fn hides(&self, key: &KeySpec) -> bool {
        // A record that is private as a whole is passed over where it begins; what it needs goes with it.
        !key.required && (self.private.contains(key.name) || (key.private && !self.public.contains(key.name)))
    }
}

/// The public book. What refers to something that was taken out is dropped without a word.
#[must_use]
pub fn public(book: &Book) -> Book {
    let withheld = Withheld::of(&book.boat);
    let kept: Vec<&Entry> = book.entries.iter().filter(|entry| !entry.private).collect();
    let mut public = Book { files: files(book, &kept, &withheld), hazards: usual(&book.boat.language), ..Book::default() };
    let private: BTreeSet<&str> = book.entries.iter().filter(|entry| entry.private).map(|entry| entry.source.path()).collect();
    let cuts: BTreeMap<&str, &[Span]> = kept.iter().map(|entry| (entry.source.path(), entry.private_passages.as_slice())).collect();
    let shown = book.sources.par_iter().filter(|(path, _)| !private.contains(path.as_str()) && *path != "passages.yaml");
    let sources: Vec<Source> = shown
        .map(|(path, source)| Source::new(path, without(source.text(), cuts.get(path.as_str()).copied().unwrap_or_default())))
        .collect();
    read_again(&mut public, &sources, &withheld);
    // Files of which two had one id, or that could not be used, are no part of the whole book either.
    public.guides.retain(|guide| book.guide(&guide.id).is_some_and(|whole| whole.source.path() == guide.source.path()));
    public.entries.retain(|entry| cuts.contains_key(entry.source.path()));
    public.guides.sort_by(|a, b| a.id.cmp(&b.id));
    public.entries.sort_by(|a, b| a.id.cmp(&b.id));
    received::settle(&mut public);
    tidy_up(&mut public, &kept);
    public
}

/// A text without these stretches of it.
fn without(text: &str, cuts: &[Span]) -> String {
    let mut kept = String::with_capacity(text.len());
    let mut from = 0;
    for cut in cuts {
        kept.push_str(text.get(from..cut.start as usize).unwrap_or_default());
        from = from.max(cut.end as usize);
    }
    kept.push_str(text.get(from..).unwrap_or_default());
    kept
}

/// Blanks all of a text but a stretch of it; places stay what they were.
fn only(source: &Source, body: Span) -> Source {
    let text = source.text();
    let start = (body.start as usize).min(text.len());
    let end = (body.end as usize).clamp(start, text.len());
    let blank = |text: &str| text.bytes().map(|byte| if byte == b'\n' { '\n' } else { ' ' }).collect::<String>();
    let (Some(before), Some(inside), Some(after)) = (text.get(..start), text.get(start..end), text.get(end..)) else {
        return Source::new(source.path(), "");
    };
    Source::new(source.path(), format!("{}{inside}{}", blank(before), blank(after)))
}

/// What is left to do when all files were read: blank the texts, and drop what leads nowhere.
fn tidy_up(public: &mut Book, kept: &[&Entry]) {
    public.guides.par_iter_mut().for_each(|guide| guide.source = only(&guide.source, guide.body));
    let findings: BTreeMap<String, usize> = public.entries.iter().map(|entry| (entry.id.clone(), entry.findings.len())).collect();
    let papers: BTreeSet<&str> = kept.iter().filter(|entry| !entry.papers.is_empty()).map(|entry| entry.id.as_str()).collect();
    public.entries.par_iter_mut().for_each(|entry| {
        entry.source = only(&entry.source, entry.body);
        entry.paper_on_file = papers.contains(entry.id.as_str());
        entry.clears.retain(|finding| findings.get(&finding.entry).is_some_and(|count| (1..=*count).contains(&finding.number)));
    });
    let mut sources: BTreeMap<String, Source> = BTreeMap::new();
    sources.extend(public.guides.iter().map(|guide| (guide.source.path().to_owned(), guide.source.clone())));
    sources.extend(public.entries.iter().map(|entry| (entry.source.path().to_owned(), entry.source.clone())));
    for path in ["boat.yaml", "stores.yaml", "tools.yaml", "cautions.yaml", "meters.csv"] {
        sources.entry(path.to_owned()).or_insert_with(|| Source::new(path, ""));
    }
    public.sources = sources;
}

/// Pictures and other files, without the papers and without those of entries that are kept back.
fn files(book: &Book, kept: &[&Entry], withheld: &Withheld) -> BTreeMap<String, u64> {
    let mut files = book.files.clone();
    let hides_papers = super::keys::ENTRY.key("papers").is_some_and(|key| withheld.hides(key));
    for entry in book.entries.iter().filter(|_| hides_papers) {
        for paper in &entry.papers {
            for path in paths_of_paper(folder_of(entry.source.path()), &entry.id, &paper.value) {
                files.remove(&path);
            }
        }
    }
    let folder = |entry: &Entry| entry.source.path().trim_end_matches(".md").to_owned() + "/";
    let shown: BTreeSet<String> = kept.iter().map(|entry| folder(entry)).collect();
    let private = book.entries.iter().filter(|entry| entry.private).map(folder);
    let hidden: BTreeSet<String> = private.filter(|own| !shown.contains(own)).collect();
    files.retain(|path, _| !path.match_indices('/').any(|(at, _)| path.get(..=at).is_some_and(|above| hidden.contains(above))));
    files
}

fn folder_of(path: &str) -> &str {
    path.rsplit_once('/').map_or("", |(folder, _)| folder)
}
