//! Checks the book as a whole: every name leads somewhere, units agree, nothing stays shut.
//!
//! Runs once over the whole book, before any edition is made of it.

mod boat;
mod entry;
mod guide;
mod isolation;
mod near;
mod paths;

use super::diagnostic::{Diagnostic, Notes, offered};
use super::id::{id_of, looks_like_id};
use super::model::{Amount, Book, Entry, Guide, OCCASIONS, PartUse};
use super::source::{Name, Source, Span};
use crate::quantity::{Quantity, Unit};
use near::{Kind, Near};
use rayon::prelude::*;
use std::collections::{BTreeMap, BTreeSet, HashSet};

pub use entry::paths_of_paper;
pub use paths::{PICTURES, Target, resolve};

/// All ids of the book, for looking names up.
pub(super) struct Index<'b> {
    pub book: &'b Book,
    /// Files of which nothing could be used.
    broken: &'b BTreeSet<String>,
    /// Of those that are guides or entries the folder and the name, as it is written and as an id.
    broken_texts: HashSet<(&'static str, String)>,
    systems: BTreeSet<&'b str>,
    pub meters: BTreeMap<&'b str, Unit>,
    gear: BTreeSet<&'b str>,
    /// Ids that guides have or had.
    guides: BTreeSet<&'b str>,
    occasions: BTreeSet<&'b str>,
    hazards: BTreeSet<&'b str>,
    /// With what they are reckoned in.
    pub stores: BTreeMap<&'b str, StoreUnit>,
    tools: BTreeSet<&'b str>,
    handed: isolation::Handed,
    /// With the number of its findings.
    pub entries: BTreeMap<&'b str, usize>,
    near: Near<'b>,
}

/// What a store item is reckoned in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum StoreUnit {
    Unknown,
    Pieces,
    Measured(Unit),
}

impl<'b> Index<'b> {
    fn new(book: &'b Book, broken: &'b BTreeSet<String>) -> Self {
        let ids = |guide: &'b Guide| std::iter::once(guide.id.as_str()).chain(guide.formerly.iter().map(|name| name.value.as_str()));
        Self {
            book,
            broken,
            broken_texts: broken.iter().flat_map(|path| names_of_broken(path)).collect(),
            systems: book.boat.systems.iter().map(|system| system.id.value.as_str()).collect(),
            meters: book.boat.meters.iter().map(|meter| (meter.id.value.as_str(), meter.unit)).collect(),
            gear: book.boat.gear.iter().map(|gear| gear.id.value.as_str()).collect(),
            guides: book.guides.iter().flat_map(ids).collect(),
            occasions: OCCASIONS.into_iter().chain(book.boat.occasions.iter().map(|occasion| occasion.id.value.as_str())).collect(),
            hazards: book.hazards.iter().map(|hazard| hazard.id.as_str()).collect(),
            stores: book.stores.iter().map(|item| (item.id.value.as_str(), store_unit(item))).collect(),
            tools: book.tools.iter().map(|tool| tool.id.value.as_str()).collect(),
            handed: isolation::Handed::new(book),
            entries: book.entries.iter().map(|entry| (entry.id.as_str(), entry.findings.len())).collect(),
            near: Near::default(),
        }
    }

    /// The known name nearest to one that leads nowhere.
    fn near(&self, notes: &Notes<'_>, span: Span, kind: Kind, typed: &str) -> Option<&'b str> {
        self.near.to(notes, span, kind, typed)
    }

    /// All names of a kind.
    fn names(&self, kind: Kind) -> Box<dyn Iterator<Item = &'b str> + '_> {
        let files = || self.book.files.keys().map(String::as_str);
        match kind {
            Kind::System => Box::new(self.systems.iter().copied()),
            Kind::Meter => Box::new(self.meters.keys().copied()),
            Kind::Gear => Box::new(self.gear.iter().copied()),
            Kind::Job => Box::new(self.guides.iter().copied()),
            Kind::Occasion => Box::new(self.occasions.iter().copied()),
            Kind::Hazard => Box::new(self.hazards.iter().copied()),
            Kind::Store => Box::new(self.stores.keys().copied()),
            Kind::Tool => Box::new(self.tools.iter().copied()),
            Kind::Entry => Box::new(self.entries.keys().copied()),
            Kind::Picture => Box::new(files()),
            Kind::File => Box::new(self.book.sources.keys().map(|path| &**path).chain(files())),
        }
    }

    /// A remedy for a name that leads nowhere: the nearest there is, else what there is.
    fn offer(&self, notes: &Notes<'_>, name: &Name, kind: Kind, otherwise: &str) -> String {
        offered(self.near(notes, name.span, kind, &name.value), self.names(kind), otherwise)
    }

    /// The guide of this id or formerly of it.
    pub fn guide(&self, id: &str) -> Option<&'b Guide> {
        self.book.guide_or_former(id)
    }

    /// Nothing of this file could be used, so what it would have named is not missed.
    fn is_broken(&self, path: &str) -> bool {
        self.broken.contains(path)
    }

