//! What many pages ask of the whole reckoning: found when it is first asked for, once for all of them.

use crate::book::model::Entry;
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
                for system in reckoning.book.systems_of(entry) {
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::load::load;
    use crate::reckon::reckon;
    use jiff::civil::date;

    const BOAT: &str = "name: Test boat\nin-service: 2015-01-01\n\
        systems: [{id: engine, title: Engine}, {id: rig, title: Rig}, {id: safety, title: Safety}]\n\
        meters: [{id: hours, title: Engine hours, unit: h}]\n\
        gear: [{id: port, title: Port engine, system: engine}, {id: raft, title: Raft, system: safety}, {id: tin, title: Tin}]\n";

    const FILES: [(&str, &str); 9] = [
        ("boat.yaml", BOAT),
        ("meters.csv", "date,meter,value,replaced\n2025-02-01,hours,900,\n2025-02-02,hours,900,0\n"),
        ("guides/engine/oil.md", "---\ntitle: Oil\nfor: [port]\n---\n1. Drain it.\n"),
        ("guides/rig/look.md", "---\ntitle: Look\n---\n1. Look.\n"),
        // By its job and by its gear, which are of one system: once.
        ("log/2025-03-01-oil.md", "---\njobs: [oil/port]\ndate: 2025-03-01\n---\n"),
        ("log/2025-04-01-look.md", "---\njobs: [look]\nsystem: engine\ndate: 2025-04-01\n---\n"),
        ("log/2025-05-01-raft.md", "---\nwork: [Sent it away]\ngear: [raft, tin]\ndate: 2025-05-01\n---\n"),
        (
            "log/2025-06-01-found.md",
            "---\nwork: [Looked]\ngear: [port]\ndate: 2025-06-01\nfindings:\n  - {what: a weep, grade: act, gear: port}\n\
             \x20 - {what: a rub, grade: watch, gear: port}\n  - {what: sound, grade: good, gear: port}\n---\n",
        ),
        ("log/2025-07-01-fitted.md", "---\nwork: [Fitted]\nfitted: [{gear: raft, expires: 2028-07}]\ndate: 2025-07-01\n---\n"),
    ];

    fn asked<T>(what: impl FnOnce(&Reckoning<'_>) -> T) -> T {
        let folder = tempfile::tempdir().expect("a folder");
        for (path, text) in FILES {
            let path = folder.path().join(path);
            std::fs::create_dir_all(path.parent().expect("a folder")).expect("folders");
            std::fs::write(path, text).expect("a file");
        }
        let loaded = load(folder.path()).expect("a book");
        assert_eq!(loaded.problems, []);
        what(&reckon(&loaded.book, date(2025, 12, 31)).0)
    }

    #[track_caller]
    fn case(system: &str, expected: &[&str]) {
        let found = asked(|reckoning| {
            let lookups = Lookups::default();
            let ids = lookups.entries_of_system(reckoning, system).iter().map(|entry| entry.id.clone());
            ids.collect::<Vec<_>>()
        });
        assert_eq!(found, expected);
    }

    #[test]
    fn an_entry_belongs_to_the_systems_of_its_jobs_and_gear_and_to_its_own_the_latest_first() {
        case("engine", &["2025-06-01-found", "2025-04-01-look", "2025-03-01-oil"]);
        case("rig", &["2025-04-01-look"]);
        case("safety", &["2025-07-01-fitted", "2025-05-01-raft"]);
        case("galley", &[]);
    }

    #[test]
    fn jobs_and_defects_are_those_of_the_gear_and_a_counter_is_known_to_be_another() {
        asked(|reckoning| {
            let lookups = Lookups::default();
            let jobs = |gear: &str| lookups.jobs_of_gear(reckoning, gear).iter().map(|job| job.guide.id.as_str()).collect::<Vec<_>>();
            assert_eq!((jobs("port"), jobs("raft")), (vec!["oil"], vec![]));
            assert_eq!(lookups.defects_of_gear(reckoning, "port"), 2, "what is good is no defect");
            assert_eq!(lookups.defects_of_gear(reckoning, "raft"), 0);
            assert!(lookups.was_replaced(reckoning, "hours"));
            assert!(!lookups.was_replaced(reckoning, "miles"));
        });
    }
}
