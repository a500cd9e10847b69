//! Entries: what is put into the log is read back as it was said, whatever was said.

use garboard::book::load::entry_of;
use garboard::book::source::Source;
use garboard::enter::{Value, entry_text, record_of, same_content};

pub fn check(bytes: &[u8]) {
    let Some(text) = super::text(bytes) else { return };
    let _ = record_of(text);
    assert!(same_content(text, text));
    let said: Vec<String> = text.lines().map(str::to_owned).filter(|line| !one_line(line).is_empty()).collect();
    let first = said.first().cloned().unwrap_or_default();
    let map = |key: &str| Value::Map(vec![(key.to_owned(), Value::words(first.as_str())), ("grade".to_owned(), Value::words("watch"))]);
    let keys = [
        ("work", Value::all_words(&said)),
        ("date", Value::figure("2026-03-14")),
        ("findings", Value::List(said.iter().take(1).map(|_| map("what")).collect())),
        ("except", Value::all_words(&said)),
        ("place", Value::words(first.as_str())),
    ];
    let written = entry_text(&keys, text);
    let source = Source::new("log/2026/2026-03-14-note.md", written.as_str());
    let (entry, problems) = entry_of(&source);
    super::assert_told(&problems, &written);
    let entry = entry.unwrap_or_else(|| panic!("{problems:?} in {written}"));
    let expected: Vec<String> = said.iter().map(|line| one_line(line)).collect();
    assert_eq!(entry.work, expected, "{written}");
    assert_eq!(entry.except, expected, "{written}");
    assert_eq!(entry.kept().place.clone().unwrap_or_default(), one_line(&first), "{written}");
    assert_eq!(entry.findings.iter().map(|finding| finding.what.as_str()).collect::<Vec<_>>(), expected.iter().take(1).collect::<Vec<_>>());
    // Of the notes no word is lost.
    let notes = written.get(entry.body.range()).expect("the notes");
    assert!(notes.split_whitespace().eq(one_line(text).split_whitespace()), "{notes:?} of {text:?}");
}

/// As YAML can hold it (YAML 1.2.2, 5.1): no control characters; white space is one blank.
fn one_line(text: &str) -> String {
    let clean: String =
        text.chars().map(|letter| if letter.is_control() || "\u{feff}\u{fffe}\u{ffff}".contains(letter) { ' ' } else { letter }).collect();
    clean.split_whitespace().collect::<Vec<_>>().join(" ")
}
