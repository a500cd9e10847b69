//! How long a guide says its job takes, held against how long it took.
//!
//! Hands-on time counts people's minutes: what its steps take, and the runs that somebody stays with.
//! Waits, rests and unattended runs need nobody. What an entry calls its time may be either: time
//! spent, or time from beginning to end.

use std::collections::BTreeMap;

use super::exact::{over, times, whole};
use super::places::Findings;
use super::plan::{self, Basis, Sums};
use super::times::Times;
use crate::book::model::{Book, Guide};
use crate::quantity::{Exact, minutes_text};

/// With fewer logged times than this nothing is said of an estimate.
const ENOUGH: usize = 3;

/// Tells of estimates that the log does not agree with.
pub(super) fn check(book: &Book, logged: &BTreeMap<&str, Times<'_>>, findings: &mut Findings<'_>) {
    for guide in &book.guides {
        if let Some(times) = logged.get(guide.id.as_str())
            && times.count >= ENOUGH
        {
            compare(guide, times, findings);
        }
    }
}

fn compare(guide: &Guide, logged: &Times<'_>, findings: &mut Findings<'_>) {
    let sums = plan::sums(guide);
    if sums.hands_on <= whole(0) {
        return;
    }
    let Some(accepted) = Accepted::of(&sums, guide.crew) else { return };
    if accepted.holds(&logged.median, || plan::plan(guide, guide.crew).map_or(sums.in_sequence, |plan| plan.elapsed)) {
        return;
    }
    let (said, remedy, span) = match sums.basis {
        Basis::Steps { some_untimed: true } if logged.median > accepted.most => (
            "its steps add up to",
            "give a time to the steps that have none, with `{takes …}`, or correct those that are too short",
            guide.title_span,
        ),
        Basis::Steps { .. } => {
            ("its steps add up to", "correct the times of the steps, or look whether the log counts something else", guide.title_span)
        }
        Basis::FrontMatter => ("this guide says", "correct it, or look whether the log counts something else", guide.time_span),
        Basis::Nothing => return,
    };
    let (said_time, logged_time) = (minutes_text(&sums.hands_on), minutes_text(&logged.median));
    findings.advice(
        "estimate-off",
        guide.source.place(span),
        format!("{said} {said_time}, and according to the log it usually takes {logged_time} (done {} times)", logged.count),
        remedy.to_owned(),
    );
}

/// The times of the log that agree with an estimate: within half of it, whether people's minutes or
/// those from start to end were noted; down to what it comes to when the whole crew works at once;
/// and, where waits were counted in, up to everything one after the other.
struct Accepted {
    most: Exact,
    estimate: Exact,
    half: Exact,
    /// When the whole crew works at once.
    shared: Exact,
}

impl Accepted {
    /// `None`: times too long to reckon with.
    fn of(sums: &Sums, crew: u32) -> Option<Self> {
        let estimate = sums.hands_on;
        let longer = times(&estimate, &Exact::new(3, 2))?;
        Some(Self {
            most: longer.max(sums.in_sequence),
            estimate,
            half: over(&estimate, &whole(2))?,
            shared: over(&estimate, &whole(i64::from(crew.max(1))))?,
        })
    }

    /// Whether a time agrees. `elapsed`, from start to end by the plan, is asked for only where it decides: a plan is
    /// much work.
    fn holds(&self, time: &Exact, elapsed: impl FnOnce() -> Exact) -> bool {
        if *time > self.most {
            return false;
        }
        if *time >= self.half.min(self.shared) {
            return true;
        }
        let elapsed = elapsed();
        elapsed < self.estimate && over(&elapsed, &whole(2)).is_none_or(|half| *time >= half)
    }
}
