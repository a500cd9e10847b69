//! The book once it has been read: plain values, each name with the place where it was written.
//!
//! Ids are checked by `check`, not here: a [`Name`] may lead nowhere until the book has been
//! checked, and whoever looks one up says what happens then.

mod boat;
mod entry;
mod entry_parts;
mod guide;
mod guide_figures;
mod guide_rule;
mod hazard;
mod passage;
mod stores;

pub use boat::*;
pub use entry::*;
pub use entry_parts::*;
pub use guide::*;
pub use guide_figures::*;
pub use guide_rule::*;
pub use hazard::*;
pub use passage::*;
pub use stores::*;

use crate::book::by_id::{ByFormerId, ById};
use crate::book::public::Withheld;
use crate::book::source::Source;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// Everything the crew wrote. Guides and entries are sorted by id.
#[derive(Debug, Default)]
pub struct Book {
    pub boat: Boat,
    pub stores: Vec<StoreItem>,
    pub tools: Vec<Tool>,
    pub passages: Vec<Passage>,
    /// Hazards that ship, then those of `cautions.yaml`.
    pub hazards: Vec<Hazard>,
    /// Rows of `meters.csv`.
    pub readings: Vec<MeterRow>,
    pub guides: Vec<Guide>,
    pub entries: Vec<Entry>,
    /// Other files of the book (pictures, papers): path in the book to size in bytes.
    pub files: BTreeMap<String, u64>,
    pub guides_by_id: ById,
    pub guides_by_former_id: ByFormerId,
    pub stores_by_id: ById,
    pub tools_by_id: ById,
    /// What a public edition leaves out, as it was known when guides and entries were read.
    pub withheld: Withheld,
    /// Files that have errors, as far as reading the book tells: in each a slip may stand where something was to be
    /// kept private.
    pub faulty: BTreeSet<String>,
    /// Sources by path, for whoever must point at a place later.
    pub sources: BTreeMap<Arc<str>, Source>,
}

impl Book {
    /// Whether `boat.yaml`, which says what the boat keeps private, can be relied upon.
    #[must_use]
    pub fn says_what_is_private(&self) -> bool {
        !self.faulty.contains("boat.yaml")
    }

    /// The guide with this id.
    #[must_use]
    pub fn guide(&self, id: &str) -> Option<&Guide> {
        self.guides_by_id.find_sorted(&self.guides, id, |guide| &guide.id)
    }

    /// The guide with this id or formerly with it.
    #[must_use]
    pub fn guide_or_former(&self, id: &str) -> Option<&Guide> {
        self.guide_position(id).and_then(|at| self.guides.get(at))
    }

    /// Where among the guides the one with this id, or formerly with it, stands.
    #[must_use]
    pub fn guide_position(&self, id: &str) -> Option<usize> {
        let present = self.guides_by_id.position_sorted(&self.guides, id, |guide| &guide.id);
        present.or_else(|| self.guides_by_former_id.position(&self.guides, id))
    }

    /// The guide that had this id before it was renamed.
    #[must_use]
    pub fn guide_formerly(&self, id: &str) -> Option<&Guide> {
        self.guides_by_former_id.position(&self.guides, id).and_then(|at| self.guides.get(at))
    }

    /// The entry with this id.
    #[must_use]
    pub fn entry(&self, id: &str) -> Option<&Entry> {
        self.entries.binary_search_by(|entry| entry.id.as_str().cmp(id)).ok().and_then(|at| self.entries.get(at))
    }

    /// The store item with this id.
    #[must_use]
    pub fn store(&self, id: &str) -> Option<&StoreItem> {
        self.stores_by_id.find(&self.stores, id, |item| &item.id.value)
    }

    /// The tool with this id.
    #[must_use]
    pub fn tool(&self, id: &str) -> Option<&Tool> {
        self.tools_by_id.find(&self.tools, id, |tool| &tool.id.value)
    }

    /// The system of a piece of gear.
    #[must_use]
    pub fn system_of_gear(&self, gear: &str) -> Option<&str> {
        self.boat.gear(gear)?.system.as_ref().map(|name| name.value.as_str())
    }

    /// The systems that an entry belongs to, each once: those of its jobs, the one it names, and those of gear it worked on
    /// or renewed, in that order.
    #[must_use]
    pub fn systems_of<'b>(&'b self, entry: &'b Entry) -> Vec<&'b str> {
        let jobs = entry.jobs.iter().filter_map(|job| self.guide_or_former(&job.guide)).map(|guide| guide.system.as_str());
        let named = entry.system.iter().map(|name| name.value.as_str());
        let gear = entry.gear_touched().filter_map(|name| self.system_of_gear(&name.value));
        let mut systems = Vec::new();
        for system in jobs.chain(named).chain(gear) {
            if !systems.contains(&system) {
                systems.push(system);
            }
        }
        systems
    }

    /// The hazard with this id.
    #[must_use]
    pub fn hazard(&self, id: &str) -> Option<&Hazard> {
        self.hazards.iter().find(|hazard| hazard.id == id)
    }
}
