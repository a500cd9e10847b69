//! The bones of a guide's Markdown: stages, steps, marks, cautions, and what it points at.
//!
//! Found once when the book is read. Places are byte spans in the source, so that rendering can
//! parse the same text again and know what each piece is.

use super::id::key_of;
use super::model::Signal;
use super::source::{Name, Placed, Span};
use crate::quantity::{Duration, DutyCycle};
use std::collections::HashSet;

/// The bones of one guide.
#[derive(Debug, Clone, Default)]
pub struct Outline {
    pub stages: Vec<Stage>,
    pub cautions: Vec<InlineCaution>,
    /// Marks in prose and cautions, outside steps and headings.
    pub loose_marks: Vec<Mark>,
    pub pictures: Vec<PictureRef>,
    pub links: Vec<LinkRef>,
}

impl Outline {
    /// Gives back the room of lists that do not grow any more.
    pub(super) fn shrink(&mut self) {
        for stage in &mut self.stages {
            stage.alongside.shrink_to_fit();
            stage.heading_marks.shrink_to_fit();
            for step in &mut stage.steps {
                step.marks.shrink_to_fit();
            }
            stage.steps.shrink_to_fit();
        }
        self.stages.shrink_to_fit();
        self.cautions.shrink_to_fit();
        self.loose_marks.shrink_to_fit();
        self.pictures.shrink_to_fit();
        self.links.shrink_to_fit();
    }

    /// The marks of all steps, in the order of the guide.
    pub fn step_marks(&self) -> impl Iterator<Item = &Mark> {
        self.stages.iter().flat_map(|stage| &stage.steps).flat_map(|step| &step.marks)
    }

    /// All marks, wherever they stand; some of a heading stand with its first step too.
    pub fn marks(&self) -> impl Iterator<Item = &Mark> {
        let stages = self.stages.iter();
        let in_stages = stages.flat_map(|stage| stage.heading_marks.iter().chain(stage.steps.iter().flat_map(|step| &step.marks)));
        in_stages.chain(&self.loose_marks)
    }

    /// The same marks, to be changed.
    pub(super) fn marks_mut(&mut self) -> impl Iterator<Item = &mut Mark> {
        let stages = self.stages.iter_mut();
        let in_stages =
            stages.flat_map(|stage| stage.heading_marks.iter_mut().chain(stage.steps.iter_mut().flat_map(|step| &mut step.marks)));
        in_stages.chain(&mut self.loose_marks)
    }

    /// What this guide restores that another one isolated, as keys. What it isolates itself and puts back is its own:
    /// that another thing of the same name was opened again says nothing of the one that was left shut.
    #[must_use]
    pub fn restored_for_others(&self) -> Vec<String> {
        let mut own = HashSet::new();
        let mut restored = Vec::new();
        for mark in self.step_marks() {
            match &mark.kind {
                MarkKind::Isolate { what, until: None } => {
                    own.insert(key_of(what));
                }
                MarkKind::Isolate { what, until: Some(_) } => {
                    own.remove(&key_of(what));
                }
                MarkKind::Restore(what) => {
                    let key = key_of(what);
                    if !own.remove(&key) {
                        restored.push(key);
                    }
                }
                _ => {}
            }
        }
        restored
    }
}

/// A `##` heading with what stands under it.
#[derive(Debug, Clone)]
pub struct Stage {
    /// Title without its marks.
    pub title: String,
    /// Unique within the guide.
    pub id: String,
    /// The heading; of steps before any heading, the first of them.
    pub span: Span,
    pub alongside: Vec<Name>,
    /// `None`: every stage above it.
    pub after: Option<Vec<Name>>,
    /// All marks of the heading, for cutting them out of the title.
    pub heading_marks: Vec<Mark>,
    /// Steps that stand before any heading.
    pub implicit: bool,
    pub steps: Vec<Step>,
}

/// An item of the numbered list of a stage.
#[derive(Debug, Clone)]
pub struct Step {
    pub span: Span,
    pub marks: Vec<Mark>,
}

/// Words in braces.
#[derive(Debug, Clone)]
pub struct Mark {
    /// With the braces.
    pub span: Span,
    pub kind: MarkKind,
}

/// What a mark says.
#[derive(Debug, Clone, PartialEq)]
pub enum MarkKind {
    Name(String),
    Takes(Duration),
    Hands(u32),
    Wait {
        time: Duration,
        what: Option<String>,
    },
    /// Boxed: it is much larger than the others.
    Run(Box<DutyCycle>),
    Isolate {
        what: String,
        /// Boxed: few have one, and marks are many.
        until: Option<Box<Name>>,
    },
    Restore(String),
    Prove(String),
    SafeStop,
    Read(String),
    /// Headings only: stages whose waits this stage may fill.
    Alongside(Vec<Name>),
    /// Headings only: stages that must be done first.
    After(Vec<Name>),
    /// Named something of the front matter that this edition does not show; `shown`: where it stood is told all the same.
    Withheld {
        shown: bool,
    },
    /// Could not be read; an error says so.
    Broken,
}

/// A block quote that opens with a signal word.
#[derive(Debug, Clone)]
pub struct InlineCaution {
    pub signal: Signal,
    /// The whole block quote.
    pub span: Span,
    /// The signal word with its colon, for cutting it out of the text.
    pub word: Span,
    pub place: CautionPlace,
}

/// Where a caution belongs; stages and steps counted from 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CautionPlace {
    /// Before everything.
    Intro,
    /// Inside this step, or between steps before it.
    Step { stage: usize, step: usize },
    /// After the last step of this stage.
    StageEnd { stage: usize },
}

/// A picture, with the path as written.
#[derive(Debug, Clone)]
pub struct PictureRef {
    pub path: Placed<String>,
    pub alt: String,
}

/// A link, as written.
#[derive(Debug, Clone)]
pub struct LinkRef {
    pub target: Placed<String>,
}
