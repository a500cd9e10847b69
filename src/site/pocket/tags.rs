//! HTML cut into tags and what stands between them, just far enough to change attributes.
//!
//! It reads pages that the templates have printed: tags are closed and values are escaped. Whatever it
//! does not understand goes through as text, byte for byte.

/// A piece of a page. All pieces one behind the other are the page.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Piece<'h> {
    /// Text, comments, and what stands in scripts and styles.
    Text(&'h str),
    Open(Tag<'h>),
    /// An end tag as it stands, with the name of its element.
    Close {
        raw: &'h str,
        name: &'h str,
    },
}

/// A start tag.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Tag<'h> {
    pub raw: &'h str,
    pub name: &'h str,
    /// In their order; values as they are written, with their escapes.
    pub attributes: Vec<(&'h str, Option<&'h str>)>,
}

impl<'h> Tag<'h> {
    /// The value of an attribute.
    #[must_use]
    pub fn value(&self, name: &str) -> Option<&'h str> {
        self.attributes.iter().find(|(known, _)| known.eq_ignore_ascii_case(name)).and_then(|(_, value)| *value)
    }
}

/// Cuts a page into its pieces.
#[must_use]
pub fn pieces(page: &str) -> Pieces<'_> {
    Pieces { rest: page, raw_until: None }
}

/// See [`pieces`].
#[derive(Debug)]
pub struct Pieces<'h> {
    rest: &'h str,
    /// Inside an element whose content is no markup.
    raw_until: Option<&'static str>,
}

impl<'h> Pieces<'h> {
    fn take(&mut self, bytes: usize) -> &'h str {
        let (taken, rest) = self.rest.split_at_checked(bytes).unwrap_or((self.rest, ""));
        self.rest = rest;
        taken
    }
}

impl<'h> Iterator for Pieces<'h> {
    type Item = Piece<'h>;

    fn next(&mut self) -> Option<Piece<'h>> {
        if self.rest.is_empty() {
            return None;
        }
        if let Some(end) = self.raw_until.take() {
            let bytes = find_ignoring_case(self.rest, end).unwrap_or(self.rest.len());
            if bytes > 0 {
                return Some(Piece::Text(self.take(bytes)));
            }
        }
        if let Some(comment) = self.rest.strip_prefix("<!--") {
            let bytes = comment.find("-->").map_or(self.rest.len(), |end| end + 7);
            return Some(Piece::Text(self.take(bytes)));
        }
        if let Some(tag) = self.rest.strip_prefix("</")
            && tag.starts_with(|c: char| c.is_ascii_alphabetic())
            && let Some(end) = tag.find('>')
        {
            let raw = self.take(end + 3);
            let name = raw.trim_start_matches("</").trim_end_matches('>').trim();
            return Some(Piece::Close { raw, name });
        }
        if let Some((tag, bytes)) = start_tag(self.rest) {
            self.take(bytes);
            self.raw_until = match tag.name {
                "script" => Some("</script"),
                "style" => Some("</style"),
                _ => None,
            };
            return Some(Piece::Open(tag));
        }
        // From the second character: a `<` that begins nothing is text.
        let first = self.rest.chars().next().map_or(1, char::len_utf8);
        let bytes = self.rest.get(first..).and_then(|rest| rest.find('<')).map_or(self.rest.len(), |at| first + at);
        Some(Piece::Text(self.take(bytes)))
    }
}

/// A start tag at the beginning of `text`, with its length.
fn start_tag(text: &str) -> Option<(Tag<'_>, usize)> {
    let mut rest = text.strip_prefix('<').filter(|rest| rest.starts_with(|c: char| c.is_ascii_alphabetic()))?;
    let name;
    (name, rest) = split(rest, |c| c.is_ascii_whitespace() || c == '>' || c == '/');
    let mut attributes = Vec::new();
    loop {
        rest = rest.trim_start_matches(|c: char| c.is_ascii_whitespace() || c == '/');
        if let Some(after) = rest.strip_prefix('>') {
            let bytes = text.len() - after.len();
            return Some((Tag { raw: text.get(..bytes)?, name, attributes }, bytes));
        }
        let (attribute, after) = split(rest, |c| c.is_ascii_whitespace() || c == '>' || c == '/' || c == '=');
        if attribute.is_empty() {
            return None;
        }
        let Some(value) = after.trim_start().strip_prefix('=').map(str::trim_start) else {
            attributes.push((attribute, None));
            rest = after;
            continue;
        };
        let (value, after) = match value.chars().next() {
            Some(quote @ ('"' | '\'')) => value.get(1..)?.split_once(quote)?,
            _ => split(value, |c| c.is_ascii_whitespace() || c == '>'),
        };
        attributes.push((attribute, Some(value)));
        rest = after;
    }
}

fn split(text: &str, ends: impl Fn(char) -> bool) -> (&str, &str) {
    text.split_at_checked(text.find(ends).unwrap_or(text.len())).unwrap_or((text, ""))
}

fn find_ignoring_case(text: &str, wanted: &str) -> Option<usize> {
    text.match_indices('<')
        .map(|(at, _)| at)
        .find(|at| text.get(*at..at + wanted.len()).is_some_and(|found| found.eq_ignore_ascii_case(wanted)))
}

#[cfg(test)]
mod tests {
    use super::{Piece, pieces};

    fn whole(page: &str) -> String {
        pieces(page)
            .map(|piece| match piece {
                Piece::Text(text) => text,
                Piece::Open(tag) => tag.raw,
                Piece::Close { raw, .. } => raw,
            })
            .collect()
    }

    type Attribute<'a> = (&'a str, Option<&'a str>);

    #[track_caller]
    fn case(page: &str, tags: &[(&str, &[Attribute<'_>])]) {
        let found: Vec<_> = pieces(page)
            .filter_map(|piece| match piece {
                Piece::Open(tag) => Some((tag.name, tag.attributes)),
                _ => None,
            })
            .collect();
        let wanted: Vec<_> = tags.iter().map(|(name, attributes)| (*name, attributes.to_vec())).collect();
        assert_eq!(found, wanted, "{page}");
        assert_eq!(whole(page), page);
    }

    #[test]
    fn tags_and_their_attributes() {
        case("a <b>c</b>", &[("b", &[])]);
        case(
            r#"<a href="x>y" hidden class='p q' dir=auto>"#,
            &[("a", &[("href", Some("x>y")), ("hidden", None), ("class", Some("p q")), ("dir", Some("auto"))])],
        );
        case(r##"<use href="#x"/><br />"##, &[("use", &[("href", Some("#x"))]), ("br", &[])]);
    }

    #[test]
    fn what_is_no_tag_is_text() {
        case("1 < 2 <3 <", &[]);
        case("<!-- <b> --><i>", &[("i", &[])]);
        case("<!-- never closed <b>", &[]);
        case(r#"<script type="x">"<b>"</SCRIPT><i>"#, &[("script", &[("type", Some("x"))]), ("i", &[])]);
        case("<a href=\"never closed>", &[]);
        case("<é> <ü", &[]);
        case("", &[]);
    }

    proptest::proptest! {
        #[test]
        fn all_pieces_are_the_page(page in "[<>/a-b=\"' !é-]{0,40}") {
            proptest::prop_assert_eq!(whole(&page), page);
        }
    }
}
