//! One system: its guides, gear, defects and latest entries.

use super::{defects, entry, gear, guides};
use crate::book::model::{Entry, System};
use crate::site::press::Press;
use crate::site::view::SystemPage;

/// Entries shown on the page of a system.
const ENTRIES: usize = 20;
const ROOT: &str = "../";

/// Fills the page of a system.
#[must_use]
pub fn system(press: &Press<'_>, system: &System) -> SystemPage {
    let id = system.id.value.as_str();
    let entries: Vec<&Entry> = press.reckoning.entries.iter().rev().filter(|entry| belongs(press, entry, id)).copied().collect();
    SystemPage {
        id: id.to_owned(),
        title: system.title.clone(),
        jobs: guides::jobs(press, |job| job.guide.system == id, ROOT),
        jobs_more: None,
        gear_more: None,
        defects_more: None,
        gear: press
            .reckoning
            .gear
            .iter()
            .filter(|state| state.gear.system.as_ref().is_some_and(|name| name.value == id))
            .map(|state| gear::row(press, state, ROOT))
            .collect(),
        defects: press
            .reckoning
            .defects
            .iter()
            .filter(|defect| defects::system_of(press, defect).as_deref() == Some(id))
            .map(|defect| defects::view(press, defect, ROOT))
            .collect(),
        entries_more: entries.len().saturating_sub(ENTRIES),
        entries: entries.into_iter().take(ENTRIES).map(|one| entry::reference(press, one, ROOT)).collect(),
    }
}

/// An entry belongs to the systems of its jobs, of its gear, and the one it names.
fn belongs(press: &Press<'_>, entry: &Entry, system: &str) -> bool {
    entry.system.as_ref().is_some_and(|name| name.value == system)
        || entry.jobs.iter().any(|job| press.book.guide_or_former(&job.guide).is_some_and(|guide| guide.system == system))
        || entry
            .gear
            .iter()
            .chain(entry.fitted.iter().map(|renewal| &renewal.gear))
            .any(|name| press.book.boat.gear(&name.value).and_then(|gear| gear.system.as_ref()).is_some_and(|of| of.value == system))
}
