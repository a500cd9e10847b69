//! The plain words of HTML that this program has made itself.

/// Tags that stand within a line; all others part words.
const INLINE: [&str; 9] = ["a", "abbr", "b", "code", "em", "i", "span", "strong", "sup"];

/// Text without tags, with characters for the five entities that `escape::html` writes, each run of
/// white space one space. What it is given is well formed: a `<` always begins a tag.
#[must_use]
pub fn plain_text(html: &str) -> String {
    let mut text = Tidy::with_capacity(html.len());
    let mut rest = html;
    while let Some(at) = rest.bytes().position(|byte| byte == b'<' || byte == b'&') {
        let (before, from) = rest.split_at(at);
        text.push(before);
        if let Some(tag) = from.strip_prefix('<') {
            let end = tag.find('>').unwrap_or(tag.len());
            let name = tag.trim_start_matches('/');
            let name = name.split(|letter: char| !letter.is_ascii_alphanumeric()).next().unwrap_or_default();
            if !INLINE.contains(&name) {
                text.part();
            }
            rest = tag.get(end + 1..).unwrap_or_default();
        } else {
            let known = [("&amp;", "&"), ("&lt;", "<"), ("&gt;", ">"), ("&quot;", "\""), ("&#39;", "'"), ("&", "&")];
            let found = known.iter().find_map(|(entity, letter)| Some((from.strip_prefix(entity)?, *letter)));
            let (after, letter) = found.unwrap_or_default();
            text.push(letter);
            rest = after;
        }
    }
    text.push(rest);
    text.out
}

/// Text in the making, in which each run of white space is one space, with none at the ends.
struct Tidy {
    out: String,
    /// White space stands before what comes next.
    gap: bool,
}

impl Tidy {
    fn with_capacity(bytes: usize) -> Self {
        Self { out: String::with_capacity(bytes), gap: false }
    }

    fn push(&mut self, text: &str) {
        for (at, word) in text.split(char::is_whitespace).enumerate() {
            self.gap |= at > 0;
            if word.is_empty() {
                continue;
            }
            if self.gap && !self.out.is_empty() {
                self.out.push(' ');
            }
            self.gap = false;
            self.out.push_str(word);
        }
    }

    /// What comes next is another word.
    fn part(&mut self) {
        self.gap = true;
    }
}

/// One behind the other, each with an end.
#[must_use]
pub fn sentences(all: impl IntoIterator<Item = impl AsRef<str>>) -> String {
    let mut out = String::new();
    for words in all {
        let words = words.as_ref().trim();
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
            proptest::prop_assert_eq!(plain_text(&crate::site::escape::html(&text)), text.split_whitespace().collect::<Vec<_>>().join(" "));
        }
    }
}
