//! What looks like the mark of a private passage and is none: `<!-- privat -->`, `<!— private —>`.
//!
//! The marks themselves are found by [`super::private`]. The crew would think something hidden that is not, so whatever
//! looks like an attempt is found here: in angle brackets, or framed with dashes, a word two slips from the right one.

use super::private::marks;
use std::ops::Range;

const WORD: &str = "private";
/// Slips of the pen within which a word is still taken for the right one.
const MOST_SLIPS: usize = 2;
/// Longest attempt that is looked at, in bytes.
const LONGEST: usize = 120;
/// Words that are near the right one, or hold its beginning, and are spelt as they were meant.
const OTHER_WORDS: [&str; 18] = [
    "irate",
    "pirate",
    "prate",
    "prelate",
    "primage",
    "primate",
    "primates",
    "privacy",
    "privateer",
    "privateers",
    "privately",
    "privation",
    "privations",
    "privatisation",
    "privatization",
    "privet",
    "probate",
    "prorate",
];
/// Words of a comment that is still short enough to be a mark: `<!-- begin private part -->`.
const FEW_WORDS: usize = 3;

/// Places of all that looks like a mark and is none, in order.
pub(super) fn lookalikes(text: &str) -> Vec<Range<usize>> {
    let mut found = Vec::new();
    if text.len() <= WORD.len() - MOST_SLIPS || !holds_bracket(text) {
        return found;
    }
    let exact = marks(text);
    let mut from = 0;
    while let Some(start) = next_opening(text, from) {
        let behind = exact.partition_point(|mark| mark.end <= start);
        if let Some(mark) = exact.get(behind).filter(|mark| mark.start <= start) {
            from = mark.end;
        } else {
            let length = match attempt(near(text, start)) {
                Attempt::Meant(length) => {
                    found.push(start..start + length);
                    length
                }
                Attempt::Skip(length) => length,
            };
            from = start + length.max(1);
        }
        while !text.is_char_boundary(from) {
            from += 1;
        }
    }
    found
}

/// Whether a text holds a character that nobody sees.
pub(super) fn holds_unseen(text: &str) -> bool {
    text.contains(is_unseen)
}

/// Whether there is what opens or closes an attempt: most values of a book hold no such thing, and they are many.
pub(super) fn holds_bracket(text: &str) -> bool {
    text.bytes().any(|byte| matches!(byte, b'<' | b'>' | b'&' | b'[' | b'(' | b'{' | 0xc2 | 0xe2 | 0xef))
}

/// Where something begins that may be a bracket or a dash, or its first byte.
fn next_opening(text: &str, from: usize) -> Option<usize> {
    let opens = |byte: u8| matches!(byte, b'<' | b'&' | b'[' | b'(' | b'{' | b'!' | b'-' | 0xc2 | 0xe2 | 0xef);
    let at = text.as_bytes().get(from..)?.iter().position(|byte| opens(*byte))?;
    Some(from + at)
}

/// The text from `start` on, no longer than an attempt can be.
fn near(text: &str, start: usize) -> &str {
    let end = (start..text.len().min(start + LONGEST) + 1).rev().find(|end| text.is_char_boundary(*end)).unwrap_or(start);
    text.get(start..end).unwrap_or_default()
}

/// What an attempt begins with.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Opening {
    Angle,
    /// A bracket that this one closes.
    Bracket(char),
    None,
}

fn opening(text: &str) -> (Opening, &str) {
    for angle in ["<", "&lt;", "&#60;", "&#x3c;", "‹", "＜"] {
        if let Some(head) = text.get(..angle.len())
            && head.eq_ignore_ascii_case(angle)
        {
            return (Opening::Angle, &text[angle.len()..]);
        }
    }
    for (open, close) in [('[', ']'), ('(', ')'), ('{', '}'), ('«', '»')] {
        if let Some(rest) = text.strip_prefix(open) {
            return (Opening::Bracket(close), rest);
        }
    }
    (Opening::None, text)
}

/// What a text begins with, and how many bytes of it that is.
enum Attempt {
    /// Something that was meant as a mark.
    Meant(usize),
    /// Nothing of the kind, nor does any begin within it.
    Skip(usize),
}

fn attempt(text: &str) -> Attempt {
    let (opening, rest) = opening(text);
    let lines_too = opening == Opening::Angle;
    let inner = rest.trim_start_matches(|letter: char| is_frame(letter) || is_blank(letter, lines_too) || is_unseen(letter));
    let lead = &rest[..rest.len() - inner.len()];
    let length = match opening {
        Opening::Angle => in_angles(lead, inner),
        Opening::Bracket(close) => in_brackets(lead, inner, close),
        Opening::None => in_dashes(lead, inner),
    };
    match length {
        Some(length) => Attempt::Meant(text.len() - inner.len() + length),
        // In a run of dashes each would begin less than the one before it.
        None if opening == Opening::None => Attempt::Skip(lead.len()),
        None => Attempt::Skip(0),
    }
}

