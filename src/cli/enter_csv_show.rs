//! What `garboard enter --csv` tells the crew: columns, job names, and the fate of every row.

use super::report::{self, printable};
use super::table::aligned;
use crate::book::diagnostic::Severity;
use crate::enter::csv::{Columns, Fate, Judgement, Names, Table};
use std::io::{self, Write};
use std::path::Path;

/// Longest that a cell is shown, in letters.
const LONGEST: usize = 48;

/// Which column is what, and which nobody knows.
pub fn columns(err: &mut dyn Write, name: &str, table: &Table, columns: &Columns) -> io::Result<()> {
    let heading = |at: usize| printable(&shortened(table.header.get(at).map_or("", String::as_str)));
    let known = (0..table.header.len()).filter_map(|at| Some(format!("`{}` is {}", heading(at), columns.said(at)?)));
    writeln!(err, "`{name}`: {}", known.collect::<Vec<_>>().join(", "))?;
    let unknown = columns.targets.iter().enumerate().filter(|(at, target)| target.is_none() && !heading(*at).is_empty());
    let unknown: Vec<String> = unknown.map(|(at, _)| format!("`{}`", heading(at))).collect();
    if !unknown.is_empty() {
        writeln!(err, "passed over: {}; to bring one in, say what it is: `--column \"NAME=notes\"`", unknown.join(", "))?;
    }
    Ok(())
}

/// Job names that wait for a decision.
pub fn doubtful(err: &mut dyn Write, names: &Names, file: &str) -> io::Result<()> {
    let count = names.doubtful.len();
    let what = if count == 1 {
        "1 job name is no guide's id or title".to_owned()
    } else {
        format!("{count} job names are no guide's id or title")
    };
    writeln!(err, "error: {what}, and what each becomes is yours to say")?;
    let rows = names.doubtful.iter().map(|one| {
        let others = if one.others.is_empty() { String::new() } else { format!("or perhaps {}", one.others.join(", ")) };
        vec![format!("line {}", one.line), printable(&shortened(&one.name)), one.suggestion.written(), others]
    });
    aligned(err, "  ", rows.collect())?;
    writeln!(err, "help: `{file}` has these suggestions: change what is wrong there, then run the command again; nothing else was written")
}

/// The fate of every row.
pub fn fates(to: &mut dyn Write, judged: &Judgement) -> io::Result<()> {
    let rows = judged.rows.iter().map(|row| {
        let fate = match &row.fate {
            Fate::New(path) if row.doubts.is_empty() => format!("new: {path}"),
            Fate::New(path) => format!("doubtful: {}; new: {path}", printable(&row.doubts.join("; "))),
            Fate::Already(path) => format!("in the log already: {path}"),
            Fate::Wrong => {
                let problems: Vec<&str> = row.problems.iter().map(|problem| problem.message.as_str()).collect();
                format!("wrong: {}", printable(&problems.join("; ")))
            }
        };
        vec![format!("line {}", row.line), printable(&shortened(&row.date)), printable(&shortened(&row.what)), fate]
    });
    aligned(to, "", rows.collect())?;
    counts(to, judged)
}

/// `3 new (1 doubtful), 2 in the log already, 1 wrong`.
pub fn counts(to: &mut dyn Write, judged: &Judgement) -> io::Result<()> {
    let count = |fate: fn(&Fate) -> bool| judged.rows.iter().filter(|row| fate(&row.fate)).count();
    let doubtful = judged.new_ones().filter(|row| !row.doubts.is_empty()).count();
    let new = count(|fate| matches!(fate, Fate::New(_)));
    let mut parts = vec![if doubtful == 0 { format!("{new} new") } else { format!("{new} new ({doubtful} doubtful)") }];
    for (number, what) in
        [(count(|fate| matches!(fate, Fate::Already(_))), "in the log already"), (count(|fate| matches!(fate, Fate::Wrong)), "wrong")]
    {
        if number > 0 {
            parts.push(format!("{number} {what}"));
        }
    }
    writeln!(to, "{}", parts.join(", "))
}

/// What speaks against it, and what is doubtful; whether the entries may be written.
pub fn problems(err: &mut dyn Write, book: &Path, name: &str, judged: &Judgement) -> io::Result<bool> {
    for row in &judged.rows {
        for doubt in row.doubts.iter().filter(|_| matches!(row.fate, Fate::New(_))) {
            writeln!(err, "warning: `{name}`, line {}: {}", row.line, printable(doubt))?;
        }
    }
    for row in &judged.rows {
        for problem in &row.problems {
            writeln!(err, "error: `{name}`, line {}: {}", row.line, printable(&problem.message))?;
            writeln!(err, "help: {}", printable(&problem.remedy))?;
        }
    }
    let sound = judged.is_sound();
    let told: Vec<_> = judged.elsewhere.iter().filter(|problem| !sound && problem.severity == Severity::Error).cloned().collect();
    report::problems(err, book, &told, true)?;
    if !sound {
        writeln!(err, "nothing was written, for all rows are taken or none")?;
    } else if judged.book_has_errors {
        writeln!(err, "the book has errors elsewhere: `garboard survey` says what and where")?;
    }
    Ok(sound)
}

/// Every row is in the log.
pub fn nothing_new(out: &mut dyn Write, name: &str, judged: &Judgement) -> io::Result<()> {
    let rows = judged.rows.len();
    if rows == 1 {
        return writeln!(out, "the one row of `{name}` is in the log already");
    }
    writeln!(out, "all {rows} rows of `{name}` are in the log already")
}

fn shortened(text: &str) -> String {
    let line = text.split_whitespace().collect::<Vec<_>>().join(" ");
    if line.chars().count() <= LONGEST { line } else { line.chars().take(LONGEST - 1).chain(['…']).collect() }
}
