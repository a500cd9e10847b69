//! The work plan of a guide as a picture and in words.

use crate::book::model::Guide;
use crate::quantity::{Exact, clock_text, minutes_text, plain_decimal, to_f64};
use crate::reckon::plan::{Filling, Meanwhile, Plan, Task, TaskKind};
use crate::site::guide_body::{stage_anchor, step_anchor};
use crate::site::view::{Link, MeanwhileView, PlanRow, PlanTick, PlanView};
use crate::site::words::Words;

/// Width of the picture in its own units.
const WIDTH: f64 = 1000.0;
/// More tasks than this are drawn without the gaps between neighbours.
const MOST_APART: usize = 60;
/// Most lines of the time axis.
const MOST_TICKS: i64 = 5;
/// Minutes between lines of the time axis.
const STEPS: [i64; 16] = [1, 2, 5, 10, 15, 30, 60, 120, 180, 360, 720, 1440, 2 * 1440, 7 * 1440, 14 * 1440, 28 * 1440];
/// Most lines of the plan in words: beyond that nobody reads it.
const MOST_SPELLS: usize = 60;

/// The plan, where it says something: from two tasks on.
#[must_use]
pub fn plan(words: &Words, plan: &Plan<'_>) -> Option<PlanView> {
    if plan.tasks.len() < 2 {
        return None;
    }
    let step = tick_step(&plan.elapsed);
    let legend = [(TaskKind::HandsOn, "plan.solid"), (TaskKind::Run, "plan.outlined"), (TaskKind::Wait, "plan.hatched")];
    Some(PlanView {
        sum: sum(words, plan),
        gap: (!plan.is_optimal()).then(|| words.say("plan.gap", &[("time", &minutes_text(&plan.bound))])),
        meanwhile: plan.meanwhile().iter().map(|one| meanwhile(words, plan.guide, one)).collect(),
        rows: rows(plan),
        lines: ticks(&plan.elapsed, step).map(|minutes| format!("M{}-5v10", place(&minutes, &plan.elapsed))).collect(),
        ticks: ticks(&plan.elapsed, step).map(|minutes| tick(words, &minutes, &plan.elapsed)).collect(),
        legend: legend
            .into_iter()
            .filter(|(kind, _)| plan.tasks.iter().any(|task| drawn_as(task) == *kind))
            .map(|(_, key)| words.text(key))
            .collect(),
        // One thing after another is what the steps say already.
        spells: if plan.elapsed < plan.sums.in_sequence { spells(words, plan) } else { Vec::new() },
    })
}

fn sum(words: &Words, plan: &Plan<'_>) -> String {
    let n = plan.crew.to_string();
    let mut sum = words.say("plan.sum", &[("n", &n), ("time", &minutes_text(&plan.elapsed))]);
    if plan.elapsed < plan.sums.in_sequence {
        sum.push_str("; ");
        sum.push_str(&words.say("guide.in-sequence", &[("time", &minutes_text(&plan.sums.in_sequence))]));
    }
    sum
}

/// `Drain 2`, `Change the filter 1 to 4`.
fn steps(words: &Words, guide: &Guide, stage: usize, first: usize, last: usize) -> String {
    let title = guide.outline.stages.get(stage).map_or("", |stage| stage.title.as_str());
    let (first, last) = ((first + 1).to_string(), (last + 1).to_string());
    let key = if first == last { "plan.step" } else { "plan.steps" };
    words.say(key, &[("stage", title), ("first", &first), ("last", &last)])
}

fn meanwhile(words: &Words, guide: &Guide, one: &Meanwhile<'_>) -> MeanwhileView {
    let step = guide.outline.stages.get(one.stage).map(|stage| step_anchor(stage, one.step + 1));
    MeanwhileView { step: step.unwrap_or_default(), text: sentence(words, guide, one) }
}

fn sentence(words: &Words, guide: &Guide, one: &Meanwhile<'_>) -> String {
    let step = steps(words, guide, one.stage, one.step, one.step);
    let filling = |filling: &Filling| steps(words, guide, filling.stage, filling.first, filling.last);
    let filled: Vec<String> = one.filled_by.iter().map(filling).collect();
    let (key, what) = match (one.kind, one.what) {
        (TaskKind::Rest, _) => ("plan.while-rest", ""),
        (TaskKind::Run, _) => ("plan.while-run", ""),
        (_, Some(what)) => ("plan.while-wait-for", what),
        (_, None) => ("plan.while-wait", ""),
    };
    words.say(key, &[("step", &step), ("what", what), ("do", &filled.join(", "))])
}

/// How a task is drawn: a rest as a wait.
fn drawn_as(task: &Task<'_>) -> TaskKind {
    if task.kind == TaskKind::Rest { TaskKind::Wait } else { task.kind }
}

