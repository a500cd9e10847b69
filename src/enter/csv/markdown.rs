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
    use crate::enter::csv::decode;
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

    #[test]
    fn a_lone_carriage_return_opens_no_heading_and_no_list() {
        let decoded = decode(b"All well\r# Heading\r- item").expect("text");
        assert_eq!(plain(&decoded.text), "All well\\\n\\# Heading\\\n\\- item");
    }

    proptest! {
        #[test]
        fn any_line_comes_out_as_it_is_written(words in "[ -~]{1,40}") {
            let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
            prop_assert_eq!(seen(&plain(&words)), words);
        }

        /// Line ends of every kind (CommonMark 0.31.2, section 2.1: a line feed, a carriage return, or both) are line
        /// breaks, and those with nothing between them part paragraphs.
        #[test]
        fn any_lines_of_a_file_come_out_as_they_are_written(words in "[ -~\r\n]{1,60}") {
            prop_assume!(!words.trim().is_empty());
            let unix = words.replace("\r\n", "\n").replace('\r', "\n");
            let lines: Vec<&str> = unix.split('\n').map(str::trim).collect();
            let paragraphs = lines.split(|line| line.is_empty()).filter(|lines| !lines.is_empty());
            let expected = paragraphs.map(|lines| lines.join("\n")).collect::<Vec<_>>().join("\n\n");
            let decoded = decode(words.as_bytes()).map_err(|problem| TestCaseError::fail(problem.message))?;
            prop_assert_eq!(seen(&plain(&decoded.text)), expected);
        }
    }
}
