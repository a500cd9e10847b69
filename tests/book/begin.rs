//! `garboard begin`: what stands in the folder before and after, and what the new book is good for.

use crate::support::{LIMIT, Run, files_under, run_within};
use std::fs;
use std::path::Path;
use tempfile::TempDir;

const DAY: &str = "2026-11-24";
const FILES: [&str; 13] = [
    "content/boat.yaml",
    "content/guides/engine/raw-water-impeller.md",
    "content/guides/engine/raw-water-impeller/vanes.svg",
    "content/log/2026/2026-11-24-raw-water-impeller.md",
    "content/stores.yaml",
    "content/tools.yaml",
    "schemas/boat.schema.json",
    "schemas/cautions.schema.json",
    "schemas/entry.schema.json",
    "schemas/guide.schema.json",
    "schemas/passages.schema.json",
    "schemas/stores.schema.json",
    "schemas/tools.schema.json",
];

fn empty() -> TempDir {
    tempfile::tempdir().expect("a folder for the test")
}

#[track_caller]
fn begin(folder: &Path, name: &str) -> Run {
    run_within(folder, ["begin", name, "--on", DAY], LIMIT)
}

#[track_caller]
fn names(folder: &Path) -> Vec<String> {
    files_under(folder).into_keys().collect()
}

/// Everything in a folder, hidden folders too.
fn count(folder: &Path) -> usize {
    fs::read_dir(folder).expect("a folder").count()
}

#[test]
fn a_new_book_is_sound_and_can_be_published() {
    for name in ["boat", ".", "deep/er/still", "mein Böötchen \u{1f6df}", "it's & $(this)"] {
        let folder = empty();
        let run = begin(folder.path(), name).status(0);
        assert_eq!(run.stderr.lines().count(), 3, "{}", run.stderr);
        let place = folder.path().join(name);
        assert_eq!(names(&place), FILES, "{name}");
        assert_eq!(count(&place), 2, "nothing is left beside it");
        run_within(&place, ["survey", "--on", DAY], LIMIT).status(0).stdout("no problems\n");
        run_within(&place, ["publish", "--on", DAY], LIMIT).status(0);
        assert!(place.join("site/index.html").is_file());
        let due = run_within(&place, ["due", "--format", "json", "--on", DAY], LIMIT).status(0).json();
        // Twelve months after the day of beginning.
        assert_eq!(due[0]["due_on"], "2027-11-24");
        run_within(&place, ["plan", "raw-water-impeller"], LIMIT).status(0);
        run_within(&place, ["provision", "--on", DAY], LIMIT).status(0);
    }
}

#[test]
fn nothing_is_written_where_something_stands() {
    let folder = empty();
    begin(folder.path(), "boat").status(0);
    let boat = folder.path().join("boat");
    fs::write(boat.join("content/boat.yaml"), "name: Mine\n").expect("a file");
    let before = files_under(folder.path());
    begin(folder.path(), "boat").status(1).stdout("").stderr_has("is there already and not empty").stderr_has("nothing was written");
    assert!(files_under(folder.path()) == before);
    assert_eq!(count(&boat), 2);

    // A single hidden file is something; a file is no folder; an empty folder is a place.
    for (prepare, status) in [("hidden", 1), ("file", 1), ("empty", 0)] {
        let folder = empty();
        let content = folder.path().join("content");
        match prepare {
            "file" => fs::write(&content, "x").expect("a file"),
            other => fs::create_dir(&content)
                .and_then(|()| if other == "hidden" { fs::write(content.join(".x"), "") } else { Ok(()) })
                .expect("made"),
        }
        begin(folder.path(), ".").status(status);
        // The schemas stand beside the book.
        assert_eq!(count(folder.path()), if status == 0 { 2 } else { 1 }, "{prepare}");
    }
    // The folder itself is a file.
    let folder = empty();
    fs::write(folder.path().join("boat"), "x").expect("a file");
    begin(folder.path(), "boat").status(1);
    assert_eq!(names(folder.path()), ["boat"]);
}

#[cfg(unix)]
#[test]
fn a_folder_that_cannot_be_written_to_is_left_alone() {
    use std::os::unix::fs::PermissionsExt;
    let folder = empty();
    let shut = folder.path().join("shut");
    fs::create_dir(&shut).expect("a folder");
    fs::set_permissions(&shut, fs::Permissions::from_mode(0o555)).expect("rights");
    // Who may do everything is not kept out by rights.
    let kept_out = fs::write(shut.join("try"), "").is_err();
    if kept_out {
        begin(folder.path(), "shut/boat").status(1).stdout("").stderr_has("see that you may write there");
        assert_eq!(count(&shut), 0);
    }
    // `/proc` takes new folders from nobody.
    if Path::new("/proc/self").is_dir() {
        begin(folder.path(), "/proc/boat").status(1).stdout("").stderr_has("error: cannot");
    }
}
