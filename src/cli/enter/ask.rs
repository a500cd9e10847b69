//! Asks on a terminal for what the options left out. Nothing is written here, and every question may
//! be broken off.

use super::draft::{Days, Draft, DraftReading};
use super::{known, tell_open, values};
use crate::book::date::{BookDate, Precision};
use crate::book::id::id_of;
use crate::book::model::{Amount, Guide, PartUse, ReadingSpec};
use crate::book::outline::Stage;
use crate::book::stages::isolated_before;
use crate::cli::report::printable;
use crate::enter::{open_entries, plain_day};
use crate::quantity::{Approximate, Exact, Figure};
use crate::reckon::{JobState, MeterState, Reading, Reckoning};
use inquire::{Confirm, InquireError, Select, Text};
use std::fmt;
use std::io::{self, Write};
use std::path::Path;

/// Why there is no answer.
#[derive(Debug)]
pub enum Stop {
    /// Esc or Ctrl-C.
    BrokenOff,
    Failed(io::Error),
}

impl From<InquireError> for Stop {
    fn from(error: InquireError) -> Self {
        match error {
            InquireError::OperationCanceled | InquireError::OperationInterrupted => Self::BrokenOff,
            InquireError::IO(error) => Self::Failed(error),
            other => Self::Failed(io::Error::other(other.to_string())),
        }
    }
}

impl From<io::Error> for Stop {
    fn from(error: io::Error) -> Self {
        Self::Failed(error)
    }
}

/// Lines of a list that are shown at once.
const PAGE: usize = 8;
const BLANK: &str = "leave it blank if it was not read";

/// Asks for everything but the jobs that are there already; `book` is its folder. What is returned are the entries that
/// leave a job open, of which the crew was told.
pub fn ask<'b>(
    reckoning: &Reckoning<'b>,
    draft: &mut Draft<'b>,
    german: bool,
    book: &Path,
    err: &mut dyn Write,
) -> Result<Vec<String>, Stop> {
    writeln!(err, "Esc or Ctrl-C at any question: nothing is written\n")?;
    if draft.jobs.is_empty() {
        jobs(reckoning, draft)?;
    }
    // Before anything is answered: it may be that entry that wants the answers.
    let names = draft.jobs.iter().map(|(guide, gear)| (guide.id.as_str(), gear.as_deref())).collect();
    let open: Vec<String> = open_entries(reckoning.book, &names, reckoning.on).map(str::to_owned).collect();
    for entry in &open {
        tell_open(err, book, entry)?;
        writeln!(err)?;
    }
    day(reckoning, draft, german, err)?;
    for meter in &reckoning.meters {
        ask_meter(meter, draft, err)?;
    }
    let guides: Vec<&Guide> = draft.guides().collect();
    for part in guides.iter().flat_map(|guide| &guide.parts) {
        ask_part(reckoning, part, draft, err)?;
    }
    for spec in guides.iter().flat_map(|guide| &guide.readings) {
        ask_reading(spec, draft, err)?;
    }
    findings(draft)?;
    draft.time = typed("How long did it take?", "such as `2 h 40 min`; blank: not noted", "", err, |text| {
        if text.is_empty() { Ok(None) } else { values::time(text).map(|time| Some(time.to_string())) }
    })?;
    draft.note = Text::new("Notes:").with_help_message("what the next one should know; blank: none").prompt()?;
    Ok(open)
}

/// Whether to write what was shown.
pub fn agreed() -> Result<bool, Stop> {
    Ok(Confirm::new("Write this entry?").with_default(true).prompt()?)
}

/// A question whose answer is read, and asked again with what was typed where it cannot be.
fn typed<T>(
    message: &str,
    help: &str,
    default: &str,
    err: &mut dyn Write,
    read: impl Fn(&str) -> Result<T, values::Wrong>,
) -> Result<T, Stop> {
    let mut answer = String::new();
    loop {
        let mut question = Text::new(message).with_help_message(help).with_initial_value(&answer);
        if !default.is_empty() {
            question = question.with_default(default);
        }
        answer = question.prompt()?;
        match read(answer.trim()) {
            Ok(value) => return Ok(value),
            Err((what, remedy)) => writeln!(err, "  {}: {}", printable(&what), printable(&remedy))?,
        }
    }
}

