//! Steps, stages, cautions and marks that Markdown takes for something else than what they look like.
//!
//! Every line that looks like a numbered item or a stage must have become one, or have been told of. What is left over
//! here was swallowed: by HTML, by a comment or a fence that is never closed, by code, by the definition of a link.
//! Only what stands in a comment that is closed, or in code that is, was meant to be no step.

use super::diagnostic::Notes;
use super::mark::MARKS;
use super::markdown::Placed;
use super::model::Signal;
use super::source::Span;
use pulldown_cmark::{CodeBlockKind, Event, HeadingLevel, Tag, TagEnd};
use std::collections::HashSet;
use std::ops::Range;

const STEP: &str = "swallowed-step";
const STAGE: &str = "swallowed-stage";

/// Longest mark that is looked for where marks are lost, in bytes.
const LONGEST_MARK: usize = 300;

/// Looks through the lines of `body`; `told` are the places of numbers that have been told of.
pub(super) fn check(notes: &mut Notes<'_>, body: Span, events: &[Placed<'_>], told: &HashSet<usize>) {
    let text = notes.source().text();
    let read = read_as_they_look(text, events);
    let regions = regions(text, events);
    let mut at = body.start as usize;
    for line in text.get(body.range()).unwrap_or_default().split_inclusive('\n') {
        let mut inner = line.trim_start_matches([' ', '\t', '>']);
        let end = at + line.len();
        at = end;
        let mut region = region_of(&regions, end - inner.len());
        // What stands behind a comment is not in it.
        while let Some(Region { kind: Kind::Comment, range }) = region.filter(|region| region.range.end < end) {
            inner = text[range.end..end].trim_start();
            region = region_of(&regions, end - inner.len());
        }
        let place = end - inner.len();
        let Some(look) = Look::of(line, inner, region.is_some_and(Region::takes_all)) else { continue };
        if read.as_it_looks.contains(&place) || told.contains(&place) {
            continue;
        }
        let span = Span::new(place + look.start(), place + look.end());
        match region {
            _ if read.nested.contains(&place) => nested(notes, span),
            None => plain(notes, span, look),
            Some(Region { kind: Kind::Indented { told: true }, .. }) => indented(notes, span, look),
            Some(Region { kind: Kind::Html { begin, open, past_a_blank_line }, .. }) => {
                let open = open.filter(|open| *open < place);
                html(notes, span, look, open.ok_or(*begin), *past_a_blank_line);
            }
            Some(Region { kind: Kind::Fence { closed, suspect: true }, range }) => fence(notes, span, look, range, *closed),
            Some(_) => {}
        }
    }
}

/// What a line looks like.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Look<'t> {
    /// The number with its sign: `2.`
    Step(&'t str),
    Stage,
    Caution(Signal),
    /// A mark such as `{isolate seacock}`, and where it begins.
    Mark(&'t str, usize),
}

impl<'t> Look<'t> {
    /// `inner` is the line without what may stand before a block; cautions and marks are asked for only where all is lost.
    fn of(line: &str, inner: &'t str, all: bool) -> Option<Self> {
        let digits = inner.bytes().take_while(u8::is_ascii_digit).count();
        let rest = &inner[digits..];
        if (1..=3).contains(&digits)
            && let Some(rest) = rest.strip_prefix(['.', ')'])
            && rest.chars().next().is_none_or(char::is_whitespace)
        {
            return Some(Self::Step(&inner[..=digits]));
        }
        if inner.strip_prefix("##").is_some_and(|rest| rest.starts_with([' ', '\t'])) {
            return Some(Self::Stage);
        }
        if !all {
            return None;
        }
        if line.trim_start().starts_with('>')
            && let Some((word, _)) = inner.split_once(':')
            && let Some(signal) = Signal::from_word(word)
        {
            return Some(Self::Caution(signal));
        }
        let mut from = 0;
        while let Some(open) = inner[from..].find('{').map(|open| from + open) {
            let mark = &inner[open..];
            from = open + 1;
            let word_end = mark[1..].find(|letter: char| !letter.is_ascii_lowercase()).map_or(mark.len(), |end| end + 1);
            if MARKS.iter().any(|(known, _)| *known == &mark[1..word_end])
                && let Some(close) = mark.bytes().take(LONGEST_MARK).position(|byte| byte == b'}')
            {
                return Some(Self::Mark(&mark[..=close], open));
            }
        }
        None
    }

    fn start(self) -> usize {
        if let Self::Mark(_, start) = self { start } else { 0 }
    }

    fn end(self) -> usize {
        match self {
            Self::Step(number) => number.len(),
            Self::Stage => 2,
            Self::Caution(signal) => signal.word().len() + 1,
            Self::Mark(mark, start) => start + mark.len(),
        }
    }

    fn rule(self) -> &'static str {
        match self {
            Self::Step(_) => STEP,
            Self::Stage => STAGE,
            Self::Caution(_) => "caution-word",
            Self::Mark(..) => "mark-place",
        }
    }

    /// What it is, as it stands in a message.
    fn what(self) -> String {
        match self {
            Self::Step(number) => format!("the numbered item `{number}`"),
            Self::Stage => "this heading".to_owned(),
            Self::Caution(signal) => format!("this `{}:`", signal.word().to_uppercase()),
            Self::Mark(mark, _) => format!("the mark `{}`", mark.replace('`', "'")),
        }
    }
}

/// A stretch in which lines are not read as what they look like.
#[derive(Debug)]
struct Region {
    range: Range<usize>,
    kind: Kind,
}

