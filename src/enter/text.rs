//! From keys and values to the text of an entry: front matter and notes.
//!
//! Every text that YAML could take for something else is quoted, and what no text of a book may
//! hold (control characters) becomes a blank.

use crate::book::quoted::quoted;

/// What stands behind a key.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Value {
    /// Words: quoted unless they are plain.
    Words(String),
    /// A number, a date or an amount: stands as it is where it looks like one.
    Figure(String),
    /// The flag of that name is set.
    True,
    List(Vec<Value>),
    Map(Vec<(String, Value)>),
}

impl Value {
    #[must_use]
    pub fn words(text: impl Into<String>) -> Self {
        Self::Words(text.into())
    }

    #[must_use]
    pub fn figure(text: impl Into<String>) -> Self {
        Self::Figure(text.into())
    }

    /// A list of words.
    #[must_use]
    pub fn all_words(texts: &[String]) -> Self {
        Self::List(texts.iter().map(Self::words).collect())
    }

    /// Nothing would be said.
    fn is_empty(&self) -> bool {
        match self {
            Self::Words(text) | Self::Figure(text) => line(text).is_empty(),
            Self::True => false,
            Self::List(items) => items.is_empty(),
            Self::Map(pairs) => pairs.is_empty(),
        }
    }

    /// `oil-filter`, `oil/port-engine`: several stand well on one line.
    fn is_short_name(&self) -> bool {
        let short = |text: &str| text.bytes().all(|byte| byte.is_ascii_lowercase() || byte.is_ascii_digit() || b"/-".contains(&byte));
        matches!(self, Self::Words(text) if short(text))
    }
}

/// Words that some readers of YAML take for truth values or nothing, and the names of no numbers.
const TAKEN: [&str; 12] = ["y", "n", "yes", "no", "true", "false", "on", "off", "null", "nan", "inf", "none"];

/// The text of an entry: the keys in the order given, those that say nothing left out, and the notes.
///
/// ```
/// use garboard::enter::{Value, entry_text};
/// let keys = vec![("jobs", Value::all_words(&["oil".to_owned()])), ("date", Value::figure("2026-03-14"))];
/// assert_eq!(entry_text(&keys, "All well."), "---\njobs: [oil]\ndate: 2026-03-14\n---\nAll well.\n");
/// ```
#[must_use]
pub fn entry_text(keys: &[(&str, Value)], notes: &str) -> String {
    let mut text = "---\n".to_owned();
    for (key, value) in keys.iter().filter(|(_, value)| !value.is_empty()) {
        match value {
            Value::List(items) if !items.iter().all(Value::is_short_name) => {
                text.push_str(&format!("{key}:\n"));
                items.iter().for_each(|item| text.push_str(&format!("  - {}\n", flow(item))));
            }
            _ => text.push_str(&format!("{key}: {}\n", flow(value))),
        }
    }
    text.push_str("---\n");
    let lines: Vec<String> = notes.lines().map(|one| clean(one).trim_end().to_owned()).collect();
    let notes = lines.join("\n");
    let notes = notes.trim();
    if !notes.is_empty() {
        text.push_str(notes);
        text.push('\n');
    }
    text
}

/// A value on one line, as YAML.
#[must_use]
pub fn flow(value: &Value) -> String {
    match value {
        Value::Words(text) => scalar(text, is_plain_words),
        Value::Figure(text) => scalar(text, |text| is_plain_figure(text) || is_plain_words(text)),
        Value::True => "true".to_owned(),
        Value::List(items) => format!("[{}]", items.iter().map(flow).collect::<Vec<_>>().join(", ")),
        Value::Map(pairs) => {
            let pairs: Vec<String> = pairs
                .iter()
                .filter(|(_, value)| !value.is_empty())
                .map(|(key, value)| format!("{}: {}", scalar(key, is_plain_words), flow(value)))
                .collect();
            format!("{{{}}}", pairs.join(", "))
        }
    }
}

