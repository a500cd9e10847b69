//! Plots as pictures in the page: lines of readings against days or a meter, their limits, where
//! they lead.
//!
//! A plot is a small SVG that scales with its column, whose text is about as large as that of the
//! page on a phone. It uses the inks of the page, tells its lines apart by mark and dash, and holds
//! the same bytes for the same figures. What it says in words is its caller's.

mod calendar;
mod ink;
mod scale;
mod spread;
mod thin;

#[cfg(test)]
mod tests;

use super::words::Words;
pub(in crate::site) use calendar::along;
use ink::Ink;
use scale::{Scale, Tick};

/// A place in the plane of a plot.
pub type Point = (f64, f64);
/// A straight stretch between two places.
pub type Stretch = (Point, Point);

/// Lines that one plot can tell apart by their marks.
pub const LINES: usize = 6;

/// Width of the picture in its own units: about the pixels of a phone's column.
const WIDTH: f64 = 320.0;
/// Size of its text in the same units.
const TEXT: f64 = 15.0;
/// Width of a letter or figure, on the safe side.
const LETTER: f64 = 8.3;
/// Points that are no farther apart share their number.
const NEAR: f64 = 4.0;
/// Points of all lines together; beyond them the least and greatest of each stretch stand for it.
const POINTS: usize = 240;
/// Points of all lines together up to which each has its mark.
const MARKED: usize = 40;
/// Points of all lines together up to which each has a dot.
const DOTTED: usize = 140;

/// What a plot shows.
pub struct Chart<'a> {
    /// What is to be seen, for whoever cannot see it.
    pub label: String,
    pub along: Along<'a>,
    /// At most [`LINES`] are drawn.
    pub lines: Vec<Line>,
    /// The lowest and the highest value allowed, each with its words.
    pub low: Option<(f64, String)>,
    pub high: Option<(f64, String)>,
    /// Points with numbers from 1, ordered along the axis.
    pub numbered: Vec<Point>,
    /// Height of the picture, in units of which it is 320 wide.
    pub height: f64,
}

/// What runs along the foot of a plot.
pub enum Along<'a> {
    /// Days from 1970-01-01, named in these words.
    Days(&'a Words),
    /// Figures of something, with its name.
    Figures(String),
}

/// One line of a plot.
#[derive(Default)]
pub struct Line {
    /// Written at its end.
    pub end: String,
    /// Points in order along the axis; between two runs the line is broken.
    pub runs: Vec<Vec<Point>>,
    /// Carried on from its last point.
    pub dashed: Option<Stretch>,
    /// A trend.
    pub dotted: Option<Stretch>,
}

/// Draws a plot. Empty where there is nothing to draw.
#[must_use]
pub fn draw(chart: &Chart<'_>) -> String {
    let Some(frame) = Frame::of(chart) else {
        return String::new();
    };
    let mut ink = Ink::new(WIDTH, frame.height, &chart.label);
    frame.limits(chart, &mut ink);
    frame.axes(chart, &mut ink);
    let lines = chart.lines.get(..chart.lines.len().min(LINES)).unwrap_or_default();
    let count: usize = lines.iter().flat_map(|line| &line.runs).map(Vec::len).sum();
    let runs: usize = lines.iter().map(|line| line.runs.len()).sum();
    let most = if count > POINTS { POINTS / runs.max(1) } else { usize::MAX };
    for (at, line) in lines.iter().enumerate() {
        let dash = if lines.len() > 1 { at } else { 0 };
        frame.line(line, dash, most, &mut ink, |ink, points| {
            if count <= MARKED {
                ink.marks(at, points.iter().copied());
            } else if count <= DOTTED {
                ink.dots(points.iter().copied());
            }
        });
    }
    frame.numbers(chart, &mut ink);
    frame.ends(lines, &mut ink);
    ink.finish()
}

/// The scales of a plot and what is written on them.
struct Frame {
    x: Scale,
    y: Scale,
    x_ticks: Vec<Tick>,
    y_ticks: Vec<Tick>,
    height: f64,
}

