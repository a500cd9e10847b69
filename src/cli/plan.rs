//! `garboard plan`.

use super::args::{Format, PlanArgs};
use super::outcome::Exit;
use super::{report, today};
use crate::book::diagnostic::{Diagnostic, Severity, any_error, nearest, tidy};
use crate::book::load::load;
use crate::book::model::{Book, Guide};
use crate::quantity::{Exact, to_f64};
use crate::reckon::plan::{Plan, Task, plan};
use crate::reckon::reckon;
use serde::Serialize;
use serde_json::Number;
use std::io::{self, Write};

/// A plan as JSON; keys are never removed.
#[derive(Serialize)]
struct Sheet<'p> {
    guide: &'p str,
    crew: u32,
    hands_on_min: Number,
    elapsed_min: Number,
    in_sequence_min: Number,
    tasks: Vec<Row<'p>>,
    optimal: bool,
    bound_min: Number,
}

#[derive(Serialize)]
struct Row<'p> {
    stage: &'p str,
    step: usize,
    kind: &'p str,
    start_min: Number,
    end_min: Number,
}

impl<'p> From<&'p Plan<'_>> for Sheet<'p> {
    fn from(plan: &'p Plan<'_>) -> Self {
        let row = |task: &Task<'_>| Row {
            stage: plan.stage(task).map_or("", |stage| stage.title.as_str()),
            step: task.step + 1,
            kind: task.kind.word(),
            start_min: number(&task.start),
            end_min: number(&task.end),
        };
        Self {
            guide: &plan.guide.id,
            crew: plan.crew,
            hands_on_min: number(&plan.sums.hands_on),
            elapsed_min: number(&plan.elapsed),
            in_sequence_min: number(&plan.sums.in_sequence),
            tasks: plan.tasks.iter().map(row).collect(),
            optimal: plan.is_optimal(),
            bound_min: number(&plan.bound),
        }
    }
}

/// Minutes as a JSON number: an integer where they are whole.
fn number(minutes: &Exact) -> Number {
    let whole = i64::try_from(*minutes.numer()).ok().filter(|_| minutes.is_integer());
    whole.map(Number::from).or_else(|| Number::from_f64(to_f64(minutes))).unwrap_or_else(|| Number::from(0))
}

pub fn run(args: &PlanArgs, out: &mut dyn Write, err: &mut dyn Write) -> io::Result<Exit> {
    let folder = &args.book.book;
    let loaded = match load(folder) {
        Ok(loaded) => loaded,
        Err(error) => return super::no_book(err, &error),
    };
    let book = &loaded.book;
    let (_, found) = reckon(book, args.book.on.unwrap_or_else(today));
    let mut problems = loaded.problems.clone();
    problems.extend(found);
    tidy(&mut problems);
    if !problems.is_empty() {
        let errors: Vec<Diagnostic> = problems.iter().filter(|problem| problem.severity == Severity::Error).cloned().collect();
        report::problems(err, folder, &errors, true)?;
        writeln!(err, "{} in the book: `garboard survey` says what and where", report::summary(&problems))?;
    }
    let Some(guide) = book.guide_or_former(&args.guide) else {
        unknown(err, book, &args.guide)?;
        return Ok(if any_error(&problems) { Exit::Problems } else { Exit::WrongCommandLine });
    };
    let plan = match plan(guide, args.crew.unwrap_or(guide.crew)) {
        Ok(plan) => plan,
        Err(problem) => {
            writeln!(err, "error: {problem}\nhelp: {}", problem.remedy())?;
            return Ok(Exit::Problems);
        }
    };
    match args.format {
        Format::Json => {
            serde_json::to_writer_pretty(&mut *out, &Sheet::from(&plan))?;
            writeln!(out)?;
        }
        Format::Text => super::plan_text::print(out, book, &plan)?,
    }
    Ok(if any_error(&problems) { Exit::Problems } else { Exit::Fine })
}

fn unknown(err: &mut dyn Write, book: &Book, typed: &str) -> io::Result<()> {
    writeln!(err, "error: there is no guide `{}` in this book", report::printable(typed))?;
    let ids = book.guides.iter().flat_map(names);
    // A job with its gear, or a file of the book.
    let last = typed.rsplit('/').next().unwrap_or(typed).trim_end_matches(".md");
    let first = typed.split('/').next().unwrap_or(typed);
    let ids: Vec<&str> = ids.collect();
    let known = [last, first].into_iter().find(|part| ids.contains(part)).map(str::to_owned);
    match known.or_else(|| nearest(typed, ids.iter().copied()).map(str::to_owned)) {
        Some(id) => writeln!(err, "help: did you mean `{id}`?"),
        None => writeln!(err, "help: a guide's id is the name of its file; `garboard due --all` lists the jobs by their titles"),
    }
}

/// The ids by which a guide is found.
fn names(guide: &Guide) -> impl Iterator<Item = &str> {
    std::iter::once(guide.id.as_str()).chain(guide.formerly.iter().map(|name| name.value.as_str()))
}
