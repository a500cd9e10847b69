//! `boat.yaml`.

use super::fields::{Fields, open_item};
use super::figures::{measure, share, unit};
use super::gear::gear;
use super::ids::{Seen, id, id_of_words};
use super::names_of_keys::{private_fields, public_fields};
use super::scalar::{Spot, choice, day, language, text, tick, web_address, year};
use crate::book::by_id::ById;
use crate::book::diagnostic::Notes;
use crate::book::id::title_of;
use crate::book::keys::BOAT;
use crate::book::model::{Boat, Meter, OCCASIONS, Occasion, System, Units};
use crate::book::node::{Kind, Node};
use crate::book::source::Name;

const UNITS: [(&str, Units); 3] = [("metric", Units::Metric), ("imperial", Units::Imperial), ("both", Units::Both)];

/// Words that mean something else in a guide's `every` and `first`.
const NOT_METERS: [&str; 2] = ["calendar", "own"];

/// Reads the boat's facts; `None` where the file is no map.
pub fn decode(notes: &mut Notes<'_>, node: &Node<'_>) -> Option<Boat> {
    let fields = Fields::open_root(notes, node, "`boat.yaml`", &BOAT)?;
    let boat = Boat {
        name: fields.one(notes, "name", text).unwrap_or_default(),
        kind: fields.one(notes, "type", text),
        built: fields.one(notes, "built", year),
        length: fields.one(notes, "length", measure),
        flag: fields.one(notes, "flag", text),
        home_port: fields.one(notes, "home-port", text),
        hull_number: fields.one(notes, "hull-number", text),
        crew: fields.one_or_each(notes, "crew", text),
        in_service: fields.one(notes, "in-service", day),
        language: fields.one(notes, "language", language).unwrap_or_else(|| "en".to_owned()),
        language_span: fields.has("language").then(|| fields.value_span("language")),
        units: fields.one(notes, "units", |notes, spot| choice(notes, spot, &UNITS)).unwrap_or_default(),
        soon_percent: fields.one(notes, "soon", |notes, spot| share(notes, spot, 100)),
        site: fields.one(notes, "site", web_address),
        licence: fields.one(notes, "licence", text),
        lists_systems: fields.has("systems"),
        systems: systems(notes, fields),
        meters: meters(notes, fields),
        gear: gear(notes, fields),
        gear_by_id: ById::default(),
        occasions: occasions(notes, fields),
        private_fields: private_fields(notes, fields),
        public_fields: public_fields(notes, fields),
    };
    Some(boat)
}

fn systems(notes: &mut Notes<'_>, fields: Fields<'_, '_>) -> Vec<System> {
    let mut seen = Seen::default();
    fields.records(notes, "systems", |notes, fields| {
        let id = fields.one(notes, "id", id);
        let title = fields.one(notes, "title", text);
        let id = id.filter(|id| seen.is_new(notes, id))?;
        Some(System { title: title.unwrap_or_else(|| id.value.clone()), id })
    })
}

fn meters(notes: &mut Notes<'_>, fields: Fields<'_, '_>) -> Vec<Meter> {
    let mut seen = Seen::default();
    fields.records(notes, "meters", |notes, fields| {
        let id = fields.one(notes, "id", id);
        let title = fields.one(notes, "title", text);
        let unit = fields.one(notes, "unit", unit);
        let id = id.filter(|id| seen.is_new(notes, id))?;
        if NOT_METERS.contains(&id.value.as_str()) {
            let message = format!("a meter cannot be called {}: that word has its own meaning in `every`", tick(&id.value));
            notes.error("bad-id", id.span, message, "give the meter another id");
            return None;
        }
        Some(Meter { title: title.unwrap_or_else(|| id.value.clone()), id, unit: unit? })
    })
}

fn occasions(notes: &mut Notes<'_>, fields: Fields<'_, '_>) -> Vec<Occasion> {
    let mut seen = Seen::default();
    fields.each(notes, "occasions", |notes, item| {
        let occasion = if matches!(item.node.kind, Kind::Scalar { .. }) {
            occasion_in_words(notes, item)?
        } else {
            let fields = open_item(notes, item)?;
            let id = fields.one(notes, "id", id);
            let title = fields.one(notes, "title", text);
            let id = id?;
            Occasion { title: title.unwrap_or_else(|| title_of(&id.value)), id }
        };
        if OCCASIONS.contains(&occasion.id.value.as_str()) {
            let message = format!("the occasion {} ships with the program", tick(&occasion.id.value));
            notes.error("duplicate-id", occasion.id.span, message, "take it out: guides can name it without this");
            return None;
        }
        seen.is_new(notes, &occasion.id).then_some(occasion)
    })
}

/// `spring-cruise` or `Spring cruise`.
fn occasion_in_words(notes: &mut Notes<'_>, item: Spot<'_, '_>) -> Option<Occasion> {
    let words = text(notes, item)?;
    let id = id_of_words(notes, &words, item.span())?;
    let title = if id == words { title_of(&id) } else { words };
    Some(Occasion { id: Name::new(id, item.span()), title })
}
