//! The book once it has been read: plain values, each name with the place where it was written.
//!
//! Ids are checked by `check`, not here: a [`Name`] may lead nowhere until the book has been
//! checked, and whoever looks one up says what happens then.

use super::by_id::{ByFormerId, ById};
use super::date::{BookDate, Month};
use super::outline::Outline;
use super::public::Withheld;
use super::source::{Name, Placed, Source, Span};
use crate::quantity::{CalendarSpan, Duration, DutyCycle, Fastener, Figure, Money, Number, Quantity, Unit};
use jiff::civil::Date;
use std::collections::{BTreeMap, BTreeSet};
use std::ops::{Deref, DerefMut};
use std::sync::Arc;

/// Everything the crew wrote. Guides and entries are sorted by id.
#[derive(Debug, Default)]
pub struct Book {
    pub boat: Boat,
    pub stores: Vec<StoreItem>,
    pub tools: Vec<Tool>,
    pub passages: Vec<Passage>,
    /// Hazards that ship, then those of `cautions.yaml`.
    pub hazards: Vec<Hazard>,
    /// Rows of `meters.csv`.
    pub readings: Vec<MeterRow>,
    pub guides: Vec<Guide>,
    pub entries: Vec<Entry>,
    /// Other files of the book (pictures, papers): path in the book to size in bytes.
    pub files: BTreeMap<String, u64>,
    pub guides_by_id: ById,
    pub guides_by_former_id: ByFormerId,
    pub stores_by_id: ById,
    pub tools_by_id: ById,
    /// What a public edition leaves out, as it was known when guides and entries were read.
    pub withheld: Withheld,
    /// Files that have errors, as far as reading the book tells: in each a slip may stand where something was to be
    /// kept private.
    pub faulty: BTreeSet<String>,
    /// Sources by path, for whoever must point at a place later.
    pub sources: BTreeMap<Arc<str>, Source>,
}

impl Book {
    /// Whether `boat.yaml`, which says what the boat keeps private, can be relied upon.
    #[must_use]
    pub fn says_what_is_private(&self) -> bool {
        !self.faulty.contains("boat.yaml")
    }

    /// The guide with this id.
    #[must_use]
    pub fn guide(&self, id: &str) -> Option<&Guide> {
        self.guides_by_id.find_sorted(&self.guides, id, |guide| &guide.id)
    }

    /// The guide with this id or formerly with it.
    #[must_use]
    pub fn guide_or_former(&self, id: &str) -> Option<&Guide> {
        self.guide_position(id).and_then(|at| self.guides.get(at))
    }

    /// Where among the guides the one with this id, or formerly with it, stands.
    #[must_use]
    pub fn guide_position(&self, id: &str) -> Option<usize> {
        let present = self.guides_by_id.position_sorted(&self.guides, id, |guide| &guide.id);
        present.or_else(|| self.guides_by_former_id.position(&self.guides, id))
    }

    /// The guide that had this id before it was renamed.
    #[must_use]
    pub fn guide_formerly(&self, id: &str) -> Option<&Guide> {
        self.guides_by_former_id.position(&self.guides, id).and_then(|at| self.guides.get(at))
    }

    /// The entry with this id.
    #[must_use]
    pub fn entry(&self, id: &str) -> Option<&Entry> {
        self.entries.binary_search_by(|entry| entry.id.as_str().cmp(id)).ok().and_then(|at| self.entries.get(at))
    }

    /// The store item with this id.
    #[must_use]
    pub fn store(&self, id: &str) -> Option<&StoreItem> {
        self.stores_by_id.find(&self.stores, id, |item| &item.id.value)
    }

    /// The tool with this id.
    #[must_use]
    pub fn tool(&self, id: &str) -> Option<&Tool> {
        self.tools_by_id.find(&self.tools, id, |tool| &tool.id.value)
    }

    /// The hazard with this id.
    #[must_use]
    pub fn hazard(&self, id: &str) -> Option<&Hazard> {
        self.hazards.iter().find(|hazard| hazard.id == id)
    }
}

