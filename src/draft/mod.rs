//! Drafting a guide: the text of a new file of `guides/`, and where it belongs.
//!
//! A draft can be read without an error or a warning, says on its sheet that nobody should work by it yet,
//! and carries the cautions that its words suggest. Nothing here touches the disk.

mod copy;
mod skeleton;
mod suggest;

use crate::begin::with_schema;
use crate::book::id::{check_id, id_of};
use crate::book::load::Loaded;
use crate::book::model::Book;
use crate::book::source::Source;
use jiff::civil::Date;

/// Longest that the words of a title make the id, in bytes.
const LONGEST: usize = 60;

/// What is to be drafted.
#[derive(Debug, Clone, Copy)]
pub struct Wish<'w> {
    pub title: &'w str,
    /// Id of a system of the boat.
    pub system: &'w str,
    /// Id of a guide to begin from.
    pub from: Option<&'w str>,
    pub on: Date,
    /// The schema of guides stands beside the book, under this file name.
    pub schema: Option<&'w str>,
}

/// A guide that may be written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Draft {
    /// `oil-and-filter`.
    pub id: String,
    pub text: String,
}

impl Draft {
    /// Path inside the book.
    #[must_use]
    pub fn path(&self, system: &str) -> String {
        format!("guides/{system}/{}.md", self.id)
    }
}

/// Why there is no draft, said to the crew.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NoDraft {
    pub message: String,
    pub remedy: String,
}

/// The id that a title makes, as many whole words of it as fit.
///
/// # Errors
/// The title makes none, or one that no file can have.
pub fn id_for(title: &str) -> Result<String, NoDraft> {
    let id = id_of(title);
    let id = crate::enter::shortened(&id, LONGEST).to_owned();
    check_id(&id).map_err(|error| NoDraft {
        message: format!("the title makes no name for a file: {error}"),
        remedy: format!("{}; the title itself can be changed in the file afterwards", error.remedy),
    })?;
    Ok(id)
}

/// Drafts a guide for a book. `wish.system` is one of its systems, and `wish.from` one of its guides.
///
/// # Errors
/// The title makes no id, a guide has it already, or the guide to begin from cannot be taken over.
pub fn draft(loaded: &Loaded, wish: Wish<'_>) -> Result<Draft, NoDraft> {
    let book = &loaded.book;
    let title = one_line(wish.title);
    let id = id_for(&title)?;
    if let Some(path) = taken(loaded, &id) {
        return Err(NoDraft {
            message: format!("there is a guide `{id}` already: `{path}`"),
            remedy: "give the new one another title; no guide is ever replaced".to_owned(),
        });
    }
    let system_title = book.boat.systems.iter().find(|system| system.id.value == wish.system).map_or("", |system| &system.title);
    let hazards = suggest::suggested(&book.hazards, &title, wish.system, system_title);
    let words = skeleton::words(&book.boat.language);
    let text = match wish.from.and_then(|from| book.guides.iter().find(|guide| guide.id == from)) {
        Some(guide) => copy::copy(guide, &title, wish, &hazards, &words)?,
        None => skeleton::skeleton(&title, wish.on, &book.hazards, &hazards, &words),
    };
    let draft = Draft { id, text };
    let path = draft.path(wish.system);
    let text = match wish.schema {
        Some(file) if !draft.text.contains("yaml-language-server") => with_schema(&path, &draft.text, file),
        _ => draft.text,
    };
    can_be_read(&path, &text, wish.from)?;
    Ok(Draft { text, ..draft })
}

/// A guide of another kind of front matter could not be taken over as text: better none than a broken one.
fn can_be_read(path: &str, text: &str, from: Option<&str>) -> Result<(), NoDraft> {
    let (guide, problems) = crate::book::load::guide_of(&Source::new(path, text));
    if guide.is_some() && !crate::book::diagnostic::any_error(&problems) {
        return Ok(());
    }
    let what = from.map_or_else(|| "the draft".to_owned(), |from| format!("a draft from `{from}`"));
    let why = problems.first().map(|problem| format!(": {}", problem.message)).unwrap_or_default();
    Err(NoDraft {
        message: format!("{what} could not be read{why}"),
        remedy: "draft it without `--from`, and copy what you need by hand".to_owned(),
    })
}

/// The file that has this id already, read or not, in whatever system.
fn taken(loaded: &Loaded, id: &str) -> Option<String> {
    let stem = |path: &str| id_of(path.rsplit('/').next().and_then(|file| file.strip_suffix(".md")).unwrap_or_default());
    let book: &Book = &loaded.book;
    let files =
        book.sources.keys().map(|path| &**path).chain(loaded.broken.iter().map(String::as_str)).filter(|path| path.starts_with("guides/"));
    let former = |guide: &&crate::book::model::Guide| guide.formerly.iter().any(|name| name.value == id);
    files
        .into_iter()
        .find(|path| stem(path) == id)
        .map(str::to_owned)
        .or_else(|| book.guides.iter().find(former).map(|guide| guide.source.path().to_owned()))
}

/// A title is one line: control characters, what is no character, and white space are one space.
fn one_line(title: &str) -> String {
    let parts = |letter: char| letter.is_whitespace() || letter.is_control() || matches!(letter, '\u{feff}' | '\u{fffe}' | '\u{ffff}');
    title.split(parts).filter(|word| !word.is_empty()).collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_title_makes_an_id_or_says_why_not() {
        let case = |title: &str, expected: &str| assert_eq!(id_for(title).as_deref(), Ok(expected), "{title:?}");
        case("Check the bilge pumps", "check-the-bilge-pumps");
        case("Öl wechseln", "ol-wechseln");
        case("../../etc/passwd", "etc-passwd");
        // 11 letters a word and a hyphen: 5 × 12 − 1 = 59 letters, and six words would be 71.
        case(&"windlassing ".repeat(9), &["windlassing"; 5].join("-"));
        for title in ["", "   ", "🛟🛟", "Лодка", "con", "nul"] {
            assert!(id_for(title).is_err(), "{title:?}");
        }
    }

    #[test]
    fn a_title_is_one_line_of_yaml() {
        assert_eq!(one_line(" a\tb\r\nc\u{0}\u{1b}[2J "), "a b c [2J");
        // The mark of a file and what is no character are seen by nobody.
        assert_eq!(one_line("a\u{feff}b\u{2028}c\u{ffff}"), "a b c");
    }
}
