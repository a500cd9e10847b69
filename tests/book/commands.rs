//! The command line: exit status, which stream says what, options.

use crate::broken::case;
use crate::support::{Book, run_within};
use std::time::Duration;

const COMMANDS: [&str; 3] = ["survey", "due", "publish"];

#[test]
fn a_wrong_command_line_ends_with_2_and_writes_nothing_to_stdout() {
    let rows: [&[&str]; 12] = [
        &[],
        &["polish"],
        &["due", "--onn", "2026-06-01"],
        &["due", "--on"],
        &["due", "--on", "2026-02-30"],
        &["due", "--on", "2026-13-01"],
        &["due", "--on", "1.6.2026"],
        &["due", "--on", "20260601"],
        &["survey", "--on", "tomorrow"],
        &["publish", "--on", "2026-6-1"],
        &["due", "--format", "xml"],
        &["survey", "extra"],
    ];
    let book = Book::sound();
    for arguments in rows {
        let run = book.run(arguments).status(2);
        assert_eq!(run.stdout, "", "{arguments:?}");
        assert!(!run.stderr.is_empty(), "{arguments:?}");
    }
    assert!(!book.path("site").exists());
}

#[test]
fn a_bad_date_is_answered_with_how_it_is_written() {
    Book::sound().run(["due", "--on", "1.6.2026"]).status(2).stderr_has("1.6.2026").stderr_has("2026-03-14");
    Book::sound().run(["due", "--on", "2026-02-30"]).status(2).stderr_has("28 days");
}

#[test]
fn help_and_version_are_results() {
    for arguments in [vec!["--help"], vec!["--version"], vec!["due", "--help"], vec!["publish", "--help"], vec!["survey", "--help"]] {
        let run = Book::new().run(&arguments).status(0);
        assert!(!run.stdout.is_empty() && run.stderr.is_empty(), "{arguments:?}: {run:?}");
    }
}

#[test]
fn no_book_ends_with_1_and_says_how_to_name_one() {
    let folder = tempfile::tempdir().expect("a folder");
    for command in COMMANDS {
        let run = run_within(folder.path(), [command], Duration::from_secs(10)).status(1);
        assert_eq!(run.stdout, "");
        let run = run.stderr_has("content").stderr_has("--book");
        assert!(!run.stderr.contains("os error"), "{}", run.stderr);
    }
}

#[test]
fn a_book_that_is_a_file_ends_with_1() {
    let book = Book::new().beside("notes.txt", "no book");
    for command in COMMANDS {
        book.run([command, "--book", "notes.txt"]).status(1).stderr_has("notes.txt").stdout("");
    }
}

#[test]
fn a_sound_book_ends_with_0() {
    for command in COMMANDS {
        Book::sound().run([command, "--on", "2026-06-01"]).status(0);
    }
}

#[test]
fn a_book_with_errors_ends_with_1_and_warnings_with_0() {
    for command in COMMANDS {
        case("unknown-mark").run([command, "--on", "2026-06-01"]).status(1);
        case("unknown-part-and-tool").run([command, "--on", "2026-06-01"]).status(0);
    }
}

#[test]
fn the_book_may_stand_anywhere() {
    let book = Book::sound();
    let elsewhere = tempfile::tempdir().expect("a folder");
    let path = book.path("content").to_string_lossy().into_owned();
    let arguments = ["due", "--book", &path, "--on", "2026-06-01", "--format", "json"];
    let run = run_within(elsewhere.path(), arguments, Duration::from_secs(10)).status(0);
    assert_eq!(run.json()[0]["guide"], "oil");
    let inside = run_within(&book.path("content"), ["due", "--book", ".", "--on", "2026-06-01"], Duration::from_secs(10));
    inside.status(0);
}

#[test]
fn lists_go_to_stdout_and_complaints_to_stderr() {
    let book = case("unknown-mark");
    let due = book.run(["due", "--format", "json", "--on", "2026-06-01"]).status(1).stderr_has("oil-filtre");
    assert!(due.json().is_array());
    let survey = book.run(["survey", "--format", "json", "--on", "2026-06-01"]).status(1);
    assert!(survey.json().is_array());
    assert_eq!(survey.stderr, "");
    let text = book.run(["survey", "--on", "2026-06-01"]).status(1).stdout_has("guides/engine/job.md:6:12").stdout_has("1 error");
    assert_eq!(text.stderr, "");
    let publish = book.run(["publish", "--on", "2026-06-01"]).status(1).stderr_has("oil-filtre");
    assert_eq!(publish.stdout, "");
}

#[test]
fn nothing_is_coloured_where_there_is_no_terminal() {
    let book = case("unknown-mark");
    for command in COMMANDS {
        let run = book.run([command, "--on", "2026-06-01"]);
        assert!(!run.stdout.contains('\u{1b}') && !run.stderr.contains('\u{1b}'), "{run:?}");
    }
}

#[test]
fn survey_rows_have_these_keys_in_this_order() {
    let run = case("unknown-mark").run(["survey", "--format", "json", "--on", "2026-06-01"]).status(1);
    let rows = run.json();
    let keys: Vec<&String> = rows[0].as_object().expect("a map").keys().collect();
    assert_eq!(keys, ["rule", "severity", "file", "line", "column", "message", "remedy"]);
    Book::sound().run(["survey", "--format", "json", "--on", "2026-06-01"]).status(0).stdout("[]\n");
}

#[test]
fn without_a_day_today_is_meant() {
    Book::sound().run(["due", "--format", "json"]).status(0);
}

#[cfg(unix)]
#[test]
fn a_reader_that_stops_reading_is_no_failure() {
    use std::process::{Command, Stdio};
    let book = Book::sound();
    let mut child = Command::new(env!("CARGO_BIN_EXE_garboard"))
        .args(["due", "--all", "--format", "json"])
        .current_dir(book.path("."))
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("starts");
    drop(child.stdout.take());
    let output = child.wait_with_output().expect("ends");
    assert!(!String::from_utf8_lossy(&output.stderr).contains("panicked"), "{output:?}");
}
