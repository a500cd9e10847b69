//! On which days a job falls due over a course, each time taken as done on that day.
//!
//! A meter rule is used up at a fraction of a day, kept exactly, and the next interval counts from
//! there; the calendar counts from whole days. Whichever rule comes first makes the job fall, and all
//! count on from then. Where a rounding must be chosen, it is the earlier day and the larger count:
//! parts may be left over, but must not run out.

use jiff::civil::Date;

use super::due::{JobState, State, counted_by};
use super::exact::{floor, minus, over, plus, whole};
use super::{Course, Reckoning, days};
use crate::book::model::{Rule, RuleBy};
use crate::quantity::{CalendarSpan, Exact};

/// Most days of one job that are kept one by one.
pub const MOST_DAYS: usize = 1_000;
/// Days of one job that a list names one by one.
const LISTED: usize = 4;
/// Where the counting of one job stops.
pub const MOST_TIMES: u64 = 100_000;

/// Jobs of this occasion are done before every passage.
pub(super) const BEFORE_PASSAGE: &str = "before-passage";

/// On which days a job falls due over a course, each time taken as done on that day.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Falls {
    /// Due on or before the first day: counted once, taken as done then.
    pub at_start: bool,
    /// Days it falls due after that, up to and including the last day, one for each time; at most
    /// [`MOST_DAYS`] are kept.
    pub days: Vec<Date>,
    /// All of them: at the start once, and every later time. [`MOST_TIMES`] stands for that many or
    /// more.
    pub times: u64,
    /// Ids of the meters, or `calendar`, by which it falls after the start, each once.
    pub by: Vec<String>,
    /// Some of the days rest on how a meter is expected to run.
    pub estimated: bool,
}

/// A rule of `every`, as it counts on from one time to the next.
struct Pace<'r> {
    by: &'r str,
    step: Step,
}

enum Step {
    /// So much of the way, above nothing.
    Way(Exact),
    Calendar(CalendarSpan),
}

/// A point of the way at which a job falls due.
struct Fall<'r> {
    point: Exact,
    by: &'r str,
    estimated: bool,
}

impl<'b> Reckoning<'b> {
    /// On which days a job falls due over a course.
    ///
    /// A meter rule whose baseline nobody can tell counts from the first day: by then it is used up at
    /// the latest.
    #[must_use]
    pub fn falls(&self, job: &JobState<'b>, course: &Course) -> Falls {
        let paces = paces(job, course);
        let firsts = firsts(job, course);
        let at_start = is_at_start(job, course) || firsts.iter().any(|fall| fall.point <= whole(0));
        let mut falls = Falls { at_start, times: u64::from(at_start), ..Falls::default() };
        let mut next = if at_start { after(&paces, course, &whole(0)) } else { earliest(firsts.into_iter()) };
        while let Some(fall) = next.take() {
            let Some(day) = course.day_of(&fall.point).filter(|_| fall.point <= course.length()) else {
                break;
            };
            falls.add(&fall, day);
            if falls.days.len() == MOST_DAYS {
                falls.times = counted_out(falls.times, &paces, course, &fall.point);
                break;
            }
            next = after(&paces, course, &fall.point);
        }
        falls
    }
}

impl Falls {
    /// The first days that a list names one by one, each once, and whether there are more.
    #[must_use]
    pub fn first_days(&self) -> (Vec<Date>, bool) {
        let mut days = self.days.clone();
        days.dedup();
        let more = days.len() > LISTED;
        days.truncate(LISTED);
        (days, more)
    }

    fn add(&mut self, fall: &Fall<'_>, day: Date) {
        self.times += 1;
        self.days.push(day);
        self.estimated |= fall.estimated;
        if !self.by.iter().any(|by| by == fall.by) {
            self.by.push(fall.by.to_owned());
        }
    }
}

