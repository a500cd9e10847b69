//! The pages of a site: which there are, and how each is filled, printed and staged.

use super::{Edition, PublishError};
use crate::book::diagnostic::Diagnostic;
use crate::site::long::Leaf;
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
pub(super) fn render(
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
