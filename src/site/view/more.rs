//! Further parts of lists that are longer than a page may hold.

use super::{
    DefectView, DueRow, GearGroup, GearRow, Link, MeterDue, MeterReading, OpenJob, PassageJob, ProvisionRow, StoreRow, ToolRow, UseView,
};
use serde::Serialize;

/// What stands behind the first rows of a list: how many more there are, and where.
#[derive(Debug, Clone, Serialize)]
pub struct More {
    pub count: i64,
    pub pages: Vec<Link>,
}

/// A further part of a list.
#[derive(Debug, Clone, Serialize)]
pub struct MorePage {
    /// The page that the list begins on.
    pub over: Link,
    /// What the list is called there.
    pub heading: String,
    /// `2 of 7`.
    pub of: String,
    pub earlier: Link,
    pub later: Option<Link>,
    pub list: MoreList,
}

/// The rows, by what they are of.
#[derive(Debug, Clone, Serialize)]
#[serde(tag = "kind", content = "rows", rename_all = "kebab-case")]
pub enum MoreList {
    Jobs(Vec<DueRow>),
    OpenJobs(Vec<OpenJob>),
    Defects(Vec<DefectView>),
    Stores(Vec<StoreRow>),
    /// Stores as lines of another list.
    BriefStores(Vec<StoreRow>),
    Tools(Vec<ToolRow>),
    Gear(Vec<GearGroup>),
    /// Gear of one system, whose own places are elsewhere.
    BriefGear(Vec<GearRow>),
    /// Gear by its expiry.
    Expiring(Vec<GearRow>),
    Before(Vec<PassageJob>),
    UnderWay(Vec<PassageJob>),
    Provisions(Vec<ProvisionRow>),
    /// What there is enough of.
    Enough(Vec<ProvisionRow>),
    MeterDue(Vec<MeterDue>),
    Readings(Vec<MeterReading>),
    /// Guides that need a part.
    Uses(Vec<UseView>),
    Links(Vec<Link>),
}
