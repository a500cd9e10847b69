//! A new guide from nothing: keys of use with what they mean, hazards, three stages to fill in.

use super::one_line;
use super::suggest::needs_two;
use crate::book::model::Hazard;
use crate::book::quoted::quoted;
use jiff::civil::Date;
use serde::Deserialize;
use std::fmt::Write as _;

const ENGLISH: &str = include_str!("skeleton.en.yaml");
const GERMAN: &str = include_str!("skeleton.de.yaml");

/// What a draft says, in one language; comments come with their `#`.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Words {
    opening: String,
    keys: String,
    crew: String,
    hazards: String,
    no_hazards: String,
    all_hazards: String,
    more: String,
    last: String,
    prose: String,
    stages: String,
    two: String,
    /// Head of a draft from another guide; `GUIDE` is its id.
    pub copied: String,
    pub copied_hazards: String,
    pub copied_prose: String,
}

/// The words for the language of a boat (a tag such as `de` or `de-AT`); English where there are none.
#[must_use]
pub fn words(language: &str) -> Words {
    let primary = language.split(['-', '_']).next().unwrap_or_default();
    let text = if primary.eq_ignore_ascii_case("de") { GERMAN } else { ENGLISH };
    serde_yaml::from_str(text).expect("the words that ship can be read: a test reads every language")
}

/// The text of a new guide with the hazards that its words suggest.
#[must_use]
pub fn skeleton(title: &str, on: Date, all: &[Hazard], suggested: &[&Hazard], words: &Words) -> String {
    let two = needs_two(suggested);
    let mut text = format!("---\n{}\ntitle: {}\n{}\n\n{}\n", words.opening, quoted(title), words.keys, words.crew);
    let _ = writeln!(text, "crew: {}\n", if two { 2 } else { 1 });
    if suggested.is_empty() {
        let _ = writeln!(text, "{}", words.no_hazards);
        text.push_str("# hazards: []\n");
    } else {
        let _ = writeln!(text, "{}\nhazards:", words.hazards);
        for hazard in suggested {
            // The comment stands on a line of its own: one behind the value would look like a part of it.
            let _ = writeln!(text, "  # {}: {}", hazard.signal.word(), one_line(&hazard.title));
            let _ = writeln!(text, "  - {}", hazard.id);
        }
    }
    let _ = writeln!(text, "{}\n{}\n", words.all_hazards, ids(all));
    let _ = writeln!(text, "{}\nrevised: {on}\n{}\n---\n{}\n", words.more, words.last, words.prose);
    let stages = words.stages.replace("TWO\n", &if two { format!("{}\n", words.two) } else { String::new() });
    let _ = writeln!(text, "{stages}");
    // A title of one stage stands right under the prose otherwise.
    text.replace("\n## ", "\n\n## ").replace("\n\n\n## ", "\n\n## ")
}

/// The ids of all hazards as comment lines of at most about a hundred letters.
fn ids(hazards: &[Hazard]) -> String {
    let mut lines = vec!["#".to_owned()];
    for hazard in hazards {
        if let Some(line) = lines.last_mut() {
            if line.len() + hazard.id.len() > 100 {
                lines.push(format!("# {}", hazard.id));
            } else {
                let _ = write!(line, " {}", hazard.id);
            }
        }
    }
    lines.join("\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_language_says_the_same_keys() {
        // Keys and hazards are words of the format: what can be uncommented is the same in both.
        let keys = |words: &Words| {
            let all = [&words.keys, &words.more, &words.last].map(String::as_str).join("\n");
            let keys = all.lines().filter_map(|line| line.strip_prefix("# ")?.split_once(": ").map(|(key, _)| key.to_owned()));
            keys.filter(|key| crate::book::keys::GUIDE.keys.iter().any(|known| known.name == key)).collect::<Vec<_>>()
        };
        let expected = [
            "summary",
            "every",
            "first",
            "for",
            "occasions",
            "where",
            "conditions",
            "wear",
            "dispose",
            "safety",
            "tools",
            "parts",
            "torque",
            "values",
            "readings",
            "applies-to",
            "source",
            "checked",
        ];
        for language in ["en", "de", "de-AT", "fr"] {
            assert_eq!(keys(&words(language)), expected, "{language}");
        }
        assert_ne!(words("de").prose, words("en").prose);
    }
}
