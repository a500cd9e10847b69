//! One system: its guides, gear, defects and latest entries.

use super::{defects, entry, gear, guides};
use crate::book::model::System;
use crate::site::press::Press;
use crate::site::view::SystemPage;

/// Entries shown on the page of a system.
const ENTRIES: usize = 20;
const ROOT: &str = "../";

/// Fills the page of a system.
#[must_use]
pub fn system(press: &Press<'_>, system: &System) -> SystemPage {
    let id = system.id.value.as_str();
    let entries = press.lookups.entries_of_system(press.reckoning, id);
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
        entries: entries.iter().take(ENTRIES).map(|one| entry::reference(press, one, ROOT)).collect(),
    }
}
