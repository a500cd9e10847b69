//! Puts the pages into the output folder: only what changed, never a torn file, nothing of others.
//!
//! Every file is first written whole into a staging folder beside its place. When all pages are
//! there, a manifest that owns up to every file is written, the files are renamed into place, what
//! an earlier publish left is removed, and the final manifest is written. A run that ends half-way
//! leaves old and new pages side by side, each whole, and the next run puts all right.

#![expect(clippy::disallowed_methods, reason = "writes the site")]

mod streamed;

use super::manifest::{KnownFile, Manifest, NAME, VERSION, is_inside};
use super::watch::{Progress, Watcher};
use crate::disk::{Refusal, cannot, refusal};
use rayon::prelude::*;
use std::collections::BTreeMap;
use std::fmt;
use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};

/// Name of the staging folder in the site.
const STAGING: &str = ".garboard-new";

/// Name of the lock in it.
const LOCK: &str = "lock";

/// How often a lock is asked for that is taken away meanwhile.
const TRIES: usize = 20;

/// Why the site cannot be written.
#[derive(Debug)]
pub struct WriteError {
    pub message: String,
    pub remedy: String,
}

impl fmt::Display for WriteError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.message)
    }
}

impl std::error::Error for WriteError {}

fn failed(doing: &str, path: &Path, error: &io::Error) -> WriteError {
    let remedy = match refusal(error) {
        Refusal::NoRoom => "make room on the disk and publish again; what stood there before is whole",
        Refusal::NotThere => "look whether the folder was moved or taken away meanwhile, and publish again",
        Refusal::NotPermitted | Refusal::WriteProtected => "choose a folder that you may write to, with `--to DIR`",
        Refusal::FileInTheWay | Refusal::Other => "check the disk and publish again; what stood there before is whole",
    };
    WriteError { message: cannot(doing, path, error), remedy: remedy.to_owned() }
}

/// What was done.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Written {
    /// Files of the site.
    pub files: usize,
    /// Of these, new or changed.
    pub written: usize,
    /// Files of an earlier publish taken away.
    pub removed: usize,
}

/// A publish in progress. Pages may be added from several threads.
#[derive(Debug)]
pub struct Staging {
    site: PathBuf,
    folder: PathBuf,
    earlier: Manifest,
    /// The folder holds a manifest, readable or not: it is a site of ours.
    ours: bool,
    files: Mutex<BTreeMap<String, KnownFile>>,
    /// Staged file to its place.
    moves: Mutex<Vec<(PathBuf, String)>>,
    next: AtomicUsize,
    // Held until the publish ends: two at once would take each other's files.
    lock: Option<File>,
}

impl Staging {
    /// Opens the staging folder in `site`.
    ///
    /// # Errors
    /// The folder cannot be made, or another publish is at work in it.
    pub fn open(site: &Path) -> Result<Self, WriteError> {
        let folder = site.join(STAGING);
        let lock = alone(site, &folder)?;
        empty(&folder).map_err(|error| failed("clear", &folder, &error))?;
        Ok(Self {
            site: site.to_owned(),
            folder,
            // Read under the lock: a publish that has just ended is taken for what it wrote.
            earlier: earlier(site)?,
            ours: site.join(NAME).exists(),
            files: Mutex::default(),
            moves: Mutex::default(),
            next: AtomicUsize::new(0),
            lock: Some(lock),
        })
    }

    /// What the last publish wrote.
    #[must_use]
    pub fn earlier(&self) -> &Manifest {
        &self.earlier
    }

    /// Where the site is.
    #[must_use]
    pub fn site(&self) -> &Path {
        &self.site
    }

    /// Adds a file; it is staged only if it differs from what stands in the site.
    ///
    /// # Errors
    /// The disk refuses, or two pages have the same path.
    pub fn add(&self, path: &str, bytes: &[u8]) -> Result<(), WriteError> {
        let known = KnownFile { size: bytes.len() as u64, hash: blake3::hash(bytes).to_hex().to_string() };
        let unchanged = self.earlier.files.get(path) == Some(&known) && self.earlier.holds(&self.site, path);
        let first = self.claim(path, known)?;
        if unchanged || !first {
            return Ok(());
        }
        let staged = self.folder.join(self.next.fetch_add(1, Ordering::Relaxed).to_string());
        // Named by the place it is for: its own name says nothing.
        File::create(&staged).and_then(|mut file| file.write_all(bytes)).map_err(|error| failed("write", &self.site.join(path), &error))?;
        lock(&self.moves).push((staged, path.to_owned()));
        Ok(())
    }

