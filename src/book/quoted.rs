//! Words as YAML has them between double quotes.

use std::fmt::Write;

/// A text as a double-quoted scalar on one line, from which the same text is read (YAML 1.2.2, 5.7 and 7.3.1): quotes and
/// backslashes are escaped, and so is what YAML takes for a line end, refuses to print, or takes for the mark at the
/// beginning of a file.
#[must_use]
pub fn quoted(text: &str) -> String {
    let mut quoted = String::with_capacity(text.len() + 2);
    quoted.push('"');
    for letter in text.chars() {
        match letter {
            '"' => quoted.push_str("\\\""),
            '\\' => quoted.push_str("\\\\"),
            '\n' => quoted.push_str("\\n"),
            '\t' => quoted.push_str("\\t"),
            '\u{2028}' | '\u{2029}' | '\u{feff}' | '\u{fffe}' | '\u{ffff}' => escape(&mut quoted, letter),
            letter if letter.is_control() => escape(&mut quoted, letter),
            letter => quoted.push(letter),
        }
    }
    quoted.push('"');
    quoted
}

fn escape(quoted: &mut String, letter: char) {
    // Writing to a string cannot fail.
    let _ = write!(quoted, "\\u{:04x}", u32::from(letter));
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn what_would_end_or_break_it_is_escaped() {
        for (text, expected) in [
            ("plain", "\"plain\""),
            ("say \"no\" to C:\\ # {x}", "\"say \\\"no\\\" to C:\\\\ # {x}\""),
            ("a\nb\tc\u{7}", "\"a\\nb\\tc\\u0007\""),
            ("a\u{2028}b\u{2029}c\u{feff}d\u{85}", "\"a\\u2028b\\u2029c\\ufeffd\\u0085\""),
            ("Öl \u{1f6df}", "\"Öl \u{1f6df}\""),
        ] {
            assert_eq!(quoted(text), expected);
        }
    }

    proptest! {
        /// Another reader of YAML than the one of the book.
        #[test]
        fn any_text_is_read_back(text in "[\\u{0}-\\u{ffff}]{0,20}") {
            let read: Vec<String> = serde_yaml::from_str(&format!("- {}\n", quoted(&text))).map_err(|error| TestCaseError::fail(error.to_string()))?;
            prop_assert_eq!(read, vec![text]);
        }
    }
}
