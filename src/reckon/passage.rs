//! A planned passage: what is to be done before it, what falls due under way, what is clear.
//!
//! Each job is held against the passage alone: passages do not add up. What keeps her from leaving
//! comes first: defects to act on, then what is shut, off or apart, then other defects that must be put
//! right by then or limit how she may be used, then jobs, then gear that expires before the return.

use jiff::civil::Date;

use super::falls::BEFORE_PASSAGE;
use super::places::Findings;
use super::{Course, Defect, Falls, GearState, JobState, Reckoning, StillIsolated};
use crate::book::model::{Before, Book, Entry, Grade, Passage, Whereabouts};

/// A passage as of the day of the reckoning.
#[derive(Debug, Clone)]
pub struct PassageState<'r, 'b> {
    pub passage: &'b Passage,
    /// From departure to the day of return, and how the meters run.
    pub course: Course,
    /// Graded act, oldest first: first of all.
    pub to_act_on: Vec<&'r Defect<'b>>,
    /// Open entries that left something shut, off or apart, oldest first.
    pub left: Vec<&'b Entry>,
    /// What finished jobs left isolated until an occasion, oldest first.
    pub isolated: Vec<StillIsolated<'b>>,
    /// Graded watch, but to be put right before a passage, or by a day that comes before the return or on it: then
    /// nobody is at home to do it.
    pub to_put_right: Vec<&'r Defect<'b>>,
    /// Graded watch and in neither list, but until they are put right something must not be done.
    pub limiting: Vec<&'r Defect<'b>>,
    /// Every job: before, most pressing first; then under way, those first that cannot be done there,
    /// then by day; then clear.
    pub jobs: Vec<JobOnPassage<'r, 'b>>,
    /// Gear whose last good day comes before the day of return, soonest first: what is good until then is good enough.
    pub expiring: Vec<&'r GearState<'b>>,
}

/// A job held against a passage.
#[derive(Debug, Clone)]
pub struct JobOnPassage<'r, 'b> {
    pub job: &'r JobState<'b>,
    pub stage: OnPassage,
    pub falls: Falls,
    /// Whether it can be done there.
    pub under_way: UnderWay,
}

/// When a job is due, seen from a passage.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum OnPassage {
    /// To be done before departure; it may fall due again under way.
    Before,
    UnderWay,
    /// Not due by these figures.
    Clear,
}

impl OnPassage {
    /// As the JSON spells it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Before => "before",
            Self::UnderWay => "under way",
            Self::Clear => "clear",
        }
    }
}

/// Whether a job can be done under way, by what its guide says; those that cannot come first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum UnderWay {
    /// Its guide names places, and this is none of them.
    Cannot,
    /// Its guide names no place.
    NotSaid,
    Can,
}

impl UnderWay {
    fn of(places: &[Whereabouts]) -> Self {
        match places {
            [] => Self::NotSaid,
            _ if places.contains(&Whereabouts::UnderWay) => Self::Can,
            _ => Self::Cannot,
        }
    }
}

impl PassageState<'_, '_> {
    /// The jobs of one kind.
    pub fn jobs_that_are(&self, stage: OnPassage) -> impl Iterator<Item = &JobOnPassage<'_, '_>> {
        self.jobs.iter().filter(move |job| job.stage == stage)
    }
}

/// Holds everything against a passage of the book.
#[must_use]
pub fn passage<'r, 'b>(reckoning: &'r Reckoning<'b>, passage: &'b Passage) -> PassageState<'r, 'b> {
    let course = Course::of_passage(reckoning, passage);
    let mut jobs: Vec<JobOnPassage<'r, 'b>> =
        reckoning.by_urgency().into_iter().map(|job| on_passage(job, reckoning.falls(job, &course))).collect();
    // The order of urgency stays within what is alike.
    jobs.sort_by_key(|job| match job.stage {
        OnPassage::UnderWay => (job.stage, Some(job.under_way), job.falls.days.first().copied()),
        stage => (stage, None, None),
    });
    let graded = |grade: Grade| reckoning.defects.iter().filter(move |defect| defect.grade() == grade);
    let is_wanted = |defect: &&Defect<'b>| is_wanted_by(defect.before(), course.end);
    let mut expiring: Vec<_> = reckoning.gear.iter().filter(|gear| gear.expires.is_some_and(|month| month.last_day < course.end)).collect();
    expiring.sort_by_key(|gear| gear.expires.map(|month| month.last_day));
    PassageState {
        passage,
        to_act_on: graded(Grade::Act).collect(),
        left: reckoning.left().collect(),
        isolated: reckoning.still_isolated(),
        to_put_right: graded(Grade::Watch).filter(is_wanted).collect(),
        limiting: graded(Grade::Watch).filter(|defect| !is_wanted(defect) && limits_use(defect)).collect(),
        jobs,
        expiring,
        course,
    }
}

fn on_passage<'r, 'b>(job: &'r JobState<'b>, falls: Falls) -> JobOnPassage<'r, 'b> {
    let stage = match (falls.at_start, falls.times) {
        (true, _) => OnPassage::Before,
        (false, 0) => OnPassage::Clear,
        (false, _) => OnPassage::UnderWay,
    };
    JobOnPassage { job, stage, falls, under_way: UnderWay::of(&job.guide.places) }
}

fn limits_use(defect: &Defect<'_>) -> bool {
    defect.finding().is_some_and(|finding| finding.limits_use.is_some())
}

fn is_wanted_by(before: Option<&Before>, end: Date) -> bool {
    match before {
        Some(Before::Month(month)) => month.last_day <= end,
        Some(Before::Occasion(occasion)) => occasion.value == BEFORE_PASSAGE,
        None => false,
    }
}

/// Tells of passages that have left: what they call for can no longer be done before.
pub(super) fn departed<'b>(book: &'b Book, on: Date, findings: &mut Findings<'b>) {
    for passage in book.passages.iter().filter(|passage| passage.depart < on) {
        let place = findings.in_passages(passage.id.span);
        findings.warning(
            "passage-departed",
            place,
            format!("`{}` left on {}, before {on}", passage.id.value, passage.depart),
            "move its departure if it is still to come, or take it out".to_owned(),
        );
    }
}
