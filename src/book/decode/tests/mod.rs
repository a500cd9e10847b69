//! The decoders as tables: what was written, and what is said about it and where.

mod any_text;
mod boat;
mod entry;
mod entry_body;
mod every_key;
mod fields;
mod guide;
mod guide_figures;
mod lists;
mod meters_csv;
mod schemas;
