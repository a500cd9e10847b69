//! From readings as they were written to a counter that never falls.
//!
//! A replaced counter adds what the old one had run to every reading after that day; a reading on
//! the day itself reads the old one. A counter that runs backwards otherwise is a slip: both
//! suspects are named, and the later one is left out so that the rest can be reckoned.

use std::collections::{BTreeMap, HashMap};

use jiff::civil::Date;

use super::as_of::AsOf;
use super::days;
use super::exact::{minus, plus, whole};
use super::meters::{MeterState, Point, Reading, Replacement};
use super::places::Findings;
use crate::book::model::{Boat, Meter};
use crate::book::source::{Place, Span};
use crate::quantity::{Exact, Unit};

const RULE: &str = "meter-backwards";

/// A reading together with the place it was written at.
struct Written<'b> {
    reading: Reading<'b>,
    span: Span,
}

/// The meters of a boat, in the order of `boat.yaml`.
pub(super) fn meters<'b>(boat: &'b Boat, as_of: &AsOf<'b>, findings: &mut Findings<'b>) -> Vec<MeterState<'b>> {
    let index: HashMap<&str, usize> = boat.meters.iter().enumerate().rev().map(|(at, meter)| (meter.id.value.as_str(), at)).collect();
    let mut written: Vec<Vec<Written<'b>>> = boat.meters.iter().map(|_| Vec::new()).collect();
    let mut add = |meter: &str, found: Written<'b>| {
        if let Some(list) = index.get(meter).and_then(|at| written.get_mut(*at)) {
            list.push(found);
        }
    };
    for row in &as_of.rows {
        let reading = Reading {
            date: row.date,
            shown: &row.value,
            continuous: row.value.value(),
            about: false,
            value_about: false,
            replaced: row.replaced.as_ref(),
            entry: None,
            used: true,
        };
        let span = row.span;
        add(&row.meter.value, Written { reading, span });
    }
    for &entry in &as_of.entries {
        let day = entry.when.day();
        for value in &entry.meters {
            let reading = Reading {
                date: day.date,
                shown: &value.value,
                continuous: value.value.value(),
                about: value.about || day.about,
                value_about: value.about,
                replaced: None,
                entry: Some(entry),
                used: true,
            };
            let span = value.span;
            add(&value.meter.value, Written { reading, span });
        }
    }
    let pairs = boat.meters.iter().zip(written);
    pairs.map(|(meter, written)| continued(meter, written, findings)).collect()
}

fn continued<'b>(meter: &'b Meter, mut written: Vec<Written<'b>>, findings: &mut Findings<'b>) -> MeterState<'b> {
    written.sort_by_key(|found| found.reading.date);
    let replacements = join(&mut written);
    let accepted = check(meter, &mut written, findings);
    too_fast(meter, &written, &accepted, findings);
    let mut points: Vec<Point> = Vec::with_capacity(accepted.len());
    for at in accepted {
        let Some(Written { reading, .. }) = written.get(at) else {
            continue;
        };
        let point = Point { date: reading.date, day: days::number(reading.date), value: reading.continuous, about: reading.about };
        match points.last_mut() {
            // Of several readings on one day the largest counts, and it comes last.
            Some(last) if last.day == point.day => *last = point,
            _ => points.push(point),
        }
    }
    let mut readings: Vec<Reading<'b>> = written.into_iter().map(|found| found.reading).collect();
    // They were made where the longer `Written` stood, and are as many as the log has readings.
    readings.shrink_to_fit();
    points.shrink_to_fit();
    MeterState::new(meter, readings, points, replacements)
}

