//! From a loaded book to a written site: fingerprint, pictures, pages in parallel, files.

mod fingerprint;
mod list;
mod refuse;
mod request;

pub(super) use list::{emit, print};
pub use refuse::refuse_untold;
pub use request::{Edition, Outcome, PublishError, Request};

use crate::book::diagnostic::{Diagnostic, Severity, any_error, tidy};
use crate::book::load::Loaded;
use crate::book::model::Book;
use crate::book::public::public;
use crate::reckon::{Costs, Reckoning, reckon_unchecked};
use crate::site::assets::{self, Assets};
use crate::site::feeds::{self, atom, calendar};
use crate::site::install;
use crate::site::lookups::Lookups;
use crate::site::manifest::Manifest;
use crate::site::map::SiteMap;
use crate::site::pages;
use crate::site::pocket::{self, Carried, Gathered};
use crate::site::press::{Press, Users, defects_by_guide};
use crate::site::record_data;
use crate::site::record_pages::{self, Round};
use crate::site::style;
use crate::site::theme::{Theme, ThemeFiles};
use crate::site::view::Banner;
use crate::site::watch::{Progress, Unwatched, Watcher};
use crate::site::write::{Staging, WriteError, Written, clear_leftovers, earlier};
use fingerprint::fingerprint;
use list::render;
use refuse::refuse_other_edition;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::OnceLock;

/// Writes the site of a book. `loaded` is the whole book, `reckoning` is of what the edition shows of
/// it. `problems` are those found so far: errors are named in a banner.
///
/// # Errors
/// The theme cannot be used, the disk refuses, or the edition is public and nobody can tell what is private. What stood
/// there before is whole.
pub fn publish(request: &Request<'_>, loaded: &Loaded, reckoning: Reckoning<'_>, problems: &[Diagnostic]) -> Result<Outcome, PublishError> {
    publish_watched(request, loaded, reckoning, problems, &Unwatched)
}

/// As [`publish`], and tells how far it has come.
///
/// # Errors
/// As [`publish`].
pub fn publish_watched(
    request: &Request<'_>,
    loaded: &Loaded,
    reckoning: Reckoning<'_>,
    problems: &[Diagnostic],
    watcher: &dyn Watcher,
) -> Result<Outcome, PublishError> {
    refuse_untold(request.edition, problems)?;
    let files = ThemeFiles::gather(request.theme, request.themes)?;
    let book = reckoning.book;
    let is_crew = request.edition == Edition::Crew;
    let earlier = earlier(request.site)?;
    refuse_other_edition(request.site, &earlier, request.edition)?;
    let (fingerprint, unread) = fingerprint(request, &loaded.book, &reckoning, problems, &files);
    if unread.is_empty()
        && let Some(outcome) = unchanged(request, &earlier, &fingerprint)
    {
        return Ok(outcome);
    }
    let theme = Theme::new(&files, &book.boat.language)?;
    let staging = Staging::open(request.site)?;
    // Another publish may have ended since.
    refuse_other_edition(request.site, staging.earlier(), request.edition)?;
    watcher.told(Progress::Pictures);
    let mut prepared = assets::prepare(book, &reckoning.entries, request.book, request.edition, &staging)?;
    add_files(&mut prepared.problems, unread);
    refuse_errors(request, &prepared.problems)?;
    let mut all_problems = problems.to_vec();
    all_problems.extend(prepared.problems.iter().cloned());
    tidy(&mut all_problems);
    let map = SiteMap::new(book, &reckoning.entries);
    let press = press(request.edition, &reckoning, &map, &prepared.assets, &theme, &all_problems);
    // What is wrong with the book is told in its own words: that is nobody else's business.
    let told = if is_crew { all_problems.as_slice() } else { &[] };
    stage_theme(&files, &theme, book, &staging)?;
    let boat = stage_boat(&press, &staging)?;
    let gathered = Gathered::new(is_crew && pocket::carried(book) == Carried::Yes);
    let (fed, rendered) = rayon::join(|| stage_feeds(&press, &staging), || render(&press, &theme, &staging, &gathered, told, watcher));
    fed?;
    let rendered = rendered?;
    stage_pocket(&gathered, &press, &files, &theme, &boat, &staging)?;
    let errors = press.banner.as_ref().map(|banner| banner.errors);
    let book_key = press.frame("record", "", String::new(), "", false).book_key;
    let round = Round { map: &map, assets: &prepared.assets, words: &theme.words, errors, book_key };
    let (pages, unread_now) = stage_record(request, &loaded.book, reckoning, &round, &theme, &staging)?;
    let mut problems = prepared.problems;
    add_files(&mut problems, unread_now);
    refuse_errors(request, &problems)?;
    // Last: it names all the others.
    for (name, text) in install::worker(files.text("install/worker.js").unwrap_or_default(), &staging.files()) {
        staging.add(&name, text.as_bytes())?;
    }
    // While a picture cannot be used, no publish is like the last: it is told each time.
    let fingerprint = if problems.is_empty() { fingerprint } else { String::new() };
    let edition = Some(request.edition.word().to_owned());
    let manifest = Manifest { fingerprint, edition, pictures: prepared.known, ..Manifest::default() };
    let written = staging.finish(manifest, watcher)?;
    Ok(Outcome { written, rendered: rendered + pages, problems })
}

/// What comes of a publish before which nothing changed; its leftovers are cleared. `None`: something did.
fn unchanged(request: &Request<'_>, earlier: &Manifest, fingerprint: &str) -> Option<Outcome> {
    if earlier.fingerprint != fingerprint || !earlier.holds_all(request.site) {
        return None;
    }
    clear_leftovers(request.site);
    let written = Written { files: earlier.files.len(), written: 0, removed: 0 };
    Some(Outcome { written, rendered: 0, problems: Vec::new() })
}

