//! Plots of what a guide's readings were, with their limits and their trends.

use super::reading_words::{limit_text, limits, title, trend};
use crate::book::model::{Guide, ReadingSpec};
use crate::quantity::{Exact, plain_decimal, to_f64};
use crate::reckon::{Axis, ReadingAt, ReadingHistory};
use crate::site::figures;
use crate::site::plot::{Along, Chart, LINES, Line, Point, Stretch, draw};
use crate::site::press::Press;
use crate::site::view::{Html, PlotLine, PlotRow, PlotView};
use std::collections::BTreeMap;

/// Fewest values that make a plot.
const VALUES: usize = 2;
/// Days in the table below a plot.
const ROWS: usize = 60;
/// Letters of a name that has room at the end of its line.
const SHORT: usize = 9;
/// Plots on one page; the log has all figures.
const PLOTS: usize = 12;

/// The plots of a guide: one a reading, and one a gear where the reading has several points. With
/// their figures, unless all the entries they stand in are on the page.
pub(super) fn plots(press: &Press<'_>, guide: &Guide, figures: bool) -> Vec<PlotView> {
    let histories = press.reckoning.readings_of(&guide.id);
    let mut plots = Vec::new();
    for spec in &guide.readings {
        let mut groups: Vec<Vec<&ReadingHistory<'_>>> = Vec::new();
        for history in histories.iter().filter(|history| history.spec.id == spec.id && history.values.len() >= VALUES) {
            let fits = |group: &&mut Vec<&ReadingHistory<'_>>| {
                group.len() < LINES
                    && group.first().is_some_and(|first| {
                        axis_id(first) == axis_id(history) && (spec.points.is_empty() || gear_id(first) == gear_id(history))
                    })
            };
            match groups.iter_mut().find(fits) {
                Some(group) => group.push(history),
                None => groups.push(vec![history]),
            }
        }
        plots.extend(groups.iter().filter_map(|group| plot(press, spec, group, figures)));
    }
    plots.truncate(PLOTS);
    plots
}

fn axis_id<'b>(history: &ReadingHistory<'b>) -> Option<&'b str> {
    match history.axis {
        Axis::Days => None,
        Axis::Meter(meter) => Some(&meter.id.value),
    }
}

fn gear_id<'b>(history: &ReadingHistory<'b>) -> Option<&'b str> {
    history.gear.map(|gear| gear.id.value.as_str())
}

fn plot(press: &Press<'_>, spec: &ReadingSpec, group: &[&ReadingHistory<'_>], figures: bool) -> Option<PlotView> {
    let first = group.first()?;
    let one_gear = group.iter().all(|history| gear_id(history) == gear_id(first));
    // Gear stands in the title where it is the same for all, and the guide is for several.
    let several = first.guide.for_gear.len() > 1;
    let gear = first.gear.filter(|_| one_gear && several).map(|gear| gear.title.as_str());
    let unit = spec.unit.symbol();
    let title = [Some(title(spec)), gear.map(str::to_owned), Some(unit.to_owned())];
    let title = title.into_iter().flatten().collect::<Vec<_>>().join(", ");
    let names: Vec<String> = group.iter().map(|history| name(history, one_gear)).collect();
    let ends = ends(&names);
    let lines: Vec<PlotLine> = group
        .iter()
        .zip(names.iter().zip(&ends))
        .map(|(history, (name, end))| PlotLine {
            letter: (end != name).then(|| end.clone()),
            name: (group.len() > 1).then(|| name.clone()),
            text: trend(press, history),
        })
        .collect();
    let (low, high) = spec.limits.as_ref().map(crate::quantity::Figure::bounds).unwrap_or_default();
    let side = |bound: Option<Exact>| bound.map(|bound| (to_f64(&bound), limit_text(press, spec, &bound)));
    let chart = Chart {
        label: label(press, spec, group, &title, &lines),
        along: match first.axis {
            Axis::Days => Along::Days(press.words),
            Axis::Meter(meter) => Along::Figures(super::meter_plots::axis_name(press, meter)),
        },
        lines: group.iter().zip(ends).map(|(history, end)| line(history, end)).collect(),
        low: side(low),
        high: side(high),
        numbered: Vec::new(),
        height: 190.0,
    };
    let svg = draw(&chart);
    if svg.is_empty() {
        return None;
    }
    let mut rows = if figures { rows(press, group) } else { Vec::new() };
    let more = rows.len().saturating_sub(ROWS);
    rows.truncate(ROWS);
    let only = |name: String| if name.is_empty() { title.clone() } else { name };
    Some(PlotView { svg: Html(svg), lines, columns: names.into_iter().map(only).collect(), rows, more, title })
}

