//! The words that a text is found by.
//!
//! A word is a run of letters and digits, lower case, without accents. A number and its unit are one
//! word however they are spaced (`13 mm`, `13mm`), units have one spelling (`ft-lb` is `lbfft`), and what
//! hyphens and the like join is found in parts and as a whole. `search-index.js` of the theme does the same with
//! what is searched for; both are held against `tests/search-terms.json`. There is no stemming: it would
//! have to know the language of each text. Beginnings of words are found instead.

use std::collections::BTreeSet;
use unicode_normalization::UnicodeNormalization;
use unicode_normalization::char::is_combining_mark;

/// Longest word, in characters; what is longer is found by its beginning.
const LONGEST: usize = 32;

/// Units as they stand behind a number, folded and without what joins their parts, sorted; and the one
/// spelling that is kept of each.
pub const UNITS: [(&str, &str); 47] = [
    ("a", "a"),
    ("ah", "ah"),
    ("bar", "bar"),
    ("c", "c"),
    ("cm", "cm"),
    ("f", "f"),
    ("ft", "ft"),
    ("ftlb", "lbfft"),
    ("ftlbf", "lbfft"),
    ("g", "g"),
    ("gal", "gal"),
    ("h", "h"),
    ("hp", "hp"),
    ("hz", "hz"),
    ("in", "in"),
    ("inlb", "lbfin"),
    ("inlbf", "lbfin"),
    ("kg", "kg"),
    ("kgfm", "kgfm"),
    ("km", "km"),
    ("kn", "kn"),
    ("kpa", "kpa"),
    ("kw", "kw"),
    ("l", "l"),
    ("lb", "lb"),
    ("lbfft", "lbfft"),
    ("lbfin", "lbfin"),
    ("lbft", "lbfft"),
    ("lbin", "lbfin"),
    ("lh", "lh"),
    ("lmin", "lmin"),
    ("m", "m"),
    ("mi", "mi"),
    ("min", "min"),
    ("ml", "ml"),
    ("mm", "mm"),
    ("nm", "nm"),
    ("nmi", "nmi"),
    ("oz", "oz"),
    ("psi", "psi"),
    ("pt", "pt"),
    ("qt", "qt"),
    ("rpm", "rpm"),
    ("s", "s"),
    ("v", "v"),
    ("w", "w"),
    ("ω", "ω"),
];

/// Letters that decomposition leaves whole.
const LETTERS: [(char, &str); 12] = [
    ('ß', "ss"),
    ('æ', "ae"),
    ('œ', "oe"),
    ('þ', "th"),
    ('ø', "o"),
    ('đ', "d"),
    ('ð', "d"),
    ('ł', "l"),
    ('ħ', "h"),
    ('ŧ', "t"),
    ('ı', "i"),
    ('ς', "σ"),
];

/// Letters with what stands for them, for `search-index.js`, which must find the same words.
pub fn letters() -> impl Iterator<Item = (String, &'static str)> {
    LETTERS.into_iter().map(|(letter, folded)| (letter.to_string(), folded))
}

/// What stands between the two figures of a range, in the languages of the words that ship.
const BETWEEN: [&str; 6] = ["to", "and", "or", "bis", "und", "oder"];

/// Hands every word of a text to `take`, as often as it stands there. The first figure of a range is found with the unit
/// behind the second as well: `2.5 to 5 bar` is what somebody who looks for `2.5 bar` wants. Two figures that only follow each other
/// may be one too: a word too many finds a text, one too few hides it.
pub fn each_term(text: &str, mut take: impl FnMut(&str)) {
    let mut first = String::new();
    each_plain_term(text, |term| {
        take(term);
        let unit = term.trim_start_matches(|letter: char| letter.is_ascii_digit() || letter == '.');
        if unit.is_empty() {
            first.clear();
            first.push_str(term);
        } else if !first.is_empty() && !BETWEEN.contains(&term) {
            if unit.len() < term.len() && self::unit(unit) == Some(unit) {
                first.push_str(unit);
                send(&first, &mut take);
            }
            first.clear();
        }
    });
}

/// The words of a text, each once.
pub fn terms_of(text: &str) -> BTreeSet<String> {
    let mut terms = BTreeSet::new();
    each_term(text, |term| {
        terms.insert(term.to_owned());
    });
    terms
}

fn each_plain_term(text: &str, mut take: impl FnMut(&str)) {
    let mut scanner = Scanner::default();
    let mut rest = text;
    while let Some(letter) = rest.chars().next() {
        let run = rest.bytes().take_while(u8::is_ascii_alphanumeric).count();
        let (now, behind) = rest.split_at_checked(run.max(letter.len_utf8())).unwrap_or((rest, ""));
        if run > 0 {
            scanner.run(now, &mut take);
        } else if letter.is_ascii() {
            scanner.letter(letter, &mut take);
        } else {
            fold(letter, |letter| scanner.letter(letter, &mut take));
        }
        rest = behind;
    }
    scanner.end_word(&mut take);
    scanner.end_number(&mut take);
}

