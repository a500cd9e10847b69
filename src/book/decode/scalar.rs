//! Single values: words, flags, choices, days.
//!
//! Each reader notes what is wrong with a value and gives `None`; none of them stops at the first
//! problem of a file.

use std::borrow::Cow;
use std::fmt::Display;

use jiff::civil::Date;

use super::wrong_shape::wrong_shape;
use crate::book::date::{self, BookDate, DateError, Month};
use crate::book::diagnostic::{Notes, offer};
use crate::book::keys::Shape;
use crate::book::node::{Kind, Node};
use crate::book::source::{Name, Span};
use crate::quantity::{
    ApproximateError, CalendarSpanError, DurationError, FastenerError, FigureError, MoneyError, NumberError, QuantityError, UnitError,
};

/// A value, with the key it stands under and what that key asks for.
#[derive(Clone, Copy)]
pub(super) struct Spot<'n, 't> {
    pub node: &'n Node<'t>,
    pub key: &'n str,
    pub shape: Shape,
    /// It is one of the items of a list that stands under the key.
    pub in_list: bool,
}

impl<'n, 't> Spot<'n, 't> {
    pub fn span(self) -> Span {
        self.node.span
    }

    /// An item of the list that stands here.
    pub fn item(self, node: &'n Node<'t>) -> Self {
        Self { node, shape: self.shape.item(), in_list: true, ..self }
    }
}

/// Longest piece of the crew's own text that a message repeats, in characters.
const LONGEST_QUOTE: usize = 60;

/// The crew's words in backticks, cut short and made harmless for a terminal.
pub(super) fn tick(text: &str) -> String {
    let mut quote = String::from("`");
    for (count, letter) in text.chars().enumerate() {
        if count == LONGEST_QUOTE {
            quote.push('…');
            break;
        }
        quote.push(match letter {
            '`' => '\'',
            other if other.is_control() => '\u{fffd}',
            other => other,
        });
    }
    quote.push('`');
    quote
}

/// A text: trimmed, runs of white space as one space, never empty.
pub(super) fn text(notes: &mut Notes<'_>, spot: Spot<'_, '_>) -> Option<String> {
    words(notes, spot).map(Cow::into_owned)
}

/// As [`text`], for what is only looked at.
pub(super) fn words<'n>(notes: &mut Notes<'_>, spot: Spot<'n, '_>) -> Option<Cow<'n, str>> {
    if spot.node.is_null() {
        return missing_value(notes, spot);
    }
    let Kind::Scalar { text, .. } = &spot.node.kind else {
        wrong_shape(notes, spot);
        return None;
    };
    let text = plain_words(notes, text, spot.span())?;
    if text.is_empty() { missing_value(notes, spot) } else { Some(text) }
}

/// White space made plain; a control character is an error.
pub(super) fn plain_words<'n>(notes: &mut Notes<'_>, text: &'n str, span: Span) -> Option<Cow<'n, str>> {
    if is_plain(text) {
        return Some(Cow::Borrowed(text));
    }
    if let Some(control) = text.chars().find(|letter| letter.is_control() && !letter.is_whitespace()) {
        notes.error(
            "control-character",
            span,
            format!("this text holds the control character U+{:04X}, which cannot be shown", u32::from(control)),
            "delete it and write the text anew; it may have come in with a copied text",
        );
        return None;
    }
    Some(Cow::Owned(text.split_whitespace().collect::<Vec<_>>().join(" ")))
}

/// Whether a text has no white space but single spaces between words, and no control characters.
fn is_plain(text: &str) -> bool {
    let mut before = ' ';
    for letter in text.chars() {
        let plain = match letter {
            ' ' => before != ' ',
            '!'..='~' => true,
            other => !other.is_whitespace() && !other.is_control(),
        };
        if !plain {
            return false;
        }
        before = letter;
    }
    before != ' ' || text.is_empty()
}

fn missing_value<T>(notes: &mut Notes<'_>, spot: Spot<'_, '_>) -> Option<T> {
    notes.error(
        "missing-value",
        spot.span(),
        format!("{} needs {}, and nothing stands here", tick(spot.key), spot.shape.needs()),
        "write a value, or take the key out",
    );
    None
}

/// A text with its place, for what refers to something by id.
pub(super) fn name(notes: &mut Notes<'_>, spot: Spot<'_, '_>) -> Option<Name> {
    text(notes, spot).map(|words| Name::new(words, spot.span()))
}

/// `true` or `false`, and nothing else.
pub(super) fn flag(notes: &mut Notes<'_>, spot: Spot<'_, '_>) -> Option<bool> {
    let word = words(notes, spot)?;
    match word.as_ref() {
        "true" => Some(true),
        "false" => Some(false),
        _ => {
            let remedy = match word.to_lowercase().as_str() {
                "yes" | "y" | "on" | "true" | "1" => "write `true`",
                "no" | "n" | "off" | "false" | "0" => "write `false`",
                _ => "write `true` or `false`",
            };
            let message = format!("{} takes only `true` or `false`, and {} is a word here", tick(spot.key), tick(&word));
            notes.error("not-true-or-false", spot.span(), message, remedy);
            None
        }
    }
}

