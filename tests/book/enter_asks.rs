//! `garboard enter` at a terminal: what it asks, and what stands in the log afterwards.

use crate::only_about;
use crate::support::{Book, files_under, job};
use crate::terminal::{CTRL_C, DOWN, ENTER, ESC, Terminal};

const ON: [&str; 3] = ["enter", "--on", "2026-06-01"];

/// The sound book; no file of it may change.
fn asked(arguments: &[&str]) -> (Book, Terminal) {
    let book = Book::sound();
    let terminal = Terminal::start(&book, &[&ON, arguments].concat());
    (book, terminal)
}

#[test]
fn every_question_answered_makes_an_entry() {
    let book = Book::sound().file("guides/hull/anodes.md", job("Renew the anodes", "hazards: []\n"));
    let before = files_under(&book.path("content"));
    let mut terminal = Terminal::start(&book, &ON);
    // Both words are in `Change the oil`, and only there.
    terminal.answer("Which job?", "the oil");
    terminal.answer("Change the oil (oil, ", ENTER);
    terminal.answer("Another job with it?", ENTER);
    // What cannot be is told, and asked again with what was typed.
    terminal.answer("Which day?", "x\r");
    terminal.answer("is not a day", "\x7fyesterday\r");
    terminal.answer("Is it finished?", ENTER);
    // The book read 1840.5 h on 2026-03-14.
    terminal.wait_for("Engine hours (h)?");
    terminal.answer("last 1840.5 h on 2026-03-14", "1804\r");
    terminal.answer("a counter does not run backwards", "\x7f\x7f\x7f\x7f1850,5\r");
    terminal.answer("Miles by log (nmi)?", ENTER);
    terminal.answer("Oil filter: how many were used?", ENTER);
    terminal.answer("Engine oil: how much was used?", "7\r");
    terminal.wait_for("oil-pressure (bar)?");
    terminal.answer("limits 2.5..5.0 bar", "2.1\r");
    terminal.wait_for("2.1 bar is outside its limits");
    terminal.answer("What was seen?", "Weep at the drain plug\r");
    terminal.answer("How is it?", DOWN);
    terminal.answer("act: put it right", ENTER);
    terminal.answer("What was seen?", ENTER);
    terminal.answer("How long did it take?", "1 h\r");
    terminal.answer("Notes:", "Filter was tight.\r");
    terminal.wait_for("2026-05-31-oil.md");
    terminal.answer("Write this entry?", ENTER);
    let (status, shown) = terminal.end();
    assert_eq!(status, Some(0), "{shown}");
    let mut expected = before;
    let text = "---\njobs: [oil]\ndate: 2026-05-31\nmeters: {engine: 1850.5}\ntime: 1 h\nparts:\n  - {item: oil-filter, qty: 1}\n  \
                - {item: engine-oil, qty: 7 L}\nreadings: {oil-pressure: 2.1 bar}\nfindings:\n  \
                - {what: Weep at the drain plug, grade: act}\n---\nFilter was tight.\n";
    expected.insert("log/2026/2026-05-31-oil.md".to_owned(), text.as_bytes().to_vec());
    assert_eq!(book.text("content/log/2026/2026-05-31-oil.md"), text);
    assert!(files_under(&book.path("content")) == expected);
}

/// Nothing was seen, no time and no notes: the entry is written.
#[track_caller]
fn written_without_more(mut terminal: Terminal) {
    for question in ["What was seen?", "How long did it take?", "Notes:", "Write this entry?"] {
        terminal.answer(question, ENTER);
    }
    let (status, shown) = terminal.end();
    assert_eq!(status, Some(0), "{shown}");
}

#[test]
fn work_that_is_not_finished_and_that_no_guide_describes() {
    let (book, mut terminal) = asked(&[]);
    terminal.answer("Which job?", "something");
    terminal.answer("Something else", ENTER);
    terminal.answer("What was done?", "Rewired: bow light\r");
    terminal.answer("Another job with it?", ENTER);
    terminal.answer("Which day?", ENTER);
    terminal.answer("Is it finished?", "n\r");
    terminal.answer("How was the boat left?", "bow light off\r");
    terminal.answer("How was the boat left?", ENTER);
    terminal.answer("Engine hours", ENTER);
    terminal.answer("Miles by log", ENTER);
    written_without_more(terminal);
    let text = "---\nwork:\n  - \"Rewired: bow light\"\nstarted: 2026-06-01\nleft:\n  - bow light off\n---\n";
    assert_eq!(book.text("content/log/2026/2026-06-01-rewired-bow-light.md"), text);
}

#[test]
fn what_is_only_known_about_is_said_to_be_and_held_against_nothing() {
    let book = only_about::book("en");
    let mut terminal = Terminal::start(&book, &ON);
    terminal.answer("Which job?", ENTER);
    terminal.answer("What was done?", "Looked again\r");
    terminal.answer("Another job with it?", ENTER);
    terminal.answer("Which day?", ENTER);
    terminal.answer("Is it finished?", ENTER);
    terminal.answer("last about 1200 h on 2026-05-20", "1190\r");
    terminal.answer("last 12000 nmi, read about 2026-05", ENTER);
    terminal.answer("last about 3200 nmi, read about 2026-05", CTRL_C);
    assert_eq!(terminal.end().0, Some(1));
}

