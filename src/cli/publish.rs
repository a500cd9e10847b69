//! `garboard publish`.

use super::args::PublishArgs;
use super::outcome::Exit;
use super::reckoned::{exit_of, reckoned};
use super::{progress, report};
use crate::book::diagnostic::{Diagnostic, Severity, any_error, tidy};
use crate::book::load::{Loaded, load};
use crate::book::model::Book;
use crate::book::public::public;
use crate::reckon::{Reckoning, reckon_unchecked};
use crate::site::{Edition, PublishError, Request, language_without_words, publish_watched, refuse_untold};
use std::io::{self, Write};
use std::mem;
use std::path::{Path, PathBuf};
use std::time::Instant;

/// Warnings drawn by a publish.
const OTHERS: usize = 20;

/// The folder that holds the book.
pub(super) fn beside(book: &Path, name: &str) -> PathBuf {
    // `content/..` would do as well, but reads worse in messages.
    match book.parent() {
        Some(parent) if book.file_name().is_some() => parent.join(name),
        _ => book.join("..").join(name),
    }
}

/// What comes after a publish.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Then {
    /// The process ends: what it holds goes with it, and nothing is freed. To give back a large book piece by piece
    /// takes a tenth of the time of a publish.
    End,
    /// Another publish some day, in the same process.
    Wait,
}

impl Then {
    fn free<T>(self, value: T) {
        if self == Self::End {
            mem::forget(value);
        }
    }
}

pub fn run(args: &PublishArgs, out: &mut dyn Write, err: &mut dyn Write) -> io::Result<Exit> {
    run_then(Then::End, args, out, err)
}

/// The same, where the process may go on.
pub(super) fn run_then(then: Then, args: &PublishArgs, out: &mut dyn Write, err: &mut dyn Write) -> io::Result<Exit> {
    let book = &args.book.book;
    let (edition, folder) = match args.edition {
        super::args::Edition::Crew => (Edition::Crew, "site"),
        super::args::Edition::Public => (Edition::Public, "site-public"),
    };
    let site = args.to.clone().unwrap_or_else(|| beside(book, folder));
    if inside(&site, book) {
        writeln!(err, "error: the site cannot be written into the book `{}`", book.display())?;
        writeln!(err, "help: choose another folder with `--to DIR`")?;
        return Ok(Exit::Problems);
    }
    if site.join("boat.yaml").exists() {
        writeln!(err, "error: `{}` holds a book, and a site is not written into one", site.display())?;
        writeln!(err, "help: choose another folder with `--to DIR`")?;
        return Ok(Exit::Problems);
    }
    let since = Instant::now();
    let line = progress::line(since, "reading the book");
    let loaded = match load(book) {
        Ok(loaded) => loaded,
        Err(error) => {
            drop(line);
            return super::no_book(err, &error);
        }
    };
    line.say("reckoning".to_owned());
    let (reckoning, mut problems) = reckoned(&args.book, &loaded);
    drop(line);
    let themes = beside(book, "themes");
    problems.extend(language_without_words(&loaded.book, &themes, Some(&args.theme)));
    tidy(&mut problems);
    say(err, book, &problems)?;
    if let Err(error) = refuse_untold(edition, &problems) {
        writeln!(err, "{}: nothing was published, and the site is as it was", report::summary(&problems))?;
        writeln!(err, "error: {error}\nhelp: {}", error.remedy())?;
        return Ok(Exit::Problems);
    }
    if any_error(&problems) && !args.despite_errors {
        return nothing_published(err, &problems);
    }
    let request = Request {
        book,
        site: &site,
        theme: &args.theme,
        themes: Some(&themes),
        on: reckoning.on,
        edition,
        despite_errors: args.despite_errors,
    };
    let exit = match edition {
        Edition::Crew => write_site(&request, &loaded, reckoning, &problems, since, out, err),
        Edition::Public | Edition::Shared => {
            let shown = public(&loaded.book);
            tell_left_out(err, &loaded.book)?;
            // What is wrong was said of the whole book.
            let of_shown = reckon_unchecked(&shown, reckoning.on);
            then.free(reckoning);
            let exit = write_site(&request, &loaded, of_shown, &problems, since, out, err);
            then.free(shown);
            exit
        }
    };
    then.free(loaded);
    exit
}

