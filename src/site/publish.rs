//! From a loaded book to a written site: fingerprint, pictures, pages in parallel, files.

use super::assets::{self, Assets};
use super::feeds::{self, atom, calendar};
use super::install;
use super::long::Leaf;
use super::lookups::Lookups;
use super::manifest::{self, Manifest};
use super::map::SiteMap;
use super::pages::{self, long as cut};
use super::pocket::{self, Carried, Gathered};
use super::press::{Press, Users, defects_by_guide};
use super::qr;
use super::record_data;
use super::record_pages::{self, Round};
use super::search::{Indexing, guide_document};
use super::style;
use super::theme::{Theme, ThemeError, ThemeFiles};
use super::view::{Banner, Frame, Link};
use super::watch::{Progress, Unwatched, Watcher};
use super::write::{Staging, WriteError, Written, clear_leftovers, earlier};
use crate::book::diagnostic::{Diagnostic, Severity, any_error, tidy};
use crate::book::load::{Loaded, unreadable};
use crate::book::model::Book;
use crate::book::public::public;
use crate::reckon::{Costs, Reckoning, reckon_unchecked};
use jiff::civil::Date;
use rayon::prelude::*;
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt;
use std::path::{Path, PathBuf};
use std::sync::OnceLock;
use std::sync::atomic::{AtomicUsize, Ordering};

/// What is asked for.
#[derive(Debug, Clone, Copy)]
pub struct Request<'r> {
    /// Folder of the book.
    pub book: &'r Path,
    /// Folder of the site.
    pub site: &'r Path,
    pub theme: &'r str,
    /// Folder of themes beside the book.
    pub themes: Option<&'r Path>,
    pub on: Date,
    /// What the site shows; a public one is made from the public book.
    pub edition: Edition,
    /// Pictures and papers that the disk does not give are left out, and named in the banner.
    pub despite_errors: bool,
}

/// What a site shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Edition {
    /// Everything.
    Crew,
    /// What is private has been taken out of the book.
    Public,
    /// Some guides by themselves, for another boat: nothing of the log, and of this boat no more than they need.
    Shared,
}

impl Edition {
    /// `crew`, `public` or `shared`.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Crew => "crew",
            Self::Public => "public",
            Self::Shared => "shared",
        }
    }
}

/// What came of it.
#[derive(Debug)]
pub struct Outcome {
    pub written: Written,
    /// Pages rendered; 0 when nothing had changed.
    pub rendered: usize,
    /// Pictures that could not be used, and the like.
    pub problems: Vec<Diagnostic>,
}

/// Why there is no new site.
#[derive(Debug)]
pub enum PublishError {
    Theme(ThemeError),
    Write(WriteError),
    /// The folder holds a site that shows something else.
    Edition(Edition),
    /// The folder holds a site, and what is in it cannot be told.
    Unlisted(PathBuf),
    /// These files of the book have errors, so that nobody can tell what of them should be kept private.
    Untold(Vec<String>),
    /// Pictures or papers of the book cannot be read; pages without them would be half the book.
    Book(Vec<Diagnostic>),
}

impl fmt::Display for PublishError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Theme(error) => error.fmt(f),
            Self::Write(error) => error.fmt(f),
            Self::Edition(edition) => write!(f, "this folder holds the {} edition of a site", edition.word()),
            Self::Unlisted(list) => {
                write!(f, "`{}` is damaged, so nobody can tell whether the site there is for the crew alone or for others", list.display())
            }
            Self::Untold(files) => {
                let names: Vec<String> = files.iter().map(|file| format!("`{file}`")).collect();
                let (names, have) = (names.join(", "), if files.len() == 1 { "has" } else { "have" });
                write!(f, "{names} {have} errors, so nobody can tell what should be kept private, and there is no public edition")
            }
            Self::Book(problems) => write!(f, "{} files of the book cannot be used", problems.len()),
        }
    }
}

impl PublishError {
    /// What to do about it.
    #[must_use]
    pub fn remedy(&self) -> &str {
        match self {
            Self::Theme(error) => &error.remedy,
            Self::Write(error) => &error.remedy,
            Self::Edition(_) | Self::Unlisted(_) => "publish into another folder with `--to DIR`, or remove this one first",
            Self::Untold(_) => "mend these errors first; no option passes over them, and the crew edition needs none",
            Self::Book(_) => "mend the errors, or publish the rest with `--despite-errors`",
        }
    }
}

