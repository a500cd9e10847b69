//! Reads the Markdown of a guide into its [`Outline`]: stages, steps, marks and cautions.
//!
//! A step or a stage must never be lost in silence: a quote that slipped out of its step is an error here, and what
//! Markdown swallows is found in `swallowed`.

use super::diagnostic::Notes;
use super::flat::{self, Brace, Flat};
use super::id::id_of;
use super::lost_text;
use super::mark;
use super::markdown::{self, Placed};
use super::model::Signal;
use super::nmea;
use super::outline::{CautionPlace, InlineCaution, Mark, MarkKind, Outline, Stage, Step};
use super::private_misplaced;
use super::signal_word;
use super::source::Span;
use super::stages;
use super::swallowed;
use super::targets;
use pulldown_cmark::{Event, HeadingLevel, Tag};
use std::collections::{HashMap, HashSet};
use std::ops::Range;

/// Reads the body of a guide. `title` names the stage of steps that stand before any heading.
pub fn read(notes: &mut Notes<'_>, span: Span, title: &str) -> Outline {
    let text = notes.source().text();
    let events = markdown::parse(text, span);
    let ends = markdown::ends(&events);
    let mut reader = Reader {
        notes,
        text,
        outline: Outline::default(),
        title,
        after_list: None,
        slipped: HashSet::new(),
        waiting: Vec::new(),
        taken: HashSet::new(),
        named: HashMap::new(),
    };
    let mut at = 0;
    while at < events.len() {
        let end = ends[at];
        reader.block(&events[at..end], &ends[at..end], at);
        at = end;
    }
    reader.finish();
    let mut outline = reader.outline;
    stages::check(notes, &outline.stages);
    targets::points_at(notes, &events, &mut outline.pictures, &mut outline.links);
    nmea::check_blocks(notes, &events);
    swallowed::check(notes, span, &events);
    lost_text::check(notes, text, span, &events, std::convert::identity);
    private_misplaced::in_guide(notes, span);
    outline
}

struct Reader<'n, 's, 't> {
    notes: &'n mut Notes<'s>,
    text: &'t str,
    outline: Outline,
    title: &'n str,
    /// Where the last numbered list began, while nothing but blank lines has followed it.
    after_list: Option<usize>,
    /// Where quotes begin that slipped out of their step.
    slipped: HashSet<usize>,
    /// Marks of cautions between steps, waiting for the next step.
    waiting: Vec<Mark>,
    /// Ids of the stages so far, and how often each title came.
    taken: HashSet<String>,
    named: HashMap<String, usize>,
}

/// Where a run of text stands, which decides what marks it may hold.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Ground {
    Prose,
    Heading,
    Step,
    Caution,
}

