//! What to have aboard for what lies ahead: needed, aboard, short, and what to buy.
//!
//! Short is what is needed and the minimum, less what is aboard; what is bought is that, rounded up
//! to how it is sold. Nothing that is needed is dropped: what cannot be reckoned with the stores
//! stands on a line of its own that says why, and no figure is ever less than the need.

mod line;
mod needs;

use jiff::civil::Date;

use super::packs::Pack;
use super::{Course, Held, JobState, Reckoning, days};
use crate::book::date::Month;
use crate::book::model::{Amount, Entry, Gear, Guide, Level, Passage, StoreItem};
use crate::quantity::{Exact, Money, Unit};

/// How many days ahead a list looks where nobody says.
pub const DAYS_AHEAD: i64 = 90;

/// What lies ahead.
#[derive(Debug, Clone, Copy)]
pub enum Ahead<'b> {
    /// All that falls due from the day of the reckoning up to and including a day.
    Until(Date),
    /// All that falls due before a passage and under way.
    Passage(&'b Passage),
    /// Every job that names an occasion, by its id, once.
    Occasion(&'b str),
}

/// What to have aboard, and what to buy for it.
#[derive(Debug, Clone)]
pub struct Provision<'b> {
    pub ahead: Ahead<'b>,
    /// The last day looked at; of an occasion, which has no day, that of the reckoning.
    pub end: Date,
    /// Everything that is needed, under its minimum or low, in the order of `stores.yaml`; then,
    /// by title, what the stores do not list.
    pub lines: Vec<ProvisionLine<'b>>,
    /// What all purchases cost, one sum a currency. A sum too large to hold is left out.
    pub total: Vec<Money>,
    /// Lines to buy that have no price.
    pub unpriced: usize,
}

/// One line of the list.
#[derive(Debug, Clone)]
pub struct ProvisionLine<'b> {
    /// Id of the stores, or the words of the guide.
    pub id: &'b str,
    pub title: &'b str,
    /// `None`: the stores do not list it.
    pub item: Option<&'b StoreItem>,
    /// `None`: not said how much, or it cannot be summed.
    pub needed: Option<Held>,
    /// What can be taken from the shelf, never below none. `None`: it is judged by its level.
    pub aboard: Option<Held>,
    pub minimum: Option<Held>,
    /// Never below none. `None`: it cannot be reckoned.
    pub short: Option<Held>,
    /// What the purchase holds. `None`: nobody can say how much.
    pub buy: Option<Held>,
    /// The purchase by sizes, as they are written; empty where it is not sold in packs.
    pub packs: Vec<(&'b Amount, u64)>,
    pub cost: Option<Money>,
    /// The jobs that need it, in the order of the book.
    pub needs: Vec<Need<'b>>,
    pub remarks: Vec<Remark<'b>>,
    pub standing: Standing,
}

/// What is to be done about a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// Something is to be bought, though perhaps nobody can say how much.
    Buy,
    /// It cannot be reckoned: somebody has to look.
    Look,
    /// Enough is aboard.
    Enough,
}

/// A part that a job needs.
#[derive(Debug, Clone, Copy)]
pub struct Need<'b> {
    pub guide: &'b Guide,
    pub gear: Option<&'b Gear>,
    /// How often it is needed; a part that is only changed if worn, once.
    pub times: u64,
    pub if_worn: bool,
    pub(super) asked: Asked,
}

/// What a part is needed for.
#[derive(Debug, Clone)]
pub struct Use<'b> {
    pub guide: &'b Guide,
    /// The gear it is needed on, where the guide is for gear.
    pub gear: Vec<&'b Gear>,
    /// How often, over all gear.
    pub times: u64,
    /// Only if worn.
    pub if_worn: bool,
}

/// How much of a part a guide asks for each time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Asked {
    Much(Held),
    /// The guide does not say.
    Unsaid,
    /// What the guide says cannot be read.
    Unclear,
}

/// What there is to say about a line besides its figures.
#[derive(Debug, Clone)]
pub enum Remark<'b> {
    /// Never counted: it counts as none aboard.
    NeverCounted,
    /// The log used so much more than there was since the count of that day.
    Negative { by: Held, counted: Date },
    /// Judged by its level, low or none: it counts as none aboard.
    Level(Level),
    /// The stores do not list it.
    NotInStores,
    /// It is asked for in a way that cannot be compared with what it is counted in; `None`: pieces.
    NotComparable(Option<Unit>),
    /// A guide does not say how much.
    NoAmount,
    /// What a guide asks for cannot be read.
    Unclear,
    /// It is good until a month that ends before the last day looked at.
    Expires(&'b Month),
    /// An unfinished job that needs it has used so much of it already.
    Begun { entry: &'b Entry, used: Held },
    /// None of the sizes it is sold in can be compared with what it is counted in.
    SoldOtherwise(Option<Unit>),
    /// A guide of another boat asks for it, and nobody has checked it against this one.
    NotChecked,
    /// More times were due than are counted.
    CountedNoFurther,
    /// The sizes are too many to be sure: other packs may leave less over.
    OtherPacks,
    /// The figures are too large to hold.
    TooLarge,
}

impl<'b> Provision<'b> {
    /// Lines with this standing.
    pub fn standing(&self, standing: Standing) -> impl Iterator<Item = &ProvisionLine<'b>> {
        self.lines.iter().filter(move |line| line.standing == standing)
    }
}

