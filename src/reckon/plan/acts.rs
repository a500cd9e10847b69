//! A guide's steps as acts: each mark of time is one, in the order written.

use super::TaskKind;
use crate::book::model::Guide;
use crate::book::outline::{MarkKind, Step};
use crate::quantity::{DutyCycle, Exact};
use crate::reckon::exact::{minus, over, whole};

/// Acts beyond which a run is taken as one, its rests included: no guide has so many.
pub(super) const MOST_ACTS: usize = 5_000;

/// A stretch of a step that goes on without a break.
#[derive(Debug, Clone)]
pub(super) struct Act<'g> {
    /// Counted from 0, as the step.
    pub stage: usize,
    pub step: usize,
    /// Of the marks of the step, from 0, the one it is made of.
    pub mark: usize,
    pub kind: TaskKind,
    /// In minutes; more than nothing.
    pub minutes: Exact,
    /// People it needs.
    pub hands: u32,
    /// Minutes of it somebody has work; less than all where rests are taken into a run.
    pub worked: Exact,
    /// What a wait is for.
    pub what: Option<&'g str>,
}

/// The acts of a guide, in the order of its steps; `whole_runs`: a run is one act with its rests.
pub(super) fn acts(guide: &Guide, whole_runs: bool) -> Vec<Act<'_>> {
    let mut acts = Vec::new();
    for (stage, of_stage) in guide.outline.stages.iter().enumerate() {
        for (step, of_step) in of_stage.steps.iter().enumerate() {
            let hands = hands(of_step);
            for (at, mark) in of_step.marks.iter().enumerate() {
                let act = |kind: TaskKind, minutes: Exact, hands: u32, what| Act {
                    stage,
                    step,
                    mark: at,
                    kind,
                    minutes,
                    hands,
                    worked: if hands > 0 { minutes } else { whole(0) },
                    what,
                };
                match &mark.kind {
                    MarkKind::Takes(time) => acts.push(act(TaskKind::HandsOn, time.minutes(), hands, None)),
                    MarkKind::Wait { time, what } => acts.push(act(TaskKind::Wait, time.minutes(), 0, what.as_deref())),
                    MarkKind::Run(run) => {
                        let hands = u32::from(!run.unattended());
                        if whole_runs {
                            let worked = if hands > 0 { run.run_minutes() } else { whole(0) };
                            acts.push(Act { worked, ..act(TaskKind::Run, run.elapsed_minutes(), hands, None) });
                        } else {
                            let (stretches, rest) = stretches(run);
                            for (at, minutes) in stretches.into_iter().enumerate() {
                                if at > 0 {
                                    acts.push(act(TaskKind::Rest, rest, 0, None));
                                }
                                acts.push(act(TaskKind::Run, minutes, hands, None));
                            }
                        }
                    }
                    _ => {}
                }
            }
        }
    }
    acts.retain(|act| act.minutes > whole(0));
    acts
}

/// People a step needs at once: the most that one of its marks says, else one.
pub(super) fn hands(step: &Step) -> u32 {
    let said = step.marks.iter().filter_map(|mark| if let MarkKind::Hands(hands) = mark.kind { Some(hands) } else { None });
    said.max().unwrap_or(1)
}

/// Whether the guide says so much as one time in its steps.
pub(super) fn any_time(guide: &Guide) -> bool {
    steps(guide).any(is_timed)
}

/// Whether some step says no time: it takes some all the same.
pub(super) fn some_untimed(guide: &Guide) -> bool {
    steps(guide).any(|step| !is_timed(step))
}

/// How many acts there are with every stretch of every run.
pub(super) fn count(guide: &Guide) -> usize {
    let marks = steps(guide).flat_map(|step| step.marks.iter());
    let acts = marks.map(|mark| match &mark.kind {
        MarkKind::Takes(_) | MarkKind::Wait { .. } => 1,
        MarkKind::Run(run) => usize::try_from(run.rests()).unwrap_or(usize::MAX).saturating_mul(2).saturating_add(1),
        _ => 0,
    });
    acts.fold(0, usize::saturating_add)
}

fn steps(guide: &Guide) -> impl Iterator<Item = &Step> {
    guide.outline.stages.iter().flat_map(|stage| stage.steps.iter())
}

fn is_timed(step: &Step) -> bool {
    step.marks.iter().any(|mark| matches!(mark.kind, MarkKind::Takes(_) | MarkKind::Wait { .. } | MarkKind::Run(_)))
}

/// Minutes of each stretch of running, the last one perhaps shorter, and of the rests between.
fn stretches(run: &DutyCycle) -> (Vec<Exact>, Exact) {
    let on = run.on().minutes();
    let mut left = run.run_minutes();
    let mut all = Vec::new();
    for _ in 0..run.rests() {
        match minus(&left, &on) {
            Some(rest) if rest > whole(0) => {
                all.push(on);
                left = rest;
            }
            _ => break,
        }
    }
    all.push(left);
    (all, run.off().minutes())
}

/// Whole units of time for exact minutes.
#[derive(Debug, Clone, Copy)]
pub(super) struct Clock {
    units_a_minute: i128,
    /// Some minutes are no whole number of units: they are rounded up.
    rounds: bool,
}

/// Largest number of units a minute; a run of thirds and sevenths of a second needs 1,260.
const FINEST: i128 = 1_000_000_000;
/// Where no unit fits all acts: milliseconds.
const MILLISECONDS: i128 = 60_000;

impl Clock {
    /// The unit that fits every act, where there is one.
    pub(super) fn for_acts(acts: &[Act<'_>]) -> Self {
        let mut units: i128 = 1;
        for act in acts {
            for time in [&act.minutes, &act.worked] {
                let denominator = *time.denom();
                if units % denominator != 0 {
                    let common = units.checked_mul(denominator / greatest_common_divisor(units, denominator));
                    match common {
                        Some(common) if common <= FINEST => units = common,
                        _ => return Self { units_a_minute: MILLISECONDS, rounds: true },
                    }
                }
            }
        }
        Self { units_a_minute: units, rounds: false }
    }

    /// Minutes in units.
    pub(super) fn units(self, minutes: &Exact) -> u64 {
        let units = minutes.numer().checked_mul(self.units_a_minute).map(|scaled| {
            let whole = scaled / minutes.denom();
            whole + i128::from(self.rounds && scaled % minutes.denom() != 0)
        });
        // A numerator too large to be scaled belongs to a fraction finer than any clock.
        let units = units.or_else(|| minutes.ceil().to_integer().checked_mul(self.units_a_minute));
        units.and_then(|units| u64::try_from(units).ok()).unwrap_or(u64::MAX)
    }

    /// Units in minutes.
    pub(super) fn minutes(self, units: u128) -> Exact {
        i128::try_from(units)
            .ok()
            .and_then(|units| over(&Exact::from_integer(units), &Exact::from_integer(self.units_a_minute)))
            .unwrap_or_else(|| whole(0))
    }
}

fn greatest_common_divisor(a: i128, b: i128) -> i128 {
    let (mut a, mut b) = (a, b);
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a
}
