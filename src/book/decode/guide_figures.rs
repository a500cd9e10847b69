//! Torques, values, readings and parts of a guide.

use std::collections::BTreeSet;

use super::fields::{Fields, Named, open_item};
use super::figures::{BAD_FIGURE, amount, figure, measure, unit};
use super::ids::id_of_words;
use super::scalar::{Spot, choice, flag, name, parsed, text, tick};
use crate::book::date::{parse_book_date, parse_month};
use crate::book::diagnostic::Notes;
use crate::book::id::key_of;
use crate::book::keys::{READING, Shape};
use crate::book::model::{PartUse, ReadingSpec, Surface, Torque, Value, ValueFigure};
use crate::book::source::Placed;
use crate::quantity::{CalendarSpan, Duration, Fastener, Figure, FigureError, QuantityError};

const SURFACES: [(&str, Surface); 4] =
    [("dry", Surface::Dry), ("oiled", Surface::Oiled), ("anti-seize", Surface::AntiSeize), ("threadlock", Surface::Threadlock)];

/// Reads the torques; one without a readable value is left out.
pub(super) fn torques(notes: &mut Notes<'_>, guide: Fields<'_, '_>) -> Vec<Torque> {
    guide.records(notes, "torque", |notes, fields| {
        let at = fields.one(notes, "at", text);
        let id = at.as_deref().and_then(|at| id_of_words(notes, at, fields.value_span("at")));
        let value = fields.one(notes, "value", figure);
        let steps = fields.each(notes, "steps", |notes, spot| measure(notes, spot).map(|stage| Placed::new(stage, spot.span())));
        let then = fields.one(notes, "then", figure);
        let fastener = fields.one(notes, "fastener", |notes, spot| {
            parsed(notes, spot, "bad-fastener", Fastener::parse).map(|fastener| Placed::new(fastener, spot.span()))
        });
        let surface = fields.one(notes, "surface", |notes, spot| choice(notes, spot, &SURFACES));
        let source = fields.one(notes, "source", text);
        let value_span = fields.value_span("value");
        Some(Torque { id: id?, at: at?, value: value?, steps, then, fastener, surface, source, span: fields.span, value_span })
    })
}

/// Reads the named figures. One that cannot be read is kept as words, so that marks find its name.
pub(super) fn values(notes: &mut Notes<'_>, guide: Fields<'_, '_>) -> Vec<Value> {
    let pairs = guide.named(notes, "values");
    pairs.into_iter().filter_map(|pair| value(notes, pair)).collect()
}

fn value(notes: &mut Notes<'_>, pair: Named<'_, '_>) -> Option<Value> {
    let id = id_of_words(notes, &pair.name, pair.key_span);
    let spot = Spot { shape: Shape::Text, ..pair.value };
    let written = text(notes, spot)?;
    let figure = match value_figure(&written) {
        Ok(figure) => figure,
        Err((message, remedy)) => {
            notes.error(BAD_FIGURE, spot.span(), message, remedy);
            ValueFigure::Words(written)
        }
    };
    Some(Value { id: id?, name: pair.name, figure, span: pair.span })
}

/// A figure where it reads as one, else a time, else words; words do not begin with a digit, save
/// a ratio such as `1:50`.
fn value_figure(text: &str) -> Result<ValueFigure, (String, String)> {
    let error = match Figure::parse(text) {
        Ok(figure) => return Ok(ValueFigure::Figure(figure)),
        Err(error) => error,
    };
    if let Ok(duration) = Duration::parse(text) {
        return Ok(ValueFigure::Duration(duration));
    }
    if let Ok(span) = CalendarSpan::parse(text) {
        return Ok(ValueFigure::Calendar(span));
    }
    let begins_as_figure = text.starts_with(|first: char| first.is_ascii_digit() || "-+.~±<>≤≥−".contains(first));
    if !begins_as_figure || is_ratio(text) {
        return Ok(ValueFigure::Words(text.to_owned()));
    }
    if parse_book_date(text).is_ok() || parse_month(text).is_ok() {
        return Err((
            format!("{} is a date, and no figure", tick(text)),
            format!("put a word before it, such as {}", tick(&format!("on {text}"))),
        ));
    }
    let as_words = match &error {
        FigureError::Quantity(QuantityError::Unit { .. }) => {
            format!("; if it is no figure, begin with a word, such as {}", tick(&format!("about {text}")))
        }
        _ => String::new(),
    };
    Err((error.to_string(), format!("{}{as_words}", error.remedy())))
}

/// `1:50`, `2:1:1`.
fn is_ratio(text: &str) -> bool {
    let parts: Vec<&str> = text.split(':').map(str::trim).collect();
    parts.len() >= 2 && parts.iter().all(|part| crate::quantity::Number::parse(part).is_ok())
}

/// Reads the readings that the guide declares; one without a readable unit is left out.
pub(super) fn readings(notes: &mut Notes<'_>, guide: Fields<'_, '_>) -> Vec<ReadingSpec> {
    let pairs = guide.named(notes, "readings");
    pairs.into_iter().filter_map(|pair| reading(notes, pair)).collect()
}

fn reading(notes: &mut Notes<'_>, pair: Named<'_, '_>) -> Option<ReadingSpec> {
    let id = id_of_words(notes, &pair.name, pair.key_span);
    let fields = open_item(notes, Spot { shape: Shape::Record(&READING), ..pair.value })?;
    let unit = fields.one(notes, "unit", unit);
    let limits = fields.one(notes, "limits", |notes, spot| {
        let unit = unit?;
        parsed(notes, spot, BAD_FIGURE, |text| Figure::parse_bare(text, unit))
    });
    let when = fields.one(notes, "when", text);
    let mut points: Vec<String> = Vec::new();
    let mut seen = BTreeSet::new();
    for point in fields.items(notes, "at") {
        let Some(words) = text(notes, point) else { continue };
        if !seen.insert(key_of(&words)) {
            let message = format!("the point {} stands here twice", tick(&words));
            notes.error("name-twice", point.span(), message, "give each point its own name");
        } else {
            points.push(words);
        }
    }
    Some(ReadingSpec { id: id?, name: pair.name, unit: unit?, limits, when, points, span: pair.span })
}

/// Reads the parts that the guide uses.
pub(super) fn parts(notes: &mut Notes<'_>, guide: Fields<'_, '_>) -> Vec<PartUse> {
    guide.records(notes, "parts", |notes, fields| {
        let item = fields.one(notes, "item", name);
        let amount = fields.one(notes, "qty", amount);
        let if_worn = fields.one(notes, "if-worn", flag).unwrap_or_default();
        let unclear = amount.is_none() && fields.has("qty");
        Some(PartUse { item: item?, amount, unclear, if_worn, span: fields.span })
    })
}
