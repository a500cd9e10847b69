//! The pages of a site: which there are, and how each is filled, printed and staged.

use super::{Edition, PublishError};
use crate::book::diagnostic::Diagnostic;
use crate::book::model::{Guide, Passage, System};
use crate::reckon::Ahead;
use crate::site::long::Leaf;
use crate::site::map::{LogPagePlan, ProvisionPlan};
use crate::site::pages::{self, long as cut};
use crate::site::pocket::Gathered;
use crate::site::press::Press;
use crate::site::qr;
use crate::site::search::{Indexing, guide_document};
use crate::site::theme::{Theme, ThemeError};
use crate::site::view::{Frame, Link};
use crate::site::watch::{Progress, Watcher};
use crate::site::write::Staging;
use rayon::prelude::*;
use serde::Serialize;
use std::sync::atomic::{AtomicUsize, Ordering};

/// A page to be made, with what it is of: none is dropped on the way because nothing is found under a number.
#[derive(Debug, Clone, Copy)]
enum Page<'b> {
    Home,
    Guides,
    /// With its place among the guides of the book.
    Guide(usize, &'b Guide),
    /// With its path.
    System(&'b System, &'b str),
    LogIndex,
    /// With its place among the pages of the log.
    Log(usize, &'b LogPagePlan),
    Stores,
    /// With its table beside it.
    Provisions(&'b ProvisionPlan, Ahead<'b>),
    Tools,
    Gear,
    Occasions,
    Passages,
    /// With its path.
    Passage(&'b Passage, &'b str),
    Defects,
    Meters,
    Costs,
    Cautions,
    Search,
    About,
}

/// Which pages there are. What takes longest comes first, so that no thread is left with it alone at the end.
fn listed<'b>(press: &Press<'b>) -> Vec<Page<'b>> {
    let (book, map) = (press.book, press.map);
    let mut list: Vec<Page<'b>> = map.log_pages.iter().enumerate().map(|(at, plan)| Page::Log(at, plan)).collect();
    list.extend(book.boat.systems.iter().filter_map(|system| Some(Page::System(system, map.system(&system.id.value)?))));
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
    if !book.passages.is_empty() {
        list.push(Page::Passages);
        list.extend(book.passages.iter().filter_map(|trip| Some(Page::Passage(trip, map.passage(&trip.id.value)?))));
    }
    if press.edition == Edition::Crew {
        let ahead = |plan: &'b ProvisionPlan| Some(Page::Provisions(plan, pages::provisions_ahead(press, plan)?));
        list.extend(map.provisions.iter().filter_map(ahead));
    }
    list.extend(book.guides.iter().enumerate().map(|(at, guide)| Page::Guide(at, guide)));
    list
}

/// All pages; each is rendered, staged and dropped.
pub(super) fn render(
    press: &Press<'_>,
    theme: &Theme,
    staging: &Staging,
    gathered: &Gathered,
    problems: &[Diagnostic],
    watcher: &dyn Watcher,
) -> Result<usize, PublishError> {
    let list = listed(press);
    let indexing = Indexing::begin(press, staging)?;
    let shop = Shop { press, theme, staging, indexing: &indexing, gathered, problems };
    let made = AtomicUsize::new(0);
    // One by one: a year of the log is much more than a guide.
    list.par_iter()
        .with_max_len(1)
        .map(|page| {
            shop.make(*page)?;
            watcher.told(Progress::Pages { made: made.fetch_add(1, Ordering::Relaxed) + 1, of: list.len() });
            Ok(())
        })
        .collect::<Result<Vec<()>, PublishError>>()?;
    indexing.finish(press)?;
    Ok(list.len())
}

/// What pages are made with.
struct Shop<'s, 'b> {
    press: &'s Press<'b>,
    theme: &'s Theme,
    staging: &'s Staging,
    indexing: &'s Indexing<'s>,
    gathered: &'s Gathered,
    /// Those of the book that the page about it tells of.
    problems: &'s [Diagnostic],
}

