//! Stores, tools and hazards of another boat as lines of our files.

use super::hidden::shown;
use super::read::{cut, wrong_words};
use crate::book::decode;
use crate::book::diagnostic::{Notes, any_error};
use crate::book::id::{check_id, id_of};
use crate::book::model::{self, Hazard, Signal};
use crate::book::node;
use crate::book::source::{Source, Span};
use crate::enter::{Value, flow};
use crate::share::hold::{Caution, StoreItem, Tool};

/// Which of our files a record belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum List {
    Stores,
    Tools,
    Cautions,
}

impl List {
    /// Its file in the book.
    #[must_use]
    pub fn file(self) -> &'static str {
        match self {
            Self::Stores => "stores.yaml",
            Self::Tools => "tools.yaml",
            Self::Cautions => "cautions.yaml",
        }
    }

    /// How many records a text of this file holds; `None` where it has errors.
    pub fn count(self, text: &str) -> Option<usize> {
        let source = Source::new(self.file(), text);
        let mut notes = Notes::new(&source);
        let start = if text.starts_with('\u{feff}') { '\u{feff}'.len_utf8() } else { 0 };
        let count = match node::read(&mut notes, Span::new(start, text.len())) {
            Some(node) if node.is_null() => Some(0),
            Some(node) => match self {
                Self::Stores => decode::stores::decode(&mut notes, &node).map(|list| list.len()),
                Self::Tools => decode::tools::decode(&mut notes, &node).map(|list| list.len()),
                Self::Cautions => decode::cautions::decode(&mut notes, &node).map(|list| list.len()),
            },
            None => Some(0),
        };
        count.filter(|_| !any_error(&notes.found))
    }
}

/// A record as a line of one of our files: `{id: …, title: …}`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Record {
    pub list: List,
    pub id: String,
    pub title: String,
    pairs: Vec<(String, Value)>,
}

impl Record {
    /// The record as one line of YAML.
    #[must_use]
    pub fn line(&self) -> String {
        flow(&Value::Map(self.pairs.clone()))
    }

    /// The same under another id.
    #[must_use]
    pub fn called(&self, id: &str) -> Self {
        let mut pairs = self.pairs.clone();
        if let Some(first) = pairs.first_mut() {
            first.1 = Value::words(id);
        }
        Self { id: id.to_owned(), pairs, ..self.clone() }
    }

    fn new(list: List, id: &str, title: &str, more: Vec<(&str, Value)>) -> Result<Self, String> {
        let mut pairs = vec![("id".to_owned(), Value::words(id)), ("title".to_owned(), Value::words(title))];
        pairs.extend(more.into_iter().map(|(key, value)| (key.to_owned(), value)));
        let record = Self { list, id: id.to_owned(), title: title.to_owned(), pairs };
        let name = shown(&cut(id));
        if id_of(id) != id || check_id(id).is_err() {
            return Err(format!("`{name}` is not an id"));
        }
        if title.trim().is_empty() {
            return Err(format!("`{name}` has no title"));
        }
        if let Some(why) = record.pairs.iter().find_map(|(_, value)| wrong(value)) {
            return Err(format!("`{name}` {why}"));
        }
        match list.count(&format!("- {}\n", record.line())) {
            Some(1) => Ok(record),
            _ => Err(format!("`{name}` is not as `{}` has it", list.file())),
        }
    }

    /// # Errors
    /// Why it cannot be taken.
    pub fn of_store(item: &StoreItem) -> Result<Self, String> {
        let mut more = Vec::new();
        more.extend(item.part_number.as_ref().map(|words| ("part-number", Value::words(words))));
        let sizes = || item.sold_in.iter().map(Value::figure);
        match item.sold_in.as_slice() {
            [] => {}
            [one] => more.push(("sold-in", Value::figure(one))),
            _ => more.push(("sold-in", Value::List(sizes().collect()))),
        }
        if !item.also_fits.is_empty() {
            more.push(("also-fits", Value::all_words(&item.also_fits)));
        }
        more.extend(item.note.as_ref().map(|words| ("note", Value::words(words))));
        Self::new(List::Stores, &item.id, &item.title, more)
    }

    /// # Errors
    /// Why it cannot be taken.
    pub fn of_tool(tool: &Tool) -> Result<Self, String> {
        Self::new(List::Tools, &tool.id, &tool.title, Vec::new())
    }

    /// # Errors
    /// Why it cannot be taken.
    pub fn of_caution(caution: &Caution) -> Result<Self, String> {
        let mut more = vec![
            ("signal", Value::words(&caution.signal)),
            ("harm", Value::words(&caution.harm)),
            ("avoid", Value::all_words(&caution.avoid)),
        ];
        more.extend(caution.defer.as_ref().map(|words| ("defer", Value::words(words))));
        if !caution.words.is_empty() {
            more.push(("words", Value::all_words(&caution.words)));
        }
        Self::new(List::Cautions, &caution.id, &caution.title, more)
    }
}

fn wrong(value: &Value) -> Option<String> {
    match value {
        Value::Words(words) | Value::Figure(words) => wrong_words(words),
        Value::List(items) => items.iter().find_map(wrong),
        Value::Map(_) | Value::True => None,
    }
}

/// Whether two texts say the same but for spaces.
#[must_use]
pub fn same_words(one: &str, other: &str) -> bool {
    one.split_whitespace().eq(other.split_whitespace())
}

/// Whether a store item of this book is the same thing as one of another boat: it is called the same, and no part
/// number speaks against it.
#[must_use]
pub fn same_item(ours: &model::StoreItem, theirs: &StoreItem) -> bool {
    let numbers = [&ours.part_number, &theirs.part_number].map(|number| number.as_deref().map(str::to_lowercase));
    let [ours_number, theirs_number] = &numbers;
    same_words(&ours.title.to_lowercase(), &theirs.title.to_lowercase())
        && (ours_number == theirs_number || ours_number.is_none() || theirs_number.is_none())
}

/// Whether a hazard of this book says the same as one of another boat.
#[must_use]
pub fn same_caution(ours: &Hazard, theirs: &Caution) -> bool {
    let defer = match (&ours.defer, &theirs.defer) {
        (Some(ours), Some(theirs)) => same_words(ours, theirs),
        (ours, theirs) => ours == theirs,
    };
    same_words(&ours.title, &theirs.title)
        && Signal::from_word(&theirs.signal) == Some(ours.signal)
        && same_words(&ours.harm, &theirs.harm)
        && same_words(&ours.avoid.join(" "), &theirs.avoid.join(" "))
        && defer
}
