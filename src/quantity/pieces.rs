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
    let characters: Vec<(usize, char)> = text.char_indices().collect();
    let digit_at = |position: usize| characters.get(position).is_some_and(|(_, character)| character.is_ascii_digit());
    let mut position = 0;
    if let Some((_, '-' | '+')) = characters.first() {
        position = if matches!(characters.get(1), Some((_, ' '))) { 2 } else { 1 };
    }
    let start = position;
    while let Some((_, character)) = characters.get(position) {
        let part_of_number = match character {
            '0'..='9' | '.' => true,
            ',' | '/' | '\'' | '’' | '_' => digit_at(position + 1),
            // "1 1/2" and "1 200", not the space before a unit.
            ' ' => position > start && digit_at(position + 1),
            'e' | 'E' => {
                position > start
                    && (digit_at(position + 1) || (matches!(characters.get(position + 1), Some((_, '-' | '+'))) && digit_at(position + 2)))
            }
            '-' | '+' => position > start && matches!(characters.get(position - 1), Some((_, 'e' | 'E'))),
            _ => false,
        };
        if !part_of_number {
            break;
        }
        position += 1;
    }
    characters.get(position).map_or(text.len(), |(offset, _)| *offset)
}

/// `30-35` and `30–35`, where the hyphen stands between two numbers.
pub(super) fn hyphen_range(number: &str, rest: &str) -> Option<NumberError> {
    let after = rest.strip_prefix(['-', '–', '—', '‑', '‐'])?.trim_start();
    let (second, _) = split_number(after);
    if number.is_empty() || !second.starts_with(|first: char| first.is_ascii_digit()) {
        return None;
    }
    let hyphen = rest.chars().next().unwrap_or('-');
    let written = format!("{number}{hyphen}{second}");
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