/// What pages show first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Units {
    #[default]
    Metric,
    Imperial,
    Both,
}

/// `boat.yaml`.
#[derive(Debug, Clone, Default)]
pub struct Boat {
    pub name: String,
    pub kind: Option<String>,
    /// Year she was built.
    pub built: Option<String>,
    pub length: Option<Quantity>,
    pub flag: Option<String>,
    pub home_port: Option<String>,
    /// Private.
    pub hull_number: Option<String>,
    /// Private.
    pub crew: Vec<String>,
    /// From when a first calendar interval counts.
    pub in_service: Option<Date>,
    /// Language of the words of the pages; `en` unless given.
    pub language: String,
    pub units: Units,
    /// Share of an interval, in hundredths, that counts as "soon"; 10 unless given.
    pub soon_percent: Option<Number>,
    pub site: Option<String>,
    pub licence: Option<String>,
    pub systems: Vec<System>,
    pub meters: Vec<Meter>,
    pub gear: Vec<Gear>,
    pub gear_by_id: ById,
    /// Occasions of this boat beside those that ship.
    pub occasions: Vec<Occasion>,
    pub private_fields: Vec<Name>,
    pub public_fields: Vec<Name>,
}

impl Boat {
    /// The meter with this id.
    #[must_use]
    pub fn meter(&self, id: &str) -> Option<&Meter> {
        self.meters.iter().find(|meter| meter.id.value == id)
    }

    /// The gear with this id.
    #[must_use]
    pub fn gear(&self, id: &str) -> Option<&Gear> {
        self.gear_by_id.find(&self.gear, id, |gear| &gear.id.value)
    }

    /// The system with this id.
    #[must_use]
    pub fn system(&self, id: &str) -> Option<&System> {
        self.systems.iter().find(|system| system.id.value == id)
    }
}

/// A part of the boat that pages group by.
#[derive(Debug, Clone)]
pub struct System {
    pub id: Name,
    pub title: String,
}

/// A counter the crew reads.
#[derive(Debug, Clone)]
pub struct Meter {
    pub id: Name,
    pub title: String,
    pub unit: Unit,
}

/// A thing aboard with a life of its own.
#[derive(Debug, Clone)]
pub struct Gear {
    pub id: Name,
    pub title: String,
    pub system: Option<Name>,
    pub expires: Option<Month>,
    pub guide: Option<Name>,
    pub meter: Option<Name>,
    /// Private.
    pub serial: Option<String>,
    pub fitted: Option<Fitted>,
    pub note: Option<String>,
}

/// When a piece of gear began its life.
#[derive(Debug, Clone)]
pub struct Fitted {
    pub on: BookDate,
    /// What its meter showed then.
    pub at: Option<Quantity>,
}

/// A moment that calls for jobs.
#[derive(Debug, Clone)]
pub struct Occasion {
    pub id: Name,
    pub title: String,
}

/// The occasions that ship.
pub const OCCASIONS: [&str; 7] =
    ["haul-out", "lay-up", "fitting-out", "before-passage", "after-passage", "after-grounding", "after-lightning"];

/// How badly a person can be hurt if it is not avoided (ANSI Z535.6); gravest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Signal {
    Danger,
    Warning,
    Caution,
    Notice,
}

impl Signal {
    /// All four, gravest first.
    pub const ALL: [Self; 4] = [Self::Danger, Self::Warning, Self::Caution, Self::Notice];

    /// Lower-case word: `danger`.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Danger => "danger",
            Self::Warning => "warning",
            Self::Caution => "caution",
            Self::Notice => "notice",
        }
    }

    /// The signal of a word, in any case.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|signal| signal.word().eq_ignore_ascii_case(word))
    }
}

/// A hazard with its usual caution.
#[derive(Debug, Clone)]
pub struct Hazard {
    pub id: String,
    pub title: String,
    pub signal: Signal,
    /// What can happen, and how badly.
    pub harm: String,
    /// How to avoid it, a sentence each.
    pub avoid: Vec<String>,
    pub defer: Option<String>,
    /// Words in a guide that suggest this hazard.
    pub words: Vec<String>,
}

