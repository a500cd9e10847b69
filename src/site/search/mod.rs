//! The search index: what can be found, written so that a phone loads little of it.
//!
//! Pages opened from a folder can load scripts and nothing else, so every file of the index is a classic
//! script that hands its matter to `search-index.js` of the theme. `t-` files hold words with their documents, cut
//! by first letters; `v-` files hold words by their last letters, for typing errors among the first; `g-`,
//! `o-` and `e-` files hold the texts of guides, things and entries for what is shown of a hit. None is
//! larger than 18 KB, and one search loads at most eight of words and eight of texts, in any book.

mod document;
mod gather;
mod index;
mod packed;
mod pages;
mod plain;
mod postings;
mod shards;
mod staged;
mod table;
mod terms;
#[cfg(test)]
mod tests;

pub use document::{Document, Kind, Place};
pub use index::{File, Index, inline};
pub use pages::guide as guide_document;
pub use plain::{plain_text, sentences};
pub use staged::Indexing;
pub use terms::each_term;
