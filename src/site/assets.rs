//! Pictures and papers of the book in the site: scaled, turned upright, stripped of all that a
//! camera hides in them, and named so that the same picture is never made twice. Files that are only
//! linked are handed out byte for byte, but pictures among them not to strangers.

#![expect(clippy::disallowed_methods, reason = "reads pictures and papers")]

use super::drawing::rebuild_svg;
use super::manifest::{KnownPicture, Manifest, Size};
use super::pictures::{PhotoLimits, PhotoVariant, is_picture, prepare_photo};
use super::publish::Edition;
use super::write::{Staging, WriteError};
use crate::book::check::{Target, resolve};
use crate::book::diagnostic::{Diagnostic, Severity};
use crate::book::id::id_of;
use crate::book::load::unreadable;
use crate::book::model::{Book, Entry};
use crate::book::source::folder_of;
use rayon::prelude::*;
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

/// Raised when pictures come out differently, so that those of an earlier version are made anew.
const KIND: &str = "1";

/// Largest picture or paper that is read, in bytes.
const LARGEST: u64 = 80 * 1024 * 1024;

/// A picture in the site.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Picture {
    /// Smallest first.
    pub sizes: Vec<Size>,
}

/// Pictures and papers by their path in the book.
#[derive(Debug, Default)]
pub struct Assets {
    pictures: BTreeMap<String, Picture>,
    files: BTreeMap<String, String>,
}

impl Assets {
    /// The picture at a path of the book.
    #[must_use]
    pub fn picture(&self, path: &str) -> Option<&Picture> {
        self.pictures.get(path)
    }

    /// Where a paper of the book stands in the site.
    #[must_use]
    pub fn file(&self, path: &str) -> Option<&str> {
        self.files.get(path).map(String::as_str)
    }
}

/// What came of the pictures and papers.
#[derive(Debug, Default)]
pub struct Prepared {
    pub assets: Assets,
    pub known: BTreeMap<String, KnownPicture>,
    pub problems: Vec<Diagnostic>,
}

/// Kinds of papers that are not handed out: a browser would run what is in them.
const NO_PAPERS: [&str; 10] = [".html", ".htm", ".xhtml", ".xht", ".svg", ".js", ".mjs", ".xml", ".mht", ".mhtml"];

/// Paths of all pictures and papers that the site will hold.
#[must_use]
pub fn paths(book: &Book, entries: &[&Entry]) -> BTreeSet<String> {
    let mut paths = pictures_of(book, entries);
    paths.extend(papers_of(book, entries));
    paths
}

/// Paths of the pictures that guides and entries show.
fn pictures_of(book: &Book, entries: &[&Entry]) -> BTreeSet<String> {
    let mut paths = BTreeSet::new();
    let mut add = |folder: &str, target: &str| {
        if let Target::Inside { path, .. } = resolve(folder, target)
            && book.files.contains_key(&path)
        {
            paths.insert(path);
        }
    };
    for guide in &book.guides {
        let folder = guide.source.folder();
        guide.outline.pictures.iter().for_each(|picture| add(folder, &picture.path.value));
    }
    for entry in entries {
        let folder = entry.source.folder();
        entry.pictures.iter().for_each(|picture| add(folder, &picture.path.value));
    }
    paths
}

/// Paths of the papers and other files that guides and entries link to.
fn papers_of(book: &Book, entries: &[&Entry]) -> BTreeSet<String> {
    let mut paths = BTreeSet::new();
    let mut add = |path: String| {
        let lower = path.to_lowercase();
        if book.files.contains_key(&path) && !NO_PAPERS.iter().any(|ending| lower.ends_with(ending)) {
            paths.insert(path);
        }
    };
    let links = book
        .guides
        .iter()
        .flat_map(|guide| guide.outline.links.iter().map(move |link| (guide.source.path(), link)))
        .chain(entries.iter().flat_map(|entry| entry.links.iter().map(move |link| (entry.source.path(), link))));
    for (source, link) in links {
        if let Target::Inside { path, .. } = resolve(folder_of(source), &link.target.value) {
            add(path);
        }
    }
    for entry in entries {
        for paper in &entry.kept().papers {
            if let Some(path) = paper_path(book, entry, &paper.value) {
                add(path);
            }
        }
    }
    paths
}

/// The file of a paper: in the folder of its entry, or beside the entry.
#[must_use]
pub fn paper_path(book: &Book, entry: &Entry, written: &str) -> Option<String> {
    crate::book::check::paths_of_paper(entry.source.folder(), &entry.id, written).into_iter().find(|path| book.files.contains_key(path))
}

