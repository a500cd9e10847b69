//! Pictures by the SHA-256 of their original files. The pictures of a site are made anew, by a program
//! that changes; the file in the book stays what it was.

#![expect(clippy::disallowed_methods, reason = "reads the pictures whose fingerprints the record holds")]

use super::canonical::hexadecimal;
use crate::book::check::{Target, resolve};
use crate::book::diagnostic::Diagnostic;
use crate::book::load::unreadable;
use crate::book::model::{Book, Entry};
use rayon::iter::Either;
use rayon::prelude::*;
use sha2::{Digest, Sha256};
use std::collections::{BTreeMap, BTreeSet};
use std::fs::File;
use std::io::{self, Read};
use std::path::Path;

/// Path in the book to 64 hexadecimal digits.
pub type Hashes = BTreeMap<String, String>;

/// Reads the pictures of all entries that the book holds; says of which files that cannot be done.
#[must_use]
pub fn hashes(folder: &Path, book: &Book, entries: &[&Entry]) -> (Hashes, Vec<Diagnostic>) {
    let paths: BTreeSet<String> = entries.iter().flat_map(|entry| paths(book, entry)).collect();
    let read = |path: String| match hash(&folder.join(&path)) {
        Ok(hash) => Either::Left((path, hash)),
        Err(error) => Either::Right(unreadable(&path, &error)),
    };
    paths.into_par_iter().partition_map(read)
}

/// Paths in the book of the pictures that an entry shows, in order.
pub(super) fn paths(book: &Book, entry: &Entry) -> Vec<String> {
    let folder = entry.source.folder();
    let inside = entry.pictures.iter().filter_map(|picture| match resolve(folder, &picture.path.value) {
        Target::Inside { path, .. } if book.files.contains_key(&path) => Some(path),
        _ => None,
    });
    inside.collect()
}

fn hash(path: &Path) -> io::Result<String> {
    let mut file = File::open(path)?;
    let mut hasher = Sha256::new();
    let mut piece = vec![0; 64 * 1024];
    loop {
        let read = file.read(&mut piece)?;
        if read == 0 {
            return Ok(hexadecimal(&hasher.finalize()));
        }
        hasher.update(piece.get(..read).unwrap_or_default());
    }
}
