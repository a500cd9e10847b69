//! Readings in words: their names, their limits, where their trend leads.

use crate::book::model::ReadingSpec;
use crate::quantity::{Exact, Figure, Unit, plain_decimal};
use crate::reckon::{Axis, Crossing, OutsideLimits, ReadingHistory};
pub(super) use crate::site::figures::reading_title as title;
use crate::site::figures::{in_words, read};
use crate::site::press::Press;
use num_traits::ToPrimitive;

/// A crossing nearer than this is given with its day, else with its month.
const EXACT_DAYS: i64 = 62;

/// `Rested voltage, house 2: 12.39 V, limit 12.4 V or more`.
pub(super) fn outside(press: &Press<'_>, outside: &OutsideLimits<'_>) -> String {
    let name = title(outside.spec);
    let limits = outside.spec.limits.as_ref().map(|figure| limits(press, figure)).unwrap_or_default();
    let value = &read(outside.spec, outside.value.written);
    match outside.point {
        Some(point) => {
            press.words.say("readings.outside-point", &[("reading", &name), ("point", point), ("value", value), ("limits", &limits)])
        }
        None => press.words.say("readings.outside", &[("reading", &name), ("value", value), ("limits", &limits)]),
    }
}

/// `limits 2.5 to 5.0 bar`, `limit 12.4 V or more`, `limit 35 ± 3 mm`.
pub(super) fn limits(press: &Press<'_>, figure: &Figure) -> String {
    let both = matches!(figure, Figure::Range { low: Some(_), high: Some(_) });
    let key = if both { "readings.limits" } else { "plot.limit" };
    press.words.say(key, &[("value", &in_words(press.words, figure))])
}

/// A limit with its unit, beside its line in a plot: `limit 2.5`.
pub(super) fn limit_text(press: &Press<'_>, spec: &ReadingSpec, bound: &Exact) -> String {
    press.words.say("plot.limit", &[("value", &amount(bound, spec.unit))])
}

fn amount(value: &Exact, unit: Unit) -> String {
    format!("{}{}{}", plain_decimal(value, 6), unit.space_before(), unit.symbol())
}

/// Where a reading is going. `None`: too few values to ask.
pub(super) fn trend(press: &Press<'_>, history: &ReadingHistory<'_>) -> Option<String> {
    let words = press.words;
    let Some(trend) = &history.trend else {
        return (history.values.len() > 2).then(|| words.text("trend.none"));
    };
    let rising = trend.line.slope > 0.0;
    let unit = history.spec.unit;
    let (per, by) = match history.axis {
        Axis::Days => (365.25, words.text("trend.a-year")),
        Axis::Meter(meter) => (100.0, words.say("trend.a-hundred", &[("unit", meter.unit.symbol())])),
    };
    let size = format!("{}{}{}", two_digits(trend.line.slope.abs() * per), unit.space_before(), unit.symbol());
    let mut text = words.say(if rising { "trend.rises" } else { "trend.falls" }, &[("amount", &size), ("by", &by)]);
    if let Some(crossing) = &trend.crossing {
        text.push_str("; ");
        text.push_str(&meets(press, history, crossing));
    }
    Some(text)
}

fn meets(press: &Press<'_>, history: &ReadingHistory<'_>, crossing: &Crossing) -> String {
    let words = press.words;
    let limit = amount(&crossing.limit, history.spec.unit);
    let at = match (history.axis, &crossing.meter) {
        (Axis::Meter(meter), Some(value)) => {
            let shown = press.reckoning.meter(&meter.id.value).map_or(*value, |state| super::meters::on_counter(state, value));
            Some(format!("{} {}", plain_decimal(&shown, 1), meter.unit.symbol()))
        }
        _ => None,
    };
    // A line through a few readings does not know the day.
    let when = crossing.on.map(|on| {
        let near = press.days_to(on).abs() < EXACT_DAYS;
        let date = if near { words.day(on) } else { words.month(on) };
        words.say("date.about", &[("date", &date)])
    });
    let passed = crossing.on.is_some_and(|on| on < press.reckoning.on);
    match (at, when) {
        (None, Some(when)) if passed => words.say("trend.passed", &[("limit", &limit), ("when", &when)]),
        (None, Some(when)) => words.say("trend.meets", &[("limit", &limit), ("when", &when)]),
        (Some(at), Some(when)) if passed => words.say("trend.passed-at", &[("limit", &limit), ("at", &at), ("when", &when)]),
        (Some(at), Some(when)) => words.say("trend.meets-at", &[("limit", &limit), ("at", &at), ("when", &when)]),
        (at, None) => words.say("trend.meets-some-day", &[("limit", &limit), ("at", &at.unwrap_or_default())]),
    }
}

/// With two digits that count: `0.13`, `4.2`, `130`.
fn two_digits(value: f64) -> String {
    if !(value.is_finite() && value > 0.0) {
        return "0".to_owned();
    }
    let power = value.log10().floor();
    let unit = 10.0_f64.powf(power - 1.0);
    let rounded = (value / unit).round() * unit;
    let Some(decimals) = (1.0 - power).max(0.0).to_usize().filter(|decimals| *decimals < 9) else {
        return format!("{value:.1e}");
    };
    let text = format!("{rounded:.decimals$}");
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

#[cfg(test)]
mod tests {
    use super::two_digits;

    #[track_caller]
    fn case(value: f64, expected: &str) {
        assert_eq!(two_digits(value), expected);
    }

    #[test]
    fn two_digits_count() {
        case(0.134_9, "0.13");
        case(0.04, "0.04");
        case(9.96, "10");
        case(134.9, "130");
        case(2.0, "2");
        case(0.0, "0");
        case(f64::NAN, "0");
        case(1.5e-12, "1.5e-12");
        case(1.26e12, "1300000000000");
    }
}
