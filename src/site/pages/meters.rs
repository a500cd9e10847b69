//! Meters as they stand, and their readings.

use crate::quantity::{Exact, plain_decimal};
use crate::reckon::{MeterState, Reading};
use crate::site::press::Press;
use crate::site::view::{Link, MeterHistory, MeterNow, MeterReading, MetersPage};

/// Fills the page of the meters.
#[must_use]
pub fn meters(press: &Press<'_>) -> MetersPage {
    let meters = press
        .reckoning
        .meters
        .iter()
        .map(|state| {
            let (plot, due) = super::meter_plots::plot(press, state);
            MeterHistory {
                id: state.meter.id.value.clone(),
                now: now(press, state),
                plot,
                due,
                due_more: None,
                readings: state.readings.iter().rev().map(|reading| line(press, state, reading)).collect(),
                readings_more: None,
            }
        })
        .collect();
    MetersPage { meters }
}

/// A meter as it stands.
pub(super) fn now(press: &Press<'_>, state: &MeterState<'_>) -> MeterNow {
    let meter = state.meter;
    let last = state.last_reading();
    let unit = meter.unit;
    let carried = state.value_on(press.reckoning.on).filter(|on| on.estimated);
    MeterNow {
        title: meter.title.clone(),
        href: format!("meters.html#{}", meter.id.value),
        value: last.map(|reading| press.perhaps_about(format!("{} {}", reading.shown.written(), unit.symbol()), reading.value_about)),
        read_on: last.map(|reading| press.book_date(&reading.day())),
        estimate: carried.and_then(|on| {
            let shown = state.as_counted(&on.value)?;
            Some(press.words.say("meters.estimate", &[("amount", &format!("{} {}", plain_decimal(&shown, 0), unit.symbol()))]))
        }),
        rate: state.rate_per_day.map(|rate| {
            let year = plain_decimal(&(rate * Exact::from_integer(365)), 0);
            let key = if state.rate_90.is_some() { "meters.rates" } else { "meters.rate" };
            let lately = state.rate_90.map(|rate| plain_decimal(&(rate * Exact::from_integer(90)), 0)).unwrap_or_default();
            press.words.say(key, &[("year", &year), ("lately", &lately), ("unit", unit.symbol())])
        }),
    }
}

/// What the counter of the time shows at a continuous value: that, less what earlier counters ran.
pub(super) fn on_counter(state: &MeterState<'_>, value: &Exact) -> Exact {
    state.as_counted(value).unwrap_or(*value)
}

fn line(press: &Press<'_>, state: &MeterState<'_>, reading: &Reading<'_>) -> MeterReading {
    let unit = state.meter.unit.symbol();
    let shown_value = reading.shown.value();
    MeterReading {
        date: press.book_date(&reading.day()),
        shown: format!("{} {unit}", reading.shown.written()),
        continuous: (reading.continuous != shown_value).then(|| format!("{} {unit}", plain_decimal(&reading.continuous, 1))),
        about: reading.value_about,
        replaced: reading.replaced.map(|first| format!("{} {unit}", first.written())),
        entry: reading.entry.map(|entry| Link { text: press.entry_title(entry), href: press.entry_href(entry, "") }),
    }
}