enum Made {
    Picture { path: String, known: KnownPicture },
    Paper { path: String, href: String },
    Trouble(Diagnostic),
}

/// Prepares and stages all pictures and papers, each dropped once it is staged; pictures that the
/// manifest knows and the site still has are not made again. In a public edition pictures that are
/// linked are made anew like those that are shown.
///
/// # Errors
/// The disk refuses.
pub fn prepare(book: &Book, entries: &[&Entry], folder: &Path, edition: Edition, staging: &Staging) -> Result<Prepared, WriteError> {
    let pictures: Vec<String> = pictures_of(book, entries).into_iter().collect();
    let papers: Vec<String> = papers_of(book, entries).into_iter().collect();
    let mut made: Vec<Made> = pictures.par_iter().map(|path| picture(folder, path, staging)).collect::<Result<_, _>>()?;
    let is_for_strangers = edition != Edition::Crew;
    let linked = |path: &String| if is_for_strangers { paper_for_strangers(folder, path, staging) } else { paper(folder, path, staging) };
    // What is shown as well is made already.
    let only_linked = papers.par_iter().filter(|path| !is_for_strangers || pictures.binary_search(path).is_err());
    made.extend(only_linked.map(linked).collect::<Result<Vec<Made>, WriteError>>()?);
    let mut prepared = Prepared::default();
    for one in made {
        match one {
            Made::Picture { path, known } => {
                prepared.assets.pictures.insert(path, Picture { sizes: known.sizes.clone() });
                prepared.known.insert(known.source.clone(), known);
            }
            Made::Paper { path, href } => {
                prepared.assets.files.insert(path, href);
            }
            Made::Trouble(problem) => prepared.problems.push(problem),
        }
    }
    if is_for_strangers {
        let Assets { pictures, files } = &mut prepared.assets;
        files.extend(papers.into_iter().filter_map(|path| {
            let largest = pictures.get(&path)?.sizes.last()?.href.clone();
            Some((path, largest))
        }));
    }
    Ok(prepared)
}

fn read(folder: &Path, path: &str) -> Result<Vec<u8>, Box<Diagnostic>> {
    let full = folder.join(path);
    let size = std::fs::metadata(&full).map_or(0, |meta| meta.len());
    if size > LARGEST {
        return Err(trouble(
            path,
            format!("this file has {} MB, and at most {} MB are taken", size / 1_000_000, LARGEST / 1_000_000),
            "make it smaller first",
        ));
    }
    std::fs::read(&full).map_err(|error| Box::new(unreadable(path, &error)))
}

fn trouble(path: &str, message: impl Into<String>, remedy: impl Into<String>) -> Box<Diagnostic> {
    Box::new(Diagnostic::of_file(path, "picture", Severity::Warning, message, remedy))
}

fn short_hash(bytes: &[u8]) -> String {
    blake3::hash(bytes).to_hex().chars().take(16).collect()
}

/// `oil-and-filter--filter-seat`: folder and stem of a picture, as a file name.
fn readable_name(path: &str) -> String {
    let mut parts = path.rsplit('/');
    let file = parts.next().unwrap_or_default();
    let stem = file.rsplit_once('.').map_or(file, |(stem, _)| stem);
    let folder = parts.next().unwrap_or_default();
    let name: String = format!("{}--{}", id_of(folder), id_of(stem));
    name.chars().take(60).collect::<String>().trim_matches('-').to_owned()
}

fn picture(folder: &Path, path: &str, staging: &Staging) -> Result<Made, WriteError> {
    match read(folder, path) {
        Ok(bytes) => picture_of(path, &bytes, staging),
        Err(problem) => Ok(Made::Trouble(*problem)),
    }
}

fn picture_of(path: &str, bytes: &[u8], staging: &Staging) -> Result<Made, WriteError> {
    let hash = short_hash(bytes);
    // With the name it gets: the same picture at another place is another file of the site.
    let source = format!("{hash} {KIND} {}", readable_name(path));
    let earlier: &Manifest = staging.earlier();
    if let Some(known) = earlier.picture(&source)
        && known.sizes.iter().all(|size| earlier.holds(staging.site(), &size.href))
    {
        for size in &known.sizes {
            staging.keep(&size.href)?;
        }
        return Ok(Made::Picture { path: path.to_owned(), known: known.clone() });
    }
    let mut sizes = Vec::new();
    match sizes_of(path, bytes) {
        Ok(made) => {
            for (size, bytes) in made {
                staging.add(&size.href, &bytes)?;
                sizes.push(size);
            }
        }
        Err(problem) => return Ok(Made::Trouble(*problem)),
    }
    Ok(Made::Picture { path: path.to_owned(), known: KnownPicture { source, sizes } })
}