/// Whether a job has to be done on the first day, or should have been done before.
fn is_at_start(job: &JobState<'_>, course: &Course) -> bool {
    let due = job.due_on.is_some_and(|due_on| due_on <= course.start);
    let before_passage = || job.guide.is_for_occasion(BEFORE_PASSAGE);
    due || matches!(job.state, State::NoRecord | State::Open) || (course.is_passage && before_passage())
}

/// The first time each rule of a job is used up.
fn firsts<'r>(job: &'r JobState<'_>, course: &Course) -> Vec<Fall<'r>> {
    let falls = job.rules.iter().filter_map(|rule| {
        let by = rule.by.as_str();
        if let RuleBy::Calendar(_) = &rule.rule.by {
            return Some(Fall { point: course.point_of(rule.due_on?)?, by, estimated: rule.estimated });
        }
        let meter = course.meter(by)?;
        let left = match &rule.target {
            Some(target) => minus(target, &meter.start.unwrap_or(whole(0)))?,
            None => rule.interval?,
        };
        Some(Fall { point: course.way_for(meter, &left)?, by, estimated: true })
    });
    falls.collect()
}

/// The rules of `every` that count on once a job was done. A round has none.
fn paces<'r>(job: &JobState<'r>, course: &Course) -> Vec<Pace<'r>> {
    let gear = job.gear;
    let pace = |rule: &'r Rule| {
        let by = counted_by(rule, gear);
        let step = match &rule.by {
            RuleBy::Calendar(span) => Step::Calendar(*span),
            RuleBy::Meter { interval, .. } | RuleBy::Own { interval } => {
                let meter = course.meter(by)?;
                let way = course.way_for(meter, &interval.in_unit(meter.unit)?)?;
                Step::Way(Some(way).filter(|way| *way > whole(0))?)
            }
        };
        Some(Pace { by, step })
    };
    if job.guide.routine { Vec::new() } else { job.guide.every.iter().filter_map(pace).collect() }
}

/// The next time a job falls due that was done at a point of the way.
fn after<'r>(paces: &[Pace<'r>], course: &Course, point: &Exact) -> Option<Fall<'r>> {
    earliest(paces.iter().filter_map(|pace| {
        let (point, estimated) = match &pace.step {
            Step::Way(way) => (plus(point, way)?, true),
            Step::Calendar(span) => (course.point_of(days::later_by(course.day_of(point)?, span)?)?, false),
        };
        Some(Fall { point, by: pace.by, estimated })
    }))
}

fn earliest<'r>(falls: impl Iterator<Item = Fall<'r>>) -> Option<Fall<'r>> {
    // Of several at one point the calendar comes last, as everywhere.
    falls.min_by(|a, b| (a.point, a.by == "calendar").cmp(&(b.point, b.by == "calendar")))
}

/// How often a job falls due in all, from the time it was counted to at a point of the way.
fn counted_out(counted: u64, paces: &[Pace<'_>], course: &Course, point: &Exact) -> u64 {
    // A rule that is alone falls at even steps, and with others beside it never less often.
    let left = minus(&course.length(), point);
    let alone = paces.iter().map(|pace| match &pace.step {
        Step::Way(way) => {
            let times = left.and_then(|left| floor(&over(&left, way)?));
            // What is too large to hold is more than is counted.
            times.map_or(MOST_TIMES, i64::unsigned_abs)
        }
        Step::Calendar(_) => 0,
    });
    let at_least = counted.saturating_add(alone.max().unwrap_or(0)).min(MOST_TIMES);
    if at_least == MOST_TIMES || matches!(paces, [Pace { step: Step::Way(_), .. }]) {
        return at_least;
    }
    let mut counted = counted;
    let mut next = after(paces, course, point);
    while let Some(fall) = next.take().filter(|fall| fall.point <= course.length()) {
        counted += 1;
        if counted >= MOST_TIMES {
            break;
        }
        next = after(paces, course, &fall.point);
    }
    counted
}