/// Writes the site, and tells what came of it.
fn write_site(
    request: &Request<'_>,
    loaded: &Loaded,
    reckoning: Reckoning<'_>,
    problems: &[Diagnostic],
    since: Instant,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> io::Result<Exit> {
    let (book, site) = (request.book, request.site);
    let line = progress::line(since, "comparing with the last publish");
    let published = publish_watched(request, loaded, reckoning, problems, &line);
    drop(line);
    match published {
        Ok(outcome) => {
            report::problems(err, book, &outcome.problems, true)?;
            if !problems.is_empty() {
                writeln!(err, "{}", report::summary(problems))?;
            }
            let written = outcome.written;
            if outcome.rendered == 0 {
                writeln!(out, "nothing changed: {} files stand in {}", written.files, site.display())?;
            } else {
                let removed = if written.removed > 0 { format!(", {} removed", written.removed) } else { String::new() };
                writeln!(
                    out,
                    "{} pages made as of {}; {} of {} files written{removed}\nopen {}",
                    outcome.rendered,
                    request.on,
                    written.written,
                    written.files,
                    site.join("index.html").display()
                )?;
            }
            if any_error(&outcome.problems) { Ok(Exit::Problems) } else { Ok(exit_of(problems)) }
        }
        Err(PublishError::Book(found)) => {
            report::problems(err, book, &found, true)?;
            nothing_published(err, &[problems, &found].concat())
        }
        Err(error) => {
            writeln!(err, "error: {error}\nhelp: {}", error.remedy())?;
            Ok(Exit::Problems)
        }
    }
}

/// Says how many guides and entries the public edition lacks because of their errors, which have been told.
fn tell_left_out(err: &mut dyn Write, book: &Book) -> io::Result<()> {
    let guides = book.guides.iter().map(|guide| guide.source.path());
    let entries = book.entries.iter().filter(|entry| !entry.private).map(|entry| entry.source.path());
    match guides.chain(entries).filter(|path| book.faulty.contains(*path)).count() {
        0 => Ok(()),
        1 => writeln!(err, "left out: a guide or entry that has errors, for one may be in what was to keep something private"),
        n => writeln!(err, "left out: {n} guides or entries that have errors, for one may be in what was to keep something private"),
    }
}

/// Says that the book keeps its site from being made.
fn nothing_published(err: &mut dyn Write, problems: &[Diagnostic]) -> io::Result<Exit> {
    writeln!(err, "{}: nothing was published, and the site is as it was", report::summary(problems))?;
    writeln!(err, "help: mend the errors, or publish the rest with `--despite-errors`")?;
    Ok(Exit::Problems)
}

/// All errors, and the first of the rest: `garboard survey` lists everything.
fn say(err: &mut dyn Write, book: &Path, problems: &[Diagnostic]) -> io::Result<()> {
    let (errors, others): (Vec<Diagnostic>, Vec<Diagnostic>) =
        problems.iter().cloned().partition(|problem| problem.severity == Severity::Error);
    report::problems(err, book, &errors, true)?;
    report::problems(err, book, others.get(..OTHERS.min(others.len())).unwrap_or_default(), true)?;
    if others.len() > OTHERS {
        writeln!(err, "and {} more that are no errors: `garboard survey` lists them all\n", others.len() - OTHERS)?;
    }
    Ok(())
}

/// Whether `site` is the book's folder or lies in it. Neither need exist.
pub(super) fn inside(site: &Path, book: &Path) -> bool {
    let full = |path: &Path| {
        let absolute = std::path::absolute(path).unwrap_or_else(|_| path.to_owned());
        absolute.ancestors().find_map(|known| {
            let rest = absolute.strip_prefix(known).ok()?;
            Some(known.canonicalize().ok()?.join(rest))
        })
    };
    match (full(site), full(book)) {
        (Some(site), Some(book)) => site.starts_with(book),
        _ => false,
    }
}
