//! Fenced code to HTML: spans with a few class names of our own, coloured by the theme.
//!
//! The grammars name some hundreds of scopes; here they become a dozen classes, so that pages stay light and
//! a theme has little to style. Only classes are written, never colours. The text itself is never changed:
//! with the tags taken out and the entities read, the HTML is the code again.

use std::sync::LazyLock;
use syntect::parsing::{ParseState, Scope, ScopeStack, ScopeStackOp, SyntaxDefinition, SyntaxReference, SyntaxSet, SyntaxSetBuilder};

/// Every class a span can carry, in the order a theme may want to style them.
pub const CLASSES: [&str; 12] = [
    "c-comment",
    "c-string",
    "c-number",
    "c-constant",
    "c-keyword",
    "c-operator",
    "c-name",
    "c-variable",
    "c-punctuation",
    "c-inserted",
    "c-deleted",
    "c-invalid",
];

/// Longer lines are left without colour: some grammars take quadratic time over a line.
const LONGEST_LINE: usize = 2_000;
/// Longer blocks are left without colour: nobody reads them, and each page would take seconds.
const LONGEST_CODE: usize = 200_000;

/// Which class the text of a scope gets; the first row that fits wins, so the narrower scope stands first.
/// An empty class means: look at the scope outside this one.
const CLASS_OF_SCOPE: [(&str, &str); 28] = [
    ("comment", "c-comment"),
    // A sign that opens something belongs to it: quotes to their string, a plus to the line it adds.
    ("punctuation.definition.comment", ""),
    ("punctuation.definition.string", ""),
    ("punctuation.definition.inserted", ""),
    ("punctuation.definition.deleted", ""),
    ("constant.numeric", "c-number"),
    ("constant", "c-constant"),
    ("string", "c-string"),
    ("keyword.operator", "c-operator"),
    ("keyword", "c-keyword"),
    // `storage.type.function` and its kind are the words that declare things.
    ("storage", "c-keyword"),
    ("entity.name", "c-name"),
    ("entity.other.attribute-name", "c-variable"),
    ("entity", "c-name"),
    ("support.function", "c-name"),
    ("support.type.property-name", "c-variable"),
    ("support.constant", "c-constant"),
    ("support", "c-name"),
    ("variable.function", "c-name"),
    ("variable", "c-variable"),
    ("punctuation", "c-punctuation"),
    ("markup.inserted", "c-inserted"),
    ("markup.deleted", "c-deleted"),
    ("markup.heading", "c-keyword"),
    ("markup.raw", "c-string"),
    ("markup.underline.link", "c-string"),
    ("meta.diff.header", "c-comment"),
    ("invalid", "c-invalid"),
];

static CLASS_TABLE: LazyLock<Vec<(Scope, &'static str)>> = LazyLock::new(|| {
    let row = |&(scope, class): &(&str, &'static str)| Scope::new(scope).ok().map(|s| (s, class));
    CLASS_OF_SCOPE.iter().filter_map(row).collect()
});

/// Our own grammars. Kept apart from the defaults, because linking a set anew takes a hundred times as long as loading it.
static OUR_GRAMMARS: LazyLock<SyntaxSet> = LazyLock::new(|| {
    let mut builder = SyntaxSetBuilder::new();
    let nmea = include_str!("grammars/nmea-0183.sublime-syntax");
    // A grammar that cannot be read would leave its language uncoloured; a test reads it.
    if let Ok(grammar) = SyntaxDefinition::load_from_str(nmea, true, None) {
        builder.add(grammar);
    }
    builder.build()
});

static DEFAULT_GRAMMARS: LazyLock<SyntaxSet> = LazyLock::new(SyntaxSet::load_defaults_newlines);

