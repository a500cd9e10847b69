//! The lists and maps of an entry: jobs, meters, parts, readings, findings, renewals.

use std::collections::BTreeSet;

use super::fields::{Fields, named, open_item};
use super::figures::{BAD_FIGURE, amount, money};
use super::ids::id_of_words;
use super::scalar::{Refusal, Spot, choice, month, name, parsed, text, tick};
use crate::book::date::parse_month;
use crate::book::diagnostic::Notes;
use crate::book::keys::Shape;
use crate::book::model::{Before, Cost, Finding, FindingRef, Grade, JobRef, MeterValue, PartUse, ReadingValue, Renewal};
use crate::book::node::Kind;
use crate::book::source::{Name, Source};
use crate::quantity::{Approximate, Money, Quantity, QuantityError, Unit};

const GRADES: [(&str, Grade); 3] = [("good", Grade::Good), ("watch", Grade::Watch), ("act", Grade::Act)];

/// `oil-and-filter` or `oil-and-filter/port-engine`.
pub(super) fn jobs(notes: &mut Notes<'_>, entry: Fields<'_, '_>) -> Vec<JobRef> {
    entry.each(notes, "jobs", |notes, spot| {
        parsed(notes, spot, "bad-job", |text| {
            let (guide, gear) = match text.split_once('/') {
                Some((guide, gear)) => (guide.trim(), Some(gear.trim())),
                None => (text, None),
            };
            if guide.is_empty() || gear.is_some_and(|gear| gear.is_empty() || gear.contains('/')) {
                let remedy =
                    "write the guide's id, and after one `/` the gear where the guide is for several: `oil-and-filter/port-engine`";
                return Err((format!("{} is not a job", tick(text)), remedy.to_owned()));
            }
            Ok(JobRef { guide: guide.to_owned(), gear: gear.map(str::to_owned), span: spot.span() })
        })
    })
}

/// What the meters showed. A unit may be repeated after the number; see [`written_unit`].
pub(super) fn meters(notes: &mut Notes<'_>, entry: Fields<'_, '_>) -> Vec<MeterValue> {
    let pairs = entry.named(notes, "meters");
    let mut found = Vec::new();
    for pair in pairs {
        let span = pair.value.span();
        let spot = Spot { shape: Shape::MeterValues.item(), ..pair.value };
        let value = parsed(notes, spot, BAD_FIGURE, |text| {
            Approximate::parse(text).or_else(|error| match unit_after(text) {
                Some(unit) => Approximate::parse_bare(text, unit),
                None => Err(error),
            })
        });
        if let Some(Approximate { about, number }) = value {
            found.push(MeterValue { meter: Name::new(pair.name, pair.key_span), value: number, about, span });
        }
    }
    found
}

/// The unit that was written after a meter's number, if any; whoever knows the meters checks it.
#[must_use]
pub fn written_unit(source: &Source, value: &MeterValue) -> Option<Unit> {
    unit_after(source.slice(value.span).trim_matches(['"', '\'']))
}

fn unit_after(text: &str) -> Option<Unit> {
    let number = text.trim().trim_start_matches('~').trim();
    if number.bytes().all(|byte| byte.is_ascii_digit() || byte == b'.') {
        return None;
    }
    Quantity::parse(number).ok().map(|quantity| quantity.unit())
}

/// Parts that were used, and what they cost by their places in the list.
pub(super) fn parts(notes: &mut Notes<'_>, entry: Fields<'_, '_>) -> (Vec<PartUse>, Vec<(usize, Money)>) {
    apart(entry.records(notes, "parts", |notes, fields| {
        let item = fields.one(notes, "item", name);
        let amount = fields.one(notes, "qty", amount);
        let cost = fields.one(notes, "cost", money);
        let unclear = amount.is_none() && fields.has("qty");
        Some((PartUse { item: item?, amount, unclear, if_worn: false, span: fields.span }, cost))
    }))
}

/// Other money that was spent.
pub(super) fn costs(notes: &mut Notes<'_>, entry: Fields<'_, '_>) -> Vec<Cost> {
    entry.records(notes, "costs", |notes, fields| {
        let what = fields.one(notes, "what", text);
        let cost = fields.one(notes, "cost", money);
        Some(Cost { what: what.unwrap_or_default(), cost: cost? })
    })
}

/// What was measured: a value, or a value a point.
pub(super) fn readings(notes: &mut Notes<'_>, entry: Fields<'_, '_>) -> Vec<ReadingValue> {
    let mut found: Vec<ReadingValue> = Vec::new();
    let mut seen = BTreeSet::new();
    for pair in entry.named(notes, "readings") {
        let Some(id) = id_of_words(notes, &pair.name, pair.key_span) else { continue };
        let reading = Name::new(id, pair.key_span);
        if !seen.insert(reading.value.clone()) {
            let message = format!("the reading {} stands here twice", tick(&reading.value));
            notes.error("name-twice", pair.key_span, message, "keep one of the two; several points go in a map of their own");
            continue;
        }
        match &pair.value.node.kind {
            Kind::Map(_) => {
                for point in named(notes, pair.value) {
                    if let Some(value) = reading_value(notes, point.value) {
                        let value_span = point.value.node.span;
                        found.push(ReadingValue { reading: reading.clone(), point: Some(point.name), value, span: point.span, value_span });
                    }
                }
            }
            _ => {
                if let Some(value) = reading_value(notes, pair.value) {
                    found.push(ReadingValue { reading, point: None, value, span: pair.span, value_span: pair.value.node.span });
                }
            }
        }
    }
    found
}

