//! Pictures by the SHA-256 of their original files. The pictures of a site are made anew, by a program
//! that changes; the file in the book stays what it was.

use super::canonical::hexadecimal;
use crate::book::check::{Target, resolve};
use crate::book::model::{Book, Entry};
use rayon::prelude::*;
use sha2::{Digest, Sha256};
use std::collections::{BTreeMap, BTreeSet};
use std::fs::File;
use std::io::{self, Read};
use std::path::Path;

/// Path in the book to 64 hexadecimal digits; a file that cannot be read is left out.
pub type Hashes = BTreeMap<String, String>;

/// Reads the pictures of all entries that the book holds.
#[must_use]
pub fn hashes(folder: &Path, book: &Book, entries: &[&Entry]) -> Hashes {
    let paths: BTreeSet<String> = entries.iter().flat_map(|entry| paths(book, entry)).collect();
    paths.into_par_iter().filter_map(|path| Some((hash(&folder.join(&path)).ok()?, path))).map(|(hash, path)| (path, hash)).collect()
}

/// Paths in the book of the pictures that an entry shows, in order.
pub(super) fn paths(book: &Book, entry: &Entry) -> Vec<String> {
    let folder = entry.source.path().rsplit_once('/').map_or("", |(folder, _)| folder);
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