/// What tells a history from the others of its plot; empty where nothing need.
fn name(history: &ReadingHistory<'_>, one_gear: bool) -> String {
    let gear = history.gear.filter(|_| !one_gear).map(|gear| gear.title.as_str());
    [gear, history.point].into_iter().flatten().collect::<Vec<_>>().join(", ")
}

/// Names at the ends of lines, or letters where one is too long; nothing for a single line.
fn ends(names: &[String]) -> Vec<String> {
    if names.len() < 2 {
        return names.iter().map(|_| String::new()).collect();
    }
    if names.iter().all(|name| !name.is_empty() && name.chars().count() <= SHORT) {
        return names.to_vec();
    }
    ('a'..='z').take(names.len()).map(String::from).collect()
}

fn line(history: &ReadingHistory<'_>, end: String) -> Line {
    let place = |value: &ReadingAt<'_>| (value.along, to_f64(&value.value));
    let (present, before): (Vec<&ReadingAt<'_>>, Vec<&ReadingAt<'_>>) =
        history.values.iter().rev().partition(|value| value.of_present_gear);
    let run = |values: Vec<&ReadingAt<'_>>| values.into_iter().map(place).collect::<Vec<Point>>();
    let (before, present) = (run(before), run(present));
    let dotted = trend_stretch(history, &present);
    let runs = [before, present].into_iter().filter(|run| !run.is_empty()).collect();
    Line { end, runs, dashed: None, dotted }
}

/// The trend over its readings, and on to its limit, or a quarter of their span if that is far.
fn trend_stretch(history: &ReadingHistory<'_>, present: &[Point]) -> Option<Stretch> {
    let trend = history.trend.as_ref()?;
    let (first, last) = (present.first()?.0, present.last()?.0);
    let span = last - first;
    let end = match &trend.crossing {
        Some(crossing) if crossing.along <= last + span => crossing.along,
        Some(_) => last + span / 4.0,
        None => last,
    };
    Some(((first, trend.line.at(first)), (end, trend.line.at(end))))
}

/// The plot for whoever cannot see it.
fn label(press: &Press<'_>, spec: &ReadingSpec, group: &[&ReadingHistory<'_>], title: &str, lines: &[PlotLine]) -> String {
    let values = || group.iter().flat_map(|history| &history.values);
    let amount = |value: Option<Exact>| value.map(|value| plain_decimal(&value, 4)).unwrap_or_default();
    let day = |date: Option<jiff::civil::Date>| date.map(|date| press.words.month(date)).unwrap_or_default();
    let text = press.words.say(
        "plot.label",
        &[
            ("title", title),
            ("n", &values().count().to_string()),
            ("from", &day(values().map(|value| value.date.date).min())),
            ("to", &day(values().map(|value| value.date.date).max())),
            ("low", &amount(values().map(|value| value.value).min())),
            ("high", &amount(values().map(|value| value.value).max())),
        ],
    );
    let limits = spec.limits.as_ref().map(|figure| limits(press, figure));
    let said = lines.iter().filter_map(|line| {
        let text = line.text.as_ref()?;
        Some(match &line.name {
            Some(name) => format!("{name}: {text}"),
            None => text.clone(),
        })
    });
    [text].into_iter().chain(limits).chain(said).collect::<Vec<_>>().join(". ")
}

/// The figures, a line an entry, newest first.
fn rows(press: &Press<'_>, group: &[&ReadingHistory<'_>]) -> Vec<PlotRow> {
    let mut by_entry: BTreeMap<_, (&ReadingAt<'_>, Vec<String>)> = BTreeMap::new();
    for (column, history) in group.iter().enumerate() {
        for value in &history.values {
            let key = std::cmp::Reverse((value.date.date, value.entry.id.as_str()));
            let (_, cells) = by_entry.entry(key).or_insert_with(|| (value, vec![String::new(); group.len()]));
            if let Some(cell) = cells.get_mut(column) {
                let read = figures::read(history.spec, value.written);
                *cell = if value.outside { press.words.say("plot.outside", &[("value", &read)]) } else { read };
            }
        }
    }
    by_entry.into_values().map(|(value, cells)| PlotRow { date: press.book_date(&value.date), cells }).collect()
}
