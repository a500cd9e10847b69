//! How long a set of jobs takes at least on one resource, if it could be shared out like a fluid.
//!
//! With one of the resource this is the preemptive schedule of J. R. Jackson (1955), as J. Carlier uses
//! it, "The one-machine sequencing problem" (1982): always go on with the job of the longest tail. With
//! several, each job may use all of them at once, which is never slower than what is allowed.

use std::collections::BinaryHeap;

/// Work that cannot begin before its head, and after which its tail still follows.
#[derive(Debug, Clone, Copy)]
pub(super) struct Job {
    pub head: i64,
    /// Time by what is needed of the resource.
    pub work: i64,
    /// May be below nothing.
    pub tail: i64,
}

/// Room for the reckoning, used again and again.
#[derive(Debug, Default)]
pub(super) struct Fluid {
    jobs: Vec<Job>,
    ready: BinaryHeap<(i64, i64)>,
}

impl Fluid {
    /// The earliest end of all jobs with their tails. Below everything: there is no job.
    pub(super) fn bound(&mut self, capacity: i64, jobs: impl Iterator<Item = Job>) -> i64 {
        self.jobs.clear();
        self.jobs.extend(jobs.filter(|job| job.work > 0).map(|job| Job {
            head: job.head * capacity,
            work: job.work,
            tail: job.tail * capacity,
        }));
        if self.jobs.is_empty() {
            return i64::MIN;
        }
        self.jobs.sort_unstable_by_key(|job| job.head);
        self.ready.clear();
        let (mut now, mut next, mut end) = (i64::MIN, 0, i64::MIN);
        loop {
            if self.ready.is_empty() {
                match self.jobs.get(next) {
                    Some(job) => now = now.max(job.head),
                    None => break,
                }
            }
            while let Some(job) = self.jobs.get(next)
                && job.head <= now
            {
                self.ready.push((job.tail, job.work));
                next += 1;
            }
            let Some((tail, work)) = self.ready.pop() else { continue };
            let room = self.jobs.get(next).map_or(work, |job| job.head - now);
            now += work.min(room);
            if work > room {
                self.ready.push((tail, work - room));
            } else {
                end = end.max(now + tail);
            }
        }
        // Whole units of time, rounded up; the end may lie below nothing.
        end.div_euclid(capacity) + i64::from(end.rem_euclid(capacity) > 0)
    }
}
