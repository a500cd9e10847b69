//! What is due: the rules of each job weighed against each other, and what follows for the crew.
//!
//! Whichever rule is used up first governs. An estimate alone never makes a job overdue: the meter
//! is to be read first. A job that was never done has no date, unless `first` gives it one.

use std::collections::HashMap;

use jiff::civil::Date;

use super::days;
use super::exact::whole;
use super::gear::GearState;
use super::history::LastDone;
use super::kept::{Kept, kept};
use super::meters::{MeterState, ValueOn};
use super::rules::{Baseline, Measure, RuleState};
use super::slots::Slot;
use crate::book::date::BookDate;
use crate::book::model::{Entry, Gear, Guide, Rule, RuleBy};

/// How pressing a job is; most pressing first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum State {
    /// Its day is over, by the calendar or by readings.
    Overdue,
    /// It has an interval, and nothing says that it was ever done.
    NoRecord,
    /// Today, or by estimate already.
    Due,
    /// Begun and not finished.
    Open,
    Soon,
    Later,
    /// Only at an occasion.
    OnOccasion,
    /// Without any interval, or a round.
    AsNeeded,
}

impl State {
    /// All of them, most pressing first.
    pub const ALL: [Self; 8] =
        [Self::Overdue, Self::NoRecord, Self::Due, Self::Open, Self::Soon, Self::Later, Self::OnOccasion, Self::AsNeeded];

    /// As the JSON spells it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Overdue => "overdue",
            Self::NoRecord => "no record",
            Self::Due => "due",
            Self::Open => "open",
            Self::Soon => "soon",
            Self::Later => "later",
            Self::OnOccasion => "on occasion",
            Self::AsNeeded => "as needed",
        }
    }
}

/// A job as of a date: a guide for one gear, or for the boat.
#[derive(Debug, Clone)]
pub struct JobState<'b> {
    pub guide: &'b Guide,
    pub gear: Option<&'b Gear>,
    pub state: State,
    pub due_on: Option<Date>,
    /// Id of the meter whose rule governs, or `calendar`.
    pub governed_by: Option<String>,
    /// The date rests on a use rate, or on a baseline that is carried on or only known about.
    pub estimated: bool,
    /// Due by estimate alone: only the meter can say.
    pub read_the_meter: bool,
    /// The rules that count now: of `first` until the job was done once, then of `every`.
    pub rules: Vec<RuleState<'b>>,
    /// The latest finished entry that counts; for renewed gear only since then.
    pub last_done: Option<LastDone<'b>>,
    /// Open entries that name the job itself, newest first: a job that is covered is not begun with
    /// the one that covers it, and counts as done when that is done.
    pub open: Vec<&'b Entry>,
    /// All entries that name the job or one that covers it, newest first; of renewed gear also
    /// those before.
    pub history: Vec<LastDone<'b>>,
    /// How often it was really done; `None`: less than three times.
    pub kept: Option<Kept<'b>>,
}

impl JobState<'_> {
    /// The rule whose date counts.
    #[must_use]
    pub fn governing(&self) -> Option<&RuleState<'_>> {
        self.rules.iter().find(|rule| rule.governs)
    }

    /// Whether it has intervals and nothing can be said of any: their meters were read never, or too seldom.
    #[must_use]
    pub fn is_unreckoned(&self) -> bool {
        let says_nothing = |rule: &RuleState<'_>| rule.due_on.is_none() && rule.remaining.is_none();
        self.state == State::Later && !self.rules.is_empty() && self.rules.iter().all(says_nothing)
    }

    /// How many days before its date its notice begins, where the guide gives one.
    #[must_use]
    pub fn notice_days(&self) -> Option<i64> {
        let due_on = self.due_on?;
        let from = days::earlier_by(due_on, self.guide.notice.as_ref()?)?;
        Some(days::between(from, due_on))
    }

    /// The date by the use of the meters in the 90 days before their last readings, where it is
    /// another one.
    #[must_use]
    pub fn due_on_90(&self) -> Option<Date> {
        let dates = self.rules.iter().filter_map(|rule| rule.due_on_90.or(rule.due_on));
        dates.min().filter(|date| self.due_on.is_some_and(|due_on| due_on != *date))
    }
}

