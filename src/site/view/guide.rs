//! The page of one guide: the job sheet.

use super::{DateView, Fact, FindingView, Html, Link};
use serde::Serialize;

/// A caution, shown before the act it is about.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
pub struct CautionView {
    /// `danger`, `warning`, `caution` or `notice`.
    pub signal: String,
    /// The signal word in the language of the pages: `WARNING`.
    pub word: String,
    /// Title of a usual caution; `None` for the writer's own.
    pub title: Option<String>,
    /// What can happen, or the whole text of the writer's own caution.
    pub body: Html,
    /// How to avoid it, a sentence each; empty for the writer's own.
    pub avoid: Vec<String>,
    /// To whom regulated work is deferred.
    pub defer: Option<String>,
    /// `usual`, `own` (front matter), `inline`, or `stage`: one that stands between a heading and its
    /// first step, and so is about the whole stage.
    pub origin: String,
}

/// One rule of a job with what is left of it.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct RuleView {
    /// `every 150 h (Engine hours)`, `first at 50 h`, `every 12 months`.
    pub text: String,
    /// `41.5 h left`, `12 days over`; `None` where nothing can be said.
    pub remaining: Option<String>,
    pub due_on: Option<DateView>,
    /// `by the last 90 days: 6 February 2027`, where that is another date; with both where the rule's
    /// own date stands nowhere else.
    pub lately: Option<String>,
    /// Counted in days: what is left changes with the reader's own day.
    pub calendar: bool,
    pub estimated: bool,
    /// This rule decides.
    pub governs: bool,
}

/// The last time a job was done.
#[derive(Debug, Clone, Serialize)]
pub struct LastDone {
    pub date: DateView,
    pub href: String,
    /// Title of the entry.
    pub title: String,
    /// `Engine hours 1840.5 h`, … as read then.
    pub meters: Vec<String>,
    /// Set when another job covered this one: that guide.
    pub through: Option<Link>,
}

/// A job somebody has begun and not finished; or one that is finished and left something isolated until an occasion.
#[derive(Debug, Clone, Serialize)]
pub struct OpenJob {
    pub entry: Link,
    pub jobs: Vec<Link>,
    pub since: DateView,
    /// Stage to go on from.
    pub reached: Option<Link>,
    /// What is shut, off or apart.
    pub left: Vec<String>,
    pub finished: bool,
}

/// How a job stands, for one piece of gear or for the boat.
#[derive(Debug, Clone, Default, Serialize)]
pub struct DueView {
    /// `None` for a guide that is not for several.
    pub gear: Option<Link>,
    /// `overdue`, `due`, `soon`, `later`, `no-record`, `on-occasion`, `as-needed`, `open`; `withheld` and `shared` where
    /// an edition does not say it.
    pub state: String,
    /// The state in words.
    pub state_text: String,
    pub due_on: Option<DateView>,
    /// What decides, in words: `Engine hours`, `the calendar`.
    pub governed_by: Option<String>,
    /// The date rests on an estimate.
    pub estimated: bool,
    /// Due by estimate alone: the meter should be read.
    pub read_the_meter: bool,
    /// Whole days from the day of publication to `due_on`; negative when it is past.
    pub days: Option<i64>,
    /// `in 63 days`, `12 days ago`, `today`.
    pub days_text: Option<String>,
    pub rules: Vec<RuleView>,
    pub occasions: Vec<Link>,
    pub last: Option<LastDone>,
    pub open: Vec<OpenJob>,
}

/// A figure of `values`, as written and converted.
#[derive(Debug, Clone, Serialize)]
pub struct FigureView {
    pub id: String,
    pub name: String,
    pub value: String,
    pub converted: Option<String>,
}

/// Where a guide came from.
#[derive(Debug, Clone, Serialize)]
pub struct ReceivedView {
    /// Name of the boat.
    pub from: String,
    pub on: DateView,
    /// Nobody has held it against this boat since.
    pub unchecked: bool,
    /// The guide here that it is another revision of.
    pub revises: Option<Link>,
    /// What this book knows nothing of, as it was written.
    pub passed_over: Vec<String>,
}

