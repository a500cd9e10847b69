//! Files that cannot stand in a repository: names Windows refuses, bytes that are no text, links.

use crate::support::{Book, job};

#[track_caller]
fn case(book: &Book, expected: &[&str]) {
    let found: Vec<String> = book.survey().iter().map(|problem| problem.line()).collect();
    assert_eq!(found, expected);
}

#[test]
fn a_guide_cannot_have_a_name_that_windows_keeps() {
    // Microsoft, "Naming Files, Paths, and Namespaces"; superscript digits count too.
    for stem in ["con", "CON", "Prn", "aux", "nul", "LPT1", "com9", "com¹"] {
        let path = format!("guides/engine/{stem}.md");
        case(&Book::sound().file(&path, job("A job", "")), &[&format!("{path}:1:1 error bad-id")]);
    }
}

#[test]
fn names_that_only_begin_like_those_are_fine() {
    for stem in ["aux-pump", "console", "com10", "lpt", "nullah"] {
        case(&Book::sound().file(&format!("guides/engine/{stem}.md"), job("A job", "occasions: [haul-out]\n")), &[]);
    }
}

#[test]
fn an_entry_cannot_have_a_name_that_windows_keeps() {
    let book = Book::sound().file("log/2026/nul.md", "---\ndate: 2026-04-01\n---\n");
    case(&book, &["log/2026/nul.md:1:1 error bad-id"]);
}

#[test]
fn a_name_must_leave_an_id() {
    for stem in ["船", "Лодка", "!!!", "…"] {
        let path = format!("guides/engine/{stem}.md");
        case(&Book::sound().file(&path, job("A job", "")), &[&format!("{path}:1:1 error bad-id")]);
    }
}

#[test]
fn two_names_that_make_one_id_clash() {
    let book = Book::sound().file("guides/engine/Öl.md", job("A", "occasions: [haul-out]\n")).file("guides/hull/ol.md", job("B", ""));
    case(&book, &["guides/hull/ol.md:1:1 error duplicate-id"]);
    let book = Book::sound()
        .file("guides/engine/Oil change.md", job("A", "occasions: [haul-out]\n"))
        .file("guides/engine/oil-change.md", job("B", "occasions: [haul-out]\n"));
    case(&book, &["guides/engine/oil-change.md:1:1 error duplicate-id"]);
}

#[test]
fn a_file_that_is_no_text_is_said_at_its_first_wrong_byte() {
    let latin_1 = b"---\ntitle: \xd6l wechseln\n---\n\n## Work\n\n1. Do it.\n";
    case(&Book::sound().file("guides/engine/job.md", latin_1), &["guides/engine/job.md:2:8 error not-utf-8"]);
    let nul = b"---\ntitle: A\0 job\n---\n\n## Work\n\n1. Do it.\n";
    case(&Book::sound().file("guides/engine/job.md", nul), &["guides/engine/job.md:2:9 error control-character"]);
    case(&Book::sound().file("meters.csv", b"date,meter,value\n2026-03-20,engin\xe9,5\n"), &["meters.csv:2:17 error not-utf-8"]);
}

#[test]
fn a_control_character_in_a_title_is_refused() {
    let text = "---\ntitle: \"A\\u0007 job\"\n---\n\n## Work\n\n1. Do it.\n";
    case(&Book::sound().file("guides/engine/job.md", text), &["guides/engine/job.md:2:8 error control-character"]);
}

#[test]
fn a_book_needs_its_boat() {
    let without = Book::new();
    case(&without, &["boat.yaml:1:1 error no-boat"]);
    case(&Book::new().file("boat.yaml", ""), &["boat.yaml:1:1 error empty-file"]);
    case(&Book::new().file("boat.yaml", "name: Solo\n"), &[]);
}

#[test]
fn what_editors_leave_behind_is_passed_over() {
    let book = Book::sound();
    for name in [".#job.md", "job.md~", "#job.md#", ".job.md.swp", "Thumbs.db", ".DS_Store"] {
        book.put(&format!("content/guides/engine/{name}"), b"not a guide");
    }
    case(&book, &[]);
}

#[cfg(unix)]
mod unix {
    use super::case;
    use crate::support::{Book, job};
    use std::ffi::OsStr;
    use std::os::unix::ffi::OsStrExt;
    use std::os::unix::fs::symlink;

    #[test]
    fn a_loop_of_links_is_not_followed() {
        let book = Book::sound();
        symlink(book.path("content"), book.path("content/guides/engine/loop")).expect("a link");
        case(&book, &["guides/engine/loop:1:1 warning link"]);
    }

    #[test]
    fn a_linked_file_is_not_read() {
        let book = Book::sound().beside("elsewhere.md", job("Elsewhere", ""));
        symlink(book.path("elsewhere.md"), book.path("content/guides/engine/job.md")).expect("a link");
        case(&book, &["guides/engine/job.md:1:1 warning link"]);
    }

    #[test]
    fn a_file_name_that_is_not_utf_8_is_an_error() {
        let book = Book::sound();
        let name = OsStr::from_bytes(b"\xd6l.md");
        std::fs::write(book.path("content/guides/engine").join(name), job("A job", "")).expect("a file");
        let found = book.survey();
        let [problem] = found.as_slice() else { panic!("{found:?}") };
        assert_eq!((problem.rule.as_str(), problem.severity.as_str()), ("file-name", "error"));
    }

    #[test]
    fn a_folder_whose_name_is_not_utf_8_is_told_once_with_all_that_stands_in_it() {
        let book = Book::sound();
        let folder = book.path("content/guides").join(OsStr::from_bytes(b"\xd6l"));
        std::fs::create_dir_all(folder.join("deeper")).expect("a folder");
        for file in ["job.md", "other.md", "deeper/photo.jpg"] {
            std::fs::write(folder.join(file), job("A job", "")).expect("a file");
        }
        let found = book.survey();
        let [problem] = found.as_slice() else { panic!("{found:?}") };
        assert_eq!((problem.rule.as_str(), problem.severity.as_str()), ("file-name", "error"));
        assert_eq!(problem.message, "the name of this folder is not UTF-8");
    }

    #[test]
    fn a_file_that_may_not_be_read_is_an_error() {
        use std::os::unix::fs::PermissionsExt;
        let book = Book::sound().file("guides/engine/job.md", job("A job", ""));
        let path = book.path("content/guides/engine/job.md");
        std::fs::set_permissions(&path, std::fs::Permissions::from_mode(0o000)).expect("permissions");
        // The superuser reads everything.
        if std::fs::read(&path).is_err() {
            case(&book, &["guides/engine/job.md:1:1 error unreadable"]);
        }
    }
}
