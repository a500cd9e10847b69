//! What an earlier publish put into the site: each file with its size and hash, the pictures by
//! their source, and one fingerprint of all that went in.
//!
//! The manifest is written last. A site without a readable manifest is taken to hold nothing of
//! ours, and nothing of it is removed.

#![expect(clippy::disallowed_methods, reason = "reads what the last publish left")]

use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use std::io;
use std::path::Path;

/// Name of the manifest in the site.
pub const NAME: &str = "garboard-manifest.json";

/// A file of the site.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct KnownFile {
    pub size: u64,
    /// BLAKE3, hexadecimal.
    pub hash: String,
}

/// One size of a picture.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Size {
    /// From the top of the site.
    pub href: String,
    pub width: u32,
    pub height: u32,
}

/// A picture made before.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct KnownPicture {
    /// Hash of the file of the book, and how it was made.
    pub source: String,
    pub sizes: Vec<Size>,
}

/// What stands in the site.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Manifest {
    /// Raised when the shape of this file changes.
    pub version: u32,
    /// Of book, day, edition, theme and program.
    pub fingerprint: String,
    /// What the site shows; of sites without it, everything.
    #[serde(default)]
    pub edition: Option<String>,
    pub files: BTreeMap<String, KnownFile>,
    pub pictures: BTreeMap<String, KnownPicture>,
}

/// The version that is written and read.
pub const VERSION: u32 = 1;

impl Manifest {
    /// Reads the manifest of a site; an empty one where there is none, or none that can be trusted.
    ///
    /// # Errors
    /// There is one, and the disk refuses to read it.
    pub fn read(site: &Path) -> io::Result<Self> {
        let bytes = match std::fs::read(site.join(NAME)) {
            Ok(bytes) => bytes,
            Err(error) if matches!(error.kind(), io::ErrorKind::NotFound | io::ErrorKind::NotADirectory) => return Ok(Self::default()),
            Err(error) => return Err(error),
        };
        Ok(match serde_json::from_slice::<Self>(&bytes) {
            Ok(manifest) if manifest.version == VERSION && manifest.files.keys().all(|path| is_inside(path)) => manifest,
            _ => Self::default(),
        })
    }

    /// A picture made before from the same source.
    #[must_use]
    pub fn picture(&self, source: &str) -> Option<&KnownPicture> {
        self.pictures.get(source)
    }

    /// Whether a file stands in the site as it was written: known, and of the same size.
    #[must_use]
    pub fn holds(&self, site: &Path, path: &str) -> bool {
        self.files
            .get(path)
            .is_some_and(|known| std::fs::metadata(site.join(path)).is_ok_and(|meta| meta.is_file() && meta.len() == known.size))
    }

    /// Whether every file stands in the site.
    #[must_use]
    pub fn holds_all(&self, site: &Path) -> bool {
        !self.files.is_empty() && self.files.keys().all(|path| self.holds(site, path))
    }
}

/// Whether a path leads to a file in the site, on any system. No other is ever written or removed; what a theme of the
/// boat's own is called is hers, capitals, spaces and letters of any script included.
#[must_use]
pub fn is_inside(path: &str) -> bool {
    // Windows takes dots and spaces off the end of a name: `.. ` would be the folder above. Names that begin with a dot
    // are of a publish that is under way, or nothing of ours.
    path.split('/').all(|part| !part.starts_with('.') && !part.trim_end_matches(['.', ' ']).is_empty())
        && !path.chars().any(|character| character.is_control() || matches!(character, '\\' | ':'))
}

#[cfg(test)]
mod tests {
    use super::is_inside;

    #[test]
    fn only_paths_that_stay_in_the_site_are_trusted() {
        for path in ["guides/oil-and-filter.html", "assets/Logo.png", "assets/our own.css", "assets/größe.png", "a..b", "papers/bill-0f."]
        {
            assert!(is_inside(path), "{path}");
        }
        for path in [
            "../x",
            "/etc/passwd",
            "a//b",
            "a/",
            "a\\b",
            "",
            "a/./b",
            "a/../b",
            "a/.. /b",
            "a/. ./b",
            "a/...",
            " ",
            "C:/x",
            "a\n",
            "a\u{85}",
        ] {
            assert!(!is_inside(path), "{path:?}");
        }
        for path in [".git/config", "a/.htaccess", ".garboard-new/lock"] {
            assert!(!is_inside(path), "{path}");
        }
    }
}
