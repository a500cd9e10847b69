//! Puts a new file into a folder of the book: never over another, whole or not at all, and on the
//! disk when it returns.
//!
//! The text is written to a hidden file beside its place and renamed. A run that is killed leaves at
//! most that hidden file, which no reader of a book looks at.

use super::{Refusal, cannot, or_here, refusal};
use std::fs::{self, File, OpenOptions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use tempfile::TempPath;

/// How the hidden file begins and ends; `find` passes over both.
const PREFIX: &str = ".garboard-entering-";
const SUFFIX: &str = ".tmp";

/// Why a file cannot be put in its place. Nothing of it is left there.
#[derive(Debug)]
pub struct PutError {
    pub message: String,
    pub remedy: &'static str,
}

/// A file that stands in its place.
#[derive(Debug)]
pub struct Put {
    pub path: PathBuf,
    /// The system could not be made to flush the folder, and why.
    pub not_flushed: Option<io::Error>,
}

/// Writes `bytes` into the folder `folder`, which is made where there is none, under the first of
/// `names` that is free. Two at once get two names.
///
/// # Errors
/// The folder cannot be made or written to, or there are no more names.
pub fn put(folder: &Path, names: impl IntoIterator<Item = String>, bytes: &[u8]) -> Result<Put, PutError> {
    let mut unflushed = make(folder).map_err(|error| refused("make the folder", folder, &error))?;
    let staged = staged(folder, bytes).map_err(|error| refused("write into", folder, &error))?;
    let path = place(staged, folder, names, bytes)?;
    unflushed.push(folder.to_owned());
    Ok(Put { path, not_flushed: flush(&unflushed).err() })
}

/// Puts a staged text under the first of `names` that is free; returns its path.
///
/// # Errors
/// It cannot be written there, or there are no more names.
pub fn place(mut staged: TempPath, folder: &Path, names: impl IntoIterator<Item = String>, bytes: &[u8]) -> Result<PathBuf, PutError> {
    for name in names {
        let path = folder.join(name);
        match staged.persist_noclobber(&path) {
            Ok(()) => return Ok(path),
            Err(error) if error.error.kind() == io::ErrorKind::AlreadyExists => staged = error.path,
            // Neither a rename that spares what is there, nor links.
            Err(error) if knows_no_links(&error.error) => {
                staged = error.path;
                match write_new(&path, bytes) {
                    Ok(()) => return Ok(path),
                    Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {}
                    Err(error) => return Err(refused("write", &path, &error)),
                }
            }
            Err(error) => return Err(refused("write", &path, &error.error)),
        }
    }
    Err(PutError { message: format!("no name is free in `{}`", folder.display()), remedy: "look whether the folder is the one you mean" })
}

/// The whole text in a hidden file, flushed.
///
/// # Errors
/// The folder cannot be written to.
pub fn staged(folder: &Path, bytes: &[u8]) -> io::Result<TempPath> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(PREFIX).suffix(SUFFIX);
    // A file of the book like any other, not one that only its writer may read.
    #[cfg(unix)]
    builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o666));
    let mut file = builder.tempfile_in(folder)?;
    file.write_all(bytes)?;
    file.as_file().sync_all()?;
    // Closed, so that thousands can wait for their turn.
    Ok(file.into_temp_path())
}

/// Makes a folder and those above it; returns the folders that got a new one inside.
pub(super) fn make(folder: &Path) -> io::Result<Vec<PathBuf>> {
    let missing = folder.ancestors().take_while(|path| !path.as_os_str().is_empty() && !path.exists());
    let parents = missing.filter_map(Path::parent).map(Path::to_owned).collect();
    fs::create_dir_all(folder)?;
    Ok(parents)
}

/// The last resort: a file that is written in its place. One that cannot be finished is taken away.
fn write_new(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let mut file = OpenOptions::new().write(true).create_new(true).open(path)?;
    file.write_all(bytes).and_then(|()| file.sync_all()).inspect_err(|_| {
        let _ = fs::remove_file(path);
    })
}

fn knows_no_links(error: &io::Error) -> bool {
    // Linux answers a link on FAT with `EPERM`; writing itself was allowed, or the hidden file would not be there.
    matches!(error.kind(), io::ErrorKind::Unsupported | io::ErrorKind::PermissionDenied | io::ErrorKind::InvalidInput)
}

/// Makes sure that the names in these folders survive a power cut.
pub(crate) fn flush(folders: &[PathBuf]) -> io::Result<()> {
    for folder in folders {
        // Only here can a folder be opened like a file; elsewhere the system sees to it.
        #[cfg(unix)]
        match File::open(or_here(folder)).and_then(|folder| folder.sync_all()) {
            // Some file systems know no flushing of a folder.
            Err(error) if error.kind() != io::ErrorKind::InvalidInput && error.kind() != io::ErrorKind::Unsupported => return Err(error),
            _ => {}
        }
        #[cfg(not(unix))]
        let _ = folder;
    }
    Ok(())
}

