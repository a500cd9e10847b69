//! How alike the name of a job in a spreadsheet and the title of a guide are.

use crate::book::id::id_of;

/// Words that say nothing of which job it is.
const EMPTY: [&str; 14] = ["the", "a", "and", "of", "at", "to", "for", "und", "der", "die", "das", "am", "im", "von"];
/// Words of two names this alike are one: slips and endings.
const ONE_WORD: f64 = 0.9;

/// From 0, nothing in common, to 1, the same: words in common over the words of both, and the
/// likeness of the whole, whichever is more.
#[must_use]
pub fn likeness(one: &str, other: &str) -> f64 {
    let (one, other) = (id_of(one), id_of(other));
    let (words, others) = (words_of(&one), words_of(&other));
    if words.is_empty() || others.is_empty() {
        return 0.0;
    }
    let common = |from: &[&str], to: &[&str]| from.iter().filter(|word| to.iter().any(|other| alike(word, other))).count();
    // Both counts are small.
    let shared = (common(&words, &others) + common(&others, &words)) as f64;
    let by_words = shared / (words.len() + others.len()) as f64;
    by_words.max(strsim::normalized_levenshtein(&one, &other))
}

fn words_of(id: &str) -> Vec<&str> {
    id.split('-').filter(|word| !word.is_empty() && !EMPTY.contains(word)).collect()
}

fn alike(one: &str, other: &str) -> bool {
    let (short, long) = if one.len() <= other.len() { (one, other) } else { (other, one) };
    // `filter` and `filters`, `chg` and `change` are not: only beginnings and slips are seen.
    one == other || short.len() >= 3 && (long.starts_with(short) || strsim::jaro_winkler(one, other) >= ONE_WORD)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_of_one_job_are_more_alike_than_those_of_others() {
        for (name, right, wrong) in [
            ("Oil & filter chg", "Change the engine oil and filter", "Renew the fuel filter"),
            ("Anodes", "Renew the anodes", "Check the batteries"),
            ("Oelwechsel Motor", "Motor: Ölwechsel", "Anoden erneuern"),
            ("rig chk", "Check the rig aloft", "Change the oil"),
        ] {
            assert!(likeness(name, right) > likeness(name, wrong), "{name}: {} {}", likeness(name, right), likeness(name, wrong));
        }
        assert!(likeness("oil", "oil") > 0.999);
        assert!(likeness("", "oil") < 0.001 && likeness("船", "oil") < 0.001);
    }
}