impl<'b> Shop<'_, 'b> {
    /// Fills a page, prints and stages it.
    fn make(&self, page: Page<'b>) -> Result<(), PublishError> {
        let Shop { press, theme, staging, indexing, gathered, problems } = self;
        let plain = |id: &str, shows_state: bool| press.frame(id, id, press.words.text(&format!("pages.{id}")), "", shows_state);
        match page {
            Page::Home => self.long("index.html", "state.html", plain("state", true), pages::home(press), cut::home),
            Page::Guides => {
                let page = pages::guides(press);
                // The pocket file holds all guides in one list.
                gathered.contents(|| print(theme, "guides.html", &plain("guides", true), &page))?;
                self.long("guides.html", "guides.html", plain("guides", true), page, cut::guides)
            }
            Page::Guide(at, guide) => {
                let frame = press.frame("guide", "guides", guide.title.clone(), "../", true);
                let view = pages::guide(press, guide);
                indexing.guide(press, at, &view)?;
                let path = format!("guides/{}.html", guide.id);
                gathered.guide(at, printed(theme, staging, &path, "guide.html", frame, &view)?, || guide_document(press, at, &view));
                Ok(())
            }
            Page::System(system, path) => {
                let frame = press.frame("system", "guides", system.title.clone(), "../", true);
                self.long(path, "system.html", frame, pages::system(press, system), |press, page| {
                    cut::system(press, path.trim_end_matches(".html"), page)
                })
            }
            Page::LogIndex => emit(theme, staging, "log.html", "log-index.html", plain("log", false), &pages::log_index(press)),
            Page::Log(at, plan) => {
                let frame = press.frame("log", "log", pages::log_title(press, plan), "../", false);
                let page = pages::log_page(press, at, plan);
                indexing.log_page(plan, &page)?;
                emit(theme, staging, &plan.path, "log.html", frame, &page)
            }
            Page::Stores => self.long("stores.html", "stores.html", plain("stores", true), pages::stores(press), cut::stores),
            Page::Provisions(plan, ahead) => {
                let sheet = pages::provisions(press, plan, ahead);
                let root = pages::provisions_root(plan);
                let frame = press.frame("provisions", "provisions", sheet.title.clone(), root, true);
                staging.add(&format!("{}.csv", plan.path), &sheet.csv)?;
                self.long(&format!("{}.html", plan.path), "provisions.html", frame, sheet.page, |press, page| {
                    cut::provisions(press, &plan.path, &sheet.title, page)
                })
            }
            Page::Tools => self.long("tools.html", "tools.html", plain("tools", false), pages::tools(press), cut::tools),
            Page::Gear => self.long("gear.html", "gear.html", plain("gear", true), pages::gear(press), cut::gear),
            Page::Occasions => {
                self.long("occasions.html", "occasions.html", plain("occasions", true), pages::occasions(press), cut::occasions)
            }
            Page::Passages => emit(theme, staging, "passages.html", "passages.html", plain("passages", true), &pages::passages(press)),
            Page::Passage(trip, path) => {
                let frame = press.frame("passage", "passages", trip.title.clone(), "../", true);
                self.long(path, "passage.html", frame, pages::passage_sheet(press, trip), |press, page| {
                    cut::passage(press, path.trim_end_matches(".html"), &trip.title, page)
                })
            }
            Page::Defects => self.long("defects.html", "defects.html", plain("defects", true), pages::defects(press), cut::defects),
            Page::Meters => self.long("meters.html", "meters.html", plain("meters", true), pages::meters(press), cut::meters),
            Page::Costs => emit(theme, staging, "costs.html", "costs.html", plain("costs", false), &pages::costs(press)),
            Page::Cautions => self.long("cautions.html", "cautions.html", plain("cautions", false), pages::cautions(press), cut::cautions),
            Page::Search => emit(theme, staging, "search.html", "search.html", plain("search", false), &pages::search(press)),
            Page::About => emit(theme, staging, "about.html", "about.html", plain("about", true), &pages::about(press, problems)),
        }
    }

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

pub(in crate::site) fn emit<T: Serialize>(
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
pub(in crate::site) fn print<T: Serialize>(theme: &Theme, template: &str, frame: &Frame, page: &T) -> Result<String, ThemeError> {
    theme.print(template, frame, page)
}
