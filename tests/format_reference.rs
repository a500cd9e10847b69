//! The format reference says what the program does: its tables are made from the program's own, and
//! its examples are a book that loads.
//!
//! `GARBOARD_REMAKE=1 cargo test --test format_reference` writes the tables anew. Of a table with
//! sentences (rules, marks, states) the names come from the program and the sentences stay: a new
//! name stands there without one until somebody writes it.

#![allow(clippy::disallowed_methods, reason = "tests lay and read files, and wait")]

#[path = "format_reference/document.rs"]
mod document;
#[path = "format_reference/example_book.rs"]
mod example_book;
#[path = "format_reference/key_tables.rs"]
mod key_tables;
#[path = "format_reference/nested.rs"]
mod nested;
#[path = "format_reference/shown.rs"]
mod shown;
#[path = "format_reference/sources.rs"]
mod sources;

use document::{Block, Document, merged_table, table};
use example_book::ExampleBook;
use garboard::book::keys::{self, Shape};
use garboard::book::model::OCCASIONS;
use garboard::book::usual::usual;
use garboard::quantity::{Dimension, Unit};
use garboard::reckon::State;
use std::collections::BTreeSet;

/// The day as of which the examples are reckoned.
const ON: &str = "2026-06-20";

/// What stands in a block; `old` is what stands there now, whose sentences are kept.
fn made(block: &Block, book: &ExampleBook) -> String {
    let old = block.text.as_str();
    if let Some(name) = block.name.strip_prefix("keys ") {
        return key_tables::of(name);
    }
    match block.name.as_str() {
        "hazards" => hazards(),
        "occasions" => OCCASIONS.map(|id| format!("- `{id}`\n")).concat(),
        "units" => units(),
        "marks" => merged_table(&["mark", "what it says"], one_cell(sources::marks()), old),
        "rules" => merged_table(&["rule", "gravity", "what it means", "how to mend it"], rules(), old),
        "states" => merged_table(&["state", "meaning"], one_cell(State::ALL.map(|state| state.word().to_owned())), old),
        "due keys" => merged_table(&["key", "value"], one_cell(book.due_keys()), old),
        "survey keys" => merged_table(&["key", "value"], one_cell(book.survey_keys()), old),
        "plan keys" => merged_table(&["key", "value"], one_cell(book.plan_keys()), old),
        "plan task keys" => merged_table(&["key", "value"], one_cell(book.plan_task_keys()), old),
        "plan text" => fenced("text", &book.plan_text("oil-and-filter")),
        "plan json" => fenced("json", &book.plan_json("heads-fitting-out")),
        "due list" => fenced("text", &book.due_list()),
        "due json" => fenced("json", &book.due_json("oil-and-filter")),
        "provision keys" => merged_table(&["key", "value"], one_cell(book.provision_keys()), old),
        "provision list" => fenced("text", &book.provision_list()),
        "provision json" => fenced("json", &book.provision_json("engine-oil")),
        "provision csv" => fenced("text", &book.provision_csv()),
        "survey json" => fenced("json", &book.survey_json()),
        other => panic!("nothing makes the block `{other}`"),
    }
}

fn one_cell(names: impl IntoIterator<Item = String>) -> Vec<Vec<String>> {
    names.into_iter().map(|name| vec![name]).collect()
}

fn rules() -> Vec<Vec<String>> {
    let rules = sources::rules().into_iter();
    rules.map(|(rule, gravities)| vec![rule, gravities.into_iter().collect::<Vec<_>>().join(" or ")]).collect()
}

fn fenced(language: &str, text: &str) -> String {
    format!("```{language}\n{}\n```\n", text.trim_end())
}

fn hazards() -> String {
    let rows = usual("en").into_iter().map(|hazard| {
        let deferral = if hazard.defer.is_some() { "yes" } else { "" };
        vec![format!("`{}`", hazard.id), hazard.title, hazard.signal.word().to_uppercase(), deferral.to_owned()]
    });
    table(&["id", "title", "signal word", "defers to local codes or licensed practice"], rows)
}

fn units() -> String {
    let also = sources::other_spellings();
    let rows = Dimension::ALL.into_iter().map(|dimension| {
        let list = |words: Vec<String>| words.iter().map(|word| format!("`{word}`")).collect::<Vec<_>>().join(", ");
        let symbols = Unit::of(dimension).map(|unit| unit.symbol().to_owned()).collect();
        let others = Unit::of(dimension).flat_map(|unit| also.get(&unit).into_iter().flatten().cloned()).collect();
        vec![dimension.name().to_owned(), list(symbols), list(others), dimension.examples().to_owned()]
    });
    table(&["kind", "units", "also read", "for example"], rows)
}

#[test]
fn the_tables_are_those_of_the_program() {
    let mut document = Document::read();
    let book = ExampleBook::of(&document);
    let expected: Vec<String> = document.blocks().iter().map(|block| made(block, &book)).collect();
    if std::env::var_os("GARBOARD_REMAKE").is_some_and(|value| value == "1") {
        document.rewrite(&expected);
        return;
    }
    for (block, expected) in document.blocks().iter().zip(&expected) {
        let hint = "write the block anew with `GARBOARD_REMAKE=1 cargo test --test format_reference`, and add the sentences it lacks";
        assert_eq!(&block.text, expected, "the block `{}` is out of date; {hint}", block.name);
        assert!(!block.text.contains("|  |"), "the block `{}` lacks a sentence", block.name);
    }
}