    /// The bytes of a file that was added or kept. `None` where there is none.
    ///
    /// # Errors
    /// The disk refuses.
    pub fn read(&self, path: &str) -> Result<Option<Vec<u8>>, WriteError> {
        if !lock(&self.files).contains_key(path) {
            return Ok(None);
        }
        let staged = lock(&self.moves).iter().find(|(_, place)| place == path).map(|(staged, _)| staged.clone());
        let place = self.site.join(path);
        fs::read(staged.as_ref().unwrap_or(&place)).map(Some).map_err(|error| failed("read", &place, &error))
    }

    /// Every file added or kept so far.
    #[must_use]
    pub fn files(&self) -> BTreeMap<String, KnownFile> {
        lock(&self.files).clone()
    }

    /// Keeps a file that an earlier publish wrote.
    ///
    /// # Errors
    /// Two files have the same path.
    pub fn keep(&self, path: &str) -> Result<(), WriteError> {
        match self.earlier.files.get(path) {
            Some(known) => self.claim(path, known.clone()).map(|_| ()),
            None => Ok(()),
        }
    }

    /// Takes a path for a file. `false`: the very same file has it already.
    ///
    /// # Errors
    /// Another file has the path, or it is none of a site.
    fn claim(&self, path: &str, known: KnownFile) -> Result<bool, WriteError> {
        // What is written here the next publish must find in the manifest, and trust.
        if !is_inside(path) {
            return Err(WriteError {
                message: format!("a file of the site would be `{}`, which is no name for one", path.escape_debug()),
                remedy: "rename the file of the book or the theme that it is made of".to_owned(),
            });
        }
        let mut files = lock(&self.files);
        match files.get(path) {
            Some(other) if *other == known => Ok(false),
            Some(_) => Err(WriteError {
                message: format!("two pages of the site would both be `{path}`"),
                remedy: "rename one of the two in the book".to_owned(),
            }),
            None => {
                files.insert(path.to_owned(), known);
                Ok(true)
            }
        }
    }

    /// Moves everything into place and finishes the manifest.
    ///
    /// # Errors
    /// The disk refuses, or a file that is not ours stands where a page belongs.
    pub fn finish(self, mut manifest: Manifest, watcher: &dyn Watcher) -> Result<Written, WriteError> {
        let mut moves = std::mem::take(&mut *lock(&self.moves));
        moves.sort_by(|a, b| a.1.cmp(&b.1));
        manifest.version = VERSION;
        manifest.files = std::mem::take(&mut *lock(&self.files));
        self.refuse_foreign(&moves)?;
        let stale: Vec<String> = self.earlier.files.keys().filter(|path| !manifest.files.contains_key(*path)).cloned().collect();
        let written = Written { files: manifest.files.len(), written: moves.len(), removed: stale.len() };
        if !moves.is_empty() || !stale.is_empty() {
            self.write_manifest(&self.unfinished(&manifest, &moves))?;
        }
        // Where capitals and small letters are the same to the disk, this is the file that comes next.
        let (before, after): (Vec<&String>, Vec<&String>) = stale.iter().partition(|path| has_twin(path, &manifest.files));
        for path in before {
            self.remove(path)?;
        }
        for (done, (staged, path)) in moves.iter().enumerate() {
            watcher.told(Progress::Files { written: done, of: moves.len() });
            let place = self.site.join(path);
            // Most folders are there already, and asking costs as much as moving.
            let moved = match (fs::rename(staged, &place), place.parent()) {
                (Err(error), Some(parent)) if error.kind() == io::ErrorKind::NotFound => {
                    fs::create_dir_all(parent).map_err(|error| failed("make the folder", parent, &error))?;
                    fs::rename(staged, &place)
                }
                (moved, _) => moved,
            };
            moved.map_err(|error| failed("write", &place, &error))?;
        }
        for path in after {
            self.remove(path)?;
        }
        if self.earlier != manifest {
            self.write_manifest(&manifest)?;
        }
        Ok(written)
    }