/// The inner HTML of a `<code>` element: `code` escaped, with a `<span class="c-…">` around what its
/// language names. `info` is the info string of the fence, whose first word is the language.
///
/// `None` when the language is not known: then the caller escapes the code. Lines of more than 2,000
/// bytes, and all of a block of more than 200,000, are escaped and left without spans.
///
/// ```text
/// highlight("$IIMTW,17.9,C*1C", "nmea")
/// ```
#[must_use]
pub fn highlight(code: &str, info: &str) -> Option<String> {
    let (grammars, syntax) = find_syntax(language(info)?)?;
    let mut html = SpanWriter::with_capacity(code.len() * 2);
    if code.len() > LONGEST_CODE {
        html.push(code, "");
    } else {
        write_highlighted(&mut html, code, grammars, syntax);
    }
    Some(html.finish())
}

/// The language a fence names: its first word, without the braces and dots some write around it.
fn language(info: &str) -> Option<&str> {
    let word = info.split(|c: char| c.is_whitespace() || c == ',' || c == ';').find(|word| !word.is_empty())?;
    let word = word.trim_start_matches(['{', '.']).trim_end_matches('}');
    (!word.is_empty()).then_some(word)
}

fn find_syntax(language: &str) -> Option<(&'static SyntaxSet, &'static SyntaxReference)> {
    let lower = language.to_lowercase();
    let search = |set: &'static SyntaxSet| set.find_syntax_by_token(&lower).map(|found| (set, found));
    search(&OUR_GRAMMARS).or_else(|| search(&DEFAULT_GRAMMARS))
}

fn write_highlighted(html: &mut SpanWriter, code: &str, grammars: &SyntaxSet, syntax: &SyntaxReference) {
    let mut parser = ParseState::new(syntax);
    let mut scopes = ScopeStack::new();
    for line in code.split_inclusive('\n') {
        let operations = if line.len() > LONGEST_LINE {
            None
        } else if line.ends_with('\n') {
            parser.parse_line(line, grammars).ok()
        } else {
            // The grammars are written for lines with an end, which the last line may lack.
            parser.parse_line(&format!("{line}\n"), grammars).ok()
        };
        match operations {
            Some(operations) => write_line(html, line, &operations, &mut scopes),
            None => html.push(line, ""),
        }
    }
}

/// Cuts a line where its scopes change. A place past the line or inside a character, which no grammar
/// should give, moves to the nearest place that holds, so that no text is lost or said twice.
fn write_line(html: &mut SpanWriter, line: &str, operations: &[(usize, ScopeStackOp)], scopes: &mut ScopeStack) {
    let mut done = 0;
    for (place, operation) in operations {
        let place = line.floor_char_boundary(*place).max(done);
        html.push(line.get(done..place).unwrap_or_default(), class_of(scopes));
        done = place;
        if scopes.apply(operation).is_err() {
            *scopes = ScopeStack::new();
        }
    }
    html.push(line.get(done..).unwrap_or_default(), class_of(scopes));
}

/// The class of the innermost scope that has one; empty for plain text.
fn class_of(scopes: &ScopeStack) -> &'static str {
    let class_of_scope = |scope: &Scope| {
        let row = CLASS_TABLE.iter().find(|(prefix, _)| prefix.is_prefix_of(*scope));
        row.map_or("", |(_, class)| class)
    };
    let classes = scopes.as_slice().iter().rev().map(class_of_scope);
    classes.into_iter().find(|class| !class.is_empty()).unwrap_or("")
}

/// Writes escaped text in spans that never nest; neighbours of one class share a span.
struct SpanWriter {
    html: String,
    open: &'static str,
}

impl SpanWriter {
    fn with_capacity(bytes: usize) -> Self {
        Self { html: String::with_capacity(bytes), open: "" }
    }

    fn push(&mut self, text: &str, class: &'static str) {
        if text.is_empty() {
            return;
        }
        // A blank shows no colour, so it need not end a span; but a line end does, to keep lines apart.
        let blank = text.bytes().all(|byte| byte == b' ' || byte == b'\t');
        if class != self.open && !blank {
            self.close();
            if !class.is_empty() {
                self.html.push_str("<span class=\"");
                self.html.push_str(class);
                self.html.push_str("\">");
                self.open = class;
            }
        }
        escape_into(&mut self.html, text);
    }

    fn close(&mut self) {
        if !self.open.is_empty() {
            self.html.push_str("</span>");
            self.open = "";
        }
    }

