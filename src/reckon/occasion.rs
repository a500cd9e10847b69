//! What an occasion calls for: its jobs, and what was found and is to be put right before it.

use super::{Defect, JobState, Reckoning, by_urgency};
use crate::book::model::Before;

/// What one occasion calls for.
#[derive(Debug, Clone)]
pub struct ForOccasion<'r, 'b> {
    /// In the order of the book, whatever their state.
    pub jobs: Vec<&'r JobState<'b>>,
    /// Those to act on first, then the oldest first.
    pub defects: Vec<&'r Defect<'b>>,
}

impl<'r, 'b> ForOccasion<'r, 'b> {
    /// Its jobs as a list shows them: by state, then by date, then by title and gear.
    #[must_use]
    pub fn jobs_by_urgency(&self) -> Vec<&'r JobState<'b>> {
        by_urgency(self.jobs.iter().copied())
    }
}

impl<'b> Reckoning<'b> {
    /// What the occasion of this id calls for.
    #[must_use]
    pub fn for_occasion(&self, id: &str) -> ForOccasion<'_, 'b> {
        let jobs = self.jobs.iter().filter(|job| job.guide.is_for_occasion(id)).collect();
        let by_then = |defect: &&Defect<'b>| matches!(defect.before(), Some(Before::Occasion(name)) if name.value == id);
        ForOccasion { jobs, defects: self.defects.iter().filter(by_then).collect() }
    }
}
