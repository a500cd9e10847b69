//! `garboard due`.

use super::args::{DueArgs, Format};
use super::outcome::Exit;
use super::{report, today};
use crate::book::diagnostic::{any_error, tidy};
use crate::book::load::load;
use crate::reckon::{JobState, Reckoning, RuleState, State, reckon};
use serde::Serialize;
use std::io::{self, Write};

/// A job as JSON; keys are never removed.
#[derive(Serialize)]
struct Row<'j> {
    guide: &'j str,
    gear: Option<&'j str>,
    title: &'j str,
    system: &'j str,
    state: &'j str,
    due_on: Option<String>,
    governed_by: Option<&'j str>,
    remaining: serde_json::Map<String, serde_json::Value>,
    last_done: Option<Done<'j>>,
    estimated: bool,
    occasions: Vec<&'j str>,
    on_passage: Option<&'j str>,
    times_due: Option<u64>,
}

#[derive(Serialize)]
struct Done<'j> {
    entry: &'j str,
    date: String,
}

impl<'j> From<&'j JobState<'_>> for Row<'j> {
    fn from(job: &'j JobState<'_>) -> Self {
        Self {
            guide: &job.guide.id,
            gear: job.gear.map(|gear| gear.id.value.as_str()),
            title: &job.guide.title,
            system: &job.guide.system,
            state: job.state.word(),
            due_on: job.due_on.map(|date| date.to_string()),
            governed_by: job.governed_by.as_deref(),
            remaining: job
                .rules
                .iter()
                .filter_map(|rule| Some((rule.by.clone(), serde_json::Value::from(rule.remaining.as_ref()?.to_string()))))
                .collect(),
            last_done: job.last_done.as_ref().map(|done| Done { entry: &done.entry.id, date: done.date.date.to_string() }),
            estimated: job.estimated,
            occasions: job.guide.occasions.iter().map(|name| name.value.as_str()).collect(),
            on_passage: None,
            times_due: None,
        }
    }
}

/// What needs attention: all but what is later, on occasion or as needed.
fn presses(job: &JobState<'_>) -> bool {
    matches!(job.state, State::Overdue | State::NoRecord | State::Due | State::Open | State::Soon)
}

pub fn run(args: &DueArgs, out: &mut dyn Write, err: &mut dyn Write) -> io::Result<Exit> {
    let book = &args.book.book;
    let loaded = match load(book) {
        Ok(loaded) => loaded,
        Err(error) => return super::no_book(err, &error),
    };
    let on = args.book.on.unwrap_or_else(today);
    let (reckoning, found) = reckon(&loaded.book, on);
    let mut problems = loaded.problems.clone();
    problems.extend(found);
    tidy(&mut problems);
    let exit = if any_error(&problems) { Exit::Problems } else { Exit::Fine };
    if !problems.is_empty() {
        let errors: Vec<_> =
            problems.iter().filter(|problem| problem.severity == crate::book::diagnostic::Severity::Error).cloned().collect();
        report::problems(err, book, &errors, true)?;
        writeln!(err, "{} in the book: `garboard survey` says what and where", report::summary(&problems))?;
    }
    let jobs = reckoning.by_urgency();
    match args.format {
        Format::Json => {
            let rows: Vec<Row<'_>> = jobs.iter().map(|job| Row::from(*job)).collect();
            super::json(out, &rows)?;
        }
        Format::Text => {
            if exit == Exit::Problems {
                writeln!(out, "the book has errors, and this list may lack jobs\n")?;
            }
            let shown: Vec<&JobState<'_>> = jobs.into_iter().filter(|job| args.all || presses(job)).collect();
            if shown.is_empty() {
                writeln!(out, "nothing needs attention as of {on}")?;
            } else {
                table(out, &reckoning, &shown)?;
            }
        }
    }
    Ok(exit)
}

/// The list for people, columns aligned.
fn table(out: &mut dyn Write, reckoning: &Reckoning<'_>, jobs: &[&JobState<'_>]) -> io::Result<()> {
    let head = ["state", "due on", "left", "job", "last done"].map(str::to_owned);
    let rows: Vec<[String; 5]> = jobs.iter().map(|job| cells(reckoning, job)).collect();
    let mut widths = head.each_ref().map(|cell| cell.chars().count());
    for row in &rows {
        for (width, cell) in widths.iter_mut().zip(row) {
            *width = (*width).max(cell.chars().count());
        }
    }
    for row in std::iter::once(&head).chain(&rows) {
        let mut line = String::new();
        for (cell, width) in row.iter().zip(widths) {
            line.push_str(cell);
            line.extend(std::iter::repeat_n(' ', width - cell.chars().count() + 2));
        }
        writeln!(out, "{}", line.trim_end())?;
    }
    Ok(())
}

/// What is left by one rule; `~` where the meter was carried on since it was last read.
fn left(reckoning: &Reckoning<'_>, rule: &RuleState<'_>) -> Option<String> {
    let remaining = rule.remaining.as_ref()?;
    let about = if reckoning.is_carried_on(&rule.by) { "~" } else { "" };
    Some(format!("{about}{remaining}"))
}

fn cells(reckoning: &Reckoning<'_>, job: &JobState<'_>) -> [String; 5] {
    let due = job.due_on.map_or_else(|| "-".to_owned(), |date| if job.estimated { format!("~{date}") } else { date.to_string() });
    let left: Vec<String> = job.rules.iter().filter_map(|rule| left(reckoning, rule)).collect();
    let title = job.gear.map_or_else(|| job.guide.title.clone(), |gear| format!("{} ({})", job.guide.title, gear.title));
    let state = if job.read_the_meter { "due: by estimate, read the meter" } else { job.state.word() };
    let last = job.last_done.as_ref().map_or_else(
        || "never recorded".to_owned(),
        |done| {
            let about = if done.date.about { "~" } else { "" };
            format!("{about}{}", done.date.date)
        },
    );
    let left = if left.is_empty() { "-".to_owned() } else { left.join(", ") };
    [state.to_owned(), due, left, title, last]
}
