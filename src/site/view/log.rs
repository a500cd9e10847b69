//! The log: the index, and pages of at most a hundred entries.

use super::{DateView, Fact, Html, Link};
use serde::Serialize;

/// One entry in a list.
#[derive(Debug, Clone, Serialize)]
pub struct EntryRef {
    pub href: String,
    pub date: DateView,
    /// Titles of its jobs and work, or `Note`.
    pub title: String,
    pub open: bool,
    /// Graded watch or act.
    pub findings: usize,
}

/// A finding of an entry.
#[derive(Debug, Clone, Serialize)]
pub struct FindingView {
    /// Fragment on the log page: `2025-11-02-rig-check--1`.
    pub anchor: String,
    pub what: String,
    /// `good`, `watch`, `act`.
    pub grade: String,
    /// `no fault seen`, `keep an eye on`, `to be put right`.
    pub grade_text: String,
    pub before: Option<String>,
    pub limits_use: Option<String>,
    pub guide: Option<Link>,
    pub gear: Option<Link>,
    /// The entry that put it right.
    pub cleared: Option<Link>,
    /// What the entry that cleared it found instead.
    pub followed: Option<Link>,
}

/// Money spent, crew edition only.
#[derive(Debug, Clone, Serialize)]
pub struct CostView {
    pub what: String,
    pub cost: String,
}

/// One entry as an article.
#[derive(Debug, Clone, Serialize)]
pub struct EntryView {
    pub id: String,
    pub date: DateView,
    /// Set where it was begun on another day.
    pub started: Option<DateView>,
    pub title: String,
    pub open: bool,
    pub reached: Option<Link>,
    pub left: Vec<String>,
    /// Guides, with the gear where there are several: `Raw-water impeller (Main engine)`.
    pub jobs: Vec<Link>,
    pub work: Vec<String>,
    pub system: Option<Link>,
    pub gear: Vec<Link>,
    pub meters: Vec<Fact>,
    pub time: Option<String>,
    /// `2 × Oil filter`.
    pub parts: Vec<Link>,
    pub readings: Vec<Fact>,
    pub findings: Vec<FindingView>,
    /// Findings of earlier entries put right here.
    pub clears: Vec<Link>,
    /// Findings of earlier entries that it clears, and found again.
    pub follows: Vec<Link>,
    pub fitted: Vec<Fact>,
    pub except: Vec<String>,
    pub costs: Vec<CostView>,
    /// `the owner`, `a yard`, `licensed`.
    pub done_by: Option<String>,
    /// Names and place; crew edition only.
    pub by: Option<String>,
    pub place: Option<String>,
    pub basis: Option<String>,
    pub papers: Vec<Link>,
    pub private: bool,
    pub notes: Html,
}

/// Up to a hundred entries of one year, newest first.
#[derive(Debug, Clone, Serialize)]
pub struct LogPage {
    pub year: i16,
    /// 1 for the oldest hundred.
    pub part: usize,
    pub parts: Vec<Link>,
    pub entries: Vec<EntryView>,
    pub earlier: Option<Link>,
    pub later: Option<Link>,
}

/// A year in the index.
#[derive(Debug, Clone, Serialize)]
pub struct LogYear {
    pub year: i16,
    pub pages: Vec<Link>,
    pub count: usize,
    /// `86 entries`.
    pub count_text: String,
    pub entries: Vec<EntryRef>,
}

/// The index of the log.
#[derive(Debug, Clone, Serialize)]
pub struct LogIndex {
    pub years: Vec<LogYear>,
    pub total: usize,
    /// The lists of single entries are left out: there are too many.
    pub abridged: bool,
    /// The feed of the log, where there is one.
    pub feed: Option<String>,
}
