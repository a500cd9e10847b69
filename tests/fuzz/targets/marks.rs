//! Marks: what a step says is read from its place, and the figures in it print back to the same.

use garboard::book::load::guide_of;
use garboard::book::outline::{Mark, MarkKind, Outline};
use garboard::book::source::Source;

pub fn check(bytes: &[u8]) {
    let Some(text) = super::text(bytes) else { return };
    let source = guide(text);
    let (guide, problems) = guide_of(&source);
    super::assert_told(&problems, source.text());
    let Some(guide) = guide else { return };
    for mark in marks(&guide.outline) {
        let written = source.text().get(mark.span.range()).unwrap_or_else(|| panic!("{mark:?} is no part of the text"));
        assert!(written.starts_with('{') && written.ends_with('}'), "{written}");
        if let Some(again) = printed(&mark.kind) {
            assert_eq!(kinds(&again), std::slice::from_ref(&mark.kind), "{written} printed as {again}");
        }
    }
}

fn guide(step: &str) -> Source {
    Source::new("guides/engine/job.md", format!("---\ntitle: A job\n---\n\n## Work\n\n1. Do it. {step}\n"))
}

fn marks(outline: &Outline) -> impl Iterator<Item = &Mark> {
    let stages = outline.stages.iter();
    stages.flat_map(|stage| stage.heading_marks.iter().chain(stage.steps.iter().flat_map(|step| &step.marks))).chain(&outline.loose_marks)
}

fn kinds(step: &str) -> Vec<MarkKind> {
    let (guide, _) = guide_of(&guide(step));
    guide.iter().flat_map(|guide| marks(&guide.outline)).map(|mark| mark.kind.clone()).collect()
}

/// A mark with a figure, written anew; words could be Markdown, and are left alone.
fn printed(kind: &MarkKind) -> Option<String> {
    match kind {
        MarkKind::Takes(time) => Some(format!("{{takes {time}}}")),
        MarkKind::Hands(count) => Some(format!("{{hands {count}}}")),
        MarkKind::Wait { time, what: None } => Some(format!("{{wait {time}}}")),
        MarkKind::Run(cycle) => Some(format!("{{run {cycle}}}")),
        MarkKind::SafeStop => Some("{safe stop}".to_owned()),
        _ => None,
    }
}
