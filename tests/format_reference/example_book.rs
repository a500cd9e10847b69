//! The examples of the document, put together into a book.

use crate::ON;
use crate::document::Document;
use garboard::book::load::load;
use garboard::reckon::reckon;
use serde_json::Value;
use std::ffi::OsString;
use std::fs;
use std::path::{Path, PathBuf};
use tempfile::TempDir;

/// Files that the examples point at and the document cannot show.
const BESIDE: [&str; 2] = ["guides/engine/oil-and-filter/filter-seat.jpg", "log/2026/2026-05-24-oil-and-filter/invoice.pdf"];

pub struct ExampleBook {
    folder: TempDir,
}

impl ExampleBook {
    pub fn of(document: &Document) -> Self {
        let folder = tempfile::tempdir().expect("a folder for the book");
        let book = Self { folder };
        for fence in document.fences() {
            if let Some(path) = &fence.file {
                assert!(!book.path().join(path).exists(), "the file `{path}` is shown twice");
                book.write(path, &fence.text);
            }
        }
        for path in BESIDE {
            book.write(path, "");
        }
        book
    }

    fn path(&self) -> PathBuf {
        self.folder.path().join("content")
    }

    fn write(&self, path: &str, text: &str) {
        let file = self.path().join(path);
        fs::create_dir_all(file.parent().unwrap_or(Path::new(""))).expect("a folder of the book");
        fs::write(file, text).expect("a file of the book");
    }

    /// Problems of the book and of its reckoning, warnings too.
    pub fn problems(&self) -> Vec<String> {
        let loaded = load(&self.path()).expect("there is a book");
        let on = garboard::book::date::parse_day(ON).expect("a day");
        let (_, found) = reckon(&loaded.book, on);
        let all = loaded.problems.iter().chain(&found);
        all.map(|problem| {
            format!("{}:{}:{} {}: {}", problem.place.file, problem.place.line, problem.place.column, problem.rule, problem.message)
        })
        .collect()
    }

    fn run(&self, arguments: &[&str]) -> String {
        let mut out = Vec::new();
        let mut err = Vec::new();
        let path = self.path();
        let line = ["garboard"].iter().chain(arguments).map(OsString::from).chain([OsString::from("--book"), path.into_os_string()]);
        garboard::cli::run(line, &mut out, &mut err);
        String::from_utf8(out).expect("text")
    }

    fn rows(&self, arguments: &[&str]) -> Vec<Value> {
        let text = self.run(arguments);
        serde_json::from_str(&text).unwrap_or_else(|error| panic!("{error}: {text}"))
    }

    pub fn due_list(&self) -> String {
        self.run(&["due", "--all", "--on", ON])
    }

    pub fn due(&self) -> Vec<Value> {
        self.rows(&["due", "--format", "json", "--on", ON])
    }

    pub fn due_keys(&self) -> Vec<String> {
        keys_of(&self.due())
    }

    /// The row of one guide, as the command prints it.
    pub fn due_json(&self, guide: &str) -> String {
        let rows: Vec<Value> = self.due().into_iter().filter(|row| row["guide"] == guide).collect();
        assert_eq!(rows.len(), 1, "one row of `{guide}`");
        serde_json::to_string_pretty(&rows).expect("JSON")
    }

    pub fn provision_list(&self) -> String {
        self.run(&["provision", "--occasion", "lay-up", "--on", ON])
    }

    pub fn provision(&self) -> Vec<Value> {
        self.rows(&["provision", "--occasion", "lay-up", "--format", "json", "--on", ON])
    }

    pub fn provision_keys(&self) -> Vec<String> {
        keys_of(&self.provision())
    }

    /// The row of one item, as the command prints it.
    pub fn provision_json(&self, item: &str) -> String {
        let rows: Vec<Value> = self.provision().into_iter().filter(|row| row["item"] == item).collect();
        assert_eq!(rows.len(), 1, "one row of `{item}`");
        serde_json::to_string_pretty(&rows).expect("JSON")
    }

    pub fn provision_csv(&self) -> String {
        self.run(&["provision", "--occasion", "lay-up", "--format", "csv", "--on", ON]).replace("\r\n", "\n")
    }

    pub fn plan_text(&self, guide: &str) -> String {
        self.run(&["plan", guide, "--on", ON])
    }

    pub fn plan(&self, guide: &str) -> Value {
        let text = self.run(&["plan", guide, "--format", "json", "--on", ON]);
        serde_json::from_str(&text).unwrap_or_else(|error| panic!("{error}: {text}"))
    }

    pub fn plan_json(&self, guide: &str) -> String {
        serde_json::to_string_pretty(&self.plan(guide)).expect("JSON")
    }

    pub fn plan_keys(&self) -> Vec<String> {
        keys_of(&[self.plan("oil-and-filter")])
    }

    pub fn plan_task_keys(&self) -> Vec<String> {
        keys_of(self.plan("oil-and-filter")["tasks"].as_array().expect("tasks"))
    }

    /// Problems of the same book with a key mistyped in `tools.yaml`.
    pub fn survey(&self) -> Vec<Value> {
        let file = self.path().join("tools.yaml");
        let text = fs::read_to_string(&file).expect("the example has tools");
        let mistyped = text.replacen("stowed:", "stowd:", 1);
        assert_ne!(text, mistyped);
        fs::write(&file, mistyped).expect("the file can be changed");
        let rows = self.rows(&["survey", "--format", "json", "--on", ON]);
        fs::write(&file, text).expect("the file can be put right");
        rows
    }

    pub fn survey_keys(&self) -> Vec<String> {
        keys_of(&self.survey())
    }

    pub fn survey_json(&self) -> String {
        serde_json::to_string_pretty(&self.survey()).expect("JSON")
    }
}

fn keys_of(rows: &[Value]) -> Vec<String> {
    let row = rows.first().and_then(Value::as_object).expect("a row");
    row.keys().cloned().collect()
}
