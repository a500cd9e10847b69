//! The difference of two revisions of a guide, line by line, for reading.

use super::hidden::shown;
use similar::{ChangeTag, TextDiff};

/// Lines that are the same and shown round a change.
const AROUND: usize = 2;
/// The most lines that are shown.
const MOST_LINES: usize = 200;
/// Texts with more lines together are not compared.
const MOST_COMPARED: usize = 20_000;

/// What differs: `-` before a line of ours, `+` before one of theirs, ` ` before what both have.
#[must_use]
pub fn difference(ours: &str, theirs: &str) -> Vec<String> {
    if ours.lines().count() + theirs.lines().count() > MOST_COMPARED {
        return vec!["(too long to be compared)".to_owned()];
    }
    let diff = TextDiff::from_lines(ours, theirs);
    let mut lines = Vec::new();
    for (at, group) in diff.grouped_ops(AROUND).iter().enumerate() {
        if at > 0 {
            lines.push("  …".to_owned());
        }
        for change in group.iter().flat_map(|op| diff.iter_changes(op)) {
            let sign = match change.tag() {
                ChangeTag::Delete => '-',
                ChangeTag::Insert => '+',
                ChangeTag::Equal => ' ',
            };
            lines.push(format!("{sign} {}", shown(change.value().trim_end_matches('\n'))));
        }
    }
    if lines.len() > MOST_LINES {
        let more = lines.len() - MOST_LINES;
        lines.truncate(MOST_LINES);
        lines.push(format!("  … and {more} more lines"));
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::difference;

    #[test]
    fn what_was_changed_stands_between_what_was_not() {
        let ours = "a\nb\nc\nd\n35 N·m\nf\ng\nh\n";
        let theirs = "a\nb\nc\nd\n40 N·m\u{202e}\nf\ng\nh\n";
        assert_eq!(difference(ours, theirs), ["  c", "  d", "- 35 N·m", "+ 40 N·m⟨U+202E⟩", "  f", "  g"]);
        assert!(difference(ours, ours).is_empty());
    }
}
