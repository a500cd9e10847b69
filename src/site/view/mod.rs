//! What a template may print: plain values, already worded, rounded and linked.
//!
//! One struct a page. Nothing here computes: `site::pages` fills these from the reckoning, and the
//! theme turns them into HTML. A theme never needs more than this, and cannot reach anything else.

mod costs;
mod frame;
mod guide;
mod home;
mod lists;
mod log;
mod more;
mod passage;
mod plan;
mod plots;
mod provisions;
mod record;

pub use costs::{CostRow, CostsOfCurrency, CostsPage, CostsTable};
pub use frame::{Banner, BoatView, Contents, DateView, Fact, Frame, Html, Link};
pub use guide::{
    Block, CautionView, CoverView, DueView, FigureView, GuidePage, HistoryRow, IsolationView, LastDone, MarkView, OpenJob, PartView,
    PastReading, ReadingPoint, ReadingView, ReceivedView, RuleView, StageView, StepView, TimesView, ToolView, TorqueView,
};
pub use home::{HomePage, MeterNow};
pub use lists::{
    AboutPage, CautionsPage, ClearedView, DefectView, DefectsPage, DueRow, GearGroup, GearPage, GearRow, GuidesPage, HazardView,
    MeterHistory, MeterReading, MetersPage, MoveView, OccasionGroup, OccasionsPage, ProblemView, SearchPage, StoreRow, StoresPage,
    SystemGroup, SystemPage, ToolRow, ToolsPage,
};
pub use log::{CostView, EntryRef, EntryView, FindingView, LogIndex, LogPage, LogYear};
pub use more::{More, MoreList, MorePage};
pub use passage::{PassageGroup, PassageJob, PassageLine, PassageMeter, PassagePage, PassagesPage, TripView};
pub use plan::{MeanwhileView, PlanRow, PlanTick, PlanView};
pub use plots::{KeptView, MeterDue, PlotLine, PlotRow, PlotView};
pub use provisions::{ProvisionRow, ProvisionsPage, UseView};
pub use record::{
    RecordCleared, RecordContents, RecordEntry, RecordFinding, RecordFound, RecordFront, RecordGear, RecordInterval, RecordJob, RecordPage,
    RecordSection,
};
