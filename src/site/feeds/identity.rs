//! Names of things that never change, so that whoever reads a feed or a calendar again knows them.
//!
//! They are UUIDs made from names (RFC 9562, version 5): of the boat by what she is called, of an entry by
//! the boat and the entry's id. They stay when a title, a date, the site or the edition changes, and are others
//! only when the boat is renamed or the file of the entry is.

use crate::book::id::loose_key_of;
use uuid::{Uuid, uuid};

/// Made once, at random: what is named in it is a book of this program.
const BOOKS: Uuid = uuid!("e2293d76-5f60-45d6-92fc-7b6b380c3c29");

/// The boat's book.
#[must_use]
pub fn of_book(boat: &str) -> Uuid {
    Uuid::new_v5(&BOOKS, loose_key_of(boat).as_bytes())
}

/// The feed of her log.
#[must_use]
pub fn of_log(book: &Uuid) -> Uuid {
    Uuid::new_v5(book, b"log")
}

/// An entry of her log.
#[must_use]
pub fn of_entry(book: &Uuid, entry: &str) -> Uuid {
    Uuid::new_v5(book, format!("entry/{entry}").as_bytes())
}

/// A date of her calendar, by what it is about: `due.oil-and-filter.port-engine@UUID`. Ids have no dots.
#[must_use]
pub fn of_date(book: &Uuid, kind: &str, ids: &[&str]) -> String {
    format!("{kind}.{}@{book}", ids.join("."))
}
