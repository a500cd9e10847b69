//! A template in pieces: text, what is printed, statements and comments, as the engine tells them apart.

/// A piece of a template.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Piece<'t> {
    Text(&'t str),
    /// `{{ … }}`
    Print(Tag<'t>),
    /// `{% … %}`
    Statement(Tag<'t>),
    /// `{# … #}`, with its marks.
    Comment(&'t str),
}

/// What stands between two marks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Tag<'t> {
    /// With its marks.
    pub whole: &'t str,
    /// Without marks and the blanks beside them.
    pub inner: &'t str,
    /// A hyphen takes away blanks before it.
    pub trims_before: bool,
    /// A hyphen takes away blanks behind it.
    pub trims_behind: bool,
}

/// The pieces of a template. `None`: one is not closed, or marks stand in it as text (`raw`).
pub fn pieces(template: &str) -> Option<Vec<Piece<'_>>> {
    let mut pieces = Vec::new();
    let mut rest = template;
    while let Some(at) = next_mark(rest) {
        let (text, marked) = rest.split_at(at);
        if !text.is_empty() {
            pieces.push(Piece::Text(text));
        }
        let (piece, behind) = marked_piece(marked)?;
        pieces.push(piece);
        rest = behind;
    }
    if !rest.is_empty() {
        pieces.push(Piece::Text(rest));
    }
    Some(pieces)
}

fn next_mark(text: &str) -> Option<usize> {
    text.as_bytes().windows(2).position(|two| matches!(two, b"{{" | b"{%" | b"{#"))
}

/// A piece that begins with a mark, and what stands behind it.
fn marked_piece(marked: &str) -> Option<(Piece<'_>, &str)> {
    if marked.starts_with("{#") {
        let (comment, behind) = marked.split_at(marked.get(2..)?.find("#}")? + 4);
        return Some((Piece::Comment(comment), behind));
    }
    let is_print = marked.starts_with("{{");
    let end = end_of(marked.get(2..)?, if is_print { "}}" } else { "%}" })? + 2;
    let (whole, behind) = marked.split_at(end + 2);
    let inner = whole.get(2..end)?;
    let (trims_before, inner) = inner.strip_prefix('-').map_or((false, inner), |inner| (true, inner));
    let (trims_behind, inner) = inner.strip_suffix('-').map_or((false, inner), |inner| (true, inner));
    let tag = Tag { whole, inner: inner.trim(), trims_before, trims_behind };
    if is_print {
        return Some((Piece::Print(tag), behind));
    }
    (tag.inner != "raw").then_some((Piece::Statement(tag), behind))
}

/// Where `mark` closes a tag; one inside quotes does not.
fn end_of(text: &str, mark: &str) -> Option<usize> {
    let mut at = 0;
    while let Some(rest) = text.get(at..) {
        if rest.starts_with(mark) {
            return Some(at);
        }
        at += token(rest)?.len();
    }
    None
}

/// The first token of an expression: a name, a run of blanks, a text in quotes, or any other single character.
/// `None` at the end, and where a text is not closed.
pub fn token(text: &str) -> Option<&str> {
    let first = text.chars().next()?;
    let length = match first {
        '"' | '\'' | '`' => quoted(text, first)?,
        _ if is_name(first) => text.find(|c| !is_name(c)).unwrap_or(text.len()),
        _ if first.is_ascii_whitespace() => text.find(|c: char| !c.is_ascii_whitespace()).unwrap_or(text.len()),
        _ => first.len_utf8(),
    };
    text.get(..length)
}

/// All tokens. `None`: a text is not closed.
pub fn tokens(text: &str) -> Option<Vec<&str>> {
    let mut tokens = Vec::new();
    let mut rest = text;
    while !rest.is_empty() {
        let token = token(rest)?;
        tokens.push(token);
        rest = rest.get(token.len()..)?;
    }
    Some(tokens)
}

/// Digits too: nothing here asks whether a name begins with one but [`is_variable`].
fn is_name(c: char) -> bool {
    c.is_ascii_alphanumeric() || c == '_'
}

/// Whether a token is a name and no number.
pub fn is_variable(token: &str) -> bool {
    token.chars().next().is_some_and(|first| is_name(first) && !first.is_ascii_digit()) && token.chars().all(is_name)
}

/// Length of a text in quotes, with them.
fn quoted(text: &str, quote: char) -> Option<usize> {
    let mut escaped = false;
    for (at, c) in text.char_indices().skip(1) {
        match c {
            _ if escaped => escaped = false,
            '\\' => escaped = true,
            _ if c == quote => return Some(at + 1),
            _ => {}
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::{Piece, pieces, tokens};

    #[test]
    fn a_template_is_taken_apart_and_nothing_is_lost() {
        let template = "a{{- b }}{# {{ #}c{% if x == \"%}\" -%} d {% endif %}";
        let pieces = pieces(template).expect("closed");
        let whole = |piece: &Piece<'_>| match piece {
            Piece::Text(text) | Piece::Comment(text) => (*text).to_owned(),
            Piece::Print(tag) | Piece::Statement(tag) => tag.whole.to_owned(),
        };
        assert_eq!(pieces.iter().map(whole).collect::<String>(), template);
        let tags: Vec<_> = pieces
            .iter()
            .filter_map(|piece| match piece {
                Piece::Print(tag) | Piece::Statement(tag) => Some((tag.inner, tag.trims_before, tag.trims_behind)),
                _ => None,
            })
            .collect();
        assert_eq!(tags, [("b", true, false), ("if x == \"%}\"", false, true), ("endif", false, false)]);
    }

    #[test]
    fn what_is_not_closed_or_stands_raw_is_left_alone() {
        for template in ["{{ a", "{% if a", "{# a", "{{ \"a }}", "{% raw %}{{ a }}{% endraw %}"] {
            assert_eq!(pieces(template), None, "{template}");
        }
    }

    #[test]
    fn an_expression_falls_into_tokens() {
        let told = tokens("a.b1 ~ \"x \\\" y\"==2").expect("closed");
        assert_eq!(told, ["a", ".", "b1", " ", "~", " ", "\"x \\\" y\"", "=", "=", "2"]);
    }
}
