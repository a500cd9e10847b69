//! Finds the files of a book and says what each is.

#![expect(clippy::disallowed_methods, reason = "lists the files of a book")]

use super::diagnostic::{Diagnostic, Severity, nearest};
use super::load::NoBook;
use crate::disk;
use std::borrow::Cow;
use std::path::Path;
use walkdir::WalkDir;

/// What a file of the book is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Class {
    Boat,
    Stores,
    Tools,
    Passages,
    Cautions,
    Meters,
    Guide,
    Entry,
    /// A picture or a paper.
    Other,
}

/// A file of the book.
#[derive(Debug, Clone)]
pub struct Found {
    /// Path inside the book, with forward slashes.
    pub path: String,
    pub class: Class,
    /// In bytes; 0 where it is a text, of which reading tells.
    pub size: u64,
}

const TOP: [(&str, Class); 6] = [
    ("boat.yaml", Class::Boat),
    ("stores.yaml", Class::Stores),
    ("tools.yaml", Class::Tools),
    ("passages.yaml", Class::Passages),
    ("cautions.yaml", Class::Cautions),
    ("meters.csv", Class::Meters),
];

/// Folders deeper than this are not looked into.
const DEEPEST: usize = 12;

/// Lists the files of the book in `folder`, sorted by path.
///
/// # Errors
/// The folder is not there, or is no folder.
pub fn find(folder: &Path) -> Result<(Vec<Found>, Vec<Diagnostic>), NoBook> {
    let missing = |why: String| NoBook {
        folder: folder.to_owned(),
        why,
        remedy:
            "name the book's folder with `--book DIR`; a book is a folder with at least a `boat.yaml`, and `garboard begin DIR` makes one"
                .to_owned(),
    };
    match std::fs::metadata(folder) {
        Ok(meta) if meta.is_dir() => {}
        Ok(_) => return Err(missing("it is a file, not a folder".to_owned())),
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => return Err(missing("there is no such folder".to_owned())),
        Err(error) => return Err(missing(disk::why(&error))),
    }
    let mut found = Vec::new();
    let mut problems = Vec::new();
    // Links are not followed: a book is what stands in its folder, and no loop can arise.
    let walk = WalkDir::new(folder).min_depth(1).max_depth(DEEPEST).sort_by_file_name().into_iter();
    let mut walk = walk.filter_entry(|item| !passed_over(&item.file_name().to_string_lossy()));
    while let Some(item) = walk.next() {
        let item = match item {
            Ok(item) => item,
            Err(error) => {
                let path = error.path().map(|path| inside(folder, path)).unwrap_or_default();
                problems.push(Diagnostic::of_file(
                    &path,
                    "unreadable",
                    Severity::Error,
                    format!("this cannot be read: {}", error.io_error().map_or_else(|| error.to_string(), disk::why)),
                    "check that you may read it",
                ));
                continue;
            }
        };
        let path = inside(folder, item.path());
        if item.file_type().is_symlink() {
            problems.push(Diagnostic::of_file(
                &path,
                "link",
                Severity::Warning,
                "this is a link to another place, and links are not followed",
                "put the file itself into the book",
            ));
            continue;
        }
        if item.file_name().to_str().is_none() {
            let is_folder = item.file_type().is_dir();
            let what = if is_folder { "folder" } else { "file" };
            problems.push(Diagnostic::of_file(
                &path,
                "file-name",
                Severity::Error,
                format!("the name of this {what} is not UTF-8"),
                "give it a plain name",
            ));
            // What stands in it has no name that could be written down either.
            if is_folder {
                walk.skip_current_dir();
            }
            continue;
        }
        // Neither folders nor pipes, sockets and devices, which might never end.
        if !item.file_type().is_file() {
            continue;
        }
        match classify(&path) {
            Ok(Some(class)) => {
                // Asking for the size takes as long as half the walk.
                let size = if class == Class::Other { item.metadata().map_or(0, |meta| meta.len()) } else { 0 };
                found.push(Found { path, class, size });
            }
            Ok(None) => {}
            Err((severity, message, remedy)) => problems.push(Diagnostic::of_file(&path, "misplaced", severity, message, remedy)),
        }
    }
    found.sort_by(|a, b| a.path.cmp(&b.path));
    Ok((found, problems))
}

type Misplaced = (Severity, String, String);

/// What the file at a path of a book is.
pub(super) fn class_of(path: &str) -> Class {
    classify(path).ok().flatten().unwrap_or(Class::Other)
}

