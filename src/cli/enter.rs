//! `garboard enter`: takes entries into the log, written elsewhere or made here.

mod ask;
mod draft;
mod known;
mod made;
mod options;
mod said;
mod values;

pub use options::EntryOptions;

use super::args::EnterArgs;
use super::outcome::Exit;
use super::{report, today};
use crate::book::diagnostic::Diagnostic;
use crate::book::load::{LARGEST_TEXT, load, text_of};
use crate::disk::{self, put};
use crate::enter::{Prepared, Refused, prepare};
use std::io::{self, BufRead, IsTerminal, Read, Write};
use std::path::Path;

/// An entry that may be written.
struct Candidate {
    /// As the user calls its file.
    name: String,
    text: String,
    /// It came by standard input, so that nothing can be asked there.
    piped: bool,
    /// By options or questions: it stands in no file yet.
    made: bool,
    /// Entries that leave a job of it open, of which the crew was told already: their paths inside the book.
    told_open: Vec<String>,
}

impl Candidate {
    fn made(text: String, told_open: Vec<String>) -> Self {
        Self { name: "the entry".to_owned(), text, piped: false, made: true, told_open }
    }

    /// What became of it where it was not written.
    fn kept(&self) -> String {
        if self.made { "nothing was written".to_owned() } else { format!("nothing was written, and `{}` is as it was", self.name) }
    }
}

/// Whether anybody can be asked.
fn terminal() -> bool {
    io::stdin().is_terminal() && io::stderr().is_terminal()
}

pub fn run(args: &EnterArgs, out: &mut dyn Write, err: &mut dyn Write) -> io::Result<Exit> {
    if let Some(table) = &args.history.csv {
        return super::enter_csv::run(args, table, out, err);
    }
    if args.from.is_empty() {
        return made::run(args, out, err);
    }
    let mut exit = Exit::Fine;
    for file in &args.from {
        // One that fails does not keep the others out.
        if matches!(enter(args, file, out, err)?, Exit::Problems) {
            exit = Exit::Problems;
        }
    }
    Ok(exit)
}

fn enter(args: &EnterArgs, file: &Path, out: &mut dyn Write, err: &mut dyn Write) -> io::Result<Exit> {
    match read(file) {
        Ok(candidate) => take(args, &candidate, out, err),
        Err(problem) => {
            writeln!(err, "{problem}")?;
            Ok(Exit::Problems)
        }
    }
}

/// Checks an entry, shows it where somebody can be asked, and puts it into the log.
fn take(args: &EnterArgs, candidate: &Candidate, out: &mut dyn Write, err: &mut dyn Write) -> io::Result<Exit> {
    let book = &args.book.book;
    let asks = !args.yes && !candidate.piped && terminal();
    if asks {
        // The question may stand for long: nothing is held while it does, and all is checked again after it.
        match checked(args, candidate, out, err)? {
            Err(exit) => return Ok(exit),
            Ok(prepared) => {
                warn(err, args, candidate, &prepared)?;
                let path = book.join(&prepared.path);
                let agreed = if candidate.made {
                    shown(err, &path, &candidate.text)?;
                    match ask::agreed() {
                        Ok(agreed) => agreed,
                        Err(stop) => return ask::told(stop, err),
                    }
                } else {
                    agreed(&mut io::stdin().lock(), err, &path, &candidate.text)?
                };
                if !agreed {
                    writeln!(err, "nothing was written")?;
                    return Ok(Exit::Fine);
                }
            }
        }
    }
    let turn = put::turn(book);
    let prepared = match checked(args, candidate, out, err)? {
        Err(exit) => return Ok(exit),
        Ok(prepared) => prepared,
    };
    if !asks {
        warn(err, args, candidate, &prepared)?;
        if candidate.made {
            shown(err, &book.join(&prepared.path), &candidate.text)?;
        }
    }
    let folder = book.join("log").join(&prepared.spot.year);
    if let Some(link) = disk::link_among([&book.join("log"), &folder]) {
        writeln!(err, "error: {link}")?;
        writeln!(err, "help: put the folder itself into the book, then enter it again; nothing was written")?;
        return Ok(Exit::Problems);
    }
    // What was free when the book was read may be taken by now, so the names go on from there.
    let names = prepared.spot.names_from(&prepared.name).take(10_000).map(|name| format!("{name}.md"));
    let put = put::put(&folder, names, candidate.text.as_bytes());
    drop(turn);
    match put {
        Ok(put) => {
            writeln!(out, "entered {}", put.path.display())?;
            if let Some(error) = put.not_flushed {
                writeln!(err, "warning: the entry is written, but it is not certain to survive a power cut: {}", disk::why(&error))?;
                let keep = if candidate.made { String::new() } else { format!("keep `{}` until then; ", candidate.name) };
                writeln!(err, "help: {keep}see that the disk is put away properly, and look that the entry is there")?;
            }
            afterwards(err, book, &put.path, &prepared)?;
            Ok(Exit::Fine)
        }
        Err(error) => {
            writeln!(err, "error: {}", error.message)?;
            writeln!(err, "help: {}; {}", error.remedy, candidate.kept())?;
            Ok(Exit::Problems)
        }
    }
}