#[derive(Debug)]
enum Kind {
    Html {
        /// Where all of the HTML begins.
        begin: usize,
        /// Where a comment begins in it that is never closed, or by the end of another.
        open: Option<usize>,
        /// It goes on past blank lines.
        past_a_blank_line: bool,
    },
    /// A comment within a line of text.
    Comment,
    /// Told where its first line looks like a step or a stage: such code was indented by mistake.
    Indented { told: bool },
    /// Suspect where it, or a later one, is never closed.
    Fence { closed: bool, suspect: bool },
}

impl Region {
    /// Whether cautions and marks are lost in it that were meant as such.
    fn takes_all(&self) -> bool {
        matches!(self.kind, Kind::Html { .. } | Kind::Fence { suspect: true, .. })
    }
}

/// Where items and headings begin that were read as such.
#[derive(Default)]
struct Begun {
    as_it_looks: HashSet<usize>,
    /// Headings of stages that stand inside a step or a list, where none begins.
    nested: HashSet<usize>,
}

fn read_as_they_look(text: &str, events: &[Placed<'_>]) -> Begun {
    let mut begun = Begun::default();
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

/// In order; none lies in another. Closed comments cut HTML into what is left of it.
fn regions(text: &str, events: &[Placed<'_>]) -> Vec<Region> {
    let mut regions = Vec::new();
    let mut last_without_info = false;
    for (event, range) in events {
        let inside = text.get(range.clone()).unwrap_or_default();
        let kind = match event {
            Event::Start(Tag::HtmlBlock) => {
                let begin = range.start;
                let past_a_blank_line = inside.lines().any(|line| line.trim().is_empty());
                let mut from = 0;
                for comment in closed_comments(inside).into_iter().chain(std::iter::once(inside.len()..inside.len())) {
                    let open = inside[from..comment.start].find("<!--").map(|at| begin + from + at);
                    let kind = Kind::Html { begin, open, past_a_blank_line };
                    regions.push(Region { range: begin + from..begin + comment.start, kind });
                    from = comment.end;
                    regions.push(Region { range: begin + comment.start..begin + from, kind: Kind::Comment });
                }
                continue;
            }
            Event::InlineHtml(html) if !closed_comments(html).is_empty() => Kind::Comment,
            Event::Start(Tag::CodeBlock(CodeBlockKind::Indented)) => {
                Kind::Indented { told: Look::of("", inside.trim_start(), false).is_some() }
            }
            Event::Start(Tag::CodeBlock(CodeBlockKind::Fenced(info))) => {
                let closed = is_closed(inside);
                last_without_info = info.is_empty();
                Kind::Fence { closed, suspect: !closed }
            }
            _ => continue,
        };
        regions.push(Region { range: range.clone(), kind });
    }
    // A fence of no language that is never closed was perhaps meant to close one above it that the next opening closed.
    let mut fences = regions
        .iter_mut()
        .filter_map(|region| if let Kind::Fence { closed, suspect } = &mut region.kind { Some((closed, suspect)) } else { None });
    if let Some((false, _)) = fences.next_back().map(|(closed, suspect)| (*closed, suspect))
        && last_without_info
    {
        fences.for_each(|(_, suspect)| *suspect = true);
    }
    regions
}

fn region_of(regions: &[Region], at: usize) -> Option<&Region> {
    let behind = regions.partition_point(|region| region.range.start <= at);
    behind.checked_sub(1).and_then(|last| regions.get(last)).filter(|region| at < region.range.end)
}

/// Comments that are closed. One that holds the beginning of another was closed by the end of that one.
fn closed_comments(html: &str) -> Vec<Range<usize>> {
    let ends: Vec<usize> = html.match_indices("-->").map(|(at, _)| at).collect();
    let mut starts = html.match_indices("<!--").map(|(at, _)| at).peekable();
    let mut found: Vec<Range<usize>> = Vec::new();
    while let Some(start) = starts.next() {
        let Some(end) = ends.get(ends.partition_point(|end| *end < start + 4)) else { break };
        let is_inside = found.last().is_some_and(|last| start < last.end);
        if !is_inside && starts.peek().is_none_or(|next| next > end) {
            found.push(start..end + 3);
        }
    }
    found
}

/// Whether a fenced block ends with its own fence.
fn is_closed(block: &str) -> bool {
    let bare = |line: &str| line.trim_start_matches([' ', '\t', '>']).trim_end().to_owned();
    let mut lines = block.lines();
    let opening = lines.next().map(bare).unwrap_or_default();
    let Some(sign) = opening.chars().next() else { return false };
    let length = opening.chars().take_while(|letter| *letter == sign).count();
    let last = lines.map(bare).rfind(|line| !line.is_empty()).unwrap_or_default();
    last.chars().count() >= length && last.chars().all(|letter| letter == sign)
}

fn plain(notes: &mut Notes<'_>, span: Span, look: Look<'_>) {
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

/// `from`: where the comment begins, or else the HTML.
fn html(notes: &mut Notes<'_>, span: Span, look: Look<'_>, from: Result<usize, usize>, past_a_blank_line: bool) {
    let (Ok(start) | Err(start)) = from;
    let line = notes.source().place(Span::new(start, start + 1)).line;
    let (what, remedy) = match from {
        Ok(_) => ("comment", "close that comment with `-->` where it should end; a comment cannot stand in another"),
        Err(_) if past_a_blank_line => ("HTML", "take the HTML out: it is not read in a guide"),
        Err(_) => ("HTML", "put a blank line before it, or take the HTML out: it is not read in a guide"),
    };
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
