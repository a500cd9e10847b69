//! Text into HTML, and into link targets.

use std::fmt::Write as _;
use std::io;

/// Escapes text for element content and for attribute values in double quotes.
#[must_use]
pub fn html(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 8);
    for (plain, entity) in runs(text) {
        out.push_str(plain);
        out.push_str(entity);
    }
    out
}

/// As [`html`], into a file or buffer.
///
/// # Errors
/// What the writer says.
pub fn write_html(text: &str, out: &mut dyn io::Write) -> io::Result<()> {
    for (plain, entity) in runs(text) {
        out.write_all(plain.as_bytes())?;
        if !entity.is_empty() {
            out.write_all(entity.as_bytes())?;
        }
    }
    Ok(())
}

/// Stretches that stand as they are, each with what the character behind it is written as.
fn runs(text: &str) -> impl Iterator<Item = (&str, &'static str)> {
    let mut rest = Some(text);
    std::iter::from_fn(move || {
        let text = rest.take()?;
        // All of them are single bytes, which stand nowhere inside other characters.
        let Some(at) = text.bytes().position(|byte| entity(byte).is_some()) else { return Some((text, "")) };
        let (plain, behind) = text.split_at(at);
        let entity = behind.bytes().next().and_then(entity).unwrap_or_default();
        rest = behind.get(1..);
        Some((plain, entity))
    })
}

fn entity(byte: u8) -> Option<&'static str> {
    match byte {
        b'&' => Some("&amp;"),
        b'<' => Some("&lt;"),
        b'>' => Some("&gt;"),
        b'"' => Some("&quot;"),
        b'\'' => Some("&#39;"),
        _ => None,
    }
}

/// Percent-encodes what a URL cannot hold; what is encoded already stays.
#[must_use]
pub fn url(target: &str) -> String {
    let mut out = String::with_capacity(target.len());
    for byte in target.bytes() {
        let plain = byte.is_ascii_alphanumeric() || b"-._~:/?#[]@!$&'()*+,;=%".contains(&byte);
        if plain {
            out.push(char::from(byte));
        } else {
            // Writing into a string cannot fail.
            let _ = write!(out, "%{byte:02X}");
        }
    }
    out
}

/// JSON that is harmless in a script that stands in a page: no text in it can end the element or begin a
/// comment, nor is anything in it a line end to a script. It reads as the same JSON.
#[must_use]
pub fn script_json(json: String) -> String {
    // One at a time: each is looked for by many bytes at once.
    if !['<', '\u{2028}', '\u{2029}'].into_iter().any(|letter| json.contains(letter)) {
        return json;
    }
    json.replace('<', "\\u003c").replace('\u{2028}', "\\u2028").replace('\u{2029}', "\\u2029")
}

/// The bytes of a text once it is escaped by [`html`].
#[must_use]
pub fn html_len(text: &str) -> usize {
    let more = |byte: u8| match byte {
        b'&' | b'\'' => "&amp;".len() - 1,
        b'<' | b'>' => "&lt;".len() - 1,
        b'"' => "&quot;".len() - 1,
        _ => 0,
    };
    text.len() + text.bytes().map(more).sum::<usize>()
}

#[cfg(test)]
mod tests {
    #[test]
    fn the_length_is_told_without_the_text() {
        for text in ["", "<a href=\"x\">'&", "plain, 7 °C"] {
            assert_eq!(super::html_len(text), super::html(text).len());
        }
    }

    #[test]
    fn json_in_a_script_neither_ends_it_nor_breaks_its_lines() {
        #[track_caller]
        fn case(text: &str, expected: &str) {
            let safe = super::script_json(serde_json::json!([text]).to_string());
            assert_eq!(safe, expected);
            assert_eq!(serde_json::from_str::<Vec<String>>(&safe).expect("JSON"), [text]);
        }
        case("7 °C, > 3", r#"["7 °C, > 3"]"#);
        case("</script><!-- \"x\"", r#"["\u003c/script>\u003c!-- \"x\""]"#);
        case("a\u{2028}b\u{2029}c", r#"["a\u2028b\u2029c"]"#);
        // A backslash of the text stays one: what stands before it is escaped by the JSON itself.
        case("\\<", r#"["\\\u003c"]"#);
        assert_eq!(super::script_json(String::new()), "");
    }

    #[test]
    fn nothing_of_a_text_becomes_markup() {
        assert_eq!(super::html("<a href=\"x\">'&"), "&lt;a href=&quot;x&quot;&gt;&#39;&amp;");
        assert_eq!(super::url("a b/ü?x=%20&y"), "a%20b/%C3%BC?x=%20&y");
    }
}
