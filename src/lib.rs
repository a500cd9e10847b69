//! garboard compiles a boat's book (job guides, the log of work done, stores, passages) into a
//! static site that its crew follows.
//!
//! Data goes one way:
//!
//! 1. [`book`] reads the files, checks them, and holds what the crew wrote;
//! 2. [`reckon`] says what follows from it on a date, without any input or output;
//! 3. [`site`] turns that into pages and writes them;
//! 4. [`cli`] is the command line round these.
//!
//! [`enter`] goes the other way: it takes an entry that was written elsewhere into the log. [`begin`] makes
//! a new book, [`draft`] a new guide.
//!
//! [`share`] is about guides that go from boat to boat in one file.
//!
//! [`schema`] tells editors what may stand in the files.
//!
//! [`tend`] shows a site while its book is being written.
//!
//! [`disk`] puts new files in their places, and says in plain words what a disk refuses.
//!
//! [`record`] is the log as plain data with fingerprints, to be shown and compared.
//!
//! [`quantity`] holds figures with units and knows nothing of the rest.

#![forbid(unsafe_code)]
#![cfg_attr(test, allow(clippy::disallowed_methods, reason = "tests lay and read files of their own"))]

pub mod begin;
pub mod book;
#[expect(clippy::disallowed_methods, reason = "the edge, where arguments, environment, clock and files come in")]
pub mod cli;
#[expect(clippy::disallowed_methods, reason = "puts new files in their places")]
pub mod disk;
pub mod draft;
pub mod enter;
pub mod quantity;
pub mod reckon;
pub mod record;
pub mod schema;
pub mod share;
pub mod site;
mod spreadsheet;
pub mod survey;
#[expect(clippy::disallowed_methods, reason = "serves the files of a site, and watches those of a book")]
pub mod tend;
