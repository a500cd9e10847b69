//! Trends: whether a reading is going somewhere, and when it will be at its limit.
//!
//! A trend is a least-squares line through what was read since the gear was fitted, against the
//! calendar, or against the meter where the guide goes by one. Few readings, or a slope that their
//! scatter could give as well, are no trend.

use jiff::civil::Date;
use num_traits::ToPrimitive;

use super::days;
use super::line::Line;
use super::meters::MeterState;
use crate::book::model::Meter;
use crate::quantity::{Exact, Figure, to_f64};

/// Fewest readings that make a trend.
const AT_LEAST: usize = 4;
/// A limit that is reached later than this is as good as never: days, 50 years of them.
const FARTHEST: i64 = 50 * 365 + 12;
/// Without a date, a limit so many times the span of the readings away is as good as never.
const FARTHEST_SPANS: f64 = 10.0;

/// What a reading is held against.
#[derive(Debug, Clone, Copy)]
pub enum Axis<'b> {
    /// Days from 1970-01-01.
    Days,
    /// The continuous value of this meter on the day.
    Meter(&'b Meter),
}

/// A trend that stands out from the scatter of the readings.
#[derive(Debug, Clone, Copy)]
pub struct Trend {
    /// In the unit of the reading, by days or by the unit of the meter.
    pub line: Line,
    /// Where the line meets the limit it moves towards.
    pub crossing: Option<Crossing>,
}

/// Where a trend meets a limit: later than the last reading.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Crossing {
    /// In the unit of the reading.
    pub limit: Exact,
    /// On the axis of the trend.
    pub along: f64,
    /// Continuous value of the meter, where the trend goes by one.
    pub meter: Option<Exact>,
    /// The first whole day at or after it. `None`: the meter has no use rate.
    pub on: Option<Date>,
    /// The date rests on a use rate.
    pub estimated: bool,
}

/// The trend of values, oldest first, as (place on the axis, value), the last of them read on `last`.
pub(super) fn trend(values: &[(f64, f64)], limits: Option<&Figure>, meter: Option<&MeterState<'_>>, last: Date) -> Option<Trend> {
    if values.len() < AT_LEAST {
        return None;
    }
    let line = Line::fit(values).filter(Line::stands_out)?;
    let (low, high) = limits.map(Figure::bounds).unwrap_or_default();
    let limit = if line.slope > 0.0 { high } else { low };
    let crossing = limit.and_then(|limit| crossing(&line, limit, values, meter, last));
    Some(Trend { line, crossing })
}

fn crossing(line: &Line, limit: Exact, values: &[(f64, f64)], meter: Option<&MeterState<'_>>, last: Date) -> Option<Crossing> {
    let along = line.reaches(to_f64(&limit))?;
    let axis = values.iter().map(|value| value.0);
    let (first_at, last_at) = axis.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), x| (low.min(x), high.max(x)));
    // A last reading that is beyond the limit has met it, wherever the line runs.
    let beyond = values.last().is_some_and(|(_, value)| (value - to_f64(&limit)) * line.slope > 0.0);
    if along <= last_at || beyond {
        return None;
    }
    let (meter, on, estimated) = match meter {
        None => (None, Some(days::date_of(along.ceil().to_i64()?)?), false),
        Some(meter) => {
            let tenths = (along * 10.0).ceil().to_i64()?;
            let value = Exact::new(i128::from(tenths), 10);
            let reached = meter.reached(&value);
            if reached.is_none() && along - last_at > FARTHEST_SPANS * (last_at - first_at) {
                return None;
            }
            (Some(value), reached.map(|reached| reached.on), reached.is_some_and(|reached| reached.estimated))
        }
    };
    if on.is_some_and(|on| days::between(last, on) > FARTHEST) {
        return None;
    }
    Some(Crossing { limit, along, meter, on, estimated })
}
