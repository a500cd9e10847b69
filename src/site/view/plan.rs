//! The work plan on the page of a guide: a picture with a row a stage, and the same in words.

use super::Link;
use serde::Serialize;

/// The work plan; lengths in the picture are thousandths of the whole time.
#[derive(Debug, Clone, Serialize)]
pub struct PlanView {
    /// `2 h 9 min from start to end, for one person; one after another 2 h 19 min`.
    pub sum: String,
    /// Said where it is not proved that no order is shorter.
    pub gap: Option<String>,
    /// `While Drain 2 rests: Change the filter 1 to 4`.
    pub meanwhile: Vec<MeanwhileView>,
    pub rows: Vec<PlanRow>,
    /// Lines of the time axis, the same for every row; as the `d` of a path.
    pub lines: String,
    pub ticks: Vec<PlanTick>,
    /// What the strokes mean, for those there are.
    pub legend: Vec<String>,
    /// `0:32 to 0:57: Drain 1 to 2`, in order of time.
    pub spells: Vec<String>,
}

/// A stage of the picture; each kind of task as the `d` of a path, empty where there is none.
#[derive(Debug, Clone, Serialize)]
pub struct PlanRow {
    pub stage: Link,
    pub hands_on: String,
    pub runs: String,
    pub waits: String,
}

/// A label of the time axis.
#[derive(Debug, Clone, Serialize)]
pub struct PlanTick {
    /// Share of the width in hundredths: `21.5`.
    pub at: String,
    /// `0:30`, `2 d`.
    pub text: String,
}

/// What to do while a step waits.
#[derive(Debug, Clone, Serialize)]
pub struct MeanwhileView {
    /// Anchor of the step that waits.
    pub step: String,
    pub text: String,
}