/// The guide takes the key out before the stage to go on from, and puts it back in it; nobody can tell what was used.
#[test]
fn a_job_that_stops_half_way_presets_how_the_boat_was_left_and_no_parts() {
    let (book, mut terminal) = asked(&["oil"]);
    terminal.answer("Which day?", ENTER);
    terminal.answer("Is it finished?", "n\r");
    terminal.answer("At which stage does it go on?", "refill");
    terminal.answer("Refill", ENTER);
    terminal.wait_for("How was the boat left?");
    terminal.wait_for("start key");
    terminal.answer("isolated by the guide's marks", " in my pocket\r");
    terminal.wait_for("How was the boat left?");
    terminal.answer("blank: nothing more", ENTER);
    terminal.answer("Engine hours", ENTER);
    terminal.answer("Miles by log", ENTER);
    // A count of pieces is whole; what was typed stands there again.
    terminal.wait_for("Oil filter: how many were used?");
    terminal.answer("so far; 0: none", "3.8\r");
    terminal.answer("`3.8` is not a whole number of pieces", "\x7f\x7f\x7f\r");
    terminal.answer("Engine oil: how much was used?", "6.5\r");
    terminal.answer("oil-pressure (bar)?", ENTER);
    written_without_more(terminal);
    let text = "---\njobs: [oil]\nstarted: 2026-06-01\nreached: Refill\nleft:\n  - start key in my pocket\nparts:\n  \
                - {item: engine-oil, qty: 6.5 L}\n---\n";
    assert_eq!(book.text("content/log/2026/2026-06-01-oil.md"), text);
}

/// Before anything is answered: it may be that entry that wants the answers. Once is enough.
#[test]
fn a_job_that_is_open_already_is_told_of_before_the_questions() {
    let begun = "---\njobs: [oil]\nstarted: 2026-05-29\n---\n";
    let book = Book::sound().file("log/2026/2026-05-29-oil.md", begun);
    let mut terminal = Terminal::start(&book, &[&ON[..], &["oil"]].concat());
    terminal.wait_for("the job stays open by an earlier entry: `content/log/2026/2026-05-29-oil.md`");
    for question in ["Which day?", "Is it finished?", "Engine hours", "Miles by log", "Oil filter: how", "Engine oil: how", "oil-pressure"]
    {
        terminal.answer(question, ENTER);
    }
    for question in ["What was seen?", "How long did it take?", "Notes:"] {
        terminal.answer(question, ENTER);
    }
    terminal.answer("Write this entry?", "n\r");
    let (status, shown) = terminal.end();
    assert_eq!(status, Some(0), "{shown}");
    assert_eq!(shown.matches("stays open").count(), 1, "{shown}");
}

/// Broken off at each question in turn: nothing is written.
#[track_caller]
fn broken_off(answers: &[(&str, &str)], arguments: &[&str], at: &str, key: &str) {
    let (book, mut terminal) = asked(arguments);
    let before = files_under(&book.path("content"));
    for (words, keys) in answers {
        terminal.answer(words, keys);
    }
    terminal.answer(at, key);
    let (status, shown) = terminal.end();
    assert_eq!(status, Some(1), "{at}: {shown}");
    assert!(shown.contains("broken off: nothing was written"), "{at}: {shown}");
    assert!(files_under(&book.path("content")) == before, "{at}: a file changed");
}

#[test]
fn a_question_broken_off_writes_nothing() {
    let steps = [
        ("Which day?", ENTER),
        ("Is it finished?", ENTER),
        ("Engine hours", ENTER),
        ("Miles by log", ENTER),
        ("Oil filter: how", ENTER),
        ("Engine oil: how", ENTER),
        ("oil-pressure (bar)?", ENTER),
        ("What was seen?", ENTER),
        ("How long did it take?", ENTER),
        ("Notes:", ENTER),
    ];
    broken_off(&[], &[], "Which job?", ESC);
    broken_off(&[], &[], "Which job?", CTRL_C);
    for (count, (at, _)) in steps.iter().enumerate() {
        broken_off(&steps[..count], &["oil"], at, if count % 2 == 0 { ESC } else { CTRL_C });
    }
    broken_off(&steps, &["oil"], "Write this entry?", ESC);
    broken_off(&steps, &["oil"], "Write this entry?", CTRL_C);
}

#[test]
fn what_options_say_is_not_asked_but_shown() {
    let (book, mut terminal) = asked(&["oil", "--date", "2026-05-30"]);
    terminal.wait_for("jobs: [oil]");
    terminal.answer("Write this entry?", "n\r");
    let (status, shown) = terminal.end();
    assert_eq!(status, Some(0), "{shown}");
    assert!(shown.contains("nothing was written") && !shown.contains("Which"), "{shown}");
    assert!(!book.path("content/log/2026/2026-05-30-oil.md").exists());
    // With `--yes` nothing is asked at all.
    let (book, terminal) = asked(&["oil", "--yes"]);
    assert_eq!(terminal.end().0, Some(0));
    assert_eq!(book.text("content/log/2026/2026-06-01-oil.md"), "---\njobs: [oil]\ndate: 2026-06-01\n---\n");
}
