//! Characters that nobody sees, that turn words round, or that pass for others: shown by their number,
//! and kept out of what is taken.
//!
//! In the prose of a guide four are let through, for languages need them: the soft hyphen, the joiner and
//! non-joiner behind a letter that is not Latin, and what colours a sign such as ⚠. In names and figures none is, and no digits but 0 to 9.

use unicode_general_category::{GeneralCategory, get_general_category};

/// Where a text stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ground {
    /// Names, figures, front matter: nothing but what is seen.
    Names,
    /// The Markdown of a guide.
    Prose,
}

/// A character that may not be taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Found {
    /// In bytes.
    pub at: usize,
    pub character: char,
}

impl Found {
    /// What it is, as it stands in a message.
    #[must_use]
    pub fn what(&self) -> String {
        let kind = if self.character.is_numeric() {
            "a digit of another script, which may pass for another figure"
        } else {
            "a character that is not seen"
        };
        format!("{kind}: {}", numbered(self.character))
    }
}

/// The first character of a text that may not stand there.
#[must_use]
pub fn first(text: &str, ground: Ground) -> Option<Found> {
    let mut before = None;
    for (at, character) in text.char_indices() {
        let joins = ground == Ground::Prose && matches!(character, '\u{200c}' | '\u{200d}') && before.is_some_and(needs_joiners);
        let soft = ground == Ground::Prose && character == '\u{ad}';
        let coloured = ground == Ground::Prose && character == '\u{fe0f}' && before.is_some_and(is_sign);
        let digit = ground == Ground::Names && is_foreign_digit(character);
        if (is_hidden(character) && !joins && !soft && !coloured) || digit {
            return Some(Found { at, character });
        }
        before = Some(character);
    }
    None
}

/// A digit of another script; superscripts and fractions are none.
#[must_use]
pub fn is_foreign_digit(character: char) -> bool {
    !character.is_ascii() && get_general_category(character) == GeneralCategory::DecimalNumber
}

/// Letters and their marks in scripts that join; not Latin, and no signs.
fn needs_joiners(before: char) -> bool {
    (before.is_alphabetic() || matches!(get_general_category(before), GeneralCategory::NonspacingMark | GeneralCategory::SpacingMark))
        && before > '\u{5ff}'
}

/// A warning sign or an arrow, but no digit.
fn is_sign(before: char) -> bool {
    get_general_category(before) == GeneralCategory::OtherSymbol
}

/// Control characters but line feed and tab, what has no width, what turns text round, what is no character,
/// and what looks like a blank and is a letter.
fn is_hidden(character: char) -> bool {
    let category = || get_general_category(character);
    match character {
        '\n' | '\t' | ' '..='~' => false,
        // Combining joiner; fillers of Korean; signs that are blank; variants of Mongolian and of everything else.
        '\u{34f}'
        | '\u{115f}'
        | '\u{1160}'
        | '\u{17b4}'
        | '\u{17b5}'
        | '\u{180b}'..='\u{180f}'
        | '\u{2800}'
        | '\u{3164}'
        | '\u{fe00}'..='\u{fe0f}'
        | '\u{ffa0}'
        | '\u{e0100}'..='\u{e01ef}' => true,
        _ => matches!(
            category(),
            GeneralCategory::Control
                | GeneralCategory::Format
                | GeneralCategory::LineSeparator
                | GeneralCategory::ParagraphSeparator
                | GeneralCategory::PrivateUse
                | GeneralCategory::Surrogate
                | GeneralCategory::Unassigned
        ),
    }
}

fn numbered(character: char) -> String {
    format!("⟨U+{:04X}⟩", u32::from(character))
}

/// A text from the file as it may be shown on a terminal: on one line, with what is not seen by its number.
#[must_use]
pub fn shown(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for character in text.chars() {
        match character {
            '\n' | '\t' => out.push(' '),
            _ if is_hidden(character) => out.push_str(&numbered(character)),
            _ => out.push(character),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_not_seen_is_found_and_shown_by_its_number() {
        // The Unicode Character Database, general categories Cc, Cf, Zl, Co; UAX #9 for the directions, UTS #39 for what is ignored.
        for character in [
            '\0',
            '\u{1b}',
            '\r',
            '\u{7f}',
            '\u{9b}',
            '\u{ad}',
            '\u{61c}',
            '\u{200b}',
            '\u{200e}',
            '\u{200f}',
            '\u{202a}',
            '\u{202e}',
            '\u{2028}',
            '\u{2060}',
            '\u{2066}',
            '\u{2069}',
            '\u{feff}',
            '\u{fff9}',
            '\u{e0001}',
            '\u{e0041}',
            '\u{e000}',
            '\u{fe0f}',
            '\u{3164}',
            '\u{180e}',
            '\u{fdd0}',
        ] {
            let text = format!("a{character}b");
            assert_eq!(first(&text, Ground::Names), Some(Found { at: 1, character }));
            assert_eq!(shown(&text), format!("a⟨U+{:04X}⟩b", u32::from(character)));
        }
        for text in ["35 N·m ± 3, 90°", "Öl wechseln", "Масло", "油を替える", "½ × ² — “x”", "a\tb\n"] {
            assert_eq!(first(text, Ground::Names), None, "{text}");
        }
    }

    #[test]
    fn prose_keeps_what_its_language_needs_and_names_keep_none() {
        // "mi-khwaham" with its non-joiner (Persian), a conjunct kept apart (Hindi): The Unicode Standard, chapters 9 and 12.
        for text in ["می\u{200c}خواهم", "क्\u{200d}ष", "Boots\u{ad}motor", "⚠\u{fe0f} Hot"] {
            assert_eq!(first(text, Ground::Prose), None, "{text}");
            assert!(first(text, Ground::Names).is_some(), "{text}");
        }
        for text in ["3\u{200d}5", "a\u{200c}b", "\u{200d}", "35\u{202e} N·m", "1\u{fe0f}\u{20e3}"] {
            assert!(first(text, Ground::Prose).is_some(), "{text:?}");
        }
    }

    #[test]
    fn digits_of_other_scripts_are_no_figures() {
        for text in ["٣٥ N·m", "３５ N·m", "𝟛𝟝 N·m", "३५"] {
            assert!(first(text, Ground::Names).is_some(), "{text}");
            assert_eq!(first(text, Ground::Prose), None, "{text}");
        }
    }
}
