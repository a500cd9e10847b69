//! Jobs to be reckoned: every guide, for each gear it is for, or once for the boat.
//!
//! Built once, so that entries find the jobs they name (by an old name too) and those that are
//! covered without a search.

use std::collections::{HashMap, HashSet};

use crate::book::model::{Book, Gear, Guide, JobRef};

/// One guide for one gear, or for the boat.
pub(super) struct Slot<'b> {
    pub(super) guide: &'b Guide,
    pub(super) gear: Option<&'b Gear>,
}

/// All slots in the order of the book, with what leads to them.
pub(super) struct Slots<'b> {
    pub(super) slots: Vec<Slot<'b>>,
    book: &'b Book,
    /// Of each guide the first slot; one more at the end.
    starts: Vec<usize>,
    /// Of each guide the guides it covers.
    covers: Vec<Vec<usize>>,
}

impl<'b> Slots<'b> {
    pub(super) fn of(book: &'b Book) -> Self {
        let guides = book.guides.as_slice();
        let gear: HashMap<&str, &Gear> = book.boat.gear.iter().rev().map(|gear| (gear.id.value.as_str(), gear)).collect();
        let mut slots = Vec::with_capacity(guides.len());
        let mut starts = Vec::with_capacity(guides.len() + 1);
        for guide in guides {
            let start = slots.len();
            starts.push(start);
            let mut named: HashSet<&str> = HashSet::new();
            for name in &guide.for_gear {
                let Some(&gear) = gear.get(name.value.as_str()) else {
                    continue;
                };
                if named.insert(&gear.id.value) {
                    slots.push(Slot { guide, gear: Some(gear) });
                }
            }
            // A guide whose gear nobody knows still has to be seen.
            if slots.len() == start {
                slots.push(Slot { guide, gear: None });
            }
        }
        starts.push(slots.len());
        let covers = guides
            .iter()
            .enumerate()
            .map(|(at, guide)| {
                let named = guide.covers.iter();
                named.filter_map(|name| book.guide_position(&name.value)).filter(|covered| *covered != at).collect()
            })
            .collect();
        Self { slots, book, starts, covers }
    }

    /// The guide of an id, present or former.
    pub(super) fn guide(&self, id: &str) -> Option<&'b Guide> {
        self.book.guide_or_former(id)
    }

    /// Where in the book that guide stands.
    pub(super) fn position(&self, id: &str) -> Option<usize> {
        self.book.guide_position(id)
    }

    /// All guides of the book.
    pub(super) fn guides(&self) -> &'b [Guide] {
        &self.book.guides
    }

    /// Calls `found` with every slot that the doing of a job counts for, and with the guide through
    /// which it does where that is not the slot's own.
    pub(super) fn counted_for(&self, job: &JobRef, mut found: impl FnMut(usize, Option<&'b Guide>)) {
        let Some(guide) = self.position(&job.guide) else {
            return;
        };
        let own = self.of_guide(guide);
        let gear = job.gear.as_deref();
        for slot in own.clone() {
            let id = self.gear_id(slot);
            // Without gear of its own a job was done for all that its guide is for.
            if id.is_none() || gear.is_none() || id == gear {
                found(slot, None);
            }
        }
        let through = self.guides().get(guide);
        let covers = self.covers.get(guide).map(Vec::as_slice).unwrap_or_default();
        if covers.is_empty() {
            return;
        }
        let done: HashSet<Option<&str>> = if gear.is_some() { HashSet::from([gear]) } else { own.map(|slot| self.gear_id(slot)).collect() };
        for &covered in covers {
            for slot in self.of_guide(covered) {
                let id = self.gear_id(slot);
                if id.is_none() || done.contains(&id) || (gear.is_none() && done.contains(&None)) {
                    found(slot, through);
                }
            }
        }
    }

    fn of_guide(&self, guide: usize) -> std::ops::Range<usize> {
        let start = self.starts.get(guide).copied().unwrap_or_default();
        let end = self.starts.get(guide + 1).copied().unwrap_or(start);
        start..end
    }

    fn gear_id(&self, slot: usize) -> Option<&'b str> {
        let gear = self.slots.get(slot)?.gear?;
        Some(gear.id.value.as_str())
    }
}
