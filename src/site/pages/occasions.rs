//! What each occasion calls for.

use super::{defects, guides};
use crate::book::model::OCCASIONS;
use crate::reckon::JobState;
use crate::site::press::Press;
use crate::site::view::{DueRow, OccasionGroup, OccasionsPage};

/// Fills the page of the occasions; one that calls for nothing is left out.
#[must_use]
pub fn occasions(press: &Press<'_>) -> OccasionsPage {
    let own = press.book.boat.occasions.iter().map(|occasion| occasion.id.value.as_str());
    let occasions = OCCASIONS
        .into_iter()
        .chain(own)
        .map(|id| {
            let called = press.reckoning.for_occasion(id);
            OccasionGroup {
                id: id.to_owned(),
                title: press.occasion_title(id),
                jobs: jobs(press, id, called.jobs),
                jobs_more: None,
                defects_more: None,
                defects: called.defects.into_iter().map(|defect| defects::view(press, defect, "")).collect(),
            }
        })
        .filter(|group| !group.jobs.is_empty() || !group.defects.is_empty())
        .collect();
    OccasionsPage { occasions }
}

/// The jobs of an occasion; under its heading only the others that call for them need be said.
fn jobs(press: &Press<'_>, id: &str, jobs: Vec<&JobState<'_>>) -> Vec<DueRow> {
    let mut rows = guides::rows(press, jobs, "");
    let here = press.occasion(id, "").href;
    rows.iter_mut().for_each(|row| row.due.occasions.retain(|occasion| occasion.href != here));
    rows
}
