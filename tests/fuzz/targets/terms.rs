//! Words of the search: what is found by a word can be found by that word again.

use garboard::site::search::each_term;

pub fn check(bytes: &[u8]) {
    let Some(text) = super::text(bytes) else { return };
    for term in terms(text) {
        assert!((1..=32).contains(&term.chars().count()), "{term:?}");
        assert!(!term.chars().any(|letter| letter.is_whitespace() || letter.is_control()), "{term:?}");
        assert!(terms(&term).contains(&term), "{term:?} becomes {:?}", terms(&term));
    }
}

fn terms(text: &str) -> Vec<String> {
    let mut found = Vec::new();
    each_term(text, |term| found.push(term.to_owned()));
    found
}
