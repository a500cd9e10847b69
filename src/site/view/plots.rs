//! Plots of readings and meters, with what they say in words and the figures they are made of.

use super::{DateView, Html, Link};
use serde::Serialize;

/// A picture of readings, and the same in words and figures.
#[derive(Debug, Clone, Serialize)]
pub struct PlotView {
    /// `Rested voltage, V`.
    pub title: String,
    /// An `svg` element with a text alternative.
    pub svg: Html,
    /// What each line says, in the order of the lines.
    pub lines: Vec<PlotLine>,
    /// Heads of the columns after the date; empty where the figures stand elsewhere on the page.
    pub columns: Vec<String>,
    /// Newest first.
    pub rows: Vec<PlotRow>,
    /// Earlier rows that are not shown.
    pub more: usize,
}

/// One line of a plot in words.
#[derive(Debug, Clone, Serialize)]
pub struct PlotLine {
    /// Letter at its end, where there was no room for its name.
    pub letter: Option<String>,
    /// `house 1`; `None` where there is only one.
    pub name: Option<String>,
    /// `falls by 0.04 V a year; by this trend it meets 12.4 V about May 2027`, or that there is no
    /// trend yet.
    pub text: Option<String>,
}

/// Figures of one day.
#[derive(Debug, Clone, Serialize)]
pub struct PlotRow {
    pub date: DateView,
    /// One a column; empty where nothing was read.
    pub cells: Vec<String>,
}

/// A job that goes by a meter.
#[derive(Debug, Clone, Serialize)]
pub struct MeterDue {
    /// Its number in the plot.
    pub number: Option<usize>,
    pub guide: Link,
    pub gear: Option<String>,
    /// What the counter will show: `2040 h`.
    pub at: String,
    pub on: Option<DateView>,
    pub estimated: bool,
}

/// How often a job was really done.
#[derive(Debug, Clone, Serialize)]
pub struct KeptView {
    pub gear: Option<Link>,
    /// `every 187 h and 11 months (5 spans in the log)`.
    pub text: String,
    /// `every 150 h (Engine hours), every 12 months`.
    pub rule: Option<String>,
}
