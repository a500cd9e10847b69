//! The same plain work, logged again and again.
//!
//! Work is the same where its words before the first comma are, whatever their order and endings.
//! Two words at least: `Launched` says when, not what.

use super::own_words::{Word, words_in};
use super::phrases::Language;
use super::vocabulary::{empty_words, ending};
use super::{Check, Context, Rule};
use crate::book::diagnostic::{Diagnostic, Notes};
use crate::book::model::{Entry, Guide};
use crate::book::source::Span;
use std::collections::{BTreeMap, BTreeSet, HashMap};

const ID: &str = "work-without-guide";

pub(super) const RULE: Rule = Rule {
    id: ID,
    why: "What is done a third time will be done a fourth. A guide remembers how, with what, and when it is next due; the log alone \
          remembers that it was.",
    check: Check::Book(check),
};

/// How often makes a job of it.
const TIMES: usize = 3;

/// Fewest words that say what was done.
const WORDS: usize = 2;

/// What tells one work from another.
type Key = BTreeSet<String>;

fn check(context: &Context<'_>) -> Vec<Diagnostic> {
    let mut same: BTreeMap<Key, Vec<(&Entry, &str)>> = BTreeMap::new();
    // Entries come oldest first.
    for entry in &context.reckoning.entries {
        for work in &entry.work {
            let key = key(work, context.language);
            if key.len() >= WORDS {
                let times = same.entry(key).or_default();
                if times.last().is_none_or(|(last, _)| last.when.day().date != entry.when.day().date) {
                    times.push((entry, work));
                }
            }
        }
    }
    let guides = guides(context);
    let often = same.into_iter().filter(|(_, times)| times.len() >= TIMES);
    often.flat_map(|(key, times)| told(&key, &times, &guides)).collect()
}

/// Guides by what their titles say.
fn guides<'b>(context: &Context<'b>) -> HashMap<Key, &'b Guide> {
    context.book.guides.iter().rev().map(|guide| (key(&guide.title, context.language), guide)).collect()
}

fn told(key: &Key, times: &[(&Entry, &str)], guides: &HashMap<Key, &Guide>) -> Vec<Diagnostic> {
    let Some((entry, work)) = times.last() else { return Vec::new() };
    let mut notes = Notes::new(&entry.source);
    let span = place_of(entry, work);
    let count = times.len();
    match guides.get(key) {
        Some(guide) => notes.advice(
            ID,
            span,
            format!("`{work}` was logged {count} times as plain work, and the guide `{}` is called the same", guide.id),
            format!("write `jobs: [{}]` instead, or the guide never learns that it was done", guide.id),
        ),
        None => notes.advice(
            ID,
            span,
            format!("`{work}` or nearly the same was logged {count} times, and no guide describes it"),
            "write a guide for it: `garboard draft` begins one",
        ),
    }
    notes.found
}

/// Where the words stand in the front matter, for they have no place of their own.
fn place_of(entry: &Entry, work: &str) -> Span {
    let head = entry.source.text().get(..entry.body.start as usize).unwrap_or_default();
    let found = (!work.is_empty()).then(|| head.find(work)).flatten();
    found.map_or(entry.when_span, |start| Span::new(start, start + work.len()))
}

fn key(work: &str, language: Option<Language>) -> Key {
    let clause = work.split([',', ';', ':', '(']).next().unwrap_or_default();
    let empty = language.map(empty_words).unwrap_or_default();
    let words = words_in(clause, Span::new(0, clause.len())).into_iter().map(|word: Word<'_>| word.stem);
    // Numbers, years among them, are what differs from one time to the next.
    let telling = words.filter(|word| !empty.contains(&word.as_ref()) && word.chars().any(char::is_alphabetic));
    telling.map(|word| language.map_or(word.as_ref(), |language| ending(language, &word)).to_owned()).collect()
}

#[cfg(test)]
mod tests {
    use super::ID;
    use crate::survey::small_book::{book_in, found, places};

    #[track_caller]
    fn case_in(language: &str, works: &[&str], expected: &[&str]) -> Vec<String> {
        let title = "---\ntitle: Wax the topsides\n---\n## Work\n\n1. Do it.\n".to_owned();
        let mut files = vec![("guides/engine/job.md".to_owned(), title)];
        for (number, work) in works.iter().enumerate() {
            let day = number + 1;
            files.push((format!("log/2020/2020-01-0{day}-work.md"), format!("---\ndate: 2020-01-0{day}\nwork: [\"{work}\"]\n---\n")));
        }
        let files: Vec<(&str, &str)> = files.iter().map(|(path, text)| (path.as_str(), text.as_str())).collect();
        let found = found(ID, &book_in(language, &files));
        assert_eq!(places(&found), expected, "{works:?}");
        found.into_iter().map(|problem| problem.remedy).collect()
    }

    #[test]
    fn the_same_work_three_times_is_told_at_the_last() {
        case_in(
            "en",
            &["Fresh water drained, heads too", "Drained the fresh water", "Drain fresh water 2020"],
            &["3:9 Drain fresh water 2020"],
        );
        case_in(
            "de",
            &["Frischwasser abgelassen", "Das Frischwasser abgelassen, alles", "Frischwasser abgelassen"],
            &["3:9 Frischwasser abgelassen"],
        );
        case_in("fr", &["Vidange de l'eau", "Vidange de l'eau", "Vidange de l'eau"], &["3:9 Vidange de l'eau"]);
    }

    #[test]
    fn twice_other_work_and_a_single_word_are_not() {
        case_in("en", &["Fresh water drained", "Fresh water drained"], &[]);
        case_in("en", &["Fresh water drained", "Fresh water filled", "Waste water drained"], &[]);
        case_in("en", &["Launched", "Launched", "Launched"], &[]);
        case_in("en", &["", "", ""], &[]);
    }

    #[test]
    fn a_guide_of_the_same_name_is_offered() {
        let remedies = case_in("en", &["Waxed topsides", "Waxed the topsides", "Waxed topsides"], &["3:9 Waxed topsides"]);
        assert!(remedies[0].contains("`jobs: [job]`"), "{remedies:?}");
    }
}