/// A line of `stores.yaml`.
#[derive(Debug, Clone, Default)]
pub struct StoreItem {
    pub id: Name,
    pub title: String,
    pub part_number: Option<String>,
    pub stowed: Option<String>,
    pub counted: Option<Counted>,
    pub level: Option<Level>,
    pub minimum: Option<Amount>,
    /// Sizes it is sold in; empty: singly.
    pub sold_in: Vec<Amount>,
    pub price: Option<Money>,
    pub also_fits: Vec<String>,
    pub expires: Option<Month>,
    pub bought: Vec<Bought>,
    pub note: Option<String>,
    /// The whole item, for messages about it.
    pub span: Span,
}

impl StoreItem {
    /// The amount that says what the item is reckoned in, by the piece or in a unit: its count where that is believed,
    /// else the first that is written for it. `None`: no amount is written for it at all.
    #[must_use]
    pub fn reckoned_as<'a>(&'a self, counted: Option<&'a Counted>) -> Option<&'a Amount> {
        let counted = counted.map(|counted| &counted.amount);
        counted.or(self.minimum.as_ref()).or(self.sold_in.first()).or_else(|| self.bought.first().map(|bought| &bought.amount))
    }
}

/// A count of what is aboard.
#[derive(Debug, Clone)]
pub struct Counted {
    pub on: Date,
    pub amount: Amount,
    pub span: Span,
}

/// A purchase.
#[derive(Debug, Clone)]
pub struct Bought {
    pub on: Date,
    pub amount: Amount,
    pub span: Span,
}

/// For what nobody counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Level {
    Plenty,
    Low,
    None,
}

/// So many pieces, or so much of something.
#[derive(Debug, Clone, PartialEq)]
pub enum Amount {
    Pieces(Number),
    Measured(Quantity),
}

impl Amount {
    /// As the crew wrote it, spaces tidied.
    #[must_use]
    pub fn written(&self) -> &str {
        match self {
            Self::Pieces(number) => number.written(),
            Self::Measured(quantity) => quantity.written(),
        }
    }
}

/// A line of `tools.yaml`.
#[derive(Debug, Clone)]
pub struct Tool {
    pub id: Name,
    pub title: String,
    pub stowed: Option<String>,
    pub note: Option<String>,
}

/// A line of `passages.yaml`.
#[derive(Debug, Clone)]
pub struct Passage {
    pub id: Name,
    pub title: String,
    pub depart: Date,
    pub days: Option<u32>,
    /// Nautical miles.
    pub miles: Option<Number>,
    /// What each meter will run.
    pub meters: Vec<(Name, Quantity)>,
    /// In hundredths.
    pub reserve_percent: Option<Number>,
    pub span: Span,
}

/// A row of `meters.csv`.
#[derive(Debug, Clone)]
pub struct MeterRow {
    pub date: Date,
    pub meter: Name,
    pub value: Number,
    /// First value of the counter that replaced this one.
    pub replaced: Option<Number>,
    pub span: Span,
}

/// What an interval is counted by.
#[derive(Debug, Clone, PartialEq)]
pub enum RuleBy {
    Calendar(CalendarSpan),
    /// A meter by its id, and how much of it.
    Meter {
        meter: String,
        interval: Quantity,
    },
    /// The meter of the gear the job is reckoned for.
    Own {
        interval: Quantity,
    },
}

/// One rule of `every` or `first`.
#[derive(Debug, Clone, PartialEq)]
pub struct Rule {
    pub by: RuleBy,
    pub span: Span,
}

/// Where a job can be done.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Whereabouts {
    UnderWay,
    AtAnchor,
    Moored,
    Ashore,
}

impl Whereabouts {
    /// As the format spells it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::UnderWay => "under-way",
            Self::AtAnchor => "at-anchor",
            Self::Moored => "moored",
            Self::Ashore => "ashore",
        }
    }
}