/// Adds what replaced counters had run to the readings after each replacement.
fn join(written: &mut [Written<'_>]) -> Vec<Replacement> {
    let mut replacements: Vec<Replacement> = Vec::new();
    let mut offset = whole(0);
    for day in written.chunk_by_mut(|a, b| a.reading.date == b.reading.date) {
        let before = offset;
        let mut seen: Vec<(Exact, Exact)> = Vec::new();
        let mut date = None;
        for Written { reading, .. } in day {
            if before != whole(0) {
                match plus(&reading.shown.value(), &before) {
                    Some(continuous) => reading.continuous = continuous,
                    None => reading.used = false,
                }
            }
            let Some(first) = reading.replaced.map(crate::quantity::Number::value) else {
                continue;
            };
            date = Some(reading.date);
            // The same row written twice is still one new counter.
            let pair = (reading.shown.value(), first);
            if !seen.contains(&pair) {
                seen.push(pair);
                let run = minus(&pair.0, &first);
                offset = run.and_then(|run| plus(&offset, &run)).unwrap_or(offset);
            }
        }
        if let Some(date) = date {
            replacements.push(Replacement { date, before, after: offset });
        }
    }
    replacements
}

/// Indices of the readings that never fall, oldest first and each day's largest last.
fn check<'b>(meter: &'b Meter, written: &mut [Written<'b>], findings: &mut Findings<'b>) -> Vec<usize> {
    let mut accepted: Vec<usize> = Vec::with_capacity(written.len());
    // By the earlier suspect: the first reading that is lower, and how many more there are.
    let mut errors: BTreeMap<usize, (usize, usize)> = BTreeMap::new();
    let mut left_out: Vec<usize> = Vec::new();
    let dates: Vec<Date> = written.iter().map(|found| found.reading.date).collect();
    let mut start = 0;
    for day in dates.chunk_by(|a, b| a == b) {
        let end = start + day.len();
        let mut of_the_day: Vec<usize> = Vec::new();
        for at in start..end {
            let Some(later) = written.get(at).filter(|found| found.reading.used) else {
                continue;
            };
            let mut fits = true;
            while let Some(&earlier_at) = accepted.last()
                && let Some(earlier) = written.get(earlier_at)
                && earlier.reading.continuous > later.reading.continuous
            {
                if earlier.reading.about && !later.reading.about {
                    warn(meter, earlier, later, false, findings);
                    left_out.push(earlier_at);
                    accepted.pop();
                    continue;
                }
                if later.reading.about {
                    warn(meter, earlier, later, true, findings);
                } else {
                    errors.entry(earlier_at).or_insert((at, 0)).1 += 1;
                }
                left_out.push(at);
                fits = false;
                break;
            }
            if fits {
                of_the_day.push(at);
            }
        }
        of_the_day.sort_by_key(|at| written.get(*at).map(|found| found.reading.continuous));
        accepted.extend(of_the_day);
        start = end;
    }
    for (earlier, (later, count)) in errors {
        if let (Some(earlier), Some(later)) = (written.get(earlier), written.get(later)) {
            let day = later.reading.date;
            let replaced = written.iter().any(|found| found.reading.date == day && found.reading.replaced.is_some());
            refuse(meter, earlier, later, if replaced { Suspects::NewCounter } else { Suspects::Slips(count) }, findings);
        }
    }
    for at in left_out {
        if let Some(found) = written.get_mut(at) {
            found.reading.used = false;
        }
    }
    accepted
}

/// An hour meter cannot gain more than the hours there were; the first such reading is told.
fn too_fast<'b>(meter: &Meter, written: &[Written<'b>], accepted: &[usize], findings: &mut Findings<'b>) {
    if meter.unit != Unit::Hour {
        return;
    }
    for pair in accepted.windows(2) {
        let (Some(earlier), Some(later)) = (pair.first().and_then(|at| written.get(*at)), pair.last().and_then(|at| written.get(*at)))
        else {
            continue;
        };
        let days = days::number(last_day(&later.reading)) - days::number(earlier.reading.date);
        // Both days count whole: nobody notes the time of a reading.
        let most = whole(24 * (days + 1));
        if minus(&later.reading.continuous, &earlier.reading.continuous).is_some_and(|run| run > most) {
            let other = place_of(earlier, findings);
            findings.warning(
                "meter-too-fast",
                place_of(later, findings),
                format!(
                    "meter `{}` gains more hours than there were: {} on {} after {} on {} ({}:{})",
                    meter.id.value,
                    shown(&later.reading),
                    later.reading.date,
                    shown(&earlier.reading),
                    earlier.reading.date,
                    other.file,
                    other.line
                ),
                if earlier.reading.about || later.reading.about {
                    "correct the one of the two that is mistyped, or take out what is only known about and too far off".to_owned()
                } else {
                    "correct the one of the two that is mistyped".to_owned()
                },
            );
            return;
        }
    }
}

