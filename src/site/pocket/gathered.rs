//! Pages of a publish that the pocket file is made of: kept when they are printed, so that none is
//! printed twice.

use super::{MOST_GUIDES, Sheet};
use crate::book::model::{Book, Guide};
use crate::site::search::Document;
use std::collections::BTreeMap;
use std::sync::{Mutex, MutexGuard, PoisonError};

/// What a book's guides allow.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Carried {
    /// There is a file.
    Yes,
    /// There is nothing to carry.
    NoGuides,
    /// More than a phone opens.
    TooMany,
}

/// Whether a book gets a pocket file.
#[must_use]
pub fn carried(book: &Book) -> Carried {
    match book.guides.len() {
        0 => Carried::NoGuides,
        1..=MOST_GUIDES => Carried::Yes,
        _ => Carried::TooMany,
    }
}

/// The printed pages. Several threads may add to it.
#[derive(Debug)]
pub struct Gathered {
    wanted: bool,
    contents: Mutex<String>,
    guides: Mutex<BTreeMap<usize, (String, Document)>>,
}

impl Gathered {
    /// Nothing is kept unless it is `wanted`.
    #[must_use]
    pub fn new(wanted: bool) -> Self {
        Self { wanted, contents: Mutex::default(), guides: Mutex::default() }
    }

    /// The page that lists all guides, printed where it is wanted.
    ///
    /// # Errors
    /// What the printing of it says.
    pub fn contents<E>(&self, print: impl FnOnce() -> Result<String, E>) -> Result<(), E> {
        if self.wanted {
            *lock(&self.contents) = print()?;
        }
        Ok(())
    }

    /// The page of a guide, by its number in the book, and what is found of it.
    pub fn guide(&self, number: usize, page: String, found: impl FnOnce() -> Document) {
        if self.wanted {
            let found = found();
            lock(&self.guides).insert(number, (page, found));
        }
    }

    /// Hands all over to `make`: the list of guides, and the guides in the order of `numbers`. `None` where nothing
    /// was wanted.
    pub fn hand_over<R>(&self, book: &Book, make: impl FnOnce(&str, &[Sheet<'_>]) -> R) -> Option<R> {
        if !self.wanted {
            return None;
        }
        let contents = lock(&self.contents);
        let pages = lock(&self.guides);
        let guides: Vec<Sheet<'_>> = in_order(book)
            .into_iter()
            .filter_map(|(number, guide)| pages.get(&number).map(|(page, found)| Sheet { id: &guide.id, page, found }))
            .collect();
        Some(make(&contents, &guides))
    }
}

/// The guides of a book with their numbers, as the list of guides has them.
#[must_use]
pub fn in_order(book: &Book) -> Vec<(usize, &Guide)> {
    let mut numbered: Vec<(usize, &Guide)> = book.guides.iter().enumerate().collect();
    let place = |id: &str| book.boat.systems.iter().position(|system| system.id.value == id).unwrap_or(usize::MAX);
    numbered.sort_by(|(_, a), (_, b)| (place(&a.system), &a.system, &a.title, &a.id).cmp(&(place(&b.system), &b.system, &b.title, &b.id)));
    numbered
}

/// A lock that another thread poisoned still guards plain data.
fn lock<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}
