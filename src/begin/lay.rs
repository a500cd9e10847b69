//! Lays a new book into a folder: all of it or nothing, and never where something stands already.
//!
//! The book is written into a hidden folder beside its place, flushed, and renamed. No system renames
//! a folder over one that has something in it.

#![expect(clippy::disallowed_methods, reason = "lays the files of a new book")]

use super::{NewFile, SCHEMAS};
use crate::disk::{Refusal, cannot, put, refusal};
use std::fs::{self, OpenOptions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// Why no book was begun. Nothing of it is left on the disk.
#[derive(Debug)]
pub struct NotBegun {
    pub message: String,
    pub remedy: String,
}

/// Writes a new book into `folder/content`; folders are made where there are none. Returns the path of
/// the book.
///
/// # Errors
/// Something stands there already, or the folder cannot be written to.
pub fn lay(folder: &Path, files: &[NewFile]) -> Result<PathBuf, NotBegun> {
    let content = folder.join("content");
    refuse_what_is_there(&content)?;
    let made: Vec<PathBuf> = missing(folder);
    let laid = fs::create_dir_all(folder)
        .map_err(|error| refused("make the folder", folder, &error))
        .and_then(|()| stage(folder, files))
        .and_then(|staged| into_place(staged, &content));
    if laid.is_err() {
        // Only folders that this run made, and only while they are empty.
        for folder in &made {
            let _ = fs::remove_dir(folder);
        }
    }
    laid.map(|()| content)
}

/// Writes the schemas beside the book; one that is there stays as it is. Returns what could not be
/// written, for a book is whole without them.
#[must_use]
pub fn lay_schemas(folder: &Path, schemas: &[(String, String)]) -> Vec<String> {
    let folder = folder.join(SCHEMAS);
    let missing = schemas.iter().filter(|(name, _)| folder.join(name).symlink_metadata().is_err());
    missing.filter_map(|(name, text)| put::put(&folder, [name.clone()], text.as_bytes()).err().map(|error| error.message)).collect()
}

/// An empty folder is a place for a book; all else is not.
fn refuse_what_is_there(content: &Path) -> Result<(), NotBegun> {
    let there = |what: &str| NotBegun {
        message: format!("`{}` is there already{what}", content.display()),
        remedy: "name another folder, or move what is there out of the way; nothing was written".to_owned(),
    };
    let meta = match content.symlink_metadata() {
        Ok(meta) => meta,
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(()),
        Err(error) => return Err(refused("look at", content, &error)),
    };
    if !meta.is_dir() {
        return Err(there(", and it is no folder"));
    }
    let mut items = fs::read_dir(content).map_err(|error| refused("look into", content, &error))?;
    if items.next().is_some() { Err(there(" and not empty")) } else { Ok(()) }
}

/// The folder and those above it that are not there, the deepest first.
fn missing(folder: &Path) -> Vec<PathBuf> {
    let missing = folder.ancestors().take_while(|path| !path.as_os_str().is_empty() && path.symlink_metadata().is_err());
    missing.map(Path::to_owned).collect()
}

fn stage(folder: &Path, files: &[NewFile]) -> Result<tempfile::TempDir, NotBegun> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(".garboard-beginning-").suffix(".tmp");
    // A folder like any other, not one that only its writer may read.
    #[cfg(unix)]
    builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o777));
    // A relative place is read from where the program stands, also while it is renamed.
    let inside = if folder.as_os_str().is_empty() { Path::new(".") } else { folder };
    let staged = builder.tempdir_in(inside).map_err(|error| refused("write into", folder, &error))?;
    for (path, text) in files {
        let path = staged.path().join(path);
        write(&path, text).map_err(|error| refused("write into", folder, &error))?;
    }
    Ok(staged)
}

fn write(path: &Path, text: &str) -> io::Result<()> {
    if let Some(folder) = path.parent() {
        fs::create_dir_all(folder)?;
    }
    let mut file = OpenOptions::new().write(true).create_new(true).open(path)?;
    file.write_all(text.as_bytes())?;
    file.sync_all()
}

fn into_place(staged: tempfile::TempDir, content: &Path) -> Result<(), NotBegun> {
    // Elsewhere a rename takes the place of no folder, not even of an empty one; one that has something
    // in it is not removed.
    #[cfg(not(unix))]
    let _ = fs::remove_dir(content);
    match fs::rename(staged.path(), content) {
        Ok(()) => {
            // It is no longer where it would be taken away from.
            let _ = staged.keep();
            Ok(())
        }
        Err(error) => {
            // Somebody else may have begun one meanwhile.
            refuse_what_is_there(content)?;
            Err(refused("write", content, &error))
        }
    }
}

fn refused(doing: &str, path: &Path, error: &io::Error) -> NotBegun {
    let remedy = match refusal(error) {
        Refusal::NoRoom => "make room on the disk, then begin again",
        Refusal::NotPermitted => "see that you may write there, or name another folder",
        Refusal::WriteProtected => "the disk or stick is write-protected: name a folder where you may write",
        Refusal::FileInTheWay => "one of these names is a file: name another folder",
        Refusal::NotThere | Refusal::Other => "check the disk and the folder, or name another",
    };
    NotBegun { message: cannot(doing, path, error), remedy: format!("{remedy}; nothing was written") }
}

/// Whether this schema stands beside the book.
#[must_use]
pub fn has_schema(book: &Path, file: &str) -> bool {
    let beside = book.parent().unwrap_or(book);
    beside.join(SCHEMAS).join(file).is_file()
}
