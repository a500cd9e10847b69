//! The help is true: every example in it is run, by a shell, on the demo book.

use crate::support::{Book, files_under};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, ExitStatus, Stdio};
use std::time::{Duration, Instant};

/// Commands that the help does not list.
const HIDDEN: [&str; 3] = ["schema", "completions", "man"];

/// Commands that go on until they are stopped.
const GOING_ON: [&str; 1] = ["tend"];

/// The day as of which the demo book is told, where an example names none.
const ON: &str = "2026-11-24";

fn help(arguments: &[&str]) -> String {
    Book::new().run(arguments.iter().chain(&["--help"])).status(0).stdout
}

/// The commands that the help lists.
fn listed() -> Vec<String> {
    let text = help(&[]);
    let (_, list) = text.split_once("Commands:\n").expect("a list of commands");
    let rows = list.lines().take_while(|line| line.starts_with("  "));
    rows.filter_map(|line| line.strip_prefix("  ")?.split_whitespace().next().filter(|_| !line.starts_with("   ")))
        .map(str::to_owned)
        .collect()
}

fn all() -> impl Iterator<Item = String> {
    listed().into_iter().chain(HIDDEN.map(str::to_owned))
}

fn examples(command: &str) -> Vec<String> {
    let text = help(&[command]);
    let Some((_, examples)) = text.split_once("Examples:\n") else { return Vec::new() };
    examples.lines().take_while(|line| line.starts_with("  ")).map(|line| line.trim().to_owned()).collect()
}

#[test]
fn no_line_of_the_help_is_broken_a_second_time() {
    for command in all() {
        let text = help(&[&command]);
        let (told, _) = text.split_once("Usage:").expect("how it is used");
        let paragraphs = told.split("\n\n").filter(|paragraph| !paragraph.contains("\n  "));
        for lines in paragraphs.map(|paragraph| paragraph.trim().lines().collect::<Vec<_>>()) {
            let but_the_last = lines.get(..lines.len().saturating_sub(1)).unwrap_or_default();
            assert!(but_the_last.iter().all(|line| line.len() >= 60), "{command}: {lines:?}");
        }
    }
}

/// The demo book beside which an example is run, and at home too if it names that; a stick, and files from a phone.
fn demo(line: &str) -> Book {
    let book = Book::new();
    let content = Path::new(env!("CARGO_MANIFEST_DIR")).join("content");
    for (path, bytes) in files_under(&content) {
        book.put(&format!("content/{path}"), &bytes);
        if line.contains("~/boat/content") {
            book.put(&format!("home/boat/content/{path}"), &bytes);
        }
    }
    let entry = b"---\njobs: [oil-and-filter]\ndate: 2026-11-24\ntime: 2 h\n---\nNo leaks.\n";
    book.put("home/Downloads/2026-11-24-oil-and-filter.md", entry);
    book.put("entry.md", entry);
    book.put("history.csv", b"date,job,notes\n14/03/2024,oil-and-filter,No leaks\n");
    // A record without an entry: SHA-256 of nothing is well known.
    book.put(
        "home/handed-over/record.json",
        b"{\"record\":\"garboard\",\"version\":1,\"fingerprint\":\"e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855\",\"entries\":[]}",
    );
    if line.contains("impeller.html") {
        put_shared(&book);
    }
    std::fs::create_dir_all(book.path("home/stick")).expect("a stick");
    book
}

/// A guide of another boat, with a system, a meter and an item of her own, in the file that the examples receive.
fn put_shared(book: &Book) {
    book.put(
        "theirs/boat.yaml",
        b"name: Another boat\nsystems: [{id: engine-room, title: Engine room}]\nmeters: [{id: port-hours, title: Port hours, unit: h}]\n",
    );
    book.put("theirs/stores.yaml", b"- {id: impeller-kit, title: Impeller kit}\n");
    book.put(
        "theirs/guides/engine-room/impeller-of-hers.md",
        b"---\ntitle: Change the impeller\nevery: {port-hours: 200 h}\nparts: [{item: impeller-kit, qty: 1}]\n---\n## Change\n\n1. Change it.\n",
    );
    book.run(["share", "impeller-of-hers", "--book", "theirs", "--to", "impeller.html"]).status(0);
}

/// Where the program is, for the shell.
fn folder_of_program() -> PathBuf {
    Path::new(env!("CARGO_BIN_EXE_garboard")).parent().expect("a folder").to_owned()
}

fn started(book: &Book, line: &str) -> Child {
    let path = std::env::join_paths(
        std::iter::once(folder_of_program()).chain(std::env::split_paths(&std::env::var_os("PATH").unwrap_or_default())),
    );
    Command::new("sh")
        // The shell makes way for the program, so that stopping it stops the program.
        .args(["-c", &format!("exec {line}")])
        .current_dir(book.path("."))
        .env("HOME", book.path("home"))
        .env("PATH", path.expect("a path"))
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the shell starts")
}

/// The example with the day of the demo book, where the command reckons and no day is given.
fn on_its_day(line: &str, command: &str, help: &str) -> String {
    if line.contains("--on ") || !help.contains("--on <DATE>") {
        return line.to_owned();
    }
    line.replacen(&format!("garboard {command}"), &format!("garboard {command} --on {ON}"), 1)
}

