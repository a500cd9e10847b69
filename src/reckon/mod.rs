//! What follows from the book as of one date.
//!
//! [`reckon`] takes a book and a date and returns every sum, date and state that pages and lists
//! show, with what it found wrong on the way. It reads no file and no clock, and all its arithmetic
//! is exact; where something cannot be reckoned, there is no figure.

mod as_of;
mod continuous;
mod costs;
mod course;
pub mod days;
mod defects;
mod due;
mod estimate;
mod exact;
mod falls;
mod gear;
mod history;
mod isolated;
mod kept;
mod line;
mod meters;
mod occasion;
mod packs;
mod passage;
mod places;
pub mod plan;
mod provision;
mod readings;
mod rules;
mod slots;
mod spans;
mod stock;
mod times;
mod torque;
mod trend;
mod unread;

#[cfg(test)]
mod testing;
#[cfg(test)]
mod tests;

use std::collections::{BTreeMap, HashMap};

use jiff::civil::Date;
use rayon::prelude::*;

use crate::book::diagnostic::Diagnostic;
use crate::book::model::{Book, Entry};
use crate::quantity::{CalendarSpan, Exact};

pub use costs::{CostPlace, Costs, CurrencyCosts, Sum, SystemCosts};
pub use course::{Course, MeterCourse};
pub use defects::{Cleared, Defect, Followed, OutsideLimits, Seen};
pub use due::{JobState, State, counted_by};
pub use falls::{Falls, MOST_DAYS, MOST_TIMES};
pub use gear::GearState;
pub use history::LastDone;
pub use isolated::StillIsolated;
pub use kept::{Kept, KeptByMeter};
pub use line::{Line, student_t};
pub use meters::{MeterState, Reached, Reading, ValueOn};
pub use occasion::ForOccasion;
pub use passage::{JobOnPassage, OnPassage, PassageState, UnderWay, passage};
pub use provision::{Ahead, DAYS_AHEAD, Need, Provision, ProvisionLine, Remark, Standing, Use};
pub use readings::{ReadingAt, ReadingHistory, is_outside};
pub use rules::{Remaining, RuleState};
pub use spans::{RuleSpans, Span};
pub use stock::{Held, Movement, StockState};
pub use times::{Times, quantile};
pub use trend::{Axis, Crossing, Trend};

/// Share of an interval, in hundredths, that counts as soon where the boat gives none.
const SOON_PERCENT: i128 = 10;

/// All that follows from a book as of a date.
#[derive(Debug)]
pub struct Reckoning<'b> {
    pub book: &'b Book,
    pub on: Date,
    /// Every guide, for each gear it is for or once for the boat, in the order of the book.
    pub jobs: Vec<JobState<'b>>,
    /// In the order of `boat.yaml`.
    pub meters: Vec<MeterState<'b>>,
    /// In the order of `stores.yaml`.
    pub stock: Vec<StockState<'b>>,
    /// Those to act on first, then the oldest first.
    pub defects: Vec<Defect<'b>>,
    /// Defects that an entry cleared, the latest first.
    pub cleared: Vec<Cleared<'b>>,
    /// Entries that are not finished, oldest first.
    pub open: Vec<&'b Entry>,
    /// In the order of `boat.yaml`.
    pub gear: Vec<GearState<'b>>,
    /// Entries as of the date, oldest first by day, then by id.
    pub entries: Vec<&'b Entry>,
    /// Entries and rows of `meters.csv` that are later than the date.
    pub left_out: usize,
    /// How long jobs took, by guide id.
    pub times: BTreeMap<&'b str, Times<'b>>,
    /// Sorted by guide id, then in the order of the guide.
    pub readings: Vec<ReadingHistory<'b>>,
    /// What was spent, the currency with the most items first.
    pub costs: Costs<'b>,
    meter_index: HashMap<&'b str, usize>,
    stock_index: HashMap<&'b str, usize>,
    gear_index: HashMap<&'b str, usize>,
}

/// Reckons a book as of a date, and returns with it what was found wrong.
///
/// Problems found: `later-than-on`, `meter-backwards`, `meter-too-fast`, `units-disagree`, `negative-stock`,
/// `used-about-the-count`, `torque-over-proof`, `torque-unit-slip`, `estimate-off`, `passage-departed`,
/// `meter-never-read`, `reading-outside-limits`.
#[must_use]
pub fn reckon(book: &Book, on: Date) -> (Reckoning<'_>, Vec<Diagnostic>) {
    let mut findings = places::Findings::new(book);
    let reckoning = reckon_from(book, on, &mut findings);
    torque::check(book, &mut findings);
    estimate::check(book, &reckoning.times, &mut findings);
    passage::departed(book, on, &mut findings);
    (reckoning, findings.found)
}

/// Reckons a book of which another tells what is wrong: the public book, beside the whole one that it is of.
#[must_use]
pub fn reckon_unchecked(book: &Book, on: Date) -> Reckoning<'_> {
    reckon_from(book, on, &mut places::Findings::new(book))
}