fn scalar(text: &str, plain: impl Fn(&str) -> bool) -> String {
    let text = line(text);
    if plain(&text) && !TAKEN.contains(&text.to_lowercase().as_str()) {
        return text;
    }
    quoted(&text)
}

/// Begins with a letter, and holds none of the signs that open or end something.
fn is_plain_words(text: &str) -> bool {
    let inside = |letter: char| letter.is_alphanumeric() || " ._/()+-".contains(letter);
    text.starts_with(char::is_alphabetic)
        && text.ends_with(|last: char| last.is_alphanumeric() || ".)".contains(last))
        && text.chars().all(inside)
}

/// Begins with a digit, perhaps after `~` or a minus, and ends with a digit or a unit.
fn is_plain_figure(text: &str) -> bool {
    let inside = |letter: char| letter.is_alphanumeric() || " ._/°%·-".contains(letter);
    let rest = text.strip_prefix(['~', '-']).unwrap_or(text);
    rest.starts_with(|first: char| first.is_ascii_digit())
        && rest.ends_with(|last: char| last.is_alphanumeric() || "°%".contains(last))
        && rest.chars().all(inside)
}

/// One line: the format makes all white space one blank anyhow.
fn line(text: &str) -> String {
    clean(text).split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Without control characters and the two that are no characters.
fn clean(text: &str) -> String {
    text.chars()
        .map(|letter| if letter.is_control() || matches!(letter, '\u{feff}' | '\u{fffe}' | '\u{ffff}') { ' ' } else { letter })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::load::entry_of;
    use crate::book::source::Source;
    use proptest::prelude::*;

    #[track_caller]
    fn case(value: Value, expected: &str) {
        let text = entry_text(&[("work", value)], "");
        assert_eq!(text, format!("---\n{expected}---\n"));
    }

    #[test]
    fn what_yaml_could_take_for_something_else_is_quoted() {
        case(Value::words("Rewired the bow light"), "work: Rewired the bow light\n");
        case(Value::words("Öl gewechselt"), "work: Öl gewechselt\n");
        case(Value::words("yes"), "work: \"yes\"\n");
        case(Value::words("Oil: changed"), "work: \"Oil: changed\"\n");
        case(Value::words("locker #3"), "work: \"locker #3\"\n");
        case(Value::words("say \"no\" \\ never"), "work: \"say \\\"no\\\" \\\\ never\"\n");
        case(Value::words("2026-03-14"), "work: \"2026-03-14\"\n");
        case(Value::figure("2026-03-14"), "work: 2026-03-14\n");
        case(Value::figure("~1200"), "work: ~1200\n");
        case(Value::figure("3.8 bar"), "work: 3.8 bar\n");
        case(Value::figure("-4 °C"), "work: -4 °C\n");
        case(Value::words("a\u{7}b\n c"), "work: a b c\n");
        case(Value::words("  "), "");
        case(Value::List(vec![]), "");
        case(Value::all_words(&["oil".to_owned(), "hull/port-engine".to_owned()]), "work: [oil, hull/port-engine]\n");
        case(Value::all_words(&["Two words".to_owned(), "x".to_owned()]), "work:\n  - Two words\n  - x\n");
        let map = Value::Map(vec![("cylinder 1".to_owned(), Value::figure("27 bar")), ("empty".to_owned(), Value::words(""))]);
        case(map, "work: {cylinder 1: 27 bar}\n");
    }

    proptest! {
        /// Whatever is typed comes back as it was said, white space aside.
        #[test]
        fn any_words_are_read_back(words in "\\PC{1,40}", note in "\\PC{0,40}") {
            let said = line(&words);
            prop_assume!(!said.is_empty());
            let keys = [("work", Value::all_words(&[words])), ("date", Value::figure("2026-03-14"))];
            let (entry, _) = entry_of(&Source::new("log/2026/x.md", entry_text(&keys, &note)));
            prop_assert_eq!(entry.map(|entry| entry.work.clone()), Some(vec![said]));
        }
    }
}
