//! The plain words of HTML that this program has made itself.

/// Tags that stand within a line; all others part words.
const INLINE: [&str; 9] = ["a", "abbr", "b", "code", "em", "i", "span", "strong", "sup"];

/// Text without tags, with characters for the five entities that `escape::html` writes, each run of
/// white space one space. What it is given is well formed: a `<` always begins a tag.
#[must_use]
pub fn plain_text(html: &str) -> String {
    let mut raw = String::with_capacity(html.len());
    let mut rest = html;
    while let Some(at) = rest.find(['<', '&']) {
        let (before, from) = rest.split_at(at);
        raw.push_str(before);
        if let Some(tag) = from.strip_prefix('<') {
            let end = tag.find('>').unwrap_or(tag.len());
            let name = tag.trim_start_matches('/');
            let name = name.split(|letter: char| !letter.is_ascii_alphanumeric()).next().unwrap_or_default();
            if !INLINE.contains(&name) {
                raw.push(' ');
            }
            rest = tag.get(end + 1..).unwrap_or_default();
        } else {
            let known = [("&amp;", '&'), ("&lt;", '<'), ("&gt;", '>'), ("&quot;", '"'), ("&#39;", '\'')];
            match known.iter().find_map(|(entity, letter)| Some((from.strip_prefix(entity)?, *letter))) {
                Some((after, letter)) => {
                    raw.push(letter);
                    rest = after;
                }
                None => {
                    raw.push('&');
                    rest = from.get(1..).unwrap_or_default();
                }
            }
        }
    }
    raw.push_str(rest);
    tidy(&raw)
}

/// Each run of white space one space, none at the ends.
#[must_use]
pub fn tidy(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for word in text.split_whitespace() {
        if !out.is_empty() {
            out.push(' ');
        }
        out.push_str(word);
    }
    out
}

/// One behind the other, each with an end.
#[must_use]
pub fn sentences(all: impl IntoIterator<Item = String>) -> String {
    let mut out = String::new();
    for words in all {
        let words = words.trim();
        if words.is_empty() {
            continue;
        }
        if !out.is_empty() {
            out.push_str(if out.ends_with(|last: char| last.is_alphanumeric() || last == ')') { ". " } else { " " });
        }
        out.push_str(words);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn case(html: &str, text: &str) {
        assert_eq!(plain_text(html), text);
    }

    #[test]
    fn tags_go_and_words_stay_apart() {
        case("<p>Drain the <b>oil</b>.</p>\n<p>Wait.</p>", "Drain the oil. Wait.");
        case("<ul><li>one</li><li>two</li></ul>", "one two");
        case("Fill with <span class=\"fig\"><b>7.5 L</b> <i>(2.0 US gal)</i></span>", "Fill with 7.5 L (2.0 US gal)");
        case("in<sup>2</sup> a<br>b", "in2 a b");
        case("a &lt;b&gt; &amp;amp; &quot;c&quot; &#39;d&#39; &nbsp;", "a <b> &amp; \"c\" 'd' &nbsp;");
        case("", "");
    }

    #[test]
    fn what_is_not_well_formed_loses_no_earlier_words() {
        case("words <img alt=\"x", "words");
        case("a & b", "a & b");
    }

    proptest::proptest! {
        #[test]
        fn escaped_text_comes_back(text in "\\PC{0,60}") {
            proptest::prop_assert_eq!(plain_text(&crate::site::escape::html(&text)), tidy(&text));
        }
    }
}
