//! What many pages ask of the whole reckoning: found when it is first asked for, once for all of them.

use crate::book::model::{Book, Entry};
use crate::reckon::{JobState, Reckoning};
use std::collections::{HashMap, HashSet};
use std::sync::OnceLock;

/// Tables by ids of systems, gear and meters.
#[derive(Debug, Default)]
pub struct Lookups<'b> {
    entries_of_systems: OnceLock<HashMap<&'b str, Vec<&'b Entry>>>,
    jobs_of_gear: OnceLock<HashMap<&'b str, Vec<&'b JobState<'b>>>>,
    defects_of_gear: OnceLock<HashMap<&'b str, usize>>,
    replaced_meters: OnceLock<HashSet<&'b str>>,
}

impl<'b> Lookups<'b> {
    /// Entries that belong to a system, newest first: to that of a job, of gear, or the one that they name.
    pub fn entries_of_system(&self, reckoning: &'b Reckoning<'b>, id: &str) -> &[&'b Entry] {
        let table = self.entries_of_systems.get_or_init(|| {
            let mut table: HashMap<&str, Vec<&Entry>> = HashMap::new();
            for entry in reckoning.entries.iter().rev() {
                for system in systems_of(reckoning.book, entry) {
                    table.entry(system).or_default().push(entry);
                }
            }
            table
        });
        table.get(id).map(Vec::as_slice).unwrap_or_default()
    }

    /// Jobs that are reckoned for a piece of gear.
    pub fn jobs_of_gear(&self, reckoning: &'b Reckoning<'b>, id: &str) -> &[&'b JobState<'b>] {
        let table = self.jobs_of_gear.get_or_init(|| {
            let mut table: HashMap<&str, Vec<&JobState<'b>>> = HashMap::new();
            for job in &reckoning.jobs {
                if let Some(gear) = job.gear {
                    table.entry(&gear.id.value).or_default().push(job);
                }
            }
            table
        });
        table.get(id).map(Vec::as_slice).unwrap_or_default()
    }

    /// How many defects a piece of gear has.
    pub fn defects_of_gear(&self, reckoning: &'b Reckoning<'b>, id: &str) -> usize {
        let table = self.defects_of_gear.get_or_init(|| {
            let mut table: HashMap<&str, usize> = HashMap::new();
            for gear in reckoning.defects.iter().filter_map(|defect| defect.gear()) {
                *table.entry(gear).or_default() += 1;
            }
            table
        });
        table.get(id).copied().unwrap_or_default()
    }

    /// Whether a counter of this meter was replaced by another.
    pub fn was_replaced(&self, reckoning: &'b Reckoning<'b>, meter: &str) -> bool {
        let replaced = self.replaced_meters.get_or_init(|| {
            let replaced = reckoning.meters.iter().filter(|state| state.readings.iter().any(|reading| reading.replaced.is_some()));
            replaced.map(|state| state.meter.id.value.as_str()).collect()
        });
        replaced.contains(meter)
    }
}

/// The systems an entry belongs to, each once.
fn systems_of<'b>(book: &'b Book, entry: &'b Entry) -> Vec<&'b str> {
    let named = entry.system.iter().map(|name| name.value.as_str());
    let of_jobs = entry.jobs.iter().filter_map(|job| book.guide_or_former(&job.guide)).map(|guide| guide.system.as_str());
    let gear = entry.gear.iter().chain(entry.fitted.iter().map(|renewal| &renewal.gear));
    let of_gear = gear.filter_map(|name| book.boat.gear(&name.value)?.system.as_ref()).map(|name| name.value.as_str());
    let mut systems: Vec<&str> = Vec::new();
    for system in named.chain(of_jobs).chain(of_gear) {
        if !systems.contains(&system) {
            systems.push(system);
        }
    }
    systems
}
