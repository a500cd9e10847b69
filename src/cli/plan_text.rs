//! A work plan for people: the schedule by the clock, what to do meanwhile, and the sums.

use super::step_words::step_words;
use crate::book::model::Book;
use crate::book::outline::Stage;
use crate::quantity::{Duration, Exact, clock_text};
use crate::reckon::plan::{Basis, Filling, Meanwhile, Plan, Task, TaskKind};
use std::io::{self, Write};

/// Characters of a step that are shown.
const WORDS: usize = 56;

pub(super) fn print(out: &mut dyn Write, book: &Book, plan: &Plan<'_>) -> io::Result<()> {
    let crew = if plan.crew == 1 { "one person".to_owned() } else { format!("{} people", plan.crew) };
    writeln!(out, "{}, {crew}\n", plan.guide.title)?;
    match plan.sums.basis {
        Basis::Nothing => {
            return writeln!(out, "this guide has no times: its steps carry no `{{takes …}}`, and its front matter no `time:`");
        }
        Basis::FrontMatter => {
            writeln!(out, "the steps carry no times; the front matter says {}", time(&plan.elapsed))?;
            return Ok(());
        }
        Basis::Steps { .. } => {}
    }
    table(out, book, plan)?;
    let meanwhile = plan.meanwhile();
    if !meanwhile.is_empty() {
        writeln!(out)?;
    }
    for one in &meanwhile {
        writeln!(out, "{}", sentence(plan, one))?;
    }
    for early in plan.early() {
        let (begins, by) = (title(plan, early.stage), title(plan, early.by));
        writeln!(out, "\ntake care: `{begins}` begins before {} is isolated in {by} {}", early.what, early.step + 1)?;
    }
    writeln!(out)?;
    sums(out, plan)
}

/// A line a task: from, to, where, and what.
fn table(out: &mut dyn Write, book: &Book, plan: &Plan<'_>) -> io::Result<()> {
    let rows: Vec<[String; 4]> =
        plan.tasks.iter().map(|task| [clock(&task.start), clock(&task.end), place(plan, task), what(book, plan, task)]).collect();
    let width = |column: usize| rows.iter().map(|row| row[column].chars().count()).max().unwrap_or(0);
    let (from, to, place) = (width(0), width(1), width(2));
    for row in &rows {
        let line = format!("{:>from$}  {:>to$}  {:<place$}  {}", row[0], row[1], row[2], row[3]);
        writeln!(out, "{}", line.trim_end())?;
    }
    Ok(())
}

/// `Drain 2`.
fn place(plan: &Plan<'_>, task: &Task<'_>) -> String {
    format!("{} {}", title(plan, task.stage), task.step + 1)
}

fn title<'p>(plan: &'p Plan<'_>, stage: usize) -> &'p str {
    plan.guide.outline.stages.get(stage).map_or("", |stage: &Stage| stage.title.as_str())
}

fn what(book: &Book, plan: &Plan<'_>, task: &Task<'_>) -> String {
    let words = plan.step(task).map(|step| step_words(book, plan.guide, step)).unwrap_or_default();
    match task.kind {
        TaskKind::HandsOn if task.hands > 1 => format!("{} hands: {}", task.hands, first_words(&words)),
        TaskKind::HandsOn => first_words(&words),
        TaskKind::Wait => format!("wait: {}", task.what.map_or_else(|| first_words(&words), str::to_owned)),
        TaskKind::Run if task.hands == 0 => format!("runs by itself: {}", first_words(&words)),
        TaskKind::Run => format!("runs: {}", first_words(&words)),
        TaskKind::Rest => "rests".to_owned(),
    }
}

/// As many whole words as there is room for.
fn first_words(words: &str) -> String {
    if words.chars().count() <= WORDS {
        return words.to_owned();
    }
    let mut kept = String::new();
    let mut length = 0;
    for word in words.split(' ') {
        let longer = length + word.chars().count() + usize::from(length > 0);
        if longer > WORDS {
            break;
        }
        if length > 0 {
            kept.push(' ');
        }
        kept.push_str(word);
        length = longer;
    }
    if kept.is_empty() {
        kept.extend(words.chars().take(WORDS));
    }
    format!("{} …", kept.trim_end_matches([',', ';', ':']))
}

/// `while Drain 2 rests: Change the filter 1 to 4`.
fn sentence(plan: &Plan<'_>, one: &Meanwhile<'_>) -> String {
    let step = format!("{} {}", title(plan, one.stage), one.step + 1);
    let does = match (one.kind, one.what) {
        (TaskKind::Rest, _) => "rests".to_owned(),
        (TaskKind::Run, _) => "runs by itself".to_owned(),
        (_, Some(what)) => format!("waits ({what})"),
        (_, None) => "waits".to_owned(),
    };
    let filling = |filling: &Filling| {
        let steps = if filling.first == filling.last {
            format!("{}", filling.first + 1)
        } else {
            format!("{} to {}", filling.first + 1, filling.last + 1)
        };
        format!("{} {steps}", title(plan, filling.stage))
    };
    let filled_by: Vec<String> = one.filled_by.iter().map(filling).collect();
    format!("while {step} {does}, do {}", filled_by.join(", then "))
}

fn sums(out: &mut dyn Write, plan: &Plan<'_>) -> io::Result<()> {
    let sums = &plan.sums;
    let together = if plan.tasks.iter().any(|task| task.hands > 1) { ", all people together" } else { "" };
    let rows = [
        ("from start to end", time(&plan.elapsed), String::new()),
        ("hands-on", time(&sums.hands_on), together.to_owned()),
        ("one after another", time(&sums.in_sequence), String::new()),
    ];
    for (label, time, note) in rows {
        writeln!(out, "{label:<18} {time}{note}")?;
    }
    if !plan.is_optimal() {
        writeln!(
            out,
            "this order is not proved to be the shortest: none takes less than {}, {} less",
            time(&plan.bound),
            time(&(plan.elapsed - plan.bound))
        )?;
    }
    if sums.basis == (Basis::Steps { some_untimed: true }) {
        writeln!(out, "some steps carry no time, and take some all the same")?;
    }
    Ok(())
}

/// `1:05`, and from two days on `2 d 1:05`.
fn clock(minutes: &Exact) -> String {
    clock_text(minutes, |days| format!("{days} d"))
}

/// `1 h 5 min 15 s`: to the second.
fn time(minutes: &Exact) -> String {
    let seconds = (minutes * Exact::from_integer(60)).round().to_integer();
    i64::try_from(seconds).ok().and_then(Duration::from_seconds).unwrap_or_default().to_string()
}
