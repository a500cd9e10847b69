//! Intervals kept against intervals set: of each rule of a job the spans from one doing to the next.
//!
//! Each rule is held against every span by itself: of `{engine: 200 h, calendar: 12 months}` a boat
//! that motors little keeps the hours easily and the calendar perhaps not. What a span is, is said by
//! [`stretches`]: days only known about begin and end none, and none leads over to new gear.

use jiff::civil::Date;

use super::days;
use super::exact::{minus, whole};
use super::kept::stretches;
use super::meters::MeterState;
use super::times::quantile;
use super::{JobState, Reckoning};
use crate::book::model::{Meter, Rule, RuleBy};
use crate::quantity::Exact;

/// The spans of a job by one rule of its guide.
#[derive(Debug, Clone)]
pub struct RuleSpans<'b> {
    pub rule: &'b Rule,
    /// What it counts by; `None`: the calendar.
    pub meter: Option<&'b Meter>,
    /// What the rule allows, as its spans are counted: in the meter's unit, or in days, where a month
    /// has its mean length. Whether a span was within is judged on the calendar itself.
    pub allowed: Exact,
    /// Oldest first.
    pub spans: Vec<Span>,
    /// Spans at whose ends the meter was not read.
    pub unread: usize,
    /// How many are no longer than the rule allows.
    pub within: usize,
}

/// From one time a job was done to the next.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Span {
    pub from: Date,
    pub to: Date,
    /// In the meter's unit; of the calendar in days.
    pub length: Exact,
    /// What the rule allows from its beginning, as the length is counted. `None`: more than any calendar holds.
    pub allowed: Option<Exact>,
    /// No longer than the rule allows.
    pub within: bool,
}

impl RuleSpans<'_> {
    /// The longest span. `None`: there is none.
    #[must_use]
    pub fn largest(&self) -> Option<&Span> {
        self.spans.iter().max_by_key(|span| (span.length, !span.within))
    }

    /// The span in the middle; of an even number the mean of the two.
    #[must_use]
    pub fn median(&self) -> Option<Exact> {
        let mut lengths: Vec<Exact> = self.spans.iter().map(|span| span.length).collect();
        lengths.sort();
        quantile(&lengths, &Exact::new(1, 2))
    }
}

impl<'b> Reckoning<'b> {
    /// The days between which a job was really done, oldest first: without those only known about, and
    /// without those from one piece of gear to the next.
    fn stretches(&self, job: &JobState<'b>) -> Vec<(Date, Date)> {
        let gear = job.gear.and_then(|gear| self.gear_of(&gear.id.value));
        let renewals: Vec<Date> = gear.into_iter().flat_map(|state| &state.renewals).map(|entry| entry.when.day().date).collect();
        stretches(&job.history, &renewals)
    }

    /// The intervals of a job that were kept, rule by rule in the order of its guide. Rules by a meter
    /// that nobody knows are left out.
    #[must_use]
    pub fn spans(&self, job: &JobState<'b>) -> Vec<RuleSpans<'b>> {
        let stretches = self.stretches(job);
        job.guide.every.iter().filter_map(|rule| self.by_rule(job, rule, &stretches)).collect()
    }

    fn by_rule(&self, job: &JobState<'b>, rule: &'b Rule, stretches: &[(Date, Date)]) -> Option<RuleSpans<'b>> {
        let (meter, allowed, spans): (Option<&'b Meter>, Exact, Vec<Span>) = match &rule.by {
            RuleBy::Calendar(interval) => {
                let span = |&(from, to): &(Date, Date)| {
                    let last = days::later_by(from, interval);
                    let allowed = last.map(|last| whole(days::between(from, last)));
                    Span { from, to, length: whole(days::between(from, to)), allowed, within: last.is_none_or(|last| to <= last) }
                };
                (None, days::of_span(interval), stretches.iter().map(span).collect())
            }
            RuleBy::Meter { meter, interval } => by_meter(self.meter(meter)?, interval, stretches)?,
            RuleBy::Own { interval } => by_meter(self.meter(&job.gear?.meter.as_ref()?.value)?, interval, stretches)?,
        };
        let within = spans.iter().filter(|span| span.within).count();
        Some(RuleSpans { rule, meter, allowed, unread: stretches.len() - spans.len(), spans, within })
    }
}

/// `None`: the interval is of something that the meter does not count.
fn by_meter<'b>(
    state: &MeterState<'b>,
    interval: &crate::quantity::Quantity,
    stretches: &[(Date, Date)],
) -> Option<(Option<&'b Meter>, Exact, Vec<Span>)> {
    let allowed = interval.in_unit(state.meter.unit)?;
    let read = |day: Date| state.value_on(day).filter(|value| !value.estimated).map(|value| value.value);
    let span = |&(from, to): &(Date, Date)| {
        let length = minus(&read(to)?, &read(from)?)?;
        Some(Span { from, to, length, allowed: Some(allowed), within: length <= allowed })
    };
    Some((Some(state.meter), allowed, stretches.iter().filter_map(span).collect()))
}
