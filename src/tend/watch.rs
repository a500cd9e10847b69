//! The watch over folders: tells when something in them was saved.
//!
//! The system says so where it can; else the folders are looked through every second. It is told too
//! often rather than too seldom: a publish of what did not change costs little.

use notify::event::{AccessKind, AccessMode};
use notify::{Config, Event, EventKind, RecommendedWatcher, RecursiveMode, Watcher};
use std::hash::{DefaultHasher, Hash, Hasher};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread;
use std::time::Duration;

/// How often folders are looked through where the system does not tell.
const LOOK: Duration = Duration::from_secs(1);

/// A watch that is kept until it is dropped.
pub struct Watch {
    folders: Vec<PathBuf>,
    /// `None`: the folders are looked through.
    watcher: Option<RecommendedWatcher>,
    /// A folder itself came, went or was replaced, and must be watched anew.
    moved: Arc<AtomicBool>,
}

impl Watch {
    /// Watches folders, which need not be there yet. `tell` returns whether anybody still listens.
    pub fn begin<T: Fn() -> bool + Clone + Send + 'static>(folders: &[&Path], tell: T) -> Self {
        let folders: Vec<PathBuf> =
            folders.iter().map(|folder| std::path::absolute(folder).unwrap_or_else(|_| folder.to_path_buf())).collect();
        let moved = Arc::new(AtomicBool::new(false));
        let mut watch = Self { watcher: watcher(&folders, &moved, tell.clone()), folders, moved };
        if !watch.renew() {
            watch.watcher = None;
            let folders = watch.folders.clone();
            thread::spawn(move || look(&folders, LOOK, &tell));
        }
        watch
    }

    /// Whether the folders are looked through, because the system does not tell.
    #[must_use]
    pub fn looks(&self) -> bool {
        self.watcher.is_none()
    }

    /// Watches anew what came or was replaced since; to be called after each change.
    pub fn follow(&mut self) {
        if self.moved.swap(false, Ordering::SeqCst) {
            self.renew();
        }
    }

    fn renew(&mut self) -> bool {
        let Some(watcher) = &mut self.watcher else { return false };
        self.folders.iter().all(|folder| {
            let _ = watcher.unwatch(folder);
            let here = !folder.is_dir() || watcher.watch(folder, RecursiveMode::Recursive).is_ok();
            // So that a folder is noticed that comes later, or takes the place of this one.
            let above = folder.parent().is_none_or(|parent| watcher.watch(parent, RecursiveMode::NonRecursive).is_ok());
            here && above
        })
    }
}

fn watcher<T: Fn() -> bool + Send + 'static>(folders: &[PathBuf], moved: &Arc<AtomicBool>, tell: T) -> Option<RecommendedWatcher> {
    let (folders, moved) = (folders.to_vec(), Arc::clone(moved));
    let heard = move |event: notify::Result<Event>| match event {
        Ok(event) if concerns(&event, &folders) => {
            if event.paths.is_empty() || event.paths.iter().any(|path| folders.contains(path)) {
                moved.store(true, Ordering::SeqCst);
            }
            tell();
        }
        Ok(_) => {}
        // What was lost cannot be known: look at everything.
        Err(_) => {
            moved.store(true, Ordering::SeqCst);
            tell();
        }
    };
    RecommendedWatcher::new(heard, Config::default().with_follow_symlinks(false)).ok()
}

/// Whether an event is about something in the folders, and about more than that it was read: a publish
/// reads them all, and would call for the next.
fn concerns(event: &Event, folders: &[PathBuf]) -> bool {
    let saved = match event.kind {
        EventKind::Access(AccessKind::Close(AccessMode::Write)) => true,
        EventKind::Access(_) => false,
        _ => true,
    };
    saved && (event.need_rescan() || event.paths.iter().any(|path| folders.iter().any(|folder| path.starts_with(folder))))
}

/// Looks through folders again and again until nobody listens.
fn look(folders: &[PathBuf], every: Duration, tell: &impl Fn() -> bool) {
    let mut last = seen(folders);
    loop {
        thread::sleep(every);
        let now = seen(folders);
        if now != last {
            last = now;
            if !tell() {
                return;
            }
        }
    }
}

