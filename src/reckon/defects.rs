//! Defects: what an inspection saw and no work has put right yet, and readings outside their limits.
//!
//! Only a finished entry that clears a finding ends it; that a later inspection no longer mentions it
//! does not. A reading counts by its latest value alone: one inside the limits ends the matter.

use std::collections::{HashMap, HashSet};

use super::places::Findings;
use super::readings::{ReadingAt, ReadingHistory};
use crate::book::model::{Before, Book, Entry, Finding, Gear, Grade, Guide, ReadingSpec};
use crate::quantity::Figure;

/// Something aboard that waits to be put right or kept an eye on.
#[derive(Debug, Clone)]
pub struct Defect<'b> {
    /// The entry that tells of it.
    pub entry: &'b Entry,
    pub seen: Seen<'b>,
    /// Of a finding to act on: what the same entry read outside its limits in the same job, of the same gear. That is one
    /// fault told twice, and no defect of its own while the finding stands.
    pub readings: Vec<OutsideLimits<'b>>,
}

/// How a defect came to be known.
#[derive(Debug, Clone, Copy)]
pub enum Seen<'b> {
    /// A finding graded watch or act that no entry has cleared.
    Finding {
        /// Counted from 1 in its entry.
        number: usize,
        finding: &'b Finding,
    },
    /// The latest value of a reading is outside its limits.
    Reading(OutsideLimits<'b>),
}

/// A latest value outside the limits of its guide.
#[derive(Debug, Clone, Copy)]
pub struct OutsideLimits<'b> {
    pub guide: &'b Guide,
    pub spec: &'b ReadingSpec,
    /// As the guide spells it; `None`: there is a single point.
    pub point: Option<&'b str>,
    pub gear: Option<&'b Gear>,
    pub value: ReadingAt<'b>,
}

impl OutsideLimits<'_> {
    /// Its limits as people say them: `limit at most 8 kg`, `limits 2.5 to 5.0 bar`.
    #[must_use]
    pub fn limits(&self) -> String {
        let limits = self.spec.limits.as_ref();
        let both = matches!(limits, Some(Figure::Range { low: Some(_), high: Some(_) }));
        format!("{} {}", if both { "limits" } else { "limit" }, limits.map(said).unwrap_or_default())
    }
}

impl<'b> Defect<'b> {
    /// What an entry writes under `clears` once it is put right: `2025-11-02-rig-check/1`. `None`:
    /// a reading, which the next one clears.
    #[must_use]
    pub fn reference(&self) -> Option<String> {
        match self.seen {
            Seen::Finding { number, .. } => Some(format!("{}/{number}", self.entry.id)),
            Seen::Reading(_) => None,
        }
    }

    /// A reading outside its limits is always one to act on.
    #[must_use]
    pub fn grade(&self) -> Grade {
        match self.seen {
            Seen::Finding { finding, .. } => finding.grade,
            Seen::Reading(_) => Grade::Act,
        }
    }

    /// The finding, where an inspection saw it.
    #[must_use]
    pub fn finding(&self) -> Option<&'b Finding> {
        match self.seen {
            Seen::Finding { finding, .. } => Some(finding),
            Seen::Reading(_) => None,
        }
    }

    /// Id of the guide of the job that puts it right, or that read it; it may be a former one.
    #[must_use]
    pub fn guide(&self) -> Option<&'b str> {
        match self.seen {
            Seen::Finding { finding, .. } => finding.guide.as_ref().map(|name| name.value.as_str()),
            Seen::Reading(outside) => Some(outside.guide.id.as_str()),
        }
    }

    /// Id of the gear it is about.
    #[must_use]
    pub fn gear(&self) -> Option<&'b str> {
        match self.seen {
            Seen::Finding { finding, .. } => finding.gear.as_ref().map(|name| name.value.as_str()),
            Seen::Reading(outside) => outside.gear.map(|gear| gear.id.value.as_str()),
        }
    }

    /// By when it must be put right.
    #[must_use]
    pub fn before(&self) -> Option<&'b Before> {
        self.finding().and_then(|finding| finding.before.as_ref())
    }
}