impl From<ThemeError> for PublishError {
    fn from(error: ThemeError) -> Self {
        Self::Theme(error)
    }
}

impl From<WriteError> for PublishError {
    fn from(error: WriteError) -> Self {
        Self::Write(error)
    }
}

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
    if unread.is_empty() && earlier.fingerprint == fingerprint && earlier.holds_all(request.site) {
        clear_leftovers(request.site);
        let written = Written { files: earlier.files.len(), written: 0, removed: 0 };
        return Ok(Outcome { written, rendered: 0, problems: Vec::new() });
    }
    let theme = Theme::new(&files, &book.boat.language)?;
    let staging = Staging::open(request.site)?;
    // Another publish may have ended since.
    refuse_other_edition(request.site, staging.earlier(), request.edition)?;
    watcher.told(Progress::Pictures);
    let mut prepared = assets::prepare(book, &reckoning.entries, request.book, request.edition, &staging)?;
    add_files(&mut prepared.problems, unread);
    if !request.despite_errors && any_error(&prepared.problems) {
        return Err(PublishError::Book(prepared.problems));
    }
    let mut all_problems = problems.to_vec();
    all_problems.extend(prepared.problems.iter().cloned());
    tidy(&mut all_problems);
    let map = SiteMap::new(book, &reckoning.entries);
    let press = press(request.edition, &reckoning, &map, &prepared.assets, &theme, &all_problems);
    // What is wrong with the book is told in its own words: that is nobody else's business.
    let told = if is_crew { all_problems.as_slice() } else { &[] };
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
    staging.add("site.webmanifest", install::manifest(&book.boat, theme.words.language()).as_bytes())?;
    let boat = if is_crew { record_data::boat(press.book, &reckoning) } else { String::new() };
    if !boat.is_empty() {
        staging.add("assets/boat.js", boat.as_bytes())?;
    }
    let gathered = Gathered::new(is_crew && pocket::carried(press.book) == Carried::Yes);
    let (fed, rendered) = rayon::join(|| stage_feeds(&press, &staging), || render(&press, &theme, &staging, &gathered, told, watcher));
    fed?;
    let rendered = rendered?;
    let unread = OnceLock::new();
    let pocket = gathered.hand_over(press.book, |contents, guides| {
        let frame = press.frame("pocket", "", theme.words.text("pocket.title"), "", true);
        let picture = |path: &str| {
            staging.read(path).unwrap_or_else(|error| {
                unread.set(error).ok();
                None
            })
        };
        pocket::pocket(&pocket::Ingredients {
            files: &files,
            theme: &theme,
            frame: &frame,
            contents,
            guides,
            boat: &boat,
            picture: &picture,
            template: pocket::TEMPLATE,
            left_out: &pocket::LEFT_OUT,
            alone: false,
            facts: &[],
            data: "",
        })
    });
    if let Some(error) = unread.into_inner() {
        return Err(error.into());
    }
    if let Some(pocket) = pocket {
        staging.add(pocket::NAME, pocket?.as_bytes())?;
    }
    let errors = press.banner.as_ref().map(|banner| banner.errors);
    let book_key = press.frame("record", "", String::new(), "", false).book_key;
    let round = Round { map: &map, assets: &prepared.assets, words: &theme.words, errors, book_key };
    let (pages, unread) = stage_record(request, &loaded.book, reckoning, &round, &theme, &staging)?;
    let mut problems = prepared.problems;
    add_files(&mut problems, unread);
    if !request.despite_errors && any_error(&problems) {
        return Err(PublishError::Book(problems));
    }
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

/// Files that say what is private, or have things in them that may be; each is read as a whole, so that nothing of it
/// can be left out by itself.
const TELLING: [&str; 4] = ["boat.yaml", "cautions.yaml", "stores.yaml", "tools.yaml"];

/// Nothing is shown to strangers while it may be for want of a letter that it is not kept private. Guides and entries
/// with errors are left out of the public book, which needs no refusal.
///
/// # Errors
/// The edition is public, and such a file has an error ([`PublishError::Untold`]).
pub fn refuse_untold(edition: Edition, problems: &[Diagnostic]) -> Result<(), PublishError> {
    let errors = problems.iter().filter(|problem| edition != Edition::Crew && problem.severity == Severity::Error);
    let untold: BTreeSet<&str> = errors.map(|problem| problem.place.file.as_str()).filter(|file| TELLING.contains(file)).collect();
    if untold.is_empty() { Ok(()) } else { Err(PublishError::Untold(untold.into_iter().map(str::to_owned).collect())) }
}

