//! `garboard draft`: what stands in the book before and after, and that every draft can be read.

use crate::support::{Book, Run, files_under, job};
use std::path::Path;

const DAY: &str = "2026-11-24";
const SYSTEMS: [&str; 12] =
    ["engine", "fuel", "drive", "hull", "rig", "deck", "steering", "electrics", "plumbing", "gas", "safety", "electronics"];

fn demo() -> Book {
    let book = Book::new();
    book.lay(&Path::new(env!("CARGO_MANIFEST_DIR")).join("content"));
    book
}

#[track_caller]
fn draft(book: &Book, title: &str, rest: &[&str]) -> Run {
    book.run(["draft", title, "--on", DAY].iter().chain(rest))
}

#[track_caller]
fn survey(book: &Book) -> Vec<String> {
    let rows = book.run(["survey", "--format", "json", "--on", DAY]).json();
    let rows = rows.as_array().expect("a list").iter();
    // Advice what to fill in is what a draft is for.
    rows.filter(|row| row["severity"] != "advice").map(|row| format!("{} {} {}", row["file"], row["line"], row["rule"])).collect()
}

/// Nothing is written, and this is said.
#[track_caller]
fn refused(book: &Book, title: &str, rest: &[&str], status: i32, said: &str) {
    let before = files_under(&book.path("content"));
    draft(book, title, rest).status(status).stdout("").stderr_has(said);
    assert!(files_under(&book.path("content")) == before);
}

#[test]
fn a_draft_in_every_system_brings_no_problem() {
    let book = demo();
    let before = survey(&book);
    for system in SYSTEMS {
        draft(&book, &format!("New work on {system}"), &["--system", system])
            .status(0)
            .stdout(&format!("drafted content/guides/{system}/new-work-on-{system}.md\n"));
        draft(&book, &format!("From another {system}"), &["--system", system, "--from", "oil-and-filter"]).status(0);
    }
    assert_eq!(survey(&book), before);
    book.run(["publish", "--on", DAY]).status(0);
    assert!(book.text("content/guides/gas/new-work-on-gas.md").contains("\n  - gas\n"));
    // Nobody goes aloft alone.
    assert!(book.text("content/guides/rig/new-work-on-rig.md").contains("\ncrew: 2\n"));
}

#[test]
fn a_draft_from_a_guide_keeps_its_steps_and_none_of_its_history() {
    let old = "---\ntitle: Old\nchecked: 2026-01-01\nrevised: 2025-01-01\nformerly:\n- older\n# of the values\nvalues: {a: 2 L}\n---\n\
               ## Work\n\n1. Fill {a}. ![A sketch](oil-sketch/one.svg) [Other](../engine/oil.md)\n";
    let book = Book::sound()
        .file(
            "boat.yaml",
            "name: X\nsystems: [{id: engine, title: Engine}, {id: rig, title: Rig}]\nmeters: [{id: engine, title: H, unit: h}]\n",
        )
        .file("guides/engine/old-one.md", old)
        .file("guides/engine/oil-sketch/one.svg", "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 1 1\"/>");
    draft(&book, "New one", &["--system", "rig", "--from", "old-one"]).status(0);
    let text = book.text("content/guides/rig/new-one.md");
    for gone in ["checked:", "2025-01-01", "formerly", "older", "title: Old"] {
        assert!(!text.contains(gone), "{gone}: {text}");
    }
    for kept in [
        "title: \"New one\"\n",
        "# of the values\nvalues: {a: 2 L}\n",
        "revised: 2026-11-24\n---\n",
        "(../engine/oil-sketch/one.svg)",
        "(../engine/oil.md)",
    ] {
        assert!(text.contains(kept), "{kept}: {text}");
    }
    assert_eq!(book.text("content/guides/engine/old-one.md"), old);
}