    /// A guide or entry of this id is there, but nothing of it could be used.
    fn is_broken_text(&self, folder: &'static str, id: &str) -> bool {
        !self.broken_texts.is_empty() && self.broken_texts.contains(&(folder, id.to_owned()))
    }

    pub fn system(&self, notes: &mut Notes<'_>, name: &Name) {
        if !self.systems.contains(name.value.as_str()) && !self.is_broken("boat.yaml") {
            let remedy = self.offer(notes, name, Kind::System, &add_to("systems", &name.value));
            notes.error("unknown-system", name.span, format!("there is no system `{}`", name.value), remedy);
        }
    }

    pub fn meter(&self, notes: &mut Notes<'_>, name: &Name) -> Option<Unit> {
        let unit = self.meters.get(name.value.as_str()).copied();
        if unit.is_none() && !self.is_broken("boat.yaml") {
            let remedy = self.offer(notes, name, Kind::Meter, &add_to("meters", &name.value));
            notes.error("unknown-meter", name.span, format!("there is no meter `{}`", name.value), remedy);
        }
        unit
    }

    /// Whether there is such gear; also says so.
    pub fn gear(&self, notes: &mut Notes<'_>, name: &Name) -> bool {
        let known = self.gear.contains(name.value.as_str());
        if !known && !self.is_broken("boat.yaml") {
            let remedy = self.offer(notes, name, Kind::Gear, &add_to("gear", &name.value));
            notes.error("unknown-gear", name.span, format!("there is no gear `{}`", name.value), remedy);
        }
        known
    }

