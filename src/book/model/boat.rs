//! The boat: `boat.yaml`.

use crate::book::by_id::ById;
use crate::book::date::{BookDate, Month};
use crate::book::source::{Name, Span};
use crate::quantity::{Number, Quantity, Unit};
use jiff::civil::Date;

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
    /// Where it is given.
    pub language_span: Option<Span>,
    pub units: Units,
    /// Share of an interval, in hundredths, that counts as "soon"; 10 unless given.
    pub soon_percent: Option<Number>,
    pub site: Option<String>,
    pub licence: Option<String>,
    /// Whether `boat.yaml` says which systems there are.
    pub lists_systems: bool,
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