fn reading_value(notes: &mut Notes<'_>, spot: Spot<'_, '_>) -> Option<Quantity> {
    parsed(notes, Spot { shape: Shape::AnyMeasure, ..spot }, BAD_FIGURE, |text| {
        Quantity::parse(text).map_err(|error| match &error {
            QuantityError::MissingUnit { written, .. } => {
                (error.to_string(), format!("write the unit that the guide gives the reading, such as {}", tick(&format!("{written} bar"))))
            }
            _ => (error.to_string(), error.remedy()),
        })
    })
}

/// What was seen. Every item keeps its place, readable or not, because findings are counted from 1.
pub(super) fn findings(notes: &mut Notes<'_>, entry: Fields<'_, '_>) -> Vec<Finding> {
    let items = entry.items(notes, "findings");
    items.into_iter().map(|item| finding(notes, item)).collect()
}

fn finding(notes: &mut Notes<'_>, item: Spot<'_, '_>) -> Finding {
    let mut finding =
        Finding { what: String::new(), grade: Grade::Watch, guide: None, gear: None, before: None, limits_use: None, span: item.span() };
    let Some(fields) = open_item(notes, item) else { return finding };
    finding.what = fields.one(notes, "what", text).unwrap_or_default();
    // A grade that cannot be read is no reason to think the boat sound.
    finding.grade = fields.one(notes, "grade", |notes, spot| choice(notes, spot, &GRADES)).unwrap_or(Grade::Watch);
    finding.guide = fields.one(notes, "guide", name);
    finding.gear = fields.one(notes, "gear", name);
    finding.before = fields.one(notes, "before", before);
    finding.limits_use = fields.one(notes, "limits-use", text);
    finding
}

/// A month or a day where it begins with a digit, else an occasion.
fn before(notes: &mut Notes<'_>, spot: Spot<'_, '_>) -> Option<Before> {
    parsed(notes, spot, "bad-date", |text| {
        if text.starts_with(|first: char| first.is_ascii_digit()) {
            parse_month(text).map(Before::Month).map_err(Refusal::tell)
        } else if let Some(exact) = text.strip_prefix('~').map(str::trim).filter(|exact| parse_month(exact).is_ok()) {
            Err((format!("{} is only about", tick(text)), format!("write {}: no `~` can stand here", tick(exact))))
        } else {
            Ok(Before::Occasion(Name::new(text.to_owned(), spot.span())))
        }
    })
}

/// `2025-11-02-rig-check/1`.
pub(super) fn clears(notes: &mut Notes<'_>, entry: Fields<'_, '_>) -> Vec<FindingRef> {
    entry.each(notes, "clears", |notes, spot| {
        parsed(notes, spot, "bad-finding", |text| {
            let refused = || {
                let remedy = "write the entry's id, `/` and which of its findings, counted from 1: `2025-11-02-rig-check/1`";
                (format!("{} is not a finding", tick(text)), remedy.to_owned())
            };
            let (entry, number) = text.rsplit_once('/').ok_or_else(refused)?;
            let plain = !number.is_empty() && number.len() <= 4 && number.bytes().all(|byte| byte.is_ascii_digit());
            let number = number.parse().ok().filter(|number: &usize| plain && *number > 0).ok_or_else(refused)?;
            if entry.trim().is_empty() {
                return Err(refused());
            }
            Ok(FindingRef { entry: entry.trim().to_owned(), number, span: spot.span() })
        })
    })
}

/// Gear that was renewed, and the serial numbers of the new by their places in the list.
pub(super) fn fitted(notes: &mut Notes<'_>, entry: Fields<'_, '_>) -> (Vec<Renewal>, Vec<(usize, String)>) {
    apart(entry.records(notes, "fitted", |notes, fields| {
        let gear = fields.one(notes, "gear", name);
        let expires = fields.one(notes, "expires", month);
        let serial = fields.one(notes, "serial", text);
        Some((Renewal { gear: gear?, expires, span: fields.span }, serial))
    }))
}

/// Takes what is private of each thing out of a list of them.
fn apart<T, P>(list: Vec<(T, Option<P>)>) -> (Vec<T>, Vec<(usize, P)>) {
    let (things, private): (Vec<T>, Vec<Option<P>>) = list.into_iter().unzip();
    (things, private.into_iter().enumerate().filter_map(|(at, private)| Some((at, private?))).collect())
}
