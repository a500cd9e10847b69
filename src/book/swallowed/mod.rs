//! Steps, stages, cautions and marks that Markdown takes for something else than what they look like.
//!
//! Every line that looks like a numbered item or a stage must have become one, or have been told of. What is left over
//! here was swallowed: by HTML, by a comment or a fence that is never closed, by code, by the definition of a link.
//! Only what stands in a comment that is closed, or in code that is, was meant to be no step.

mod look;
mod regions;

use self::look::Look;
use self::regions::{Kind, Region, region_of, regions};
use super::diagnostic::Notes;
use super::markdown::Placed;
use super::source::Span;
use pulldown_cmark::{Event, HeadingLevel, Tag, TagEnd};
use std::collections::HashSet;
use std::ops::Range;

const STEP: &str = "swallowed-step";
const STAGE: &str = "swallowed-stage";

/// Looks through the lines of `body`.
pub(super) fn check(notes: &mut Notes<'_>, body: Span, events: &[Placed<'_>]) {
    let text = notes.source().text();
    let read = read_as_they_look(text, events);
    let regions = regions(text, events);
    let mut at = body.start as usize;
    let mut is_below_blank = true;
    for line in text.get(body.range()).unwrap_or_default().split_inclusive('\n') {
        let mut inner = line.trim_start_matches([' ', '\t', '>']);
        let opens = std::mem::replace(&mut is_below_blank, inner.trim().is_empty());
        let end = at + line.len();
        at = end;
        let mut region = region_of(&regions, end - inner.len());
        // What stands behind a comment is not in it.
        while let Some(Region { kind: Kind::Comment, range }) = region.filter(|region| region.range.end < end) {
            inner = text[range.end..end].trim_start();
            region = region_of(&regions, end - inner.len());
        }
        let place = end - inner.len();
        let look = match region {
            None => Look::of_plain(inner, opens),
            Some(region) => Look::of(line, inner, region.takes_all()),
        };
        let Some(look) = look.filter(|_| !read.as_it_looks.contains(&place)) else { continue };
        let span = Span::new(place + look.start(), place + look.end());
        match region {
            _ if read.nested.contains(&place) => nested(notes, span),
            None => plain(notes, span, look),
            Some(Region { kind: Kind::Indented { told: true }, .. }) => indented(notes, span, look),
            Some(Region { kind: Kind::Html { begin, open, past_a_blank_line }, .. }) => {
                let began = open.filter(|open| *open < place).map_or(Began::Html(*begin), Began::Comment);
                html(notes, span, look, began, *past_a_blank_line);
            }
            Some(Region { kind: Kind::Fence { closed, suspect: true }, range }) => fence(notes, span, look, range, *closed),
            Some(_) => {}
        }
    }
}

/// Where items and headings begin that were read as such.
#[derive(Default)]
struct ReadAs {
    as_it_looks: HashSet<usize>,
    /// Headings of stages that stand inside a step or a list, where none begins.
    nested: HashSet<usize>,
}

