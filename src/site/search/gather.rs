//! The words of documents with the documents that have them, as one thread gathers them.

use super::document::Document;
use super::packed::Packed;
use super::postings::{Posting, Weight};
use super::terms::each_term;
use crate::site::interner::Interner;

/// A word that stands this often in a text is weighty there.
const OFTEN: u32 = 3;

/// Words with their documents.
#[derive(Debug, Default)]
pub struct Gathering {
    words: Interner,
    /// By the numbers of their words.
    documents: Vec<Packed>,
    /// By the number of a word, where it stands in `found` if the document at hand has it.
    at: Vec<u32>,
    /// The words of the document at hand, each once.
    found: Vec<Found>,
}

/// A word in a document: the most prominent place it stands in, and how often it stands there.
#[derive(Debug)]
struct Found {
    word: usize,
    weight: Weight,
    count: u32,
}

impl Gathering {
    /// Adds a document. No two that one index is made of have one number on one shelf.
    pub fn add(&mut self, document: &Document) {
        self.note(&document.title, Weight::Title);
        self.note(&document.detail, Weight::Text);
        for place in &document.places {
            if place.heading {
                self.note(&place.label, Weight::Heading);
            }
            self.note(&place.text, Weight::Text);
        }
        let shelf = document.kind.shelf() as u8;
        for Found { word, weight, count } in self.found.drain(..) {
            let weight = if weight == Weight::Text && count >= OFTEN { Weight::Often } else { weight };
            let posting = Posting::new(shelf, weight, document.number);
            match self.documents.get_mut(word) {
                Some(documents) => documents.push(posting),
                // Words are numbered, and found, in the order in which they come.
                None => self.documents.push(Packed::new(posting)),
            }
        }
    }

    fn note(&mut self, text: &str, weight: Weight) {
        each_term(text, |word| {
            let word = self.words.number(word);
            if self.at.len() <= word {
                self.at.push(0);
            }
            let Some(at) = self.at.get_mut(word) else { return };
            match self.found.get_mut(*at as usize) {
                Some(found) if found.word == word => {
                    found.weight = found.weight.min(weight);
                    found.count += 1;
                }
                _ => {
                    *at = u32::try_from(self.found.len()).unwrap_or(u32::MAX);
                    self.found.push(Found { word, weight, count: 1 });
                }
            }
        });
    }

    /// The words, and by their numbers the documents that have them.
    #[must_use]
    pub fn into_parts(self) -> (Interner, Vec<Packed>) {
        (self.words, self.documents)
    }
}