/// Stops where the files that pages are made of have errors, unless they are to be published all the same.
fn refuse_errors(request: &Request<'_>, problems: &[Diagnostic]) -> Result<(), PublishError> {
    if !request.despite_errors && any_error(problems) { Err(PublishError::Book(problems.to_vec())) } else { Ok(()) }
}

/// What the theme brings: styles and scripts, made smaller, its words, and how a device is to install the site.
fn stage_theme(files: &ThemeFiles, theme: &Theme, book: &Book, staging: &Staging) -> Result<(), WriteError> {
    for (name, bytes) in files.assets() {
        let text = std::str::from_utf8(bytes).ok();
        let smaller = match name.rsplit_once('.') {
            Some((_, "css")) => text.map(style::smaller),
            Some((_, "js")) => text.map(style::uncommented),
            _ => None,
        };
        staging.add(&format!("assets/{name}"), smaller.as_ref().map_or(bytes, |text| text.as_bytes()))?;
    }
    staging.add("assets/words.js", theme.script_words().as_bytes())?;
    staging.add("assets/words-more.js", theme.more_script_words(&[]).as_bytes())?;
    staging.add("site.webmanifest", install::manifest(&book.boat, theme.words.language()).as_bytes())
}

/// What a phone makes records from, which only the crew's edition has; handed back for the pocket file.
fn stage_boat(press: &Press<'_>, staging: &Staging) -> Result<String, WriteError> {
    if press.edition != Edition::Crew {
        return Ok(String::new());
    }
    let boat = record_data::boat(press.book, press.reckoning);
    staging.add("assets/boat.js", boat.as_bytes())?;
    Ok(boat)
}

/// The pocket file, where there is one: made of the guides that were printed.
fn stage_pocket(
    gathered: &Gathered,
    press: &Press<'_>,
    files: &ThemeFiles,
    theme: &Theme,
    boat: &str,
    staging: &Staging,
) -> Result<(), PublishError> {
    let refused = OnceLock::new();
    let pocket = gathered.hand_over(press.book, |contents, guides| {
        let frame = press.frame("pocket", "", theme.words.text("pocket.title"), "", true);
        let picture = |path: &str| {
            staging.read(path).unwrap_or_else(|error| {
                refused.set(error).ok();
                None
            })
        };
        pocket::pocket(&pocket::Ingredients {
            files,
            theme,
            frame: &frame,
            contents,
            guides,
            boat,
            picture: &picture,
            template: pocket::TEMPLATE,
            left_out: &pocket::LEFT_OUT,
            alone: false,
            facts: &[],
            data: "",
        })
    });
    if let Some(error) = refused.into_inner() {
        return Err(error.into());
    }
    if let Some(pocket) = pocket {
        staging.add(pocket::NAME, pocket?.as_bytes())?;
    }
    Ok(())
}

/// The feed and the calendar, where there is anything to tell.
fn stage_feeds(press: &Press<'_>, staging: &Staging) -> Result<(), WriteError> {
    if let Some(feed) = atom::text(&pages::feed(press)) {
        staging.add(feeds::FEED, feed.as_bytes())?;
    }
    if let Some(calendar) = calendar::text(&pages::dates(press)) {
        staging.add(feeds::CALENDAR, calendar.as_bytes())?;
    }
    Ok(())
}

/// The boat's record, which is of the public book in both editions.
fn stage_record(
    request: &Request<'_>,
    book: &Book,
    reckoning: Reckoning<'_>,
    round: &Round<'_>,
    theme: &Theme,
    staging: &Staging,
) -> Result<(usize, Vec<Diagnostic>), PublishError> {
    if request.edition == Edition::Public {
        return record_pages::stage(round, &reckoning, request.book, theme, staging);
    }
    // A large book has not room for two.
    drop(reckoning);
    let shown = public(book);
    let mut reckoning = reckon_unchecked(&shown, request.on);
    // The record asks for none of these.
    reckoning.readings = Vec::new();
    reckoning.times = BTreeMap::new();
    reckoning.costs = Costs::default();
    record_pages::stage(round, &reckoning, request.book, theme, staging)
}

/// The press of a reckoned book. `problems`: errors are named in a banner.
pub(super) fn press<'b>(
    edition: Edition,
    reckoning: &'b Reckoning<'b>,
    map: &'b SiteMap,
    assets: &'b Assets,
    theme: &'b Theme,
    problems: &[Diagnostic],
) -> Press<'b> {
    let errors: Vec<&Diagnostic> = problems.iter().filter(|problem| problem.severity == Severity::Error).collect();
    let files: BTreeSet<&str> = errors.iter().map(|problem| problem.place.file.as_str()).collect();
    // The name of a file may say what is in it.
    let files = files.into_iter().filter(|_| edition == Edition::Crew).map(str::to_owned).collect();
    let banner = (!errors.is_empty()).then_some(Banner { files, errors: errors.len() });
    let cleared = reckoning.cleared_by_finding();
    let (users, defects) = (Users::new(reckoning.book), defects_by_guide(reckoning));
    let lookups = Lookups::default();
    Press { book: reckoning.book, reckoning, map, assets, words: &theme.words, edition, banner, cleared, defects, users, lookups }
}

/// Adds problems of files as a whole that nothing was said of yet.
fn add_files(problems: &mut Vec<Diagnostic>, more: Vec<Diagnostic>) {
    for one in more {
        if !problems.iter().any(|known| known.place.file == one.place.file) {
            problems.push(one);
        }
    }
}