/// `<!- private ->`, `<private>`, `</pirvate`: up to what closes it, or the end of the line.
fn in_angles(lead: &str, inner: &str) -> Option<usize> {
    let end = inner.find(['>', '›', '＞', '<', '\n', '\r']).unwrap_or(inner.len());
    let end = inner[..end].find("&gt;").unwrap_or(end);
    let closing = closing(&inner[end..]);
    let words = words(&inner[..end]);
    let first = words.first()?;
    let short = match words.as_slice() {
        // Alone where a mark stands, another word is a mark as well: what it should hide would else be shown in silence.
        [word] => is_near(word, MOST_SLIPS) || OTHER_WORDS.contains(&word.as_str()),
        words => words.len() <= FEW_WORDS && words.iter().any(|word| is_near(word, MOST_SLIPS)),
    };
    let meant = if lead.contains('!') {
        short || is_near(first, 1)
    } else if lead.contains(|letter| is_dash(letter) || is_slash(letter)) {
        short && (words.len() == 1 || closing > 0)
    } else {
        short
            && words.len() == 1
            && closing > 0
            && inner[..end].trim_end().chars().all(|letter| letter.is_alphanumeric() || is_unseen(letter))
    };
    meant.then(|| if closing > 0 { end + closing } else { inner[..end].trim_end().len() })
}

/// `[-- private --]`, `[/private]`.
fn in_brackets(lead: &str, inner: &str, close: char) -> Option<usize> {
    if !lead.contains(is_dash) && !lead.contains(is_slash) {
        return None;
    }
    let (word, tail) = one_word(inner)?;
    let closed = tail.find(close)?;
    let frame = &tail[..closed];
    let dashes = lead.contains(is_dash) && frame.contains(is_dash);
    // A path in round brackets is the target of a link.
    let slash = close != ')' && lead.contains(is_slash);
    let bare = frame.chars().all(|letter| is_frame(letter) || is_blank(letter, false));
    (bare && (dashes || slash)).then(|| inner.len() - tail.len() + closed + close.len_utf8()).filter(|_| is_near(&word, MOST_SLIPS))
}

/// `!-- private -->`, `-- private -->`; not a word between two dashes of a sentence, nor one between two arrows.
fn in_dashes(lead: &str, inner: &str) -> Option<usize> {
    let weight: usize = lead.chars().filter(|letter| is_dash(*letter)).map(|dash| if dash == '-' { 1 } else { 2 }).sum();
    if weight == 0 || !(weight > 1 || lead.contains('!')) {
        return None;
    }
    let (word, tail) = one_word(inner)?;
    let after = tail.trim_start_matches(|letter| is_dash(letter) || is_blank(letter, false));
    let dashes = &tail[..tail.len() - after.len()];
    let closing = closing(after);
    let framed = dashes.contains(is_dash) && closing > 0;
    (framed && is_near(&word, MOST_SLIPS)).then(|| inner.len() - after.len() + closing)
}

/// The length of what closes an angle bracket, if a text begins with it.
fn closing(text: &str) -> usize {
    [">", "&gt;", "›", "＞"].into_iter().find(|close| text.starts_with(close)).map_or(0, str::len)
}

/// The one word that a text begins with, and what follows it.
fn one_word(text: &str) -> Option<(String, &str)> {
    let tail = text.trim_start_matches(|letter: char| letter.is_alphanumeric() || is_unseen(letter));
    let word = seen(&text[..text.len() - tail.len()]);
    (!word.is_empty()).then_some((word, tail))
}

/// The first words of a text, one more than are few.
fn words(text: &str) -> Vec<String> {
    let words = text.split(|letter: char| !letter.is_alphanumeric() && !is_unseen(letter)).map(seen);
    words.filter(|word| !word.is_empty()).take(FEW_WORDS + 1).collect()
}

/// A word in small letters, without what nobody sees.
fn seen(word: &str) -> String {
    word.chars().filter(|letter| !is_unseen(*letter)).flat_map(char::to_lowercase).collect()
}

/// Whether a word was meant to be the right one: `privat`, `pirvate`, but not `privacy`.
fn is_near(word: &str, slips: usize) -> bool {
    if OTHER_WORDS.contains(&word) {
        return false;
    }
    let letters = word.chars().count();
    word.contains("privat") || (letters.abs_diff(WORD.len()) <= slips && strsim::damerau_levenshtein(word, WORD) <= slips)
}

