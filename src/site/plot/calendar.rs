//! Ticks of days: at the first of years, of months, or at days.

use super::scale::{Tick, float};
use crate::reckon::days;
use crate::site::words::Words;
use jiff::civil::Date;
use num_traits::ToPrimitive;

/// Steps in months.
const MONTHS: [i64; 12] = [1, 2, 3, 6, 12, 24, 60, 120, 240, 600, 1200, 12_000];
/// Steps in days, for what lies within some weeks.
const DAYS: [i64; 5] = [1, 2, 5, 10, 20];
/// Days up to which days are counted.
const SHORT: f64 = 62.0;

/// The day of so many days from 1970-01-01.
pub(super) fn date_of(day: f64) -> Option<Date> {
    days::date_of(day.to_i64()?)
}

/// Where a day lies along the days: so many from 1970-01-01.
#[expect(clippy::cast_precision_loss, reason = "no calendar has so many days")]
pub(in crate::site) fn along(date: Date) -> f64 {
    days::number(date) as f64
}

/// At most so many ticks between two days.
pub(super) fn ticks(range: (f64, f64), at_most: usize, words: &Words) -> Vec<Tick> {
    let (from, to) = range;
    if to - from <= SHORT { by_days(from, to, at_most, words) } else { by_months(from, to, at_most, words) }
}

fn by_days(from: f64, to: f64, at_most: usize, words: &Words) -> Vec<Tick> {
    let step = DAYS.into_iter().filter_map(|step| step.to_f64()).find(|step| (to - from) / step < float(at_most)).unwrap_or(20.0);
    let mut ticks: Vec<Tick> = Vec::new();
    let mut month = (0, 0);
    let mut day = (from / step).ceil() * step;
    while day <= to && ticks.len() < at_most {
        let Some(date) = date_of(day) else { break };
        let new = month != (date.year(), date.month());
        month = (date.year(), date.month());
        let below = new.then(|| words.say("plot.month", &[("month", &words.short_month(date)), ("y", &date.year().to_string())]));
        ticks.push(Tick { at: day, text: date.day().to_string(), below });
        day += step;
    }
    ticks
}

fn by_months(from: f64, to: f64, at_most: usize, words: &Words) -> Vec<Tick> {
    let long = |step: &i64| step.to_f64().is_some_and(|step| (to - from) / (step * 30.4) < float(at_most));
    let step = MONTHS.into_iter().find(long).unwrap_or(24_000);
    let Some(first) = date_of(from) else { return Vec::new() };
    // Months from the year 0, so that steps begin with a year.
    let mut month = (i64::from(first.year()) * 12 + i64::from(first.month()) - 1).div_euclid(step) * step;
    let mut ticks: Vec<Tick> = Vec::new();
    let mut year = None;
    while ticks.len() < at_most {
        let (Ok(y), Ok(m)) = (i16::try_from(month.div_euclid(12)), i8::try_from(month.rem_euclid(12) + 1)) else { break };
        let Ok(date) = Date::new(y, m, 1) else { break };
        month += step;
        let at = along(date);
        if at > to {
            break;
        }
        if at < from {
            continue;
        }
        let (text, below) =
            if step >= 12 { (y.to_string(), None) } else { (words.short_month(date), (year != Some(y)).then(|| y.to_string())) };
        year = Some(y);
        ticks.push(Tick { at, text, below });
    }
    ticks
}