/// What all jobs are reckoned with.
pub(super) struct Bench<'a, 'b> {
    pub(super) measure: Measure,
    pub(super) in_service: Option<Date>,
    pub(super) meters: &'a [MeterState<'b>],
    pub(super) meter_index: HashMap<&'b str, usize>,
    /// Of each meter its value on the day of the reckoning.
    pub(super) today: Vec<Option<ValueOn>>,
    pub(super) gear: &'a [GearState<'b>],
    pub(super) gear_index: HashMap<&'b str, usize>,
}

/// Reckons one job from its history, oldest first.
pub(super) fn judge<'b>(slot: &Slot<'b>, mut history: Vec<LastDone<'b>>, bench: &Bench<'_, 'b>) -> JobState<'b> {
    let Slot { guide, gear } = *slot;
    history.reverse();
    let gear_state = gear.and_then(|gear| bench.gear_index.get(gear.id.value.as_str())).and_then(|at| bench.gear.get(*at));
    // What was done before the gear was renewed was done to other gear.
    let life = gear_state.filter(|state| state.renewed()).and_then(|state| state.fitted);
    let last_done =
        history.iter().filter(|done| !done.entry.when.is_open()).find(|done| life.is_none_or(|life| done.date.date >= life.date)).copied();
    let open: Vec<&Entry> =
        history.iter().filter(|done| done.entry.when.is_open() && done.through.is_none()).map(|done| done.entry).collect();
    // Of another boat, and nobody has held it against this one: it takes the place of nothing, and is new gear to nothing.
    let unchecked = guide.unchecked();
    let mut rules = if guide.routine || unchecked.is_some_and(|received| received.revises.is_some()) {
        Vec::new()
    } else if let Some(done) = &last_done {
        let every = guide.every.iter();
        every.map(|rule| bench.since_done(rule, gear, done)).collect()
    } else if guide.first.is_empty() || unchecked.is_some() {
        let every = guide.every.iter();
        every.map(|rule| RuleState::unknown(rule, false, counted_by(rule, gear))).collect()
    } else {
        let first = guide.first.iter();
        first.map(|rule| bench.since_new(rule, gear, gear_state)).collect()
    };
    let governing = governing(&rules);
    let governing_rule = governing.and_then(|at| rules.get_mut(at)).map(|rule| {
        rule.governs = true;
        &*rule
    });
    let due_on = governing_rule.and_then(|rule| rule.due_on);
    // A rule of `first` may have no date and yet say what is left: its meter has no use rate.
    let no_record = last_done.is_none() && due_on.is_none() && !rules.is_empty() && rules.iter().all(|rule| rule.remaining.is_none());
    let governing_rule = governing.and_then(|at| rules.get(at)).filter(|_| !no_record);
    let governed_by = governing_rule.map(|rule| rule.by.clone());
    let estimated = governing_rule.is_some_and(|rule| rule.estimated);
    let forecast = governing_rule.is_some_and(|rule| rule.forecast);
    let state = if !open.is_empty() {
        State::Open
    } else if guide.routine {
        State::AsNeeded
    } else if rules.is_empty() {
        if guide.occasions.is_empty() { State::AsNeeded } else { State::OnOccasion }
    } else if no_record {
        State::NoRecord
    } else if rules.iter().any(|rule| rule.passed) {
        State::Overdue
    } else if due_on.is_some_and(|due_on| due_on <= bench.measure.on) {
        State::Due
    } else if is_soon(guide, due_on, &rules, bench.measure.on) {
        State::Soon
    } else {
        State::Later
    };
    let renewals: Vec<Date> = gear_state.into_iter().flat_map(|state| &state.renewals).map(|entry| entry.when.day().date).collect();
    let kept = kept(&history, &renewals, bench.meters_of(guide, gear));
    JobState {
        guide,
        gear,
        state,
        due_on,
        governed_by,
        estimated,
        read_the_meter: state == State::Due && forecast,
        rules,
        last_done,
        open,
        history,
        kept,
    }
}

/// Id of the meter a rule goes by, or `calendar`; `own` where the gear has no meter.
#[must_use]
pub fn counted_by<'r>(rule: &'r Rule, gear: Option<&'r Gear>) -> &'r str {
    match &rule.by {
        RuleBy::Calendar(_) => "calendar",
        RuleBy::Meter { meter, .. } => meter,
        RuleBy::Own { .. } => gear.and_then(|gear| gear.meter.as_ref()).map_or("own", |meter| meter.value.as_str()),
    }
}

