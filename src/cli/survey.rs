//! `garboard survey`.

use super::args::{Format, SurveyArgs};
use super::outcome::Exit;
use super::reckoned::{exit_of, reckoned};
use super::report;
use crate::book::diagnostic::Diagnostic;
use crate::book::load::load;
use serde::Serialize;
use std::io::{self, Write};

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
    let book = &args.book.book;
    let loaded = match load(book) {
        Ok(loaded) => loaded,
        Err(error) => return super::no_book(err, &error),
    };
    let (_, problems) = reckoned(&args.book, &loaded);
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