/// Lower case without accents. Compatibility forms can hold capitals, and capitals accents: hence both twice.
fn fold(letter: char, mut push: impl FnMut(char)) {
    let folded = letter.to_lowercase().nfkd().flat_map(char::to_lowercase).nfkd();
    for letter in folded.filter(|letter| !is_combining_mark(*letter)) {
        match LETTERS.iter().find(|(whole, _)| *whole == letter) {
            Some((_, folded)) => folded.chars().for_each(&mut push),
            None => push(letter),
        }
    }
}

/// Scripts that put no space between words: each character is a word.
fn stands_alone(letter: char) -> bool {
    ('\u{3040}'..='\u{30ff}').contains(&letter)
        || ('\u{3400}'..='\u{4dbf}').contains(&letter)
        || ('\u{4e00}'..='\u{9fff}').contains(&letter)
        || ('\u{20000}'..='\u{3ffff}').contains(&letter)
}

/// What may stand once between the parts of one word.
fn joins(letter: char) -> bool {
    "-\u{2010}–.,/\u{2044}*·⋅∙•_×".contains(letter)
}

/// Longest unit, in bytes.
const LONGEST_UNIT: usize = 5;

/// How long the units are that begin with each letter from `a` to `z`: bit 2 for those of two bytes.
const LENGTHS: [u8; 26] = {
    let mut lengths = [0; 26];
    let mut at = 0;
    while at < UNITS.len() {
        let unit = UNITS[at].0.as_bytes();
        assert!(unit.len() <= LONGEST_UNIT);
        if unit[0].is_ascii_lowercase() {
            lengths[(unit[0] - b'a') as usize] |= 1 << unit.len();
        }
        at += 1;
    }
    lengths
};

/// Whether a unit begins as a word does and is as long: nearly all words are told by that to be none.
fn may_be_unit(word: &str) -> bool {
    let Some(first) = word.bytes().next() else { return false };
    let lengths = LENGTHS.get(usize::from(first.wrapping_sub(b'a')));
    word.len() <= LONGEST_UNIT && lengths.is_none_or(|lengths| lengths >> word.len() & 1 == 1)
}

/// The one spelling of a unit; `None` for what is none.
fn unit(word: &str) -> Option<&'static str> {
    if !may_be_unit(word) {
        return None;
    }
    let at = UNITS.binary_search_by(|(written, _)| (*written).cmp(word)).ok()?;
    UNITS.get(at).map(|(_, kept)| *kept)
}

/// Walks over folded letters and digits.
#[derive(Default)]
struct Scanner {
    /// The parts of the word at hand, without what joins them.
    word: String,
    /// Where its parts begin, but the first.
    cuts: Vec<usize>,
    /// What stands behind the last part.
    joint: Option<char>,
    /// A number that may have a unit behind it.
    number: String,
}

impl Scanner {
    /// Letters and digits of ASCII, one at least. What is before the first of them is settled by it, so that the others
    /// only follow it.
    fn run(&mut self, letters: &str, take: &mut impl FnMut(&str)) {
        if let Some(first) = letters.chars().next() {
            self.join(first, take);
        }
        let from = self.word.len();
        self.word.push_str(letters);
        if let Some(letters) = self.word.get_mut(from..) {
            letters.make_ascii_lowercase();
        }
    }

    /// Any letter, folded.
    fn letter(&mut self, letter: char, take: &mut impl FnMut(&str)) {
        if letter == ' ' {
            self.end_word(take);
        } else if stands_alone(letter) && letter.is_alphanumeric() {
            self.end_word(take);
            self.end_number(take);
            take(letter.encode_utf8(&mut [0; 4]));
        } else if letter.is_alphanumeric() {
            self.join(letter, take);
            self.word.push(letter);
        } else if joins(letter) && !self.word.is_empty() && self.joint.is_none() {
            self.joint = Some(letter);
        } else {
            self.end_word(take);
            // A degree sign belongs to the unit.
            if !letter.is_whitespace() && letter != '°' {
                self.end_number(take);
            }
        }
    }

    /// Settles what a joint before `letter` means.
    fn join(&mut self, letter: char, take: &mut impl FnMut(&str)) {
        let Some(joint) = self.joint.take() else { return };
        let decimal = letter.is_ascii_digit() && self.word.ends_with(|last: char| last.is_ascii_digit());
        match joint {
            // 7,5 is 7.5; other numbers with a comma are at least always the same.
            '.' | ',' if decimal => self.word.push('.'),
            ',' => {
                self.joint = Some(joint);
                self.end_word(take);
            }
            '×' => self.word.push('x'),
            _ => self.cuts.push(self.word.len()),
        }
    }

