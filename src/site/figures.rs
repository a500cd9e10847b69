//! Figures in words: as written first, in the other system of units behind it.

use super::escape;
use super::long::{STORES, TOOLS, page_of};
use super::words::Words;
use crate::book::model::{Amount, Boat, Book, Guide, PartUse, ReadingSpec, Torque, Units, Value, ValueFigure};
use crate::quantity::{Figure, Quantity, System};

/// A figure with its counterpart in the other system of units.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pair {
    pub first: String,
    pub second: Option<String>,
}

impl Pair {
    fn plain(text: String) -> Self {
        Self { first: text, second: None }
    }

    /// `35 N·m (26 lbf·ft)`.
    #[must_use]
    pub fn text(&self) -> String {
        match &self.second {
            Some(second) => format!("{} ({second})", self.first),
            None => self.first.clone(),
        }
    }

    /// As HTML of the running text.
    #[must_use]
    pub fn html(&self) -> String {
        let first = escape::html(&self.first);
        match &self.second {
            Some(second) => format!("<span class=\"fig\"><b>{first}</b> <i>({})</i></span>", escape::html(second)),
            None => format!("<span class=\"fig\"><b>{first}</b></span>"),
        }
    }
}

/// A figure as written, then converted. Only a boat that asks for imperial units turns them round.
#[must_use]
pub fn figure(boat: &Boat, figure: &Figure) -> Pair {
    paired(boat, figure, figure.to_string(), figure.converted())
}

/// Limits in words, then converted: `2.5 to 5.0 bar (36.3 to 72.5 psi)`, `12.4 V or more`.
#[must_use]
pub fn limits(boat: &Boat, words: &Words, figure: &Figure) -> Pair {
    let converted: Vec<String> = figure.counterparts().iter().map(|figure| in_words(words, figure)).collect();
    paired(boat, figure, in_words(words, figure), (!converted.is_empty()).then(|| converted.join(", ")))
}

/// A range as people say it; any other figure as written.
#[must_use]
pub fn in_words(words: &Words, figure: &Figure) -> String {
    match figure {
        Figure::Range { low: Some(low), high: Some(high) } if low.unit() == high.unit() => {
            words.say("figure.from-to", &[("low", low.number().written()), ("high", high.written())])
        }
        Figure::Range { low: Some(low), high: None } => words.say("figure.at-least", &[("low", low.written())]),
        Figure::Range { low: None, high: Some(high) } => words.say("figure.at-most", &[("high", high.written())]),
        Figure::Range { .. } | Figure::Exact(_) | Figure::Tolerance { .. } => figure.to_string(),
    }
}

fn paired(boat: &Boat, figure: &Figure, written: String, converted: Option<String>) -> Pair {
    let Some(converted) = converted else { return Pair::plain(written) };
    let metric = figure.unit().is_some_and(|unit| unit.system() == System::Metric);
    if boat.units == Units::Imperial && metric {
        Pair { first: converted, second: Some(written) }
    } else {
        Pair { first: written, second: Some(converted) }
    }
}

/// A value of a guide.
#[must_use]
pub fn value(boat: &Boat, value: &Value) -> Pair {
    match &value.figure {
        ValueFigure::Figure(inner) => figure(boat, inner),
        ValueFigure::Duration(duration) => Pair::plain(duration.to_string()),
        ValueFigure::Calendar(span) => Pair::plain(span.to_string()),
        ValueFigure::Words(words) => Pair::plain(words.clone()),
    }
}

/// A value as it was read; in another unit than the guide asks for, in that too: `820 lb (372 kg)`.
#[must_use]
pub fn read(spec: &ReadingSpec, value: &Quantity) -> String {
    let asked = (value.unit() != spec.unit).then(|| value.rounded_in(spec.unit)).flatten();
    Pair { first: value.written().to_owned(), second: asked.map(|asked| asked.to_string()) }.text()
}

/// A torque of a guide.
#[must_use]
pub fn torque(boat: &Boat, torque: &Torque) -> Pair {
    figure(boat, &torque.value)
}

/// An amount: `2`, `7.5 L`.
#[must_use]
pub fn amount(boat: &Boat, amount: &Amount) -> Pair {
    match amount {
        Amount::Pieces(number) => Pair::plain(number.written().to_owned()),
        Amount::Measured(quantity) => figure(boat, &Figure::Exact(quantity.clone())),
    }
}

