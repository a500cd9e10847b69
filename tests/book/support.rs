//! A book in a folder of its own, and the program run on it.
//!
//! `Book::sound().file("boat.yaml", …).run(["due", "--on", "2026-06-01"]).status(0).stdout(…)`

use serde_json::Value;
use std::collections::BTreeMap;
use std::ffi::OsStr;
use std::fs;
use std::io::{Read, Seek, SeekFrom};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant, SystemTime};
use tempfile::TempDir;

/// Longest that any run may take.
pub const LIMIT: Duration = Duration::from_secs(120);

/// A folder with `content/` in it; the program runs from beside `content/`.
pub struct Book {
    folder: TempDir,
}

impl Book {
    /// An empty `content/`.
    pub fn new() -> Self {
        let folder = tempfile::tempdir().expect("a folder for the test");
        fs::create_dir(folder.path().join("content")).expect("a folder for the book");
        Self { folder }
    }

    /// The sound book of `tests/broken/base`.
    pub fn sound() -> Self {
        let book = Self::new();
        book.lay(&broken_folder().join("base"));
        book
    }

    /// Copies a folder over the book.
    pub fn lay(&self, from: &Path) {
        for (path, bytes) in files_under(from) {
            self.put(&format!("content/{path}"), &bytes);
        }
    }

    /// Adds or replaces a file of the book.
    pub fn file(self, path: &str, content: impl AsRef<[u8]>) -> Self {
        self.put(&format!("content/{path}"), content.as_ref());
        self
    }

    /// Adds a file beside the book.
    pub fn beside(self, path: &str, content: impl AsRef<[u8]>) -> Self {
        self.put(path, content.as_ref());
        self
    }

    /// Writes a file; the path counts from beside the book.
    pub fn put(&self, path: &str, content: &[u8]) {
        let path = self.path(path);
        fs::create_dir_all(path.parent().expect("a folder")).expect("folders");
        fs::write(path, content).expect("a file");
    }

    /// Takes a file or folder of the book away.
    pub fn without(self, path: &str) -> Self {
        let path = self.path(&format!("content/{path}"));
        if path.is_dir() { fs::remove_dir_all(path) } else { fs::remove_file(path) }.expect("removed");
        self
    }

    /// A path counted from beside the book.
    pub fn path(&self, path: &str) -> PathBuf {
        self.folder.path().join(path)
    }

    /// The text of a file beside the book, such as `site/index.html`.
    #[track_caller]
    pub fn text(&self, path: &str) -> String {
        fs::read_to_string(self.path(path)).unwrap_or_else(|error| panic!("{path}: {error}"))
    }

    /// Runs the program from beside the book.
    #[track_caller]
    pub fn run<A: AsRef<OsStr>>(&self, arguments: impl IntoIterator<Item = A>) -> Run {
        run_within(self.folder.path(), arguments, LIMIT)
    }

    /// Runs the program, which must end within so long.
    #[track_caller]
    pub fn run_within<A: AsRef<OsStr>>(&self, limit: Duration, arguments: impl IntoIterator<Item = A>) -> Run {
        run_within(self.folder.path(), arguments, limit)
    }

    /// Publishes as of 2026-06-01; the book must be sound.
    #[track_caller]
    pub fn published(self) -> Self {
        self.run(["publish", "--on", "2026-06-01"]).status(0);
        self
    }

    /// Starts the program and lets it run.
    pub fn start<A: AsRef<OsStr>>(&self, arguments: impl IntoIterator<Item = A>) -> Child {
        command(self.folder.path(), arguments).stdout(Stdio::null()).stderr(Stdio::null()).spawn().expect("the program starts")
    }

    /// Every file of the site with its bytes and time.
    pub fn site(&self) -> Site {
        Site::of(&self.path("site"))
    }

    /// `due --format json` as of a day.
    #[track_caller]
    pub fn due(&self, on: &str) -> Vec<Value> {
        let run = self.run(["due", "--format", "json", "--on", on]);
        assert_ne!(run.status, Some(2), "{run:?}");
        run.json().as_array().expect("a list").clone()
    }

