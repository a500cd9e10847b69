//! All guides, by system.

use super::due;
use crate::reckon::JobState;
use crate::site::Edition;
use crate::site::press::Press;
use crate::site::view::{GuidesPage, SystemGroup};

/// Fills the page of all guides.
#[must_use]
pub fn guides(press: &Press<'_>) -> GuidesPage {
    let mut systems: Vec<&str> = press.book.boat.systems.iter().map(|system| system.id.value.as_str()).collect();
    // A folder that `boat.yaml` does not know comes last; its guides are not lost.
    for guide in &press.book.guides {
        if !systems.contains(&guide.system.as_str()) {
            systems.push(&guide.system);
        }
    }
    let groups = systems
        .into_iter()
        .map(|id| SystemGroup {
            id: id.to_owned(),
            system: press.system(id, ""),
            jobs: jobs(press, |job| job.guide.system == id, ""),
            jobs_more: None,
        })
        .filter(|group| !group.jobs.is_empty())
        .collect();
    let left = due::left(press, "");
    GuidesPage { left, left_more: None, groups, total: press.book.guides.len() }
}

/// Jobs that match, by title and gear.
pub(super) fn jobs(press: &Press<'_>, wanted: impl Fn(&JobState<'_>) -> bool, root: &str) -> Vec<crate::site::view::DueRow> {
    rows(press, press.reckoning.jobs.iter().filter(|job| wanted(job)).collect(), root)
}

/// Some jobs, by title and gear.
pub(super) fn rows(press: &Press<'_>, mut jobs: Vec<&JobState<'_>>, root: &str) -> Vec<crate::site::view::DueRow> {
    jobs.sort_by(|a, b| (&a.guide.title, &a.guide.id).cmp(&(&b.guide.title, &b.guide.id)));
    if press.edition == Edition::Shared {
        // What gear this boat has is nobody's business: a guide is a line.
        jobs.dedup_by_key(|job| &job.guide.id);
    }
    jobs.into_iter().map(|job| due::row(press, job, root)).collect()
}
