//! The words of the pages, from one file a language: `words/en.yaml` of the theme.
//!
//! An entry is a text, or a map of plural forms. Placeholders stand in braces. A key that is not
//! there is an error, never an empty place on a page.

use super::interner::Interner;
use super::message::Message;
use jiff::civil::Date;
use serde::Deserialize;
use std::borrow::Cow;
use std::collections::BTreeMap;
use std::fmt;

/// The words of one language.
#[derive(Debug, Clone)]
pub struct Words {
    language: String,
    /// `guide.last-done` and the like.
    keys: Interner,
    /// By the numbers of their keys.
    entries: Vec<Entry>,
}

#[derive(Debug, Clone)]
enum Entry {
    Text(Message),
    Plural { one: Message, other: Message },
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
        let mut words = Self { language: language.to_owned(), keys: Interner::default(), entries: Vec::new() };
        for (key, value) in raw {
            words.take(key, value);
        }
        Ok(words)
    }

    /// Takes in what stands under a key of a words file.
    fn take(&mut self, key: String, value: Raw) {
        match value {
            Raw::Text(text) => self.put(&key, Entry::Text(Message::new(text))),
            Raw::List(list) => self.put(&key, Entry::List(list)),
            Raw::Map(mut map) => {
                if map.len() == 2 && matches!((map.get("one"), map.get("other")), (Some(Raw::Text(_)), Some(Raw::Text(_)))) {
                    if let (Some(Raw::Text(one)), Some(Raw::Text(other))) = (map.remove("one"), map.remove("other")) {
                        self.put(&key, Entry::Plural { one: Message::new(one), other: Message::new(other) });
                    }
                    return;
                }
                for (name, inner) in map {
                    self.take(format!("{key}.{name}"), inner);
                }
            }
        }
    }

    /// Of two entries with one key (`a.b: x`, `a: {b: x}`) the later holds.
    fn put(&mut self, key: &str, entry: Entry) {
        match self.entries.get_mut(self.keys.number(key)) {
            Some(known) => *known = entry,
            None => self.entries.push(entry),
        }
    }

    fn get(&self, key: &str) -> Option<&Entry> {
        self.entries.get(self.keys.get(key)?)
    }

    /// Takes from `other` what is missing here.
    pub fn fill_from(&mut self, other: &Self) {
        for (key, entry) in other.keys.texts().zip(&other.entries) {
            if !self.has(key) {
                self.put(key, entry.clone());
            }
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

    /// Keys that begin so, sorted and without that beginning, with their texts.
    pub fn beginning<'w>(&'w self, beginning: &'w str) -> impl Iterator<Item = (&'w str, serde_json::Value)> {
        let found = self.keys.texts().zip(&self.entries).filter_map(|(key, entry)| Some((key.strip_prefix(beginning)?, entry)));
        let sorted: BTreeMap<&str, &Entry> = found.collect();
        sorted.into_iter().map(|(rest, entry)| {
            let value = match entry {
                Entry::Text(text) => serde_json::Value::from(text.as_str()),
                Entry::Plural { one, other } => serde_json::json!({"one": one.as_str(), "other": other.as_str()}),
                Entry::List(list) => serde_json::Value::from(list.clone()),
            };
            (rest, value)
        })
    }

    /// Whether there is such an entry.
    #[must_use]
    pub fn has(&self, key: &str) -> bool {
        self.keys.get(key).is_some()
    }

    /// The text of a key as it is written, with its placeholders; `None` where there is none or several.
    #[must_use]
    pub fn plain(&self, key: &str) -> Option<&str> {
        match self.get(key)? {
            Entry::Text(text) => Some(text.as_str()),
            Entry::Plural { .. } | Entry::List(_) => None,
        }
    }

    /// The text of a key with its placeholders filled. `n` chooses the plural form.
    ///
    /// # Errors
    /// There is no such key.
    pub fn try_say(&self, key: &str, fill: &[(&str, &str)]) -> Result<String, WordsError> {
        let message = match self.get(key) {
            Some(Entry::Text(text)) => text,
            Some(Entry::Plural { one, other }) => {
                let n = fill.iter().find(|(name, _)| *name == "n").map_or("", |(_, value)| value);
                // English, German and their kin: one of a thing, any other number of things.
                if n == "1" { one } else { other }
            }
            Some(Entry::List(_)) => return Err(WordsError(format!("`{key}` is a list of words"))),
            None => return Err(WordsError(format!("the words `{key}` are missing from words/{}.yaml", self.language))),
        };
        Ok(message.filled(fill))
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
        self.listed_month("months-short", date).into_owned()
    }

    fn month_name(&self, date: Date) -> Cow<'_, str> {
        self.listed_month("months", date)
    }

    fn listed_month(&self, list: &str, date: Date) -> Cow<'_, str> {
        let at = usize::try_from(date.month()).unwrap_or(1).saturating_sub(1);
        match self.get(list) {
            Some(Entry::List(months)) => Cow::Borrowed(months.get(at).map_or("", String::as_str)),
            _ => Cow::Owned(format!("{:02}", date.month())),
        }
    }
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
    fn sections_are_sorted_and_hold_what_is_written() {
        let mut words = Words::parse("de", "a: {n: {one: '{n} Eintrag', other: '{n} Einträge'}, z: 'zu {x}'}").expect("reads");
        words.fill_from(&Words::parse("en", TEXT).expect("reads"));
        let section: Vec<_> = words.section("a").map(|(key, value)| (key, value.to_string())).collect();
        assert_eq!(
            section,
            [
                ("b", r#""plain""#.to_owned()),
                ("n", r#"{"one":"{n} Eintrag","other":"{n} Einträge"}"#.to_owned()),
                ("z", r#""zu {x}""#.to_owned())
            ]
        );
        assert_eq!((words.count("a.n", 2), words.text("a.b"), words.has("a")), ("2 Einträge".to_owned(), "plain".to_owned(), false));
    }

    #[test]
    fn a_missing_key_is_an_error_and_is_seen() {
        let words = Words::parse("en", TEXT).expect("reads");
        assert!(words.try_say("a.c", &[]).is_err());
        assert_eq!(words.text("a.c"), "[a.c]");
    }
}