pub(crate) fn refused(doing: &str, path: &Path, error: &io::Error) -> PutError {
    let remedy = match refusal(error) {
        Refusal::NoRoom => "make room on the disk, then try again",
        Refusal::NotPermitted => "see that you may write into the folder, then try again",
        Refusal::WriteProtected => "the disk or stick is write-protected: copy the book to where you may write",
        Refusal::NotThere | Refusal::FileInTheWay | Refusal::Other => "check the disk and the folder, then try again",
    };
    PutError { message: cannot(doing, path, error), remedy }
}

/// Held while an entry is checked and written, so that two at once do not take the same record twice.
#[derive(Debug)]
pub struct Turn(Option<File>);

/// Waits for the turn of this book, and takes away what a run that was killed has left. Where the
/// system knows no locks on folders there is no turn: then two at once still never write over each
/// other, and nothing is taken away, for it may be another's that is at work.
#[must_use]
pub fn turn(book: &Path) -> Turn {
    let turn = Turn(File::open(or_here(book)).ok().filter(|folder| folder.lock().is_ok()));
    if turn.0.is_some() {
        clear_leftovers(book);
    }
    turn
}

/// How deep files are put: a picture of a guide, `guides/engine/oil/filter.jpg`.
const DEEPEST: usize = 4;

/// Removes hidden files of ours from the book. What cannot be removed is left: no reader of a book
/// looks at it. Links are not followed.
fn clear_leftovers(book: &Path) {
    for item in walkdir::WalkDir::new(book).max_depth(DEEPEST).into_iter().flatten() {
        let name = item.file_name().to_string_lossy();
        if item.file_type().is_file() && name.starts_with(PREFIX) && name.ends_with(SUFFIX) {
            let _ = fs::remove_file(item.path());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names() -> impl Iterator<Item = String> {
        ["a.md", "a-2.md", "a-3.md"].into_iter().map(str::to_owned)
    }

    #[test]
    fn nothing_is_replaced_and_nothing_is_left_beside() {
        let folder = tempfile::tempdir().expect("a folder");
        let year = folder.path().join("log/2026");
        for (text, name) in [("first", "a.md"), ("second", "a-2.md"), ("third", "a-3.md")] {
            let put = put(&year, names(), text.as_bytes()).expect("there is room");
            assert_eq!(put.path, year.join(name));
            assert!(put.not_flushed.is_none());
        }
        assert!(put(&year, names(), b"fourth").expect_err("all names are taken").message.contains("no name is free"));
        let mut found: Vec<(String, String)> = fs::read_dir(&year)
            .expect("a folder")
            .map(|item| item.expect("an item").path())
            .map(|path| (path.file_name().expect("a name").to_string_lossy().into_owned(), fs::read_to_string(path).expect("text")))
            .collect();
        found.sort();
        let expected = [("a-2.md", "second"), ("a-3.md", "third"), ("a.md", "first")];
        assert_eq!(found, expected.map(|(name, text)| (name.to_owned(), text.to_owned())));
    }

    #[test]
    fn what_a_killed_run_has_left_goes_with_the_next_turn() {
        let book = tempfile::tempdir().expect("a folder");
        let year = book.path().join("log/2026");
        let names = [".garboard-entering-x1.tmp", ".garboard-entering-of-mine.md", ".hidden.tmp", "2026-03-14-oil.md"];
        fs::create_dir_all(&year).expect("a folder");
        for name in names {
            fs::write(year.join(name), "---\n").expect("a file");
        }
        drop(turn(book.path()));
        assert_eq!(names.map(|name| year.join(name).exists()), [false, true, true, true]);
    }

    #[test]
    fn a_folder_that_is_a_file_is_refused() {
        let folder = tempfile::tempdir().expect("a folder");
        fs::write(folder.path().join("log"), "no folder").expect("a file");
        let error = put(&folder.path().join("log"), names(), b"x").expect_err("no folder");
        assert!(error.message.contains("log"), "{}", error.message);
    }

    #[cfg(unix)]
    #[test]
    fn a_new_file_may_be_read_as_any_other() {
        use std::os::unix::fs::PermissionsExt;
        let folder = tempfile::tempdir().expect("a folder");
        let put = put(folder.path(), names(), b"x").expect("there is room");
        fs::write(folder.path().join("plain"), "x").expect("a file");
        let mode = |path: &Path| fs::metadata(path).expect("a file").permissions().mode();
        assert_eq!(mode(&put.path), mode(&folder.path().join("plain")));
    }
}
