//! The SVG of a plot: paths, marks and text with figures of one decimal, so that it stays small and
//! is the same every time.

use super::Point;
use crate::site::escape;
use std::fmt::Write as _;

/// Width and distance of the strokes of a hatching.
const HATCH: &str = "1 5";
/// Dashes of the lines of one plot, by their order.
const DASHES: [&str; 6] = ["", "7 3", "2 3", "10 3 2 3", "4 4", "1 2"];

/// A picture in the making.
pub(super) struct Ink {
    svg: String,
}

impl Ink {
    pub(super) fn new(width: f64, height: f64, label: &str) -> Self {
        let (width, height, label) = (number(width), number(height), escape::html(label));
        Self { svg: format!("<svg class=\"plot\" viewBox=\"0 0 {width} {height}\" role=\"img\" aria-label=\"{label}\">") }
    }

    pub(super) fn finish(mut self) -> String {
        self.svg.push_str("</svg>");
        self.svg
    }

    /// Strokes through points, run by run. The class says what they are: `l` a limit, `h` a
    /// hairline, `c` carried on, `t` a trend.
    pub(super) fn path(&mut self, class: &str, runs: &[Vec<Point>]) {
        let class = if class.is_empty() { String::new() } else { format!(" class=\"{class}\"") };
        self.stroked(&class, runs);
    }

    /// The same with the dashes of a line of that order.
    pub(super) fn dashed_path(&mut self, order: usize, runs: &[Vec<Point>]) {
        let dash = DASHES.get(order % DASHES.len()).filter(|dash| !dash.is_empty());
        let dash = dash.map(|dash| format!(" stroke-dasharray=\"{dash}\"")).unwrap_or_default();
        self.stroked(&dash, runs);
    }

    fn stroked(&mut self, attributes: &str, runs: &[Vec<Point>]) {
        let mut d = String::new();
        for run in runs.iter().filter(|run| run.len() > 1) {
            for (at, point) in run.iter().enumerate() {
                d.push_str(if at == 0 { "M" } else { " " });
                put(&mut d, *point);
            }
        }
        if !d.is_empty() {
            // Writing into a string cannot fail.
            let _ = write!(self.svg, "<path{attributes} d=\"{d}\"/>");
        }
    }

    /// A small dot at each point, where there are many.
    pub(super) fn dots(&mut self, points: impl Iterator<Item = Point>) {
        self.shapes("e", "h0", points);
    }

    /// A mark at each point: a shape of its own for each of six lines.
    pub(super) fn marks(&mut self, order: usize, points: impl Iterator<Item = Point>) {
        let (class, shape) = match order % 6 {
            0 => ("d", "h0"),
            1 => ("s", "h0"),
            2 => ("o", "m0-4.5l4.5 8h-9z"),
            3 => ("o", "m-4 0a4 4 0 0 0 8 0a4 4 0 0 0-8 0"),
            4 => ("x", "m-3.5-3.5l7 7m0-7l-7 7"),
            _ => ("o", "m0-5l5 5-5 5-5-5z"),
        };
        self.shapes(class, shape, points);
    }

    fn shapes(&mut self, class: &str, shape: &str, points: impl Iterator<Item = Point>) {
        let mut d = String::new();
        for point in points {
            d.push('M');
            put(&mut d, point);
            d.push_str(shape);
        }
        if !d.is_empty() {
            let _ = write!(self.svg, "<path class=\"{class}\" d=\"{d}\"/>");
        }
    }

    /// Upright hairlines over a field between two corners, the upper left one first: one broad
    /// stroke, broken into them.
    pub(super) fn hatch(&mut self, from: Point, to: Point) {
        let ((left, top), (right, foot)) = (from, to);
        if foot - top < 1.0 {
            return;
        }
        let (y, height) = (number(f64::midpoint(top, foot)), number(foot - top));
        let (left, right) = (number(left), number(right));
        let _ = write!(self.svg, "<path class=\"h\" stroke-width=\"{height}\" stroke-dasharray=\"{HATCH}\" d=\"M{left} {y}H{right}\"/>");
    }

    /// Words at a place; `clear` keeps the lines behind them off.
    pub(super) fn text(&mut self, at: Point, anchor: &str, text: &str, clear: bool) {
        let anchor = if anchor == "start" { String::new() } else { format!(" text-anchor=\"{anchor}\"") };
        let class = if clear { " class=\"k\"" } else { "" };
        let (x, y, text) = (number(at.0), number(at.1), escape::html(text));
        let _ = write!(self.svg, "<text x=\"{x}\" y=\"{y}\"{anchor}{class}>{text}</text>");
    }
}

/// Both figures of a point.
fn put(d: &mut String, point: Point) {
    put_number(d, point.0);
    d.push(' ');
    put_number(d, point.1);
}

/// With one decimal at most: `12.3`, `7`, `0`.
pub(super) fn number(value: f64) -> String {
    let mut text = String::new();
    put_number(&mut text, value);
    text
}

fn put_number(text: &mut String, value: f64) {
    let rounded = (value * 10.0).round() / 10.0;
    if rounded.is_finite() && rounded != 0.0 {
        let _ = write!(text, "{rounded}");
    } else {
        text.push('0');
    }
}
