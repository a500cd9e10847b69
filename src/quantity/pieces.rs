//! Cutting text into a number and what follows it.
//!
//! The cut is generous: whatever belongs to a badly written number (commas, powers of ten, hyphens)
//! stays with it, so that the message is about the number and not about a strange unit.

use super::number_error::NumberError;

/// The number at the start of tidied text, and the rest without the space between.
pub(super) fn split_number(text: &str) -> (&str, &str) {
    let end = end_of_number(text);
    let (number, rest) = text.split_at(end);
    (number.trim_end(), rest.trim_start())
}

fn end_of_number(text: &str) -> usize {
    const APOSTROPHE: char = '’';
    let bytes = text.as_bytes();
    let digit_at = |at: usize| bytes.get(at).is_some_and(u8::is_ascii_digit);
    let sign_at = |at: usize| matches!(bytes.get(at), Some(b'-' | b'+'));
    let start = match bytes {
        [b'-' | b'+', b' ', ..] => 2,
        [b'-' | b'+', ..] => 1,
        _ => 0,
    };
    let mut at = start;
    while let Some(byte) = bytes.get(at) {
        at += match byte {
            b'0'..=b'9' | b'.' => 1,
            b',' | b'/' | b'\'' | b'_' if digit_at(at + 1) => 1,
            // "1 1/2" and "1 200", not the space before a unit.
            b' ' if at > start && digit_at(at + 1) => 1,
            b'e' | b'E' if at > start && (digit_at(at + 1) || (sign_at(at + 1) && digit_at(at + 2))) => 1,
            b'-' | b'+' if at > start && matches!(bytes.get(at - 1), Some(b'e' | b'E')) => 1,
            _ if digit_at(at + APOSTROPHE.len_utf8()) && text.get(at..).is_some_and(|rest| rest.starts_with(APOSTROPHE)) => {
                APOSTROPHE.len_utf8()
            }
            _ => break,
        };
    }
    at
}

/// `30-35` and `30–35`, where the hyphen stands between two numbers.
pub(super) fn hyphen_range(number: &str, rest: &str) -> Option<NumberError> {
    let after = rest.strip_prefix(['-', '–', '—', '‑', '‐'])?.trim_start();
    let (second, behind) = split_number(after);
    if number.is_empty() || !second.starts_with(|first: char| first.is_ascii_digit()) {
        return None;
    }
    let hyphen = rest.chars().next().unwrap_or('-');
    let written = format!("{number}{hyphen}{second}");
    if behind.starts_with(['-', '–', '—', '‑', '‐']) {
        // Three numbers are a day or the like.
        return Some(NumberError::NotANumber { written: format!("{written}{behind}") });
    }
    Some(if second.contains('/') && !number.contains('/') {
        NumberError::MixedFraction { written, better: format!("{number} {second}") }
    } else {
        NumberError::HyphenRange { written, better: format!("{number}..{second}") }
    })
}

/// Cuts `2 h 40 min` into its numbers and units: `[("2", "h"), ("40", "min")]`.
pub(super) fn number_and_unit_pairs(text: &str) -> Vec<(&str, &str)> {
    let mut pairs = Vec::new();
    let mut left = text.trim();
    while !left.is_empty() {
        let (number, rest) = split_number(left);
        let end = rest.char_indices().find(|(_, character)| character.is_ascii_digit()).map_or(rest.len(), |(offset, _)| offset);
        let (unit, next) = rest.split_at(end);
        pairs.push((number, unit.trim()));
        left = next.trim_start();
        if number.is_empty() && unit.is_empty() {
            break;
        }
    }
    pairs
}

#[cfg(test)]
mod tests {
    use super::{number_and_unit_pairs, split_number};

    #[track_caller]
    fn case(text: &str, number: &str, rest: &str) {
        assert_eq!(split_number(text), (number, rest), "for {text:?}");
    }

    #[test]
    fn a_number_ends_where_the_unit_begins() {
        case("35 N·m", "35", "N·m");
        case("12V", "12", "V");
        case("90°", "90", "°");
        case("1 1/2 in", "1 1/2", "in");
        case("7,5 L", "7,5", "L");
        case("1 200 L", "1 200", "L");
        case("1e3 L", "1e3", "L");
        case("1’200 L", "1’200", "L");
        case("5’ x", "5", "’ x");
        case("5é1", "5", "é1");
        case("e5", "", "e5");
        case("+ 5e+L", "+ 5", "e+L");
        case("1e-3 L", "1e-3", "L");
        case("-10 °C", "-10", "°C");
        case("- 5 L", "- 5", "L");
        case("30-35 N·m", "30", "-35 N·m");
        case("5'", "5", "'");
        case("inf L", "", "inf L");
        case("", "", "");
    }

    #[test]
    fn pairs() {
        assert_eq!(number_and_unit_pairs("2 h 40 min"), [("2", "h"), ("40", "min")]);
        assert_eq!(number_and_unit_pairs("2h40min"), [("2", "h"), ("40", "min")]);
        assert_eq!(number_and_unit_pairs("1 1/2 h"), [("1 1/2", "h")]);
        assert_eq!(number_and_unit_pairs("h"), [("", "h")]);
        assert_eq!(number_and_unit_pairs("90"), [("90", "")]);
    }
}
