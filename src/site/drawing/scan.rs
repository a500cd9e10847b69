//! Bounds that are checked on the bare text, before any parser sees it.
//!
//! The parser takes quadratic time over the attributes of one element and over namespaces, and what is built
//! from its result goes as deep as the file does. So depth and counts are bounded first. This scan need not be
//! right about broken files: the parser refuses those.

use super::PictureError;
use std::borrow::Cow;

/// How deep elements may nest; drawing programs stay under thirty.
const DEEPEST: usize = 100;
/// The most attributes of one element.
const MOST_ATTRIBUTES: usize = 200;
/// The most declarations of namespaces in the whole file.
const MOST_NAMESPACES: usize = 1_000;

/// Checks the bounds, and blanks out a document type that only names a standard, as older drawing programs write.
pub fn check_bounds(text: &str) -> Result<Cow<'_, str>, PictureError> {
    if text.matches("xmlns").take(MOST_NAMESPACES + 1).count() > MOST_NAMESPACES {
        return Err(PictureError::DrawingTooLarge("1,000 namespaces"));
    }
    let mut place = 0;
    let mut depth: usize = 0;
    let mut document_type = None;
    while let Some(offset) = text.get(place..).and_then(|rest| rest.find('<')) {
        let start = place + offset;
        let rest = text.get(start..).unwrap_or_default();
        let length = if rest.starts_with("<!--") {
            length_to(rest, 4, "-->")
        } else if rest.starts_with("<![CDATA[") {
            length_to(rest, 9, "]]>")
        } else if rest.starts_with("<?") {
            length_to(rest, 2, "?>")
        } else {
            let tag = read_tag(rest.as_bytes());
            if rest.starts_with("<!") {
                if tag.brackets {
                    return Err(PictureError::DrawingDeclares);
                }
                if depth == 0 && rest.starts_with("<!DOCTYPE") && document_type.is_none() {
                    document_type = Some(start..start + tag.length);
                }
            } else if rest.starts_with("</") {
                depth = depth.saturating_sub(1);
            } else {
                if tag.values > MOST_ATTRIBUTES {
                    return Err(PictureError::DrawingTooLarge("200 attributes on one part"));
                }
                depth += usize::from(!tag.closes_itself);
                if depth > DEEPEST {
                    return Err(PictureError::DrawingTooLarge("100 groups within each other"));
                }
            }
            tag.length
        };
        place = start + length;
    }
    let Some(range) = document_type else {
        return Ok(Cow::Borrowed(text));
    };
    let mut blanked = text.to_owned();
    // Line ends stay, so that the places in messages hold.
    let blank: String = text.get(range.clone()).unwrap_or_default().chars().map(|c| if c == '\n' { '\n' } else { ' ' }).collect();
    blanked.replace_range(range, &blank);
    Ok(Cow::Owned(blanked))
}

/// The length up to and with `end`, looked for from byte `from`; all of it when the end is missing.
fn length_to(rest: &str, from: usize, end: &str) -> usize {
    let found = rest.get(from..).and_then(|inside| inside.find(end));
    found.map_or(rest.len(), |offset| from + offset + end.len())
}

struct Tag {
    length: usize,
    values: usize,
    closes_itself: bool,
    brackets: bool,
}

/// Reads from `<` to the `>` that ends the tag, which may stand in quotes before that.
fn read_tag(bytes: &[u8]) -> Tag {
    let mut tag = Tag { length: bytes.len(), values: 0, closes_itself: false, brackets: false };
    let mut quote = None;
    for (index, &byte) in bytes.iter().enumerate() {
        match (quote, byte) {
            (Some(open), _) if open == byte => quote = None,
            (Some(_), _) => {}
            (None, b'"' | b'\'') => {
                quote = Some(byte);
                tag.values += 1;
            }
            (None, b'[') => tag.brackets = true,
            (None, b'>') => {
                tag.length = index + 1;
                break;
            }
            (None, _) => tag.closes_itself = byte == b'/',
        }
    }
    tag
}
