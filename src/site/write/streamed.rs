//! Files that are staged bit by bit, so that none of them need ever be whole in memory.

use super::super::manifest::KnownFile;
use super::{Staging, WriteError, failed, lock};
use std::fs::{self, File};
use std::io::{self, BufWriter, Write};
use std::path::Path;
use std::sync::atomic::Ordering;

/// Bytes that are held back until they go to the disk together.
const AT_ONCE: usize = 64 * 1024;

/// A file on its way, with what will be known of it.
#[derive(Debug)]
pub struct Streamed {
    file: BufWriter<File>,
    hasher: blake3::Hasher,
    size: u64,
}

impl Streamed {
    fn create(path: &Path) -> io::Result<Self> {
        Ok(Self { file: BufWriter::with_capacity(AT_ONCE, File::create(path)?), hasher: blake3::Hasher::new(), size: 0 })
    }

    fn finish(mut self) -> io::Result<KnownFile> {
        self.file.flush()?;
        Ok(KnownFile { size: self.size, hash: self.hasher.finalize().to_hex().to_string() })
    }
}

impl Write for Streamed {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.write_all(bytes)?;
        Ok(bytes.len())
    }

    fn write_all(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.file.write_all(bytes)?;
        self.hasher.update(bytes);
        self.size += bytes.len() as u64;
        Ok(())
    }

    fn flush(&mut self) -> io::Result<()> {
        self.file.flush()
    }
}

impl Staging {
    /// Adds a file that is written bit by bit. As with [`Staging::add`], it is moved into place only if it differs
    /// from what stands there; unlike there, that is known only when it is written.
    ///
    /// # Errors
    /// The disk refuses, or two pages have the same path.
    pub fn add_streamed(&self, path: &str, write: impl FnOnce(&mut Streamed) -> io::Result<()>) -> Result<(), WriteError> {
        let staged = self.folder.join(self.next.fetch_add(1, Ordering::Relaxed).to_string());
        let written = Streamed::create(&staged).and_then(|mut file| write(&mut file).and_then(|()| file.finish()));
        let known = written.map_err(|error| failed("write", &self.site.join(path), &error))?;
        let unchanged = self.earlier.files.get(path) == Some(&known) && self.earlier.holds(&self.site, path);
        let first = self.claim(path, known)?;
        if unchanged || !first {
            // Should it stay, it goes with the folder.
            let _ = fs::remove_file(&staged);
        } else {
            lock(&self.moves).push((staged, path.to_owned()));
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::site::manifest::Manifest;
    use crate::site::watch::Unwatched;
    use crate::site::write::Written;

    fn publish(site: &Path, pieces: &[&str]) -> Written {
        let staging = Staging::open(site).expect("a site");
        staging.add_streamed("a.txt", |file| pieces.iter().try_for_each(|piece| file.write_all(piece.as_bytes()))).expect("room");
        staging.add("b.txt", b"the same").expect("room");
        staging.finish(Manifest::default(), &Unwatched).expect("a site")
    }

    #[test]
    fn what_is_written_bit_by_bit_is_known_like_what_is_added_whole() {
        let folder = tempfile::tempdir().expect("a folder");
        let site = folder.path().join("site");
        assert_eq!(publish(&site, &["one, ", "", "two"]), Written { files: 2, written: 2, removed: 0 });
        assert_eq!(fs::read(site.join("a.txt")).expect("a file"), b"one, two");
        assert_eq!(publish(&site, &["one", ", two"]), Written { files: 2, written: 0, removed: 0 });
        assert_eq!(publish(&site, &["three"]), Written { files: 2, written: 1, removed: 0 });
        let staging = Staging::open(&site).expect("a site");
        staging.add("a.txt", b"three").expect("room");
        assert_eq!(
            staging.files(),
            Manifest::read(&site).expect("a manifest").files.into_iter().filter(|(path, _)| path == "a.txt").collect()
        );
        assert!(staging.add_streamed("a.txt", |file| file.write_all(b"three")).is_ok());
        assert!(staging.add_streamed("a.txt", |file| file.write_all(b"four")).expect_err("two files").message.contains("`a.txt`"));
        let error = staging.add_streamed("c.txt", |_| Err(io::ErrorKind::StorageFull.into())).expect_err("no room");
        assert!(error.message.contains("c.txt") && error.remedy.contains("make room"), "{error:?}");
    }
}
