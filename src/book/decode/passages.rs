//! `passages.yaml`.

use super::fields::Fields;
use super::figures::{count, miles, of_meter, share};
use super::ids::{Seen, id};
use super::root;
use super::scalar::{Spot, day, text, tick};
use crate::book::diagnostic::{Notes, any_error};
use crate::book::keys::{PASSAGE, Shape};
use crate::book::model::Passage;
use crate::book::node::Node;
use crate::book::source::Name;
use crate::quantity::Quantity;

/// Largest reserve in hundredths; more is a slip of the pen.
const MOST_RESERVE: i128 = 500;

/// The planned trips of a file.
#[derive(Debug, Default)]
pub struct Passages {
    pub whole: Vec<Passage>,
    /// The meters of those that have no day, so that their names are looked up all the same.
    pub undated: Vec<(Name, Quantity)>,
}

/// Reads the planned trips; `None` where the file is no list.
pub fn decode(notes: &mut Notes<'_>, node: &Node<'_>) -> Option<Passages> {
    let mut seen = Seen::default();
    let mut undated = Vec::new();
    let passages = root::records(notes, node, "passages", &PASSAGE, |notes, fields| passage(notes, fields, &mut seen, &mut undated))?;
    // While something in the file is wrong, a figure may be what could not be read.
    if !any_error(&notes.found) {
        for passage in passages.iter().filter(|passage| is_without_figures(passage)) {
            let message = format!("{} has no days, no miles and no meters, so nothing under way can be reckoned", tick(&passage.id.value));
            notes.warning("passage-without-figures", passage.id.span, message, "give it `days:`, `miles:`, `meters:`, or all of them");
        }
    }
    Some(Passages { whole: passages, undated })
}

fn is_without_figures(passage: &Passage) -> bool {
    passage.days.is_none() && passage.miles.is_none() && passage.meters.is_empty()
}

fn passage(notes: &mut Notes<'_>, fields: Fields<'_, '_>, seen: &mut Seen, undated: &mut Vec<(Name, Quantity)>) -> Option<Passage> {
    let id = fields.one(notes, "id", id);
    let title = fields.one(notes, "title", text);
    let depart = fields.one(notes, "depart", day);
    let days = fields.one(notes, "days", count);
    let miles = fields.one(notes, "miles", miles);
    let mut meters = Vec::new();
    for pair in fields.named(notes, "meters") {
        let spot = Spot { shape: Shape::AnyMeasure, ..pair.value };
        if let Some(amount) = of_meter(notes, spot) {
            meters.push((Name::new(pair.name, pair.key_span), amount));
        }
    }
    let reserve_percent = fields.one(notes, "reserve", |notes, spot| share(notes, spot, MOST_RESERVE));
    let id = id.filter(|id| seen.is_new(notes, id));
    let (Some(id), Some(depart)) = (id, depart) else {
        undated.append(&mut meters);
        return None;
    };
    let title = title.unwrap_or_else(|| id.value.clone());
    Some(Passage { id, title, depart, days, miles, meters, reserve_percent, span: fields.span })
}
