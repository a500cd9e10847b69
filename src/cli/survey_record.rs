//! `garboard survey --record FILE`: an earlier record held against today's.

use super::args::{Format, SurveyArgs};
use super::outcome::Exit;
use super::reckoned::{Slip, read, reckoned, tell_errors};
use super::report::printable;
use super::{progress, table};
use crate::book::public::public;
use crate::disk;
use crate::reckon::reckon_unchecked;
use crate::record::{Comparison, Earlier, LARGEST, Record, compare, pictures};
use serde::Serialize;
use std::fs::File;
use std::io::{self, Read, Write};
use std::path::Path;
use std::time::Instant;

/// Digits of a fingerprint in a line for people.
const DIGITS: usize = 12;

/// What is found, as JSON; see the format reference.
#[derive(Serialize)]
struct Found<'f> {
    #[serde(flatten)]
    comparison: &'f Comparison,
    file_whole: bool,
    /// Entries that are not what their own fingerprint in the file says.
    damaged: &'f [String],
}

pub fn run(args: &SurveyArgs, file: &Path, out: &mut dyn Write, err: &mut dyn Write) -> io::Result<Exit> {
    let earlier = match earlier(file) {
        Ok(earlier) => earlier,
        Err(slip) => {
            slip.told(err, Exit::Problems)?;
            return Ok(Exit::Problems);
        }
    };
    let loaded = match read(&args.book) {
        Ok(loaded) => loaded,
        Err(error) => return super::no_book(err, &error),
    };
    let line = progress::line(Instant::now(), "comparing the entries");
    let (whole, mut problems) = reckoned(&args.book, &loaded);
    if !loaded.book.says_what_is_private() {
        drop(line);
        tell_errors(err, &args.book, &problems)?;
        let slip = Slip {
            message: "today's record cannot be made: `boat.yaml` has errors, so nobody can tell what should be kept private".to_owned(),
            remedy: "mend `boat.yaml` first".to_owned(),
        };
        return slip.told(err, Exit::Problems);
    }
    let shown = public(&loaded.book);
    let reckoning = reckon_unchecked(&shown, whole.on);
    let (hashes, unread) = pictures::hashes(&args.book.book, &shown, &reckoning.entries);
    problems.extend(unread);
    let today = Record::of(&reckoning, hashes);
    let comparison = compare(&earlier, &today);
    drop(line);
    match args.format {
        Format::Json => {
            let found = Found { comparison: &comparison, file_whole: earlier.whole, damaged: &earlier.damaged };
            serde_json::to_writer_pretty(&mut *out, &found)?;
            writeln!(out)?;
        }
        Format::Text => {
            let name = &loaded.book.boat.name;
            if !earlier.boat.is_empty() && earlier.boat != *name {
                writeln!(out, "this is the record of {}, and the book is of {}\n", printable(&earlier.boat), printable(name))?;
            }
            text(out, file, &earlier, &today, &comparison)?;
        }
    }
    // What could not be read is missing from today's record, and would look as if it had been taken away.
    let book = tell_errors(err, &args.book, &problems)?;
    Ok(if earlier.whole { book } else { Exit::Problems })
}

fn earlier(path: &Path) -> Result<Earlier, Slip> {
    let told = |message: String, remedy: &str| Slip { message: format!("{}: {message}", path.display()), remedy: remedy.to_owned() };
    let remedy = "give a `record.json` that stood beside the record's page";
    let unread = |error: io::Error| told(format!("this file cannot be read: {}", disk::why(&error)), remedy);
    let mut bytes = Vec::new();
    File::open(path).and_then(|file| file.take(LARGEST + 1).read_to_end(&mut bytes)).map_err(unread)?;
    if bytes.len() as u64 > LARGEST {
        return Err(told(format!("this file is larger than {} MB, which no record is", LARGEST / 1024 / 1024), remedy));
    }
    Earlier::read(&bytes).map_err(|error| told(error.message, &error.remedy))
}

fn text(out: &mut dyn Write, file: &Path, earlier: &Earlier, today: &Record<'_>, found: &Comparison) -> io::Result<()> {
    let short = |text: &str| printable(&text.chars().take(DIGITS).collect::<String>());
    let entries = |n: usize| if n == 1 { "1 entry".to_owned() } else { format!("{n} entries") };
    let (boat, as_of) = (printable(&earlier.boat), printable(&earlier.as_of));
    writeln!(
        out,
        "{}: {boat}, as of {as_of}, {}, fingerprint {}",
        file.display(),
        entries(earlier.entries.len()),
        short(&earlier.fingerprint)
    )?;
    writeln!(out, "the book today: {}, fingerprint {}\n", entries(today.entries.len()), short(&today.fingerprint))?;
    if earlier.whole {
        writeln!(out, "the file is whole: its fingerprints are those of its own entries\n")?;
    } else {
        writeln!(out, "the file is not whole: it was changed since it was made, and its fingerprints are not those of its entries\n")?;
    }
    let mut rows: Vec<Vec<String>> = Vec::new();
    let mut row = |what: &str, entry: &str, more: String| rows.push(vec![what.to_owned(), printable(entry), printable(&more)]);
    earlier.damaged.iter().for_each(|id| row("damaged in the file", id, String::new()));
    found.changed.iter().for_each(|one| row("changed", &one.entry, one.fields.join(", ")));
    found.renamed.iter().for_each(|pair| row("renamed", &pair.from, format!("now {}", pair.to)));
    found.added.iter().for_each(|id| row("added", id, String::new()));
    found.taken_away.iter().for_each(|id| row("taken away", id, String::new()));
    if !rows.is_empty() {
        table::aligned(out, "", rows)?;
        writeln!(out)?;
    }
    let counts = [
        (found.changed.len(), "changed"),
        (found.renamed.len(), "renamed"),
        (found.added.len(), "added"),
        (found.taken_away.len(), "taken away"),
    ];
    let counts: String = counts.iter().filter(|(n, _)| *n > 0).map(|(n, what)| format!(", {n} {what}")).collect();
    writeln!(out, "{} the same{counts}", found.same)?;
    if !found.taken_away.is_empty() {
        writeln!(out, "An entry that was taken away may have left the log or been made private: nobody can tell which.")?;
    }
    Ok(())
}
