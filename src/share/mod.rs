//! Guides that go from boat to boat in one file.
//!
//! [`hold`] is what such a file carries for programs: the guides as they were written, and what they name;
//! [`receive`] holds such a file against a book and puts what may be taken into it.

pub mod hold;
pub mod receive;