/// A part with how much of it.
#[derive(Debug, Clone)]
pub struct PartUse {
    /// An id of the stores, or plain words.
    pub item: Name,
    /// How many or how much; one unless given.
    pub amount: Option<Amount>,
    /// An amount was written and could not be read: it is not one.
    pub unclear: bool,
    pub if_worn: bool,
    pub span: Span,
}

/// How a thread is prepared.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Surface {
    Dry,
    Oiled,
    AntiSeize,
    Threadlock,
}

impl Surface {
    /// As the format spells it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Dry => "dry",
            Self::Oiled => "oiled",
            Self::AntiSeize => "anti-seize",
            Self::Threadlock => "threadlock",
        }
    }
}

/// A torque of a guide.
#[derive(Debug, Clone)]
pub struct Torque {
    pub id: String,
    pub at: String,
    pub value: Figure,
    pub steps: Vec<Quantity>,
    pub steps_span: Span,
    pub then: Option<Quantity>,
    pub fastener: Option<Placed<Fastener>>,
    pub surface: Option<Surface>,
    pub source: Option<String>,
    pub span: Span,
    /// The value alone.
    pub value_span: Span,
}

/// A named figure of a guide.
#[derive(Debug, Clone)]
pub struct Value {
    pub id: String,
    pub name: String,
    pub figure: ValueFigure,
    pub span: Span,
}

/// A figure of `values`: measured, or a time.
#[derive(Debug, Clone, PartialEq)]
pub enum ValueFigure {
    Figure(Figure),
    Duration(Duration),
    Calendar(CalendarSpan),
    /// `1:50`, `SAE 15W-40`: kept as written.
    Words(String),
}

/// A reading that a guide asks for.
#[derive(Debug, Clone)]
pub struct ReadingSpec {
    pub id: String,
    pub name: String,
    pub unit: Unit,
    pub limits: Option<Figure>,
    pub when: Option<String>,
    /// Points, as written; empty: a single one.
    pub points: Vec<String>,
    pub span: Span,
}

/// A job written up: what its file says, and the text of the file.
///
/// A copy is cheap, for it shares both; what is changed in it stays its own.
#[derive(Debug, Clone)]
pub struct Guide {
    pub source: Source,
    facts: Arc<GuideFacts>,
    apart: bool,
}

impl Guide {
    /// A guide of what was read from its text. `apart`: no key of its text is left out of the public edition.
    #[must_use]
    pub fn new(source: Source, mut facts: GuideFacts, apart: bool) -> Self {
        facts.shrink();
        Self { source, facts: Arc::new(facts), apart }
    }

    /// Whether a public edition leaves out nothing of what the guide says. Of a received one that has to be found out:
    /// it is settled by what there is in a book.
    #[must_use]
    pub fn is_apart(&self) -> bool {
        self.apart && self.received.is_none()
    }

    /// The same guide, of its text the Markdown alone.
    #[must_use]
    pub fn without_front_matter(&self) -> Self {
        Self { source: self.source.only(self.body), ..self.clone() }
    }
}

impl Deref for Guide {
    type Target = GuideFacts;

    fn deref(&self) -> &GuideFacts {
        &self.facts
    }
}

impl DerefMut for Guide {
    fn deref_mut(&mut self) -> &mut GuideFacts {
        Arc::make_mut(&mut self.facts)
    }
}

