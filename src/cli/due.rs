//! `garboard due`: every job as JSON, or what was asked about as text.

mod occasion;
mod passage;
mod table;

use super::args::{DueArgs, Format};
use super::outcome::Exit;
use super::reckoned::{Slip, read, reckoned, tell_errors};
use crate::book::model::{Book, Passage};
use crate::reckon::{JobState, OnPassage, PassageState, Reckoning, State};
use serde::Serialize;
use std::collections::HashMap;
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
    let loaded = match read(&args.book) {
        Ok(loaded) => loaded,
        Err(error) => return super::no_book(err, &error),
    };
    let (reckoning, problems) = reckoned(&args.book, &loaded);
    let exit = tell_errors(err, &args.book, &problems)?;
    let asked = match Asked::of(args, &loaded.book) {
        Ok(asked) => asked,
        Err(slip) => return slip.told(err, exit),
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

impl<'a> Asked<'a> {
    fn of(args: &DueArgs, book: &'a Book) -> Result<Self, Slip> {
        match (&args.passage, &args.occasion) {
            (Some(id), _) => super::reckoned::passage(book, id).map(Self::Passage),
            (None, Some(id)) => super::reckoned::occasion(book, id).map(Self::Occasion),
            (None, None) => Ok(Self::Everything),
        }
    }
}

/// Every job, whatever was asked about.
fn json(out: &mut dyn Write, reckoning: &Reckoning<'_>, trip: Option<&PassageState<'_, '_>>) -> io::Result<()> {
    let key = |job: &JobState<'_>| (job.guide.id.clone(), job.gear.map(|gear| gear.id.value.clone()));
    let held: HashMap<_, _> = trip.iter().flat_map(|trip| &trip.jobs).map(|on| (key(on.job), (on.stage, on.falls.times))).collect();
    let on_passage = |job: &JobState<'_>| held.get(&key(job)).copied();
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
        writeln!(out, "nothing needs attention as of {}{until}", reckoning.on)?;
    } else {
        let columns = table::columns(&shown);
        table(out, "", &columns, shown.iter().map(|job| table::cells(reckoning, job, &columns)).collect())?;
    }
    match reckoning.jobs.iter().filter(|job| !args.all && job.is_unreckoned()).count() {
        0 => Ok(()),
        1 => writeln!(out, "\n1 job depends on a meter with too few readings, so nobody can say when it is due: --all lists it"),
        n => writeln!(out, "\n{n} jobs depend on meters with too few readings, so nobody can say when they are due: --all lists them"),
    }
}