/// One number for all files of folders, with their sizes and times.
fn seen(folders: &[PathBuf]) -> u64 {
    let mut hasher = DefaultHasher::new();
    for item in folders.iter().flat_map(|folder| walkdir::WalkDir::new(folder).sort_by_file_name()).flatten() {
        item.path().hash(&mut hasher);
        if let Ok(meta) = item.metadata() {
            (meta.len(), meta.modified().ok(), meta.is_dir()).hash(&mut hasher);
        }
    }
    hasher.finish()
}

#[cfg(test)]
mod tests {
    use super::{Watch, concerns, look, seen};
    use notify::event::{AccessKind, AccessMode, CreateKind, DataChange, ModifyKind, RemoveKind, RenameMode};
    use notify::{Event, EventKind};
    use std::fs;
    use std::path::{Path, PathBuf};
    use std::sync::mpsc;
    use std::time::Duration;

    #[test]
    fn what_counts_as_saved() {
        #[track_caller]
        fn case(kind: EventKind, path: &str, expected: bool) {
            let event = Event::new(kind).add_path(PathBuf::from(path));
            assert_eq!(concerns(&event, &[PathBuf::from("/b/content")]), expected, "{event:?}");
        }
        case(EventKind::Modify(ModifyKind::Data(DataChange::Any)), "/b/content/boat.yaml", true);
        case(EventKind::Modify(ModifyKind::Name(RenameMode::Both)), "/b/content/boat.yaml", true);
        case(EventKind::Create(CreateKind::Folder), "/b/content", true);
        case(EventKind::Remove(RemoveKind::File), "/b/content/log/x.md", true);
        case(EventKind::Access(AccessKind::Close(AccessMode::Write)), "/b/content/x", true);
        case(EventKind::Access(AccessKind::Open(AccessMode::Any)), "/b/content/x", false);
        case(EventKind::Access(AccessKind::Close(AccessMode::Read)), "/b/content/x", false);
        case(EventKind::Create(CreateKind::File), "/b/site/index.html", false);
        case(EventKind::Create(CreateKind::File), "/b/content-old/x", false);
    }

    #[track_caller]
    fn is_told(told: &mpsc::Receiver<()>, what: &str) {
        assert!(told.recv_timeout(Duration::from_secs(5)).is_ok(), "{what}");
        while told.recv_timeout(Duration::from_millis(300)).is_ok() {}
    }

    #[test]
    fn saving_in_all_its_ways_is_told() {
        let folder = tempfile::tempdir().unwrap();
        let (book, themes) = (folder.path().join("content"), folder.path().join("themes"));
        fs::create_dir(&book).unwrap();
        let (tell, told) = mpsc::channel();
        let mut watch = Watch::begin(&[&book, &themes], move || tell.send(()).is_ok());
        assert!(!watch.looks());
        fs::write(book.join("boat.yaml"), "a").unwrap();
        is_told(&told, "a new file");
        fs::write(book.join("new"), "b").unwrap();
        fs::rename(book.join("new"), book.join("boat.yaml")).unwrap();
        is_told(&told, "a file put in the place of another");
        fs::create_dir_all(book.join("log/2026")).unwrap();
        is_told(&told, "a new folder");
        fs::write(book.join("log/2026/x.md"), "c").unwrap();
        is_told(&told, "a file in a new folder");
        fs::remove_file(book.join("log/2026/x.md")).unwrap();
        is_told(&told, "a file taken away");
        fs::create_dir(&themes).unwrap();
        is_told(&told, "a folder that was not there before");
        watch.follow();
        fs::write(themes.join("style.css"), "d").unwrap();
        is_told(&told, "a file in it");
        fs::read(book.join("boat.yaml")).unwrap();
        fs::write(folder.path().join("other"), "e").unwrap();
        assert!(told.recv_timeout(Duration::from_millis(500)).is_err(), "reading, and files beside, are none of it");
    }

    #[test]
    fn looking_through_folders_sees_the_same() {
        let folder = tempfile::tempdir().unwrap();
        let folders = [folder.path().to_path_buf(), Path::new("/nowhere/at/all").to_path_buf()];
        let before = seen(&folders);
        assert_eq!(seen(&folders), before);
        fs::write(folder.path().join("x"), "a").unwrap();
        assert_ne!(seen(&folders), before);
        let (tell, told) = mpsc::channel();
        let watched = folders.to_vec();
        std::thread::spawn(move || look(&watched, Duration::from_millis(50), &|| tell.send(()).is_ok()));
        std::thread::sleep(Duration::from_millis(200));
        fs::write(folder.path().join("x"), "ab").unwrap();
        is_told(&told, "another size");
    }
}