    fn end_word(&mut self, take: &mut impl FnMut(&str)) {
        let joint = self.joint.take();
        if self.word.is_empty() {
            return;
        }
        // Given back at the end: it is the same piece of memory for all words.
        let mut word = std::mem::take(&mut self.word);
        let figures = word.find(|letter: char| !letter.is_ascii_digit() && letter != '.').unwrap_or(word.len());
        let (number, rest) = word.split_at(figures);
        let one_number = self.cuts.iter().all(|cut| *cut >= figures);
        if let (true, Some(unit)) = (one_number, unit(rest)) {
            // `13mm`, `35 N·m`; a unit by itself has only its one spelling.
            if !number.is_empty() {
                self.end_number(take);
                self.number.push_str(number);
            }
            self.number.push_str(unit);
            self.end_number(take);
        } else {
            self.end_number(take);
            if rest.is_empty() && self.cuts.is_empty() {
                self.number.push_str(&word);
            } else {
                self.parts(&word, take);
            }
        }
        self.cuts.clear();
        word.clear();
        self.word = word;
        if joint.is_some() {
            self.end_number(take);
        }
    }

    /// The parts of a word, and the whole of several.
    fn parts(&self, word: &str, take: &mut impl FnMut(&str)) {
        if self.cuts.is_empty() {
            // No unit, or it would not have come here.
            return send(word, take);
        }
        let mut from = 0;
        for to in self.cuts.iter().copied().chain([word.len()]) {
            send_spelled(word.get(from..to).unwrap_or_default(), take);
            from = to;
        }
        send_spelled(word, take);
    }

    fn end_number(&mut self, take: &mut impl FnMut(&str)) {
        if !self.number.is_empty() {
            send(&self.number, take);
            self.number.clear();
        }
    }
}

/// A part that is a unit, or a number with one, has the spelling that it has by itself.
fn send_spelled(word: &str, take: &mut impl FnMut(&str)) {
    let figures = word.find(|letter: char| !letter.is_ascii_digit() && letter != '.').unwrap_or(word.len());
    let (number, rest) = word.split_at(figures);
    match unit(rest) {
        Some(kept) if kept != rest => send(&format!("{number}{kept}"), take),
        _ => send(word, take),
    }
}

fn send(word: &str, take: &mut impl FnMut(&str)) {
    if word.len() <= LONGEST {
        return take(word);
    }
    match word.char_indices().nth(LONGEST) {
        Some((end, _)) => take(word.get(..end).unwrap_or(word)),
        None => take(word),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn terms(text: &str) -> Vec<String> {
        let mut found = Vec::new();
        each_term(text, |term| found.push(term.to_owned()));
        found
    }

    #[test]
    fn texts_become_the_words_of_the_table() {
        // The same table is held against `search-index.js` in `tests/browser/search.test.mjs`.
        let table: Vec<(String, Vec<String>)> =
            serde_json::from_str(include_str!("../../../tests/search-terms.json")).expect("the table reads");
        assert!(table.len() > 40);
        for (text, expected) in table {
            assert_eq!(terms(&text), expected, "for {text:?}");
        }
    }

    #[test]
    fn the_first_figure_of_a_range_has_its_unit_too() {
        assert_eq!(terms("2.5 to 5.0 bar"), ["2.5", "to", "5.0bar", "2.5bar"]);
        assert_eq!(terms("2.5..5 bar, 3 or more V"), ["2.5", "5bar", "2.5bar", "3", "or", "more", "v"]);
    }

    #[test]
    fn units_are_sorted() {
        assert!(UNITS.is_sorted_by(|a, b| a.0 < b.0));
    }

    #[test]
    fn a_word_without_end_is_cut() {
        assert_eq!(terms(&"x".repeat(5000)), ["x".repeat(LONGEST)]);
        assert_eq!(terms(&"é".repeat(40)), ["e".repeat(LONGEST)]);
    }

    proptest::proptest! {
        #[test]
        fn no_text_is_too_much(text in "\\PC{0,60}") {
            for term in terms(&text) {
                proptest::prop_assert!(!term.is_empty());
                proptest::prop_assert!(term.chars().count() <= LONGEST);
                // What stands between words and lists in a file of the index is never part of a word.
                proptest::prop_assert!(term.chars().all(|letter| letter == '.' || letter.is_alphanumeric()));
            }
        }

        #[test]
        fn case_accents_and_spaces_make_no_difference(number in 1_u32..2000, unit in "mm|L|N·m|lbf·ft|V|bar") {
            let joined = terms(&format!("{number}{unit}"));
            proptest::prop_assert_eq!(&joined, &terms(&format!("{number} {unit}")));
            proptest::prop_assert_eq!(&joined, &terms(&format!("{number}  {}", unit.to_uppercase())));
            proptest::prop_assert_eq!(&joined, &terms(&format!("{number}\u{a0}{unit}")));
            proptest::prop_assert_eq!(joined.len(), 1);
        }
    }
}
