//! What tests compare: jobs and problems in a line each.

use std::fmt::Write as _;

use super::day;
use crate::book::diagnostic::Diagnostic;
use crate::book::model::Book;
use crate::reckon::{JobState, reckon};

/// A job in a line: `later 2027-01-10 by calendar; engine 161.1 h, calendar 223 days`.
pub(in crate::reckon) fn line(job: &JobState<'_>) -> String {
    let mut line = job.state.word().to_owned();
    if let Some(due_on) = job.due_on {
        let _ = write!(line, " {due_on}");
    }
    if let Some(by) = &job.governed_by {
        let _ = write!(line, " by {by}");
    }
    if job.estimated {
        line.push_str(", estimated");
    }
    if job.read_the_meter {
        line.push_str(", read the meter");
    }
    let mut sign = ';';
    for rule in &job.rules {
        if let Some(remaining) = &rule.remaining {
            let _ = write!(line, "{sign} {} {remaining}", rule.by);
            sign = ',';
        }
    }
    line
}

/// The line of the only job of a guide on a day.
#[track_caller]
pub(in crate::reckon) fn case(book: &Book, on: &str, job: &str, expected: &str) {
    let (guide, gear) = match job.split_once('/') {
        Some((guide, gear)) => (guide, Some(gear)),
        None => (job, None),
    };
    let (reckoning, _) = reckon(book, day(on));
    let found = reckoning.jobs.iter().find(|job| job.guide.id == guide && job.gear.map(|gear| gear.id.value.as_str()) == gear);
    assert_eq!(line(found.expect("the job")), expected, "{job} on {on}");
}

/// `error log/x.md:3 meter-backwards: message` of each problem.
pub(in crate::reckon) fn told(problems: &[Diagnostic]) -> Vec<String> {
    problems
        .iter()
        .map(|problem| {
            let place = &problem.place;
            format!("{} {}:{} {}: {}", problem.severity.word(), place.file, place.line, problem.rule, problem.message)
        })
        .collect()
}
