//! Guides of another boat: her names read as ours, and what this book knows nothing of passed over.
//!
//! The text of such a guide stays as that boat wrote it. [`rename`] puts the names here in the place of
//! hers when the guide has been read, [`spare`] makes warnings of what no crew could have known, and
//! [`settle`] takes out what leads nowhere, once it has been said.

use super::check::{Target, resolve};
use super::diagnostic::{Diagnostic, Severity};
use super::id::id_of;
use super::model::{Book, GuideFacts, OCCASIONS, Received, Rule, RuleBy, System};
use super::outline::{Mark, MarkKind};
use super::source::{Name, Placed};
use crate::quantity::{Dimension, Quantity};
use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};

/// What is a warning, and no error, in a guide of another boat: her names need mean nothing here.
const SPARED: [&str; 9] = [
    "unknown-system",
    "unknown-meter",
    "unknown-gear",
    "unknown-occasion",
    "unknown-job",
    "unknown-hazard",
    "unit",
    "own-meter",
    "duplicate-id",
];

/// Those of them that are about names for which `received` has a key.
const MAPPED: [&str; 5] = ["unknown-system", "unknown-meter", "unknown-job", "unknown-hazard", "unit"];

/// Stands for the guide's own folder while a link is looked at.
const OWN: &str = "own folder";

impl Received {
    /// A link or a picture as another boat wrote it, leading to where its target stands here.
    #[must_use]
    pub fn target<'t>(&self, written: &'t str) -> Cow<'t, str> {
        let Target::Inside { path, fragment } = resolve(&format!("guides/{OWN}"), written) else { return Cow::Borrowed(written) };
        let parts: Vec<&str> = path.split('/').collect();
        let ["guides", system, name, rest @ ..] = parts.as_slice() else { return Cow::Borrowed(written) };
        let stem = name.strip_suffix(".md").filter(|_| rest.is_empty());
        let here = self.guides.get(stem.unwrap_or(name));
        let system_here = self.systems.get(*system).filter(|_| *system != OWN);
        if here.is_none() && system_here.is_none() {
            return Cow::Borrowed(written);
        }
        let mut target = String::new();
        if *system != OWN {
            target.push_str("../");
            target.push_str(&encoded(system_here.map_or(system, String::as_str)));
            target.push('/');
        }
        target.push_str(&encoded(here.map_or_else(|| stem.unwrap_or(name), String::as_str)));
        if stem.is_some() {
            target.push_str(".md");
        }
        for part in rest {
            target.push('/');
            target.push_str(&encoded(part));
        }
        if let Some(fragment) = fragment {
            target.push('#');
            target.push_str(&fragment);
        }
        Cow::Owned(target)
    }
}

/// A name as it stands in a link: what would mean something there is written as a number.
fn encoded(name: &str) -> String {
    name.replace('%', "%25").replace('#', "%23").replace(':', "%3A").replace('\\', "%5C")
}

/// Puts our names in the place of theirs; nothing to do for a guide of this boat.
pub(super) fn rename(guide: &mut GuideFacts) {
    let Some(received) = guide.received.take() else { return };
    for rule in guide.every.iter_mut().chain(&mut guide.first) {
        if let RuleBy::Meter { meter, .. } = &mut rule.by {
            put(&received.meters, meter);
        }
    }
    guide.hazards.iter_mut().for_each(|name| put(&received.cautions, &mut name.value));
    guide.covers.iter_mut().for_each(|name| put(&received.guides, &mut name.value));
    let mut marks: BTreeMap<String, String> = BTreeMap::new();
    for name in guide.tools.iter_mut().chain(guide.parts.iter_mut().map(|part| &mut part.item)) {
        let theirs = id_of(&name.value);
        put(&received.items, &mut name.value);
        marks.insert(theirs, id_of(&name.value));
    }
    for Mark { kind, .. } in guide.outline.marks_mut() {
        if let MarkKind::Name(id) = kind {
            put(&marks, id);
        }
    }
    let targets = guide.outline.links.iter_mut().map(|link| &mut link.target);
    for Placed { value, .. } in targets.chain(guide.outline.pictures.iter_mut().map(|picture| &mut picture.path)) {
        if let Cow::Owned(target) = received.target(value) {
            *value = target;
        }
    }
    guide.received = Some(received);
}

fn put(names: &BTreeMap<String, String>, name: &mut String) {
    if let Some(ours) = names.get(name) {
        name.clone_from(ours);
    }
}

