//! The first page: how the boat stands.

use super::{DateView, DefectView, DueRow, EntryRef, GearRow, Link, More, OpenJob, StoreRow};
use serde::Serialize;

/// A meter as it stands.
#[derive(Debug, Clone, Serialize)]
pub struct MeterNow {
    pub title: String,
    pub href: String,
    /// `1840.5 h` as last read, or `about 1840 h`; `None`: never read.
    pub value: Option<String>,
    /// A day, or `about May 2026`.
    pub read_on: Option<DateView>,
    /// Carried on to the day of publication: `about 1,852 h`.
    pub estimate: Option<String>,
    /// `212 h a year; 31 h in the last 90 days`.
    pub rate: Option<String>,
}

/// State of the boat.
#[derive(Debug, Clone, Serialize)]
pub struct HomePage {
    /// Open jobs that left something shut, off or apart; heads the page.
    pub left: Vec<OpenJob>,
    pub left_more: Option<More>,
    /// Graded act, then watch.
    pub defects: Vec<DefectView>,
    /// Graded watch, and only on the page of the defects.
    pub defects_more: usize,
    /// Overdue, no record, due.
    pub late: Vec<DueRow>,
    pub late_more: Option<More>,
    pub soon: Vec<DueRow>,
    pub soon_more: Option<More>,
    pub open: Vec<OpenJob>,
    pub open_more: Option<More>,
    /// How many jobs are later, on occasion, as needed: nothing to do now.
    pub quiet: usize,
    /// How many jobs go by meters that were read never, or too seldom.
    pub unreckoned: usize,
    pub low_stores: Vec<StoreRow>,
    pub low_stores_more: Option<More>,
    /// Expired, or expiring within 90 days.
    pub expiring: Vec<GearRow>,
    pub expiring_more: Option<More>,
    pub meters: Vec<MeterNow>,
    pub latest: Vec<EntryRef>,
    pub systems: Vec<Link>,
    /// Nothing in the book yet but the boat.
    pub empty_book: bool,
    /// Entries left out because they are later than the day of the reckoning.
    pub left_out: usize,
    /// The feed of the log, where there is one.
    pub feed: Option<String>,
    /// The calendar of dates, where there is one.
    pub calendar: Option<String>,
}
