//! The Markdown of a guide as stages and steps with their cautions and marks.
//!
//! The text is parsed a second time; the outline says what each piece is. A caution always comes out
//! before the act it is about.

use super::figures;
use super::markdown::{Cut, Renderer};
use super::surroundings::PageSurroundings;
use super::view::{Block, CautionView, Html, Link, MarkView, StageView, StepView};
use super::words::Words;
use crate::book::id::key_of;
use crate::book::markdown::{self, Placed};
use crate::book::model::{Book, Guide};
use crate::book::names_of_guide::NamesOfGuide;
use crate::book::outline::{InlineCaution, Mark, MarkKind, Stage, Step};
use crate::book::stages::ByTitle;
use crate::quantity::{Duration, DutyCycle, Exact, Figure, plain_decimal};
use pulldown_cmark::{Event, HeadingLevel, Tag};
use std::collections::HashMap;

/// A guide's Markdown, rendered.
#[derive(Debug, Default)]
pub struct GuideBody {
    pub intro: Html,
    /// Cautions before everything.
    pub intro_cautions: Vec<CautionView>,
    pub stages: Vec<StageView>,
    pub footnotes: Html,
}

/// Fragment of a stage on its page; the prefix keeps it apart from the page's own.
#[must_use]
pub fn stage_anchor(stage: &Stage) -> String {
    format!("s-{}", stage.id)
}

/// Fragment of a step.
#[must_use]
pub fn step_anchor(stage: &Stage, number: usize) -> String {
    format!("s-{}--{number}", stage.id)
}

/// Renders the body of a guide.
#[must_use]
pub fn render(book: &Book, guide: &Guide, words: &Words, surroundings: &PageSurroundings<'_>) -> GuideBody {
    let text = guide.source.blanked();
    let events = markdown::parse(&text, guide.body);
    let ends = markdown::ends(&events);
    let names = NamesOfGuide::of(guide);
    let cuts = cuts(book, guide, &names, surroundings.root(), words);
    let mut writer = Writer {
        book,
        guide,
        names: &names,
        by_title: ByTitle::of_marks(&guide.outline.stages),
        words,
        renderer: Renderer::new(&text, &cuts, surroundings, 2, ""),
        body: GuideBody::default(),
        cautions: guide.outline.cautions.iter().map(|caution| (caution.span.start, caution)).collect(),
        prose: Vec::new(),
        pending: Vec::new(),
        stage: None,
        step: 0,
    };
    let mut at = 0;
    while at < events.len() {
        let end = ends[at];
        writer.block(&events[at..end], &ends[at..end], at);
        at = end;
    }
    writer.finish()
}

struct Writer<'g, 'r, 'e> {
    book: &'g Book,
    guide: &'g Guide,
    names: &'r NamesOfGuide<'g>,
    by_title: ByTitle,
    words: &'g Words,
    renderer: Renderer<'r>,
    body: GuideBody,
    /// Inline cautions by where they begin.
    cautions: HashMap<u32, &'g InlineCaution>,
    /// Prose not yet rendered, so that neighbouring blocks come out as one.
    prose: Vec<Placed<'e>>,
    /// Cautions waiting for the next step.
    pending: Vec<CautionView>,
    /// Index of the current stage.
    stage: Option<usize>,
    /// Steps of the current stage so far.
    step: usize,
}

