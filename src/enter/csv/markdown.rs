//! The words of a cell as Markdown: what is written comes out as it is written.

/// Plain words as Markdown: what would be a mark is escaped, and line breaks stay.
#[must_use]
pub fn plain(words: &str) -> String {
    let mut lines: Vec<String> = Vec::new();
    for line in words.lines().map(str::trim) {
        // A backslash at its end breaks the line, where another follows in the same paragraph.
        if let Some(last) = lines.last_mut()
            && !last.is_empty()
            && !line.is_empty()
        {
            last.push('\\');
        }
        lines.push(escaped(line));
    }
    lines.join("\n")
}

fn escaped(line: &str) -> String {
    let digits = line.bytes().take_while(u8::is_ascii_digit).count();
    let mut out = String::with_capacity(line.len());
    for (at, letter) in line.char_indices() {
        let anywhere = matches!(letter, '\\' | '`' | '*' | '_' | '[' | ']' | '<' | '>' | '&' | '~' | '|');
        let at_start = at == 0 && matches!(letter, '#' | '-' | '+' | '=' | ':');
        let after_number = digits > 0 && at == digits && matches!(letter, '.' | ')');
        if anywhere || at_start || after_number {
            out.push('\\');
        }
        out.push(letter);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// The text that a Markdown reader (`comrak`, the outside reference) sees.
    fn seen(markdown: &str) -> String {
        let html = comrak::markdown_to_html(markdown, &comrak::Options::default());
        let text = html.replace("<br />\n", "\n").replace("</p>\n<p>", "\n\n");
        let text = text.trim().trim_start_matches("<p>").trim_end_matches("</p>").to_owned();
        text.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"").replace("&amp;", "&")
    }

    #[test]
    fn words_come_out_as_they_are_written() {
        for words in [
            "Weep at *both* seals_of_pump",
            "# 3 cylinder",
            "1. not a list",
            "- no list\n- no more",
            "a\n===",
            "<b>no</b> &amp; [x](y)",
            "`code` ![x](y.jpg)",
            "one\n\nother",
            "> 5 bar",
            "back\\slash\\",
            "~~~",
            "2026) x",
        ] {
            assert_eq!(seen(&plain(words)), words, "from {}", plain(words));
        }
    }

    proptest! {
        #[test]
        fn any_line_comes_out_as_it_is_written(words in "[ -~]{1,40}") {
            let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
            prop_assert_eq!(seen(&plain(&words)), words);
        }
    }
}