    /// Everything that is or will be ours; what is about to change has no hash, so that a run which
    /// ends here is not believed later.
    fn unfinished(&self, manifest: &Manifest, moves: &[(PathBuf, String)]) -> Manifest {
        let mut files = self.earlier.files.clone();
        files.extend(manifest.files.clone());
        for (_, path) in moves {
            if let Some(known) = files.get_mut(path) {
                known.hash.clear();
            }
        }
        // Whose site it is stands in it too: the next run must not be taken for one of the other edition.
        Manifest { version: VERSION, fingerprint: String::new(), edition: manifest.edition.clone(), files, pictures: BTreeMap::new() }
    }

    fn refuse_foreign(&self, moves: &[(PathBuf, String)]) -> Result<(), WriteError> {
        // With a manifest that cannot be read (a power cut, another version) the pages are still ours.
        if self.ours && self.earlier.files.is_empty() {
            return Ok(());
        }
        let foreign: Vec<&str> = moves
            .par_iter()
            .map(|(_, path)| path.as_str())
            .filter(|path| !self.earlier.files.contains_key(*path) && self.site.join(path).symlink_metadata().is_ok())
            .filter(|path| !self.is_ours_by_another_name(path))
            .collect();
        let Some(first) = foreign.first() else { return Ok(()) };
        Err(WriteError {
            message: format!(
                "`{}` holds {} that no publish has written, where a page belongs: `{first}`",
                self.site.display(),
                if foreign.len() == 1 { "a file".to_owned() } else { format!("{} files", foreign.len()) }
            ),
            remedy: "move them away, or publish to another folder with `--to DIR`; nothing was changed".to_owned(),
        })
    }

    /// Whether a file of an earlier publish stands there, whose name differs in capitals alone: many disks take both
    /// names for one.
    fn is_ours_by_another_name(&self, path: &str) -> bool {
        let there = self.site.join(path);
        twins(path, &self.earlier.files).any(|twin| same_file::is_same_file(&there, self.site.join(twin)).unwrap_or(false))
    }

    fn remove(&self, path: &str) -> Result<(), WriteError> {
        let place = self.site.join(path);
        match fs::remove_file(&place) {
            Err(error) if error.kind() != io::ErrorKind::NotFound => return Err(failed("remove", &place, &error)),
            _ => {}
        }
        // A folder that still holds something of others stays.
        let mut parent = Path::new(path).parent();
        while let Some(folder) = parent.filter(|folder| !folder.as_os_str().is_empty()) {
            if fs::remove_dir(self.site.join(folder)).is_err() {
                break;
            }
            parent = folder.parent();
        }
        Ok(())
    }

    fn write_manifest(&self, manifest: &Manifest) -> Result<(), WriteError> {
        let place = self.site.join(NAME);
        let staged = self.folder.join("manifest");
        let mut text = serde_json::to_string_pretty(manifest)
            .map_err(|error| WriteError { message: format!("cannot write the manifest: {error}"), remedy: "publish again".to_owned() })?;
        text.push('\n');
        // Flushed before it is put in place: it is what the next publish relies on.
        File::create(&staged)
            .and_then(|mut file| file.write_all(text.as_bytes()).and_then(|()| file.sync_all()))
            .map_err(|error| failed("write", &place, &error))?;
        fs::rename(&staged, &place).map_err(|error| failed("write", &place, &error))
    }
}

/// Files whose names differ from a path in capitals alone.
fn twins<'f>(path: &str, files: &'f BTreeMap<String, KnownFile>) -> impl Iterator<Item = &'f str> {
    let small = path.to_lowercase();
    let (own, is_small) = (path.to_owned(), small == path);
    // Only a theme of the boat's own has capitals, so most names need no second look.
    let alike = move |other: &&str| *other != own && (!is_small || other.chars().any(char::is_uppercase)) && other.to_lowercase() == small;
    files.keys().map(String::as_str).filter(alike)
}

