//! New files put in their places, and what the system answers where it does not do as it is asked, in plain words.

pub mod put;
pub mod put_all;

use std::io;
use std::path::Path;

/// Why something cannot be read or written, to stand behind a colon. Numbers of the system say
/// nothing to who sails, so they are left out.
#[must_use]
pub fn why(error: &io::Error) -> String {
    let words = match error.kind() {
        io::ErrorKind::StorageFull => "the disk is full",
        io::ErrorKind::QuotaExceeded => "your share of the disk is used up",
        io::ErrorKind::FileTooLarge => "the disk takes no file as large as this",
        io::ErrorKind::PermissionDenied => "this is not permitted to you",
        io::ErrorKind::ReadOnlyFilesystem => "the disk is write-protected",
        io::ErrorKind::NotFound => "it is not there",
        io::ErrorKind::NotADirectory => "a file stands where a folder should",
        io::ErrorKind::IsADirectory => "it is a folder, not a file",
        _ if is_broken_disk(error) => "the disk fails (input/output error)",
        _ => return without_number(&error.to_string()).to_owned(),
    };
    words.to_owned()
}

/// What kind of thing a disk refuses, as far as a remedy depends on it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Refusal {
    NoRoom,
    NotPermitted,
    WriteProtected,
    NotThere,
    /// A file stands where a folder should.
    FileInTheWay,
    Other,
}

#[must_use]
pub fn refusal(error: &io::Error) -> Refusal {
    match error.kind() {
        io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded => Refusal::NoRoom,
        io::ErrorKind::PermissionDenied => Refusal::NotPermitted,
        io::ErrorKind::ReadOnlyFilesystem => Refusal::WriteProtected,
        io::ErrorKind::NotFound => Refusal::NotThere,
        io::ErrorKind::NotADirectory | io::ErrorKind::AlreadyExists => Refusal::FileInTheWay,
        _ => Refusal::Other,
    }
}

/// `cannot write into `content/log`: the disk is full`.
#[must_use]
pub fn cannot(doing: &str, path: &Path, error: &io::Error) -> String {
    format!("cannot {doing} `{}`: {}", or_here(path).display(), why(error))
}

/// The first of these folders that is a link, as what is wrong.
#[must_use]
pub fn link_among(folders: impl IntoIterator<Item = impl AsRef<Path>>) -> Option<String> {
    let link = folders.into_iter().find(|folder| folder.as_ref().is_symlink())?;
    Some(format!("`{}` is a link to another place, and a book follows no links", link.as_ref().display()))
}

/// The parent of a relative path may be empty.
fn or_here(folder: &Path) -> &Path {
    if folder.as_os_str().is_empty() { Path::new(".") } else { folder }
}

/// `EIO`, which has the same number on every Unix and no kind of its own.
fn is_broken_disk(error: &io::Error) -> bool {
    cfg!(unix) && error.raw_os_error() == Some(5)
}

fn without_number(words: &str) -> &str {
    words.rsplit_once(" (os error ").map_or(words, |(words, _)| words)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn case(error: &io::Error, expected: &str) {
        assert_eq!(why(error), expected, "for {error:?}");
    }

    /// Numbers: errno(3), those of Linux.
    #[cfg(target_os = "linux")]
    #[test]
    fn what_the_system_numbers_is_said_in_words() {
        for (number, expected) in [
            (2, "it is not there"),
            (5, "the disk fails (input/output error)"),
            (13, "this is not permitted to you"),
            (20, "a file stands where a folder should"),
            (28, "the disk is full"),
            (30, "the disk is write-protected"),
            (24, "Too many open files"),
        ] {
            case(&io::Error::from_raw_os_error(number), expected);
        }
    }

    #[test]
    fn what_can_be_done_depends_on_the_kind() {
        for (kind, expected) in [
            (io::ErrorKind::StorageFull, Refusal::NoRoom),
            (io::ErrorKind::QuotaExceeded, Refusal::NoRoom),
            (io::ErrorKind::ReadOnlyFilesystem, Refusal::WriteProtected),
            (io::ErrorKind::NotADirectory, Refusal::FileInTheWay),
            (io::ErrorKind::TimedOut, Refusal::Other),
        ] {
            assert_eq!(refusal(&kind.into()), expected, "{kind}");
        }
        let full = io::ErrorKind::StorageFull.into();
        assert_eq!(cannot("write into", Path::new("content/log"), &full), "cannot write into `content/log`: the disk is full");
        assert_eq!(cannot("write into", Path::new(""), &full), "cannot write into `.`: the disk is full");
    }

    #[cfg(unix)]
    #[test]
    fn a_link_is_told_and_a_folder_is_not() {
        let folder = tempfile::tempdir().expect("a folder");
        let link = folder.path().join("log");
        std::os::unix::fs::symlink(folder.path(), &link).expect("a link");
        assert_eq!(link_among([folder.path()]), None);
        let told = format!("`{}` is a link to another place, and a book follows no links", link.display());
        assert_eq!(link_among([folder.path(), &link]), Some(told));
    }

    #[test]
    fn words_of_our_own_stay() {
        case(&io::Error::other("it is a folder, not a file"), "it is a folder, not a file");
    }
}