impl Reader<'_, '_, '_> {
    fn block(&mut self, events: &[Placed<'_>], ends: &[usize], base: usize) {
        let Some((first, range)) = events.first() else { return };
        let was_after_list = self.after_list.take();
        match first {
            Event::Start(Tag::Heading { level: HeadingLevel::H2, .. }) => self.stage(events, range),
            Event::Start(Tag::Heading { level, .. }) => {
                if *level == HeadingLevel::H1 {
                    self.notes.warning(
                        "heading-level",
                        span_of(range),
                        "a `#` heading is the title of a page, and a guide has its title in the front matter",
                        "write `##` for a stage, `###` for a heading inside one",
                    );
                }
                self.prose(events);
            }
            Event::Start(Tag::List(Some(_))) => {
                self.after_list = Some(range.start);
                self.steps(events, ends, base);
            }
            Event::Start(Tag::BlockQuote(_)) => {
                if was_after_list.is_some() {
                    if self.slipped_out(range) {
                        self.slipped.insert(range.start);
                    }
                    self.after_list = was_after_list;
                }
                self.quote(events, range);
            }
            _ => {
                if was_after_list.is_some() && matches!(first, Event::Start(Tag::Paragraph)) {
                    self.slipped_out(range);
                }
                self.prose(events);
            }
        }
    }

    fn stage(&mut self, events: &[Placed<'_>], range: &Range<usize>) {
        let inner = events.get(1..events.len().saturating_sub(1)).unwrap_or_default();
        let mut title = String::new();
        let mut marks = Vec::new();
        for block in flat::blocks(inner, self.text) {
            let found = self.marks(&block, Ground::Heading);
            title.extend(block.outside_marks());
            marks.extend(found);
        }
        // Code and links in a heading are text of its title all the same.
        if title.contains(flat::OBJECT) {
            title = flat::plain_words(inner);
        }
        let title = title.split_whitespace().collect::<Vec<_>>().join(" ");
        let mut stage = new_stage(title, span_of(range), false);
        for mark in &marks {
            match &mark.kind {
                MarkKind::Alongside(names) => stage.alongside.extend(names.iter().cloned()),
                MarkKind::After(names) => stage.after.get_or_insert_with(Vec::new).extend(names.iter().cloned()),
                _ => {}
            }
        }
        if stage.title.is_empty() {
            self.notes.error("stage-title", stage.span, "a stage without a title", "write what is done: `## Drain`");
        }
        stage.heading_marks = marks;
        self.push_stage(stage);
    }

    /// Marks of a caution that no step of its stage follows take effect with the last step before it;
    /// those of the introduction wait for the first step.
    fn settle_waiting(&mut self) {
        if let Some(last) = self.outline.stages.last_mut().and_then(|stage| stage.steps.last_mut()) {
            last.marks.append(&mut self.waiting);
        }
    }

    fn push_stage(&mut self, mut stage: Stage) {
        self.settle_waiting();
        let wanted = if id_of(&stage.title).is_empty() { "stage".to_owned() } else { id_of(&stage.title) };
        // Counting on from the last of the same name keeps many stages of one name cheap.
        let mut number = self.named.get(&wanted).copied().unwrap_or(0);
        stage.id = loop {
            number += 1;
            let id = if number == 1 { wanted.clone() } else { format!("{wanted}-{number}") };
            if self.taken.insert(id.clone()) {
                break id;
            }
        };
        self.named.insert(wanted, number);
        self.outline.stages.push(stage);
    }

    fn steps(&mut self, events: &[Placed<'_>], ends: &[usize], base: usize) {
        if self.outline.stages.is_empty() {
            let span = events.first().map(|(_, range)| span_of(range)).unwrap_or_default();
            self.push_stage(new_stage(self.title.to_owned(), span, true));
        }
        let mut at = 1;
        while at < events.len() {
            let end = ends.get(at).map_or(events.len(), |end| end - base).min(events.len());
            if matches!(events[at].0, Event::Start(Tag::Item)) {
                self.step(&events[at..end], &ends[at..end], base + at);
            }
            at = end.max(at + 1);
        }
    }

    fn step(&mut self, events: &[Placed<'_>], ends: &[usize], base: usize) {
        let span = events.first().map(|(_, range)| span_of(range)).unwrap_or_default();
        let stage = self.outline.stages.len().saturating_sub(1);
        let number = self.outline.stages.get(stage).map_or(0, |stage| stage.steps.len());
        // Marks of cautions before this step take effect with it.
        let mut step = Step { span, marks: std::mem::take(&mut self.waiting) };
        // Runs between the cautions of the step, and the cautions themselves.
        let mut run = 1;
        let mut at = 1;
        while at < events.len() {
            let end = ends.get(at).map_or(events.len(), |end| end - base).min(events.len());
            let is_quote = matches!(events[at].0, Event::Start(Tag::BlockQuote(_)));
            if is_quote && let Some((signal, word)) = self.signal_of(&events[at..end]) {
                self.check_empty(&events[at..end], signal, word);
                self.step_run(&events[run..at], &mut step);
                let marks = self.caution_marks(&events[at..end]);
                step.marks.extend(marks);
                self.outline.cautions.push(InlineCaution {
                    signal,
                    span: span_of(&events[at].1),
                    word,
                    place: CautionPlace::Step { stage, step: number },
                });
                at = end;
                run = end;
            } else {
                at += 1;
            }
        }
        self.step_run(&events[run.min(events.len())..], &mut step);
        if let Some(stage) = self.outline.stages.get_mut(stage) {
            stage.steps.push(step);
        }
    }

    fn step_run(&mut self, events: &[Placed<'_>], step: &mut Step) {
        for block in flat::blocks(events, self.text) {
            let marks = self.marks(&block, Ground::Step);
            step.marks.extend(marks);
        }
    }

    fn quote(&mut self, events: &[Placed<'_>], range: &Range<usize>) {
        let Some((signal, word)) = self.signal_of(events) else {
            self.prose(events);
            return;
        };
        self.check_empty(events, signal, word);
        let marks = self.caution_marks(events);
        self.waiting.extend(marks);
        let place = match self.outline.stages.len().checked_sub(1) {
            None => CautionPlace::Intro,
            Some(stage) => CautionPlace::Step { stage, step: self.outline.stages.get(stage).map_or(0, |stage| stage.steps.len()) },
        };
        self.outline.cautions.push(InlineCaution { signal, span: span_of(range), word, place });
    }

    fn caution_marks(&mut self, events: &[Placed<'_>]) -> Vec<Mark> {
        let mut all = Vec::new();
        let blocks = flat::blocks(events, self.text);
        signal_word::second(self.notes, &blocks);
        for block in blocks {
            all.extend(self.marks(&block, Ground::Caution));
        }
        all
    }

    fn prose(&mut self, events: &[Placed<'_>]) {
        self.nested(events);
        for block in flat::blocks(events, self.text) {
            let marks = self.marks(&block, Ground::Prose);
            self.outline.loose_marks.extend(marks);
        }
    }

    /// The signal word that opens a block quote, with its place; notes what only looks like one.
    fn signal_of(&mut self, events: &[Placed<'_>]) -> Option<(Signal, Span)> {
        // A caution opens with a paragraph; nothing else of the quote need be looked at.
        if !matches!(events.get(1), Some((Event::Start(Tag::Paragraph), _))) {
            return None;
        }
        let end = events.iter().position(|(event, _)| matches!(event, Event::End(pulldown_cmark::TagEnd::Paragraph)))?;
        let block = flat::blocks(events.get(1..end)?, self.text).into_iter().next()?;
        let word_end = block.text.find(|c: char| !c.is_alphabetic()).unwrap_or(block.text.len());
        let word = &block.text[..word_end];
        let rest = &block.text[word_end..];
        let start = block.source_at(0);
        signal_word::alert(self.notes, &block);
        let Some(signal) = Signal::from_word(word) else {
            if rest.trim_start().starts_with(':')
                && let Some(near) = signal_word::meant(word)
            {
                self.notes.warning(
                    "caution-word",
                    Span::new(start, start + word_end),
                    format!("this quote looks like a caution, and `{word}` is no signal word"),
                    format!("write `> {}: …`; in a plain quote take the colon or the capitals away", near.word().to_uppercase()),
                );
            }
            return None;
        };
        if rest.starts_with(':') && word.chars().all(char::is_uppercase) {
            let colon = block.source_at(word_end) + 1;
            return Some((signal, Span::new(start, colon)));
        }
        if rest.starts_with(':') || word.chars().all(char::is_uppercase) {
            let span = Span::new(start, start + word_end);
            self.notes.warning(
                "caution-word",
                span,
                format!("this quote looks like a caution, but does not open with `{}:`", signal.word().to_uppercase()),
                format!("write the signal word in capitals with a colon: `> {}: …`", signal.word().to_uppercase()),
            );
        }
        None
    }

    /// Notes a caution with nothing behind its signal word.
    fn check_empty(&mut self, events: &[Placed<'_>], signal: Signal, word: Span) {
        let says = events.iter().any(|(event, range)| match event {
            Event::Text(_) => self.text.get(range.start.max(word.end as usize)..range.end).is_some_and(|text| !text.trim().is_empty()),
            Event::Code(_) | Event::Html(_) | Event::InlineHtml(_) | Event::Start(Tag::Image { .. }) => true,
            _ => false,
        });
        if !says {
            let word_written = signal.word().to_uppercase();
            self.notes.warning(
                "empty-caution",
                word,
                format!("nothing stands behind this `{word_written}:`"),
                "write what can happen and how to avoid it in the same quote, each line behind its `>`; or take it out",
            );
        }
    }

    /// Reads the marks of a block and says which do not belong where they stand.
    fn marks(&mut self, block: &Flat, ground: Ground) -> Vec<Mark> {
        let mut marks = Vec::new();
        for brace in block.braces() {
            match brace {
                Brace::Unclosed(span) => {
                    self.notes.error(
                        "mark-unclosed",
                        span,
                        "this brace is opened and not closed",
                        "close it with `}`, or write `\\{` for a plain brace",
                    );
                }
                Brace::Mark(inner, span) => {
                    let kind = mark::parse(inner, span).unwrap_or_else(|problem| {
                        self.notes.error("mark", span, problem.message, problem.remedy);
                        MarkKind::Broken
                    });
                    if block.cuts_emphasis(span) {
                        self.notes.error("mark", span, "emphasis begins or ends inside this mark", "take the `*` or `_` out of the braces");
                    }
                    let kind = self.check_ground(kind, ground, span, inner);
                    marks.push(Mark { span, kind });
                }
            }
        }
        marks
    }

    fn check_ground(&mut self, kind: MarkKind, ground: Ground, span: Span, inner: &str) -> MarkKind {
        let heading_only = matches!(kind, MarkKind::Alongside(_) | MarkKind::After(_));
        if heading_only && ground != Ground::Heading {
            self.notes.error(
                "mark-place",
                span,
                format!("`{{{inner}}}` belongs on the heading of a stage"),
                "move it behind the title: `## Change the filter {alongside Drain}`",
            );
            return MarkKind::Broken;
        }
        if ground == Ground::Prose && !matches!(kind, MarkKind::Name(_) | MarkKind::Broken) {
            self.notes.error(
                "mark-place",
                span,
                format!("`{{{inner}}}` stands outside a step"),
                "move it into a numbered step, a stage heading or a caution; other prose holds only names of figures",
            );
            return MarkKind::Broken;
        }
        kind
    }

    /// A paragraph or quote after a list, indented a little: it was meant to belong to the last step.
    fn slipped_out(&mut self, range: &Range<usize>) -> bool {
        let line_start = self.text[..range.start].rfind('\n').map_or(0, |at| at + 1);
        let indent = self.text[line_start..].bytes().take_while(|byte| *byte == b' ').count();
        let slipped = (1..=3).contains(&indent);
        if slipped {
            self.notes.error(
                "slipped-out",
                Span::new(line_start + indent, range.end.min(line_start + indent + 1)),
                "this is indented, but not enough to belong to the step above it: it stands after the step, not in it",
                "indent it as far as the words of that step (four spaces under `10.`), or not at all",
            );
        }
        slipped
    }

    /// Cautions between steps with no step after them stand at the end of their stage.
    fn finish(&mut self) {
        self.settle_waiting();
        for mark in std::mem::take(&mut self.waiting) {
            self.no_step(mark.span);
            self.outline.loose_marks.push(mark);
        }
        for caution in &mut self.outline.cautions {
            if let CautionPlace::Step { stage, step } = caution.place
                && self.outline.stages.get(stage).is_none_or(|stage| step >= stage.steps.len())
            {
                caution.place = CautionPlace::StageEnd { stage };
                // One that slipped out of its step has been told of.
                if self.slipped.contains(&(caution.span.start as usize)) {
                    continue;
                }
                self.notes.warning(
                    "caution-without-act",
                    caution.word,
                    "no step of this stage follows this caution",
                    "put it before the step it is about, or inside that step before its words",
                );
            }
        }
        let mut lost = Vec::new();
        for stage in &mut self.outline.stages {
            // A mark on a heading speaks of the stage; it takes effect with its first step.
            let extra: Vec<Mark> = stage
                .heading_marks
                .iter()
                .filter(|mark| !matches!(mark.kind, MarkKind::Alongside(_) | MarkKind::After(_) | MarkKind::Name(_) | MarkKind::Broken))
                .cloned()
                .collect();
            if let Some(first) = stage.steps.first_mut() {
                first.marks.splice(0..0, extra);
            } else {
                lost.extend(extra.iter().map(|mark| mark.span));
            }
        }
        lost.into_iter().for_each(|span| self.no_step(span));
    }
}

impl Reader<'_, '_, '_> {
    fn no_step(&mut self, span: Span) {
        self.notes.error(
            "mark-place",
            span,
            "there is no step here in which this mark could take effect",
            "write the steps of this stage, or move the mark into one",
        );
    }

    /// Cautions in bullets, and numbered items in quotes and bullets: neither is read as what it looks like.
    fn nested(&mut self, events: &[Placed<'_>]) {
        let away = match events.first() {
            Some((Event::Start(Tag::BlockQuote(_)), _)) => Some(("a quote", "take the `>` away if they are steps; else use bullets")),
            Some((Event::Start(Tag::FootnoteDefinition(_)), _)) => {
                Some(("a footnote", "do not indent them if they are steps; else use bullets"))
            }
            Some((Event::Start(Tag::List(None)), _)) => Some(("a bullet", "do not indent them if they are steps; else use bullets")),
            _ => None,
        };
        for at in 1..events.len() {
            match &events[at] {
                (Event::Start(Tag::BlockQuote(_)), range) if self.signal_of(&events[at..]).is_some() => {
                    self.notes.error(
                        "caution-word",
                        Span::new(range.start, range.start + 1),
                        "this caution stands inside a list or a quote, and is not shown as one",
                        "put it between the steps, or inside a numbered step",
                    );
                }
                (Event::Start(Tag::List(Some(_))), range) => {
                    // `- 2. sub` is a bullet that was given a number.
                    let numbered =
                        matches!(&events[at - 1], (Event::Start(Tag::Item), item) if !self.text[item.start..range.start].contains('\n'));
                    if let Some((place, remedy)) = away.filter(|(place, _)| *place != "a bullet" || !numbered) {
                        let span = Span::new(range.start, range.start + 1);
                        self.notes.warning("swallowed-step", span, format!("numbered items in {place} are no steps"), remedy);
                    }
                }
                _ => {}
            }
        }
    }
}

fn new_stage(title: String, span: Span, implicit: bool) -> Stage {
    Stage { title, id: String::new(), span, alongside: Vec::new(), after: None, heading_marks: Vec::new(), implicit, steps: Vec::new() }
}

fn span_of(range: &Range<usize>) -> Span {
    Span::new(range.start, range.end)
}

#[cfg(test)]
#[path = "body_tests.rs"]
mod tests;
