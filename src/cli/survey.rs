//! `garboard survey`.

use super::args::{Format, SurveyArgs};
use super::outcome::Exit;
use super::publish::beside;
use super::reckoned::{Slip, exit_of, read, reckoned};
use super::{progress, report};
use crate::book::diagnostic::{Diagnostic, Severity, offer, tidy};
use crate::site::language_without_words;
use crate::survey::{explain, rule_names, survey};
use serde::Serialize;
use std::collections::BTreeSet;
use std::io::{self, Write};
use std::time::Instant;

/// A problem as JSON; see the format reference.
#[derive(Serialize)]
struct Row<'d> {
    rule: &'d str,
    severity: &'d str,
    file: &'d str,
    line: usize,
    column: usize,
    message: &'d str,
    remedy: &'d str,
}

impl<'d> From<&'d Diagnostic> for Row<'d> {
    fn from(problem: &'d Diagnostic) -> Self {
        Self {
            rule: problem.rule,
            severity: problem.severity.word(),
            file: &problem.place.file,
            line: problem.place.line,
            column: problem.place.column,
            message: &problem.message,
            remedy: &problem.remedy,
        }
    }
}

pub fn run(args: &SurveyArgs, out: &mut dyn Write, err: &mut dyn Write) -> io::Result<Exit> {
    if let Some(rule) = &args.explain {
        return explained(rule, out, err);
    }
    if let Some(file) = &args.record {
        return super::survey_record::run(args, file, out, err);
    }
    let book = &args.book.book;
    let loaded = match read(&args.book) {
        Ok(loaded) => loaded,
        Err(error) => return super::no_book(err, &error),
    };
    let line = progress::line(Instant::now(), "looking through guides and log");
    let (reckoning, mut problems) = reckoned(&args.book, &loaded);
    let errors = problems.iter().filter(|problem| problem.severity == Severity::Error);
    let broken: BTreeSet<&str> = errors.map(|problem| problem.place.file.as_str()).collect();
    let more = survey(&loaded.book, &reckoning, &broken);
    problems.extend(more);
    problems.extend(language_without_words(&loaded.book, &beside(book, "themes"), None));
    tidy(&mut problems);
    drop(line);
    match args.format {
        Format::Json => {
            let rows: Vec<Row<'_>> = problems.iter().map(Row::from).collect();
            super::json(out, &rows)?;
        }
        Format::Text => {
            report::problems(out, book, &problems, false)?;
            writeln!(out, "{}", report::summary(&problems))?;
        }
    }
    Ok(exit_of(&problems))
}

/// Says what a rule means.
fn explained(rule: &str, out: &mut dyn Write, err: &mut dyn Write) -> io::Result<Exit> {
    let Some(row) = explain(rule) else {
        let names = rule_names();
        let remedy = offer(rule, names.iter().map(String::as_str), "`garboard survey` names the rule with each problem");
        return Slip { message: format!("there is no rule `{rule}`"), remedy }.told(err, Exit::Fine);
    };
    writeln!(out, "{} ({})\n\nWhat it means: {}.", row.rule, row.gravity, row.meaning)?;
    writeln!(out, "How to mend it: {}.", row.remedy)?;
    if let Some(why) = row.why {
        writeln!(out, "Why it matters: {why}")?;
    }
    Ok(Exit::Fine)
}
