//! What each occasion calls for.

use super::{defects, guides};
use crate::book::model::{Before, OCCASIONS};
use crate::site::press::Press;
use crate::site::view::{OccasionGroup, OccasionsPage};

/// Fills the page of the occasions; one that calls for nothing is left out.
#[must_use]
pub fn occasions(press: &Press<'_>) -> OccasionsPage {
    let own = press.book.boat.occasions.iter().map(|occasion| occasion.id.value.as_str());
    let occasions = OCCASIONS
        .into_iter()
        .chain(own)
        .map(|id| OccasionGroup {
            id: id.to_owned(),
            title: press.occasion_title(id),
            jobs: guides::jobs(press, |job| job.guide.occasions.iter().any(|name| name.value == id), ""),
            jobs_more: None,
            defects_more: None,
            defects: press
                .reckoning
                .defects
                .iter()
                .filter(|defect| matches!(defect.before(), Some(Before::Occasion(name)) if name.value == id))
                .map(|defect| defects::view(press, defect, ""))
                .collect(),
        })
        .filter(|group| !group.jobs.is_empty() || !group.defects.is_empty())
        .collect();
    OccasionsPage { occasions }
}
