//! Text into HTML, and into link targets.

use std::fmt::Write as _;

/// Escapes text for element content and for attribute values in double quotes.
#[must_use]
pub fn html(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 8);
    for character in text.chars() {
        match character {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            other => out.push(other),
        }
    }
    out
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
    fn nothing_of_a_text_becomes_markup() {
        assert_eq!(super::html("<a href=\"x\">'&"), "&lt;a href=&quot;x&quot;&gt;&#39;&amp;");
        assert_eq!(super::url("a b/ü?x=%20&y"), "a%20b/%C3%BC?x=%20&y");
    }
}