/// What a guide says.
#[derive(Debug, Clone)]
pub struct GuideFacts {
    pub id: String,
    /// Folder it stands in.
    pub system: String,
    pub title: String,
    pub title_span: Span,
    pub summary: Option<String>,
    pub every: Vec<Rule>,
    pub first: Vec<Rule>,
    /// Gear it is reckoned for; empty: the boat as a whole.
    pub for_gear: Vec<Name>,
    pub occasions: Vec<Name>,
    pub routine: bool,
    pub notice: Option<CalendarSpan>,
    pub covers: Vec<Name>,
    pub crew: u32,
    pub places: Vec<Whereabouts>,
    pub conditions: Vec<String>,
    pub wear: Vec<String>,
    pub dispose: Vec<String>,
    pub time: Option<Duration>,
    /// Where the time stands, if there is one.
    pub time_span: Span,
    pub hazards: Vec<Name>,
    pub safety: Vec<String>,
    pub tools: Vec<Name>,
    pub parts: Vec<PartUse>,
    pub torques: Vec<Torque>,
    pub values: Vec<Value>,
    pub readings: Vec<ReadingSpec>,
    pub applies_to: Option<String>,
    pub from: Option<String>,
    pub licence: Option<String>,
    pub revised: Option<Date>,
    pub checked: Option<Date>,
    pub formerly: Vec<Name>,
    /// Where it came from, if another boat wrote it.
    pub received: Option<Box<Received>>,
    /// Where the Markdown stands in the source.
    pub body: Span,
    pub outline: Outline,
}

impl GuideFacts {
    /// Gives back the room of lists that do not grow any more.
    fn shrink(&mut self) {
        self.every.shrink_to_fit();
        self.first.shrink_to_fit();
        for names in [&mut self.for_gear, &mut self.occasions, &mut self.covers, &mut self.hazards, &mut self.tools, &mut self.formerly] {
            names.shrink_to_fit();
        }
        for words in [&mut self.conditions, &mut self.wear, &mut self.dispose, &mut self.safety] {
            words.shrink_to_fit();
        }
        self.places.shrink_to_fit();
        self.parts.shrink_to_fit();
        self.torques.shrink_to_fit();
        self.values.shrink_to_fit();
        self.readings.shrink_to_fit();
        self.outline.shrink();
    }

    /// Where it came from, while nobody has held it against this boat since.
    #[must_use]
    pub fn unchecked(&self) -> Option<&Received> {
        // Two boats that lie side by side may check and receive it on one day: the day of the other is known by name.
        let hers = |received: &Received| self.checked.is_none_or(|checked| checked < received.on || received.checked == Some(checked));
        self.received.as_deref().filter(|received| hers(received))
    }

    /// The day it was last held against this boat: what another boat checked does not count.
    #[must_use]
    pub fn checked_here(&self) -> Option<Date> {
        self.checked.filter(|_| self.unchecked().is_none())
    }
}

/// Where a guide of another boat came from, and what her names are called here.
#[derive(Debug, Clone)]
pub struct Received {
    /// Name of the boat.
    pub from: String,
    pub on: Date,
    /// The day it was checked there.
    pub checked: Option<Date>,
    /// Of the boat, for guides that name none.
    pub licence: Option<String>,
    /// Title of its system there.
    pub system: Option<String>,
    /// The guide of this book that it is another revision of.
    pub revises: Option<Name>,
    /// Ids there to ids here.
    pub systems: BTreeMap<String, String>,
    pub meters: BTreeMap<String, String>,
    pub items: BTreeMap<String, String>,
    pub cautions: BTreeMap<String, String>,
    pub guides: BTreeMap<String, String>,
    /// What this book knows nothing of, as it was written: `every: 200 h (port-hours)`.
    pub passed_over: Vec<String>,
}

/// A job named in an entry: a guide, and the gear where the guide is for several.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct JobRef {
    pub guide: String,
    pub gear: Option<String>,
    pub span: Span,
}

/// When an entry's work was done.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum When {
    /// On one day.
    On(BookDate),
    /// Begun on one day and finished on another.
    Finished { started: BookDate, done: BookDate },
    /// Begun and not finished.
    Open { started: BookDate },
}

impl When {
    /// The day the entry counts from: done, or begun while open.
    #[must_use]
    pub fn day(&self) -> &BookDate {
        match self {
            Self::On(date) | Self::Finished { done: date, .. } | Self::Open { started: date } => date,
        }
    }

    /// The job is not finished.
    #[must_use]
    pub fn is_open(&self) -> bool {
        matches!(self, Self::Open { .. })
    }
}

/// What an inspection says of what it saw.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Grade {
    Act,
    Watch,
    Good,
}

impl Grade {
    /// As the format spells it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Act => "act",
            Self::Watch => "watch",
            Self::Good => "good",
        }
    }
}