fn end_of(mut child: Child, line: &str) -> (ExitStatus, String) {
    // Read to its end first: a pipe that is full would hold the program up.
    let output = std::thread::spawn(move || {
        let mut text = String::new();
        let _ = std::io::Read::read_to_string(&mut child.stderr.take().expect("errors"), &mut text);
        (child.wait_with_output().expect("it ends").status, text)
    });
    let since = Instant::now();
    while !output.is_finished() {
        assert!(since.elapsed() < Duration::from_secs(120), "`{line}` does not end");
        std::thread::sleep(Duration::from_millis(20));
    }
    output.join().expect("an end")
}

#[test]
fn every_command_shows_examples_that_name_it() {
    assert!(listed().len() >= 6, "{:?}", listed());
    for command in all() {
        let examples = examples(&command);
        assert!(!examples.is_empty(), "`{command}` shows no example");
        for example in examples {
            assert!(example.starts_with(&format!("garboard {command}")), "`{command}` shows `{example}`");
        }
    }
}

#[test]
fn the_short_help_and_the_summary_say_what_a_command_does() {
    for command in all() {
        let run = Book::new().run([command.as_str(), "-h"]).status(0);
        let first = run.stdout.lines().next().unwrap_or_default();
        assert!(first.split_whitespace().count() > 3 && !first.ends_with('.'), "{command}: {first}");
    }
}

#[cfg(unix)]
#[test]
fn every_example_does_what_it_says_on_the_demo_book() {
    for command in all() {
        let help = help(&[&command]);
        for example in examples(&command) {
            // Without a terminal there is nobody to ask; `enter_asks` drives the questions.
            if example == "garboard enter" {
                continue;
            }
            // A book of its own for each: some write into it.
            let book = demo(&example);
            let mut line = on_its_day(&example, &command, &help);
            if command == "receive" && !line.contains("--yes") && !line.contains("--dry-run") {
                line.push_str(" --yes");
            }
            let mut child = started(&book, &line);
            if GOING_ON.contains(&command.as_str()) {
                std::thread::sleep(Duration::from_secs(2));
                assert!(child.try_wait().expect("it can be asked").is_none(), "`{line}` ended");
                child.kill().and_then(|()| child.wait()).expect("it can be stopped");
                continue;
            }
            let (status, complaints) = end_of(child, &line);
            assert!(status.success(), "`{line}`: {status}\n{complaints}");
            assert!(!complaints.lines().any(|line| line.starts_with("error")), "`{line}` complains:\n{complaints}");
        }
    }
}

#[test]
fn every_listed_command_stands_in_the_documents() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    for document in ["README.md", "src/book/format-reference.md"] {
        let text = std::fs::read_to_string(root.join(document)).expect("a document");
        for command in listed() {
            assert!(text.contains(&format!("| `garboard {command}")), "`{command}` is not in the table of commands of {document}");
        }
    }
    let text = std::fs::read_to_string(root.join("README.md")).expect("a document");
    for command in HIDDEN {
        assert!(text.contains(&format!("`garboard {command}")), "README.md does not name `{command}`");
    }
}

#[test]
fn every_option_stands_in_the_format_reference() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/book/format-reference.md");
    let text = std::fs::read_to_string(path).expect("the format reference");
    let named = |option: &str| [" ", "`"].iter().any(|end| text.contains(&format!("{option}{end}")));
    for command in listed() {
        let help = help(&[&command]);
        let lines = help.lines().map(str::trim_start).filter(|line| line.starts_with("--"));
        for option in lines.filter_map(|line| line.split([' ', ',']).next()) {
            assert!(named(option), "`{option}` of `{command}` is not in the format reference");
        }
    }
}

#[test]
fn completions_and_the_manual_name_every_listed_command() {
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        let script = Book::new().run(["completions", shell]).status(0).stdout;
        for command in listed() {
            assert!(script.contains(&command), "{shell}: {command}");
        }
    }
    let manual = Book::new().run(["man"]).status(0).stdout;
    for command in listed() {
        assert!(manual.contains(&format!(".SH \"GARBOARD {}\"", command.to_uppercase())), "{command}");
    }
    Book::new().run(["completions", "cmd"]).status(2).stderr_has("bash").stdout("");
}

#[cfg(unix)]
#[test]
fn the_scripts_are_read_by_their_shells() {
    // `-n`: read the script and run nothing (POSIX.1-2017, `sh`).
    for shell in ["bash", "zsh", "fish"] {
        let book = Book::new();
        let script = book.run(["completions", shell]).status(0).stdout;
        book.put("script", script.as_bytes());
        let Ok(output) = Command::new(shell).arg("-n").arg(book.path("script")).output() else { continue };
        assert!(output.status.success(), "{shell}: {}", String::from_utf8_lossy(&output.stderr));
    }
}

#[test]
fn schemas_are_listed_printed_and_written() {
    let book = Book::new();
    book.run(["schema"]).status(0).stdout("boat\nstores\ntools\npassages\ncautions\nguide\nentry\n");
    assert_eq!(book.run(["schema", "guide"]).status(0).json()["additionalProperties"], false);
    book.run(["schema", "--to", "schemas"]).status(0).stdout("7 schemas written into schemas\n");
    assert_eq!(book.text("schemas/stores.schema.json"), book.run(["schema", "stores"]).stdout);
    book.run(["schema", "meters"]).status(2).stderr_has("cautions").stdout("");
    let book = book.beside("taken", "a file");
    book.run(["schema", "--to", "taken"]).status(1).stderr_has("`taken`").stderr_has("--to DIR").stdout("");
}
