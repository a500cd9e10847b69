//! How spreadsheets write the units of meters and of time, in cells and in the names of columns.

use crate::quantity::Unit;

/// In lower case, in English and German.
const WORDS: &[(Unit, &[&str])] = &[
    (Unit::Minute, &["min", "mins", "minute", "minutes", "minuten"]),
    (Unit::Hour, &["h", "hr", "hrs", "hour", "hours", "std", "stunde", "stunden", "bh"]),
    (Unit::Day, &["day", "days", "tag", "tage"]),
    (Unit::NauticalMile, &["nmi", "nm", "sm", "mile", "miles", "seemeile", "seemeilen"]),
    (Unit::Kilometre, &["km"]),
];

/// The unit that a word means, written large or small and perhaps with the full stop of what is cut short.
pub fn unit_of(word: &str) -> Option<Unit> {
    let word = word.trim().trim_end_matches('.').to_lowercase();
    WORDS.iter().find(|(_, words)| words.contains(&word.as_str())).map(|(unit, _)| *unit)
}

/// Numbers with the words behind them: `2 h 40 min` has two. The last has no word where a number ends it.
pub fn pairs(text: &str) -> Vec<(&str, &str)> {
    let mut pairs = Vec::new();
    let mut rest = text.trim();
    while !rest.is_empty() {
        let (number, behind) = rest.split_at(rest.find(char::is_alphabetic).unwrap_or(rest.len()));
        let (word, behind) = behind.split_at(behind.find(|letter: char| !letter.is_alphabetic()).unwrap_or(behind.len()));
        pairs.push((number.trim(), word));
        rest = behind.trim_start_matches('.').trim_start();
    }
    pairs
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn units_are_known_by_their_words() {
        for (word, unit) in [
            ("h", Some(Unit::Hour)),
            ("Std.", Some(Unit::Hour)),
            (" STUNDE ", Some(Unit::Hour)),
            ("Minuten", Some(Unit::Minute)),
            ("sm", Some(Unit::NauticalMile)),
            ("hou", None),
            ("", None),
        ] {
            assert_eq!(unit_of(word), unit, "{word:?}");
        }
    }

    #[test]
    fn a_text_is_cut_into_numbers_and_words() {
        for (text, expected) in [
            ("2 h 40 min", &[("2", "h"), ("40", "min")][..]),
            ("1,5 Std.", &[("1,5", "Std")]),
            ("1Std.30Min.", &[("1", "Std"), ("30", "Min")]),
            ("2h40", &[("2", "h"), ("40", "")]),
            ("a day", &[("", "a"), ("", "day")]),
            ("...", &[("...", "")]),
            ("", &[]),
        ] {
            assert_eq!(pairs(text), expected, "{text:?}");
        }
    }
}
