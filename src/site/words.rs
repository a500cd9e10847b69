//! The words of the pages, from one file a language: `words/en.yaml` of the theme.
//!
//! An entry is a text, or a map of plural forms. Placeholders stand in braces. A key that is not
//! there is an error, never an empty place on a page.

use jiff::civil::Date;
use serde::Deserialize;
use std::collections::BTreeMap;
use std::fmt;

/// The words of one language.
#[derive(Debug, Clone)]
pub struct Words {
    language: String,
    /// `guide.last-done` to its text or its plural forms.
    entries: BTreeMap<String, Entry>,
}

#[derive(Debug, Clone)]
enum Entry {
    Text(String),
    Plural { one: String, other: String },
    List(Vec<String>),
}

#[derive(Debug, Deserialize)]
#[serde(untagged)]
enum Raw {
    Text(String),
    List(Vec<String>),
    Map(BTreeMap<String, Raw>),
}

/// Why words cannot be used.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WordsError(pub String);

impl fmt::Display for WordsError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl Words {
    /// Reads a words file.
    ///
    /// # Errors
    /// The text is no YAML of texts, plural forms and sections.
    pub fn parse(language: &str, text: &str) -> Result<Self, WordsError> {
        let raw: BTreeMap<String, Raw> = serde_yaml::from_str_with_options(text, serde_yaml::options! { strict_booleans: true })
            .map_err(|error| WordsError(format!("words/{language}.yaml: {error}")))?;
        let mut entries = BTreeMap::new();
        for (key, value) in raw {
            flatten(key, value, &mut entries);
        }
        Ok(Self { language: language.to_owned(), entries })
    }

    /// Takes from `other` what is missing here.
    pub fn fill_from(&mut self, other: &Self) {
        for (key, entry) in &other.entries {
            self.entries.entry(key.clone()).or_insert_with(|| entry.clone());
        }
    }

    /// Language tag of these words.
    #[must_use]
    pub fn language(&self) -> &str {
        &self.language
    }

    /// Keys under a section, with their texts: `script` gives what the script says.
    pub fn section<'w>(&'w self, section: &'w str) -> impl Iterator<Item = (&'w str, serde_json::Value)> {
        self.beginning(section).filter_map(|(rest, value)| Some((rest.strip_prefix('.')?, value)))
    }

    /// Keys that begin so, without that beginning, with their texts.
    pub fn beginning<'w>(&'w self, beginning: &'w str) -> impl Iterator<Item = (&'w str, serde_json::Value)> {
        self.entries.iter().filter_map(move |(key, entry)| {
            let rest = key.strip_prefix(beginning)?;
            let value = match entry {
                Entry::Text(text) => serde_json::Value::from(text.as_str()),
                Entry::Plural { one, other } => serde_json::json!({"one": one, "other": other}),
                Entry::List(list) => serde_json::Value::from(list.clone()),
            };
            Some((rest, value))
        })
    }

    /// Whether there is such an entry.
    #[must_use]
    pub fn has(&self, key: &str) -> bool {
        self.entries.contains_key(key)
    }

    /// The text of a key as it is written, with its placeholders; `None` where there is none or several.
    #[must_use]
    pub fn plain(&self, key: &str) -> Option<&str> {
        match self.entries.get(key)? {
            Entry::Text(text) => Some(text),
            Entry::Plural { .. } | Entry::List(_) => None,
        }
    }

    /// The text of a key with its placeholders filled. `n` chooses the plural form.
    ///
    /// # Errors
    /// There is no such key.
    pub fn try_say(&self, key: &str, fill: &[(&str, &str)]) -> Result<String, WordsError> {
        let template = match self.entries.get(key) {
            Some(Entry::Text(text)) => text,
            Some(Entry::Plural { one, other }) => {
                let n = fill.iter().find(|(name, _)| *name == "n").map_or("", |(_, value)| value);
                // English, German and their kin: one of a thing, any other number of things.
                if n == "1" { one } else { other }
            }
            Some(Entry::List(_)) => return Err(WordsError(format!("`{key}` is a list of words"))),
            None => return Err(WordsError(format!("the words `{key}` are missing from words/{}.yaml", self.language))),
        };
        Ok(fill_in(template, fill))
    }

    /// As [`Self::try_say`]; a missing key shows as itself, so that it is seen.
    #[must_use]
    pub fn say(&self, key: &str, fill: &[(&str, &str)]) -> String {
        self.try_say(key, fill).unwrap_or_else(|_| format!("[{key}]"))
    }

    /// A plain text.
    #[must_use]
    pub fn text(&self, key: &str) -> String {
        self.say(key, &[])
    }

    /// A text with a number in it.
    #[must_use]
    pub fn count(&self, key: &str, n: i64) -> String {
        self.say(key, &[("n", &n.to_string())])
    }

    /// `14 March 2026`.
    #[must_use]
    pub fn day(&self, date: Date) -> String {
        self.say("date.day", &[("d", &date.day().to_string()), ("month", &self.month_name(date)), ("y", &date.year().to_string())])
    }

    /// `March 2026`.
    #[must_use]
    pub fn month(&self, date: Date) -> String {
        self.say("date.month", &[("month", &self.month_name(date)), ("y", &date.year().to_string())])
    }

    /// `Mar`, as the axis of a plot writes it.
    #[must_use]
    pub fn short_month(&self, date: Date) -> String {
        self.listed_month("months-short", date)
    }

    fn month_name(&self, date: Date) -> String {
        self.listed_month("months", date)
    }

    fn listed_month(&self, list: &str, date: Date) -> String {
        let at = usize::try_from(date.month()).unwrap_or(1).saturating_sub(1);
        match self.entries.get(list) {
            Some(Entry::List(months)) => months.get(at).cloned().unwrap_or_default(),
            _ => format!("{:02}", date.month()),
        }
    }
}