/// One line of the torque table.
#[derive(Debug, Clone, Serialize)]
pub struct TorqueView {
    pub id: String,
    pub at: String,
    pub value: String,
    pub converted: Option<String>,
    /// Stages before the final value: `20 N·m`, `35 N·m`.
    pub steps: Vec<String>,
    /// Angle after the final value.
    pub then: Option<String>,
    pub fastener: Option<String>,
    /// `oiled`, in the language of the pages.
    pub surface: Option<String>,
    pub source: Option<String>,
}

/// One point of a reading with its last value.
#[derive(Debug, Clone, Serialize)]
pub struct ReadingPoint {
    /// `cylinder 1`; `None` where there is only one.
    pub point: Option<String>,
    /// Latest values, newest first, at most three.
    pub last: Vec<PastReading>,
}

/// A value read earlier.
#[derive(Debug, Clone, Serialize)]
pub struct PastReading {
    pub value: String,
    pub date: DateView,
    pub href: String,
    pub outside: bool,
}

/// A reading the guide asks for.
#[derive(Debug, Clone, Serialize)]
pub struct ReadingView {
    pub id: String,
    pub name: String,
    pub unit: String,
    /// `2.5 to 5.0 bar`.
    pub limits: Option<String>,
    pub limits_converted: Option<String>,
    /// `warm at idle`.
    pub when: Option<String>,
    pub points: Vec<ReadingPoint>,
}

/// A tool the job needs.
#[derive(Debug, Clone, Serialize)]
pub struct ToolView {
    /// For the fragment `tool-…`.
    pub id: String,
    pub title: String,
    pub stowed: Option<String>,
    /// Line of the tools page; `None` for plain words.
    pub href: Option<String>,
}

/// A part the job needs.
#[derive(Debug, Clone, Serialize)]
pub struct PartView {
    /// For the fragment `part-…`.
    pub id: String,
    pub title: String,
    pub quantity: Option<String>,
    pub quantity_converted: Option<String>,
    /// Only if the old one is worn.
    pub if_worn: bool,
    pub part_number: Option<String>,
    pub stowed: Option<String>,
    /// `2 aboard`, `plenty`, `never counted`.
    pub aboard: Option<String>,
    /// `short by 1`; set when there is not enough aboard.
    pub short: Option<String>,
    pub href: Option<String>,
}

/// Something shut, switched off or disconnected for the job.
#[derive(Debug, Clone, Serialize)]
pub struct IsolationView {
    pub what: String,
    /// Where it is isolated: `Drain, step 1`.
    pub isolate: Option<Link>,
    /// Where it is restored.
    pub restore: Option<Link>,
    /// Stays isolated until this occasion.
    pub until: Option<Link>,
}

/// A mark of a step, shown under its words.
#[derive(Debug, Clone, Serialize)]
pub struct MarkView {
    /// `takes`, `hands`, `wait`, `run`, `isolate`, `restore`, `prove`, `read`.
    pub kind: String,
    /// The word for the kind in the language of the pages: `Wait`.
    pub label: String,
    /// `20 min: oil cools`, `start key`, `7.5 L at 0.25 L/min: 15 min on, 10 min off, 2 rests, about 40 min`.
    pub text: String,
    /// For a reading: its id, so that the theme can leave room to write.
    pub reading: Option<String>,
    /// For a reading: limits as in the table.
    pub limits: Option<String>,
    /// For a reading: a label a point; one empty label where there is only one.
    pub points: Vec<String>,
    pub unit: Option<String>,
    /// For a wait or a run, in seconds and blanks between: how long it runs in all, how long at a time,
    /// how long it then rests; `u` behind them where nobody need stand by.
    pub cycle: Option<String>,
    /// For what is isolated or restored: the key that pairs the two.
    pub key: Option<String>,
    /// Isolated until an occasion: this guide does not restore it.
    pub until: bool,
    /// For a reading: the lowest and the highest figure that is still right, in `unit`.
    pub low: Option<String>,
    pub high: Option<String>,
}

/// One step.
#[derive(Debug, Clone, Serialize)]
pub struct StepView {
    /// Fragment: `drain-2`.
    pub id: String,
    /// Counted from 1 in each stage.
    pub number: usize,
    /// Cautions about this step, shown before its words.
    pub cautions: Vec<CautionView>,
    pub html: Html,
    pub marks: Vec<MarkView>,
    /// The job may be broken off after this step.
    pub safe_stop: bool,
}

