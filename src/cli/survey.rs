//! `garboard survey`.

use super::args::{Format, SurveyArgs};
use super::outcome::Exit;
use super::{report, today};
use crate::book::diagnostic::{Diagnostic, any_error, tidy};
use crate::book::load::load;
use crate::reckon::reckon;
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
    let mut problems = loaded.problems.clone();
    problems.extend(reckon(&loaded.book, args.book.on.unwrap_or_else(today)).1);
    tidy(&mut problems);
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
    Ok(if any_error(&problems) { Exit::Problems } else { Exit::Fine })
}