    fn finish(mut self) -> String {
        self.close();
        self.html
    }
}

fn escape_into(html: &mut String, text: &str) {
    for character in text.chars() {
        match character {
            '&' => html.push_str("&amp;"),
            '<' => html.push_str("&lt;"),
            '>' => html.push_str("&gt;"),
            '"' => html.push_str("&quot;"),
            _ => html.push(character),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use syntect::parsing::syntax_definition::Pattern;

    const LANGUAGES: [&str; 12] = ["nmea", "rust", "sh", "yaml", "python", "c", "html", "json", "markdown", "sql", "diff", "rb"];

    /// Takes out the tags and reads the entities, and checks on the way that the spans are balanced.
    #[track_caller]
    fn code_of(html: &str) -> String {
        let mut code = String::new();
        let mut rest = html;
        let mut open = 0;
        while let Some((text, after)) = rest.split_once('<') {
            code.push_str(text);
            let (tag, after) = after.split_once('>').expect("a tag ends");
            if tag == "/span" {
                open -= 1;
            } else {
                let class = tag.strip_prefix("span class=\"").and_then(|rest| rest.strip_suffix('"')).expect("only spans with a class");
                assert!(CLASSES.contains(&class), "{class}");
                open += 1;
            }
            assert!((0..=1).contains(&open), "spans are closed and never nest");
            rest = after;
        }
        code.push_str(rest);
        assert_eq!(open, 0, "every span is closed");
        code.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"").replace("&amp;", "&")
    }

    #[track_caller]
    fn case(info: &str, code: &str, expected: &str) {
        let html = highlight(code, info).expect("a known language");
        assert_eq!(html, expected);
        assert_eq!(code_of(&html), code);
    }

    #[test]
    fn a_sentence_shows_talker_kind_fields_and_checksum() {
        // Fields as in check values: gpsd's notes on NMEA 0183.
        case(
            "nmea",
            "$IIMTW,17.9,C*1C\n",
            "<span class=\"c-punctuation\">$</span><span class=\"c-variable\">II</span>\
             <span class=\"c-name\">MTW</span><span class=\"c-punctuation\">,</span>\
             <span class=\"c-number\">17.9</span><span class=\"c-punctuation\">,</span>\
             <span class=\"c-string\">C</span><span class=\"c-punctuation\">*</span>\
             <span class=\"c-keyword\">1C</span>\n",
        );
        case(
            "nmea0183",
            "# a <comment>\n$PXYZ,5",
            "<span class=\"c-comment\"># a &lt;comment&gt;</span>\n\
             <span class=\"c-punctuation\">$</span><span class=\"c-variable\">P</span>\
             <span class=\"c-name\">XYZ</span><span class=\"c-punctuation\">,</span>\
             <span class=\"c-number\">5</span>",
        );
        case(
            "NMEA-0183 first lines",
            "$IIMTW,17.9,C*1",
            "<span class=\"c-punctuation\">$</span><span class=\"c-variable\">II</span>\
             <span class=\"c-name\">MTW</span><span class=\"c-punctuation\">,</span>\
             <span class=\"c-number\">17.9</span><span class=\"c-punctuation\">,</span>\
             <span class=\"c-string\">C</span><span class=\"c-invalid\">*1</span>",
        );
    }

    #[test]
    fn each_sentence_starts_afresh_however_the_last_one_ended() {
        let line = "!AIVDM,1,1,,B,177KQJ5000G?tO`K>RA1wUbN0TKH,0*5C\n";
        let whole = highlight(line, "nmea").expect("nmea is known");
        for before in ["$IIMTW,17.9\n", "$IIMTW*\n", "$IIMTW,*zz*1C\r\n", "prose\n", "$II\n"] {
            let html = highlight(&format!("{before}{line}"), "nmea").expect("nmea is known");
            assert!(html.ends_with(&whole), "{html}");
        }
    }

    #[test]
    fn the_defaults_are_mapped_to_our_classes() {
        case(
            "sh",
            "echo \"hi\" # say\n",
            "<span class=\"c-name\">echo </span><span class=\"c-string\">&quot;hi&quot; </span>\
             <span class=\"c-comment\"># say\n</span>",
        );
        case("diff", "-old\n+new\n", "<span class=\"c-deleted\">-old\n</span><span class=\"c-inserted\">+new\n</span>");
    }

    #[test]
    fn the_language_is_the_first_word() {
        for info in ["rust", "Rust", "rust,ignore", " rs title=x", "{.rust}", "RUST;x"] {
            assert!(highlight("fn main() {}", info).is_some(), "{info}");
        }
        for info in ["", "  ", "{}", "no-such-language", "…", "text of a label"] {
            assert_eq!(highlight("a < b", info), None, "{info}");
        }
    }

    #[test]
    fn long_lines_and_long_blocks_are_left_alone() {
        let long = "if [ -f x ]; then echo \"<\"; ".repeat(100);
        case("sh", &long, &long.replace('"', "&quot;").replace('<', "&lt;"));
        let around = format!("# before\n{long}\n# after\n");
        let html = highlight(&around, "sh").expect("sh is known");
        assert_eq!(html.matches("c-comment").count(), 2);
        assert_eq!(code_of(&html), around);
        let block = "echo hi\n".repeat(30_000);
        case("sh", &block, &block);
    }

    #[test]
    fn every_pattern_of_every_grammar_compiles() {
        // The grammars compile their patterns when first met, and panic on one that they cannot.
        let sets = [OUR_GRAMMARS.clone(), DEFAULT_GRAMMARS.clone()];
        let mut seen = 0;
        for set in sets {
            for grammar in set.into_builder().syntaxes() {
                let names: std::collections::BTreeMap<_, _> = grammar.contexts.iter().collect();
                for (name, context) in names {
                    for pattern in &context.patterns {
                        if let Pattern::Match(pattern) = pattern
                            && !pattern.has_captures
                        {
                            seen += 1;
                            let text = pattern.regex.regex_str();
                            let problem = syntect::parsing::Regex::try_compile(text);
                            assert!(problem.is_none(), "{} {name}: {text}", grammar.name);
                        }
                    }
                }
            }
        }
        assert!(seen > 5_000, "only {seen} patterns seen");
    }

    #[test]
    fn the_rows_of_the_table_are_scopes_and_their_classes_are_listed() {
        assert_eq!(CLASS_TABLE.len(), CLASS_OF_SCOPE.len());
        for (_, class) in CLASS_OF_SCOPE {
            assert!(class.is_empty() || CLASSES.contains(&class), "{class}");
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(200))]
        #[test]
        fn any_text_comes_back_from_the_html(
            code in prop_oneof![
                "(?s:.){0,300}",
                "([$!]?[A-Za-z]{0,5}[,*<>&\"'`{}()\\[\\]#/\\\\=:;\\-+|\r\n \t0-9]{1,3}){0,60}",
                "(fn |<script>|def |end|<<EOF|'''|\"\"\"|/\\*|\\*/|<!--|-->|&amp;|%q\\{|#\\{|\\$\\{|```|---|\n){0,60}",
            ],
            language in prop::sample::select(LANGUAGES.to_vec()),
        ) {
            let html = highlight(&code, language).expect("a known language");
            prop_assert_eq!(code_of(&html), code);
        }
    }

    #[test]
    fn every_language_takes_a_soup_of_tokens() {
        let soup = "class A < B; def f(x): \"a #{b} ${c}\" /* ' */ // <!-- <?php ?> <script>`x`</script>\n\
                    @a {b: c;} #if 0\n{{% %}} \\begin{x} %q{y} <<EOF\n EOF $$x$$ --- ... |- => ::\n\u{feff}é\0\r\n"
            .repeat(3);
        for syntax in DEFAULT_GRAMMARS.syntaxes() {
            for token in syntax.file_extensions.iter().chain([&syntax.name]) {
                if let Some(html) = highlight(&soup, token) {
                    assert_eq!(code_of(&html), soup, "{token}");
                }
            }
        }
    }
}