fn reckon_from<'b>(book: &'b Book, on: Date, findings: &mut places::Findings<'b>) -> Reckoning<'b> {
    let as_of = as_of::as_of(book, on, findings);
    let entries = &as_of.entries;
    let meters = continuous::meters(&book.boat, &as_of, findings);
    let gear = gear::states(&book.boat, entries, on);
    let slots = slots::Slots::of(book);
    let bench = due::Bench {
        measure: rules::Measure { on, soon_share: soon_share(book) },
        in_service: book.boat.in_service,
        meters: &meters,
        meter_index: index(meters.iter().map(|state| state.meter.id.value.as_str())),
        today: meters.iter().map(|meter| meter.value_on(on)).collect(),
        gear: &gear,
        gear_index: gear::by_id(&book.boat),
    };
    let readings_bench = readings::Bench { boat: &book.boat, gear: &gear, meters: &meters };
    let (jobs, (readings, (times, costs))) = rayon::join(
        || {
            let histories = history::histories(&slots, entries);
            slots.slots.par_iter().zip(histories).map(|(slot, history)| due::judge(slot, history, &bench)).collect::<Vec<JobState<'b>>>()
        },
        || {
            rayon::join(
                || readings::histories(&readings_bench, &slots, entries),
                || (times::by_guide(&slots, entries), costs::costs(book, entries)),
            )
        },
    );
    unread::check(&jobs, &meters, findings);
    let (meter_index, gear_index) = (bench.meter_index, bench.gear_index);
    let stock = stock::states(book, entries, on, findings);
    let (defects, cleared) = defects::defects(entries, &readings, book, findings);
    let open = entries.iter().filter(|entry| entry.when.is_open()).copied().collect();
    Reckoning {
        book,
        on,
        jobs,
        meter_index,
        stock_index: index(stock.iter().map(|state| state.item.id.value.as_str())),
        gear_index,
        meters,
        stock,
        defects,
        cleared,
        open,
        gear,
        times,
        costs,
        readings,
        left_out: as_of.left_out,
        entries: as_of.entries,
    }
}

impl<'b> Reckoning<'b> {
    /// What was cleared, by the entry and the number of the finding.
    #[must_use]
    pub fn cleared_by_finding(&self) -> BTreeMap<(&'b str, usize), Cleared<'b>> {
        self.cleared.iter().map(|cleared| ((cleared.entry.id.as_str(), cleared.number), *cleared)).collect()
    }

    /// Jobs as a list shows them: by state, then by date, then by title and gear.
    #[must_use]
    pub fn by_urgency(&self) -> Vec<&JobState<'b>> {
        by_urgency(self.jobs.iter())
    }

    /// The jobs of a guide, one for each gear it is for.
    #[must_use]
    pub fn jobs_of(&self, guide: &str) -> &[JobState<'b>] {
        let start = self.jobs.partition_point(|job| job.guide.id.as_str() < guide);
        let rest = self.jobs.get(start..).unwrap_or_default();
        let end = rest.partition_point(|job| job.guide.id == guide);
        rest.get(..end).unwrap_or_default()
    }

    /// The readings of a guide.
    #[must_use]
    pub fn readings_of(&self, guide: &str) -> &[ReadingHistory<'b>] {
        let start = self.readings.partition_point(|history| history.guide.id.as_str() < guide);
        let rest = self.readings.get(start..).unwrap_or_default();
        let end = rest.partition_point(|history| history.guide.id == guide);
        rest.get(..end).unwrap_or_default()
    }

    /// The day a calendar interval after the day of the reckoning. `None`: no calendar goes that far.
    #[must_use]
    pub fn day_after(&self, span: &CalendarSpan) -> Option<Date> {
        days::later_by(self.on, span)
    }

    /// Days from the day of the reckoning to another; below zero where that is earlier.
    #[must_use]
    pub fn days_to(&self, date: Date) -> i64 {
        days::between(self.on, date)
    }

    /// The meter of an id.
    #[must_use]
    pub fn meter(&self, id: &str) -> Option<&MeterState<'b>> {
        self.meter_index.get(id).and_then(|at| self.meters.get(*at))
    }

    /// Whether the value of a meter today rests on an estimate: it was not read today.
    #[must_use]
    pub fn is_carried_on(&self, meter: &str) -> bool {
        self.meter(meter).is_some_and(|meter| meter.value_on(self.on).is_none_or(|value| value.estimated) && !meter.readings.is_empty())
    }

    /// The stores of an id.
    #[must_use]
    pub fn stock_of(&self, item: &str) -> Option<&StockState<'b>> {
        self.stock_index.get(item).and_then(|at| self.stock.get(*at))
    }

    /// The gear of an id.
    #[must_use]
    pub fn gear_of(&self, id: &str) -> Option<&GearState<'b>> {
        self.gear_index.get(id).and_then(|at| self.gear.get(*at))
    }

    /// Open entries that say how they left the boat: what is shut, off or apart. Oldest first.
    pub fn left(&self) -> impl Iterator<Item = &'b Entry> {
        self.open.iter().filter(|entry| !entry.left.is_empty()).copied()
    }
}

fn by_urgency<'r, 'b>(jobs: impl Iterator<Item = &'r JobState<'b>>) -> Vec<&'r JobState<'b>> {
    let mut jobs: Vec<&JobState<'b>> = jobs.collect();
    jobs.sort_by(|a, b| urgency(a).cmp(&urgency(b)));
    jobs
}

fn urgency<'j>(job: &'j JobState<'_>) -> impl Ord + use<'j> {
    let gear = job.gear.map(|gear| (gear.title.as_str(), gear.id.value.as_str()));
    let title = job.guide.title.as_str();
    (job.state, job.due_on.is_none(), job.due_on, title, gear, job.guide.id.as_str())
}

/// Where each id stands; the first of two with one id.
fn index<'b>(ids: impl DoubleEndedIterator<Item = &'b str> + ExactSizeIterator) -> HashMap<&'b str, usize> {
    ids.enumerate().rev().map(|(at, id)| (id, at)).collect()
}

fn soon_share(book: &Book) -> Exact {
    let hundred = Exact::from_integer(100);
    let percent = book.boat.soon_percent.as_ref();
    percent.and_then(|percent| exact::over(&percent.value(), &hundred)).unwrap_or(Exact::new(SOON_PERCENT, 100))
}
