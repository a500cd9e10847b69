//! Where everything of the book stands in the site: file names, fragments, links between pages.
//!
//! File names made here are lower-case ASCII, legal on FAT, exFAT and Windows, and never two alike. (Files of a theme
//! keep their own names; `theme.rs` refuses those that a disk would not take.) All paths here count from the top of the
//! site; a page below the top puts its `root` before them.

use super::long::{GEAR, STORES, TOOLS, page_of};
use crate::book::check::{Target, resolve};
use crate::book::id::id_of;
use crate::book::model::{Book, Entry, Gear, OCCASIONS};
use crate::book::source::folder_of;
use std::collections::{BTreeMap, BTreeSet, HashMap};
use std::sync::Arc;

/// Entries on one page of the log.
pub const ENTRIES_A_PAGE: usize = 100;

/// Places of everything.
#[derive(Debug, Default)]
pub struct SiteMap {
    /// Entry id to its href: page and fragment.
    entries: HashMap<Box<str>, Arc<str>>,
    /// Path in the book of a guide or an entry to its href.
    sources: HashMap<Box<str>, Arc<str>>,
    /// Ids of the stages of each guide, by its path in the book.
    stages: HashMap<Box<str>, BTreeSet<String>>,
    /// Folders of systems that no page stands for are left out.
    systems: BTreeMap<String, String>,
    /// Passage id to the page of its sheet.
    passages: BTreeMap<String, String>,
    /// Ids of store items, tools and gear to their pages, where that is not the first of the list.
    stores: HashMap<String, String>,
    tools: HashMap<String, String>,
    gear: HashMap<String, String>,
    pub log_pages: Vec<LogPagePlan>,
    /// The list that looks ahead by days first, then passages, then occasions that a guide names.
    pub provisions: Vec<ProvisionPlan>,
}

/// A list of provisions, with its table beside it.
#[derive(Debug, Clone)]
pub struct ProvisionPlan {
    pub what: PlannedFor,
    /// Without its ending: `provisions/passage-northern-isles`.
    pub path: String,
}

/// What a list of provisions is for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PlannedFor {
    DaysAhead,
    /// By its place in `passages.yaml`.
    Passage(usize),
    /// By its id.
    Occasion(String),
}

/// Which entries stand on a page of the log.
#[derive(Debug, Clone)]
pub struct LogPagePlan {
    pub year: i16,
    /// 1 for the oldest hundred of the year.
    pub part: usize,
    pub parts: usize,
    pub path: String,
    /// Indices into the entries of the reckoning, oldest first.
    pub range: std::ops::Range<usize>,
}

impl SiteMap {
    /// Lays out the site. `entries` are sorted, oldest first.
    #[must_use]
    pub fn new(book: &Book, entries: &[&Entry]) -> Self {
        let mut map = Self::default();
        let mut names = Names::default();
        for system in &book.boat.systems {
            let name = names.unique("systems", &system.id.value);
            map.systems.insert(system.id.value.clone(), format!("systems/{name}.html"));
        }
        for passage in &book.passages {
            let name = names.unique("passages", &passage.id.value);
            map.passages.insert(passage.id.value.clone(), format!("passages/{name}.html"));
        }
        for guide in &book.guides {
            map.sources.insert(guide.source.path().into(), format!("guides/{}.html", guide.id).into());
            map.stages.insert(guide.source.path().into(), guide.outline.stages.iter().map(|stage| stage.id.clone()).collect());
        }
        map.stores = further("stores", STORES, book.stores.iter().map(|item| item.id.value.as_str()));
        map.tools = further("tools", TOOLS, book.tools.iter().map(|tool| tool.id.value.as_str()));
        map.gear = further("gear", GEAR, gear_by_system(book).map(|gear| gear.id.value.as_str()));
        map.provisions = provisions(book, &mut names);
        let mut start = 0;
        while let Some(first) = entries.get(start) {
            let year = first.when.day().date.year();
            let count = entries[start..].iter().take_while(|entry| entry.when.day().date.year() == year).count();
            let parts = count.div_ceil(ENTRIES_A_PAGE);
            for part in 1..=parts {
                let from = start + (part - 1) * ENTRIES_A_PAGE;
                let to = (from + ENTRIES_A_PAGE).min(start + count);
                let path = if part == 1 { format!("log/{year}.html") } else { format!("log/{year}-{part}.html") };
                for entry in &entries[from..to] {
                    let href: Arc<str> = format!("{path}#{}", names.unique(&path, &entry.id)).into();
                    map.sources.insert(entry.source.path().into(), Arc::clone(&href));
                    map.entries.insert(entry.id.as_str().into(), href);
                }
                map.log_pages.push(LogPagePlan { year, part, parts, path, range: from..to });
            }
            start += count;
        }
        map
    }

