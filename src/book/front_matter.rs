//! Cutting a Markdown file into its front matter and its body.
//!
//! The front matter is the YAML between a first line `---` and the next line `---`. A byte-order
//! mark and Windows line ends are accepted, and so are spaces after the hyphens.

use super::diagnostic::Notes;
use super::source::Span;

/// The two parts of a file, without the `---` lines.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct FrontMatter {
    pub yaml: Span,
    pub body: Span,
}

/// Cuts the file; `None` where it has no front matter, or one that never ends or holds nothing
/// (noted as `front-matter`).
pub fn split(notes: &mut Notes<'_>) -> Option<FrontMatter> {
    let text = notes.source().text();
    let start = if text.starts_with('\u{feff}') { '\u{feff}'.len_utf8() } else { 0 };
    let first = line_at(text, start);
    if !is_fence(text, first) {
        let first_words = text.get(first.0..first.1).unwrap_or_default().trim();
        let remedy = if first_words.is_empty() && opens_later(text, start) {
            "take out the empty lines above the first `---`: it must be the first line of the file"
        } else if first_words.len() > 3 && first_words.bytes().all(|byte| byte == b'-') {
            "write exactly three hyphens: `---`"
        } else {
            "begin the file with a line `---`, then its keys such as `title: …`, then another line `---`"
        };
        notes.error("front-matter", Span::new(first.0, first.1), "this file does not begin with its front matter", remedy);
        return None;
    }
    let mut at = next_line(text, first.1);
    let yaml_start = at;
    while at < text.len() {
        let line = line_at(text, at);
        if is_fence(text, line) {
            let yaml = Span::new(yaml_start, at);
            let body = Span::new(next_line(text, line.1), text.len());
            if holds_nothing(notes.source().slice(yaml)) {
                notes.error(
                    "front-matter",
                    Span::new(first.0, first.1),
                    "the front matter is empty",
                    "write the keys between the two `---` lines, one a line: `title: …`",
                );
                return None;
            }
            return Some(FrontMatter { yaml, body });
        }
        at = next_line(text, line.1);
    }
    notes.error(
        "front-matter",
        Span::new(first.0, first.1),
        "the front matter begins here and never ends",
        "put a line `---` after its last key",
    );
    None
}

/// Start and end of the line that begins at `at`, without its line end.
fn line_at(text: &str, at: usize) -> (usize, usize) {
    let rest = text.get(at..).unwrap_or_default();
    (at, rest.find('\n').map_or(text.len(), |end| at + end))
}

fn next_line(text: &str, line_end: usize) -> usize {
    (line_end + 1).min(text.len())
}

fn is_fence(text: &str, (start, end): (usize, usize)) -> bool {
    text.get(start..end).is_some_and(|line| line.trim_end() == "---")
}

fn opens_later(text: &str, start: usize) -> bool {
    let rest = text.get(start..).unwrap_or_default();
    rest.lines().find(|line| !line.trim().is_empty()).is_some_and(|line| line.trim_end() == "---")
}

fn holds_nothing(yaml: &str) -> bool {
    yaml.lines().all(|line| line.trim().is_empty() || line.trim_start().starts_with('#'))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::source::Source;

    #[track_caller]
    fn case(text: &str, yaml: &str, body: &str) {
        let source = Source::new("guides/engine/oil.md", text);
        let mut notes = Notes::new(&source);
        let parts = split(&mut notes).unwrap_or_else(|| panic!("{text:?}: {:?}", notes.found));
        assert_eq!((source.slice(parts.yaml), source.slice(parts.body)), (yaml, body), "for {text:?}");
        assert_eq!(notes.found, []);
    }

    #[track_caller]
    fn refused(text: &str, message: &str, remedy: &str) {
        let source = Source::new("guides/engine/oil.md", text);
        let mut notes = Notes::new(&source);
        assert_eq!(split(&mut notes), None, "for {text:?}");
        let found = &notes.found[0];
        assert_eq!((found.place.line, found.rule), (1, "front-matter"));
        assert!(found.message.contains(message), "{}", found.message);
        assert!(found.remedy.contains(remedy), "{}", found.remedy);
    }

    #[test]
    fn two_lines_of_hyphens_hold_the_front_matter() {
        case("---\na: 1\n---\nbody\n", "a: 1\n", "body\n");
        case("---\r\na: 1\r\n---\r\nbody\r\n", "a: 1\r\n", "body\r\n");
        case("\u{feff}---\na: 1\n---\nbody", "a: 1\n", "body");
        case("--- \t\na: 1\n---  \nbody", "a: 1\n", "body");
        case("---\na: 1\n---", "a: 1\n", "");
        case("---\na: 1\n---\n\n---\nrule above\n", "a: 1\n", "\n---\nrule above\n");
        // Only a line of its own ends it.
        case("---\na: b---\nc: |\n  ---\n----\n---\nx", "a: b---\nc: |\n  ---\n----\n", "x");
    }

    #[test]
    fn what_has_none_is_told_so() {
        refused("", "does not begin", "begin the file");
        refused("# Title\n\ntext", "does not begin", "begin the file");
        refused("\n\n---\na: 1\n---\n", "does not begin", "empty lines");
        refused("-----\na: 1\n-----\n", "does not begin", "exactly three");
        refused("---\na: 1\nbody\n", "never ends", "after its last key");
        refused("---", "never ends", "after its last key");
        refused("---\n---\nbody\n", "is empty", "write the keys");
        refused("---\n\n# a remark\n---\nbody\n", "is empty", "write the keys");
    }
}
