//! The book that another boat may see: some guides and what they name, and nothing of the boat's own life.

use crate::book::model::{Boat, Book, Gear, Guide, RuleBy, StoreItem, Tool};
use crate::book::public::public;
use std::collections::BTreeSet;

/// What is left of a book. It is made anew from what may be seen, so that whatever a book learns to hold stays
/// behind until somebody puts it here.
pub fn lend(book: &Book, chosen: &BTreeSet<&str>) -> Book {
    let seen = public(book);
    let guides: Vec<Guide> = seen.guides.into_iter().filter(|guide| chosen.contains(guide.id.as_str())).collect();
    let named = Named::of(&guides);
    let boat = seen.boat;
    let boat = Boat {
        name: boat.name,
        kind: boat.kind,
        language: boat.language,
        units: boat.units,
        licence: boat.licence,
        systems: boat.systems.into_iter().filter(|system| named.systems.contains(&system.id.value)).collect(),
        // All of them here: the gear of a guide may count by another one than the guide names.
        meters: boat.meters,
        gear: boat.gear.into_iter().filter(|gear| named.gear.contains(&gear.id.value)).map(gear).collect(),
        occasions: boat.occasions,
        ..Boat::default()
    };
    Book {
        boat,
        stores: seen.stores.into_iter().filter(|item| named.parts.contains(&item.id.value)).map(store).collect(),
        tools: seen.tools.into_iter().filter(|tool| named.tools.contains(&tool.id.value)).map(tool).collect(),
        hazards: seen.hazards,
        sources: guides.iter().map(|guide| (guide.source.shared_path(), guide.source.clone())).collect(),
        guides,
        files: seen.files,
        ..Book::default()
    }
}

fn gear(gear: Gear) -> Gear {
    Gear { expires: None, guide: None, serial: None, fitted: None, note: None, ..gear }
}

fn store(item: StoreItem) -> StoreItem {
    StoreItem {
        id: item.id,
        title: item.title,
        part_number: item.part_number,
        sold_in: item.sold_in,
        also_fits: item.also_fits,
        note: item.note,
        span: item.span,
        ..StoreItem::default()
    }
}

fn tool(tool: Tool) -> Tool {
    Tool { stowed: None, note: None, ..tool }
}

/// What guides name, by id.
#[derive(Debug, Default)]
pub struct Named {
    systems: BTreeSet<String>,
    gear: BTreeSet<String>,
    parts: BTreeSet<String>,
    tools: BTreeSet<String>,
    pub meters: BTreeSet<String>,
    pub hazards: BTreeSet<String>,
}

impl Named {
    pub fn of(guides: &[Guide]) -> Self {
        let mut named = Self::default();
        for guide in guides {
            named.systems.insert(guide.system.clone());
            named.gear.extend(guide.for_gear.iter().map(|name| name.value.clone()));
            named.parts.extend(guide.parts.iter().map(|part| part.item.value.clone()));
            named.tools.extend(guide.tools.iter().map(|name| name.value.clone()));
            named.hazards.extend(guide.hazards.iter().map(|name| name.value.clone()));
            for rule in guide.every.iter().chain(&guide.first) {
                if let RuleBy::Meter { meter, .. } = &rule.by {
                    named.meters.insert(meter.clone());
                }
            }
        }
        named
    }
}
