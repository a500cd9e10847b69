//! `garboard publish`.

use super::args::PublishArgs;
use super::outcome::Exit;
use super::reckoned::reckoned;
use super::{progress, report};
use crate::book::diagnostic::{Diagnostic, Severity, any_error, tidy};
use crate::book::load::{Loaded, load};
use crate::book::model::Book;
use crate::book::public::public;
use crate::reckon::{Reckoning, reckon_unchecked};
use crate::site::{Edition, Outcome, PublishError, Request, language_without_words, publish_watched, refuse_untold};
use jiff::civil::Date;
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

/// What a publish came to.
#[derive(Debug)]
pub(super) enum Done {
    /// The site is as the book is.
    Published(Published),
    /// Errors of the book keep its site from being made; these are all problems of it, which have been drawn.
    Faulty(Vec<Diagnostic>),
    /// Not for what is wrong in the book: what was asked for cannot be done.
    Never { message: String, remedy: String },
}

impl Done {
    fn never(error: &PublishError) -> Self {
        Self::Never { message: error.to_string(), remedy: error.remedy().to_owned() }
    }
}

/// A site that is as its book is.
#[derive(Debug)]
pub(super) struct Published {
    pub outcome: Outcome,
    pub on: Date,
    pub site: PathBuf,
    /// The book has errors, and the rest of it was published.
    pub has_errors: bool,
}

impl Published {
    /// What was made and written, in a line.
    pub(super) fn line(&self) -> String {
        let Outcome { rendered, written, .. } = &self.outcome;
        if *rendered == 0 {
            return format!("nothing changed: {} files stand in {}", written.files, self.site.display());
        }
        let removed = if written.removed > 0 { format!(", {} removed", written.removed) } else { String::new() };
        format!("{rendered} pages made as of {}; {} of {} files written{removed}", self.on, written.written, written.files)
    }
}

pub fn run(args: &PublishArgs, out: &mut dyn Write, err: &mut dyn Write) -> io::Result<Exit> {
    let done = run_then(Then::End, args, err)?;
    tell_why_not(err, &done, "mend the errors, or publish the rest with `--despite-errors`")?;
    let Done::Published(published) = done else { return Ok(Exit::Problems) };
    writeln!(out, "{}", published.line())?;
    if published.outcome.rendered > 0 {
        writeln!(out, "open {}", published.site.join("index.html").display())?;
    }
    Ok(if published.has_errors { Exit::Problems } else { Exit::Fine })
}

/// Says why there is no new site, and with `mend` what to do about errors of the book.
pub(super) fn tell_why_not(err: &mut dyn Write, done: &Done, mend: &str) -> io::Result<()> {
    match done {
        Done::Published(_) => Ok(()),
        Done::Faulty(problems) => writeln!(err, "{}\nhelp: {mend}", nothing_published(problems)),
        Done::Never { message, remedy } => writeln!(err, "error: {message}\nhelp: {remedy}"),
    }
}

/// Publishes, and draws what is wrong with the book. How it ended is left to the caller to tell.
pub(super) fn run_then(then: Then, args: &PublishArgs, err: &mut dyn Write) -> io::Result<Done> {
    let book = &args.book.book;
    let (edition, folder) = match args.edition {
        super::args::Edition::Crew => (Edition::Crew, "site"),
        super::args::Edition::Public => (Edition::Public, "site-public"),
    };
    let site = args.to.clone().unwrap_or_else(|| beside(book, folder));
    let elsewhere = |message: String| Ok(Done::Never { message, remedy: "choose another folder with `--to DIR`".to_owned() });
    if inside(&site, book) {
        return elsewhere(format!("the site cannot be written into the book `{}`", book.display()));
    }
    if site.join("boat.yaml").exists() {
        return elsewhere(format!("`{}` holds a book, and a site is not written into one", site.display()));
    }
    let since = Instant::now();
    let line = progress::line(since, "reading the book");
    let loaded = match load(book) {
        Ok(loaded) => loaded,
        Err(error) => return Ok(Done::Never { message: error.to_string(), remedy: error.remedy.to_string() }),
    };
    line.say("reckoning".to_owned());
    let (reckoning, mut problems) = reckoned(&args.book, &loaded);
    drop(line);
    let themes = beside(book, "themes");
    problems.extend(language_without_words(&loaded.book, &themes, Some(&args.theme)));
    tidy(&mut problems);
    say(err, book, &problems)?;
    if let Err(error) = refuse_untold(edition, &problems) {
        writeln!(err, "{}", nothing_published(&problems))?;
        return Ok(Done::never(&error));
    }
    if any_error(&problems) && !args.despite_errors {
        return Ok(Done::Faulty(problems));
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
    let done = match edition {
        Edition::Crew => write_site(&request, &loaded, reckoning, problems, since, err),
        Edition::Public | Edition::Shared => {
            let shown = public(&loaded.book);
            tell_left_out(err, &loaded.book)?;
            // What is wrong was said of the whole book.
            let of_shown = reckon_unchecked(&shown, reckoning.on);
            then.free(reckoning);
            let done = write_site(&request, &loaded, of_shown, problems, since, err);
            then.free(shown);
            done
        }
    };
    then.free(loaded);
    done
}

/// Writes the site, and draws what was found wrong on the way.
fn write_site(
    request: &Request<'_>,
    loaded: &Loaded,
    reckoning: Reckoning<'_>,
    mut problems: Vec<Diagnostic>,
    since: Instant,
    err: &mut dyn Write,
) -> io::Result<Done> {
    let line = progress::line(since, "comparing with the last publish");
    let published = publish_watched(request, loaded, reckoning, &problems, &line);
    drop(line);
    match published {
        Ok(outcome) => {
            report::problems(err, request.book, &outcome.problems, true)?;
            if !problems.is_empty() {
                writeln!(err, "{}", report::summary(&problems))?;
            }
            let has_errors = any_error(&outcome.problems) || any_error(&problems);
            Ok(Done::Published(Published { outcome, on: request.on, site: request.site.to_owned(), has_errors }))
        }
        Err(PublishError::Book(found)) => {
            report::problems(err, request.book, &found, true)?;
            problems.extend(found);
            Ok(Done::Faulty(problems))
        }
        Err(error) => Ok(Done::never(&error)),
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

/// That the book keeps its site from being made.
fn nothing_published(problems: &[Diagnostic]) -> String {
    format!("{}: nothing was published, and the site is as it was", report::summary(problems))
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