/// A line of the list of jobs.
struct Choice<'a, 'b> {
    /// `None`: work that no guide describes.
    job: Option<&'a JobState<'b>>,
    label: String,
}

impl fmt::Display for Choice<'_, '_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.label)
    }
}

/// What presses comes first; every word that is typed must be part of the line.
fn jobs<'b>(reckoning: &Reckoning<'b>, draft: &mut Draft<'b>) -> Result<(), Stop> {
    let matching = |typed: &str, _: &Choice<'_, 'b>, label: &str, at: usize| {
        let label = id_of(label);
        let every = typed.split_whitespace().all(|word| label.contains(&id_of(word)));
        every.then_some(-i64::try_from(at).unwrap_or(i64::MAX))
    };
    loop {
        let mut choices: Vec<Choice<'_, 'b>> = reckoning.by_urgency().into_iter().map(choice).collect();
        choices.push(Choice { job: None, label: "Something else: work that no guide describes".to_owned() });
        let chosen = Select::new("Which job?", choices)
            .with_page_size(PAGE)
            .with_help_message("type part of its name; arrows move, Enter takes")
            .with_scorer(&matching)
            .prompt()?;
        match chosen.job {
            Some(job) => {
                draft.jobs.push((job.guide, job.gear.map(|gear| gear.id.value.clone()).filter(|_| !job.guide.for_gear.is_empty())))
            }
            None => {
                let work = Text::new("What was done?").with_help_message("in a few words").prompt()?;
                draft.work.extend(Some(work).filter(|work| !work.trim().is_empty()));
            }
        }
        let more = Confirm::new("Another job with it?").with_default(false).prompt()?;
        let nothing = draft.jobs.is_empty() && draft.work.is_empty();
        if !(more || nothing) {
            return Ok(());
        }
    }
}

fn choice<'a, 'b>(job: &'a JobState<'b>) -> Choice<'a, 'b> {
    let gear = job.gear.map_or_else(String::new, |gear| format!(", {}", gear.title));
    let label = format!("{}{gear} ({}, {})", job.guide.title, job.guide.id, job.state.word());
    Choice { job: Some(job), label: printable(&label) }
}

fn day<'b>(reckoning: &Reckoning<'b>, draft: &mut Draft<'b>, german: bool, err: &mut dyn Write) -> Result<(), Stop> {
    let today = reckoning.on;
    let read = |text: &str| plain_day(text, today, german).map_err(|why| (why.message, why.remedy));
    let word = if german { "heute" } else { "today" };
    let day = typed("Which day?", "`today`, `yesterday`, `14 Mar`, `14.3.`, `2026-03-14`, `~2021-05`", word, err, read)?;
    if Confirm::new("Is it finished?").with_default(true).prompt()? {
        draft.days = Days::Done(day);
        return Ok(());
    }
    draft.days = Days::Open { started: day };
    let stages: Vec<(&[Stage], usize)> = draft
        .guides()
        .map(|guide| guide.outline.stages.as_slice())
        .flat_map(|stages| (0..stages.len()).map(move |at| (stages, at)))
        .collect();
    let titles: Vec<&str> = stages.iter().filter_map(|(stages, at)| Some(stages.get(*at)?.title.as_str())).collect();
    let mut isolated = Vec::new();
    if !titles.is_empty() {
        let chosen = Select::new("At which stage does it go on?", titles).with_page_size(PAGE).raw_prompt()?;
        isolated = stages.get(chosen.index).map(|(stages, at)| isolated_before(stages, *at)).unwrap_or_default();
        draft.reached = Some(chosen.value.to_owned());
    }
    left(draft, isolated)
}

/// How the boat was left: first what was isolated, each to be confirmed, then anything else.
fn left(draft: &mut Draft<'_>, isolated: Vec<&str>) -> Result<(), Stop> {
    let question = || Text::new("How was the boat left?");
    for what in isolated {
        let help = "isolated by the guide's marks; clear the line where it is not so";
        let left = question().with_help_message(help).with_initial_value(what).prompt()?;
        draft.left.extend(Some(left).filter(|left| !left.trim().is_empty()));
    }
    loop {
        let left = question().with_help_message("shut, off or apart, one at a time; blank: nothing more").prompt()?;
        if left.trim().is_empty() {
            return Ok(());
        }
        draft.left.push(left);
    }
}

