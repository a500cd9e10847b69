//! An entry: what it says, and what of that is private.

use super::{Basis, Cost, DoneBy, Finding, FindingRef, JobRef, MeterValue, PartUse, ReadingValue, Renewal, When};
use crate::book::outline::{LinkRef, PictureRef};
use crate::book::source::{Name, Placed, Source, Span};
use crate::quantity::{Duration, DutyCycle, Money};
use std::ops::{Deref, DerefMut};
use std::sync::Arc;

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
    pub pictures: Vec<PictureRef>,
    pub links: Vec<LinkRef>,
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

    /// Gear that it worked on, then gear that it renewed.
    pub fn gear_touched(&self) -> impl Iterator<Item = &Name> {
        self.gear.iter().chain(self.fitted.iter().map(|renewal| &renewal.gear))
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
