//! Small books for the tests of rules, read as the program reads them.

use super::survey;
use crate::book::diagnostic::Diagnostic;
use crate::book::load::load;
use crate::book::model::Book;
use crate::reckon::reckon;
use std::collections::BTreeSet;

const BOAT: &str = "name: Test boat\nin-service: 2015-01-01\nlanguage: LANGUAGE\nsystems: [{id: engine, title: Engine}]\n\
    meters: [{id: engine, title: Engine hours, unit: h}]\n\
    gear:\n  - {id: port, title: Port engine, system: engine, meter: engine}\n\
    \x20 - {id: starboard, title: Starboard engine, system: engine}\n";

/// A book of these files beside a plain `boat.yaml` in English.
pub(super) fn book(files: &[(&str, &str)]) -> Book {
    book_in("en", files)
}

/// A book in another language.
pub(super) fn book_in(language: &str, files: &[(&str, &str)]) -> Book {
    let folder = tempfile::tempdir().expect("a folder");
    let boat = BOAT.replace("LANGUAGE", language);
    for (path, text) in [("boat.yaml", boat.as_str())].iter().chain(files) {
        let path = folder.path().join(path);
        std::fs::create_dir_all(path.parent().expect("a folder")).expect("folders");
        std::fs::write(path, text).expect("a file");
    }
    load(folder.path()).expect("a book").book
}

/// A book with one guide, `engine/job.md`: its front matter (below the title) and its body.
pub(super) fn guide(front: &str, body: &str) -> Book {
    book(&[("guides/engine/job.md", &guide_text(front, body))])
}

/// The text of a guide: its front matter (below the title) and its body.
pub(super) fn guide_text(front: &str, body: &str) -> String {
    format!("---\ntitle: A job\n{front}\n---\n{body}")
}

/// What a rule says of a book at the end of 2030.
pub(super) fn found(rule: &str, book: &Book) -> Vec<Diagnostic> {
    let (reckoning, _) = reckon(book, jiff::civil::date(2030, 12, 31));
    survey(book, &reckoning, &BTreeSet::new()).into_iter().filter(|problem| problem.rule == rule).collect()
}

/// `line:column words` of each thing found, where `words` is what the place marks.
pub(super) fn places(found: &[Diagnostic]) -> Vec<String> {
    let mut places: Vec<String> = found
        .iter()
        .map(|one| {
            let place = &one.place;
            format!("{}:{} {}", place.line, place.column, place.excerpt.get(place.mark.clone()).unwrap_or_default())
        })
        .collect();
    places.sort();
    places
}