impl<'b> ProvisionLine<'b> {
    /// Whether the packs say more than the amount to buy: not where it is one pack of all of it, nor
    /// where they are single pieces.
    #[must_use]
    pub fn packs_say_more(&self) -> bool {
        let one = Held { value: Exact::from_integer(1), unit: None };
        let plain = |size: &Held, count: u64| (count == 1 && Some(*size) == self.buy && size.is_said_exactly()) || *size == one;
        !self.packs.iter().all(|(size, count)| plain(&Held::of(size), *count))
    }

    /// The guides that need it, each once, in the order of the book.
    #[must_use]
    pub fn uses(&self) -> Vec<Use<'b>> {
        let mut uses: Vec<Use<'b>> = Vec::new();
        let mut last: Option<(&Need<'b>, u64)> = None;
        for need in &self.needs {
            // A guide may name a part twice, to be changed and to be changed if worn: the job is done
            // no more often for that.
            let counted = match last {
                Some((before, counted)) if before.is_for_job_of(need) => counted,
                _ => 0,
            };
            let times = need.times.max(counted);
            last = Some((need, times));
            match uses.last_mut() {
                Some(used) if used.guide.id == need.guide.id => {
                    used.times = used.times.saturating_add(times - counted);
                    used.if_worn &= need.if_worn;
                    used.gear.extend(need.gear.filter(|_| counted == 0));
                }
                _ => uses.push(Use { guide: need.guide, gear: need.gear.into_iter().collect(), times, if_worn: need.if_worn }),
            }
        }
        uses
    }
}

impl Need<'_> {
    fn is_for_job_of(&self, other: &Self) -> bool {
        let gear = |need: &Self| need.gear.map(|gear| gear.id.value.clone());
        self.guide.id == other.guide.id && gear(self) == gear(other)
    }
}

impl<'b> Reckoning<'b> {
    /// What to have aboard for what lies ahead, and what to buy for it.
    #[must_use]
    pub fn provision(&self, ahead: Ahead<'b>) -> Provision<'b> {
        let course = match ahead {
            Ahead::Until(until) => Course::at_use_rates(self, until),
            Ahead::Passage(passage) => Course::of_passage(self, passage),
            Ahead::Occasion(id) => {
                return self.provision_by(ahead, self.on, |job| u64::from(job.guide.is_for_occasion(id)));
            }
        };
        self.provision_by(ahead, course.end, |job| self.falls(job, &course).times)
    }

    /// The last day that a list looks at where nobody says.
    #[must_use]
    pub fn days_ahead(&self) -> Date {
        days::later_by_days(self.on, DAYS_AHEAD).unwrap_or(Date::MAX)
    }

    /// The list for jobs that are done so many times each.
    pub(super) fn provision_by(&self, ahead: Ahead<'b>, end: Date, times: impl Fn(&JobState<'b>) -> u64) -> Provision<'b> {
        let needs = needs::Needs::of(self, times);
        let mut lines = Vec::new();
        for (stock, needs) in self.stock.iter().zip(needs.of_stores) {
            line::of_stores(stock, needs, end, &mut lines);
        }
        for (words, needs) in needs.unlisted {
            line::unlisted(words, needs, &mut lines);
        }
        let total = totals(lines.iter().filter_map(|line| line.cost.as_ref()));
        let unpriced = lines.iter().filter(|line| line.standing == Standing::Buy && line.cost.is_none()).count();
        Provision { ahead, end, lines, total, unpriced }
    }
}

/// One sum a currency, in the order they come. One that is too large to hold is left out: what could
/// still be added up would be less than is paid.
fn totals<'m>(costs: impl Iterator<Item = &'m Money>) -> Vec<Money> {
    let mut sums: Vec<(&str, Option<Money>)> = Vec::new();
    for cost in costs {
        match sums.iter_mut().find(|(code, _)| *code == cost.code()) {
            Some((_, sum)) => *sum = sum.take().and_then(|sum| sum.checked_add(cost)),
            None => sums.push((cost.code(), Some(cost.clone()))),
        }
    }
    sums.into_iter().filter_map(|(_, sum)| sum).collect()
}

#[cfg(test)]
#[path = "tests/provision.rs"]
mod tests;