/// Until when a finding should be put right.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Before {
    Month(Month),
    Occasion(Name),
}

/// What an inspection saw. Counted from 1 in its entry.
#[derive(Debug, Clone)]
pub struct Finding {
    pub what: String,
    pub grade: Grade,
    pub guide: Option<Name>,
    pub gear: Option<Name>,
    pub before: Option<Before>,
    pub limits_use: Option<String>,
    pub span: Span,
}

/// A reference to a finding: `2025-11-02-rig-check/1`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FindingRef {
    pub entry: String,
    pub number: usize,
    pub span: Span,
}

/// Gear renewed by the work of an entry.
#[derive(Debug, Clone)]
pub struct Renewal {
    pub gear: Name,
    pub expires: Option<Month>,
    pub span: Span,
}

/// A meter as read: `1840.5`, `~1200`.
#[derive(Debug, Clone)]
pub struct MeterValue {
    pub meter: Name,
    pub value: Number,
    pub about: bool,
    pub span: Span,
}

/// A value of a reading, at a point where there are several.
#[derive(Debug, Clone)]
pub struct ReadingValue {
    pub reading: Name,
    pub point: Option<String>,
    pub value: Quantity,
    /// The name of the reading or of its point, with the value.
    pub span: Span,
    /// The value alone.
    pub value_span: Span,
}

/// Money spent on something.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cost {
    pub what: String,
    pub cost: Money,
}

/// Who did the work. Public.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DoneBy {
    Owner,
    Yard,
    Licensed,
}

impl DoneBy {
    /// As the format spells it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Owner => "owner",
            Self::Yard => "yard",
            Self::Licensed => "licensed",
        }
    }
}

/// How the crew knows what an entry says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Basis {
    OwnRecord,
    Invoice,
    Told,
    Judged,
}

impl Basis {
    /// As the format spells it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::OwnRecord => "own record",
            Self::Invoice => "invoice",
            Self::Told => "told",
            Self::Judged => "judged",
        }
    }
}

/// One record of the log: what its file says, and the text of the file.
///
/// A copy is cheap, for it shares both; what is changed in it stays its own.
#[derive(Debug, Clone)]
pub struct Entry {
    pub source: Source,
    facts: Arc<EntryFacts>,
    /// `None`: nothing.
    kept: Option<Arc<Kept>>,
    apart: bool,
}

impl Entry {
    /// An entry of what was read from its text. `apart`: no key of its text is left out of the public edition but those
    /// that [`Kept`] is made of.
    #[must_use]
    pub fn new(source: Source, mut facts: EntryFacts, mut kept: Kept, apart: bool) -> Self {
        facts.shrink();
        kept.shrink();
        let kept = (kept != Kept::NOTHING).then(|| Arc::new(kept));
        Self { source, facts: Arc::new(facts), kept, apart }
    }

    /// What the crew keeps to itself.
    #[must_use]
    pub fn kept(&self) -> &Kept {
        static NOTHING: Kept = Kept::NOTHING;
        self.kept.as_deref().unwrap_or(&NOTHING)
    }

    /// For what is added later.
    pub fn kept_mut(&mut self) -> &mut Kept {
        Arc::make_mut(self.kept.get_or_insert_with(Arc::default))
    }

    /// Whether leaving out what is kept leaves out all that a public edition does.
    #[must_use]
    pub fn is_apart(&self) -> bool {
        self.apart && self.private_passages.is_empty()
    }

    /// The same entry without what the crew keeps to itself, and of its text the notes alone.
    #[must_use]
    pub fn without_kept(&self) -> Self {
        Self { kept: None, ..self.without_front_matter() }
    }

    /// The same entry, of its text the notes alone.
    #[must_use]
    pub fn without_front_matter(&self) -> Self {
        Self { source: self.source.only(self.body), ..self.clone() }
    }
}