#[test]
fn every_table_of_keys_is_in_the_document() {
    let document = Document::read();
    let named: BTreeSet<String> = document.blocks().iter().filter_map(|block| Some(block.name.strip_prefix("keys ")?.to_owned())).collect();
    assert_eq!(named, key_tables::names().map(str::to_owned).collect());
    for table in keys::ALL {
        assert!(key_tables::has(table), "the keys of {} have no name here", table.described());
    }
}

#[test]
fn every_other_table_is_in_the_document() {
    let document = Document::read();
    let names: Vec<&str> = document.blocks().iter().map(|block| block.name.as_str()).collect();
    for name in [
        "hazards",
        "occasions",
        "units",
        "marks",
        "rules",
        "states",
        "due keys",
        "survey keys",
        "provision keys",
        "plan keys",
        "plan task keys",
    ] {
        assert!(names.contains(&name), "the document has no block `{name}`");
    }
}

#[test]
fn the_examples_are_a_book_without_a_problem() {
    let document = Document::read();
    let book = ExampleBook::of(&document);
    assert_eq!(book.problems(), Vec::<String>::new());
}

#[test]
fn every_example_of_a_file_says_which_file_it_is() {
    let document = Document::read();
    let unmarked: Vec<usize> = document
        .fences()
        .iter()
        .filter(|fence| fence.file.is_none() && ["yaml", "markdown", "csv"].contains(&fence.language.as_str()))
        .map(|fence| fence.line)
        .collect();
    assert_eq!(unmarked, Vec::<usize>::new(), "lines of the examples that no test loads");
}

#[test]
fn every_key_of_every_record_stands_in_an_example() {
    // A key table alone does not show how a value is written.
    let document = Document::read();
    let files = document.fences().into_iter().filter_map(|fence| Some((fence.file?, fence.text)));
    let shown: BTreeSet<String> = files.flat_map(|(path, text)| shown::keys_in(&path, &text)).collect();
    let all = keys::ALL.into_iter().flat_map(|table| table.keys.iter().map(|key| shown::name_of(table, key.name)));
    let missing: Vec<String> = all.filter(|name| !shown.contains(name)).collect();
    assert_eq!(missing, Vec::<String>::new(), "keys that no example shows");
}

#[test]
fn every_mark_stands_in_an_example() {
    let document = Document::read();
    let guides: String = document.fences().iter().filter(|fence| fence.file.is_some()).map(|fence| fence.text.as_str()).collect();
    let marks = sources::marks();
    let missing: Vec<&String> =
        marks.iter().skip(1).filter(|mark| !guides.contains(&format!("{{{} ", shown::word_of_mark(mark)))).collect();
    assert_eq!(missing, Vec::<&String>::new(), "marks that no example shows");
}

#[test]
fn every_record_that_stands_in_another_is_among_all_tables() {
    for inner in keys::ALL.into_iter().flat_map(|table| table.keys.iter().filter_map(|key| key.shape.table())) {
        assert!(keys::ALL.into_iter().any(|table| std::ptr::eq(table, inner)), "{}", inner.described());
    }
}

#[test]
fn the_words_of_the_tables_are_those_that_the_decoder_reads() {
    let read = sources::decoded_words();
    let said: BTreeSet<BTreeSet<String>> = keys::ALL
        .into_iter()
        .flat_map(|table| table.keys.iter())
        .filter_map(|key| match key.shape {
            Shape::Choice(words) | Shape::Choices(words) => Some(words.iter().map(|word| (*word).to_owned()).collect()),
            _ => None,
        })
        .collect();
    assert_eq!(said, read);
}

#[test]
fn keys_inside_keys_of_the_json_are_named_and_rows_are_alike() {
    let document = Document::read();
    let book = ExampleBook::of(&document);
    // What is left stands by the names of rules; the tasks have a table of their own.
    let elsewhere = ["remaining", "tasks"];
    for (block, rows) in [("due keys", book.due()), ("provision keys", book.provision()), ("survey keys", book.survey())] {
        nested::assert_alike(&rows);
        let blocks = document.blocks();
        let table = &blocks.iter().find(|known| known.name == block).expect("a block").text;
        for (key, inner) in nested::keys_of(&rows).into_iter().filter(|(key, _)| !elsewhere.contains(&key.as_str())) {
            let row = table.lines().find(|line| line.starts_with(&format!("| `{key}` |"))).expect("a row");
            for name in inner {
                assert!(row.contains(&format!("`{name}`")), "{block}: `{name}` of `{key}` is not named");
            }
        }
    }
    nested::assert_alike(book.plan("oil-and-filter")["tasks"].as_array().expect("tasks"));
}

#[test]
fn every_rule_that_a_broken_book_breaks_is_in_the_table() {
    // The rules are gathered from calls in the source; one that is noted in another way would be missed.
    let known = sources::rules();
    let cases = std::fs::read_dir(std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/broken")).expect("the broken books");
    for case in cases.map(|case| case.expect("a case").path().join("expected")) {
        for line in std::fs::read_to_string(&case).unwrap_or_default().lines() {
            let rule = line.rsplit(' ').next().unwrap_or_default();
            assert!(known.contains_key(rule), "{}: `{rule}`", case.display());
        }
    }
}