/// Makes warnings of problems that a guide of another boat brings with it.
pub(super) fn spare(problems: &mut [Diagnostic]) {
    for problem in problems.iter_mut().filter(|problem| SPARED.contains(&problem.rule)) {
        problem.severity = Severity::Warning;
        problem.remedy.push_str(if MAPPED.contains(&problem.rule) {
            "; in a received guide it is passed over, and may be mapped under `received`"
        } else {
            "; in a received guide it is passed over until then"
        });
    }
}

/// What this book has, for looking names up.
struct Known {
    systems: BTreeSet<String>,
    meters: BTreeMap<String, Dimension>,
    /// Gear, with what its meter counts in.
    gear: BTreeMap<String, Option<Dimension>>,
    occasions: BTreeSet<String>,
    hazards: BTreeSet<String>,
    /// How many guides are or were called so.
    guides: BTreeMap<String, usize>,
}

impl Known {
    fn of(book: &Book) -> Self {
        let meters: BTreeMap<String, Dimension> =
            book.boat.meters.iter().map(|meter| (meter.id.value.clone(), meter.unit.dimension())).collect();
        let counted = |name: &Option<Name>| name.as_ref().and_then(|name| meters.get(&name.value)).copied();
        let mut guides: BTreeMap<String, usize> = BTreeMap::new();
        for guide in &book.guides {
            for name in std::iter::once(&guide.id).chain(guide.formerly.iter().map(|name| &name.value)) {
                *guides.entry(name.clone()).or_default() += 1;
            }
        }
        Self {
            systems: book.boat.systems.iter().map(|system| system.id.value.clone()).collect(),
            gear: book.boat.gear.iter().map(|gear| (gear.id.value.clone(), counted(&gear.meter))).collect(),
            occasions: OCCASIONS.into_iter().map(str::to_owned).chain(book.boat.occasions.iter().map(|one| one.id.value.clone())).collect(),
            hazards: book.hazards.iter().map(|hazard| hazard.id.clone()).collect(),
            meters,
            guides,
        }
    }

    fn rule(&self, rule: &Rule, for_gear: &[Name]) -> bool {
        let fits = |interval: &Quantity, dimension: Option<&Dimension>| dimension == Some(&interval.unit().dimension());
        match &rule.by {
            RuleBy::Calendar(_) => true,
            RuleBy::Meter { meter, interval } => fits(interval, self.meters.get(meter)),
            RuleBy::Own { interval } => {
                let mut gear = for_gear.iter().map(|name| self.gear.get(&name.value).and_then(Option::as_ref));
                !for_gear.is_empty() && gear.all(|dimension| fits(interval, dimension))
            }
        }
    }
}

/// Takes out of received guides what leads nowhere in this book, and keeps it as words; a system that
/// only a received guide stands in is added after those of the boat.
pub(super) fn settle(book: &mut Book) {
    if book.guides.iter().all(|guide| guide.received.is_none()) {
        return;
    }
    let mut known = Known::of(book);
    // Others are not touched: what is lent out to change becomes a copy of its own.
    for guide in book.guides.iter_mut().filter(|guide| guide.received.is_some()) {
        let Some(mut received) = guide.received.take() else { continue };
        if known.systems.insert(guide.system.clone()) {
            let title = received.system.clone().unwrap_or_else(|| guide.system.clone());
            book.boat.systems.push(System { id: Name::new(guide.system.clone(), guide.title_span), title });
        }
        received.passed_over = settle_guide(guide, &known);
        guide.received = Some(received);
    }
}

fn settle_guide(guide: &mut GuideFacts, known: &Known) -> Vec<String> {
    let mut over = Vec::new();
    keep(&mut guide.for_gear, "for", &mut over, |name| known.gear.contains_key(name));
    keep(&mut guide.occasions, "occasions", &mut over, |name| known.occasions.contains(name));
    keep(&mut guide.covers, "covers", &mut over, |name| known.guides.contains_key(name));
    keep(&mut guide.hazards, "hazards", &mut over, |name| known.hazards.contains(name));
    // Another boat's log stays with her: only names that nobody here has or had are of use.
    guide.formerly.retain(|name| known.guides.get(&name.value) == Some(&1));
    for (key, rules) in [("every", &mut guide.every), ("first", &mut guide.first)] {
        rules.retain(|rule| {
            let kept = known.rule(rule, &guide.for_gear);
            match &rule.by {
                RuleBy::Meter { meter, interval } if !kept => over.push(format!("{key}: {} ({meter})", interval.written())),
                RuleBy::Own { interval } if !kept => over.push(format!("{key}: {} (own)", interval.written())),
                _ => {}
            }
            kept
        });
    }
    over
}