/// Reads a file, or standard input where it is called `-`; the error is what to print.
fn read(file: &Path) -> Result<Candidate, String> {
    let piped = file.as_os_str() == "-";
    let name = if piped { "standard input".to_owned() } else { report::printable(&file.to_string_lossy()) };
    let mut bytes = Vec::new();
    let limit = LARGEST_TEXT + 1;
    let read = if piped {
        io::stdin().lock().take(limit).read_to_end(&mut bytes)
    } else {
        match std::fs::metadata(file) {
            Ok(meta) if meta.is_dir() => Err(io::Error::other("it is a folder, not a file")),
            // A pipe such as the shell makes with `<(…)` is read like a file.
            _ => std::fs::File::open(file).and_then(|file| file.take(limit).read_to_end(&mut bytes)),
        }
    };
    if let Err(error) = read {
        let why = if error.kind() == io::ErrorKind::NotFound { "there is no such file".to_owned() } else { disk::why(&error) };
        return Err(format!("error: cannot read `{name}`: {why}\nhelp: name the entry's file with `--from FILE`"));
    }
    if bytes.len() as u64 > LARGEST_TEXT {
        let megabytes = LARGEST_TEXT / 1_000_000;
        return Err(format!(
            "error: `{name}` has more than {megabytes} MB, and an entry at most that\nhelp: look whether it is the entry you mean"
        ));
    }
    if image::guess_format(&bytes).is_ok() {
        return Err(format!(
            "error: `{name}` is a picture, not an entry\nhelp: name the entry's file; a picture stands in the log beside an entry that shows it"
        ));
    }
    match text_of(&name, bytes) {
        Ok(text) => Ok(Candidate { name, text, piped, made: false, told_open: Vec::new() }),
        Err(problem) => {
            let mut drawn = Vec::new();
            let _ = report::problems(&mut drawn, Path::new(""), &[*problem], true);
            Err(String::from_utf8_lossy(&drawn).trim_end().to_owned())
        }
    }
}

/// Holds the entry against the book as it stands now; what speaks against it is printed.
fn checked(args: &EnterArgs, candidate: &Candidate, out: &mut dyn Write, err: &mut dyn Write) -> io::Result<Result<Prepared, Exit>> {
    let book = &args.book.book;
    let loaded = match load(book) {
        Ok(loaded) => loaded,
        Err(error) => return super::no_book(err, &error).map(Err),
    };
    let name = &candidate.name;
    match prepare(loaded, &candidate.text, args.book.on.unwrap_or_else(today)) {
        Ok(prepared) => Ok(Ok(prepared)),
        Err(Refused::Already { path, changed }) => {
            let since = if changed { ", and was changed there since" } else { "" };
            let name = if candidate.made { "just this entry".to_owned() } else { format!("`{name}`") };
            writeln!(out, "{name} is in the log already{since}: {}", book.join(path).display())?;
            Ok(Err(Exit::Fine))
        }
        Err(Refused::Open(path)) => {
            let path = book.join(path);
            writeln!(err, "error: `{name}` is a later state of an entry that is open in the log: `{}`", path.display())?;
            writeln!(
                err,
                "help: nothing was written; to bring the log up to date, put the text of `{name}` in the place of that of `{}`, \
                 and keep what you wrote into it since",
                path.display()
            )?;
            Ok(Err(Exit::Problems))
        }
        Err(Refused::Problems { path, problems }) => {
            draw(err, args, candidate, &path, &problems)?;
            writeln!(err, "{}: {}", report::summary(&problems), candidate.kept())?;
            Ok(Err(Exit::Problems))
        }
    }
}

