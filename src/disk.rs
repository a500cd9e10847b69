//! What the system answers where it does not do as it is asked, in plain words.

use std::io;

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
    fn words_of_our_own_stay() {
        case(&io::Error::other("it is a folder, not a file"), "it is a folder, not a file");
    }
}
