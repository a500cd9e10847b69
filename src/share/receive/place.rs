//! Puts what was received into the book: all of it, or nothing; over no file that is there.
//!
//! All is staged first; then lists come first, pictures next, guides last, so that a run that is killed leaves no guide without what
//! it names. A list is written beside itself and renamed, and only while it is still as it was read.

#![expect(clippy::disallowed_methods, reason = "takes the files of a received guide in")]

use super::plan::{Locked, Receipt};
use super::records::List;
use crate::disk;
use crate::disk::put::{PutError, place, staged};
use crate::disk::put_all::{Item, NothingPut, put_all_after};
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

/// What stands in the book now.
#[derive(Debug)]
pub struct Placed {
    pub paths: Vec<PathBuf>,
    pub lists: Vec<PathBuf>,
    /// The system could not be made to flush a folder, and why.
    pub not_flushed: Option<io::Error>,
}

/// Lists of the book that may not be written to, with the reason.
#[must_use]
pub fn locked(book: &Path) -> Locked {
    let mut locked = Locked::new();
    for list in [List::Stores, List::Tools, List::Cautions] {
        match fs::symlink_metadata(book.join(list.file())) {
            Ok(meta) if meta.is_symlink() => locked.insert(list, "it is a link to another place".to_owned()),
            Ok(meta) if !meta.is_file() => locked.insert(list, "it is no file".to_owned()),
            Ok(meta) if meta.permissions().readonly() => locked.insert(list, "it may not be written to".to_owned()),
            Ok(_) => None,
            Err(error) if error.kind() == io::ErrorKind::NotFound => None,
            Err(error) => locked.insert(list, disk::why(&error)),
        };
    }
    locked
}

/// Puts everything into the book in `folder`.
///
/// # Errors
/// Something cannot be written, or a list was changed meanwhile. Everything is as it was, save what the
/// error names.
pub fn put_in(folder: &Path, receipt: &Receipt) -> Result<Placed, NothingPut> {
    let items: Vec<_> = receipt
        .files
        .iter()
        .map(|file| Item { folder: folder.join(&file.folder), names: std::iter::once(file.name.clone()), bytes: file.bytes.clone() })
        .collect();
    let stays = |error: PutError| NothingPut { error, left: Vec::new() };
    for item in &items {
        no_links(folder, &item.folder).map_err(stays)?;
    }
    let mut grown: Vec<(PathBuf, Option<&str>, &str)> = Vec::new();
    let put = put_all_after(&items, || {
        for growth in &receipt.lists {
            let path = folder.join(growth.file);
            grow(folder, &path, growth.old.as_deref(), &growth.new)?;
            grown.push((path, growth.old.as_deref(), &growth.new));
        }
        Ok(())
    });
    match put {
        Ok(put) => {
            let lists = grown.into_iter().map(|(path, ..)| path).collect();
            Ok(Placed { paths: put.paths, lists, not_flushed: put.not_flushed })
        }
        Err(mut nothing) => {
            for (path, old, new) in grown {
                if !shrink(folder, &path, old, new) {
                    nothing.left.push(path);
                }
            }
            Err(nothing)
        }
    }
}

/// Nothing on the way from the book to a folder may be a link.
fn no_links(book: &Path, folder: &Path) -> Result<(), PutError> {
    match disk::link_among(folder.ancestors().take_while(|path| *path != book)) {
        Some(message) => Err(PutError { message, remedy: "put the folder itself into the book, then receive it again" }),
        None => Ok(()),
    }
}

/// Writes a list beside itself and renames it, if it is still as it was read.
fn grow(folder: &Path, path: &Path, old: Option<&str>, new: &str) -> Result<(), PutError> {
    let refuse = |error: &io::Error| PutError {
        message: disk::cannot("write", path, error),
        remedy: "check the disk and the folder, then try again",
    };
    let temporary = staged(folder, new.as_bytes()).map_err(|error| refuse(&error))?;
    let changed = || PutError { message: format!("`{}` was changed while the file was read", path.display()), remedy: "receive it again" };
    let Some(old) = old else {
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        return place(temporary, folder, [name], new.as_bytes()).map(|_| ());
    };
    let meta = fs::symlink_metadata(path).map_err(|error| refuse(&error))?;
    if !meta.is_file() || fs::read(path).map_err(|error| refuse(&error))? != old.as_bytes() {
        return Err(changed());
    }
    fs::set_permissions(&temporary, meta.permissions()).map_err(|error| refuse(&error))?;
    temporary.persist(path).map_err(|error| refuse(&error.error))
}

/// Makes a list what it was; whether it is.
fn shrink(folder: &Path, path: &Path, old: Option<&str>, new: &str) -> bool {
    match old {
        // A disk that refused once may take it the second time.
        Some(old) => (0..2).any(|_| grow(folder, path, Some(new), old).is_ok()),
        None => fs::read(path).is_ok_and(|bytes| bytes == new.as_bytes()) && fs::remove_file(path).is_ok(),
    }
}
