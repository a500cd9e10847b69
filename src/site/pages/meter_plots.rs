//! Plots of meters: what they showed, carried on to the jobs that will fall due by them.

use super::meters::on_counter;
use crate::book::model::Meter;
use crate::quantity::{Exact, plain_decimal, to_f64};
use crate::reckon::{JobState, MeterState, RuleState, State};
use crate::site::plot::{Along, Chart, Line, Point, along, draw};
use crate::site::press::Press;
use crate::site::view::{Html, MeterDue, PlotView};
use jiff::civil::Date;

/// Jobs with a number in the plot.
const NUMBERED: usize = 8;
/// Days ahead that a plot looks: three years.
const AHEAD: f64 = 3.0 * 365.0;
/// Days back that a plot shows, or three times as many as it looks ahead: four years.
const BACK: f64 = 4.0 * 365.25;

/// A rule of a job that goes by a meter.
struct Due<'j, 'b> {
    job: &'j JobState<'b>,
    rule: &'j RuleState<'b>,
    target: Exact,
}

/// The jobs that go by a meter, the next first, and its plot.
pub(super) fn plot(press: &Press<'_>, state: &MeterState<'_>) -> (Option<PlotView>, Vec<MeterDue>) {
    let dues = dues(press, state);
    let last = state.last();
    let numbered: Vec<Point> = dues
        .iter()
        .filter_map(|due| ahead(due, last))
        .filter(|(day, _)| last.is_some_and(|(date, _)| *day <= along(date) + AHEAD))
        .take(NUMBERED)
        .collect();
    // The first so many of those ahead are those in the plot.
    let mut next = 0;
    let list = dues
        .iter()
        .map(|due| {
            let in_plot = ahead(due, last).is_some() && next < numbered.len();
            next += usize::from(in_plot);
            MeterDue {
                number: in_plot.then_some(next),
                guide: press.guide(due.job.guide, ""),
                gear: due.job.gear.map(|gear| gear.title.clone()),
                at: shown(state, &due.target),
                on: due.rule.due_on.map(|date| press.day(date)),
                estimated: due.rule.estimated,
            }
        })
        .collect();
    (picture(press, state, numbered), list)
}

/// `Engine hours, h`; of a meter whose counter was replaced, that it is over all of them.
pub(super) fn axis_name(press: &Press<'_>, meter: &Meter) -> String {
    let replaced = press.lookups.was_replaced(press.reckoning, &meter.id.value);
    let key = if replaced { "plot.meter-in-all" } else { "plot.meter" };
    press.words.say(key, &[("meter", &meter.title), ("unit", meter.unit.symbol())])
}

fn dues<'j, 'b>(press: &Press<'j>, state: &MeterState<'b>) -> Vec<Due<'j, 'j>> {
    let id = state.meter.id.value.as_str();
    let jobs = press.reckoning.jobs.iter().filter(|job| press.shows_state() && job.state != State::NoRecord);
    let mut dues: Vec<Due<'j, 'j>> = jobs
        .flat_map(|job| job.rules.iter().filter(|rule| rule.by == id).map(move |rule| (job, rule)))
        .filter_map(|(job, rule)| Some(Due { job, rule, target: rule.target? }))
        .collect();
    dues.sort_by(|a, b| {
        let key = |due: &Due<'j, 'j>| (due.target, due.job.guide.title.as_str(), due.job.guide.id.as_str());
        key(a).cmp(&key(b))
    });
    dues
}

/// Where in the plot a job falls due, if the meter has not got there.
fn ahead(due: &Due<'_, '_>, last: Option<(Date, Exact)>) -> Option<Point> {
    let (_, value) = last?;
    let on = due.rule.due_on.filter(|_| due.target > value)?;
    Some((along(on), to_f64(&due.target)))
}

fn picture(press: &Press<'_>, state: &MeterState<'_>, numbered: Vec<Point>) -> Option<PlotView> {
    let (first, last) = (state.first()?, state.last()?);
    let (last_day, value) = last;
    let today = along(press.reckoning.on);
    let horizon = numbered.iter().map(|point| point.0).fold(today.max(along(last_day)), f64::max);
    let carried = state.rate_per_day.map(|rate| {
        let from = (along(last_day), to_f64(&value));
        (from, (horizon, from.1 + to_f64(&rate) * (horizon - from.0)))
    });
    let since = along(last_day).min(today) - BACK.max(3.0 * (horizon - along(last_day)));
    let used = state.readings.iter().filter(|reading| reading.used).map(|reading| (along(reading.date), to_f64(&reading.continuous)));
    let mut points: Vec<Point> = used.collect();
    // One reading before the window stays, so that the line comes from somewhere.
    let before = points.partition_point(|point| point.0 < since).saturating_sub(1);
    points.drain(..before);
    if points.len() < 2 {
        return None;
    }
    let meter = state.meter;
    let unit = meter.unit.symbol();
    // What a point rests on; of several readings on one day the largest, as the point does.
    let read = |(date, value): (Date, Exact)| {
        state.readings.iter().find(|reading| reading.used && reading.date == date && reading.continuous == value)
    };
    let month = |at: (Date, Exact)| press.perhaps_about(press.words.month(at.0), read(at).is_some_and(|reading| reading.day().about));
    let amount = |at: (Date, Exact)| {
        press.perhaps_about(format!("{} {unit}", plain_decimal(&at.1, 0)), read(at).is_some_and(|reading| reading.value_about))
    };
    let mut said = vec![press.words.say(
        "plot.meter-label",
        &[
            ("title", &meter.title),
            ("n", &points.len().to_string()),
            ("from", &month(first)),
            ("to", &month(last)),
            ("low", &amount(first)),
            ("high", &amount(last)),
        ],
    )];
    if carried.is_some() {
        said.push(press.words.text("plot.carried-on"));
    }
    let svg = draw(&Chart {
        label: said.join(". "),
        along: Along::Days(press.words),
        lines: vec![Line { end: String::new(), runs: vec![points], dashed: carried, dotted: None }],
        low: None,
        high: None,
        numbered,
        height: 210.0,
    });
    let title = axis_name(press, meter);
    (!svg.is_empty()).then(|| PlotView { title, svg: Html(svg), lines: Vec::new(), columns: Vec::new(), rows: Vec::new(), more: 0 })
}

/// What the counter will show at a continuous value.
fn shown(state: &MeterState<'_>, value: &Exact) -> String {
    format!("{} {}", plain_decimal(&on_counter(state, value), 1), state.meter.unit.symbol())
}
