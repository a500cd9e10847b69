//! State of the boat: the first page.

use super::dates::has_dates;
use super::{defects, due, entry, gear, meters, stores};
use crate::book::model::Grade;
use crate::reckon::State;
use crate::site::feeds::{CALENDAR, FEED};
use crate::site::press::Press;
use crate::site::view::HomePage;

/// Latest entries shown.
const LATEST: usize = 8;
/// Defects to keep an eye on that are shown, behind those to act on.
const WATCHED: usize = 12;
/// Most defects to act on that are shown: the page of the defects has them all.
const ACTED_ON: usize = 40;
/// Gear that expires within so many days is shown.
const EXPIRY_DAYS: i64 = 90;

/// Fills the first page.
#[must_use]
pub fn home(press: &Press<'_>) -> HomePage {
    let reckoning = press.reckoning;
    let jobs = reckoning.by_urgency();
    let rows = |states: &[State]| {
        let told = jobs.iter().filter(|_| press.shows_state());
        told.filter(|job| states.contains(&job.state)).map(|job| due::row(press, job, "")).collect::<Vec<_>>()
    };
    let calm = jobs.iter().filter(|job| press.shows_state() && matches!(job.state, State::Later | State::OnOccasion | State::AsNeeded));
    let unreckoned = calm.clone().filter(|job| job.is_unreckoned()).count();
    let quiet = calm.count() - unreckoned;
    let mut expiring: Vec<_> = reckoning.gear.iter().filter(|state| state.days_left.is_some_and(|days| days <= EXPIRY_DAYS)).collect();
    expiring.sort_by_key(|state| (state.days_left, state.gear.title.as_str()));
    let to_act_on = reckoning.defects.iter().filter(|defect| defect.grade() == Grade::Act).count();
    let shown = if to_act_on > ACTED_ON { ACTED_ON } else { to_act_on + WATCHED };
    HomePage {
        left: due::left(press, ""),
        left_more: None,
        defects: reckoning.defects.iter().take(shown).map(|defect| defects::view(press, defect, "")).collect(),
        defects_more: reckoning.defects.len().saturating_sub(shown),
        late: rows(&[State::Overdue, State::NoRecord, State::Due]),
        late_more: None,
        soon: rows(&[State::Soon]),
        soon_more: None,
        open: reckoning.open.iter().map(|open| due::open_job(press, open, "")).collect(),
        open_more: None,
        quiet,
        unreckoned,
        low_stores: reckoning.stock.iter().filter(|stock| stock.low).map(|stock| stores::row(press, stock, "")).collect(),
        low_stores_more: None,
        expiring: expiring.into_iter().map(|state| gear::row(press, state, "")).collect(),
        expiring_more: None,
        meters: reckoning.meters.iter().map(|meter| meters::now(press, meter)).collect(),
        latest: reckoning.entries.iter().rev().take(LATEST).map(|one| entry::reference(press, one, "")).collect(),
        systems: press.book.boat.systems.iter().map(|system| press.system(&system.id.value, "")).collect(),
        empty_book: press.book.guides.is_empty() && press.book.entries.is_empty(),
        left_out: reckoning.left_out,
        feed: (!reckoning.entries.is_empty()).then(|| FEED.to_owned()),
        calendar: has_dates(press).then(|| CALENDAR.to_owned()),
    }
}