/// What the private keys of an entry say.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Kept {
    pub costs: Vec<Cost>,
    /// What parts cost, by their places in the list of parts.
    pub of_parts: Vec<(usize, Money)>,
    /// Serial numbers of what was fitted, by places in that list.
    pub serials: Vec<(usize, String)>,
    pub by: Vec<String>,
    pub place: Option<String>,
    pub papers: Vec<Name>,
}

impl Kept {
    const NOTHING: Self =
        Self { costs: Vec::new(), of_parts: Vec::new(), serials: Vec::new(), by: Vec::new(), place: None, papers: Vec::new() };

    fn shrink(&mut self) {
        self.costs.shrink_to_fit();
        self.of_parts.shrink_to_fit();
        self.serials.shrink_to_fit();
        self.by.shrink_to_fit();
        self.papers.shrink_to_fit();
    }

    /// What a part cost, by its place in the list of parts.
    #[must_use]
    pub fn cost_of(&self, part: usize) -> Option<&Money> {
        of_place(&self.of_parts, part)
    }

    /// The serial number of what was fitted, by its place in that list.
    #[must_use]
    pub fn serial_of(&self, renewal: usize) -> Option<&str> {
        of_place(&self.serials, renewal).map(String::as_str)
    }
}

/// What is kept of a place in a list; these are in order.
fn of_place<T>(kept: &[(usize, T)], place: usize) -> Option<&T> {
    kept.binary_search_by_key(&place, |(at, _)| *at).ok().and_then(|found| kept.get(found)).map(|(_, of)| of)
}

impl Deref for Entry {
    type Target = EntryFacts;

    fn deref(&self) -> &EntryFacts {
        &self.facts
    }
}

impl DerefMut for Entry {
    fn deref_mut(&mut self) -> &mut EntryFacts {
        Arc::make_mut(&mut self.facts)
    }
}

/// What an entry says.
#[derive(Debug, Clone)]
pub struct EntryFacts {
    pub id: String,
    pub when: When,
    pub when_span: Span,
    pub jobs: Vec<JobRef>,
    pub work: Vec<String>,
    pub system: Option<Name>,
    pub gear: Vec<Name>,
    pub reached: Option<Placed<String>>,
    pub left: Vec<String>,
    pub meters: Vec<MeterValue>,
    pub time: Option<Duration>,
    pub parts: Vec<PartUse>,
    pub readings: Vec<ReadingValue>,
    pub findings: Vec<Finding>,
    pub clears: Vec<FindingRef>,
    pub fitted: Vec<Renewal>,
    pub done_by: Option<DoneBy>,
    /// There are papers; a public book does not name them.
    pub paper_on_file: bool,
    pub basis: Option<Basis>,
    pub except: Vec<String>,
    pub private: bool,
    /// Where the notes stand in the source.
    pub body: Span,
    /// Passages between `<!-- private -->` and `<!-- /private -->`, within `body`.
    pub private_passages: Vec<Span>,
    /// Pictures and links in the notes.
    pub pictures: Vec<super::outline::PictureRef>,
    pub links: Vec<super::outline::LinkRef>,
}

impl EntryFacts {
    /// Gives back the room of lists that do not grow any more.
    fn shrink(&mut self) {
        self.jobs.shrink_to_fit();
        self.work.shrink_to_fit();
        self.gear.shrink_to_fit();
        self.left.shrink_to_fit();
        self.meters.shrink_to_fit();
        self.parts.shrink_to_fit();
        self.readings.shrink_to_fit();
        self.findings.shrink_to_fit();
        self.clears.shrink_to_fit();
        self.fitted.shrink_to_fit();
        self.except.shrink_to_fit();
        self.private_passages.shrink_to_fit();
        self.pictures.shrink_to_fit();
        self.links.shrink_to_fit();
    }

    /// Whether this finished work was done before what another entry tells of, days that are only about
    /// right left aside.
    #[must_use]
    pub fn is_before(&self, other: &Self) -> bool {
        let (own, others) = (self.when.day(), other.when.day());
        !self.when.is_open() && !own.about && !others.about && own.date < others.date
    }
}

/// A duty cycle together with its place: the `run` mark.
pub type Run = DutyCycle;