/// Whether there is a file whose name differs from a path in capitals alone.
fn has_twin(path: &str, files: &BTreeMap<String, KnownFile>) -> bool {
    path.starts_with("assets/") && twins(path, files).next().is_some()
}

/// What the last publish wrote into `site`; nothing where there was none.
///
/// # Errors
/// The disk refuses. Without its list of files nobody can tell what in the folder is ours, or for whose eyes.
pub fn earlier(site: &Path) -> Result<Manifest, WriteError> {
    Manifest::read(site).map_err(|error| failed("read", &site.join(NAME), &error))
}

/// Takes away what a publish that was killed has left, unless one is at work there now.
pub fn clear_leftovers(site: &Path) {
    let folder = site.join(STAGING);
    if folder.symlink_metadata().is_ok()
        && let Ok(lock) = alone(site, &folder)
    {
        take_away(&folder, Some(lock));
    }
}

/// Makes the staging folder of a site and takes the lock in it, so that no other publish works there.
fn alone(site: &Path, folder: &Path) -> Result<File, WriteError> {
    let lock_path = folder.join(LOCK);
    // A publish that ends takes lock and folder away: who has made the one may find the other gone, and
    // who has opened the lock just before holds nothing.
    for attempt in 1..=TRIES {
        let lock = match fs::create_dir_all(folder).and_then(|()| File::create(&lock_path)) {
            Ok(lock) => lock,
            // Gone just before or just after it was found to be there.
            Err(error) if matches!(error.kind(), io::ErrorKind::NotFound | io::ErrorKind::AlreadyExists) && attempt < TRIES => continue,
            Err(error) => return Err(failed("write into", site, &error)),
        };
        match lock.try_lock() {
            // Some file systems know no locks; one publish at a time works there as well.
            Ok(()) | Err(fs::TryLockError::Error(_)) => {}
            Err(fs::TryLockError::WouldBlock) => break,
        }
        if is_at(&lock, &lock_path) {
            return Ok(lock);
        }
    }
    Err(WriteError {
        message: format!("another publish is at work in `{}`", site.display()),
        remedy: "wait until it has ended, or publish to another folder with `--to DIR`".to_owned(),
    })
}

/// Removes what is staged; the lock stays.
fn empty(folder: &Path) -> io::Result<()> {
    for item in fs::read_dir(folder)? {
        let item = item?;
        if item.file_name() != LOCK {
            fs::remove_file(item.path())?;
        }
    }
    Ok(())
}

/// Takes the staging folder away; only who holds its lock may. The lock goes after all else, and is the
/// last file that is removed: another publish may make a new one at once, and then the folder is its own.
fn take_away(folder: &Path, lock: Option<File>) {
    if empty(folder).is_ok() {
        let _ = fs::remove_file(folder.join(LOCK));
        // On Windows a file that was removed may stand in its folder until nobody has it open.
        drop(lock);
        let _ = fs::remove_dir(folder);
    }
}

/// Whether an open file is the one that stands at a path.
fn is_at(file: &File, path: &Path) -> bool {
    let open = file.try_clone().and_then(same_file::Handle::from_file);
    matches!((open, same_file::Handle::from_path(path)), (Ok(open), Ok(there)) if open == there)
}

impl Drop for Staging {
    /// What was staged and not moved into place is of no use; a site that holds nothing else goes too.
    fn drop(&mut self) {
        take_away(&self.folder, self.lock.take());
        let _ = fs::remove_dir(&self.site);
    }
}