fn flatten(key: String, value: Raw, into: &mut BTreeMap<String, Entry>) {
    match value {
        Raw::Text(text) => {
            into.insert(key, Entry::Text(text));
        }
        Raw::List(list) => {
            into.insert(key, Entry::List(list));
        }
        Raw::Map(mut map) => {
            if map.len() == 2 && matches!((map.get("one"), map.get("other")), (Some(Raw::Text(_)), Some(Raw::Text(_)))) {
                if let (Some(Raw::Text(one)), Some(Raw::Text(other))) = (map.remove("one"), map.remove("other")) {
                    into.insert(key, Entry::Plural { one, other });
                }
                return;
            }
            for (name, inner) in map {
                flatten(format!("{key}.{name}"), inner, into);
            }
        }
    }
}

fn fill_in(template: &str, fill: &[(&str, &str)]) -> String {
    let mut out = String::with_capacity(template.len() + 16);
    let mut rest = template;
    while let Some((before, after)) = rest.split_once('{') {
        out.push_str(before);
        let Some((name, tail)) = after.split_once('}') else {
            out.push('{');
            rest = after;
            continue;
        };
        match fill.iter().find(|(known, _)| *known == name) {
            Some((_, value)) => out.push_str(value),
            None => {
                out.push('{');
                out.push_str(name);
                out.push('}');
            }
        }
        rest = tail;
    }
    out.push_str(rest);
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEXT: &str = "a: {b: plain, n: {one: '{n} entry', other: '{n} entries'}}\nmonths: [January, February, March, April, May, June, July, August, September, October, November, December]\ndate: {day: '{d} {month} {y}', month: '{month} {y}'}\n";

    #[test]
    fn texts_are_filled_and_plurals_chosen() {
        let words = Words::parse("en", TEXT).expect("reads");
        assert_eq!(words.text("a.b"), "plain");
        assert_eq!(words.count("a.n", 1), "1 entry");
        assert_eq!(words.count("a.n", 0), "0 entries");
        assert_eq!(words.count("a.n", -1), "-1 entries");
        assert_eq!(words.day(jiff::civil::date(2026, 3, 14)), "14 March 2026");
        assert_eq!(words.month(jiff::civil::date(2026, 12, 1)), "December 2026");
    }

    #[test]
    fn a_missing_key_is_an_error_and_is_seen() {
        let words = Words::parse("en", TEXT).expect("reads");
        assert!(words.try_say("a.c", &[]).is_err());
        assert_eq!(words.text("a.c"), "[a.c]");
    }

    #[test]
    fn what_is_filled_in_is_not_filled_again() {
        assert_eq!(fill_in("{x} {y}", &[("x", "{y}"), ("y", "2")]), "{y} 2");
        assert_eq!(fill_in("a { b", &[]), "a { b");
        assert_eq!(fill_in("{unknown}", &[]), "{unknown}");
    }
}