impl Frame {
    fn of(chart: &Chart<'_>) -> Option<Self> {
        let drawn = chart.lines.iter().take(LINES).flat_map(|line| {
            let stretches = line.dashed.iter().chain(&line.dotted).flat_map(|(from, to)| [*from, *to]);
            line.runs.iter().flatten().copied().chain(stretches)
        });
        let points: Vec<Point> = drawn.chain(chart.numbered.iter().copied()).filter(|(x, y)| x.is_finite() && y.is_finite()).collect();
        let across = scale::range(points.iter().map(|point| point.0))?;
        let limits = chart.low.iter().chain(&chart.high).map(|limit| limit.0);
        let up = scale::range(points.iter().map(|point| point.1).chain(limits))?;
        let across = scale::widened(across, if matches!(chart.along, Along::Days(_)) { 15.0 } else { 0.5 });
        let up = scale::widened(up, 0.5);
        // Room on the far side of a limit for its words.
        let (span, near, far) = (up.1 - up.0, 0.07, 0.2);
        let room = |limit: &Option<(f64, String)>, edge: f64| {
            if limit.as_ref().is_some_and(|limit| (limit.0 - edge).abs() < span * far) { far } else { near }
        };
        let up = (up.0 - span * room(&chart.low, up.0), up.1 + span * room(&chart.high, up.1));
        let foot = chart.height - TEXT * 2.0 - 12.0;
        let y_ticks = scale::ticks(up, 5);
        let widest = y_ticks.iter().map(|tick| tick.text.chars().count()).max().unwrap_or_default();
        let end = chart.lines.iter().take(LINES).map(|line| line.end.chars().count()).max().unwrap_or_default();
        let left = (scale::float(widest) * LETTER + 9.0).min(WIDTH / 3.0);
        let right = WIDTH - if end == 0 { 8.0 } else { (scale::float(end) * LETTER + 14.0).min(WIDTH / 3.0) };
        let x = Scale::new(across, (left + 6.0, right));
        let x_ticks = match &chart.along {
            Along::Days(words) => calendar::ticks(across, 5, words),
            Along::Figures(_) => scale::ticks(across, 4),
        };
        let second_line = matches!(chart.along, Along::Figures(_)) || x_ticks.iter().any(|tick| tick.below.is_some());
        let height = if second_line { chart.height } else { chart.height - TEXT - 1.0 };
        Some(Self { x, y: Scale::new(up, (foot, 8.0)), x_ticks, y_ticks, height })
    }

    fn at(&self, point: Point) -> Point {
        (self.x.at(point.0), self.y.at(point.1))
    }

    /// Hatching beyond the limits, and the limits themselves.
    fn limits(&self, chart: &Chart<'_>, ink: &mut Ink) {
        let (left, right) = self.x.edges();
        let (foot, top) = self.y.edges();
        for (limit, edge, below) in [(&chart.low, foot, TEXT), (&chart.high, top, -5.0)] {
            let Some((value, words)) = limit else { continue };
            let y = self.y.at(*value);
            ink.hatch((left - 6.0, y.min(edge)), (right, y.max(edge)));
            ink.path("l", &[vec![(left - 6.0, y), (right, y)]]);
            ink.text((left, y + below), "start", words, true);
        }
    }

