//! The lists of the boat's record: intervals kept, findings, gear.

use super::due::rule_text;
use super::entry::before_text;
use super::record_entry::{Here, cleared, title_link};
use super::record_plan::Lists;
use super::{meters, reading_words};
use crate::book::model::{Entry, Finding, RuleBy};
use crate::quantity::{Decimal, Exact, Rounding, plain_decimal, round_to_decimals};
use crate::reckon::{Cleared, Defect, GearState, JobState, RuleSpans, Seen, Span, days};
use crate::site::escape;
use crate::site::press::Press;
use crate::site::view::{Fact, RecordFinding, RecordGear, RecordInterval};

/// About the bytes of a link to an entry on another page of the record, without its id and its title.
const A_LINK: usize = 40;
/// Most spans of a rule that are told one by one: the latest.
const SPANS: usize = 12;
/// Months from which a calendar interval and its spans are told in years.
const YEARS: i32 = 36;
/// Days up to which they are told in days.
const DAYS: i32 = 60;
/// Most digits that a span has after its point.
const DECIMALS: u32 = 2;

/// What the lists hold, in the order of the record.
pub(super) struct Listed<'b> {
    pub intervals: Vec<(&'b JobState<'b>, RuleSpans<'b>)>,
    pub findings: Vec<Listing<'b>>,
    pub gear: Vec<&'b GearState<'b>>,
}

/// Something that was seen: not put right yet, or put right.
#[derive(Clone, Copy)]
pub(super) enum Listing<'b> {
    Open(&'b Defect<'b>),
    Cleared(&'b Cleared<'b>),
}

impl<'b> Listed<'b> {
    /// Gathers the lists: intervals by system; findings that wait first, then those put right, the latest
    /// first; gear by system.
    pub fn of(press: &Press<'b>) -> Self {
        let reckoning = press.reckoning;
        let order = |system: Option<&str>| {
            let systems = &press.book.boat.systems;
            systems.iter().position(|known| Some(known.id.value.as_str()) == system).unwrap_or(systems.len())
        };
        let mut jobs: Vec<&JobState<'b>> = reckoning.jobs.iter().filter(|job| !job.guide.routine).collect();
        jobs.sort_by_key(|job| order(Some(job.guide.system.as_str())));
        let mut gear: Vec<&GearState<'b>> = reckoning.gear.iter().filter(|state| dated(state)).collect();
        gear.sort_by_key(|state| order(state.gear.system.as_ref().map(|name| name.value.as_str())));
        Self {
            intervals: jobs.into_iter().flat_map(|job| reckoning.spans(job).into_iter().map(move |rule| (job, rule))).collect(),
            findings: reckoning.defects.iter().map(Listing::Open).chain(reckoning.cleared.iter().map(Listing::Cleared)).collect(),
            gear,
        }
    }

    /// The bytes of the crew's words in each row, and of the links that grow with them.
    pub fn weights(&self, press: &Press<'_>) -> Lists {
        let bytes = escape::html_len;
        let finding = |listing: &Listing<'_>| {
            let (entry, finding, by, followed) = match listing {
                Listing::Open(defect) => (defect.entry, defect.finding(), None, None),
                Listing::Cleared(cleared) => (cleared.entry, Some(cleared.finding), Some(cleared.by), cleared.followed),
            };
            let link = |entry: &Entry| bytes(&press.entry_title(entry)) + entry.id.len() + A_LINK;
            let titles: usize = [Some(entry), by].into_iter().flatten().map(link).sum();
            let limits = |finding: &Finding| finding.limits_use.as_deref().map_or(0, bytes);
            let followed = followed.map_or(0, |one| bytes(&one.finding.what));
            titles + followed + finding.map_or(0, |finding| bytes(&finding.what) + limits(finding))
        };
        Lists {
            intervals: self.intervals.iter().map(|(job, _)| bytes(&job.guide.title)).collect(),
            findings: self.findings.iter().map(finding).collect(),
            gear: self.gear.iter().map(|state| bytes(&state.gear.title)).collect(),
        }
    }
}

/// Gear of which some date is known.
fn dated(state: &GearState<'_>) -> bool {
    state.fitted.is_some() || state.expires.is_some() || state.renewed()
}

pub(super) fn interval(press: &Press<'_>, job: &JobState<'_>, kept: &RuleSpans<'_>) -> RecordInterval {
    let gear = job.gear.map(|gear| format!(" ({})", gear.title)).unwrap_or_default();
    let unit = Told::of(kept);
    let mut spans: Vec<String> = kept.spans.iter().rev().take(SPANS).map(|span| unit.figure_of(span, &kept.allowed)).collect();
    spans.reverse();
    let mut said = if spans.is_empty() { press.words.text("record.no-span") } else { unit.said(press, &spans.join(", ")) };
    let count = |key: &str, n: usize| press.words.count(key, i64::try_from(n).unwrap_or(i64::MAX));
    if kept.spans.len() > SPANS {
        said = format!("{said} {}", count("record.spans-more", kept.spans.len() - SPANS));
    }
    if kept.unread > 0 {
        said = format!("{said}; {}", count("record.unread", kept.unread));
    }
    let within = [("n", kept.within.to_string()), ("all", kept.spans.len().to_string())];
    RecordInterval {
        title: format!("{}{gear}", job.guide.title),
        rule: rule_text(press, kept.rule, job.gear),
        spans: said,
        largest: kept.largest().map(|span| unit.said(press, &unit.figure_of(span, &kept.allowed))),
        median: kept.median().map(|length| unit.said(press, &unit.figure(&length))),
        within: (!kept.spans.is_empty()).then(|| press.words.say("record.within", &within.each_ref().map(|(key, n)| (*key, n.as_str())))),
    }
}

