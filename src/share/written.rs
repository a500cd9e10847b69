//! The names in which guides were written. A guide that came from another boat keeps its text, and so the names
//! of that boat, whatever they are called here; when it is passed on, all that goes with it bears those names again.

use crate::book::model::{Guide, Received, RuleBy};
use std::collections::btree_map::Entry;
use std::collections::{BTreeMap, BTreeSet};

/// Names of one kind as they stand in texts, each with the one thing here that it is the name of.
#[derive(Debug, Default)]
struct Names(BTreeMap<String, String>);

impl Names {
    /// What a thing here is called in the texts; mostly one name, and its own.
    fn of<'n>(&'n self, ours: &'n str) -> impl Iterator<Item = &'n str> {
        self.0.iter().filter(move |(_, here)| *here == ours).map(|(written, _)| written.as_str())
    }
}

/// Where a guide stood when it was written.
#[derive(Debug)]
struct Place {
    id: String,
    system: String,
}

/// What the guides of one file call things.
#[derive(Debug, Default)]
pub struct Written {
    places: BTreeMap<String, Place>,
    items: Names,
    meters: Names,
    hazards: Names,
    systems: Names,
    /// Guides with a name that another guide of the file has for another thing, by their ids here.
    pub apart: BTreeSet<String>,
}

impl Written {
    /// Gathers the names: first of guides of this boat, then of those that came from others.
    pub fn of(guides: &[Guide]) -> Self {
        let mut written = Self::default();
        let mut ids = Names::default();
        let (own, received): (Vec<&Guide>, Vec<&Guide>) = guides.iter().partition(|guide| guide.received.is_none());
        for guide in own.into_iter().chain(received) {
            let names = guide_names(guide);
            let [items, meters, hazards] = &names;
            let id = hers(guide, |received| &received.guides, &guide.id);
            let system = hers(guide, |received| &received.systems, &guide.system);
            let kinds = [(&written.items, items), (&written.meters, meters), (&written.hazards, hazards)];
            let clashes =
                kinds.iter().any(|(known, new)| new.iter().any(|(name, ours)| known.0.get(name).is_some_and(|other| other != ours)));
            if clashes || ids.0.contains_key(&id) {
                written.apart.insert(guide.id.clone());
                continue;
            }
            let [items, meters, hazards] = names;
            written.items.0.extend(items);
            written.meters.0.extend(meters);
            written.hazards.0.extend(hazards);
            if let Entry::Vacant(free) = written.systems.0.entry(system.clone()) {
                free.insert(guide.system.clone());
            }
            ids.0.insert(id.clone(), guide.id.clone());
            written.places.insert(guide.id.clone(), Place { id, system });
        }
        written
    }

    /// The id and the system of a guide; `None` for one that is apart.
    pub fn place(&self, guide: &str) -> Option<(&str, &str)> {
        self.places.get(guide).map(|place| (place.id.as_str(), place.system.as_str()))
    }

    /// The file of a picture of a guide, as its text leads to it.
    pub fn picture(&self, path: &str) -> Option<String> {
        let parts: Vec<&str> = path.split('/').collect();
        let ["guides", _, guide, rest @ ..] = parts.as_slice() else { return None };
        self.place(guide).map(|(id, system)| format!("guides/{system}/{id}/{}", rest.join("/")))
    }

    pub fn items<'n>(&'n self, ours: &'n str) -> impl Iterator<Item = &'n str> {
        self.items.of(ours)
    }

    pub fn meters<'n>(&'n self, ours: &'n str) -> impl Iterator<Item = &'n str> {
        self.meters.of(ours)
    }

    pub fn hazards<'n>(&'n self, ours: &'n str) -> impl Iterator<Item = &'n str> {
        self.hazards.of(ours)
    }

    pub fn systems<'n>(&'n self, ours: &'n str) -> impl Iterator<Item = &'n str> {
        self.systems.of(ours)
    }
}

/// The parts and tools, meters and hazards of a guide: as they stand in its text, with what they are here.
fn guide_names(guide: &Guide) -> [BTreeMap<String, String>; 3] {
    let items = guide.parts.iter().map(|part| &part.item).chain(&guide.tools).map(|name| name.value.as_str());
    let meters = guide.every.iter().chain(&guide.first).filter_map(|rule| match &rule.by {
        RuleBy::Meter { meter, .. } => Some(meter.as_str()),
        _ => None,
    });
    let hazards = guide.hazards.iter().map(|name| name.value.as_str());
    let pair = |ours: &str, maps: fn(&Received) -> &BTreeMap<String, String>| (hers(guide, maps, ours), ours.to_owned());
    [
        items.map(|ours| pair(ours, |received| &received.items)).collect(),
        meters.map(|ours| pair(ours, |received| &received.meters)).collect(),
        hazards.map(|ours| pair(ours, |received| &received.cautions)).collect(),
    ]
}

/// What the text of a guide calls a thing that is called `ours` here.
fn hers(guide: &Guide, maps: fn(&Received) -> &BTreeMap<String, String>, ours: &str) -> String {
    let mapped = guide.received.as_ref().and_then(|received| maps(received).iter().find(|(_, here)| *here == ours));
    mapped.map_or(ours, |(theirs, _)| theirs).to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::load::guide_of;
    use crate::book::source::Source;

    fn guide(path: &str, more: &str) -> Guide {
        let text = format!("---\ntitle: Oil\nparts: [{{item: filter, qty: 1}}]\nhazards: [ladder]\n{more}---\n");
        guide_of(&Source::new(path, text)).0.expect("a guide")
    }

    fn received(path: &str) -> Guide {
        let maps = "systems: {machinery: engine}, items: {filter: filter-from-tern}, guides: {oil: oil-from-tern}";
        guide(path, &format!("received: {{from: Tern, on: 2026-11-29, {maps}}}\n"))
    }

    #[test]
    fn what_is_passed_on_bears_the_names_of_its_text() {
        let written = Written::of(&[received("guides/engine/oil-from-tern.md")]);
        assert_eq!(written.place("oil-from-tern"), Some(("oil", "machinery")));
        assert_eq!(written.picture("guides/engine/oil-from-tern/a/seat.jpg").as_deref(), Some("guides/machinery/oil/a/seat.jpg"));
        assert_eq!(written.items("filter-from-tern").collect::<Vec<_>>(), ["filter"]);
        assert_eq!(written.items("filter").count(), 0);
        assert_eq!(written.hazards("ladder").collect::<Vec<_>>(), ["ladder"]);
        assert_eq!(written.systems("engine").collect::<Vec<_>>(), ["machinery"]);
    }

    #[test]
    fn a_name_means_one_thing_in_a_file() {
        let own = guide("guides/engine/level.md", "");
        let written = Written::of(&[received("guides/engine/oil-from-tern.md"), own]);
        assert_eq!(written.apart, BTreeSet::from(["oil-from-tern".to_owned()]), "its filter is another than ours");
        assert_eq!(written.items("filter").collect::<Vec<_>>(), ["filter"]);
        assert_eq!(written.picture("guides/engine/oil-from-tern/seat.jpg"), None);
        let same_id = Written::of(&[guide("guides/engine/oil.md", ""), received("guides/engine/oil-from-tern.md")]);
        assert_eq!(same_id.apart.len(), 1);
    }
}