/// A defect that an entry cleared: put right, or found again by that same entry.
#[derive(Debug, Clone, Copy)]
pub struct Cleared<'b> {
    /// The entry that found it.
    pub entry: &'b Entry,
    /// Counted from 1 in its entry.
    pub number: usize,
    pub finding: &'b Finding,
    /// The first finished entry that cleared it.
    pub by: &'b Entry,
    /// What that entry found about the same thing, still to be watched or put right: then nobody may say that this was
    /// put right.
    pub followed: Option<Followed<'b>>,
}

/// A finding of the entry that cleared an earlier one of the same thing.
#[derive(Debug, Clone, Copy)]
pub struct Followed<'b> {
    /// Counted from 1 in its entry.
    pub number: usize,
    pub finding: &'b Finding,
}

impl Cleared<'_> {
    /// What names the finding that follows it: `2026-09-19-steering-wire/1`.
    #[must_use]
    pub fn followed_reference(&self) -> Option<String> {
        self.followed.map(|followed| format!("{}/{}", self.by.id, followed.number))
    }
}

/// Defects, those to act on first and then the oldest first; and those put right, by the day they
/// were, newest first. Entries come oldest first.
///
/// Each latest reading outside its limits is also told of as `reading-outside-limits`.
pub(super) fn defects<'b>(
    entries: &[&'b Entry],
    readings: &[ReadingHistory<'b>],
    book: &'b Book,
    findings: &mut Findings<'b>,
) -> (Vec<Defect<'b>>, Vec<Cleared<'b>>) {
    let mut clearing: HashMap<(&str, usize), Vec<&Entry>> = HashMap::new();
    // Work that is not finished has put nothing right yet.
    for &entry in entries.iter().filter(|entry| !entry.when.is_open()) {
        for finding in &entry.clears {
            clearing.entry((finding.entry.as_str(), finding.number)).or_default().push(entry);
        }
    }
    let mut outside = outside(readings, findings);
    let mut defects = Vec::new();
    let mut cleared = Vec::new();
    for &entry in entries {
        for (at, finding) in entry.findings.iter().enumerate() {
            let number = at + 1;
            // Work that came before the finding did not put it right, whatever it says.
            let by = clearing.get(&(entry.id.as_str(), number)).and_then(|all| all.iter().find(|by| !by.is_before(entry)));
            match by {
                _ if finding.grade == Grade::Good => {}
                Some(by) => cleared.push(Cleared { entry, number, finding, by, followed: followed(book, entry, finding, by) }),
                None => defects.push(Defect { entry, seen: Seen::Finding { number, finding }, readings: Vec::new() }),
            }
        }
        for reading in outside.remove(entry.id.as_str()).into_iter().flatten() {
            let of_entry = defects.iter_mut().rev().take_while(|defect| std::ptr::eq(defect.entry, entry));
            // The first of the entry's findings.
            match of_entry.filter(|defect| tells_of(book, defect, &reading)).last() {
                Some(defect) => defect.readings.push(reading),
                None => defects.push(Defect { entry, seen: Seen::Reading(reading), readings: Vec::new() }),
            }
        }
    }
    defects.sort_by_key(Defect::grade);
    cleared.sort_by(|a, b| {
        let day = |cleared: &Cleared<'b>| cleared.by.when.day().date;
        day(b).cmp(&day(a)).then_with(|| b.by.id.cmp(&a.by.id))
    });
    (defects, cleared)
}

/// Whether a finding says in the crew's words what a reading of its entry shows: it must be one to act on, as a reading
/// outside its limits is, and both must lead to the same job and the same gear.
fn tells_of(book: &Book, defect: &Defect<'_>, reading: &OutsideLimits<'_>) -> bool {
    let Some(finding) = defect.finding().filter(|finding| finding.grade == Grade::Act) else { return false };
    let guide = finding.guide.as_ref().and_then(|name| book.guide_or_former(&name.value));
    guide.is_some_and(|guide| guide.id == reading.guide.id)
        && reading.gear.is_none_or(|gear| finding.gear.as_ref().is_some_and(|name| name.value == gear.id.value))
}

/// The gravest finding of the clearing entry about the same thing. The same gear is the same thing, whatever else is said
/// of it; where neither has gear, the same job.
fn followed<'b>(book: &'b Book, entry: &Entry, finding: &Finding, by: &'b Entry) -> Option<Followed<'b>> {
    let jobs = jobs_of(book, entry, finding);
    let is_same = |later: &Finding| match (gear_of(entry, finding), gear_of(by, later)) {
        (None, None) => jobs_of(book, by, later).iter().any(|job| jobs.contains(job)),
        (gear, gear_then) => gear == gear_then,
    };
    let later = by.findings.iter().enumerate().filter(|(_, later)| later.grade != Grade::Good && is_same(later));
    later.min_by_key(|(_, later)| later.grade).map(|(at, finding)| Followed { number: at + 1, finding })
}

/// The gear of a finding: its own, else that of the only job or of the entry.
fn gear_of<'e>(entry: &'e Entry, finding: &'e Finding) -> Option<&'e str> {
    let own = finding.gear.as_ref().map(|name| name.value.as_str());
    let of_job = || if let [job] = entry.jobs.as_slice() { job.gear.as_deref() } else { None };
    let of_entry = || if let [name] = entry.gear.as_slice() { Some(name.value.as_str()) } else { None };
    own.or_else(of_job).or_else(of_entry)
}

/// The present ids of the job that a finding names, else of those of its entry.
fn jobs_of<'e>(book: &'e Book, entry: &'e Entry, finding: &'e Finding) -> Vec<&'e str> {
    let present = |id: &'e str| book.guide_or_former(id).map_or(id, |guide| guide.id.as_str());
    match &finding.guide {
        Some(name) => vec![present(&name.value)],
        None => entry.jobs.iter().map(|job| present(&job.guide)).collect(),
    }
}

