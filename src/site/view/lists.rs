//! Pages that are lists: guides, a system, stores, tools, gear, occasions, defects, meters,
//! cautions, and what this book is.

use super::{CautionView, DateView, DueView, EntryRef, Fact, Html, Link, MeterNow, More};
use serde::Serialize;

/// One job in a list of jobs.
#[derive(Debug, Clone, Serialize)]
pub struct DueRow {
    /// Of a guide of another boat that was never held against this one, where no interval says so.
    pub unchecked: Option<String>,
    pub guide: Link,
    pub system: Link,
    pub summary: Option<String>,
    pub due: DueView,
}

/// A finding not yet put right, or a reading outside its limits.
#[derive(Debug, Clone, Serialize)]
pub struct DefectView {
    /// `watch` or `act`.
    pub grade: String,
    pub grade_text: String,
    pub what: String,
    /// Readings outside their limits that the finding tells of.
    pub readings: Vec<String>,
    pub found: DateView,
    /// The entry that found it.
    pub entry: Link,
    pub guide: Option<Link>,
    pub gear: Option<Link>,
    pub system: Option<Link>,
    /// `September 2026`, `haul-out`.
    pub before: Option<String>,
    /// The date in `before` is past.
    pub late: bool,
    pub limits_use: Option<String>,
}

/// Jobs of one system.
#[derive(Debug, Clone, Serialize)]
pub struct SystemGroup {
    pub id: String,
    pub system: Link,
    pub jobs: Vec<DueRow>,
    pub jobs_more: Option<More>,
}

/// All guides, by system.
#[derive(Debug, Clone, Serialize)]
pub struct GuidesPage {
    /// Open jobs that left something shut, off or apart: who picks a guide must know.
    pub left: Vec<super::OpenJob>,
    pub left_more: Option<More>,
    pub groups: Vec<SystemGroup>,
    pub total: usize,
}

/// One system: its gear, guides, defects and history.
#[derive(Debug, Clone, Serialize)]
pub struct SystemPage {
    pub id: String,
    pub title: String,
    pub jobs: Vec<DueRow>,
    pub jobs_more: Option<More>,
    pub gear: Vec<GearRow>,
    pub gear_more: Option<More>,
    pub defects: Vec<DefectView>,
    pub defects_more: Option<More>,
    pub entries: Vec<EntryRef>,
    pub entries_more: usize,
}

/// A line of the stores.
#[derive(Debug, Clone, Serialize)]
pub struct StoreRow {
    pub id: String,
    pub title: String,
    pub href: String,
    pub part_number: Option<String>,
    pub stowed: Option<String>,
    /// `2`, `4.5 L`, `plenty`, `never counted`.
    pub aboard: String,
    /// How it comes about: `4 counted on 5 January 2026, 1 used since`.
    pub reckoned: Option<String>,
    /// What was bought and used since the count, oldest first.
    pub moves: Vec<MoveView>,
    pub minimum: Option<String>,
    /// Under its minimum, or its level is low or none.
    pub low: bool,
    pub sold_in: Option<String>,
    pub price: Option<String>,
    pub also_fits: Vec<String>,
    /// Anything else, in the crew's words.
    pub note: Option<String>,
    pub expires: Option<DateView>,
    pub expired: bool,
    /// Guides that use it.
    pub guides: Vec<Link>,
    pub guides_more: Option<More>,
}

/// Something that changed what is aboard.
#[derive(Debug, Clone, Serialize)]
pub struct MoveView {
    pub date: DateView,
    /// `2 bought`, `1 used`.
    pub text: String,
    /// The entry that used it.
    pub entry: Option<Link>,
}

#[derive(Debug, Clone, Serialize)]
pub struct StoresPage {
    pub stores: Vec<StoreRow>,
    pub stores_more: Option<More>,
    pub low: usize,
}

/// A line of the tools.
#[derive(Debug, Clone, Serialize)]
pub struct ToolRow {
    pub id: String,
    pub href: String,
    pub title: String,
    pub stowed: Option<String>,
    /// Anything else, in the crew's words.
    pub note: Option<String>,
    pub guides: Vec<Link>,
    pub guides_more: Option<More>,
}

#[derive(Debug, Clone, Serialize)]
pub struct ToolsPage {
    pub tools: Vec<ToolRow>,
    pub tools_more: Option<More>,
    /// Plain words in guides: not in the list of tools aboard.
    pub other: Vec<ToolRow>,
    pub other_more: Option<More>,
}

