//! From the YAML tree to the model: one file a kind of record.
//!
//! Every decoder notes all that is wrong and goes on with what can be used. Whether an id leads
//! anywhere is not asked here; that needs the whole book.

pub mod above;
mod fields;
mod figures;
mod ids;
mod scalar;
mod stray;
mod wrong_shape;

pub mod boat;
pub mod cautions;
pub mod entry;
pub mod guide;
pub mod meters_csv;
pub mod passages;
pub mod stores;
pub mod tools;

mod entry_file;
mod entry_lists;
mod entry_when;
mod gear;
mod guide_figures;
mod guide_file;
mod guide_names;
mod intervals;
mod names_of_keys;
mod price_of_which_unit;
mod private_marks;
mod received;
mod root;

pub use intervals::is_calendar;

#[cfg(test)]
mod testing;
#[cfg(test)]
mod tests;