/// A lock that another thread poisoned still guards plain data.
fn lock<T>(mutex: &Mutex<T>) -> std::sync::MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(std::sync::PoisonError::into_inner)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_publish_that_ends_half_way_leaves_a_manifest_of_its_edition() {
        let folder = tempfile::tempdir().expect("a folder");
        let site = folder.path().join("site");
        let staging = Staging::open(&site).expect("there is room");
        staging.add("index.html", b"<p>for all").expect("there is room");
        let manifest = Manifest { edition: Some("public".to_owned()), files: staging.files(), ..Manifest::default() };
        let moves = lock(&staging.moves).clone();
        let unfinished = staging.unfinished(&manifest, &moves);
        assert_eq!(unfinished.edition.as_deref(), Some("public"));
        // It is owned up to, and not believed to be there.
        assert_eq!(unfinished.files["index.html"].hash, "");
        assert_eq!(unfinished.fingerprint, "");
    }

    /// A site with this file and no other, put over what is there.
    fn publish(site: &Path, path: &str, bytes: &[u8]) -> Result<Written, WriteError> {
        let staging = Staging::open(site)?;
        staging.add(path, bytes)?;
        staging.finish(Manifest::default(), &crate::site::watch::Unwatched)
    }

    #[test]
    fn nothing_is_staged_that_the_next_publish_would_not_trust() {
        let folder = tempfile::tempdir().expect("a folder");
        let site = folder.path().join("site");
        for path in ["assets/Logo.png", "assets/our own größe.css"] {
            publish(&site, path, b"x").expect("a name");
            assert_eq!(Manifest::read(&site).expect("a manifest").files.keys().collect::<Vec<_>>(), [path]);
        }
        for path in ["../x.html", "assets/a\\b.png", "assets/a:b.png", "assets/.x.css", "assets/a\u{7}.css"] {
            let error = publish(&site, path, b"x").expect_err("no name");
            assert!(error.message.contains("no name"), "{path}: {error:?}");
        }
        assert!(!folder.path().join("x.html").exists());
    }

    #[test]
    fn a_file_that_changes_only_its_capitals_is_still_ours() {
        let folder = tempfile::tempdir().expect("a folder");
        let site = folder.path().join("site");
        let there = |name: &str| site.join("assets").join(name).exists();
        publish(&site, "assets/Logo.png", b"one").expect("a site");
        // As a disk shows it that takes both names for one.
        fs::hard_link(site.join("assets/Logo.png"), site.join("assets/logo.png")).expect("a second name");
        assert_eq!(publish(&site, "assets/logo.png", b"two").expect("ours"), Written { files: 1, written: 1, removed: 1 });
        assert!(there("logo.png") && !there("Logo.png"));
        // A file of somebody else is not.
        fs::write(site.join("assets/LOGO.png"), b"mine").expect("a file");
        let error = publish(&site, "assets/LOGO.png", b"three").expect_err("not ours");
        assert!(error.message.contains("no publish has written"), "{error:?}");
        assert_eq!(fs::read(site.join("assets/LOGO.png")).expect("a file"), b"mine");
    }

    #[test]
    fn a_lock_that_was_taken_away_is_no_lock() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("lock");
        let first = File::create(&path).expect("a file");
        assert!(is_at(&first, &path));
        fs::remove_file(&path).expect("removed");
        assert!(!is_at(&first, &path));
        let _second = File::create(&path).expect("a file");
        assert!(!is_at(&first, &path));
    }

    #[test]
    fn only_one_publish_at_a_time_works_in_a_folder() {
        let folder = tempfile::tempdir().expect("a folder");
        let site = folder.path().join("site");
        let at_work = std::sync::atomic::AtomicUsize::new(0);
        std::thread::scope(|scope| {
            for _ in 0..4 {
                scope.spawn(|| {
                    for _ in 0..200 {
                        match Staging::open(&site) {
                            Ok(staging) => {
                                assert_eq!(at_work.fetch_add(1, Ordering::SeqCst), 0, "two are at work");
                                staging.add("index.html", b"<p>whole").expect("there is room");
                                at_work.fetch_sub(1, Ordering::SeqCst);
                            }
                            Err(error) => assert!(error.message.contains("another publish is at work"), "{error:?}"),
                        }
                    }
                });
            }
        });
    }

    #[test]
    fn a_manifest_that_the_disk_does_not_give_is_not_taken_for_none() {
        let folder = tempfile::tempdir().expect("a folder");
        assert!(earlier(folder.path()).expect("there is none").files.is_empty());
        fs::create_dir(folder.path().join(NAME)).expect("a folder");
        let error = earlier(folder.path()).expect_err("it cannot be read");
        assert!(error.message.contains(NAME) && error.message.contains("it is a folder"), "{error:?}");
    }
}
