//! A guide: its front matter and the bones of its body.

use super::{PartUse, ReadingSpec, Rule, Torque, Value, Whereabouts};
use crate::book::outline::Outline;
use crate::book::source::{Name, Source, Span};
use crate::quantity::{CalendarSpan, Duration};
use jiff::civil::Date;
use std::collections::BTreeMap;
use std::ops::{Deref, DerefMut};
use std::sync::Arc;

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
    /// Whether it names an occasion that calls for it.
    #[must_use]
    pub fn is_for_occasion(&self, id: &str) -> bool {
        self.occasions.iter().any(|occasion| occasion.value == id)
    }

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
    /// Meters of rules whose interval cannot be read.
    pub unread_meters: Vec<Name>,
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
    /// Cautions of the whole job; the marks in them are among the loose ones of the outline.
    pub safety: Vec<Name>,
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
        for names in [
            &mut self.unread_meters,
            &mut self.for_gear,
            &mut self.occasions,
            &mut self.covers,
            &mut self.hazards,
            &mut self.safety,
            &mut self.tools,
            &mut self.formerly,
        ] {
            names.shrink_to_fit();
        }
        for words in [&mut self.conditions, &mut self.wear, &mut self.dispose] {
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
