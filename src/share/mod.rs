//! Guides that go from boat to boat in one file.
//!
//! [`share`] makes the file of some guides of a book, and [`put`] writes it. What it carries for programs is
//! [`hold`]: the guides as they were written, and what they name.
//! [`receive`] holds such a file against a book and puts what may be taken into it.

mod gather;
pub mod hold;
mod lend;
pub mod put;
pub mod receive;
mod written;

use crate::book::diagnostic::Diagnostic;
use crate::book::model::Book;
use crate::enter::csv::plain;
use crate::site::pocket::MOST_GUIDES;
use crate::site::{Lent, ThemeError, ThemeFiles};
pub use gather::Unpaired;
use gather::gather;
use lend::lend;
use std::collections::BTreeSet;
use std::fmt;
use std::path::Path;

/// Bytes of pictures that a file carries for programs; a phone opens no larger ones.
const MOST_BYTES: usize = 20_000_000;

/// A file for another boat.
#[derive(Debug)]
pub struct Share {
    pub html: String,
    /// Ids and titles of the guides in it.
    pub guides: Vec<(String, String)>,
    /// Guides that these lead to and that the file does not hold, by id.
    pub elsewhere: BTreeSet<String>,
    /// Files of the book that these lead to, which no shared file holds.
    pub files: BTreeSet<String>,
    /// Guides that can be read in the file and not be taken from it, for they and another call two things the same; by id.
    pub apart: BTreeSet<String>,
    /// Isolations whose other half is in a guide that the file does not hold.
    pub unpaired: Vec<Unpaired>,
    /// Keys of front matter that were kept back, how many times in all.
    pub kept_back: usize,
    /// The pictures are too large to be carried as they are.
    pub no_pictures: bool,
    /// Pictures that could not be used.
    pub problems: Vec<Diagnostic>,
}

/// Why nothing can be shared.
#[derive(Debug)]
pub enum ShareError {
    Theme(ThemeError),
    /// A key that is kept back cannot be cut out of a guide.
    CannotCut {
        path: String,
        key: String,
    },
    /// More guides than a phone opens in one file.
    TooMany(usize),
}

impl fmt::Display for ShareError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Theme(error) => error.fmt(f),
            Self::CannotCut { path, key } => write!(f, "`{key}` is kept back and cannot be cut out of the front matter of `{path}`"),
            Self::TooMany(guides) => write!(f, "{guides} guides are more than a phone opens in one file"),
        }
    }
}

impl ShareError {
    /// What to do about it.
    #[must_use]
    pub fn remedy(&self) -> String {
        match self {
            Self::Theme(error) => error.remedy.clone(),
            Self::CannotCut { .. } => "write each key of its front matter on a line of its own".to_owned(),
            Self::TooMany(_) => format!("share at most {MOST_GUIDES} at a time: name them, or a system with `--system`"),
        }
    }
}

impl From<ThemeError> for ShareError {
    fn from(error: ThemeError) -> Self {
        Self::Theme(error)
    }
}

/// Makes the file of the guides `chosen`, by their ids: the same bytes on any day. `folder` is where the book lies.
///
/// # Errors
/// The theme cannot be used, there are too many guides, or something that is kept back cannot be cut out.
pub fn share(book: &Book, folder: &Path, chosen: &BTreeSet<&str>, theme: &ThemeFiles) -> Result<Share, ShareError> {
    if chosen.len() > MOST_GUIDES {
        return Err(ShareError::TooMany(chosen.len()));
    }
    let lent = lend(book, chosen);
    let ready = Lent::prepare(&lent, folder);
    let mut pictures: Vec<hold::Picture> = ready.pictures().map(gather::picture).collect();
    let no_pictures = pictures.iter().map(|picture| picture.bytes.len() / 3 * 4).sum::<usize>() > MOST_BYTES;
    if no_pictures {
        pictures.clear();
    }
    let not_shown = plain(&ready.not_shown(theme)?);
    let gathered = gather(book, &lent, pictures, &not_shown)?;
    let html = ready.file(theme, &hold::block(&gathered.held))?;
    let unpaired = gather::unpaired(book, &lent, &gathered.apart);
    let (elsewhere, files) = gather::left_behind(book, &lent);
    Ok(Share {
        html,
        guides: lent.guides.iter().map(|guide| (guide.id.clone(), guide.title.clone())).collect(),
        elsewhere,
        files,
        unpaired,
        apart: gathered.apart,
        kept_back: gathered.kept_back,
        no_pictures,
        problems: ready.problems().to_vec(),
    })
}
