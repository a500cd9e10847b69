//! What the crew wrote: reading it, checking it, holding it.
//!
//! [`load::load`] reads a folder and returns the [`model::Book`] with everything that is wrong with
//! it. Nothing here knows the date of today, and nothing here looks at what follows from the book:
//! that is `reckon`.

pub mod body;
pub mod by_id;
pub mod check;
pub mod cut;
pub mod date;
pub mod decode;
pub mod diagnostic;
mod find;
mod flat;
pub mod front_matter;
pub mod id;
pub mod keys;
pub mod load;
mod lost_text;
mod mark;
pub mod markdown;
pub mod model;
pub mod names_of_guide;
pub mod near;
pub mod nmea;
pub mod node;
pub mod outline;
pub mod plain_steps;
pub mod private;
mod private_like;
mod private_misplaced;
pub mod public;
pub mod quoted;
pub mod received;
pub mod safety;
mod signal_word;
pub mod source;
pub mod stages;
mod swallowed;
mod targets;
mod unlisted;
pub mod usual;