/// One of a few words.
pub(super) fn choice<T: Copy>(notes: &mut Notes<'_>, spot: Spot<'_, '_>, values: &[(&str, T)]) -> Option<T> {
    let word = words(notes, spot)?;
    if let Some((_, value)) = values.iter().find(|(name, _)| *name == word) {
        return Some(*value);
    }
    let known = values.iter().map(|(name, _)| *name);
    let remedy = offer(&word, known, "write one of the words it takes");
    notes.error("unknown-word", spot.span(), format!("{} does not take {}", tick(spot.key), tick(&word)), remedy);
    None
}

/// A day of the calendar.
pub(super) fn day(notes: &mut Notes<'_>, spot: Spot<'_, '_>) -> Option<Date> {
    parsed(notes, spot, "bad-date", date::parse_day)
}

/// A day of the log, perhaps only about.
pub(super) fn log_day(notes: &mut Notes<'_>, spot: Spot<'_, '_>) -> Option<BookDate> {
    parsed(notes, spot, "bad-date", date::parse_book_date)
}

/// A month, good to its last day, or a day.
pub(super) fn month(notes: &mut Notes<'_>, spot: Spot<'_, '_>) -> Option<Month> {
    parsed(notes, spot, "bad-date", date::parse_month)
}

/// A year of four digits, perhaps only about.
pub(super) fn year(notes: &mut Notes<'_>, spot: Spot<'_, '_>) -> Option<String> {
    parsed(notes, spot, "bad-date", |text| {
        let digits = text.strip_prefix('~').unwrap_or(text).trim();
        let plausible = digits.len() == 4 && digits.parse().is_ok_and(|year: u16| (1800..=2999).contains(&year));
        if plausible && digits.bytes().all(|byte| byte.is_ascii_digit()) {
            Ok(text.to_owned())
        } else {
            Err((format!("{} is not a year", tick(text)), "write its four digits: `1988`".to_owned()))
        }
    })
}

/// The address of a web site.
pub(super) fn web_address(notes: &mut Notes<'_>, spot: Spot<'_, '_>) -> Option<String> {
    parsed(notes, spot, "bad-address", |text| {
        let host = text.strip_prefix("https://").or_else(|| text.strip_prefix("http://"));
        let host = host.and_then(|rest| rest.split('/').next()).unwrap_or_default();
        let plain = text.bytes().all(|byte| byte.is_ascii_graphic())
            && !text.contains(['"', '\'', '<', '>', '\\', '?', '#', '{', '}', '|', '^', '`', '@']);
        let named = host.starts_with(|first: char| first.is_ascii_alphanumeric() || first == '[');
        if plain && named {
            Ok(text.to_owned())
        } else {
            let remedy = "write the address of the folder it is served from: `https://boat.example/book/`";
            Err((format!("{} is not the address of a site", tick(text)), remedy.to_owned()))
        }
    })
}

/// A language tag: `en`, `de-AT`.
pub(super) fn language(notes: &mut Notes<'_>, spot: Spot<'_, '_>) -> Option<String> {
    parsed(notes, spot, "bad-language", |text| {
        let mut parts = text.split('-');
        let primary = parts.next().unwrap_or_default();
        let good = (2..=3).contains(&primary.len()) && primary.bytes().all(|byte| byte.is_ascii_lowercase());
        let rest = parts.all(|part| (2..=8).contains(&part.len()) && part.bytes().all(|byte| byte.is_ascii_alphanumeric()));
        if good && rest && text.len() <= 35 {
            Ok(text.to_owned())
        } else {
            let remedy = "write the two letters of the language, such as `en` or `de`";
            Err((format!("{} is not a language tag", tick(text)), remedy.to_owned()))
        }
    })
}

/// Why a value was refused: what is wrong, and how to mend it.
pub(super) trait Refusal {
    fn tell(self) -> (String, String);
}

impl Refusal for (String, String) {
    fn tell(self) -> (String, String) {
        self
    }
}

impl Refusal for DateError {
    fn tell(self) -> (String, String) {
        (self.message, self.remedy)
    }
}

macro_rules! refusals {
    ($($error:ty),+) => {
        $(impl Refusal for $error {
            fn tell(self) -> (String, String) {
                let remedy = self.remedy();
                (display(&self), remedy)
            }
        })+
    };
}

refusals!(
    ApproximateError,
    CalendarSpanError,
    DurationError,
    FastenerError,
    FigureError,
    MoneyError,
    NumberError,
    QuantityError,
    UnitError
);

fn display(error: &impl Display) -> String {
    error.to_string()
}

/// Reads the text of a value by `parse`, and notes a refusal under `rule`.
pub(super) fn parsed<T, E: Refusal>(
    notes: &mut Notes<'_>,
    spot: Spot<'_, '_>,
    rule: &'static str,
    parse: impl FnOnce(&str) -> Result<T, E>,
) -> Option<T> {
    let words = words(notes, spot)?;
    match parse(&words) {
        Ok(value) => Some(value),
        Err(error) => {
            let (message, remedy) = error.tell();
            notes.error(rule, spot.span(), message, remedy);
            None
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::source::Source;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn a_plain_text_is_left_as_it_is(text in "[ \t\n\u{a0}\u{1}a-c–é]{0,6}|\\PC{0,6}") {
            let plain = !text.chars().any(|letter| letter.is_control() && !letter.is_whitespace())
                && text.split_whitespace().collect::<Vec<_>>().join(" ") == text;
            prop_assert_eq!(is_plain(&text), plain);
            let source = Source::new("f.yaml", "");
            let words = plain_words(&mut Notes::new(&source), &text, Span::default());
            prop_assert!(!plain || words.as_deref() == Some(text.as_str()));
        }
    }
}