fn rows(plan: &Plan<'_>) -> Vec<PlanRow> {
    let stages = plan.guide.outline.stages.iter().enumerate();
    let timed = stages.filter(|(at, _)| plan.tasks.iter().any(|task| task.stage == *at));
    timed
        .map(|(at, stage)| {
            let path = |kind| bars(plan, |task| task.stage == at && drawn_as(task) == kind, kind == TaskKind::Run);
            PlanRow {
                stage: Link { text: stage.title.clone(), href: format!("#{}", stage_anchor(stage)) },
                hands_on: path(TaskKind::HandsOn),
                runs: path(TaskKind::Run),
                waits: path(TaskKind::Wait),
            }
        })
        .collect()
}

/// Bars of some tasks: a line along the middle for each, or its outline.
fn bars(plan: &Plan<'_>, wanted: impl Fn(&Task<'_>) -> bool, outlined: bool) -> String {
    let apart = plan.tasks.len() <= MOST_APART;
    let mut drawn: Vec<(i64, i64)> = Vec::new();
    for task in plan.tasks.iter().filter(|task| wanted(task)) {
        let (start, end) = (place(&task.start, &plan.elapsed), place(&task.end, &plan.elapsed));
        // A short task is seen all the same, and neighbours are told apart where there is room.
        let end = if apart && end - start > 4 { end - 2 } else { end.max(start + 2) };
        match drawn.last_mut() {
            Some(last) if !apart && last.1 >= start => last.1 = last.1.max(end),
            _ => drawn.push((start, end)),
        }
    }
    let bar = |(start, end): (i64, i64)| {
        let length = end - start;
        if outlined { format!("M{start}-4h{length}v8h-{length}z") } else { format!("M{start} 0h{length}") }
    };
    drawn.into_iter().map(bar).collect()
}

#[expect(clippy::cast_possible_truncation, reason = "a place within the picture is a small number")]
fn place(minutes: &Exact, whole: &Exact) -> i64 {
    (to_f64(minutes) / to_f64(whole).max(f64::MIN_POSITIVE) * WIDTH).round() as i64
}

/// Minutes between lines of the axis: the smallest of the usual that needs few enough.
fn tick_step(whole: &Exact) -> i64 {
    let most = Exact::from_integer(i128::from(MOST_TICKS));
    let enough = STEPS.into_iter().find(|step| *whole <= most * Exact::from_integer(i128::from(*step)));
    // Ten years of waiting: as many weeks as it takes.
    enough.unwrap_or_else(|| i64::try_from((whole / most).ceil().to_integer()).unwrap_or(i64::MAX) / (28 * 1440) * (28 * 1440) + 28 * 1440)
}

fn ticks(whole: &Exact, step: i64) -> impl Iterator<Item = Exact> {
    let whole = *whole;
    (0..=MOST_TICKS).map(move |at| Exact::from_integer(i128::from(at) * i128::from(step))).filter(move |minutes| *minutes <= whole)
}

fn tick(words: &Words, minutes: &Exact, whole: &Exact) -> PlanTick {
    let days = Exact::from_integer(1440);
    let text = if *minutes >= days && (minutes / days).is_integer() {
        words.say("plan.days", &[("n", &plain_decimal(&(minutes / days), 0))])
    } else {
        clock(words, minutes)
    };
    let at = plain_decimal(&(minutes / whole.max(&Exact::from_integer(1)) * Exact::from_integer(100)), 1);
    PlanTick { at, text }
}

/// `1:05`, hours and minutes from the start; with days where there are two or more.
fn clock(words: &Words, minutes: &Exact) -> String {
    clock_text(minutes, |days| words.say("plan.days", &[("n", days)]))
}

/// Neighbouring tasks of a stage as one line each, in order of time.
fn spells(words: &Words, plan: &Plan<'_>) -> Vec<String> {
    let mut spells: Vec<(Exact, Exact, Filling)> = Vec::new();
    for task in &plan.tasks {
        match spells.last_mut() {
            Some((_, end, last)) if last.stage == task.stage => {
                *end = task.end.max(*end);
                last.last = task.step;
            }
            _ => spells.push((task.start, task.end, Filling { stage: task.stage, first: task.step, last: task.step })),
        }
    }
    let line = |(start, end, of): &(Exact, Exact, Filling)| {
        let steps = steps(words, plan.guide, of.stage, of.first, of.last);
        words.say("plan.spell", &[("from", &clock(words, start)), ("to", &clock(words, end)), ("steps", &steps)])
    };
    spells.iter().take(MOST_SPELLS).map(line).collect()
}