#[test]
fn what_makes_no_guide_is_refused() {
    let book = demo();
    for title in ["", "  ", "\u{1f6df}\u{1f6df}", "\u{41b}\u{43e}\u{434}\u{43a}\u{430}", "con"] {
        refused(&book, title, &["--system", "rig"], 2, "the title makes no name");
    }
    refused(&book, "A", &["--system", "enginee"], 2, "did you mean `engine`?");
    refused(&book, "A", &["--system", "../../x"], 2, "there is no system");
    refused(&book, "A", &["--system", ""], 2, "there is no system");
    refused(&book, "A", &["--system", "rig", "--from", "oil-and-filtr"], 2, "did you mean `oil-and-filter`?");
    // The id is unique over all systems.
    refused(&book, "Oil and filter", &["--system", "rig"], 1, "`guides/engine/oil-and-filter.md`");
    draft(&book, "Twice", &["--system", "rig"]).status(0);
    refused(&book, "twice!", &["--system", "deck"], 1, "there is a guide `twice` already");
}

#[test]
fn hostile_titles_stand_in_the_file_as_words() {
    let book = demo();
    let before = survey(&book);
    let long = "windlassing ".repeat(400);
    let titles = [
        "say \"no\": {x} # `y` \\z 'q'",
        "---",
        "../../../etc/passwd",
        "a\n---\nb: c",
        "<script>alert(1)</script>",
        "\u{1b}[2J red",
        "--from",
        &long,
    ];
    for title in titles {
        let run = draft(&book, title, &["--system", "rig"]).without_panic();
        assert!(run.status == Some(0) || title == "---" || title == "--from", "{title:?}: {run:?}");
    }
    assert_eq!(survey(&book), before);
    let outside = files_under(&book.path("")).into_keys().filter(|path| !path.starts_with("content/")).count();
    assert_eq!(outside, 0);
}

#[test]
fn a_german_book_gets_a_german_draft() {
    let book = Book::sound().file(
        "boat.yaml",
        "name: X\nlanguage: de\nsystems: [{id: engine, title: Maschine}, {id: toilette, title: Toilette}]\nmeters: [{id: engine, title: H, unit: h}]\n",
    );
    let before = survey(&book);
    draft(&book, "Dichtung wechseln", &["--system", "Toilette"]).status(0);
    assert_eq!(survey(&book), before);
    let text = book.text("content/guides/toilette/dichtung-wechseln.md");
    assert!(text.contains("## Vorbereiten") && text.contains("  - sewage\n") && !text.contains("## Prepare"), "{text}");
}

#[test]
fn a_slip_in_another_file_does_not_keep_a_draft_out() {
    let book = Book::sound().file("guides/engine/broken.md", job("Broken", "evry: x\n"));
    draft(&book, "New", &["--system", "engine"]).status(0).stderr_has("`garboard survey` says what and where");
    refused(&book, "Broken", &["--system", "engine"], 1, "there is a guide `broken` already");
}

#[test]
fn of_a_boat_that_lists_no_systems_any_new_folder_is_one() {
    let book = Book::sound().file("boat.yaml", "name: Test\nmeters: [{id: engine, title: Engine hours, unit: h}]\n");
    draft(&book, "Wash the sails", &["--system", "rig"]).status(0);
    assert!(book.text("content/guides/rig/wash-the-sails.md").contains("Wash the sails"));
    book.run(["survey", "--on", "2026-11-24"]).status(0);
    refused(&book, "Oil the blocks", &["--system", "The rig"], 2, "there is no system `The rig`");
}

#[test]
fn a_boat_that_cannot_be_read_is_told_and_no_system_is_missed() {
    let book = Book::sound().file("boat.yaml", "name: Test\nsystems: [{id: engine, title: Engine}\n");
    let run = draft(&book, "Change the belt", &["--system", "rig"]).status(1).stdout("");
    assert!(run.stderr.contains("yaml-syntax") && run.stderr.contains("boat.yaml"), "{}", run.stderr);
    assert!(!run.stderr.contains("there is no system"), "{}", run.stderr);
}
