//! A book as large as one likes, made of numbers: the same files for the same size and seed, on every machine.
//!
//! It uses the whole format, and the survey finds no error in it. Its last day is [`LAST_DAY`].

mod boat;
mod entry;
mod guide;
mod lists;
mod random;
mod words;

use rayon::prelude::*;
use std::fs;
use std::io;
use std::path::Path;

/// Nothing in the book is later; reckon as of this day or after it.
pub const LAST_DAY: &str = "2026-05-31";

/// How large a book, and which one of that size.
#[derive(Debug, Clone, Copy)]
pub struct Size {
    pub guides: u64,
    pub entries: u64,
    pub seed: u64,
}

/// A file of the book: its path in the folder, with forward slashes, and its text.
pub type File = (String, String);

/// Writes a book into a folder, which is made where it is missing. Returns how many files it has.
///
/// # Errors
///
/// Whatever the disk has against it.
pub fn write(folder: &Path, size: Size) -> io::Result<u64> {
    let facts: Vec<File> = boat::files(size).into_iter().chain(lists::files(size)).collect();
    let count = facts.len() as u64 + size.guides + size.entries;
    facts.iter().try_for_each(|file| put(folder, file))?;
    (0..size.guides).into_par_iter().try_for_each(|n| put(folder, &guide::file(size, n)))?;
    (0..size.entries).into_par_iter().try_for_each(|n| put(folder, &entry::file(size, n)))?;
    Ok(count)
}

fn put(folder: &Path, (path, text): &File) -> io::Result<()> {
    let path = folder.join(path);
    match fs::write(&path, text) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => {
            fs::create_dir_all(path.parent().unwrap_or(folder))?;
            fs::write(&path, text)
        }
        result => result,
    }
}
