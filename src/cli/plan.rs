//! `garboard plan`.

use super::args::{Format, PlanArgs};
use super::outcome::Exit;
use super::reckoned::{Slip, guides_with, reckoned, tell_errors};
use crate::book::diagnostic::nearest;
use crate::book::load::load;
use crate::book::model::{Book, Guide};
use crate::quantity::{Exact, to_f64};
use crate::reckon::plan::{Plan, Task, plan};
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
    let (_, problems) = reckoned(&args.book, &loaded);
    let exit = tell_errors(err, &args.book, &problems)?;
    let Some(guide) = book.guide_or_former(&args.guide) else {
        return unknown(book, &args.guide).told(err, exit);
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
    Ok(exit)
}

/// Most guides that are offered for one that is not there.
const MOST_ALIKE: usize = 8;

/// Says that there is no such guide, and which is meant.
pub(super) fn unknown(book: &Book, typed: &str) -> Slip {
    let ids: Vec<&str> = book.guides.iter().flat_map(names).collect();
    // A job with its gear, or a file of the book.
    let last = typed.rsplit('/').next().unwrap_or(typed).trim_end_matches(".md");
    let first = typed.split('/').next().unwrap_or(typed);
    let known = [last, first].into_iter().find(|part| ids.contains(part)).map(str::to_owned);
    let near = known.or_else(|| nearest(typed, ids.iter().copied()).map(str::to_owned));
    let remedy = match (near, alike(book, typed).as_slice()) {
        (Some(id), _) => format!("did you mean `{id}`?"),
        (None, []) => "a guide's id is the name of its file; `garboard due --all` lists the jobs by their titles".to_owned(),
        (None, [id]) => format!("did you mean `{id}`?"),
        (None, ids) => format!("did you mean one of these: `{}`?", ids.join("`, `")),
    };
    Slip { message: format!("there is no guide `{typed}` in this book"), remedy }
}

/// Guides with these words in id or title, where they are few.
fn alike<'b>(book: &'b Book, typed: &str) -> Vec<&'b str> {
    let found: Vec<&str> = guides_with(book, typed).take(MOST_ALIKE + 1).collect();
    if found.len() > MOST_ALIKE { Vec::new() } else { found }
}

/// The ids by which a guide is found.
fn names(guide: &Guide) -> impl Iterator<Item = &str> {
    std::iter::once(guide.id.as_str()).chain(guide.formerly.iter().map(|name| name.value.as_str()))
}
