//! The lists of `due` for people: columns in line, and what each says of a job.

use crate::cli::table::aligned;
use crate::reckon::{Defect, JobState, OutsideLimits, Reckoning, RuleState, Seen};
use std::io::{self, Write};

/// What a column says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Column {
    State,
    DueOn,
    /// The date by the last 90 days: only where it differs for some job of the list.
    Lately,
    Left,
    Job,
    LastDone,
    /// How often it falls due: only for a passage.
    Times,
}

impl Column {
    fn head(self) -> &'static str {
        match self {
            Self::State => "state",
            Self::DueOn => "due on",
            Self::Lately => "by last 90 days",
            Self::Left => "left",
            Self::Job => "job",
            Self::LastDone => "last done",
            Self::Times => "times",
        }
    }
}

/// The columns of a list of jobs.
pub fn columns(jobs: &[&JobState<'_>]) -> Vec<Column> {
    let mut columns = vec![Column::State, Column::DueOn, Column::Left, Column::Job, Column::LastDone];
    if jobs.iter().any(|job| job.due_on_90().is_some()) {
        columns.insert(2, Column::Lately);
    }
    columns
}

/// The list for people, columns aligned, every line behind the indent.
pub fn table(out: &mut dyn Write, indent: &str, columns: &[Column], rows: Vec<Vec<String>>) -> io::Result<()> {
    let head = columns.iter().map(|column| column.head().to_owned()).collect();
    aligned(out, indent, std::iter::once(head).chain(rows).collect())
}

/// What the columns say of a job.
pub fn cells(reckoning: &Reckoning<'_>, job: &JobState<'_>, columns: &[Column]) -> Vec<String> {
    columns.iter().map(|column| cell(reckoning, job, *column)).collect()
}

fn cell(reckoning: &Reckoning<'_>, job: &JobState<'_>, column: Column) -> String {
    let none = || "-".to_owned();
    match column {
        Column::State if job.read_the_meter => "due: by estimate, read the meter".to_owned(),
        Column::State => job.state.word().to_owned(),
        Column::DueOn => job.due_on.map_or_else(none, |date| if job.estimated { format!("~{date}") } else { date.to_string() }),
        Column::Lately => job.due_on_90().map_or_else(none, |date| format!("~{date}")),
        Column::Left => {
            // The one that decides first: the date beside it is by that one.
            let (first, others): (Vec<_>, Vec<_>) = job.rules.iter().partition(|rule| rule.governs);
            let left: Vec<String> = first.into_iter().chain(others).filter_map(|rule| left(reckoning, rule)).collect();
            let unread = || job.rules.iter().any(|rule| reckoning.meter(&rule.by).is_some_and(|meter| meter.first().is_none()));
            match left.is_empty() {
                true if unread() => "meter never read".to_owned(),
                true => none(),
                false => left.join(", "),
            }
        }
        Column::Job => title(job),
        Column::LastDone => job.last_done.as_ref().map_or_else(
            || "never recorded".to_owned(),
            |done| {
                let about = if done.date.about { "~" } else { "" };
                format!("{about}{}", done.date.date)
            },
        ),
        Column::Times => none(),
    }
}

/// What is left by one rule; `~` where the meter was carried on since it was last read.
fn left(reckoning: &Reckoning<'_>, rule: &RuleState<'_>) -> Option<String> {
    let remaining = rule.remaining.as_ref()?;
    let about = if reckoning.is_carried_on(&rule.by) { "~" } else { "" };
    Some(format!("{about}{remaining}"))
}

/// A job by its title, and the gear it is for.
pub fn title(job: &JobState<'_>) -> String {
    let title = job.gear.map_or_else(|| job.guide.title.clone(), |gear| format!("{} ({})", job.guide.title, gear.title));
    if job.guide.unchecked().is_some() { format!("{title}, not checked for this boat") } else { title }
}

/// Defects, each with the name by which an entry clears it, and until then what it limits.
pub fn defects(out: &mut dyn Write, defects: &[&Defect<'_>]) -> io::Result<()> {
    for defect in defects {
        let grade = defect.grade().word();
        match defect.seen {
            Seen::Finding { number, finding } => writeln!(out, "  {grade}  {} ({}/{number})", finding.what, defect.entry.id)?,
            Seen::Reading(outside) => writeln!(out, "  {grade}  {} ({})", self::outside(&outside), defect.entry.id)?,
        }
        for reading in &defect.readings {
            writeln!(out, "         {}", self::outside(reading))?;
        }
        if let Some(limits_use) = defect.finding().and_then(|finding| finding.limits_use.as_ref()) {
            writeln!(out, "         until then: {limits_use}")?;
        }
    }
    Ok(())
}

fn outside(outside: &OutsideLimits<'_>) -> String {
    let point = outside.point.map(|point| format!(", {point}")).unwrap_or_default();
    format!("{}{point}: {}, {}", outside.spec.name, outside.value.written, outside.limits())
}