    /// Link to an entry, from the top of the site.
    #[must_use]
    pub fn entry(&self, id: &str) -> Option<&str> {
        self.entries.get(id).map(|href| &**href)
    }

    /// Fragment of an entry on its page.
    #[must_use]
    pub fn entry_anchor(&self, id: &str) -> Option<&str> {
        self.entry(id)?.split_once('#').map(|(_, anchor)| anchor)
    }

    /// Page of a system.
    #[must_use]
    pub fn system(&self, id: &str) -> Option<&str> {
        self.systems.get(id).map(String::as_str)
    }

    /// The sheet of a passage.
    #[must_use]
    pub fn passage(&self, id: &str) -> Option<&str> {
        self.passages.get(id).map(String::as_str)
    }

    /// A line of the stores, from a page below `root`.
    #[must_use]
    pub fn store(&self, root: &str, id: &str) -> String {
        place(&self.stores, root, "stores.html", id)
    }

    /// A line of the tools, from a page below `root`.
    #[must_use]
    pub fn tool(&self, root: &str, id: &str) -> String {
        place(&self.tools, root, "tools.html", id)
    }

    /// A piece of gear, from a page below `root`.
    #[must_use]
    pub fn gear(&self, root: &str, id: &str) -> String {
        place(&self.gear, root, "gear.html", id)
    }

    /// Whether the site has a page that not every book has, counted from the top.
    #[must_use]
    pub fn holds(&self, page: &str) -> bool {
        self.systems.values().chain(self.passages.values()).any(|known| known == page)
            || self.log_pages.iter().any(|plan| plan.path == page)
            || self.provisions.iter().any(|plan| page.strip_suffix(".html") == Some(&plan.path))
    }

    /// A stage of a guide as the crew links it, `#drain`, is `#s-drain` on its page.
    fn anchor(&self, file: &str, fragment: &str) -> String {
        let id = id_of(fragment);
        match self.stages.get(file) {
            Some(stages) if stages.contains(&id) => format!("s-{id}"),
            _ => fragment.to_owned(),
        }
    }

    /// What a link written in a file of the book becomes; `None`: nothing that the site holds.
    #[must_use]
    pub fn link(&self, file: &str, target: &str) -> Option<SiteLink> {
        match resolve(folder_of(file), target) {
            Target::Fragment(fragment) => Some(SiteLink::SamePage(self.anchor(file, &fragment))),
            Target::Web => Some(SiteLink::Web(target.trim().to_owned())),
            Target::Outside | Target::Refused => None,
            Target::Inside { path, fragment } => {
                if let Some(page) = self.sources.get(path.as_str()) {
                    let page = match fragment {
                        Some(fragment) if !page.contains('#') => format!("{page}#{}", self.anchor(&path, &fragment)),
                        _ => page.to_string(),
                    };
                    return Some(SiteLink::Page(page));
                }
                if path == "passages.yaml" {
                    return (!self.passages.is_empty()).then(|| SiteLink::Page("passages.html".to_owned()));
                }
                let list = match path.as_str() {
                    "stores.yaml" if fragment.is_some() => return fragment.map(|id| SiteLink::Page(self.store("", &id))),
                    "tools.yaml" if fragment.is_some() => return fragment.map(|id| SiteLink::Page(self.tool("", &id))),
                    "stores.yaml" => Some("stores.html"),
                    "tools.yaml" => Some("tools.html"),
                    "boat.yaml" => Some("about.html"),
                    "cautions.yaml" => Some("cautions.html"),
                    "meters.csv" => Some("meters.html"),
                    _ => None,
                };
                match list {
                    Some(page) => Some(SiteLink::Page(fragment.map_or_else(|| page.to_owned(), |fragment| format!("{page}#{fragment}")))),
                    None => Some(SiteLink::File(path)),
                }
            }
        }
    }
}