/// The last reading that counts before a day, and the first after it.
fn around<'m, 'b>(meter: &'m MeterState<'b>, day: &BookDate) -> (Option<&'m Reading<'b>>, Option<&'m Reading<'b>>) {
    let used = || meter.readings.iter().filter(|reading| reading.used);
    (used().rfind(|reading| reading.date < day.date), used().find(|reading| reading.date > day.date))
}

fn ask_meter(meter: &MeterState<'_>, draft: &mut Draft<'_>, err: &mut dyn Write) -> Result<(), Stop> {
    let day = match &draft.days {
        Days::Done(day) | Days::Finished { done: day, .. } | Days::Open { started: day } => *day,
    };
    let (before, after) = around(meter, &day);
    let unit = meter.meter.unit.symbol();
    let last = before.map_or_else(|| "never read before".to_owned(), |reading| last_read(reading, unit));
    let read = |text: &str| {
        if text.is_empty() {
            return Ok(None);
        }
        let value = values::meter(text, meter.meter)?;
        between(&value, &day, before, after, unit)?;
        Ok(Some(values::meter_text(&value)))
    };
    let message = format!("{} ({unit})?", printable(&meter.meter.title));
    if let Some(value) = typed(&message, &format!("{last}; {BLANK}"), "", err, read)? {
        draft.meters.push((meter.meter.id.value.clone(), value));
    }
    Ok(())
}

/// `last 1840.5 h on 2026-03-14`; of what is only known about `last about 3200 nmi, read about 2026-05`.
fn last_read(reading: &Reading<'_>, unit: &str) -> String {
    let day = reading.day();
    let value = if reading.value_about { "about " } else { "" };
    let read = if day.about { ", read about" } else { " on" };
    format!("last {value}{} {unit}{read} {}", counted_from(reading), day.known())
}

/// What the counter showed after a reading: the new one where it was replaced.
fn counted_from<'r>(reading: &'r Reading<'_>) -> &'r crate::quantity::Number {
    reading.replaced.unwrap_or(reading.shown)
}

/// A counter does not run backwards; what is only known about is not held against it.
fn between(
    value: &Approximate,
    day: &BookDate,
    before: Option<&Reading<'_>>,
    after: Option<&Reading<'_>>,
    unit: &str,
) -> Result<(), values::Wrong> {
    let exact = |reading: &&Reading<'_>| !reading.about && !value.about && day.precision == Precision::Day && !day.about;
    let remedy = "check the counter and the day";
    match (before.filter(exact), after.filter(exact)) {
        (Some(before), _) if value.number.value() < counted_from(before).value() => {
            let shown = counted_from(before);
            Err((format!("it showed {shown} {unit} on {} already, and a counter does not run backwards", before.date), remedy.to_owned()))
        }
        (_, Some(after)) if value.number.value() > after.shown.value() => {
            Err((format!("it showed only {} {unit} later, on {}", after.shown, after.date), remedy.to_owned()))
        }
        _ => Ok(()),
    }
}

