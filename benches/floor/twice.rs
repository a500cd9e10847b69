//! A publish into a folder that holds the site already: with nothing changed, and with one entry changed.

use super::measured::{Cost, median};
use super::publish;
use std::collections::BTreeMap;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::time::SystemTime;

/// A second publish with nothing changed may take this share of a first one.
const SHARE: f64 = 0.3;

/// What came of publishing again.
#[derive(Debug)]
pub struct Again {
    /// With nothing changed.
    same: Cost,
    /// Files that were written then.
    same_written: Vec<String>,
    /// With a word more in one entry.
    changed: Cost,
    changed_written: Vec<String>,
}

/// A file of a site: whether it was written can be told from the file that it is, and its time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct File {
    pub size: u64,
    number: u64,
    written: SystemTime,
}

/// All files of a site by their paths from its top.
///
/// # Errors
/// The folder cannot be read.
pub fn files(site: &Path) -> io::Result<BTreeMap<String, File>> {
    let mut files = BTreeMap::new();
    for item in walkdir::WalkDir::new(site) {
        let item = item.map_err(io::Error::other)?;
        let meta = item.metadata().map_err(io::Error::other)?;
        if meta.is_file() {
            let path = item.path().strip_prefix(site).map_err(io::Error::other)?.to_string_lossy().into_owned();
            files.insert(path, File { size: meta.len(), number: number(&meta), written: meta.modified()? });
        }
    }
    Ok(files)
}

#[cfg(unix)]
fn number(meta: &fs::Metadata) -> u64 {
    std::os::unix::fs::MetadataExt::ino(meta)
}

#[cfg(not(unix))]
fn number(_: &fs::Metadata) -> u64 {
    0
}

/// Publishes into an empty folder, then again and again.
///
/// # Errors
/// A publish fails.
pub fn again(book: &Path, site: &Path, rounds: usize) -> io::Result<Again> {
    publish(book, site)?;
    let first = files(site)?;
    let same: Vec<Cost> = (0..rounds).map(|_| publish(book, site)).collect::<io::Result<_>>()?;
    let second = files(site)?;
    let entry = middle_entry(book)?;
    let mut text = fs::read_to_string(&entry)?;
    text.push_str("\nLooked at again from the other side.\n");
    fs::write(&entry, text)?;
    let changed = publish(book, site)?;
    let third = files(site)?;
    let same = Cost {
        wall: median(same.iter().map(|cost| cost.wall).collect()),
        work: median(same.iter().map(|cost| cost.work).collect()),
        memory: median(same.iter().map(|cost| cost.memory).collect()),
    };
    Ok(Again { same, same_written: differ(&first, &second), changed, changed_written: differ(&second, &third) })
}

/// An entry in the middle of the log.
fn middle_entry(book: &Path) -> io::Result<PathBuf> {
    let mut entries: Vec<PathBuf> = walkdir::WalkDir::new(book.join("log"))
        .into_iter()
        .filter_map(Result::ok)
        .filter(|item| item.file_type().is_file())
        .map(walkdir::DirEntry::into_path)
        .collect();
    entries.sort();
    entries.get(entries.len() / 2).cloned().ok_or_else(|| io::Error::other("no entry"))
}

fn differ(before: &BTreeMap<String, File>, after: &BTreeMap<String, File>) -> Vec<String> {
    after.iter().filter(|(path, file)| before.get(*path) != Some(file)).map(|(path, _)| path.clone()).collect()
}

/// Prints the table, and notes where a limit is not kept.
pub fn print<'a>(books: impl Iterator<Item = (&'static str, Cost, &'a Again)>, kept: &mut bool) {
    println!("| book | first | again, nothing changed | share | MUST | files written | again, one entry changed | files written |");
    println!("| --- | ---: | ---: | ---: | --- | ---: | ---: | ---: |");
    let mut lists = Vec::new();
    for (name, first, again) in books {
        let share = again.same.wall.as_secs_f64() / first.wall.as_secs_f64();
        *kept &= share <= SHARE && again.same_written.is_empty();
        println!(
            "| {name} | {:.2} s | {:.2} s | {share:.2} | at most {SHARE}, no file | {} | {:.2} s | {} |",
            first.wall.as_secs_f64(),
            again.same.wall.as_secs_f64(),
            again.same_written.len(),
            again.changed.wall.as_secs_f64(),
            again.changed_written.len()
        );
        lists.push((name, &again.changed_written));
    }
    println!();
    for (name, written) in lists {
        println!("One entry changed in {name}: {}", written.join(", "));
    }
}