/// The rule with the earliest date; of several the first that is not the calendar. Where none has
/// a date, the first.
fn governing(rules: &[RuleState<'_>]) -> Option<usize> {
    let dated = rules.iter().enumerate();
    dated
        .min_by_key(|(at, rule)| {
            let calendar = matches!(rule.rule.by, RuleBy::Calendar(_));
            (rule.due_on.is_none(), rule.due_on, calendar, *at)
        })
        .map(|(at, _)| at)
}

/// A notice replaces the shares of the intervals.
fn is_soon(guide: &Guide, due_on: Option<Date>, rules: &[RuleState<'_>], on: Date) -> bool {
    match &guide.notice {
        Some(notice) => due_on.and_then(|due_on| days::earlier_by(due_on, notice)).is_some_and(|from| on >= from),
        None => rules.iter().any(|rule| rule.near),
    }
}

impl<'b> Bench<'_, 'b> {
    /// The meters that the rules of `every` go by, in their order.
    fn meters_of(&self, guide: &'b Guide, gear: Option<&'b Gear>) -> impl Iterator<Item = &MeterState<'b>> {
        let rules = guide.every.iter().map(move |rule| counted_by(rule, gear));
        rules.filter_map(|by| self.meters.get(*self.meter_index.get(by)?))
    }

    /// A rule of `every`, counted from the last time the job was done.
    fn since_done(&self, rule: &'b Rule, gear: Option<&'b Gear>, done: &LastDone<'b>) -> RuleState<'b> {
        let since = Some(done.date);
        let state = RuleState::unknown(rule, false, counted_by(rule, gear));
        // Of two readings of that day the one of the work itself is what the meter showed when it was done.
        self.reckoned(state, since, |meter| meter.value_in(done.entry, done.date.date).or_else(|| meter.value_on(done.date.date)))
    }

    /// A rule of `first`, counted from the beginning of the gear, or of the boat's service.
    fn since_new(&self, rule: &'b Rule, gear: Option<&'b Gear>, gear_state: Option<&GearState<'b>>) -> RuleState<'b> {
        let state = RuleState::unknown(rule, true, counted_by(rule, gear));
        let fitted = gear_state.and_then(|state| state.fitted);
        let since = match rule.by {
            RuleBy::Calendar(_) => fitted.or(self.in_service.map(BookDate::on)),
            _ => fitted,
        };
        self.reckoned(state, since, |meter| {
            let new = ValueOn { value: whole(0), estimated: false, about: false };
            let Some(fitted) = fitted else { return Some(new) };
            let known = gear_state.and_then(|state| shown_when_fitted(state, meter)).or_else(|| meter.value_on(fitted.date));
            // Read once, and no use rate: a meter never falls, so it showed no less when something was fitted later.
            let last = meter.last().filter(|(read, _)| *read <= fitted.date);
            known.or(Some(last.map_or(new, |(_, value)| ValueOn { value, estimated: true, about: false })))
        })
    }

    /// Reckons a rule from a day, or from a meter's value.
    fn reckoned(
        &self,
        state: RuleState<'b>,
        since: Option<BookDate>,
        value: impl FnOnce(&MeterState<'b>) -> Option<ValueOn>,
    ) -> RuleState<'b> {
        let interval = match &state.rule.by {
            RuleBy::Calendar(span) => return state.by_calendar(span, since, &self.measure),
            RuleBy::Meter { interval, .. } | RuleBy::Own { interval } => interval,
        };
        let Some(&at) = self.meter_index.get(state.by.as_str()) else {
            return state;
        };
        let (Some(meter), Some(today)) = (self.meters.get(at), self.today.get(at)) else {
            return state;
        };
        let baseline = Baseline { since, value: value(meter) };
        state.by_meter(interval, meter, today.as_ref(), baseline, &self.measure)
    }
}

/// What `boat.yaml` says the gear's meter showed when it was fitted, made continuous. Not for gear
/// that was renewed since, nor for a meter that is not the gear's own.
fn shown_when_fitted(state: &GearState<'_>, meter: &MeterState<'_>) -> Option<ValueOn> {
    let fitted = state.gear.fitted.as_ref().filter(|_| !state.renewed())?;
    let own = state.gear.meter.as_ref();
    if own.is_some_and(|own| own.value != meter.meter.id.value) {
        return None;
    }
    let shown = fitted.at.as_ref()?.in_unit(meter.meter.unit)?;
    Some(ValueOn { value: meter.made_continuous(&shown, fitted.on.date)?, estimated: false, about: false })
}
