//! `every` and `first` of a guide.

use super::fields::{Fields, Named};
use super::figures::{BAD_FIGURE, calendar_span, of_meter};
use super::scalar::{Spot, tick};
use crate::book::diagnostic::{Notes, nearest};
use crate::book::keys::Shape;
use crate::book::model::{Rule, RuleBy};
use crate::book::source::Name;
use crate::quantity::{Exact, Quantity, Unit};

/// Reads the rules of `every` or `first`. The meters of those that cannot be read go to `unread`, so that their names
/// are looked up all the same.
pub(super) fn intervals(notes: &mut Notes<'_>, guide: Fields<'_, '_>, key: &'static str, unread: &mut Vec<Name>) -> Vec<Rule> {
    let mut rules = Vec::new();
    for pair in guide.named(notes, key) {
        let (name, span) = (pair.name.clone(), pair.span);
        match rule(notes, pair) {
            Some(rule) => rules.push(rule),
            None if matches!(name.as_str(), "calendar" | "own") => {}
            None => unread.push(Name::new(name, span)),
        }
    }
    rules
}

fn rule(notes: &mut Notes<'_>, pair: Named<'_, '_>) -> Option<Rule> {
    let span = pair.span;
    let by = if pair.name == "calendar" {
        RuleBy::Calendar(calendar_span(notes, Spot { shape: Shape::CalendarSpan, ..pair.value })?)
    } else {
        let interval = running_interval(notes, &pair)?;
        if pair.name == "own" { RuleBy::Own { interval } } else { RuleBy::Meter { meter: pair.name, interval } }
    };
    Some(Rule { by, span })
}

/// Whether `calendar` was meant by the name of a meter.
pub fn is_calendar(name: &str) -> bool {
    nearest(name, ["calendar"]).is_some()
}

/// So many hours or miles of a meter.
fn running_interval(notes: &mut Notes<'_>, pair: &Named<'_, '_>) -> Option<Quantity> {
    let spot = Spot { shape: Shape::AnyMeasure, ..pair.value };
    let interval = of_meter(notes, spot)?;
    if interval.value() == Exact::from_integer(0) {
        notes.error("zero-interval", spot.span(), "an interval of nought never ends", "write how much the meter runs between two times");
        return None;
    }
    if matches!(interval.unit(), Unit::Month | Unit::Year) {
        // A slip in `calendar` is told where the names of meters are looked up.
        if is_calendar(&pair.name) {
            return None;
        }
        let message = format!("{} is a stretch of the calendar, and {} is a meter", tick(interval.written()), tick(&pair.name));
        let remedy = format!("write {}, or a number of hours or miles", tick(&format!("calendar: {}", interval.written())));
        notes.error(BAD_FIGURE, spot.span(), message, remedy);
        return None;
    }
    Some(interval)
}