    pub fn job(&self, notes: &mut Notes<'_>, name: &Name) -> Option<&'b Guide> {
        let guide = self.guide(&name.value);
        if guide.is_none() && !self.is_broken_text("guides/", &name.value) {
            let otherwise =
                format!("write the name of a guide's file without `.md`; if it was renamed, write `formerly: [{}]` into it", name.value);
            let remedy = self.offer(notes, name, Kind::Job, &otherwise);
            notes.error("unknown-job", name.span, format!("there is no guide `{}`", name.value), remedy);
        }
        guide
    }

    pub fn occasion(&self, notes: &mut Notes<'_>, name: &Name) {
        if !self.occasions.contains(name.value.as_str()) && !self.is_broken("boat.yaml") {
            let remedy = self.offer(notes, name, Kind::Occasion, &add_to("occasions", &name.value));
            notes.error("unknown-occasion", name.span, format!("there is no occasion `{}`", name.value), remedy);
        }
    }

    pub fn hazard(&self, notes: &mut Notes<'_>, name: &Name) {
        if !self.hazards.contains(name.value.as_str()) && !self.is_broken("cautions.yaml") {
            let remedy = self.offer(
                notes,
                name,
                Kind::Hazard,
                "use one of the hazards of the format reference, or write your own into `cautions.yaml`",
            );
            notes.error("unknown-hazard", name.span, format!("there is no hazard `{}`", name.value), remedy);
        }
    }

    /// A part of a guide: an id of the stores, or plain words.
    pub fn part(&self, notes: &mut Notes<'_>, part: &PartUse) {
        self.part_name(notes, &part.item);
        if let Some(unit) = self.stores.get(part.item.value.as_str())
            && !part.unclear
        {
            units_agree(notes, &part.item, *unit, part.amount.as_ref());
        }
    }

    /// A part by its name alone.
    pub fn part_name(&self, notes: &mut Notes<'_>, name: &Name) {
        match self.stores.get(name.value.as_str()) {
            None if !self.is_broken("stores.yaml") => {
                self.unknown_word(notes, name, Kind::Store, "unknown-part", "part", "stores.yaml");
            }
            _ => {}
        }
    }

    /// A tool: an id of the tools, or plain words.
    pub fn tool(&self, notes: &mut Notes<'_>, name: &Name) {
        if !self.tools.contains(name.value.as_str()) && !self.is_broken("tools.yaml") {
            self.unknown_word(notes, name, Kind::Tool, "unknown-tool", "tool", "tools.yaml");
        }
    }

    /// Whether the stores or the tools have something of this id.
    pub fn aboard(&self, id: &str) -> bool {
        self.stores.contains_key(id) || self.tools.contains(id)
    }

    /// Plain words are fine; a word that looks like an id nobody knows is probably mistyped.
    fn unknown_word(&self, notes: &mut Notes<'_>, name: &Name, kind: Kind, rule: &'static str, what: &str, file: &str) {
        let word = name.value.as_str();
        let with_hyphen = looks_like_id(word) && word.contains('-');
        if !with_hyphen && id_of(word) != word {
            return;
        }
        let near = self.near(notes, name.span, kind, word);
        // One plain word may be a name or an id: only a hyphen, or a near id, tells.
        if with_hyphen || near.is_some() {
            let remedy = near.map_or_else(
                || format!("add it to `{file}`, or write it in plain words"),
                |near| format!("did you mean `{near}`? else add it to `{file}`, or write it in plain words"),
            );
            notes.warning(rule, name.span, format!("there is no {what} `{word}` in `{file}`"), remedy);
        }
    }
}

/// The folder and the names of a guide or an entry of which nothing could be used.
fn names_of_broken(path: &str) -> impl Iterator<Item = (&'static str, String)> {
    let folder = ["guides/", "log/"].into_iter().find(|folder| path.starts_with(folder));
    let stem = path.rsplit('/').next().and_then(|file| file.strip_suffix(".md"));
    folder.zip(stem).into_iter().flat_map(|(folder, stem)| [(folder, stem.to_owned()), (folder, id_of(stem))])
}

/// How a name that leads nowhere becomes an id of a list in `boat.yaml`; not every name can be one.
fn add_to(list: &str, name: &str) -> String {
    match id_of(name) {
        _ if looks_like_id(name) => format!("add it to `{list}` in `boat.yaml`"),
        id if id.is_empty() => format!("write an id of small letters, digits and hyphens, and add that to `{list}` in `boat.yaml`"),
        id => format!("write it as an id, `{id}`, and add that to `{list}` in `boat.yaml`"),
    }
}

fn store_unit(item: &super::model::StoreItem) -> StoreUnit {
    match item.reckoned_as(item.counted.as_ref()) {
        Some(Amount::Pieces(_)) => StoreUnit::Pieces,
        Some(Amount::Measured(quantity)) => StoreUnit::Measured(quantity.unit()),
        None => StoreUnit::Unknown,
    }
}

fn units_agree(notes: &mut Notes<'_>, name: &Name, unit: StoreUnit, amount: Option<&Amount>) {
    let disagree = match (unit, amount) {
        (StoreUnit::Measured(store), Some(Amount::Measured(quantity))) => store.dimension() != quantity.unit().dimension(),
        (StoreUnit::Measured(_), Some(Amount::Pieces(_)) | None) | (StoreUnit::Pieces, Some(Amount::Measured(_))) => true,
        _ => false,
    };
    if disagree {
        let counted = match unit {
            StoreUnit::Measured(unit) => format!("in {}", unit.symbol()),
            _ => "by the piece".to_owned(),
        };
        notes.warning(
            "units-disagree",
            name.span,
            format!("`{}` is counted {counted} in `stores.yaml`, and not here", name.value),
            "give `qty` in the same kind of unit as the stores, or it cannot be reckoned with",
        );
    }
}

/// What was read of files with an error and is no part of the book. Its names are looked up all the same, so that all
/// problems are told in one run.
#[derive(Debug, Default)]
pub(super) struct Aside {
    /// Up to a syntax error.
    pub guides: Vec<Guide>,
    /// Up to a syntax error.
    pub entries: Vec<Entry>,
    /// Of passages without a day.
    pub passage_meters: Vec<(Name, Quantity)>,
}

impl Aside {
    /// Problems of the names alone: what else is said of half a text may be for want of the other half.
    fn of_names(problems: Vec<Diagnostic>) -> impl Iterator<Item = Diagnostic> {
        problems.into_iter().filter(|problem| problem.rule.starts_with("unknown-"))
    }
}

/// Checks everything that one file alone cannot tell. What `broken` files would have named is not
/// told as missing: the one error is the file itself.
#[must_use]
pub fn check(book: &Book, broken: &BTreeSet<String>) -> Vec<Diagnostic> {
    check_with(book, broken, &Aside::default())
}

/// As [`check`], and the names in what is no part of the book.
#[must_use]
pub(super) fn check_with(book: &Book, broken: &BTreeSet<String>, aside: &Aside) -> Vec<Diagnostic> {
    let index = Index::new(book, broken);
    let mut problems = boat::check(&index, aside);
    let mut guides: Vec<Vec<Diagnostic>> = book.guides.par_iter().map(|guide| guide::check(&index, guide)).collect();
    let mut entries: Vec<Vec<Diagnostic>> = book.entries.par_iter().map(|entry| entry::check(&index, entry)).collect();
    let half = || {
        let guides = aside.guides.iter().flat_map(|guide| Aside::of_names(guide::check(&index, guide)));
        guides.chain(aside.entries.iter().flat_map(|entry| Aside::of_names(entry::check(&index, entry)))).collect()
    };
    let mut halves: Vec<Diagnostic> = half();
    let again = index.near.look_up(|kind| index.names(kind), near::MOST_WORK);
    if again.iter().any(|path| !path.starts_with("guides/") && !path.starts_with("log/")) {
        problems = boat::check(&index, aside);
    }
    if !again.is_empty() {
        let mine = guides.par_iter_mut().zip(&book.guides).filter(|(_, guide)| again.contains(guide.source.path()));
        mine.for_each(|(problems, guide)| *problems = guide::check(&index, guide));
        let mine = entries.par_iter_mut().zip(&book.entries).filter(|(_, entry)| again.contains(entry.source.path()));
        mine.for_each(|(problems, entry)| *problems = entry::check(&index, entry));
        halves = half();
    }
    problems.extend(guides.into_iter().chain(entries).flatten());
    problems.extend(halves);
    problems
}

fn source_of<'b>(index: &Index<'b>, path: &str) -> Option<&'b Source> {
    index.book.sources.get(path)
}
