//! Keys that were never meant as keys: a decimal comma, a comma in a text or a colon without its
//! space make YAML see a key with nothing behind it.

use super::scalar::tick;
use crate::book::node::{Key, Kind, Node};
use crate::book::source::Source;

/// A key that was never meant as one.
pub(super) struct Stray {
    pub remedy: String,
    /// It is the end of the value before it, which is not worth reading without it.
    pub cuts_value_before: bool,
}

/// What the pair at `index` was meant as, if it has no value because a comma or a colon was misread.
pub(super) fn stray(source: &Source, pairs: &[(Key<'_>, Node<'_>)], index: usize) -> Option<Stray> {
    let (key, value) = pairs.get(index)?;
    if !nothing_written(source, value) {
        return None;
    }
    if let Some((name, rest)) = key.text.split_once(':')
        && !name.trim().is_empty()
        && !rest.is_empty()
    {
        let remedy = format!("put a space after the colon: {}", tick(&format!("{}: {}", name.trim(), rest.trim())));
        return Some(Stray { remedy, cuts_value_before: false });
    }
    let (_, before) = index.checked_sub(1).and_then(|previous| pairs.get(previous))?;
    let Kind::Scalar { text: before_text, plain: true } = &before.kind else { return None };
    let between = source.text().get(before.span.end as usize..key.span.start as usize)?;
    if before.is_null() || between.trim() != "," {
        return None;
    }
    let digits = key.text.bytes().take_while(u8::is_ascii_digit).count();
    let remedy = if before_text.ends_with(|last: char| last.is_ascii_digit()) && digits > 0 {
        let with_point = tick(&format!("{before_text}.{}", key.text));
        if digits == 3 {
            let joined = tick(&format!("{before_text}{}", key.text));
            format!("a comma ends a value: write a point, {with_point}, or for thousands no sign at all, {joined}")
        } else {
            format!("a comma ends a value: write a point, {with_point}")
        }
    } else {
        let whole = tick(&format!("\"{before_text}, {}\"", key.text));
        format!("a comma ends a value; if it belongs to the text, put the text in quotes: {whole}")
    };
    Some(Stray { remedy, cuts_value_before: true })
}

/// Whether the value at `index` was cut off by a comma that YAML took for the end of it.
pub(super) fn is_cut_off(source: &Source, pairs: &[(Key<'_>, Node<'_>)], index: usize) -> bool {
    stray(source, pairs, index + 1).is_some_and(|stray| stray.cuts_value_before)
}

/// Nothing at all was written, not even `~`; the parser gives `~` for both.
pub(super) fn nothing_written(source: &Source, value: &Node<'_>) -> bool {
    let written = source.slice(value.span).trim();
    value.is_null() && !matches!(written, "~" | "null" | "Null" | "NULL")
}
