//! Gear with its expiry dates, its jobs and its defects.

use super::due;
use crate::reckon::GearState;
use crate::site::press::Press;
use crate::site::view::{GearGroup, GearPage, GearRow, Link};

/// Fills the page of the gear.
#[must_use]
pub fn gear(press: &Press<'_>) -> GearPage {
    let states = &press.reckoning.gear;
    let mut dated: Vec<&GearState<'_>> = states.iter().filter(|state| state.expires.is_some()).collect();
    dated.sort_by_key(|state| (state.expires, state.gear.title.as_str()));
    let systems = press.book.boat.systems.iter().map(|system| (Some(system.id.value.as_str()), system.title.clone()));
    let none = std::iter::once((None, press.words.text("gear.no-system")));
    let known = |id: &str| press.book.boat.system(id).is_some();
    let groups = systems
        .chain(none)
        .map(|(id, title)| GearGroup {
            title,
            gear: states
                .iter()
                .filter(|state| state.gear.system.as_ref().map(|name| name.value.as_str()).filter(|name| known(name)) == id)
                .map(|state| row(press, state, ""))
                .collect(),
        })
        .filter(|group| !group.gear.is_empty())
        .collect();
    GearPage { dated: dated.into_iter().map(|state| row(press, state, "")).collect(), dated_more: None, groups, groups_more: None }
}

/// A piece of gear.
pub(super) fn row(press: &Press<'_>, state: &GearState<'_>, root: &str) -> GearRow {
    let gear = state.gear;
    let id = gear.id.value.as_str();
    let jobs = press.lookups.jobs_of_gear(press.reckoning, id).iter();
    GearRow {
        id: id.to_owned(),
        title: gear.title.clone(),
        href: press.map.gear(root, id),
        system: gear.system.as_ref().map(|name| press.system(&name.value, root)),
        expires: state.expires.as_ref().map(|month| press.month(month)),
        expired: state.expired(),
        days: state.days_left,
        days_text: state.days_left.map(|days| press.days_text(days)),
        fitted: state.fitted.as_ref().map(|date| press.book_date(date)),
        renewed: state.renewals.first().map(|entry| press.entry(entry, root)),
        meter: gear
            .meter
            .as_ref()
            .map(|name| Link { text: press.counted_by(&name.value), href: format!("{root}meters.html#{}", name.value) }),
        guide: gear.guide.as_ref().and_then(|name| press.guide_by_id(&name.value, root)),
        serial: state.serial.map(str::to_owned),
        note: gear.note.clone(),
        jobs: jobs.map(|job| due::row(press, job, root)).collect(),
        jobs_more: None,
        defects: press.lookups.defects_of_gear(press.reckoning, id),
    }
}