/// Latest values outside their limits, by entry and in the order of the readings; one value that
/// two guides ask for is one.
fn outside<'b>(readings: &[ReadingHistory<'b>], findings: &mut Findings<'b>) -> HashMap<&'b str, Vec<OutsideLimits<'b>>> {
    let mut outside: HashMap<&str, Vec<OutsideLimits<'_>>> = HashMap::new();
    let mut told = HashSet::new();
    for history in readings {
        let Some(value) = history.latest().filter(|value| value.outside && !read_again(history, value, readings)) else {
            continue;
        };
        let entry = value.entry;
        if !told.insert((entry.id.as_str(), value.span)) {
            continue;
        }
        let ReadingHistory { guide, spec, point, gear, .. } = *history;
        tell(history, value, findings);
        outside.entry(entry.id.as_str()).or_default().push(OutsideLimits { guide, spec, point, gear, value: *value });
    }
    outside
}

/// A value that was noted without its gear, where the guide is for several, is over once all of
/// them have been read later.
fn read_again(history: &ReadingHistory<'_>, value: &ReadingAt<'_>, readings: &[ReadingHistory<'_>]) -> bool {
    if history.gear.is_some() || history.guide.for_gear.is_empty() {
        return false;
    }
    let after = |other: &ReadingAt<'_>| (other.date.date, other.entry.id.as_str()) > (value.date.date, value.entry.id.as_str());
    history.guide.for_gear.iter().all(|name| {
        readings.iter().any(|other| {
            std::ptr::eq(other.spec, history.spec)
                && other.point == history.point
                && other.gear.is_some_and(|gear| gear.id.value == name.value)
                && other.values.first().is_some_and(after)
        })
    })
}

fn tell<'b>(history: &ReadingHistory<'b>, value: &ReadingAt<'b>, findings: &mut Findings<'b>) {
    let Some(limits) = &history.spec.limits else {
        return;
    };
    let of = [history.point, history.gear.map(|gear| gear.id.value.as_str())].into_iter().flatten();
    let of = of.map(|word| format!(", {word}")).collect::<String>();
    let place = findings.in_entry(value.entry, value.span);
    findings.warning(
        "reading-outside-limits",
        place,
        format!("`{}{of}` is {}, outside the limits of `{}`: {}", history.spec.id, value.written, history.guide.id, said(limits)),
        "put it right and note the next reading: this goes when a later one is within the limits; correct the figure if it is a slip"
            .to_owned(),
    );
}

/// Limits as people say them: a bare `12.4.. V` is a key of the format.
fn said(limits: &Figure) -> String {
    match limits {
        Figure::Range { low: Some(low), high: Some(high) } if low.unit() == high.unit() => {
            format!("{} to {}", low.number().written(), high.written())
        }
        Figure::Range { low: Some(low), high: None } => format!("at least {}", low.written()),
        Figure::Range { low: None, high: Some(high) } => format!("at most {}", high.written()),
        Figure::Range { .. } | Figure::Exact(_) | Figure::Tolerance { .. } => limits.to_string(),
    }
}
