//! Pictures and papers of the book in the site: scaled, turned upright, stripped of all that a
//! camera hides in them, and named so that the same picture is never made twice.

use super::drawing::rebuild_svg;
use super::manifest::{KnownPicture, Manifest, Size};
use super::pictures::{PhotoLimits, prepare_photo};
use super::write::{Staging, WriteError};
use crate::book::check::{Target, resolve};
use crate::book::diagnostic::{Diagnostic, Severity};
use crate::book::id::id_of;
use crate::book::model::{Book, Entry};
use crate::book::source::Place;
use crate::disk;
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
        let folder = folder_of(guide.source.path());
        guide.outline.pictures.iter().for_each(|picture| add(folder, &picture.path.value));
    }
    for entry in entries {
        let folder = folder_of(entry.source.path());
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
        for paper in &entry.papers {
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
    crate::book::check::paths_of_paper(folder_of(entry.source.path()), &entry.id, written)
        .into_iter()
        .find(|path| book.files.contains_key(path))
}

/// The folder that a file stands in, inside the book.
#[must_use]
pub fn folder_of(path: &str) -> &str {
    path.rsplit_once('/').map_or("", |(folder, _)| folder)
}

enum Made {
    Picture { path: String, known: KnownPicture },
    Paper { path: String, href: String },
    Trouble(Diagnostic),
}

/// Prepares and stages all pictures and papers, each dropped once it is staged; pictures that the
/// manifest knows and the site still has are not made again.
///
/// # Errors
/// The disk refuses.
pub fn prepare(book: &Book, entries: &[&Entry], folder: &Path, staging: &Staging) -> Result<Prepared, WriteError> {
    let pictures: Vec<String> = pictures_of(book, entries).into_iter().collect();
    let papers: Vec<String> = papers_of(book, entries).into_iter().collect();
    let mut made: Vec<Made> = pictures.par_iter().map(|path| picture(folder, path, staging)).collect::<Result<_, _>>()?;
    made.extend(papers.par_iter().map(|path| paper(folder, path, staging)).collect::<Result<Vec<Made>, WriteError>>()?);
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
    // As with a text of the book: what is there and cannot be read must not be missing without a word.
    std::fs::read(&full).map_err(|error| {
        let message = format!("this file cannot be read: {}", disk::why(&error));
        Box::new(Diagnostic {
            rule: "unreadable",
            severity: Severity::Error,
            ..*trouble(path, message, "check that it is there and that you may read it")
        })
    })
}

fn trouble(path: &str, message: impl Into<String>, remedy: impl Into<String>) -> Box<Diagnostic> {
    Box::new(Diagnostic {
        rule: "picture",
        severity: Severity::Warning,
        place: Place { file: path.to_owned(), line: 1, column: 1, excerpt: String::new(), mark: 0..0 },
        message: message.into(),
        remedy: remedy.into(),
    })
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
    let bytes = match read(folder, path) {
        Ok(bytes) => bytes,
        Err(problem) => return Ok(Made::Trouble(*problem)),
    };
    let hash = short_hash(&bytes);
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
    let name = format!("pictures/{}-{}", readable_name(path), hash.get(..8).unwrap_or(&hash));
    let mut sizes = Vec::new();
    if path.to_lowercase().ends_with(".svg") {
        match rebuild_svg(&bytes) {
            Ok(drawing) => {
                let href = format!("{name}.svg");
                staging.add(&href, &drawing.bytes)?;
                sizes.push(Size { href, width: drawing.width, height: drawing.height });
            }
            Err(error) => return Ok(Made::Trouble(*trouble(path, error.to_string(), error.remedy()))),
        }
    } else {
        match prepare_photo(&bytes, &PhotoLimits::default()) {
            Ok(photo) => {
                for variant in photo.variants {
                    let href = format!("{name}-{}.{}", variant.width, variant.extension);
                    staging.add(&href, &variant.bytes)?;
                    sizes.push(Size { href, width: variant.width, height: variant.height });
                }
            }
            Err(error) => return Ok(Made::Trouble(*trouble(path, error.to_string(), error.remedy()))),
        }
    }
    Ok(Made::Picture { path: path.to_owned(), known: KnownPicture { source, sizes } })
}

/// A paper is handed out byte for byte; a picture among the papers as well, for it is evidence.
fn paper(folder: &Path, path: &str, staging: &Staging) -> Result<Made, WriteError> {
    match read(folder, path) {
        Ok(bytes) => {
            let ending = path.rsplit_once('.').map(|(_, ending)| id_of(ending)).unwrap_or_default();
            let hash = short_hash(&bytes);
            let href = format!("papers/{}-{}.{ending}", readable_name(path), hash.get(..8).unwrap_or(&hash));
            staging.add(&href, &bytes)?;
            Ok(Made::Paper { path: path.to_owned(), href })
        }
        Err(problem) => Ok(Made::Trouble(*problem)),
    }
}