fn ask_part<'b>(reckoning: &Reckoning<'b>, part: &PartUse, draft: &mut Draft<'b>, err: &mut dyn Write) -> Result<(), Stop> {
    let item = part.item.value.as_str();
    let title = reckoning.book.store(item).map_or(item, |item| item.title.as_str());
    // Of a job that stopped half-way nobody can tell what it has used.
    let is_open = matches!(draft.days, Days::Open { .. });
    let usual = match &part.amount {
        _ if part.if_worn || is_open => "0".to_owned(),
        Some(amount) => amount.written().to_owned(),
        None => "1".to_owned(),
    };
    let in_pieces = in_whole_pieces(reckoning, part);
    let unit = match &part.amount {
        Some(Amount::Measured(quantity)) => Some(quantity.unit()),
        _ => None,
    };
    let read = |text: &str| {
        let amount = match (unit, values::amount(text)?) {
            (Some(unit), Amount::Pieces(number)) => values::amount(&format!("{} {}", number.written(), unit.symbol()))?,
            (_, amount) => amount,
        };
        if let Amount::Pieces(number) = &amount
            && in_pieces
            && !number.value().is_integer()
        {
            return Err((
                format!("`{}` is not a whole number of pieces", number.written()),
                "count what was used up or fitted: `1`, or `0` for none".to_owned(),
            ));
        }
        let value = match &amount {
            Amount::Pieces(number) => number.value(),
            Amount::Measured(quantity) => quantity.value(),
        };
        Ok((value != Exact::from_integer(0)).then(|| amount.written().to_owned()))
    };
    let help = match (part.if_worn, is_open) {
        (true, _) => "renewed only if worn; 0: none",
        (false, true) => "so far; 0: none",
        (false, false) => "0: none",
    };
    let how = if in_pieces { "how many were used" } else { "how much was used" };
    let used = typed(&format!("{}: {how}?", printable(title)), help, &usual, err, read)?;
    if let Some(amount) = used {
        draft.parts.push((known::part(reckoning.book, draft.guides(), item).unwrap_or_else(|_| item.to_owned()), Some(amount), None));
    }
    Ok(())
}

/// Whether a part is counted, by what its guide takes, else by what the stores hold; nobody uses half a filter.
fn in_whole_pieces(reckoning: &Reckoning<'_>, part: &PartUse) -> bool {
    let counted = || reckoning.book.store(&part.item.value)?.counted.as_ref().map(|counted| &counted.amount);
    let whole = |amount: &Amount| matches!(amount, Amount::Pieces(number) if number.value().is_integer());
    part.amount.as_ref().or_else(counted).is_some_and(whole)
}

fn ask_reading(spec: &ReadingSpec, draft: &mut Draft<'_>, err: &mut dyn Write) -> Result<(), Stop> {
    let limits = spec.limits.as_ref().map(|limits| format!("limits {limits}"));
    let help: Vec<String> = limits.into_iter().chain(spec.when.clone()).chain(Some(BLANK.to_owned())).collect();
    let help = printable(&help.join("; "));
    let points = if spec.points.is_empty() { vec![None] } else { spec.points.iter().cloned().map(Some).collect() };
    for point in points {
        let at = point.as_ref().map_or_else(String::new, |point| format!(", {point}"));
        let message = printable(&format!("{}{at} ({})?", spec.name, spec.unit.symbol()));
        let value = typed(&message, &help, "", err, |text| if text.is_empty() { Ok(None) } else { values::reading(text, spec).map(Some) })?;
        let Some(value) = value else { continue };
        if spec.limits.as_ref().and_then(|limits: &Figure| limits.contains(&value)) == Some(false) {
            writeln!(err, "  {value} is outside its limits, and will stand among the defects to put right")?;
        }
        draft.readings.push(DraftReading { id: spec.id.clone(), point, value: value.to_string() });
    }
    Ok(())
}

/// A grade with what it means.
struct Grade(&'static str, &'static str);

impl fmt::Display for Grade {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.0, self.1)
    }
}

fn findings(draft: &mut Draft<'_>) -> Result<(), Stop> {
    loop {
        let what = Text::new("What was seen?").with_help_message("a fault, or that there was none; blank: nothing more").prompt()?;
        if what.trim().is_empty() {
            return Ok(());
        }
        let grades = vec![Grade("watch", "keep an eye on it"), Grade("act", "put it right"), Grade("good", "no fault seen")];
        let grade = Select::new("How is it?", grades).prompt()?;
        draft.findings.push(vec![("what".to_owned(), what), ("grade".to_owned(), grade.0.to_owned())]);
    }
}

/// For a question broken off, in plain words.
pub fn told(stop: Stop, err: &mut dyn Write) -> io::Result<super::Exit> {
    match stop {
        Stop::BrokenOff => writeln!(err, "broken off: nothing was written")?,
        Stop::Failed(error) => {
            writeln!(err, "error: cannot ask on this terminal: {error}")?;
            writeln!(err, "help: say it by options, `garboard enter --help` lists them; nothing was written")?;
        }
    }
    Ok(super::Exit::Problems)
}
