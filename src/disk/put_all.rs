//! Puts several new files into the book: all of them, or none.
//!
//! All are staged first, so that a full disk is met before any is in its place. A run that is killed
//! half-way leaves whole entries, which the next run knows again.

use super::put::{PutError, flush, make, place, refused, staged};
use std::io;
use std::path::PathBuf;

/// A file to put: its folder, the names to try, what it holds.
#[derive(Debug)]
pub struct Item<Names> {
    pub folder: PathBuf,
    /// Made one by one: of many files in one folder each may have thousands to try.
    pub names: Names,
    pub bytes: Vec<u8>,
}

/// Files that stand in their places.
#[derive(Debug)]
pub struct PutAll {
    pub paths: Vec<PathBuf>,
    /// The system could not be made to flush a folder, and why.
    pub not_flushed: Option<io::Error>,
}

/// Why nothing was put, and what could not be taken away again.
#[derive(Debug)]
pub struct NothingPut {
    pub error: PutError,
    pub left: Vec<PathBuf>,
}

/// Puts every file under the first of its names that is free.
///
/// # Errors
/// One cannot be put; those that were are taken away again.
pub fn put_all<Names: Iterator<Item = String> + Clone>(items: &[Item<Names>]) -> Result<PutAll, NothingPut> {
    put_all_after(items, || Ok(()))
}

/// Puts every file as [`put_all`] does; once all are staged, and before any is in its place, `between` is
/// done. Undoing that, where a file cannot be put after all, is left to the caller.
///
/// # Errors
/// One cannot be staged or put, or `between` fails; those that were put are taken away again.
pub fn put_all_after<Names: Iterator<Item = String> + Clone>(
    items: &[Item<Names>],
    between: impl FnOnce() -> Result<(), PutError>,
) -> Result<PutAll, NothingPut> {
    let mut made: Vec<PathBuf> = Vec::new();
    let mut unflushed: Vec<PathBuf> = Vec::new();
    let mut waiting = Vec::new();
    let mut paths: Vec<PathBuf> = Vec::new();
    let put = (|| {
        for item in items {
            let folder = &item.folder;
            if !folder.is_dir() {
                made.extend(folder.ancestors().take_while(|path| !path.as_os_str().is_empty() && !path.exists()).map(PathBuf::from));
                unflushed.extend(make(folder).map_err(|error| refused("make the folder", folder, &error))?);
            }
            waiting.push(staged(folder, &item.bytes).map_err(|error| refused("write into", folder, &error))?);
        }
        between()?;
        for (item, waiting) in items.iter().zip(waiting.drain(..)) {
            paths.push(place(waiting, &item.folder, item.names.clone(), &item.bytes)?);
        }
        Ok(())
    })();
    unflushed.extend(items.iter().map(|item| item.folder.clone()));
    unflushed.sort();
    unflushed.dedup();
    match put {
        Ok(()) => Ok(PutAll { paths, not_flushed: flush(&unflushed).err() }),
        Err(error) => {
            drop(waiting);
            paths.retain(|path| std::fs::remove_file(path).is_err_and(|error| error.kind() != io::ErrorKind::NotFound));
            // Deepest first; one that holds anything stays.
            made.sort_by_key(|folder| std::cmp::Reverse(folder.components().count()));
            for folder in &made {
                let _ = std::fs::remove_dir(folder);
            }
            let _ = flush(&unflushed);
            Err(NothingPut { error, left: paths })
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn item(folder: PathBuf, name: &str) -> Item<std::iter::Once<String>> {
        Item { folder, names: std::iter::once(name.to_owned()), bytes: name.as_bytes().to_vec() }
    }

    #[test]
    fn names_are_made_as_they_are_tried() {
        let folder = tempfile::tempdir().expect("a folder");
        let without_end = || (1_u32..).map(|number| format!("a-{number}.md"));
        let items = ["x", "y"].map(|text| Item { folder: folder.path().to_owned(), names: without_end(), bytes: text.as_bytes().to_vec() });
        assert_eq!(put_all(&items).expect("there is room").paths, [folder.path().join("a-1.md"), folder.path().join("a-2.md")]);
    }

    #[test]
    fn all_or_none() {
        let folder = tempfile::tempdir().expect("a folder");
        let log = folder.path().join("log");
        let items = [item(log.join("2025"), "a.md"), item(log.join("2026"), "b.md"), item(log.join("2025"), "a.md")];
        let problem = put_all(&items).expect_err("the name is taken");
        assert!(problem.error.message.contains("no name is free") && problem.left.is_empty(), "{problem:?}");
        assert!(!log.exists());
        let put = put_all(&items[..2]).expect("there is room");
        assert_eq!(put.paths, [log.join("2025/a.md"), log.join("2026/b.md")]);
        assert!(put_all(&items[2..]).is_err());
        assert_eq!(std::fs::read_to_string(log.join("2025/a.md")).expect("text"), "a.md");
        assert_eq!(std::fs::read_dir(log.join("2025")).expect("a folder").count(), 1);
    }
}
