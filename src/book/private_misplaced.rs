//! Marks of private passages where they hide nothing: everywhere but in the notes of an entry.
//!
//! A public edition takes out keys and passages of notes, so what is marked in a guide, in front matter or in a list
//! would be published, marks and all.

use super::diagnostic::Notes;
use super::private::marks;
use super::private_like::{holds_bracket, lookalikes};
use super::source::Span;
use std::ops::Range;

const RULE: &str = "private-passage";

/// Notes every mark, and what looks like one, in the text of a guide.
pub(super) fn in_guide(notes: &mut Notes<'_>, body: Span) {
    for place in places(notes.source().slice(body)) {
        notes.error(
            RULE,
            within(body, &place),
            "this hides nothing: private passages belong to entries of the log",
            "move what is private into an entry, or take the mark out",
        );
    }
}

/// Notes every mark, and what looks like one, in a value or a key of YAML, or in a table.
pub(super) fn in_value(notes: &mut Notes<'_>, span: Span, text: &str) {
    if places(text).is_empty() {
        return;
    }
    // What an escape in quotes spells stands nowhere in the file as it is.
    let written = places(notes.source().slice(span));
    let spans: Vec<Span> = if written.is_empty() { vec![span] } else { written.iter().map(|place| within(span, place)).collect() };
    let (message, remedy) = match notes.source().path() {
        path if path.starts_with("log/") => (
            "this hides nothing: only in the notes below the front matter does it hide a passage",
            "move what is private into the notes, or into a private key such as `by`, `place` or `cost`; `private: true` hides the whole entry",
        ),
        path if path.starts_with("guides/") => (
            "this hides nothing: private passages belong to entries of the log",
            "move what is private into an entry, or take the mark out",
        ),
        "passages.yaml" => {
            ("this hides nothing: private passages belong to the notes of an entry", "take the mark out: this file is private as a whole")
        }
        "meters.csv" => (
            "this hides nothing: private passages belong to the notes of an entry",
            "take the mark out, and move what is private into an entry",
        ),
        _ => (
            "this hides nothing: private passages belong to the notes of an entry",
            "move what is private into an entry, or into a private key; an optional key is made private by `private-fields` in `boat.yaml`",
        ),
    };
    for span in spans {
        notes.error(RULE, span, message, remedy);
    }
}

fn places(text: &str) -> Vec<Range<usize>> {
    if !holds_bracket(text) {
        return Vec::new();
    }
    let mut places = marks(text);
    places.extend(lookalikes(text));
    places.sort_by_key(|place| place.start);
    places
}

fn within(span: Span, place: &Range<usize>) -> Span {
    Span::new(span.start as usize + place.start, span.start as usize + place.end)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::node;
    use crate::book::source::Source;

    #[track_caller]
    fn case(path: &str, text: &str, expected: &[&str]) {
        let source = Source::new(path, text);
        let mut notes = Notes::new(&source);
        let _ = node::read(&mut notes, Span::new(0, text.len()));
        let found: Vec<String> = notes
            .found
            .iter()
            .filter(|problem| problem.rule == RULE)
            .map(|problem| {
                format!("{}:{} {}", problem.place.line, problem.place.column, &problem.place.excerpt[problem.place.mark.clone()])
            })
            .collect();
        assert_eq!(found, expected, "{text}");
    }

    #[test]
    fn a_mark_in_a_value_is_told_wherever_it_stands() {
        case(
            "log/2026/a.md",
            "work: [\"the lock <!-- private -->4711<!-- /private -->\"]\n",
            &["1:18 <!-- private -->", "1:38 <!-- /private -->"],
        );
        case("stores.yaml", "- {id: oil, stowed: <!-- pirvate --> aft}\n", &["1:21 <!-- pirvate -->"]);
        case("boat.yaml", "name: >\n  Tern\n  <!-- private -->\n", &["3:3 <!-- private -->"]);
        case("guides/a/a.md", "values: {<!-- private --> a: 1 L}\n", &["1:10 <!-- private -->"]);
        case("log/2026/a.md", "left: [\"<!-- pri\\x76ate -->\"]\n", &["1:8 \"<!-- pri\\x76ate -->\""]);
    }

    #[test]
    fn a_comment_of_yaml_may_speak_of_marks() {
        case("boat.yaml", "# <!-- private --> works in notes\nname: the private berth\n", &[]);
    }
}