fn keep(names: &mut Vec<Name>, key: &str, over: &mut Vec<String>, known: impl Fn(&str) -> bool) {
    names.retain(|name| {
        let kept = known(&name.value);
        if !kept {
            over.push(format!("{key}: {}", name.value));
        }
        kept
    });
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::load::guide_of;
    use crate::book::model::Guide;
    use crate::book::source::Source;

    fn guide(received: &str, body: &str) -> Guide {
        let front = "title: Oil\nevery: {port-hours: 200 h}\nhazards: [ladder]\ncovers: [level]\nparts: [{item: filter, qty: 1}]\n";
        let text = format!("---\n{front}received: {{from: Tern, on: 2026-11-29, {received}}}\n---\n{body}");
        let (guide, problems) = guide_of(&Source::new("guides/engine/oil-from-tern.md", text));
        assert_eq!(problems, []);
        guide.expect("a guide")
    }

    #[test]
    fn her_names_are_read_as_ours() {
        let maps =
            "meters: {port-hours: engine}, items: {filter: oil-filter}, cautions: {ladder: ladder-from-tern}, guides: {level: oil-level}";
        let guide = guide(maps, "## Fit\n\n1. Fit the {filter}.\n");
        assert!(matches!(&guide.every[0].by, RuleBy::Meter { meter, .. } if meter == "engine"));
        assert_eq!((guide.hazards[0].value.as_str(), guide.covers[0].value.as_str()), ("ladder-from-tern", "oil-level"));
        assert_eq!(guide.parts[0].item.value, "oil-filter");
        assert_eq!(guide.outline.stages[0].steps[0].marks[0].kind, MarkKind::Name("oil-filter".to_owned()));
    }

    #[test]
    fn links_and_pictures_lead_to_where_their_targets_stand_here() {
        let received =
            guide("systems: {hull: skin}, guides: {oil: oil-from-tern, seacocks: seacocks-2}", "").received.clone().expect("received");
        for (written, here) in [
            ("oil/seat.jpg", "oil-from-tern/seat.jpg"),
            ("./oil/a%20%25b.jpg", "oil-from-tern/a %25b.jpg"),
            ("oil.md#drain", "oil-from-tern.md#drain"),
            ("../hull/seacocks.md", "../skin/seacocks-2.md"),
            ("../hull/anodes.md", "../skin/anodes.md"),
            ("../rig/oil.md", "../rig/oil-from-tern.md"),
            // What is not renamed stays as it was written, byte for byte.
            ("../rig/check.md", "../rig/check.md"),
            ("https://boat.example/oil.md", "https://boat.example/oil.md"),
            ("../../../oil.md", "../../../oil.md"),
            ("#oil", "#oil"),
        ] {
            assert_eq!(received.target(written), here, "{written}");
        }
    }

    #[test]
    fn only_names_that_received_has_a_key_for_are_said_to_be_mapped() {
        let told = |rule: &'static str| {
            let source = Source::new("guides/engine/oil.md", "x");
            let mut notes = crate::book::diagnostic::Notes::new(&source);
            notes.error(rule, crate::book::source::Span::default(), "", "add it");
            spare(&mut notes.found);
            (notes.found[0].severity, notes.found[0].remedy.clone())
        };
        let mapped = "add it; in a received guide it is passed over, and may be mapped under `received`";
        let added = "add it; in a received guide it is passed over until then";
        for (rule, remedy) in [("unknown-meter", mapped), ("unknown-job", mapped), ("unknown-gear", added), ("unknown-occasion", added)] {
            assert_eq!(told(rule), (Severity::Warning, remedy.to_owned()), "{rule}");
        }
        assert_eq!(told("mark"), (Severity::Error, "add it".to_owned()));
    }

    #[test]
    fn what_another_boat_checked_does_not_count() {
        let checked = |day: &str| {
            let text = format!("---\ntitle: Oil\n{day}received: {{from: Tern, on: 2026-11-29}}\n---\n");
            guide_of(&Source::new("guides/engine/oil.md", text)).0.expect("a guide").checked_here().map(|day| day.to_string())
        };
        assert_eq!(checked(""), None);
        assert_eq!(checked("checked: 2026-11-28\n"), None);
        assert_eq!(checked("checked: 2026-11-29\n"), Some("2026-11-29".to_owned()));
    }
}
