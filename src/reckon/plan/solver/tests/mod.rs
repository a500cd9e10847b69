//! The solver against textbooks, the literature, and trying out every order.

mod bad;
mod every_order;
mod literature;
mod textbook;
mod waits;

use super::{Project, Schedule};

/// Every lag is kept, and at no moment is more in use than there is.
#[track_caller]
pub(super) fn check(project: &Project, schedule: &Schedule) {
    let starts = &schedule.starts;
    assert_eq!(starts.len(), project.activities.len());
    for lag in &project.lags {
        assert!(starts[lag.to] >= starts[lag.from] + lag.least, "{lag:?}: {starts:?}");
    }
    // Use rises only where something starts.
    for moment in starts {
        for (resource, capacity) in project.capacities.iter().enumerate() {
            let going = project.activities.iter().zip(starts).filter(|(one, start)| *start <= moment && *moment < **start + one.duration);
            let used: u64 =
                going.flat_map(|(one, _)| &one.needs).filter(|need| need.resource == resource).map(|need| u64::from(need.amount)).sum();
            assert!(used <= u64::from(*capacity), "{used} of {capacity} at {moment}");
        }
    }
    let ends = project.activities.iter().zip(starts).map(|(one, start)| start + one.duration);
    assert_eq!(schedule.makespan, ends.max().unwrap_or(0));
    assert!(schedule.bound <= schedule.makespan);
}
