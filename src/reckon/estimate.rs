//! How long a guide says its job takes, held against how long it took.
//!
//! Hands-on time counts people's minutes: what its steps take, and the runs that somebody stays with.
//! Waits, rests and unattended runs need nobody. What an entry calls its time may be either: time
//! spent, or time from beginning to end.

use std::collections::BTreeMap;

use super::exact::{over, times, whole};
use super::places::Findings;
use super::plan::{self, Basis};
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
    let elapsed = plan::plan(guide, guide.crew).map_or(sums.in_sequence, |plan| plan.elapsed);
    let Some((least, most)) = accepted(&sums.hands_on, &elapsed, &sums.in_sequence, guide.crew) else { return };
    if (least..=most).contains(&logged.median) {
        return;
    }
    let (said, remedy, span) = match sums.basis {
        Basis::Steps { some_untimed: true } if logged.median > most => (
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
        format!("{said} {said_time}, and by the log it takes {logged_time} (the middle of {} times)", logged.count),
        remedy.to_owned(),
    );
}

/// The times of the log that agree with an estimate: within half of it, whether people's minutes or
/// those from start to end were noted; down to what it comes to when the whole crew works at once;
/// and, where waits were counted in, up to everything one after the other.
fn accepted(estimate: &Exact, elapsed: &Exact, in_sequence: &Exact, crew: u32) -> Option<(Exact, Exact)> {
    let half = over(estimate.min(elapsed), &whole(2))?;
    let shared = over(estimate, &whole(i64::from(crew.max(1))))?;
    let longer = times(estimate, &Exact::new(3, 2))?;
    Some((half.min(shared), longer.max(*in_sequence)))
}
