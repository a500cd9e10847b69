//! What an earlier publish put into the site: each file with its size and hash, the pictures by
//! their source, and one fingerprint of all that went in.
//!
//! The manifest is written last. A site without a readable manifest is taken to hold nothing of
//! ours, and nothing of it is removed.

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
            Ok(manifest) if manifest.version == VERSION && manifest.files.keys().all(|path| is_plain(path)) => manifest,
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

/// Only paths that a publish of ours can have written are ever removed.
fn is_plain(path: &str) -> bool {
    !path.is_empty()
        && path.split('/').all(|part| !part.is_empty() && part != ".." && part != ".")
        && path.bytes().all(|byte| byte.is_ascii_lowercase() || byte.is_ascii_digit() || b"-_./".contains(&byte))
}

#[cfg(test)]
mod tests {
    use super::is_plain;

    #[test]
    fn only_our_own_kind_of_path_is_trusted() {
        assert!(is_plain("guides/oil-and-filter.html"));
        for path in ["../x", "/etc/passwd", "a//b", "A.html", "a\\b", "", "a/./b", "a b"] {
            assert!(!is_plain(path), "{path}");
        }
    }
}