/// A picture made anew in all its sizes, each with its bytes; the smallest first.
fn sizes_of(path: &str, bytes: &[u8]) -> Result<Vec<(Size, Vec<u8>)>, Box<Diagnostic>> {
    let hash = short_hash(bytes);
    let name = format!("pictures/{}-{}", readable_name(path), hash.get(..8).unwrap_or(&hash));
    if path.to_lowercase().ends_with(".svg") {
        let drawing = rebuild_svg(bytes).map_err(|error| trouble(path, error.to_string(), error.remedy()))?;
        let size = Size { href: format!("{name}.svg"), width: drawing.width, height: drawing.height };
        return Ok(vec![(size, drawing.bytes)]);
    }
    let photo = prepare_photo(bytes, &PhotoLimits::default()).map_err(|error| trouble(path, error.to_string(), error.remedy()))?;
    let sized = |variant: PhotoVariant| {
        let href = format!("{name}-{}.{}", variant.width, variant.extension);
        (Size { href, width: variant.width, height: variant.height }, variant.bytes)
    };
    Ok(photo.variants.into_iter().map(sized).collect())
}

/// The pictures of the guides of a book, held in memory.
#[derive(Debug, Default)]
pub struct Carried {
    pub assets: Assets,
    /// By their place in a site.
    pub bytes: BTreeMap<String, Vec<u8>>,
    pub problems: Vec<Diagnostic>,
}

impl Carried {
    /// The largest size of each picture, by its path in the book.
    pub fn largest(&self) -> impl Iterator<Item = (&str, &str, &[u8])> {
        self.assets.pictures.iter().filter_map(|(path, picture)| {
            let href = &picture.sizes.last()?.href;
            Some((path.as_str(), href.as_str(), self.bytes.get(href)?.as_slice()))
        })
    }
}

/// Makes the pictures of all guides anew and stages none. `folder` is the book's.
#[must_use]
pub fn carry(book: &Book, folder: &Path) -> Carried {
    let paths: Vec<String> = pictures_of(book, &[]).into_iter().collect();
    let made: Vec<_> =
        paths.into_par_iter().map(|path| read(folder, &path).and_then(|bytes| Ok((sizes_of(&path, &bytes)?, path)))).collect();
    let mut carried = Carried::default();
    for one in made {
        match one {
            Ok((made, path)) => {
                let (sizes, bytes): (Vec<Size>, Vec<Vec<u8>>) = made.into_iter().unzip();
                carried.bytes.extend(sizes.iter().map(|size| size.href.clone()).zip(bytes));
                carried.assets.pictures.insert(path, Picture { sizes });
            }
            Err(problem) => carried.problems.push(*problem),
        }
    }
    carried
}

/// A paper is handed out byte for byte; a picture among the papers as well, for it is evidence.
fn paper(folder: &Path, path: &str, staging: &Staging) -> Result<Made, WriteError> {
    match read(folder, path) {
        Ok(bytes) => paper_of(path, &bytes, staging),
        Err(problem) => Ok(Made::Trouble(*problem)),
    }
}

/// Whoever does not belong to the crew gets a picture made anew, for its file may say where it was taken. One of a
/// kind that cannot be made anew is not handed out.
fn paper_for_strangers(folder: &Path, path: &str, staging: &Staging) -> Result<Made, WriteError> {
    match read(folder, path) {
        Ok(bytes) if is_picture(path, &bytes) => Ok(match picture_of(path, &bytes, staging)? {
            Made::Trouble(mut problem) => {
                problem.message.push_str("; it may say where it was taken, so this edition leaves it out");
                Made::Trouble(problem)
            }
            made => made,
        }),
        Ok(bytes) => paper_of(path, &bytes, staging),
        Err(problem) => Ok(Made::Trouble(*problem)),
    }
}

fn paper_of(path: &str, bytes: &[u8], staging: &Staging) -> Result<Made, WriteError> {
    let ending = path.rsplit_once('.').map(|(_, ending)| id_of(ending)).unwrap_or_default();
    let hash = short_hash(bytes);
    let href = format!("papers/{}-{}.{ending}", readable_name(path), hash.get(..8).unwrap_or(&hash));
    staging.add(&href, bytes)?;
    Ok(Made::Paper { path: path.to_owned(), href })
}