/// How much of a part is used: one unless given.
#[must_use]
pub fn part_amount(boat: &Boat, part: &PartUse) -> Option<Pair> {
    part.amount.as_ref().map(|given| amount(boat, given))
}

/// A title in the middle of a sentence: `Oil filter` is `oil filter`, `LPG hose` stays. In German
/// nouns keep their capital.
#[must_use]
pub fn in_sentence(boat: &Boat, title: &str) -> String {
    let mut characters = title.chars();
    match (characters.next(), characters.next()) {
        (Some(first), Some(second)) if second.is_lowercase() && !boat.language.starts_with("de") => {
            first.to_lowercase().chain(std::iter::once(second)).chain(characters).collect()
        }
        _ => title.to_owned(),
    }
}

/// What stands beside each figure of another boat's guide until somebody has held it against this one.
fn unchecked(guide: &Guide, words: &Words) -> String {
    match guide.unchecked() {
        Some(_) => format!(" <small class=\"unchecked\">{}</small>", escape::html(&words.text("received.mark"))),
        None => String::new(),
    }
}

/// What a `{name}` of a guide shows, as HTML.
#[must_use]
pub fn named(book: &Book, guide: &Guide, id: &str, root: &str, words: &Words) -> String {
    let boat = &book.boat;
    let unchecked = unchecked(guide, words);
    if let Some(found) = guide.torques.iter().find(|torque| torque.id == id) {
        let mut text = format!(
            "<a class=\"named\" href=\"#fig-{id}\">{}</a> {}",
            escape::html(&in_sentence(boat, &found.at)),
            torque(boat, found).html()
        );
        if let Some(then) = &found.then {
            text.push_str(&format!(" + <span class=\"fig\"><b>{}</b></span>", escape::html(&then.to_string())));
        }
        return text + &unchecked;
    }
    if let Some(found) = guide.values.iter().find(|value| value.id == id) {
        return value(boat, found).html() + &unchecked;
    }
    if let Some(found) = guide.readings.iter().find(|reading| reading.id == id) {
        let limits = found.limits.as_ref();
        let limits = limits.map(|limits| format!(" {}{unchecked}", self::limits(boat, words, limits).html())).unwrap_or_default();
        return format!("<a class=\"named\" href=\"#read-{id}\">{}</a>{limits}", escape::html(&found.name));
    }
    if let Some(part) = guide.parts.iter().find(|part| crate::book::id::id_of(&part.item.value) == id) {
        let title = book.store(&part.item.value).map_or(part.item.value.as_str(), |item| item.title.as_str());
        return format!("<a class=\"named\" href=\"#part-{id}\">{}</a>", escape::html(&in_sentence(boat, title)));
    }
    if let Some(tool) = guide.tools.iter().find(|tool| crate::book::id::id_of(&tool.value) == id) {
        let title = book.tool(&tool.value).map_or(tool.value.as_str(), |tool| tool.title.as_str());
        return format!("<a class=\"named\" href=\"#tool-{id}\">{}</a>", escape::html(&in_sentence(boat, title)));
    }
    // Aboard, but not listed in the guide: a warning has said so.
    if let Some(item) = book.store(id) {
        return format!(
            "<a class=\"named\" href=\"{root}{}#{id}\">{}</a>",
            stores_page(book, id),
            escape::html(&in_sentence(boat, &item.title))
        );
    }
    if let Some(tool) = book.tool(id) {
        return format!(
            "<a class=\"named\" href=\"{root}{}#{id}\">{}</a>",
            tools_page(book, id),
            escape::html(&in_sentence(boat, &tool.title))
        );
    }
    escape::html(&format!("{{{id}}}"))
}

fn stores_page(book: &Book, id: &str) -> String {
    let at = book.stores.iter().position(|item| item.id.value == id);
    page_of("stores", "", at.unwrap_or_default(), STORES)
}

fn tools_page(book: &Book, id: &str) -> String {
    let at = book.tools.iter().position(|tool| tool.id.value == id);
    page_of("tools", "", at.unwrap_or_default(), TOOLS)
}

/// The name of a reading where it stands alone: `oil-pressure` is `Oil pressure`.
#[must_use]
pub fn reading_title(spec: &ReadingSpec) -> String {
    let name = if spec.name == spec.id { spec.name.replace('-', " ") } else { spec.name.clone() };
    let mut characters = name.chars();
    match characters.next() {
        Some(first) => first.to_uppercase().chain(characters).collect(),
        None => String::new(),
    }
}
