//! Taking guides of another boat into the book. The file is read as one that somebody made to do harm.
//!
//! [`read`] finds the data in it and bounds them; [`plan`](plan::plan) holds them against the book and says
//! what would be written, what is mapped, and what is refused and why; [`place`] writes it, all or nothing,
//! over no file. Texts are taken as they are or not at all; pictures are written anew. Only `place` touches
//! the disk.

mod append;
mod difference;
mod hidden;
mod names;
mod picture;
pub mod place;
pub mod plan;
mod plan_guide;
mod plan_lists;
mod provenance;
mod read;
mod records;
mod text;

pub use hidden::shown;
pub use names::{Kind, Maps, Unsettled, WrongMap, unsettled};
pub use read::{LARGEST_FILE, Unreadable, read};
pub use records::List;