    /// `survey --format json` as of 2026-06-01.
    #[track_caller]
    pub fn survey(&self) -> Vec<Problem> {
        let run = self.run(["survey", "--format", "json", "--on", "2026-06-01"]);
        run.json().as_array().expect("a list").iter().map(Problem::of).collect()
    }
}

fn command<A: AsRef<OsStr>>(folder: &Path, arguments: impl IntoIterator<Item = A>) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_garboard"));
    command.args(arguments).current_dir(folder).stdin(Stdio::null()).env_remove("NO_COLOR").env("RUST_BACKTRACE", "1");
    command
}

/// Runs the program in a folder; one that takes longer is killed, and the test fails.
#[track_caller]
pub fn run_within<A: AsRef<OsStr>>(folder: &Path, arguments: impl IntoIterator<Item = A>, limit: Duration) -> Run {
    let mut out = tempfile::tempfile().expect("a file for the output");
    let mut err = tempfile::tempfile().expect("a file for the errors");
    let mut child = command(folder, arguments)
        .stdout(out.try_clone().expect("output"))
        .stderr(err.try_clone().expect("errors"))
        .spawn()
        .expect("the program starts");
    let since = Instant::now();
    let status = loop {
        if let Some(status) = child.try_wait().expect("the program can be waited for") {
            break status;
        }
        if since.elapsed() > limit {
            let _ = child.kill();
            let _ = child.wait();
            panic!("it ran longer than {limit:?}");
        }
        std::thread::sleep(Duration::from_millis(5));
    };
    Run { status: status.code(), stdout: all_of(&mut out), stderr: all_of(&mut err) }
}

fn all_of(file: &mut fs::File) -> String {
    let mut bytes = Vec::new();
    file.seek(SeekFrom::Start(0)).expect("from the start");
    file.read_to_end(&mut bytes).expect("read");
    String::from_utf8_lossy(&bytes).into_owned()
}

/// How a run ended. Every check says the whole run where it fails.
#[derive(Debug)]
pub struct Run {
    /// `None`: ended by a signal.
    pub status: Option<i32>,
    pub stdout: String,
    pub stderr: String,
}

impl Run {
    #[track_caller]
    pub fn status(self, expected: i32) -> Self {
        assert_eq!(self.status, Some(expected), "{}\n{}", self.stdout, self.stderr);
        self
    }

    #[track_caller]
    pub fn stdout(self, expected: &str) -> Self {
        assert_eq!(self.stdout, expected, "stderr: {}", self.stderr);
        self
    }

    #[track_caller]
    pub fn stdout_has(self, words: &str) -> Self {
        assert!(self.stdout.contains(words), "`{words}` is not in stdout: {}", self.stdout);
        self
    }

    #[track_caller]
    pub fn stderr_has(self, words: &str) -> Self {
        assert!(self.stderr.contains(words), "`{words}` is not in stderr: {}", self.stderr);
        self
    }

    /// It ended by itself with a status, and said nothing of a panic.
    #[track_caller]
    pub fn without_panic(self) -> Self {
        assert!(matches!(self.status, Some(0..=2)), "{self:?}");
        assert!(!self.stderr.contains("panicked"), "{}", self.stderr);
        self
    }

    #[track_caller]
    pub fn json(&self) -> Value {
        serde_json::from_str(&self.stdout).unwrap_or_else(|error| panic!("no JSON: {error}\n{self:?}"))
    }
}

/// A row of the survey.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Problem {
    pub file: String,
    pub line: u64,
    pub column: u64,
    pub severity: String,
    pub rule: String,
    pub message: String,
    pub remedy: String,
}

impl Problem {
    fn of(row: &Value) -> Self {
        let text = |key: &str| row[key].as_str().unwrap_or_else(|| panic!("`{key}` in {row}")).to_owned();
        let number = |key: &str| row[key].as_u64().unwrap_or_else(|| panic!("`{key}` in {row}"));
        Self {
            file: text("file"),
            line: number("line"),
            column: number("column"),
            severity: text("severity"),
            rule: text("rule"),
            message: text("message"),
            remedy: text("remedy"),
        }
    }