fn is_frame(letter: char) -> bool {
    letter == '!' || is_dash(letter) || is_slash(letter)
}

fn is_slash(letter: char) -> bool {
    matches!(letter, '/' | '\\')
}

fn is_blank(letter: char, lines_too: bool) -> bool {
    letter.is_whitespace() && (lines_too || !matches!(letter, '\n' | '\r'))
}

fn is_dash(letter: char) -> bool {
    matches!(letter, '-' | '\u{2010}'..='\u{2015}' | '\u{2212}' | '\u{fe58}' | '\u{fe63}' | '\u{ff0d}')
}

fn is_unseen(letter: char) -> bool {
    matches!(letter, '\u{ad}' | '\u{34f}' | '\u{180e}' | '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{feff}')
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[track_caller]
    fn case(text: &str, expected: &[&str]) {
        let found: Vec<&str> = lookalikes(text).into_iter().map(|range| &text[range]).collect();
        assert_eq!(found, expected, "{text:?}");
    }

    #[test]
    fn whatever_looks_like_an_attempt_is_found() {
        for text in [
            "<!— private —>",
            "<!– /private –>",
            "<!- private ->",
            "<! -- private -->",
            "< !-- private -->",
            "<!-- pirvate -->",
            "<!-- /pirvate -->",
            "<!-- privte -->",
            "<!-- prvate-->",
            "<!-- PRIVAT -->",
            "<!-- begin private -->",
            "<!-- private: -->",
            "<!-- private: the key hangs behind the chart -->",
            "<!-- pri\u{200b}vate -->",
            "<!-- \u{feff}private -->",
            "<-- private -->",
            "<!private>",
            "<private>",
            "</private>",
            "< /Private >",
            "&lt;!-- private --&gt;",
            "&#60;!-- private --&gt;",
            "‹!-- private --›",
            "<!--\n pirvate -->",
            "[-- private --]",
            "(— /private —)",
            "[/private]",
            "{/pirvate}",
            "!-- private -->",
            "-- private -->",
            "— private —>",
        ] {
            case(&format!("The key. {text} Behind it"), &[text]);
        }
        case("<!-- private ->a<!-- /private -->", &["<!-- private ->"]);
        case("<private>a</private>", &["<private>", "</private>"]);
        // Never closed: the line is told.
        case("<!-- privat\nThe key.", &["<!-- privat"]);
    }

    #[test]
    fn ordinary_prose_and_the_marks_themselves_are_passed_over() {
        for text in [
            "a <!-- private -->b<!-- /private --> c",
            "<!--private-->x<!-- / Private -->",
            "the private berth",
            "a <b> private",
            "<b>private</b>",
            "the cabin — private — has a lock",
            "the cabin -- private -- has a lock",
            "public -> private -> done",
            "- private -> aft",
            "1. private\n2. pirate",
            "if a < private limit",
            "from <- private berth",
            "<https://private.example/>",
            "<private@boat.example>",
            "[private](private.md) and [x](/private)",
            "[private]",
            "(private)",
            "[--private]",
            "<!-- a note -->",
            "<!-- privacy glass was fitted in the heads -->",
            "Sea & private; R&D",
            "{private}",
            "«private»",
            "---\nprivate\n---\n",
            "Great! – private – was",
            "Great!—private—was",
        ] {
            case(text, &[]);
        }
    }

    #[test]
    fn other_words_are_marks_only_where_nothing_stands_beside_them() {
        for text in [
            "<!-- privacy curtain -->",
            "<!-- pirate flag -->",
            "<!-- new privet hedge -->",
            "<!-- privately owned -->",
            "<!-- pirate waters south of the cape -->",
            "(-- privacy --)",
            "(– pirate –)",
            "[/privacy]",
            "-- primate -->",
        ] {
            case(text, &[]);
        }
        for text in ["<!-- privacy -->", "<!-- /privacy -->", "<!— Pirate —>", "<privacy>"] {
            case(&format!("The key. {text} Behind it"), &[text]);
        }
        // As German has it, it is the word itself.
        case("<!-- privat bleibt -->", &["<!-- privat bleibt -->"]);
    }

    proptest! {
        #[test]
        fn places_are_inside_and_in_order(text in "(<|&lt;|!|-|—|/|private|pirvat| |>|é|\u{200b}|\\[|\\]|\n|«){0,14}") {
            let mut end = 0;
            for range in lookalikes(&text) {
                prop_assert!(end <= range.start && range.start < range.end && text.get(range.clone()).is_some());
                end = range.end;
            }
        }
    }
}