/// Pages of what does not stand on the first page of its list.
fn further<'b>(stem: &str, rows: usize, ids: impl Iterator<Item = &'b str>) -> HashMap<String, String> {
    ids.enumerate().skip(rows).map(|(at, id)| (id.to_owned(), page_of(stem, "", at, rows))).collect()
}

fn place(further: &HashMap<String, String>, root: &str, first: &str, id: &str) -> String {
    [root, further.get(id).map_or(first, String::as_str), "#", id].concat()
}

/// Gear as its page has it: system by system, and last what belongs to none.
fn gear_by_system(book: &Book) -> impl Iterator<Item = &Gear> {
    let systems = book.boat.systems.iter().map(|system| Some(system.id.value.as_str())).chain(std::iter::once(None));
    systems.flat_map(move |id| {
        book.boat.gear.iter().filter(move |gear| {
            let system = gear.system.as_ref().map(|name| name.value.as_str());
            system.filter(|name| book.boat.system(name).is_some()) == id
        })
    })
}

/// Lists of provisions, the first for the days ahead.
fn provisions(book: &Book, names: &mut Names) -> Vec<ProvisionPlan> {
    const FOLDER: &str = "provisions";
    let mut plans = vec![ProvisionPlan { what: PlannedFor::DaysAhead, path: FOLDER.to_owned() }];
    for (at, passage) in book.passages.iter().enumerate() {
        let name = names.unique(FOLDER, &format!("passage-{}", passage.id.value));
        plans.push(ProvisionPlan { what: PlannedFor::Passage(at), path: format!("{FOLDER}/{name}") });
    }
    let called_for: BTreeSet<&str> =
        book.guides.iter().flat_map(|guide| &guide.occasions).map(|occasion| occasion.value.as_str()).collect();
    let own = book.boat.occasions.iter().map(|occasion| occasion.id.value.as_str());
    for id in OCCASIONS.into_iter().chain(own).filter(|id| called_for.contains(id)) {
        let what = PlannedFor::Occasion(id.to_owned());
        if plans.iter().all(|plan| plan.what != what) {
            let name = names.unique(FOLDER, &format!("occasion-{id}"));
            plans.push(ProvisionPlan { what, path: format!("{FOLDER}/{name}") });
        }
    }
    plans
}

/// Where a link of the book leads in the site.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum SiteLink {
    /// A page, counted from the top of the site.
    Page(String),
    /// A file of the book, by its path in the book.
    File(String),
    SamePage(String),
    Web(String),
}

/// Gives out names that differ even where upper and lower case are one.
#[derive(Debug, Default)]
pub struct Names {
    taken: BTreeMap<String, BTreeSet<String>>,
}

impl Names {
    /// A name made from words that nothing else in `place` has.
    pub fn unique(&mut self, place: &str, words: &str) -> String {
        let taken = self.taken.entry(place.to_owned()).or_default();
        let id = id_of(words);
        let mut wanted = if id.is_empty() { "x".to_owned() } else { id };
        if crate::book::id::is_reserved(&wanted) {
            wanted.push_str("-x");
        }
        let name = (1..)
            .map(|n| if n == 1 { wanted.clone() } else { format!("{wanted}--{n}") })
            .find(|name| !taken.contains(name))
            .unwrap_or_default();
        taken.insert(name.clone());
        name
    }
}
