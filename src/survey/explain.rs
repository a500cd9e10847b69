//! What a rule means: the sentences of the format reference, and why it matters.

use super::RULES;

/// The document that describes the format; its table of rules is held to the program by a test.
const REFERENCE: &str = include_str!("../book/format-reference.md");

/// A rule in plain words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Explanation {
    pub rule: String,
    /// `warning`, or `error or warning`.
    pub gravity: String,
    pub meaning: String,
    pub remedy: String,
    /// Of the rules about what could be better.
    pub why: Option<&'static str>,
}

fn rows() -> impl Iterator<Item = Explanation> {
    let table = REFERENCE.split_once("<!-- generated: rules -->").map_or("", |(_, rest)| rest);
    let table = table.split_once("<!-- end -->").map_or(table, |(table, _)| table);
    table.lines().filter_map(|line| {
        let mut cells = line.trim().trim_start_matches('|').trim_end_matches('|').split(" | ").map(str::trim);
        let rule = cells.next()?.strip_prefix('`')?.strip_suffix('`')?;
        let why = RULES.iter().find(|known| known.id == rule).map(|known| known.why);
        Some(Explanation {
            rule: rule.to_owned(),
            gravity: cells.next()?.to_owned(),
            meaning: cells.next()?.to_owned(),
            remedy: cells.next()?.to_owned(),
            why,
        })
    })
}

/// Explains a rule by its name; `None`: there is none such.
#[must_use]
pub fn explain(rule: &str) -> Option<Explanation> {
    rows().find(|row| row.rule == rule)
}

/// The names of all rules, sorted.
#[must_use]
pub fn rule_names() -> Vec<String> {
    rows().map(|row| row.rule).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_rule_of_the_survey_is_explained() {
        for rule in RULES.iter() {
            let row = explain(rule.id).unwrap_or_else(|| panic!("`{}` is not in the format reference", rule.id));
            assert!(row.why.is_some() && !row.meaning.is_empty() && !row.remedy.is_empty(), "{row:?}");
        }
    }

    #[test]
    fn a_rule_of_loading_is_explained_too() {
        let row = explain("caution-without-act").expect("a rule");
        assert_eq!((row.gravity.as_str(), row.why), ("warning", None));
        assert_eq!(row.meaning, "no step of its stage follows a caution");
        assert!(explain("no-such-rule").is_none());
        assert!(rule_names().len() > 90);
    }
}