fn classify(path: &str) -> Result<Option<Class>, Misplaced> {
    let parts: Vec<&str> = path.split('/').collect();
    let is_text = small(path).ends_with(".md");
    match parts.as_slice() {
        [name] => {
            if let Some((_, class)) = TOP.iter().find(|(known, _)| known == name) {
                return Ok(Some(*class));
            }
            let lower = name.to_lowercase();
            if lower.ends_with(".yaml") || lower.ends_with(".yml") || lower.ends_with(".csv") {
                let near = nearest(&lower, TOP.iter().map(|(known, _)| *known));
                let remedy = near.map_or_else(
                    || format!("a book has {}", TOP.map(|(known, _)| format!("`{known}`")).join(", ")),
                    |near| format!("did you mean `{near}`?"),
                );
                return Err((Severity::Warning, "this file is no part of a book and is passed over".to_owned(), remedy));
            }
            Ok(None)
        }
        ["guides", _, _] if is_text => Ok(Some(Class::Guide)),
        ["guides", ..] if is_text => Err((
            Severity::Error,
            "a guide stands in the folder of its system, not here".to_owned(),
            "move it to `guides/<system>/<name>.md`".to_owned(),
        )),
        ["log", _, _] | ["log", _] if is_text => Ok(Some(Class::Entry)),
        ["log", ..] if is_text => Err((
            Severity::Error,
            "an entry stands in the folder of its year, not here".to_owned(),
            "move it to `log/<year>/<date>-<name>.md`".to_owned(),
        )),
        ["guides", _, file] | ["log", file] | ["log", _, file] if is_other_text(file) => Err((
            Severity::Warning,
            "this file is passed over: guides and entries are files that end in `.md`".to_owned(),
            "rename it to end in `.md`, or move it into a folder beside its guide or entry".to_owned(),
        )),
        ["guides" | "log", ..] => Ok(Some(Class::Other)),
        [folder, ..] if is_text || is_other_text(path) => Err((
            Severity::Warning,
            format!("this file is passed over: the folder `{folder}` is no part of a book"),
            nearest(&folder.to_lowercase(), ["guides", "log"]).map_or_else(
                || "guides stand in `guides/<system>/`, entries in `log/<year>/`".to_owned(),
                |near| format!("did you mean `{near}`?"),
            ),
        )),
        _ => Ok(None),
    }
}

/// Texts under another ending than `.md`.
fn is_other_text(file: &str) -> bool {
    let lower = small(file);
    [".markdown", ".mdown", ".mkd", ".md.txt", ".mdtext"].iter().any(|ending| lower.ends_with(ending))
}

/// Hidden files and what editors and systems leave behind.
fn passed_over(name: &str) -> bool {
    let lower = small(name);
    name.starts_with('.')
        || name.ends_with('~')
        || name.starts_with('#')
        || [".tmp", ".bak", ".swp", ".swo", ".part"].iter().any(|end| lower.ends_with(end))
        || lower == "thumbs.db"
        || lower == "desktop.ini"
}

/// A name in small letters, as most are.
fn small(name: &str) -> Cow<'_, str> {
    if name.bytes().all(|byte| byte.is_ascii() && !byte.is_ascii_uppercase()) {
        Cow::Borrowed(name)
    } else {
        Cow::Owned(name.to_lowercase())
    }
}

fn inside(folder: &Path, path: &Path) -> String {
    let inside = path.strip_prefix(folder).unwrap_or(path);
    if std::path::MAIN_SEPARATOR == '/'
        && let Some(inside) = inside.to_str()
    {
        return inside.to_owned();
    }
    inside.iter().map(|part| part.to_string_lossy()).collect::<Vec<_>>().join("/")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_file_of_a_book_has_its_place() {
        let class = |path: &str| classify(path).ok().flatten();
        assert_eq!(class("boat.yaml"), Some(Class::Boat));
        assert_eq!(class("guides/engine/oil.md"), Some(Class::Guide));
        assert_eq!(class("guides/engine/oil/photo.jpg"), Some(Class::Other));
        assert_eq!(class("log/2026/2026-03-14-oil.md"), Some(Class::Entry));
        assert_eq!(class("notes.txt"), None);
        assert!(matches!(classify("guides/oil.md"), Err((Severity::Error, ..))));
        assert!(matches!(classify("guides/engine/more/oil.md"), Err((Severity::Error, ..))));
        assert!(matches!(classify("store.yaml"), Err((Severity::Warning, _, remedy)) if remedy.contains("stores.yaml")));
    }
}