fn read_as_they_look(text: &str, events: &[Placed<'_>]) -> ReadAs {
    let mut begun = ReadAs::default();
    let mut depth = 0_usize;
    // What is quoted is shown as it is, and nobody looks for a stage in it.
    let mut quotes = 0_usize;
    for (event, range) in events {
        let place = || range.end - text[range.clone()].trim_start_matches([' ', '\t', '>']).len();
        match event {
            Event::Start(Tag::BlockQuote(_)) => quotes += 1,
            Event::End(TagEnd::BlockQuote(_)) => quotes = quotes.saturating_sub(1),
            Event::Start(Tag::Heading { level: HeadingLevel::H2, .. }) if depth > 0 && quotes == 0 => {
                begun.nested.insert(place());
            }
            Event::Start(Tag::Item | Tag::Heading { .. }) => {
                begun.as_it_looks.insert(place());
            }
            _ => {}
        }
        match event {
            Event::Start(_) => depth += 1,
            Event::End(_) => depth = depth.saturating_sub(1),
            _ => {}
        }
    }
    begun
}

fn plain(notes: &mut Notes<'_>, span: Span, look: Look<'_>) {
    match look {
        Look::Unspaced(signs) if signs.starts_with('#') => {
            let remedy = "put a space after the `#` signs; a stage is `## Drain`";
            notes.error(STAGE, span, "this heading is read as plain text", remedy);
            return;
        }
        Look::Unspaced(number) => {
            notes.error(STEP, span, format!("`{number}` is not read as a numbered item"), "put a space after the number");
            return;
        }
        _ => {}
    }
    let message = format!("{} is swallowed into the text above it", look.what());
    notes.error(look.rule(), span, message, "put a blank line before it, and indent it like the other steps");
}

fn nested(notes: &mut Notes<'_>, span: Span) {
    notes.error(STAGE, span, "this heading stands inside a step or a list, and begins no stage", "put it at the beginning of its line");
}

fn indented(notes: &mut Notes<'_>, span: Span, look: Look<'_>) {
    let (message, remedy) = match look {
        Look::Step(_) => ("this numbered item is indented so far that it is read as code", "indent it like the other steps"),
        _ => ("this heading is indented so far that it is read as code", "do not indent it"),
    };
    notes.error(look.rule(), span, message, remedy);
}

/// Where what swallows a line begins.
#[derive(Debug, Clone, Copy)]
enum Began {
    Comment(usize),
    Html(usize),
}

fn html(notes: &mut Notes<'_>, span: Span, look: Look<'_>, began: Began, past_a_blank_line: bool) {
    let (start, what, remedy) = match began {
        Began::Comment(start) => (start, "comment", "close that comment with `-->` where it should end; a comment cannot stand in another"),
        Began::Html(start) if past_a_blank_line => (start, "HTML", "take the HTML out: it is not read in a guide"),
        Began::Html(start) => (start, "HTML", "put a blank line before it, or take the HTML out: it is not read in a guide"),
    };
    let line = notes.source().place(Span::new(start, start + 1)).line;
    notes.error(look.rule(), span, format!("{} is swallowed by the {what} that begins on line {line}", look.what()), remedy);
}

fn fence(notes: &mut Notes<'_>, span: Span, look: Look<'_>, range: &Range<usize>, closed: bool) {
    let line = notes.source().place(Span::new(range.start, range.start + 1)).line;
    let why = if closed { "and a later one is never closed" } else { "which is never closed" };
    notes.error(
        look.rule(),
        span,
        format!("{} is swallowed by the code block that begins on line {line}, {why}", look.what()),
        "close the code block where the code ends, with a line of the same signs as it begins with",
    );
}

#[cfg(test)]
mod tests {
    use crate::book::diagnostic::tidy;
    use crate::book::load::guide_of;
    use crate::book::source::Source;

    /// The problems of a guide with this body, whose first line is line 1.
    #[track_caller]
    fn case(body: &str, expected: &[&str]) {
        let (_, mut problems) = guide_of(&Source::new("guides/engine/a.md", format!("---\ntitle: A job\n---\n{body}")));
        tidy(&mut problems);
        let found: Vec<String> = problems
            .iter()
            .map(|problem| {
                let place = &problem.place;
                format!("{} {} {}", place.line - 3, &place.excerpt[place.mark.clone()], problem.rule)
            })
            .collect();
        assert_eq!(found, expected, "{body}");
    }

    #[test]
    fn html_swallows_no_step_in_silence() {
        case("1. Pump.\n\n<br>\n2. Close.\n3. Take out.\n\n4. Back.\n", &["4 2. swallowed-step", "5 3. swallowed-step"]);
        case(
            "1. Pump.\n\n<!-- wait\n\n2. Close.\n\n## Refill\n1. Fill.\n",
            &["5 2. swallowed-step", "7 ## swallowed-stage", "8 1. swallowed-step"],
        );
        case("1. Pump.\n\n<!-- wait\n2. Close.\n\n<!-- done -->\n\n3. Back.\n", &["4 2. swallowed-step"]);
        case(
            "1. Pump.\n\n<details>\nShut it. {isolate seacock} {note}\n> WARNING: It floods.\n2) Close.\n</details>\n",
            &["4 {isolate seacock} mark-place", "5 WARNING: caution-word", "6 2) swallowed-step"],
        );
        // Inside a step, and in a quote.
        case("1. Pump.\n\n   <div>\n   2. Close.\n   </div>\n", &["4 2. swallowed-step"]);
        case("> <div>\n> 2. Close.\n", &["2 2. swallowed-step"]);
        case("<pre>\n\n2. Close.\n</pre>\n", &["3 2. swallowed-step"]);
    }

    #[test]
    fn a_number_or_a_heading_without_its_space_is_told() {
        case("1. Pump.\n2.Close.\n", &["2 2. swallowed-step"]);
        case("## One\n1.Open.\n\n- a\n  2)Shut.\n", &["2 1. swallowed-step", "5 2) swallowed-step"]);
        case("##Drain\n1. Pump.\n\n> #Refill\n", &["1 ## swallowed-stage", "4 # swallowed-stage"]);
        // Within a text no heading of one sign is meant, and no number that has a figure behind it.
        case("Take fuse\n#F2 out of\n2.5 mm² wire.\n###Then\n", &["4 ### swallowed-stage"]);
        // Another sign stands before it, or it is code.
        case("1\\.Mai\n\n\\##Drain\n\n| a |\n|---|\n| 2.b |\n\n    2.code\n\n```\n##code\n```\n", &[]);
    }

    #[test]
    fn what_is_commented_out_is_meant() {
        case("1. Pump.\n\n<!-- 2. Close. {isolate cock}\n\n3. Wait.\n## Then\n-->\n\n4. Back.\n", &[]);
        case("Text <!-- so\n2. far --> on\n", &[]);
        case("<div>\n<!-- 1. no -->\n</div>\n", &[]);
        case("1. Pump.\n\n<!-- a --> 2. Close.\n\n<!-- b\n--> 3. Back.\n", &["3 2. swallowed-step", "6 3. swallowed-step"]);
        case("Text <!-- wait\n2. Close.\n<!-- x --> more\n", &["2 2. swallowed-step"]);
        case("<!-- a --> <!--\n2. b -->\n", &[]);
    }

    #[test]
    fn a_stage_inside_something_else_is_told() {
        case("1. Press\n   <kbd>F1</kbd>. {takes 5 min}\n", &[]);
        case("1. Pump.\n   ## Refill\n1. Fill.\n", &["2 ## swallowed-stage"]);
        case("1. Pump.\n\n   ## Refill\n\n   ### So\n", &["3 ## swallowed-stage"]);
        case("> ## Refill\n\n- a\n  ## Drain\n", &["4 ## swallowed-stage"]);
        case("> The maker says:\n>\n> ## Refill\n>\n> - Fill.\n>   ## So\n\n## Do\n1. Do it.\n", &[]);
        case(" ## Refill\n1. Fill.\n", &[]);
    }

    #[test]
    fn a_definition_swallows_no_step_in_silence() {
        case("1. Pump, see [it].\n\n[it]: https://a.example/\n2. Close.\n3. Back.\n", &["4 2. swallowed-step", "5 3. swallowed-step"]);
        case("[it]: https://a.example/\n'a\n2. title'\n\n1. See [it].\n", &["3 2. swallowed-step"]);
        case("| a |\n|---|\n| 2. b |\n", &[]);
        case("Wait\n2. Close.\n----\n", &["2 2. swallowed-step"]);
        case("See [the\n2. link](https://a.example/).\n", &["2 2. swallowed-step"]);
        case("2\\. no step\n\n**2.** no step\n\n### 2. no step\n\n- 2. sub\n", &[]);
    }

    #[test]
    fn a_fence_that_is_never_closed_swallows_no_step_in_silence() {
        case(
            "1. Look:\n\n```\n$IIMTW\n\n2. Close.\n\n## Refill\n1. Fill.\n",
            &["6 2. swallowed-step", "8 ## swallowed-stage", "9 1. swallowed-step"],
        );
        case("1. Look:\n\n   ~~~~\n   x\n   ~~~\n   2. Close.\n", &["6 2. swallowed-step"]);
        // The next opening closed the first, and what was meant to close is open to the end.
        case("```\nx\n\n2. Close.\n\n```\ny\n```\n", &["4 2. swallowed-step"]);
        for sound in
            ["```\n1. a\n2. b\n## c\n```\n", "```\n1. a\n```\n\n```text\nopen\n", "```\nopen to the end\n", "> ```\n> 1. a\n> ```\n"]
        {
            case(sound, &[]);
        }
    }

    #[test]
    fn all_of_a_list_that_is_read_as_code_is_told() {
        case("## One\n\n    1. Open.\n    2. Shut.\n", &["3 1. swallowed-step", "4 2. swallowed-step"]);
        case("## One\n\n    Menu:\n    1. Open.\n", &[]);
        case("## One\n\nText\n    ## Two\n\n    ## Three\n", &["4 ## swallowed-stage", "6 ## swallowed-stage"]);
    }
}
