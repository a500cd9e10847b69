//! Planned passages: the list, and a sheet for each to work off before leaving. Crew only.

use super::{DateView, DefectView, DueRow, GearRow, Link, More, OpenJob};
use serde::Serialize;

/// All passages, by departure.
#[derive(Debug, Clone, Serialize)]
pub struct PassagesPage {
    pub passages: Vec<PassageLine>,
}

/// A passage in the list.
#[derive(Debug, Clone, Serialize)]
pub struct PassageLine {
    pub passage: Link,
    pub trip: TripView,
    /// Defects to act on.
    pub act: usize,
    /// Jobs to be done before it.
    pub before: usize,
    /// Jobs that fall due under way.
    pub under_way: usize,
}

/// When it is and by which figures it is reckoned.
#[derive(Debug, Clone, Serialize)]
pub struct TripView {
    pub depart: DateView,
    /// `in 63 days`.
    pub days_text: Option<String>,
    pub returns: DateView,
    /// `16 days`, `620 nmi`, `25 % in reserve`.
    pub figures: Vec<String>,
    /// It left before the day of the reckoning.
    pub departed: bool,
    /// It was over before that day.
    pub over: bool,
}

/// The sheet of one passage.
#[derive(Debug, Clone, Serialize)]
pub struct PassagePage {
    pub id: String,
    pub trip: TripView,
    /// Neither days, miles nor meters are given.
    pub no_figures: bool,
    /// Its provision list, where the site has one.
    pub provisions: Option<Link>,
    /// Graded act: first of all.
    pub act: Vec<DefectView>,
    pub act_more: Option<More>,
    /// Open jobs that left something shut, off or apart.
    pub left: Vec<OpenJob>,
    pub left_more: Option<More>,
    /// Graded watch, and to be put right before the return.
    pub to_put_right: Vec<DefectView>,
    pub to_put_right_more: Option<More>,
    /// Graded watch, and until they are put right something must not be done.
    pub limiting: Vec<DefectView>,
    pub limiting_more: Option<More>,
    pub before: Vec<PassageJob>,
    pub before_more: Option<More>,
    /// Due under way: what cannot be done there first.
    pub under_way: Vec<PassageGroup>,
    pub expiring: Vec<GearRow>,
    pub expiring_more: Option<More>,
    pub meters: Vec<PassageMeter>,
    /// Not due by these figures.
    pub clear: Vec<Link>,
    pub clear_more: Option<More>,
}

/// Jobs under one heading.
#[derive(Debug, Clone, Serialize)]
pub struct PassageGroup {
    pub heading: String,
    pub jobs: Vec<PassageJob>,
    pub jobs_more: Option<More>,
}

/// A job on the sheet of a passage.
#[derive(Debug, Clone, Serialize)]
pub struct PassageJob {
    pub row: DueRow,
    /// Days it falls due under way, by estimate where they are so.
    pub days: Vec<DateView>,
    /// There are more than these.
    pub more: bool,
    /// `3 times`; `None`: once.
    pub times: Option<String>,
    /// What it falls due by under way: `by Engine hours`.
    pub by: Option<String>,
}

/// How a meter runs over a passage, as its counter shows it.
#[derive(Debug, Clone, Serialize)]
pub struct PassageMeter {
    pub meter: Link,
    /// `about 626.5 h`; `None`: never read.
    pub start: Option<String>,
    pub runs: String,
    pub end: Option<String>,
    /// `45 h and 25 % in reserve`, `at the use rate`.
    pub figure: String,
}
