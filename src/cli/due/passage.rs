//! `garboard due --passage`: what keeps her from leaving, what falls due under way, what expires.

use super::table::{Column, cells, columns, defects, table, title};
use crate::cli::table::aligned;
use crate::quantity::{Exact, Unit, plain_decimal};
use crate::reckon::{JobOnPassage, JobState, MOST_TIMES, MeterCourse, OnPassage, PassageState, Reckoning, UnderWay};
use std::io::{self, Write};

/// Prints the list of one passage; what is clear only where everything is asked for.
pub fn print(out: &mut dyn Write, reckoning: &Reckoning<'_>, trip: &PassageState<'_, '_>, all: bool) -> io::Result<()> {
    let passage = trip.passage;
    let left = if passage.depart < reckoning.on { "; she left before the day of this list" } else { "" };
    writeln!(out, "{}: {} to {}{left}", passage.title, trip.course.start, trip.course.end)?;
    if !trip.to_act_on.is_empty() {
        writeln!(out, "\nto be put right first of all:")?;
        defects(out, &trip.to_act_on)?;
    }
    if !trip.left.is_empty() || !trip.isolated.is_empty() {
        writeln!(out, "\nshut, off or apart:")?;
        for entry in &trip.left {
            writeln!(out, "  {} ({})", entry.left.join("; "), entry.id)?;
        }
        for isolated in &trip.isolated {
            let what: Vec<String> = isolated.what.iter().map(|(what, occasion)| format!("{what}, until {occasion}")).collect();
            let gear = isolated.gear.map(|gear| format!("{}: ", gear.title)).unwrap_or_default();
            writeln!(out, "  {gear}{} ({})", what.join("; "), isolated.entry.id)?;
        }
    }
    if !trip.to_put_right.is_empty() {
        writeln!(out, "\nto be put right before the return:")?;
        defects(out, &trip.to_put_right)?;
    }
    if !trip.limiting.is_empty() {
        writeln!(out, "\nwhat must not be done until then:")?;
        defects(out, &trip.limiting)?;
    }
    jobs_before(out, reckoning, trip)?;
    jobs_under_way(out, trip)?;
    if !trip.expiring.is_empty() {
        writeln!(out, "\nexpires before the return:")?;
        let rows = trip.expiring.iter().filter_map(|gear| Some(vec![gear.expires?.last_day.to_string(), gear.gear.title.clone()]));
        aligned(out, "  ", rows.collect())?;
    }
    let clear: Vec<&JobState<'_>> = trip.jobs_that_are(OnPassage::Clear).map(|on| on.job).collect();
    if all && !clear.is_empty() {
        writeln!(out, "\nnot due by these figures:")?;
        let columns = columns(&clear);
        table(out, "  ", &columns, clear.iter().map(|job| cells(reckoning, job, &columns)).collect())?;
    } else if !clear.is_empty() {
        let jobs = if clear.len() == 1 { "job is" } else { "jobs are" };
        writeln!(out, "\n{} {jobs} not due by these figures: --all lists them", clear.len())?;
    }
    meters(out, reckoning, trip)
}

fn jobs_before(out: &mut dyn Write, reckoning: &Reckoning<'_>, trip: &PassageState<'_, '_>) -> io::Result<()> {
    let before: Vec<&JobOnPassage<'_, '_>> = trip.jobs_that_are(OnPassage::Before).collect();
    if before.is_empty() {
        return writeln!(out, "\nno job is due before departure by these figures");
    }
    writeln!(out, "\nto be done before departure:")?;
    let jobs: Vec<&JobState<'_>> = before.iter().map(|on| on.job).collect();
    let mut columns = columns(&jobs);
    let rows = before.iter().map(|on| {
        let mut row = cells(reckoning, on.job, &columns);
        let again = days(on).map_or_else(String::new, |days| format!(": now, and {days}"));
        row.push(format!("{}{again}", times(on.falls.times)));
        row
    });
    let rows = rows.collect();
    columns.push(Column::Times);
    table(out, "  ", &columns, rows)
}

fn jobs_under_way(out: &mut dyn Write, trip: &PassageState<'_, '_>) -> io::Result<()> {
    let groups = [
        (UnderWay::Cannot, "fall due under way, and cannot be done there: bring them forward"),
        (UnderWay::NotSaid, "fall due under way: bring them forward, or make sure that they can be done there"),
        (UnderWay::Can, "fall due under way, and can be done there"),
    ];
    for (under_way, heading) in groups {
        let jobs = trip.jobs_that_are(OnPassage::UnderWay).filter(|on| on.under_way == under_way);
        let rows: Vec<Vec<String>> = jobs
            .map(|on| vec![days(on).unwrap_or_default(), title(on.job), format!("by {}", on.falls.by.join(", ")), times(on.falls.times)])
            .collect();
        if !rows.is_empty() {
            writeln!(out, "\n{heading}:")?;
            let head = ["due on", "job", "by", "times"].map(str::to_owned).to_vec();
            aligned(out, "  ", std::iter::once(head).chain(rows).collect())?;
        }
    }
    Ok(())
}

/// The days a job falls due under way, each once.
fn days(on: &JobOnPassage<'_, '_>) -> Option<String> {
    let (days, more) = on.falls.first_days();
    let about = if on.falls.estimated { "~" } else { "" };
    let shown: Vec<String> = days.iter().map(|day| format!("{about}{day}")).collect();
    let more = if more { " and later" } else { "" };
    (!shown.is_empty()).then(|| format!("{}{more}", shown.join(", ")))
}

fn times(times: u64) -> String {
    if times >= MOST_TIMES { format!("{MOST_TIMES} or more") } else { times.to_string() }
}

/// How the meters run, and by which figures.
fn meters(out: &mut dyn Write, reckoning: &Reckoning<'_>, trip: &PassageState<'_, '_>) -> io::Result<()> {
    if trip.course.meters.is_empty() {
        return Ok(());
    }
    writeln!(out, "\nreckoned with:")?;
    let head = ["meter", "at departure", "runs", "at return", "figure"].map(str::to_owned).to_vec();
    let rows = trip.course.meters.iter().map(|course| {
        let state = reckoning.meter(&course.meter);
        let counted = |value: Option<Exact>| value.and_then(|value| state?.as_counted(&value)).map(|value| amount(&value, course.unit));
        let start = counted(course.start).map(|start| if course.estimated { format!("~{start}") } else { start });
        vec![
            state.map_or_else(|| course.meter.clone(), |state| state.meter.title.clone()),
            start.unwrap_or_else(|| "never read".to_owned()),
            format!("~{}", amount(&course.run, course.unit)),
            counted(course.end()).map_or_else(|| "-".to_owned(), |end| format!("~{end}")),
            figure(trip, course),
        ]
    });
    aligned(out, "  ", std::iter::once(head).chain(rows).collect())
}

fn figure(trip: &PassageState<'_, '_>, course: &MeterCourse) -> String {
    match (&course.figure, trip.passage.reserve()) {
        (Some(figure), Some(percent)) => format!("{} and {} % in reserve", figure.written(), percent.written()),
        (Some(figure), None) => figure.written().to_owned(),
        (None, _) if course.run > Exact::from_integer(0) => "at the use rate".to_owned(),
        (None, _) => "stands still".to_owned(),
    }
}

fn amount(value: &Exact, unit: Unit) -> String {
    format!("{} {}", plain_decimal(value, 1), unit.symbol())
}
