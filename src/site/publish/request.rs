//! What is asked of a publish, and what comes of it.

use crate::book::diagnostic::Diagnostic;
use crate::site::theme::ThemeError;
use crate::site::write::{WriteError, Written};
use jiff::civil::Date;
use std::fmt;
use std::path::{Path, PathBuf};

/// What is asked for.
#[derive(Debug, Clone, Copy)]
pub struct Request<'r> {
    /// Folder of the book.
    pub book: &'r Path,
    /// Folder of the site.
    pub site: &'r Path,
    pub theme: &'r str,
    /// Folder of themes beside the book.
    pub themes: Option<&'r Path>,
    pub on: Date,
    /// What the site shows; a public one is made from the public book.
    pub edition: Edition,
    /// Pictures and papers that the disk does not give are left out, and named in the banner.
    pub despite_errors: bool,
}

/// What a site shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Edition {
    /// Everything.
    Crew,
    /// What is private has been taken out of the book.
    Public,
    /// Some guides by themselves, for another boat: nothing of the log, and of this boat no more than they need.
    Shared,
}

impl Edition {
    /// `crew`, `public` or `shared`.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Crew => "crew",
            Self::Public => "public",
            Self::Shared => "shared",
        }
    }
}

/// What came of it.
#[derive(Debug)]
pub struct Outcome {
    pub written: Written,
    /// Pages rendered; 0 when nothing had changed.
    pub rendered: usize,
    /// Pictures that could not be used, and the like.
    pub problems: Vec<Diagnostic>,
}

/// Why there is no new site.
#[derive(Debug)]
pub enum PublishError {
    Theme(ThemeError),
    Write(WriteError),
    /// The folder holds a site that shows something else.
    Edition(Edition),
    /// The folder holds a site, and what is in it cannot be told.
    Unlisted(PathBuf),
    /// These files of the book have errors, so that nobody can tell what of them should be kept private.
    Untold(Vec<String>),
    /// Pictures or papers of the book cannot be read; pages without them would be half the book.
    Book(Vec<Diagnostic>),
}

impl fmt::Display for PublishError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Theme(error) => error.fmt(f),
            Self::Write(error) => error.fmt(f),
            Self::Edition(edition) => write!(f, "this folder holds the {} edition of a site", edition.word()),
            Self::Unlisted(list) => {
                write!(f, "`{}` is damaged, so nobody can tell whether the site there is for the crew alone or for others", list.display())
            }
            Self::Untold(files) => {
                let names: Vec<String> = files.iter().map(|file| format!("`{file}`")).collect();
                let (names, have) = (names.join(", "), if files.len() == 1 { "has" } else { "have" });
                write!(f, "{names} {have} errors, so nobody can tell what should be kept private, and there is no public edition")
            }
            Self::Book(problems) => write!(f, "{} files of the book cannot be used", problems.len()),
        }
    }
}

impl PublishError {
    /// What to do about it.
    #[must_use]
    pub fn remedy(&self) -> &str {
        match self {
            Self::Theme(error) => &error.remedy,
            Self::Write(error) => &error.remedy,
            Self::Edition(_) | Self::Unlisted(_) => "publish into another folder with `--to DIR`, or remove this one first",
            Self::Untold(_) => "mend these errors first; no option passes over them, and the crew edition needs none",
            Self::Book(_) => "mend the errors, or publish the rest with `--despite-errors`",
        }
    }
}

impl From<ThemeError> for PublishError {
    fn from(error: ThemeError) -> Self {
        Self::Theme(error)
    }
}

impl From<WriteError> for PublishError {
    fn from(error: WriteError) -> Self {
        Self::Write(error)
    }
}