/// A piece of gear.
#[derive(Debug, Clone, Serialize)]
pub struct GearRow {
    pub id: String,
    pub title: String,
    pub href: String,
    pub system: Option<Link>,
    pub expires: Option<DateView>,
    pub expired: bool,
    /// Whole days from the day of publication to the expiry.
    pub days: Option<i64>,
    pub days_text: Option<String>,
    pub fitted: Option<DateView>,
    /// Entry that renewed it.
    pub renewed: Option<Link>,
    pub meter: Option<Link>,
    pub guide: Option<Link>,
    pub serial: Option<String>,
    /// Anything else, in the crew's words.
    pub note: Option<String>,
    /// Jobs reckoned for this piece.
    pub jobs: Vec<DueRow>,
    pub jobs_more: Option<More>,
    pub defects: usize,
}

#[derive(Debug, Clone, Serialize)]
pub struct GearPage {
    /// With an expiry date, soonest first.
    pub dated: Vec<GearRow>,
    pub dated_more: Option<More>,
    pub groups: Vec<GearGroup>,
    pub groups_more: Option<More>,
}

/// Gear of one system.
#[derive(Debug, Clone, Serialize)]
pub struct GearGroup {
    pub title: String,
    pub gear: Vec<GearRow>,
}

/// Jobs of one occasion.
#[derive(Debug, Clone, Serialize)]
pub struct OccasionGroup {
    pub id: String,
    pub title: String,
    pub jobs: Vec<DueRow>,
    pub jobs_more: Option<More>,
    pub defects: Vec<DefectView>,
    pub defects_more: Option<More>,
}

#[derive(Debug, Clone, Serialize)]
pub struct OccasionsPage {
    pub occasions: Vec<OccasionGroup>,
}

#[derive(Debug, Clone, Serialize)]
pub struct DefectsPage {
    pub act: Vec<DefectView>,
    pub act_more: Option<More>,
    pub watch: Vec<DefectView>,
    pub watch_more: Option<More>,
    /// Put right lately.
    pub cleared: Vec<ClearedView>,
    /// Found again lately by the entry that cleared them.
    pub followed: Vec<ClearedView>,
}

/// A defect that has been cleared.
#[derive(Debug, Clone, Serialize)]
pub struct ClearedView {
    pub what: String,
    pub found: DateView,
    pub entry: Link,
    pub cleared_on: DateView,
    /// The entry; of one that was found again, that finding.
    pub cleared_by: Link,
}

/// One reading of a meter.
#[derive(Debug, Clone, Serialize)]
pub struct MeterReading {
    pub date: DateView,
    /// As the counter showed it.
    pub shown: String,
    /// Over all counters; `None` where it is the same.
    pub continuous: Option<String>,
    /// The value is only known about; whether the day is, it says itself.
    pub about: bool,
    /// The counter was replaced: the new one began at this value.
    pub replaced: Option<String>,
    pub entry: Option<Link>,
}

#[derive(Debug, Clone, Serialize)]
pub struct MeterHistory {
    pub id: String,
    pub now: MeterNow,
    /// From two readings on.
    pub plot: Option<super::PlotView>,
    /// Jobs that go by this meter, the next first.
    pub due: Vec<super::MeterDue>,
    pub due_more: Option<More>,
    pub readings: Vec<MeterReading>,
    pub readings_more: Option<More>,
}

#[derive(Debug, Clone, Serialize)]
pub struct MetersPage {
    pub meters: Vec<MeterHistory>,
}

#[derive(Debug, Clone, Serialize)]
pub struct CautionsPage {
    pub cautions: Vec<HazardView>,
}

/// A usual caution with the guides it stands in.
#[derive(Debug, Clone, Serialize)]
pub struct HazardView {
    pub id: String,
    pub caution: CautionView,
    pub guides: Vec<Link>,
    pub guides_more: Option<More>,
}

/// The page to search from.
#[derive(Debug, Clone, Serialize)]
pub struct SearchPage {
    /// Where to look without scripts.
    pub lists: Vec<Link>,
}

/// A problem of the book that did not stop the publish.
#[derive(Debug, Clone, Serialize)]
pub struct ProblemView {
    pub severity: String,
    pub place: String,
    pub message: Html,
    pub remedy: Html,
}

#[derive(Debug, Clone, Serialize)]
pub struct AboutPage {
    pub facts: Vec<Fact>,
    pub private_facts: Vec<Fact>,
    pub counts: Vec<Fact>,
    pub problems: Vec<ProblemView>,
    pub problems_more: usize,
    pub version: String,
    pub notes: Html,
    /// The file that holds all guides, where there is one.
    pub pocket: Option<String>,
    /// There are more guides than one file may hold.
    pub no_pocket: bool,
    /// The dates as a calendar, and the feed of the log.
    pub calendar: Option<String>,
    pub feed: Option<String>,
}
