//! How long a guide says its job takes, held against how long it took.
//!
//! Hands-on time counts people's minutes: what its steps take, and the runs that somebody stays with.
//! Waits, rests and unattended runs need nobody. What an entry calls its time may be either: time
//! spent, or time from beginning to end.

use std::collections::BTreeMap;

use super::exact::{over, plus, times, whole};
use super::places::Findings;
use super::times::Times;
use crate::book::model::{Book, Guide};
use crate::book::outline::MarkKind;
use crate::quantity::{Duration, Exact};

/// With fewer logged times than this nothing is said of an estimate.
const ENOUGH: usize = 3;

/// What the steps of a guide say of its time, in minutes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Estimate {
    /// Person-minutes of the steps and of the runs that somebody stays with.
    pub hands_on: Exact,
    /// Minutes that need nobody.
    pub waits: Exact,
    /// Some step gives no time, so that the sums are the least it takes.
    pub at_least: bool,
}

impl Estimate {
    /// By the marks of the steps; `None` where no step gives a time, or a sum grows too large to
    /// hold.
    #[must_use]
    pub fn of(guide: &Guide) -> Option<Self> {
        let (mut hands_on, mut waits, mut at_least, mut any) = (whole(0), whole(0), false, false);
        for step in guide.outline.stages.iter().flat_map(|stage| &stage.steps) {
            let mut timed = false;
            for mark in &step.marks {
                match &mark.kind {
                    MarkKind::Takes(time) => hands_on = plus(&hands_on, &time.minutes())?,
                    MarkKind::Wait { time, .. } => waits = plus(&waits, &time.minutes())?,
                    MarkKind::Run(run) if run.unattended() => waits = plus(&waits, &run.elapsed_minutes())?,
                    MarkKind::Run(run) => {
                        hands_on = plus(&hands_on, &run.run_minutes())?;
                        waits = plus(&waits, &(run.elapsed_minutes() - run.run_minutes()))?;
                    }
                    _ => continue,
                }
                timed = true;
            }
            any |= timed;
            at_least |= !timed;
        }
        any.then_some(Self { hands_on, waits, at_least })
    }

    /// Minutes for one person who does nothing while waiting.
    #[must_use]
    pub fn in_sequence(&self) -> Option<Exact> {
        plus(&self.hands_on, &self.waits)
    }
}

/// Tells of estimates that are off by more than half.
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
    let steps = Estimate::of(guide).filter(|steps| steps.hands_on > whole(0));
    let stated = guide.time.map(Duration::minutes);
    let Some(estimate) = steps.as_ref().map(|steps| steps.hands_on).or(stated) else { return };
    let in_sequence = steps.as_ref().and_then(Estimate::in_sequence).unwrap_or(estimate);
    let Some((least, most)) = accepted(&estimate, &in_sequence, guide.crew) else { return };
    if (least..=most).contains(&logged.median) {
        return;
    }
    let (said, remedy) = match &steps {
        Some(steps) if steps.at_least && logged.median > most => {
            ("its steps add up to", "give a time to the steps that have none, with `{takes …}`, or correct those that are too short")
        }
        Some(_) => ("its steps add up to", "correct the times of the steps, or look whether the log counts something else"),
        None => ("this guide says", "correct it, or look whether the log counts something else"),
    };
    let span = if steps.is_none() { guide.time_span } else { guide.title_span };
    findings.advice(
        "estimate-off",
        guide.source.place(span),
        format!("{said} {}, and by the log it takes {} (the middle of {} times)", shown(&estimate), shown(&logged.median), logged.count),
        remedy.to_owned(),
    );
}

/// The times of the log that agree with an estimate: within half of it; down to what it comes to when
/// the whole crew works at once; and, where waits were counted in, up to everything one after the
/// other.
fn accepted(estimate: &Exact, in_sequence: &Exact, crew: u32) -> Option<(Exact, Exact)> {
    let half = over(estimate, &whole(2))?;
    let shared = over(estimate, &whole(i64::from(crew.max(1))))?;
    let longer = times(estimate, &Exact::new(3, 2))?;
    Some((half.min(shared), longer.max(*in_sequence)))
}

/// `1 h 45 min`, to a minute.
fn shown(minutes: &Exact) -> String {
    let seconds = i64::try_from(minutes.round().to_integer()).ok().and_then(|minutes| minutes.checked_mul(60));
    seconds.and_then(Duration::from_seconds).map_or_else(String::new, |duration| duration.to_string())
}