/// Draws problems; those of the entry under the name of its file.
fn draw(err: &mut dyn Write, args: &EnterArgs, candidate: &Candidate, path: &str, problems: &[Diagnostic]) -> io::Result<()> {
    for problem in problems {
        if problem.place.file == path {
            let mut own = problem.clone();
            own.place.file.clone_from(&candidate.name);
            if own.rule == "missing-paper" {
                own.remedy = format!("put the file into `{}/`, then enter it again", folder_of(&args.book.book, path));
            }
            report::problems(err, Path::new(""), &[own], true)?;
        } else {
            report::problems(err, &args.book.book, std::slice::from_ref(problem), true)?;
        }
    }
    Ok(())
}

/// The folder that belongs to an entry at a path inside the book, from where the user stands.
fn folder_of(book: &Path, entry: &str) -> String {
    report::printable(&book.join(entry).with_extension("").to_string_lossy())
}

/// What speaks against writing an entry, though it may be written.
fn warn(err: &mut dyn Write, args: &EnterArgs, candidate: &Candidate, prepared: &Prepared) -> io::Result<()> {
    draw(err, args, candidate, &prepared.path, &prepared.problems)?;
    for open in prepared.still_open.iter().filter(|open| !candidate.told_open.contains(open)) {
        tell_open(err, &args.book.book, open)?;
    }
    for same in &prepared.same_day {
        let same = args.book.book.join(same);
        writeln!(err, "warning: the log has the same job on the same day: `{}`", same.display())?;
        writeln!(err, "help: if both tell of the same work, take one of them away, for both count")?;
    }
    Ok(())
}

/// Says that an entry leaves the job open.
fn tell_open(err: &mut dyn Write, book: &Path, open: &str) -> io::Result<()> {
    writeln!(err, "warning: the job stays open by an earlier entry: `{}`", book.join(open).display())?;
    writeln!(
        err,
        "help: if it is finished, write `done: …` with the day into that entry instead of making another: take its `reached` and \
         `left` out, bring its `meters` up to that day, and put to it what was used since"
    )
}

/// Shows what will be written, and where.
fn shown(err: &mut dyn Write, path: &Path, text: &str) -> io::Result<()> {
    writeln!(err, "{}\n", path.display())?;
    for line in text.lines() {
        writeln!(err, "    {}", report::printable(line))?;
    }
    writeln!(err)
}

/// Shows what will be written, and where, and asks. No answer is no.
fn agreed(input: &mut dyn BufRead, err: &mut dyn Write, path: &Path, text: &str) -> io::Result<bool> {
    shown(err, path, text)?;
    write!(err, "write this entry? [Y/n] ")?;
    err.flush()?;
    let mut answer = String::new();
    if input.read_line(&mut answer)? == 0 {
        writeln!(err)?;
        return Ok(false);
    }
    Ok(matches!(answer.trim().to_lowercase().as_str(), "" | "y" | "yes" | "j" | "ja"))
}

/// What the crew should know of an entry that was written.
fn afterwards(err: &mut dyn Write, book: &Path, written: &Path, prepared: &Prepared) -> io::Result<()> {
    if let Some(former) = &prepared.former {
        let former = book.join(former);
        writeln!(err, "warning: the log has an earlier state of the same record, and now both count: `{}`", former.display())?;
        writeln!(err, "help: look at the two, and take the one away that is not right; the new one is `{}`", written.display())?;
    }
    if prepared.book_has_errors {
        writeln!(err, "the book has errors elsewhere: `garboard survey` says what and where")?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn case(answer: &str, expected: bool) {
        let mut shown = Vec::new();
        let path = Path::new("content/log/2026/2026-03-14-oil.md");
        let agreed = agreed(&mut answer.as_bytes(), &mut shown, path, "---\ndate: 2026-03-14\n---\n\u{1b}[2J\n").expect("it can be shown");
        assert_eq!(agreed, expected, "for {answer:?}");
        let shown = String::from_utf8(shown).expect("text");
        assert!(shown.contains("content/log/2026/2026-03-14-oil.md") && shown.contains("date: 2026-03-14"), "{shown}");
        assert!(!shown.contains('\u{1b}'), "{shown:?}");
    }

    #[test]
    fn an_entry_is_shown_and_asked_about() {
        case("\n", true);
        case("y\n", true);
        case("Yes\r\n", true);
        case("n\n", false);
        case("what\n", false);
        case("", false);
    }
}