    fn axes(&self, chart: &Chart<'_>, ink: &mut Ink) {
        let (left, right) = self.x.edges();
        let (foot, _) = self.y.edges();
        let mut rules = vec![vec![(left - 6.0, foot), (right, foot)]];
        for tick in &self.y_ticks {
            let y = self.y.at(tick.at);
            rules.push(vec![(left - 9.0, y), (left - 4.0, y)]);
            ink.text((left - 12.0, y + 5.0), "end", &tick.text, false);
        }
        let (mut written, mut below) = (f64::NEG_INFINITY, f64::NEG_INFINITY);
        for tick in &self.x_ticks {
            let x = self.x.at(tick.at);
            rules.push(vec![(x, foot), (x, foot + 5.0)]);
            let half = scale::float(tick.text.chars().count()) * LETTER / 2.0;
            if x - half > written && x + half < WIDTH + 4.0 {
                ink.text((x, foot + TEXT + 6.0), "middle", &tick.text, false);
                written = x + half + 3.0;
            }
            if let Some(text) = &tick.below {
                let half = scale::float(text.chars().count()) * LETTER / 2.0;
                if x - half > below {
                    let x = x.min(WIDTH - half).max(half);
                    ink.text((x, foot + TEXT * 2.0 + 7.0), "middle", text, false);
                    below = x + half + 3.0;
                }
            }
        }
        if let Along::Figures(name) = &chart.along {
            ink.text((right, foot + TEXT * 2.0 + 7.0), "end", name, false);
        }
        ink.path("", &rules);
    }

    fn line(&self, line: &Line, dash: usize, most: usize, ink: &mut Ink, mark: impl Fn(&mut Ink, &[Point])) {
        let placed = |run: &Vec<Point>| run.iter().map(|point| self.at(*point)).collect::<Vec<Point>>();
        let runs: Vec<Vec<Point>> = line.runs.iter().map(|run| thin::thinned(&placed(run), most)).collect();
        ink.dashed_path(dash, &runs);
        mark(ink, &runs.concat());
        if let Some((from, to)) = line.dashed {
            ink.path("c", &[vec![self.at(from), self.at(to)]]);
        }
        if let Some((from, to)) = line.dotted {
            ink.path("t", &[vec![self.at(from), self.at(to)]]);
        }
    }

    /// Numbered points, with their numbers in a row above the foot of the plot, where a counter that
    /// rises leaves room. Points on each other share a number: `2–4`.
    fn numbers(&self, chart: &Chart<'_>, ink: &mut Ink) {
        let points: Vec<Point> = chart.numbered.iter().map(|point| self.at(*point)).collect();
        let groups = spread::grouped(&points, NEAR);
        let widest = groups.iter().map(|group| group.text().chars().count()).max().unwrap_or_default();
        let half = scale::float(widest) * LETTER / 2.0;
        let wanted: Vec<f64> = groups.iter().map(|group| group.at.0).collect();
        let ((left, right), (foot, _)) = (self.x.edges(), self.y.edges());
        // A letter of room and more: `1` and `2` side by side are no `12`.
        let places = spread::apart(&wanted, half * 2.0 + LETTER + 4.0, (left + half, right + 8.0 - half));
        for (group, x) in groups.iter().zip(places) {
            ink.path("h", &[vec![group.at, (x, foot - TEXT - 6.0)]]);
            ink.text((x, foot - 7.0), "middle", &group.text(), false);
        }
        ink.marks(3, points.into_iter());
    }

    /// What stands at the ends of the lines, pushed apart, each with a hairline to its end.
    fn ends(&self, lines: &[Line], ink: &mut Ink) {
        let (_, right) = self.x.edges();
        let (foot, top) = self.y.edges();
        let mut named: Vec<(Point, &str)> = lines
            .iter()
            .filter(|line| !line.end.is_empty())
            .filter_map(|line| {
                let last = line.dotted.map(|(_, to)| to).or_else(|| line.runs.last().and_then(|run| run.last()).copied())?;
                Some((self.at(last), line.end.as_str()))
            })
            .collect();
        named.sort_by(|a, b| a.0.1.total_cmp(&b.0.1));
        let wanted: Vec<f64> = named.iter().map(|(end, _)| end.1).collect();
        let placed = spread::apart(&wanted, TEXT + 1.0, (top + 4.0, foot - 4.0));
        for ((end, text), y) in named.into_iter().zip(placed) {
            if right - end.0 > 4.0 || (y - end.1).abs() > 3.0 {
                ink.path("h", &[vec![(end.0 + 5.0, end.1), (right + 8.0, y)]]);
            }
            ink.text((right + 11.0, y + 5.0), "start", text, false);
        }
    }
}
