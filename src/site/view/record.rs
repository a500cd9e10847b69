//! The boat's record: a document of numbered sections, on one page or on several.

use super::{DateView, Fact, Link};
use serde::Serialize;

#[derive(Debug, Clone, Serialize)]
pub struct RecordPage {
    /// Title block, contents and summary; only of the first page.
    pub front: Option<RecordFront>,
    /// The first page, on all others.
    pub over: Option<Link>,
    pub sections: Vec<RecordSection>,
}

/// What the document begins with.
#[derive(Debug, Clone, Serialize)]
pub struct RecordFront {
    pub boat: Vec<Fact>,
    pub meters: Vec<Fact>,
    /// `1 April 2016 to 22 November 2026`.
    pub period: Option<String>,
    /// How many entries, and how many of which kind.
    pub counts: Vec<Fact>,
    pub contents: Vec<RecordContents>,
    pub csv: String,
    pub json: String,
    /// Sixty-four digits, in groups of eight.
    pub fingerprint: Vec<String>,
}

/// A line of the contents.
#[derive(Debug, Clone, Serialize)]
pub struct RecordContents {
    /// `4`, or `4.2`.
    pub number: String,
    pub to: Link,
    /// `23 entries`.
    pub holds: String,
    /// The number that its first sheet bears: `4-1`.
    pub first_sheet: String,
}

/// A section; one of the lists is filled, or it is the words about fingerprints.
#[derive(Debug, Clone, Serialize)]
pub struct RecordSection {
    pub number: String,
    /// Name of the kind of sheet in the style, and fragment after `_`: `s4-2`.
    pub sheet: String,
    pub title: String,
    pub entries: Vec<RecordEntry>,
    pub intervals: Vec<RecordInterval>,
    pub findings: Vec<RecordFinding>,
    pub gear: Vec<RecordGear>,
    pub is_proof: bool,
    /// Nothing is in it: why.
    pub empty: Option<String>,
}

/// An entry as far as it belongs to the system of its section.
#[derive(Debug, Clone, Serialize)]
pub struct RecordEntry {
    /// Fragment, where the entry has its place; empty where it is named once more.
    pub anchor: String,
    pub date: DateView,
    pub started: Option<DateView>,
    pub open: bool,
    pub meters: Vec<Fact>,
    pub jobs: Vec<RecordJob>,
    pub work: Vec<String>,
    pub parts: Vec<String>,
    pub fitted: Vec<Fact>,
    pub findings: Vec<RecordFound>,
    pub clears: Vec<Link>,
    /// Cleared by it, and found again.
    pub follows: Vec<Link>,
    pub except: Vec<String>,
    pub left: Vec<String>,
    /// The public words of its notes, once.
    pub notes: Option<String>,
    /// By whom, how it is known, and that a paper is on file.
    pub vouched: Vec<String>,
    /// The other sections that have something of it.
    pub also: Vec<Link>,
    /// The first digits of its fingerprint.
    pub fingerprint: String,
}

/// A job that was done, with the guide that was followed.
#[derive(Debug, Clone, Serialize)]
pub struct RecordJob {
    pub title: String,
    /// `guide of 1 February 2026`, or that it was revised since.
    pub revision: String,
}

/// A finding beside its entry.
#[derive(Debug, Clone, Serialize)]
pub struct RecordFound {
    pub what: String,
    pub grade_text: String,
    pub cleared: Option<RecordCleared>,
}

/// By which entry a finding was put right, or what that entry found instead.
#[derive(Debug, Clone, Serialize)]
pub struct RecordCleared {
    pub on: DateView,
    pub by: Link,
    pub followed: Option<Link>,
}

/// A rule of a job beside what was kept of it.
#[derive(Debug, Clone, Serialize)]
pub struct RecordInterval {
    pub title: String,
    /// `200 h (Engine hours)`.
    pub rule: String,
    /// Oldest first, in the unit of the rule.
    pub spans: String,
    pub largest: Option<String>,
    pub median: Option<String>,
    /// `3 of 5`.
    pub within: Option<String>,
}

#[derive(Debug, Clone, Serialize)]
pub struct RecordFinding {
    pub what: String,
    /// Readings outside their limits that it tells of.
    pub readings: Vec<String>,
    pub grade_text: String,
    /// Of one that waits: until when it should be put right.
    pub before: Option<String>,
    pub limits_use: Option<String>,
    pub found: DateView,
    pub entry: Link,
    pub cleared: Option<RecordCleared>,
}

#[derive(Debug, Clone, Serialize)]
pub struct RecordGear {
    pub title: String,
    pub system: Option<String>,
    pub fitted: Option<DateView>,
    /// What its meter showed then.
    pub fitted_at: Option<String>,
    /// By which entry the present one came, where one did.
    pub renewed: Option<Link>,
    pub expires: Option<DateView>,
    /// It is past that day.
    pub expired: bool,
}
