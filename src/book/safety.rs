//! Marks in the cautions of `safety`, which stand in the front matter and belong to no step: names of figures alone.

use super::diagnostic::Notes;
use super::mark;
use super::outline::{Mark, MarkKind};
use super::source::{Name, Span};

/// A stretch of such a caution.
#[derive(Debug, PartialEq, Eq)]
pub enum Piece<'t> {
    Words(&'t str),
    /// What stands between two braces.
    Mark(&'t str),
    /// A brace that is opened and not closed.
    Open,
}

/// The stretches of a caution, in order. `\{` and `\}` are plain braces.
#[must_use]
pub fn pieces(text: &str) -> Vec<Piece<'_>> {
    let mut pieces = Vec::new();
    let mut start = 0;
    let mut at = 0;
    while let Some(found) = text[at..].find(['{', '\\']).map(|found| at + found) {
        let behind = &text[found + 1..];
        at = found + 1;
        if text[found..].starts_with('\\') {
            if behind.starts_with(['{', '}']) {
                pieces.push(Piece::Words(&text[start..found]));
                start = at;
                at += 1;
            }
            continue;
        }
        pieces.push(Piece::Words(&text[start..found]));
        start = at;
        match behind.find(['{', '}']) {
            Some(end) if behind[end..].starts_with('}') => {
                pieces.push(Piece::Mark(&behind[..end]));
                at += end + 1;
                start = at;
            }
            _ => pieces.push(Piece::Open),
        }
    }
    pieces.push(Piece::Words(&text[start..]));
    pieces.retain(|piece| *piece != Piece::Words(""));
    pieces
}

/// Reads the marks of these cautions, in order, and says which do not belong there.
pub(super) fn marks(notes: &mut Notes<'_>, cautions: &[Name]) -> Vec<Mark> {
    let mut marks = Vec::new();
    for caution in cautions {
        let mut from = caution.span.start as usize;
        for piece in pieces(&caution.value) {
            match piece {
                Piece::Words(_) => {}
                Piece::Open => {
                    let span = place(notes, caution.span, &mut from, "{");
                    notes.error(
                        "mark-unclosed",
                        span,
                        "this brace is opened and not closed",
                        "close it with `}`; a plain brace is `\\{`, in double quotes `\\\\{`",
                    );
                }
                Piece::Mark(inner) => {
                    let span = place(notes, caution.span, &mut from, &format!("{{{inner}}}"));
                    let kind = read(notes, inner, span);
                    marks.push(Mark { span, kind });
                }
            }
        }
    }
    marks
}

fn read(notes: &mut Notes<'_>, inner: &str, span: Span) -> MarkKind {
    match mark::parse(inner, span) {
        Ok(kind @ MarkKind::Name(_)) => return kind,
        Ok(_) => notes.error(
            "mark-place",
            span,
            format!("`{{{inner}}}` stands in `safety`, which belongs to no step"),
            "write it in the step, or in a caution there: `> WARNING: …`; here stand only names of figures",
        ),
        Err(problem) => notes.error("mark", span, problem.message, problem.remedy),
    }
    MarkKind::Broken
}

/// Where something stands that was written in a value, behind what was found before it. Signs that YAML reads as others,
/// and line ends, hide it: then it is the whole value.
fn place(notes: &Notes<'_>, value: Span, from: &mut usize, written: &str) -> Span {
    let rest = Span::new(*from, value.end as usize);
    let Some(found) = notes.source().slice(rest).find(written) else { return value };
    let start = *from + found;
    *from = start + written.len();
    Span::new(start, *from)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::load::guide_of;
    use crate::book::source::Source;

    #[test]
    fn braces_part_a_caution() {
        use Piece::{Mark, Open, Words};
        assert_eq!(pieces("Leave {gap} free."), [Words("Leave "), Mark("gap"), Words(" free.")]);
        assert_eq!(pieces("{a}{b}"), [Mark("a"), Mark("b")]);
        assert_eq!(pieces("a \\{b\\} \\c"), [Words("a "), Words("{b"), Words("} \\c")]);
        assert_eq!(pieces("{a {b}"), [Open, Words("a "), Mark("b")]);
        assert_eq!(pieces("ä } {"), [Words("ä } "), Open]);
        assert_eq!(pieces(""), []);
    }

    #[test]
    fn only_names_stand_in_safety() {
        let text = "---\ntitle: A job\nvalues: {gap: 3 mm}\nsafety: [\"Leave {gap} free. {isolate gas bottle} {}\", '{gap} and {read x} {']\n---\n1. Do it.\n";
        let (guide, problems) = guide_of(&Source::new("guides/engine/a.md", text));
        let told = problems.iter().map(|one| format!("{}:{} {}", one.place.line, one.place.column, one.rule));
        assert_eq!(told.collect::<Vec<_>>(), ["4:29 mark-place", "4:50 mark", "4:66 mark-place", "4:75 mark-unclosed"]);
        let marks = guide.expect("a guide").outline.loose_marks.clone();
        let names = marks.iter().map(|mark| matches!(&mark.kind, MarkKind::Name(name) if name == "gap"));
        assert_eq!(names.collect::<Vec<_>>(), [true, false, false, true, false]);
    }

    #[test]
    fn a_figure_that_cannot_be_read_is_told_once() {
        let text = "---\ntitle: A job\ntorque: [{at: bolt, value: 3 L}]\nsafety: [\"Never above {bolt}.\"]\n---\n1. Do it.\n";
        let (guide, problems) = guide_of(&Source::new("guides/engine/a.md", text));
        assert_eq!(problems.iter().map(|one| one.rule).collect::<Vec<_>>(), ["bad-figure"]);
        // Nothing is looked up for it.
        assert_eq!(guide.expect("a guide").outline.loose_marks[0].kind, MarkKind::Broken);
    }
}