impl<'e> Writer<'_, '_, 'e> {
    fn block(&mut self, events: &'e [Placed<'e>], ends: &[usize], base: usize) {
        let Some((first, range)) = events.first() else { return };
        match first {
            Event::Start(Tag::Heading { level: HeadingLevel::H2, .. }) => {
                self.flush();
                self.open_stage(Some(events));
            }
            Event::Start(Tag::List(Some(_))) => {
                self.flush();
                if self.stage.is_none() {
                    self.open_stage(None);
                }
                self.steps(events, ends, base);
            }
            Event::Start(Tag::BlockQuote(_)) => match self.caution_at(range.start) {
                Some(caution) => {
                    self.flush();
                    let mut view = self.caution(caution, events);
                    if self.step == 0 {
                        "stage".clone_into(&mut view.origin);
                    }
                    if self.stage.is_none() {
                        self.body.intro_cautions.push(view);
                    } else {
                        self.pending.push(view);
                    }
                }
                None => self.prose.extend(events.iter().cloned()),
            },
            _ => self.prose.extend(events.iter().cloned()),
        }
    }

    fn flush(&mut self) {
        let events = std::mem::take(&mut self.prose);
        if events.is_empty() {
            return;
        }
        let html = self.renderer.blocks(&events);
        if html.trim().is_empty() {
            return;
        }
        match self.stage.and_then(|stage| self.body.stages.get_mut(stage)) {
            Some(stage) => stage.blocks.push(Block::Prose { html: Html(html) }),
            None => self.body.intro.0.push_str(&html),
        }
    }

    fn open_stage(&mut self, heading: Option<&[Placed<'_>]>) {
        self.settle_pending();
        let at = self.stage.map_or(0, |stage| stage + 1);
        self.stage = Some(at);
        self.step = 0;
        let Some(stage) = self.guide.outline.stages.get(at) else { return };
        let title = heading
            .and_then(|events| events.get(1..events.len().saturating_sub(1)))
            .map_or_else(|| super::escape::html(&stage.title), |inner| self.renderer.inline(inner));
        self.renderer.under(3);
        let link = |name: &crate::book::source::Name| self.stage_link(&name.value);
        self.body.stages.push(StageView {
            id: stage_anchor(stage),
            number: at + 1,
            title: Html(title),
            title_text: stage.title.clone(),
            alongside: stage.alongside.iter().map(link).collect(),
            after: stage.after.iter().flatten().map(link).collect(),
            blocks: Vec::new(),
        });
    }

    fn stage_link(&self, title: &str) -> Link {
        let stage = self.by_title.find(title).and_then(|(at, _)| self.guide.outline.stages.get(at));
        Link {
            text: stage.map_or_else(|| title.to_owned(), |stage| stage.title.clone()),
            href: stage.map(|stage| format!("#{}", stage_anchor(stage))).unwrap_or_default(),
        }
    }

    fn steps(&mut self, events: &'e [Placed<'e>], ends: &[usize], base: usize) {
        let start = self.step + 1;
        let mut steps = Vec::new();
        let mut at = 1;
        while at < events.len() {
            let end = ends.get(at).map_or(events.len(), |end| end - base).min(events.len());
            if matches!(events[at].0, Event::Start(Tag::Item)) {
                steps.push(self.one_step(&events[at..end], &ends[at..end], base + at));
            }
            at = end.max(at + 1);
        }
        if let Some(stage) = self.stage.and_then(|stage| self.body.stages.get_mut(stage)) {
            stage.blocks.push(Block::Steps { start, steps });
        }
    }

    fn one_step(&mut self, events: &[Placed<'_>], ends: &[usize], base: usize) -> StepView {
        self.step += 1;
        let number = self.step;
        let mut cautions = std::mem::take(&mut self.pending);
        let mut words: Vec<Placed<'_>> = Vec::new();
        let mut at = 1;
        let last = events.len().saturating_sub(1);
        while at < last {
            let end = ends.get(at).map_or(last, |end| end - base).min(last);
            let caution = match &events[at] {
                (Event::Start(Tag::BlockQuote(_)), range) => self.caution_at(range.start),
                _ => None,
            };
            if let Some(caution) = caution {
                cautions.push(self.caution(caution, &events[at..end]));
                at = end;
            } else {
                words.push(events[at].clone());
                at += 1;
            }
        }
        self.renderer.under(3);
        let html = Html(self.renderer.blocks(&words).trim().to_owned());
        let outline = self.stage.and_then(|stage| self.guide.outline.stages.get(stage));
        let step: Option<&Step> = outline.and_then(|stage| stage.steps.get(number - 1));
        let marks = step.map(|step| step.marks.as_slice()).unwrap_or_default();
        StepView {
            id: outline.map(|stage| step_anchor(stage, number)).unwrap_or_default(),
            number,
            cautions,
            html,
            marks: marks.iter().filter_map(|mark| mark_view(self.book, self.names, mark, self.words)).collect(),
            safe_stop: marks.iter().any(|mark| mark.kind == MarkKind::SafeStop),
        }
    }

    fn caution_at(&self, start: usize) -> Option<InlineCaution> {
        u32::try_from(start).ok().and_then(|start| self.cautions.get(&start)).map(|caution| (*caution).clone())
    }

    fn caution(&mut self, caution: InlineCaution, events: &[Placed<'_>]) -> CautionView {
        let inner = events.get(1..events.len().saturating_sub(1)).unwrap_or_default();
        self.renderer.under(3);
        CautionView {
            signal: caution.signal.word().to_owned(),
            word: self.words.text(&format!("signals.{}", caution.signal.word())),
            title: None,
            body: Html(self.renderer.blocks(inner).trim().to_owned()),
            avoid: Vec::new(),
            defer: None,
            origin: "inline".to_owned(),
        }
    }

    /// Cautions that no step of their stage follows are shown all the same, where they stand.
    fn settle_pending(&mut self) {
        let cautions = std::mem::take(&mut self.pending);
        if cautions.is_empty() {
            return;
        }
        match self.stage.and_then(|stage| self.body.stages.get_mut(stage)) {
            Some(stage) => stage.blocks.push(Block::Cautions { cautions }),
            None => self.body.intro_cautions.extend(cautions),
        }
    }

    fn finish(mut self) -> GuideBody {
        self.flush();
        self.settle_pending();
        self.body.footnotes = Html(self.renderer.footnotes());
        self.body
    }
}

/// What stands in the place of each mark and of the signal words of cautions.
fn cuts(book: &Book, guide: &Guide, names: &NamesOfGuide<'_>, root: &str, words: &Words) -> Vec<Cut> {
    let outline = &guide.outline;
    let in_steps = outline.stages.iter().flat_map(|stage| stage.steps.iter().flat_map(|step| step.marks.iter()));
    let in_headings = outline.stages.iter().flat_map(|stage| stage.heading_marks.iter());
    let mut cuts: Vec<Cut> = in_steps
        .chain(in_headings)
        .chain(outline.loose_marks.iter())
        .map(|mark| Cut { span: mark.span, html: cut_html(book, guide, names, mark, root, words) })
        .chain(outline.cautions.iter().map(|caution| Cut { span: caution.word, html: String::new() }))
        .collect();
    cuts.sort_by_key(|cut| (cut.span.start, cut.span.end));
    cuts.dedup_by_key(|cut| cut.span);
    cuts
}

fn cut_html(book: &Book, guide: &Guide, names: &NamesOfGuide<'_>, mark: &Mark, root: &str, words: &Words) -> String {
    match &mark.kind {
        MarkKind::Name(id) => figures::named(book, guide, names, id, root, words),
        MarkKind::Withheld { shown: true } => super::escape::html(&words.text("marks.withheld")),
        // What could not be read stays as it was written: nothing is lost.
        MarkKind::Broken => super::escape::html(guide.source.slice(mark.span)),
        _ => String::new(),
    }
}

fn mark_view(book: &Book, names: &NamesOfGuide<'_>, mark: &Mark, words: &Words) -> Option<MarkView> {
    let label = |kind: &str| words.text(&format!("marks.{kind}"));
    let plain = |kind: &str, text: String| MarkView {
        kind: kind.to_owned(),
        label: label(kind),
        text,
        reading: None,
        limits: None,
        points: Vec::new(),
        unit: None,
        cycle: None,
        key: None,
        until: false,
        low: None,
        high: None,
    };
    let view = match &mark.kind {
        MarkKind::Takes(time) => plain("takes", time.to_string()),
        MarkKind::Hands(hands) => plain("hands", hands.to_string()),
        MarkKind::Wait { time, what } => {
            let text = what.as_ref().map_or_else(|| time.to_string(), |what| format!("{time}: {what}"));
            let seconds = time.seconds();
            MarkView { cycle: Some(format!("{seconds} {seconds} 0 u")), ..plain("wait", text) }
        }
        MarkKind::Run(run) => MarkView { cycle: Some(cycle(run)), ..plain("run", run_text(run, words)) },
        MarkKind::Isolate { what, until: None } => MarkView { key: Some(key_of(what)), ..plain("isolate", what.clone()) },
        MarkKind::Isolate { what, until: Some(occasion) } => {
            let until = occasion_title(book, &occasion.value, words);
            let text = words.say("marks.until", &[("what", what), ("occasion", &until)]);
            MarkView { key: Some(key_of(what)), until: true, ..plain("isolate", text) }
        }
        MarkKind::Restore(what) => MarkView { key: Some(key_of(what)), ..plain("restore", what.clone()) },
        MarkKind::Prove(what) => plain("prove", what.clone()),
        MarkKind::Read(id) => {
            let spec = names.reading(id);
            let mut view = plain("read", spec.map_or_else(|| id.clone(), figures::reading_title));
            view.reading = Some(id.clone());
            if let Some(spec) = spec {
                view.limits = spec.limits.as_ref().map(|limits| figures::in_words(words, limits));
                view.unit = Some(spec.unit.symbol().to_owned());
                // Limits of a reading are in its own unit: the book allows no other.
                let (low, high) = spec.limits.as_ref().map(Figure::bounds).unwrap_or_default();
                view.low = low.map(|low| plain_decimal(&low, 12));
                view.high = high.map(|high| plain_decimal(&high, 12));
                view.points = if spec.points.is_empty() { vec![String::new()] } else { spec.points.clone() };
            }
            view
        }
        MarkKind::Name(_)
        | MarkKind::SafeStop
        | MarkKind::Alongside(_)
        | MarkKind::After(_)
        | MarkKind::Withheld { .. }
        | MarkKind::Broken => return None,
    };
    Some(view)
}

/// Title of an occasion: the boat's own, else the word for one that ships.
pub fn occasion_title(book: &Book, id: &str, words: &Words) -> String {
    if let Some(own) = book.boat.occasions.iter().find(|occasion| occasion.id.value == id) {
        return own.title.clone();
    }
    let key = format!("occasions.{id}");
    if words.has(&key) { words.text(&key) } else { id.to_owned() }
}

fn run_text(run: &DutyCycle, words: &Words) -> String {
    let elapsed = Duration::from_seconds(seconds(&run.elapsed_minutes())).map_or_else(String::new, |time| time.to_string());
    // What is done before the machine must rest has no rests, and needs no telling how long each would be.
    let key = if run.rests() == 0 { "marks.run-without-rest" } else { "marks.run-text" };
    let mut text = words.say(
        key,
        &[
            ("volume", run.volume().written()),
            ("rate", run.rate().written()),
            ("on", &run.on().to_string()),
            ("off", &run.off().to_string()),
            ("rests", &words.count("marks.rests", i64::from(run.rests()))),
            ("elapsed", &elapsed),
        ],
    );
    if run.unattended() {
        text.push_str(", ");
        text.push_str(&words.text("marks.unattended"));
    }
    text
}

/// Whole seconds, rounded up.
fn seconds(minutes: &Exact) -> i64 {
    let whole = (minutes * Exact::from_integer(60)).ceil().to_integer();
    i64::try_from(whole).unwrap_or(i64::MAX)
}

/// For timers: seconds it runs in all, at a time, and rests.
fn cycle(run: &DutyCycle) -> String {
    let all = seconds(&run.run_minutes());
    let end = if run.unattended() { " u" } else { "" };
    format!("{all} {} {}{end}", run.on().seconds(), run.off().seconds())
}

/// A short name for the steps as they read now, behind the day of the revision: another name, another text.
#[must_use]
pub fn revision(guide: &Guide, stages: &[StageView]) -> String {
    let mut hasher = blake3::Hasher::new();
    let mut put = |text: &str| {
        hasher.update(&(text.len() as u64).to_le_bytes());
        hasher.update(text.as_bytes());
    };
    for stage in stages {
        put(&stage.title_text);
        for block in &stage.blocks {
            match block {
                Block::Prose { html } => put(&html.0),
                Block::Cautions { cautions } => cautions.iter().for_each(|caution| put(&caution.body.0)),
                Block::Steps { steps, .. } => {
                    for step in steps {
                        put(&step.html.0);
                        for caution in &step.cautions {
                            put(&caution.signal);
                            put(&caution.body.0);
                        }
                        for mark in &step.marks {
                            put(&mark.kind);
                            put(&mark.text);
                            put(mark.limits.as_deref().unwrap_or_default());
                        }
                    }
                }
            }
        }
    }
    let hash = hasher.finalize().to_hex().to_string();
    let day = guide.revised.map(|day| day.to_string()).unwrap_or_default();
    format!("{day}.{}", hash.get(..8).unwrap_or_default())
}

/// Where a mark stands.
#[derive(Debug, Clone, Copy)]
pub struct StepOfMark<'g> {
    stage: &'g Stage,
    /// Counted from 1 in its stage.
    number: usize,
}

impl StepOfMark<'_> {
    /// `#s-drain--2`.
    #[must_use]
    pub fn href(&self) -> String {
        format!("#{}", step_anchor(self.stage, self.number))
    }

    /// `Drain, 2`.
    #[must_use]
    pub fn link(&self) -> Link {
        Link { text: format!("{}, {}", self.stage.title, self.number), href: self.href() }
    }
}

/// All marks of steps, each with its step.
pub fn marks_with_steps(guide: &Guide) -> impl Iterator<Item = (&Mark, StepOfMark<'_>)> {
    guide.outline.stages.iter().flat_map(|stage| {
        let steps = stage.steps.iter().zip(1..);
        steps.flat_map(move |(step, number)| step.marks.iter().map(move |mark| (mark, StepOfMark { stage, number })))
    })
}
