//! Taking an entry that was written elsewhere into the log.
//!
//! An entry comes as a file: saved by a phone, or written by hand. [`prepare`] holds it against the
//! whole book and says where it belongs; [`crate::disk::put`] places it there. A file of the log is never replaced.

pub mod csv;
mod front_lines;
mod place;
mod plain_day;
mod prepare;
mod record;
mod text;

pub use place::{Spot, shortened, spot_of};
pub use plain_day::plain_day;
pub use prepare::{Former, Prepared, Refused, open_entries, prepare};
pub use record::{Record, record_of, same_content};
pub use text::{Value, entry_text, flow};