/// Days by which a day that is only known about may be off.
const ABOUT_DAYS: i64 = 31;

/// The last day on which a reading can have been taken.
fn last_day(reading: &Reading<'_>) -> Date {
    let Some(day) = reading.entry.map(|entry| entry.when.day()).filter(|day| day.about) else { return reading.date };
    days::later_by_days(day.last_day(), ABOUT_DAYS).unwrap_or(reading.date)
}

/// `1840.5`, or `~1840.5` where that is only known about.
fn shown(reading: &Reading<'_>) -> String {
    format!("{}{}", if reading.about { "~" } else { "" }, reading.shown)
}

fn place_of(written: &Written<'_>, findings: &Findings<'_>) -> Place {
    match written.reading.entry {
        Some(entry) => findings.in_entry(entry, written.span),
        None => findings.in_meters(written.span),
    }
}

/// `lower than 1840.5 on 2026-03-14 (meters.csv:7)`, or how they compare across a new counter.
fn compared(earlier: &Reading<'_>, later: &Reading<'_>, place: &Place) -> String {
    let other = format!("{} on {} ({}:{})", earlier.shown, earlier.date, place.file, place.line);
    if later.shown.value() < earlier.shown.value() {
        format!("is lower than {other}")
    } else {
        format!("is lower than {other} once the replaced counter is counted in")
    }
}

/// Why a counter seems to run backwards.
#[derive(Clone, Copy)]
enum Suspects {
    /// One of two readings is mistyped, or the first of so many.
    Slips(usize),
    /// The counter was replaced on the day of the lower one, which may be that of the new one.
    NewCounter,
}

fn refuse<'b>(meter: &Meter, earlier: &Written<'b>, later: &Written<'b>, suspects: Suspects, findings: &mut Findings<'b>) {
    let other = place_of(earlier, findings);
    let compared = compared(&earlier.reading, &later.reading, &other);
    let (shown, date) = (later.reading.shown, later.reading.date);
    let count = match suspects {
        Suspects::Slips(count) => count,
        Suspects::NewCounter => 1,
    };
    let more = match count {
        0 | 1 => String::new(),
        2 => ", and so is another reading after it".to_owned(),
        _ => format!(", and so are {} more readings after it", count - 1),
    };
    let id = &meter.id.value;
    let mistyped = if count > 1 {
        format!("correct {} if that is mistyped", earlier.reading.shown)
    } else {
        "correct the one of the two that is mistyped".to_owned()
    };
    let remedy = match suspects {
        Suspects::NewCounter => format!(
            "on the day its counter was replaced an entry gives what the old one showed: write that, or leave `{id}` out; \
             what the new one began with stands in `meters.csv`"
        ),
        Suspects::Slips(_) => format!(
            "{mistyped}; if the counter was replaced in between, say so in `meters.csv`: a row with the day, \
             `{id}`, the old counter's last value and, under `replaced`, the new one's first"
        ),
    };
    let message = format!("meter `{id}` runs backwards: {shown} on {date} {compared}{more}");
    findings.error(RULE, place_of(later, findings), message, remedy);
}

fn warn<'b>(meter: &Meter, earlier: &Written<'b>, later: &Written<'b>, at_later: bool, findings: &mut Findings<'b>) {
    let other = place_of(earlier, findings);
    let here = place_of(later, findings);
    let id = &meter.id.value;
    let (shown, date) = (later.reading.shown, later.reading.date);
    let (place, compared, left_out) = if at_later {
        let compared = compared(&earlier.reading, &later.reading, &other);
        (here, format!("{shown} on {date} {compared}"), later)
    } else {
        let old = &earlier.reading;
        let (line, file) = (here.line, &here.file);
        let text = format!("{} on {} is higher than {shown} on {date} ({file}:{line})", old.shown, old.date);
        (other, text, earlier)
    };
    findings.warning(
        RULE,
        place,
        format!("meter `{id}` runs backwards: {compared}; the one that is only about is left out"),
        format!("correct {} if a better figure is known", left_out.reading.shown),
    );
}