/// In what spans are told: as their rule is.
enum Told<'u> {
    Days,
    Months,
    Years,
    Unit(&'u str),
}

impl<'u> Told<'u> {
    fn of(kept: &RuleSpans<'u>) -> Self {
        match (&kept.rule.by, kept.meter) {
            (_, Some(meter)) => Self::Unit(meter.unit.symbol()),
            (RuleBy::Calendar(span), None) if span.months() >= YEARS => Self::Years,
            (RuleBy::Calendar(span), None) if span.months() * 30 + span.days() >= DAYS => Self::Months,
            _ => Self::Days,
        }
    }

    /// To the nearest figure; but a span that was longer than `allowed`, as a year and a day are, reads longer too.
    fn figure_of(&self, span: &Span, allowed: &Exact) -> String {
        let nearest = self.rounded(&span.length, Rounding::HalfEven);
        let reads_as_kept = !span.within && nearest <= self.rounded(allowed, Rounding::HalfEven);
        plain_decimal(&if reads_as_kept { self.rounded(&span.length, Rounding::Up) } else { nearest }, DECIMALS)
    }

    fn figure(&self, length: &Exact) -> String {
        plain_decimal(&self.rounded(length, Rounding::HalfEven), DECIMALS)
    }

    fn rounded(&self, length: &Exact, rounding: Rounding) -> Exact {
        let (amount, decimals) = match self {
            Self::Days | Self::Unit(_) => (*length, 1),
            Self::Months => (length / days::of_months(1), 1),
            Self::Years => (length / days::of_months(12), 2),
        };
        round_to_decimals(&amount, decimals, rounding).and_then(Decimal::value).unwrap_or(amount)
    }

    fn said(&self, press: &Press<'_>, figures: &str) -> String {
        match self {
            Self::Unit(unit) => format!("{figures} {unit}"),
            Self::Days => press.words.say("spans.days", &[("n", figures)]),
            Self::Months => press.words.say("spans.months", &[("n", figures)]),
            Self::Years => press.words.say("spans.years", &[("n", figures)]),
        }
    }
}

pub(super) fn finding(press: &Press<'_>, here: Here<'_>, listing: Listing<'_>) -> RecordFinding {
    let (entry, what, grade, seen): (&Entry, String, &str, Option<(usize, &Finding)>) = match listing {
        Listing::Open(defect) => match defect.seen {
            Seen::Finding { number, finding } => (defect.entry, finding.what.clone(), finding.grade.word(), Some((number, finding))),
            Seen::Reading(outside) => (defect.entry, reading_words::outside(press, &outside), defect.grade().word(), None),
        },
        Listing::Cleared(done) => (done.entry, done.finding.what.clone(), done.finding.grade.word(), Some((done.number, done.finding))),
    };
    let open = matches!(listing, Listing::Open(_));
    let readings = match listing {
        Listing::Open(defect) => defect.readings.iter().map(|reading| reading_words::outside(press, reading)).collect(),
        Listing::Cleared(_) => Vec::new(),
    };
    RecordFinding {
        what,
        readings,
        grade_text: press.words.text(&format!("grades.{grade}")),
        before: seen.and_then(|(_, finding)| finding.before.as_ref()).filter(|_| open).map(|before| before_text(press, before)),
        limits_use: seen.and_then(|(_, finding)| finding.limits_use.clone()).filter(|_| open),
        found: press.book_date(entry.when.day()),
        entry: title_link(press, here, entry),
        cleared: seen.and_then(|(number, _)| cleared(press, here, entry, number)),
    }
}

pub(super) fn gear(press: &Press<'_>, here: Here<'_>, state: &GearState<'_>) -> RecordGear {
    let gear = state.gear;
    let renewed = state.renewals.first();
    RecordGear {
        title: gear.title.clone(),
        system: gear.system.as_ref().and_then(|name| press.book.boat.system(&name.value)).map(|system| system.title.clone()),
        fitted: state.fitted.as_ref().map(|date| press.book_date(date)),
        fitted_at: gear
            .fitted
            .as_ref()
            .filter(|_| renewed.is_none())
            .and_then(|fitted| fitted.at.as_ref())
            .map(|at| at.written().to_owned()),
        renewed: renewed.map(|entry| title_link(press, here, entry)),
        expires: state.expires.as_ref().map(|month| press.month(month)),
        expired: state.expired(),
    }
}

/// Each meter as it was read last.
pub(super) fn latest(press: &Press<'_>) -> Vec<Fact> {
    let told = press.reckoning.meters.iter().filter_map(|state| {
        let now = meters::now(press, state);
        let day = now.read_on?;
        let key = if day.about { "record.read-about" } else { "record.read-on" };
        let mut value = press.words.say(key, &[("value", &now.value?), ("date", &day.text)]);
        // A counter that was put in later hides what the earlier ones ran.
        let last = state.last_reading()?;
        if last.continuous != last.shown.value() {
            let total = format!("{} {}", plain_decimal(&last.continuous, 1), state.meter.unit.symbol());
            value = press.words.say("record.in-all", &[("value", &value), ("total", &total)]);
        }
        Some(Fact { label: now.title, value })
    });
    told.collect()
}
