//! Readings in words: their names, their limits, where their trend leads.

use crate::quantity::Figure;
use crate::reckon::OutsideLimits;
use crate::site::press::Press;

/// `Rested voltage, house 2: 12.39 V, limits at least 12.4 V`.
pub(super) fn outside(press: &Press<'_>, outside: &OutsideLimits<'_>) -> String {
    let name = sentence_case(&outside.spec.name);
    let limits = outside.spec.limits.as_ref().map(|figure| limits(press, figure)).unwrap_or_default();
    let value = outside.value.written.written();
    match outside.point {
        Some(point) => {
            press.words.say("readings.outside-point", &[("reading", &name), ("point", point), ("value", value), ("limits", &limits)])
        }
        None => press.words.say("readings.outside", &[("reading", &name), ("value", value), ("limits", &limits)]),
    }
}

/// `2.5 to 5.0 bar`, `at least 12.4 V`, `at most 600 mL`.
pub(super) fn limits(press: &Press<'_>, figure: &Figure) -> String {
    match figure {
        Figure::Range { low: Some(low), high: Some(high) } => {
            press.words.say("readings.from-to", &[("low", low.number().written()), ("high", high.written())])
        }
        Figure::Range { low: Some(low), high: None } => press.words.say("readings.at-least", &[("low", low.written())]),
        Figure::Range { low: None, high: Some(high) } => press.words.say("readings.at-most", &[("high", high.written())]),
        Figure::Range { low: None, high: None } | Figure::Exact(_) | Figure::Tolerance { .. } => figure.to_string(),
    }
}

/// With a capital at its beginning.
pub(super) fn sentence_case(text: &str) -> String {
    let mut characters = text.chars();
    match characters.next() {
        Some(first) => first.to_uppercase().chain(characters).collect(),
        None => String::new(),
    }
}
