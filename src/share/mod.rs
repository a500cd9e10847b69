//! Guides that go from boat to boat in one file.
//!
//! [`hold`] is what such a file carries for programs: the guides as they were written, and what they name.

pub mod hold;
