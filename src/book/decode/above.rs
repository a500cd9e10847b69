//! What stands above a syntax error: it is checked like any other, and nothing is missed in it.

use crate::book::diagnostic::Notes;
use crate::book::node::{Node, Reading};

/// Rules by which something is not there, or not what it should be: below the error it may be, and what was not closed
/// may have been meant as something else.
const UNSURE: [&str; 3] = ["missing-key", "no-date", "wrong-shape"];

/// What was made of a text.
#[derive(Debug)]
pub enum Told<T> {
    /// All of it; `None` where nothing can be used.
    Whole(Option<T>),
    /// What stands above a syntax error: good for looking up its names, and for nothing else.
    Above(Option<T>),
}

impl<T> Told<T> {
    /// What can be used.
    pub fn whole(self) -> Option<T> {
        match self {
            Self::Whole(told) => told,
            Self::Above(_) => None,
        }
    }

    /// What was made, whatever it is good for.
    pub fn told(&self) -> Option<&T> {
        match self {
            Self::Whole(told) | Self::Above(told) => told.as_ref(),
        }
    }

    /// The same, made into something else.
    pub fn map<U>(self, make: impl FnOnce(T) -> U) -> Told<U> {
        match self {
            Self::Whole(told) => Told::Whole(told.map(make)),
            Self::Above(told) => Told::Above(told.map(make)),
        }
    }
}

/// Decodes what was read, as far as it goes.
pub fn decoded<T>(notes: &mut Notes<'_>, read: &Reading<'_>, decode: impl FnOnce(&mut Notes<'_>, &Node<'_>) -> Option<T>) -> Told<T> {
    match read {
        Reading::Whole(node) => Told::Whole(node.as_ref().and_then(|node| decode(notes, node))),
        Reading::Above(None) => Told::Above(None),
        Reading::Above(Some(node)) => {
            let known = notes.found.len();
            let told = decode(notes, node);
            notes.take_back(known, |problem| !UNSURE.contains(&problem.rule));
            Told::Above(told)
        }
    }
}
