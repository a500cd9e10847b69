//! Words of the search: what is found by a word can be found by that word again.

use garboard::site::search::each_term;

/// Longest word, in characters.
const LONGEST: usize = 32;

pub fn check(bytes: &[u8]) {
    let Some(text) = super::text(bytes) else { return };
    for term in terms(text) {
        let long = term.chars().count();
        assert!((1..=LONGEST).contains(&long), "{term:?}");
        assert!(!term.chars().any(|letter| letter.is_whitespace() || letter.is_control()), "{term:?}");
        // One that was cut may end with a point or in the middle of a unit, and is asked for by the longer word.
        assert!(long == LONGEST || terms(&term).contains(&term), "{term:?} becomes {:?}", terms(&term));
    }
}

fn terms(text: &str) -> Vec<String> {
    let mut found = Vec::new();
    each_term(text, |term| found.push(term.to_owned()));
    found
}
