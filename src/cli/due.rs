//! `garboard due`: every job as JSON, or what was asked about as text.

mod occasion;
mod passage;
mod table;

use super::args::{DueArgs, Format};
use super::outcome::Exit;
use super::{report, today};
use crate::book::diagnostic::{any_error, offer, tidy};
use crate::book::load::load;
use crate::book::model::{Book, OCCASIONS, Passage};
use crate::reckon::{JobState, OnPassage, PassageState, Reckoning, State, reckon};
use serde::Serialize;
use std::io::{self, Write};
use table::table;

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

impl<'j> Row<'j> {
    /// `times_due`: how the job stands to the passage that was asked about, and how often it falls due.
    fn new(job: &'j JobState<'_>, on_passage: Option<(OnPassage, u64)>) -> Self {
        Self {
            guide: &job.guide.id,
            gear: job.gear.map(|gear| gear.id.value.as_str()),
            title: &job.guide.title,
            system: &job.guide.system,
            state: job.state.word(),
            due_on: job.due_on.map(|date| date.to_string()),
            governed_by: job.governed_by.as_deref(),
            remaining: remaining(job),
            last_done: job.last_done.as_ref().map(|done| Done { entry: &done.entry.id, date: done.date.date.to_string() }),
            estimated: job.estimated,
            occasions: job.guide.occasions.iter().map(|name| name.value.as_str()).collect(),
            on_passage: on_passage.map(|(stage, _)| stage.word()),
            times_due: on_passage.map(|(_, times)| times),
        }
    }
}

/// What is left by each rule; of two by one meter the one that governs, else the first.
fn remaining(job: &JobState<'_>) -> serde_json::Map<String, serde_json::Value> {
    let mut remaining = serde_json::Map::new();
    for rule in &job.rules {
        if let Some(left) = &rule.remaining
            && (rule.governs || !remaining.contains_key(&rule.by))
        {
            remaining.insert(rule.by.clone(), left.to_string().into());
        }
    }
    remaining
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
    let asked = match Asked::of(args, &loaded.book) {
        Ok(asked) => asked,
        Err(unknown) => {
            writeln!(err, "error: {}\nhelp: {}", report::printable(&unknown.message), unknown.remedy)?;
            // A name that the book may know, were it whole, is no slip of the command line.
            return Ok(if exit == Exit::Problems { exit } else { Exit::WrongCommandLine });
        }
    };
    let trip = match asked {
        Asked::Passage(passage) => Some(crate::reckon::passage(&reckoning, passage)),
        _ => None,
    };
    match args.format {
        Format::Json => json(out, &reckoning, trip.as_ref())?,
        Format::Text => {
            if exit == Exit::Problems {
                writeln!(out, "the book has errors, and this list may lack jobs\n")?;
            }
            match (&trip, asked) {
                (Some(trip), _) => passage::print(out, &reckoning, trip, args.all)?,
                (None, Asked::Occasion(occasion)) => occasion::print(out, &reckoning, occasion)?,
                (None, _) => pressing(out, &reckoning, args)?,
            }
        }
    }
    Ok(exit)
}

/// What the list is about.
#[derive(Clone, Copy)]
enum Asked<'a> {
    Everything,
    Passage(&'a Passage),
    Occasion(&'a str),
}

/// A name that the book does not know.
struct Unknown {
    message: String,
    remedy: String,
}

impl<'a> Asked<'a> {
    fn of(args: &'a DueArgs, book: &'a Book) -> Result<Self, Unknown> {
        if let Some(id) = &args.passage {
            let ids = book.passages.iter().map(|passage| passage.id.value.as_str());
            let found = book.passages.iter().find(|passage| passage.id.value == *id);
            return found.map(Self::Passage).ok_or_else(|| Unknown {
                message: format!("there is no passage `{id}` in the book"),
                remedy: offer(id, ids, "write the `id` of a passage of `passages.yaml`"),
            });
        }
        if let Some(id) = &args.occasion {
            let own = book.boat.occasions.iter().map(|occasion| occasion.id.value.as_str());
            let mut known = OCCASIONS.into_iter().chain(own);
            if !known.clone().any(|known| known == id) {
                return Err(Unknown {
                    message: format!("there is no occasion `{id}`"),
                    remedy: offer(id, known, "write the `id` of an occasion that ships or that `boat.yaml` adds"),
                });
            }
            return Ok(known.find(|known| known == id).map_or(Self::Everything, Self::Occasion));
        }
        Ok(Self::Everything)
    }
}

/// Every job, whatever was asked about.
fn json(out: &mut dyn Write, reckoning: &Reckoning<'_>, trip: Option<&PassageState<'_, '_>>) -> io::Result<()> {
    let on_passage = |job: &JobState<'_>| {
        let found = trip?.jobs.iter().find(|on| std::ptr::eq(on.job, job))?;
        Some((found.stage, found.falls.times))
    };
    let jobs = reckoning.by_urgency();
    let rows: Vec<Row<'_>> = jobs.iter().map(|job| Row::new(job, on_passage(job))).collect();
    super::json(out, &rows)
}

/// What needs attention, or falls due within the days asked about.
fn pressing(out: &mut dyn Write, reckoning: &Reckoning<'_>, args: &DueArgs) -> io::Result<()> {
    let until = args.within.as_ref().and_then(|span| reckoning.day_after(span));
    // Where no calendar goes as far as was asked, everything with a date falls within.
    let within = |job: &JobState<'_>| args.within.is_some() && job.due_on.is_some_and(|due_on| until.is_none_or(|until| due_on <= until));
    let shown: Vec<&JobState<'_>> = reckoning.by_urgency().into_iter().filter(|job| args.all || presses(job) || within(job)).collect();
    if shown.is_empty() {
        let until = until.map_or_else(String::new, |until| format!(", and nothing falls due until {until}"));
        return writeln!(out, "nothing needs attention as of {}{until}", reckoning.on);
    }
    let columns = table::columns(&shown);
    table(out, "", &columns, shown.iter().map(|job| table::cells(reckoning, job, &columns)).collect())
}