/// Files that every crew edition has and no public one.
const CREWS_OWN: [&str; 3] = ["provisions.html", "costs.html", "assets/boat.js"];

/// A site that others read is never mixed with one that only the crew may.
fn refuse_other_edition(site: &Path, earlier: &Manifest, edition: Edition) -> Result<(), PublishError> {
    let there = match earlier.edition.as_deref() {
        Some("public") => Edition::Public,
        _ => Edition::Crew,
    };
    if earlier.files.is_empty() {
        let listed = site.join(manifest::NAME);
        // A site whose list of files is damaged: what is left of it may be for the crew alone, and the folder may be
        // one that everybody reads. Only the crew's own is put right.
        let is_the_crews = || edition == Edition::Crew && CREWS_OWN.iter().any(|file| site.join(file).exists());
        return if listed.exists() && !is_the_crews() { Err(PublishError::Unlisted(listed)) } else { Ok(()) };
    }
    if there == edition { Ok(()) } else { Err(PublishError::Edition(there)) }
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

/// A page to be made.
#[derive(Debug, Clone, Copy)]
enum Page {
    Home,
    Guides,
    Guide(usize),
    System(usize),
    LogIndex,
    Log(usize),
    Stores,
    /// By its place in the plan of the site; with its table beside it.
    Provisions(usize),
    Tools,
    Gear,
    Occasions,
    Passages,
    Passage(usize),
    Defects,
    Meters,
    Costs,
    Cautions,
    Search,
    About,
}

/// All pages; each is rendered, staged and dropped.
fn render(
    press: &Press<'_>,
    theme: &Theme,
    staging: &Staging,
    gathered: &Gathered,
    problems: &[Diagnostic],
    watcher: &dyn Watcher,
) -> Result<usize, PublishError> {
    // What takes longest first, so that no thread is left with it alone at the end.
    let mut list: Vec<Page> = (0..press.map.log_pages.len()).map(Page::Log).collect();
    list.extend((0..press.book.boat.systems.len()).map(Page::System));
    list.extend([
        Page::Home,
        Page::Guides,
        Page::LogIndex,
        Page::Stores,
        Page::Tools,
        Page::Gear,
        Page::Occasions,
        Page::Defects,
        Page::Meters,
        Page::Cautions,
        Page::Search,
        Page::About,
    ]);
    list.extend(press.has("costs").then_some(Page::Costs));
    if !press.book.passages.is_empty() {
        list.push(Page::Passages);
        list.extend((0..press.book.passages.len()).map(Page::Passage));
    }
    if press.edition == Edition::Crew {
        list.extend((0..press.map.provisions.len()).map(Page::Provisions));
    }
    list.extend((0..press.book.guides.len()).map(Page::Guide));
    let indexing = Indexing::begin(press, staging)?;
    let made = AtomicUsize::new(0);
    // One by one: a year of the log is much more than a guide.
    list.par_iter()
        .with_max_len(1)
        .map(|page| {
            one(press, theme, staging, &indexing, gathered, problems, *page)?;
            watcher.told(Progress::Pages { made: made.fetch_add(1, Ordering::Relaxed) + 1, of: list.len() });
            Ok(())
        })
        .collect::<Result<Vec<()>, PublishError>>()?;
    indexing.finish(press)?;
    Ok(list.len())
}

fn one(
    press: &Press<'_>,
    theme: &Theme,
    staging: &Staging,
    indexing: &Indexing<'_>,
    gathered: &Gathered,
    problems: &[Diagnostic],
    page: Page,
) -> Result<(), PublishError> {
    let plain = |id: &str, shows_state: bool| press.frame(id, id, press.words.text(&format!("pages.{id}")), "", shows_state);
    let shop = Shop { press, theme, staging };
    match page {
        Page::Home => shop.long("index.html", "state.html", plain("state", true), pages::home(press), cut::home),
        Page::Guides => {
            let page = pages::guides(press);
            // The pocket file holds all guides in one list.
            gathered.contents(|| print(theme, "guides.html", &plain("guides", true), &page))?;
            shop.long("guides.html", "guides.html", plain("guides", true), page, cut::guides)
        }
        Page::LogIndex => emit(theme, staging, "log.html", "log-index.html", plain("log", false), &pages::log_index(press)),
        Page::Stores => shop.long("stores.html", "stores.html", plain("stores", true), pages::stores(press), cut::stores),
        Page::Provisions(at) => match press.map.provisions.get(at).and_then(|plan| Some((plan, pages::provisions(press, plan)?))) {
            Some((plan, sheet)) => {
                let root = pages::provisions_root(plan);
                let frame = press.frame("provisions", "provisions", sheet.title.clone(), root, true);
                staging.add(&format!("{}.csv", plan.path), &sheet.csv)?;
                shop.long(&format!("{}.html", plan.path), "provisions.html", frame, sheet.page, |press, page| {
                    cut::provisions(press, &plan.path, &sheet.title, page)
                })
            }
            None => Ok(()),
        },
        Page::Tools => shop.long("tools.html", "tools.html", plain("tools", false), pages::tools(press), cut::tools),
        Page::Gear => shop.long("gear.html", "gear.html", plain("gear", true), pages::gear(press), cut::gear),
        Page::Occasions => shop.long("occasions.html", "occasions.html", plain("occasions", true), pages::occasions(press), cut::occasions),
        Page::Passages => emit(theme, staging, "passages.html", "passages.html", plain("passages", true), &pages::passages(press)),
        Page::Passage(at) => match press.book.passages.get(at).and_then(|trip| Some((trip, press.map.passage(&trip.id.value)?))) {
            Some((trip, path)) => {
                let frame = press.frame("passage", "passages", trip.title.clone(), "../", true);
                shop.long(path, "passage.html", frame, pages::passage_sheet(press, trip), |press, page| {
                    cut::passage(press, path.trim_end_matches(".html"), &trip.title, page)
                })
            }
            None => Ok(()),
        },
        Page::Defects => shop.long("defects.html", "defects.html", plain("defects", true), pages::defects(press), cut::defects),
        Page::Meters => shop.long("meters.html", "meters.html", plain("meters", true), pages::meters(press), cut::meters),
        Page::Costs => emit(theme, staging, "costs.html", "costs.html", plain("costs", false), &pages::costs(press)),
        Page::Cautions => shop.long("cautions.html", "cautions.html", plain("cautions", false), pages::cautions(press), cut::cautions),
        Page::Search => emit(theme, staging, "search.html", "search.html", plain("search", false), &pages::search(press)),
        Page::About => emit(theme, staging, "about.html", "about.html", plain("about", true), &pages::about(press, problems)),
        Page::Guide(at) => match press.book.guides.get(at) {
            Some(guide) => {
                let frame = press.frame("guide", "guides", guide.title.clone(), "../", true);
                let view = pages::guide(press, guide);
                indexing.guide(press, at, &view)?;
                let path = format!("guides/{}.html", guide.id);
                gathered.guide(at, printed(theme, staging, &path, "guide.html", frame, &view)?, || guide_document(press, at, &view));
                Ok(())
            }
            None => Ok(()),
        },
        Page::System(at) => match press.book.boat.systems.get(at) {
            Some(system) => match press.map.system(&system.id.value) {
                Some(path) => {
                    let frame = press.frame("system", "guides", system.title.clone(), "../", true);
                    shop.long(path, "system.html", frame, pages::system(press, system), |press, page| {
                        cut::system(press, path.trim_end_matches(".html"), page)
                    })
                }
                None => Ok(()),
            },
            None => Ok(()),
        },
        Page::Log(at) => match (press.map.log_pages.get(at), pages::log_page(press, at)) {
            (Some(plan), Some((title, page))) => {
                let frame = press.frame("log", "log", title, "../", false);
                indexing.log_page(plan, &page)?;
                emit(theme, staging, &plan.path, "log.html", frame, &page)
            }
            _ => Ok(()),
        },
    }
}

/// What pages with long lists are made with.
struct Shop<'s, 'b> {
    press: &'s Press<'b>,
    theme: &'s Theme,
    staging: &'s Staging,
}

impl Shop<'_, '_> {
    /// Stages a page whose lists may be long, and the further pages of these.
    fn long<P: Serialize>(
        &self,
        path: &str,
        template: &str,
        frame: Frame,
        mut page: P,
        cut: impl FnOnce(&Press<'_>, &mut P) -> Vec<Leaf>,
    ) -> Result<(), PublishError> {
        cut(self.press, &mut page).into_par_iter().try_for_each(|leaf| {
            let title = format!("{}, {}", leaf.page.heading, leaf.page.of);
            let below = Frame { kind: "more".to_owned(), title, ..frame.clone() };
            emit(self.theme, self.staging, &leaf.path, "more.html", below, &leaf.page)
        })?;
        emit(self.theme, self.staging, path, template, frame, &page)
    }
}

pub(super) fn emit<T: Serialize>(
    theme: &Theme,
    staging: &Staging,
    path: &str,
    template: &str,
    frame: Frame,
    page: &T,
) -> Result<(), PublishError> {
    printed(theme, staging, path, template, frame, page).map(drop)
}

/// Stages a page and hands it back, for what is made of pages.
fn printed<T: Serialize>(
    theme: &Theme,
    staging: &Staging,
    path: &str,
    template: &str,
    mut frame: Frame,
    page: &T,
) -> Result<String, PublishError> {
    if let Some(address) = qr::address(frame.site.as_deref(), path)
        && let Some(drawing) = qr::svg(&address)
    {
        let file = format!("qr/{}.svg", path.trim_end_matches(".html"));
        staging.add(&file, drawing.as_bytes())?;
        frame.qr = Some(Link { text: address, href: format!("{}{file}", frame.root) });
    }
    let html = print(theme, template, &frame, page)?;
    staging.add(path, html.as_bytes())?;
    Ok(html)
}

/// Prints a page by its template.
pub(super) fn print<T: Serialize>(theme: &Theme, template: &str, frame: &Frame, page: &T) -> Result<String, ThemeError> {
    theme.print(template, frame, page)
}

/// Adds problems of files as a whole that nothing was said of yet.
fn add_files(problems: &mut Vec<Diagnostic>, more: Vec<Diagnostic>) {
    for one in more {
        if !problems.iter().any(|known| known.place.file == one.place.file) {
            problems.push(one);
        }
    }
}

/// One name for all that goes into the site: the same name, the same pages. With the files that could not be read for
/// it.
fn fingerprint(
    request: &Request<'_>,
    book: &Book,
    reckoning: &Reckoning<'_>,
    problems: &[Diagnostic],
    theme: &ThemeFiles,
) -> (String, Vec<Diagnostic>) {
    let mut hasher = blake3::Hasher::new();
    let mut put = |part: &[u8]| {
        hasher.update(&(part.len() as u64).to_le_bytes());
        hasher.update(part);
    };
    put(env!("CARGO_PKG_VERSION").as_bytes());
    put(env!("GARBOARD_SOURCES").as_bytes());
    put(request.edition.word().as_bytes());
    put(request.on.to_string().as_bytes());
    put(theme.name.as_bytes());
    for (path, bytes) in theme.iter() {
        put(path.as_bytes());
        put(bytes);
    }
    let sources: Vec<_> = book.sources.iter().collect();
    let hashes: Vec<blake3::Hash> = sources.par_iter().map(|(_, source)| blake3::hash(source.text().as_bytes())).collect();
    for ((path, _), hash) in sources.iter().zip(&hashes) {
        put(path.as_bytes());
        put(hash.as_bytes());
    }
    // The banner and the page about the book say what is wrong with it.
    for problem in problems {
        let place = &problem.place;
        put(format!("{} {} {}:{}:{}", problem.rule, problem.severity.word(), place.file, place.line, place.column).as_bytes());
        put(problem.message.as_bytes());
        put(problem.remedy.as_bytes());
    }
    // Pictures and papers by content: a copied book has other times, and the same pictures.
    let paths: Vec<String> = assets::paths(reckoning.book, &reckoning.entries).into_iter().collect();
    let read = |path: &String| {
        let mut hasher = blake3::Hasher::new();
        let read = std::fs::File::open(request.book.join(path)).and_then(|file| hasher.update_reader(file).map(|_| ()));
        read.map(|()| hasher.finalize()).map_err(|error| Box::new(unreadable(path, &error)))
    };
    let files: Vec<Result<blake3::Hash, Box<Diagnostic>>> = paths.par_iter().map(read).collect();
    let mut unread = Vec::new();
    for (path, file) in paths.iter().zip(files) {
        match file {
            Ok(hash) => {
                put(path.as_bytes());
                put(hash.as_bytes());
            }
            Err(problem) => unread.push(*problem),
        }
    }
    (hasher.finalize().to_hex().to_string(), unread)
}
