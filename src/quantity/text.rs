//! Cleaning what a person typed, and quoting it back.
//!
//! Word processors and phones put in spaces, minus signs and fractions of their own; they are made
//! plain here, once, so that the readers below see one spelling only.

use std::borrow::Cow;

/// Longest piece of the writer's own text that a message repeats, in characters.
const LONGEST_QUOTE: usize = 40;

/// Plain spaces (one between words, none at the ends), plain minus, fractions spelled out.
pub(super) fn tidy(text: &str) -> Cow<'_, str> {
    if is_tidy(text) { Cow::Borrowed(text) } else { Cow::Owned(tidied(text)) }
}

/// Whether nothing is left to tidy, which is how nearly all figures are written.
fn is_tidy(text: &str) -> bool {
    let mut before = ' ';
    for character in text.chars() {
        let plain = match character {
            ' ' => before != ' ',
            '!'..='~' => true,
            other => !other.is_whitespace() && !matches!(other, '\u{2212}' | '\u{2044}') && vulgar_fraction(other).is_none(),
        };
        if !plain {
            return false;
        }
        before = character;
    }
    before != ' ' || text.is_empty()
}

fn tidied(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for character in text.chars() {
        match vulgar_fraction(character) {
            Some(fraction) => {
                // "1½" is one and a half, so the space keeps the parts apart.
                plain.push(' ');
                plain.push_str(fraction);
            }
            None if character.is_whitespace() => plain.push(' '),
            None => match character {
                '\u{2212}' => plain.push('-'),
                '\u{2044}' => plain.push('/'),
                other => plain.push(other),
            },
        }
    }
    let words: Vec<&str> = plain.split(' ').filter(|word| !word.is_empty()).collect();
    words.join(" ")
}

fn vulgar_fraction(character: char) -> Option<&'static str> {
    Some(match character {
        '½' => "1/2",
        '¼' => "1/4",
        '¾' => "3/4",
        '⅛' => "1/8",
        '⅜' => "3/8",
        '⅝' => "5/8",
        '⅞' => "7/8",
        '⅓' => "1/3",
        '⅔' => "2/3",
        _ => return None,
    })
}

/// The writer's words in backticks, cut short and made harmless for a terminal.
pub(super) fn quoted(text: &str) -> String {
    let mut quote = String::from("`");
    for (count, character) in text.chars().enumerate() {
        if count == LONGEST_QUOTE {
            quote.push('…');
            break;
        }
        match character {
            '`' => quote.push('\''),
            other if other.is_control() => quote.push('\u{FFFD}'),
            other => quote.push(other),
        }
    }
    quote.push('`');
    quote
}

/// `a`, `a or b`, `a, b or c`, each in backticks.
pub(super) fn either<'a>(words: impl IntoIterator<Item = &'a str>) -> String {
    let quoted: Vec<String> = words.into_iter().map(quoted).collect();
    match quoted.split_last() {
        None => String::new(),
        Some((only, [])) => only.clone(),
        Some((last, rest)) => format!("{} or {last}", rest.join(", ")),
    }
}

/// "a torque", "an angle".
pub(super) fn with_article(noun: &str) -> String {
    let article = if noun.starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" };
    format!("{article} {noun}")
}

#[cfg(test)]
mod tests {
    use super::{either, quoted, tidied, tidy};
    use proptest::prelude::*;

    #[track_caller]
    fn case(written: &str, expected: &str) {
        assert_eq!(tidy(written), expected, "for {written:?}");
    }

    #[test]
    fn odd_spaces_signs_and_fractions_become_plain() {
        case("  35\u{a0}N·m ", "35 N·m");
        case("35\u{2009}\u{202f}N·m", "35 N·m");
        case("\u{2212}10 °C", "-10 °C");
        case("1½ in", "1 1/2 in");
        case("½ in", "1/2 in");
        case("3\u{2044}8 in", "3/8 in");
        case("", "");
    }

    proptest! {
        #[test]
        fn what_is_tidy_is_left_as_it_is(text in "[ \t\u{a0}0-9a-z½\u{2212}·°]{0,8}|\\PC{0,8}") {
            prop_assert_eq!(tidy(&text), tidied(&text));
        }
    }

    #[test]
    fn a_quote_is_short_and_harmless() {
        assert_eq!(quoted("35 Nm"), "`35 Nm`");
        assert_eq!(quoted("a`b\u{1b}[2J"), "`a'b\u{FFFD}[2J`");
        assert_eq!(quoted(&"x".repeat(90)), format!("`{}…`", "x".repeat(40)));
    }

    #[test]
    fn choices_read_as_a_sentence() {
        assert_eq!(either(["L"]), "`L`");
        assert_eq!(either(["US gal", "imp gal"]), "`US gal` or `imp gal`");
        assert_eq!(either(["a", "b", "c"]), "`a`, `b` or `c`");
    }
}
