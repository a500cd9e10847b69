//! Decoding a text in a test: what comes out, and what is said about it.

use super::{boat, cautions, entry, guide, meters_csv, passages, stores, tools};
use crate::book::diagnostic::{Diagnostic, Notes, tidy};
use crate::book::model::{Boat, Entry, Guide, MeterRow, Passage, StoreItem, Tool};
use crate::book::node::{self, Node};
use crate::book::source::{Source, Span};

/// Something decoded, with its problems in order.
pub struct Read<T> {
    pub value: Option<T>,
    pub problems: Vec<Diagnostic>,
}

impl<T> Read<T> {
    /// What was decoded, where nothing was wrong with it.
    #[track_caller]
    pub fn clean(self) -> T {
        assert_eq!(shown(&self.problems), Vec::<String>::new());
        self.value.expect("decoded")
    }

    /// `line:column rule` of every problem.
    pub fn rules(&self) -> Vec<String> {
        self.problems.iter().map(|d| format!("{}:{} {}", d.place.line, d.place.column, d.rule)).collect()
    }

    /// Checks places and rules of all problems, and that every one can be mended.
    #[track_caller]
    pub fn expect(&self, expected: &[&str]) {
        assert_eq!(self.rules(), expected, "{:#?}", shown(&self.problems));
        for problem in &self.problems {
            assert!(!problem.remedy.is_empty() && !problem.message.ends_with('.'), "{problem:?}");
            assert!(
                !problem.message.starts_with(char::is_uppercase)
                    || problem.message.starts_with("YAML")
                    || problem.message.starts_with("Windows"),
                "{problem:?}"
            );
        }
    }

    /// Checks the one problem there is, and words of its message and remedy.
    #[track_caller]
    pub fn expect_one(&self, expected: &str, message: &str, remedy: &str) {
        self.expect(&[expected]);
        let problem = &self.problems[0];
        assert!(problem.message.contains(message), "message: {}", problem.message);
        assert!(problem.remedy.contains(remedy), "remedy: {}", problem.remedy);
    }
}

fn shown(problems: &[Diagnostic]) -> Vec<String> {
    problems.iter().map(|d| format!("{}:{} {}: {} | {}", d.place.line, d.place.column, d.rule, d.message, d.remedy)).collect()
}

fn yaml<T>(path: &str, text: &str, decode: impl FnOnce(&mut Notes<'_>, &Node<'_>) -> Option<T>) -> Read<T> {
    let source = Source::new(path, text);
    let mut notes = Notes::new(&source);
    let node = node::read(&mut notes, Span::new(0, text.len()));
    let value = node.and_then(|node| decode(&mut notes, &node));
    finished(value, notes)
}

fn finished<T>(value: Option<T>, notes: Notes<'_>) -> Read<T> {
    let mut problems = notes.found;
    tidy(&mut problems);
    Read { value, problems }
}

/// `boat.yaml`: the name stands on line 1, `rest` begins on line 2.
pub fn boat_of(rest: &str) -> Read<Boat> {
    yaml("boat.yaml", &format!("name: Skerrywake\n{rest}"), boat::decode)
}

pub fn whole_boat(text: &str) -> Read<Boat> {
    yaml("boat.yaml", text, boat::decode)
}

pub fn stores_of(text: &str) -> Read<Vec<StoreItem>> {
    yaml("stores.yaml", text, stores::decode)
}

pub fn tools_of(text: &str) -> Read<Vec<Tool>> {
    yaml("tools.yaml", text, tools::decode)
}

pub fn passages_of(text: &str) -> Read<Vec<Passage>> {
    yaml("passages.yaml", text, |notes, node| passages::decode(notes, node).map(|passages| passages.whole))
}

pub fn cautions_of(text: &str) -> Read<Vec<cautions::OwnHazard>> {
    yaml("cautions.yaml", text, cautions::decode)
}

/// `meters.csv`: the whole text.
pub fn meters_of(text: &str) -> Read<Vec<MeterRow>> {
    let source = Source::new("meters.csv", text);
    let mut notes = Notes::new(&source);
    let value = meters_csv::decode(&mut notes);
    finished(value, notes)
}

/// A guide: the title stands on line 2, `front` begins on line 3.
pub fn guide_of(front: &str) -> Read<Guide> {
    whole_guide(&format!("---\ntitle: Change the oil\n{front}\n---\n\n## Do\n\n1. Do it.\n"))
}

pub fn whole_guide(text: &str) -> Read<Guide> {
    let source = Source::new("guides/engine/oil-and-filter.md", text);
    let mut notes = Notes::new(&source);
    let value = guide::read(&mut notes);
    finished(value, notes)
}

/// An entry: the date stands on line 2, `front` begins on line 3.
pub fn entry_of(front: &str) -> Read<Entry> {
    whole_entry(&format!("---\ndate: 2026-03-14\n{front}\n---\n\nAll well.\n"))
}

pub fn whole_entry(text: &str) -> Read<Entry> {
    let source = Source::new("log/2026/2026-03-14-oil-and-filter.md", text);
    let mut notes = Notes::new(&source);
    let value = entry::read(&mut notes);
    finished(value, notes)
}
