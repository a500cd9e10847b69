//! Style sheets and scripts made smaller: comments, and white space that says nothing, left out.
//!
//! A phone loads them before it shows anything. Nothing is understood here, so nothing can be broken:
//! in style sheets text in quotes stays, and a space wherever it could part two words; of scripts only
//! comments that have their lines to themselves go, and in a file by itself what stands before a line.

/// The same rules in fewer bytes.
#[must_use]
pub fn smaller(css: &str) -> String {
    let mut small = String::with_capacity(css.len());
    let mut rest = css;
    while let Some(next) = rest.chars().next() {
        if let Some(comment) = rest.strip_prefix("/*") {
            rest = comment.split_once("*/").map_or("", |(_, after)| after);
            space(&mut small);
        } else if next == '"' || next == '\'' {
            let end = quoted(rest, next);
            small.push_str(rest.get(..end).unwrap_or(rest));
            rest = rest.get(end..).unwrap_or_default();
        } else if next.is_ascii_whitespace() {
            rest = rest.trim_start_matches(|c: char| c.is_ascii_whitespace());
            space(&mut small);
        } else {
            if matches!(next, '{' | '}' | ';' | ',') {
                while small.ends_with(' ') {
                    small.pop();
                }
            }
            if next == '}' && small.ends_with(';') {
                small.pop();
            }
            small.push(next);
            rest = rest.get(next.len_utf8()..).unwrap_or_default();
        }
    }
    small.truncate(small.trim_end().len());
    small.push('\n');
    small
}

/// The same script without the comments that have their lines to themselves.
#[must_use]
pub fn uncommented(script: &str) -> String {
    let mut small = String::with_capacity(script.len());
    let mut lines = script.lines();
    while let Some(line) = lines.next() {
        if !line.trim_start().starts_with("/*") {
            small.push_str(line);
            small.push('\n');
            continue;
        }
        let mut last = line;
        while !last.contains("*/") {
            let Some(next) = lines.next() else { break };
            last = next;
        }
        // Code after a comment stays.
        if let Some((_, code)) = last.split_once("*/")
            && !code.trim().is_empty()
        {
            small.push_str(code);
            small.push('\n');
        }
    }
    small
}

/// The same script with its lines at the margin. One with a text that may run over lines is left as it is.
#[must_use]
pub fn flush_left(script: &str) -> String {
    if script.contains('`') {
        return script.to_owned();
    }
    script.lines().flat_map(|line| [line.trim_start_matches([' ', '\t']), "\n"]).collect()
}

/// One space, unless what stands before needs none: no selector has one behind a colon.
fn space(small: &mut String) {
    if !small.is_empty() && !small.ends_with([' ', '{', '}', ';', ',', ':']) {
        small.push(' ');
    }
}

/// Bytes of a text in quotes, with them.
fn quoted(text: &str, quote: char) -> usize {
    let mut escaped = false;
    for (at, c) in text.char_indices().skip(1) {
        match c {
            _ if escaped => escaped = false,
            '\\' => escaped = true,
            c if c == quote => return at + 1,
            _ => {}
        }
    }
    text.len()
}

#[cfg(test)]
mod tests {
    use super::{flush_left, smaller, uncommented};

    #[track_caller]
    fn case(css: &str, expected: &str) {
        assert_eq!(smaller(css), format!("{expected}\n"));
    }

    #[test]
    fn comments_and_idle_space_go() {
        case("/* head */\na ,\n b {\n  color : red;\n  margin: 0 1px;\n}\n", "a,b{color :red;margin:0 1px}");
        case("@media (min-width: 40rem) { p { x: y; } }", "@media (min-width:40rem){p{x:y}}");
    }

    #[test]
    fn a_space_that_parts_words_stays() {
        case("a :hover { width: calc(100% - 2rem) }", "a :hover{width:calc(100% - 2rem)}");
        case("a/**/b > c { margin: 0/**/1px }", "a b > c{margin:0 1px}");
    }

    #[test]
    fn text_in_quotes_stays() {
        case(r#"a::before { content: " /* x */ ;  \" } " }"#, r#"a::before{content:" /* x */ ;  \" } "}"#);
        case("a { content: 'never closed ; ", "a{content:'never closed ;");
    }

    #[test]
    fn scripts_lose_comments_on_lines_of_their_own() {
        assert_eq!(uncommented("/* head\n   more */\na(); /* stays */\n  /* goes */\n/* x */ b();\n"), "a(); /* stays */\n b();\n");
        assert_eq!(uncommented("a();\n/* never closed\nb();\n"), "a();\n");
    }

    #[test]
    fn lines_move_to_the_margin_where_no_text_runs_over_them() {
        assert_eq!(flush_left("if (a) {\n  b('  c');\n\t}\n"), "if (a) {\nb('  c');\n}\n");
        assert_eq!(flush_left("a = `\n  b`;\n"), "a = `\n  b`;\n");
    }
}
