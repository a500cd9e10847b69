//! What can stand in a key.

use super::Table;
use crate::quantity::Dimension;

/// What can stand in a key. A text is trimmed, and runs of white space in it count as one space.
#[derive(Debug, Clone, Copy)]
pub enum Shape {
    /// Words.
    Text,
    /// A list of words.
    Texts,
    /// Words, or a list of them.
    TextOrTexts,
    /// A new id: lower-case letters, digits and hyphens.
    Id,
    /// An id that something else has.
    Ref,
    /// A list of such ids.
    Refs,
    /// Such an id, or a list of them.
    RefOrRefs,
    /// An id, or plain words where nothing has one.
    RefOrWords,
    /// A list of ids or plain words.
    RefsOrWords,
    /// `true` or `false`.
    Flag,
    /// `2026-03-14`.
    Day,
    /// A day, or about one: `2026-03-14`, `~2021-05`, `~1998`.
    LogDay,
    /// `2029-05`, the end of that month, or a day.
    MonthOrDay,
    /// A month, a day or the id of an occasion.
    MonthOrOccasion,
    /// A year of four digits, or about one.
    Year,
    /// One of these words.
    Choice(&'static [&'static str]),
    /// A list of these words.
    Choices(&'static [&'static str]),
    /// A whole number from 1.
    Count,
    /// So many hundredths: `10 %`.
    Share,
    /// `18.50 EUR`.
    Money,
    /// A thread, perhaps with its strength: `M8 8.8`.
    Fastener,
    /// `2 h 40 min`.
    Duration,
    /// `12 months`.
    CalendarSpan,
    /// A unit of the list.
    Unit,
    /// One number with a unit of this kind.
    Measure(Dimension),
    /// A list of those.
    Measures(Dimension),
    /// One number with any unit.
    AnyMeasure,
    /// A bare number of nautical miles, or a distance.
    Miles,
    /// A value, a range or a value with a tolerance, of this kind.
    Figure(Dimension),
    /// Limits in the unit given beside them: `2.5..5.0`.
    Limits,
    /// A bare number of pieces, or a volume, a mass or a length.
    Amount,
    /// One amount, or a list of them.
    AmountOrAmounts,
    /// An address that begins with `https://` or `http://`.
    WebAddress,
    /// A language tag such as `en`.
    Language,
    /// A map of `calendar`, `own` or a meter's id to an interval.
    Intervals,
    /// A map of names to figures.
    NamedFigures,
    /// A map of names to records.
    Named(&'static Table),
    /// A map of meters' ids to what they showed.
    MeterValues,
    /// A map of meters' ids to how much they will run.
    MeterMeasures,
    /// A map of readings to a value, or to a map of points to values.
    ReadingValues,
    /// A map of ids of another boat to ids of this one.
    Names,
    /// A list of guides' ids, each with `/` and gear where the guide is for several.
    Jobs,
    /// A list of findings: an entry's id, `/` and a number.
    Findings,
    /// A list of names of keys.
    KeyNames,
    /// A list of names of private keys.
    PrivateKeyNames,
    /// A record.
    Record(&'static Table),
    /// A list of records.
    Records(&'static Table),
    /// A list of records, or of plain words that stand for their title.
    RecordsOrWords(&'static Table),
}

impl Shape {
    /// What is needed, as it stands in a message: `a list of texts`.
    #[must_use]
    pub fn needs(self) -> &'static str {
        match self {
            Self::Text => "a text",
            Self::Texts => "a list of texts",
            Self::TextOrTexts => "a text or a list of texts",
            Self::Id | Self::Ref => "an id",
            Self::Refs => "a list of ids",
            Self::RefOrRefs => "an id or a list of ids",
            Self::RefOrWords => "an id or plain words",
            Self::RefsOrWords => "a list of ids or plain words",
            Self::Flag => "`true` or `false`",
            Self::Day | Self::LogDay => "a date",
            Self::MonthOrDay => "a month or a day",
            Self::MonthOrOccasion => "a month, a day or an occasion",
            Self::Year => "a year",
            Self::Choice(_) => "one word of a short list",
            Self::Choices(_) => "a list of words",
            Self::Count => "a whole number",
            Self::Share => "a share in %",
            Self::Money => "a sum with its currency",
            Self::Fastener => "a thread, perhaps with its strength",
            Self::Duration => "a time",
            Self::CalendarSpan => "a calendar interval",
            Self::Unit => "a unit",
            Self::Measure(_) | Self::AnyMeasure => "a number with its unit",
            Self::Measures(_) => "a list of numbers with their units",
            Self::Miles => "a number of nautical miles",
            Self::Figure(_) => "a figure with its unit",
            Self::Limits => "limits such as `2.5..5.0`",
            Self::Amount => "a number of pieces or an amount with its unit",
            Self::AmountOrAmounts => "an amount or a list of amounts",
            Self::WebAddress => "a web address",
            Self::Language => "a language tag",
            Self::Intervals => "a map of intervals",
            Self::NamedFigures => "a map of names and figures",
            Self::Named(_) => "a map of names, each with its own keys",
            Self::MeterValues => "a map of meters and numbers",
            Self::MeterMeasures => "a map of meters and amounts",
            Self::ReadingValues => "a map of readings and values",
            Self::Names => "a map of ids and ids",
            Self::Jobs => "a list of jobs",
            Self::Findings => "a list of findings",
            Self::KeyNames | Self::PrivateKeyNames => "a list of keys",
            Self::Record(_) => "a map of keys and values",
            Self::Records(_) | Self::RecordsOrWords(_) => "a list of maps",
        }
    }

    /// How it is written, for remedies and the format reference. Every example can be read.
    #[must_use]
    pub fn example(self) -> &'static str {
        match self {
            Self::Text | Self::TextOrTexts | Self::RefOrWords => "some words",
            Self::Texts | Self::RefsOrWords => "[some words, more words]",
            Self::Id | Self::Ref | Self::RefOrRefs => "some-id",
            Self::Refs => "[some-id, other-id]",
            Self::Flag => "true",
            Self::Day | Self::LogDay => "2026-03-14",
            Self::MonthOrDay | Self::MonthOrOccasion => "2029-05",
            Self::Year => "1988",
            Self::Choice(words) => words.first().copied().unwrap_or_default(),
            Self::Choices(_) => "[at-anchor, moored]",
            Self::Count => "2",
            Self::Share => "10 %",
            Self::Money => "18.50 EUR",
            Self::Fastener => "M8 8.8",
            Self::Duration => "2 h 40 min",
            Self::CalendarSpan => "12 months",
            Self::Unit => "h",
            Self::Measure(dimension) => measure_example(dimension),
            Self::Measures(Dimension::Torque) => "[20 N·m, 35 N·m]",
            Self::Measures(_) => "[1 L, 5 L]",
            Self::AnyMeasure => "200 h",
            Self::Miles => "900",
            Self::Figure(Dimension::Torque) => "30..35 N·m",
            Self::Figure(Dimension::Angle) => "90°",
            Self::Figure(_) | Self::Limits => "2.5..5.0",
            Self::Amount | Self::AmountOrAmounts => "7.5 L",
            Self::WebAddress => "https://boat.example/book/",
            Self::Language => "en",
            Self::Intervals => "{engine: 200 h, calendar: 12 months}",
            Self::NamedFigures => "{refill: 7.5 L, warm-up: 10 min}",
            Self::Named(_) => "{oil-pressure: {unit: bar, limits: 2.5..5.0}}",
            Self::MeterValues => "{engine: 1840.5}",
            Self::MeterMeasures => "{engine: 60 h}",
            Self::ReadingValues => "{oil-pressure: 3.8 bar}",
            Self::Names => "{their-id: our-id}",
            Self::Jobs => "[oil-and-filter]",
            Self::Findings => "[2025-11-02-rig-check/1]",
            Self::KeyNames => "[home-port]",
            Self::PrivateKeyNames => "[hull-number]",
            Self::Record(_) => "{key: value}",
            Self::Records(_) | Self::RecordsOrWords(_) => "[{key: value}]",
        }
    }

    /// The shape of one item of a list; of all else the shape itself.
    #[must_use]
    pub fn item(self) -> Self {
        match self {
            Self::Texts | Self::TextOrTexts | Self::KeyNames | Self::PrivateKeyNames => Self::Text,
            Self::Refs | Self::RefOrRefs | Self::Jobs | Self::Findings => Self::Ref,
            Self::RefsOrWords => Self::RefOrWords,
            Self::Choices(words) => Self::Choice(words),
            Self::Measures(dimension) => Self::Measure(dimension),
            Self::AmountOrAmounts => Self::Amount,
            Self::Records(table) | Self::RecordsOrWords(table) => Self::Record(table),
            other => other,
        }
    }

    /// The table of the records that stand in it.
    #[must_use]
    pub fn table(self) -> Option<&'static Table> {
        match self {
            Self::Named(table) | Self::Record(table) | Self::Records(table) | Self::RecordsOrWords(table) => Some(table),
            _ => None,
        }
    }
}

fn measure_example(dimension: Dimension) -> &'static str {
    match dimension {
        Dimension::Length => "11.6 m",
        Dimension::Angle => "90°",
        _ => "200 h",
    }
}