/// What a stage holds, in order.
#[derive(Debug, Clone, Serialize)]
#[serde(tag = "kind", rename_all = "lowercase")]
pub enum Block {
    Prose {
        html: Html,
    },
    /// Cautions that no step follows.
    Cautions {
        cautions: Vec<CautionView>,
    },
    Steps {
        start: usize,
        steps: Vec<StepView>,
    },
}

/// One stage.
#[derive(Debug, Clone, Serialize)]
pub struct StageView {
    pub id: String,
    pub number: usize,
    pub title: Html,
    pub title_text: String,
    pub alongside: Vec<Link>,
    pub after: Vec<Link>,
    pub blocks: Vec<Block>,
}

/// How long the job takes.
#[derive(Debug, Clone, Serialize)]
pub struct TimesView {
    /// Hands-on time by the guide: `1 h 45 min`; of all people together.
    pub hands_on: Option<String>,
    /// Some step takes several people at once, so that hands-on is a sum over people.
    pub together: bool,
    /// Waits and rests of machines, in sequence.
    pub waits: Option<String>,
    /// From start to end by the work plan, where that is not just the hands-on time.
    pub elapsed: Option<String>,
    /// As the front matter gives it, where the steps carry no times.
    pub stated: Option<String>,
    /// From the log: `2 h 40 min (median of 5)`.
    pub from_log: Option<String>,
}

/// One time the job was done.
#[derive(Debug, Clone, Serialize)]
pub struct HistoryRow {
    pub date: DateView,
    pub href: String,
    pub title: String,
    pub gear: Vec<String>,
    pub meters: Vec<String>,
    pub time: Option<String>,
    pub readings: Vec<Fact>,
    pub findings: Vec<FindingView>,
    pub done_by: Option<String>,
    pub basis: Option<String>,
    pub open: bool,
    pub through: Option<Link>,
}

/// Jobs that this one covers, or that cover it.
#[derive(Debug, Clone, Serialize)]
pub struct CoverView {
    pub covers: Vec<Link>,
    pub covered_by: Vec<Link>,
}

/// The page of one guide.
#[derive(Debug, Clone, Serialize)]
pub struct GuidePage {
    pub id: String,
    /// Changes whenever the sheet is dated anew or a step or its cautions read otherwise.
    pub revision: String,
    pub title: String,
    pub summary: Option<String>,
    pub system: Link,
    pub applies_to: Option<String>,
    pub source: Option<String>,
    pub licence: Option<String>,
    pub revised: Option<DateView>,
    /// `None`: not checked against this boat.
    pub checked: Option<DateView>,
    /// Where it came from, if another boat wrote it.
    pub received: Option<ReceivedView>,
    /// Other revisions of it that came from other boats.
    pub revisions: Vec<Link>,
    pub routine: bool,
    /// People at hand.
    pub crew: u32,
    pub intro: Html,
    /// The usual cautions and the guide's own, gravest first.
    pub cautions: Vec<CautionView>,
    /// The front matter names no hazards.
    pub no_hazards_listed: bool,
    /// One for the boat, or one for each piece of gear.
    pub states: Vec<DueView>,
    pub times: TimesView,
    pub notice: Option<String>,
    /// `under way`, `at anchor` …
    pub places: Vec<String>,
    pub conditions: Vec<String>,
    pub wear: Vec<String>,
    pub dispose: Vec<String>,
    pub isolations: Vec<IsolationView>,
    /// Try before going on; each with the step it stands in.
    pub proofs: Vec<Link>,
    pub tools: Vec<ToolView>,
    pub parts: Vec<PartView>,
    pub torques: Vec<TorqueView>,
    pub values: Vec<FigureView>,
    pub readings: Vec<ReadingView>,
    /// Where the steps carry times.
    pub plan: Option<super::PlanView>,
    pub stages: Vec<StageView>,
    /// Prose after the last stage's steps belongs to that stage; footnotes stand here.
    pub footnotes: Html,
    pub covers: CoverView,
    /// How often the job was really done, for each gear where it is for several.
    pub kept: Vec<super::KeptView>,
    /// Readings over time.
    pub plots: Vec<super::PlotView>,
    pub history: Vec<HistoryRow>,
    /// More in the log than shown here.
    pub history_more: usize,
    /// Open defects that point at this guide.
    pub defects: Vec<super::DefectView>,
    /// What a record of this job is made from, as JSON for the script.
    pub record: Html,
    /// The sheet as data for programs (JSON-LD), where the site has an address.
    pub how_to: Option<Html>,
}