    /// `guides/engine/oil.md:3:1 error unknown-key`.
    pub fn line(&self) -> String {
        format!("{}:{}:{} {} {}", self.file, self.line, self.column, self.severity, self.rule)
    }
}

/// The folder of broken books.
pub fn broken_folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/broken")
}

/// Every file under a folder, by its path in it with forward slashes.
pub fn files_under(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let mut files = BTreeMap::new();
    for item in walkdir::WalkDir::new(folder) {
        let item = item.expect("a folder that can be listed");
        if item.file_type().is_file() {
            let path = item.path().strip_prefix(folder).expect("inside");
            let path = path.iter().map(OsStr::to_string_lossy).collect::<Vec<_>>().join("/");
            files.insert(path, fs::read(item.path()).expect("a file that can be read"));
        }
    }
    files
}

/// A site as it stands on disk.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Site {
    pub files: BTreeMap<String, Vec<u8>>,
    pub times: BTreeMap<String, SystemTime>,
}

impl Site {
    /// The files of a folder; none where there is no folder.
    pub fn of(folder: &Path) -> Self {
        let files = if folder.is_dir() { files_under(folder) } else { BTreeMap::new() };
        let time = |path: &str| fs::metadata(folder.join(path)).and_then(|meta| meta.modified()).expect("a time");
        let times = files.keys().map(|path| (path.clone(), time(path))).collect();
        Self { files, times }
    }

    /// Paths of the pages.
    pub fn pages(&self) -> impl Iterator<Item = (&str, &str)> {
        let pages = self.files.iter().filter(|(path, _)| path.ends_with(".html"));
        pages.map(|(path, bytes)| (path.as_str(), std::str::from_utf8(bytes).expect("pages are UTF-8")))
    }

    /// A page.
    #[track_caller]
    pub fn page(&self, path: &str) -> &str {
        let bytes = self.files.get(path).unwrap_or_else(|| panic!("no `{path}` in {:?}", self.files.keys()));
        std::str::from_utf8(bytes).expect("pages are UTF-8")
    }

    /// Paths whose time of writing or content differs from an earlier state.
    pub fn changed_since(&self, earlier: &Self) -> Vec<&str> {
        let same = |path: &str| self.times.get(path) == earlier.times.get(path) && self.files.get(path) == earlier.files.get(path);
        self.files.keys().map(String::as_str).filter(|path| !same(path)).collect()
    }

    /// Fails, naming the files, where anything was added, removed or written.
    #[track_caller]
    pub fn assert_untouched_since(&self, earlier: &Self) {
        let paths = |site: &Self| site.files.keys().cloned().collect::<Vec<_>>();
        assert_eq!(paths(self), paths(earlier));
        assert_eq!(self.changed_since(earlier), Vec::<&str>::new());
    }

    /// Fails, naming the files, where two sites differ in any byte.
    #[track_caller]
    pub fn assert_same_bytes(&self, other: &Self) {
        let paths = |site: &Self| site.files.keys().cloned().collect::<Vec<_>>();
        assert_eq!(paths(self), paths(other));
        let differing: Vec<&String> = self.files.keys().filter(|path| self.files.get(*path) != other.files.get(*path)).collect();
        assert!(differing.is_empty(), "{differing:?}");
    }
}

/// A small guide: front matter besides the title, and a body.
pub fn guide(title: &str, front: &str, body: &str) -> String {
    format!("---\ntitle: {title}\n{front}---\n{body}")
}

/// A guide with one step.
pub fn job(title: &str, front: &str) -> String {
    guide(title, front, "## Work\n\n1. Do it.\n")
}

/// An entry: front matter, and no notes.
pub fn entry(front: &str) -> String {
    format!("---\n{front}---\n")
}
