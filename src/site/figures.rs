//! Figures in words: as written first, in the other system of units behind it.

use super::escape;
use super::long::{STORES, TOOLS, page_of};
use super::words::Words;
use crate::book::model::{Amount, Boat, Book, Guide, PartUse, ReadingSpec, Torque, Units, Value, ValueFigure};
use crate::book::names_of_guide::{Named, NamesOfGuide};
use crate::quantity::{Figure, Quantity, Rounding, System};
use crate::reckon::Held;

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

/// An amount: `2`, `7.5 L`. It is what stands on the tin, so it comes first in whatever units a boat likes to read.
#[must_use]
pub fn amount(amount: &Amount) -> Pair {
    match amount {
        Amount::Pieces(number) => Pair::plain(number.written().to_owned()),
        Amount::Measured(quantity) => {
            let figure = Figure::Exact(quantity.clone());
            Pair { first: figure.to_string(), second: figure.converted() }
        }
    }
}

/// An amount as written, and in the unit that its item is counted in where that is another: `1 US gal (3.79 L)`.
#[must_use]
pub fn amount_counted_in(given: &Amount, counted: &Held, rounding: Rounding) -> String {
    let second = (Held::of(given).unit != counted.unit).then(|| counted.said(rounding));
    Pair { first: amount(given).first, second }.text()
}

/// How much of a part is used: one unless given.
#[must_use]
pub fn part_amount(part: &PartUse) -> Option<Pair> {
    part.amount.as_ref().map(amount)
}

/// Words that are written with a capital wherever they stand, and begin the names of tools and stores; sorted.
const PROPER: [&str; 42] = [
    "African",
    "Allen",
    "American",
    "Arctic",
    "Atlantic",
    "Baltic",
    "Belleville",
    "Bermuda",
    "Bowden",
    "Brazilian",
    "British",
    "Cardan",
    "Caribbean",
    "Chinese",
    "Danish",
    "Dutch",
    "English",
    "European",
    "Finnish",
    "Flemish",
    "French",
    "German",
    "Greek",
    "Indian",
    "Irish",
    "Italian",
    "Japanese",
    "Mediterranean",
    "Norwegian",
    "Phillips",
    "Portland",
    "Portuguese",
    "Scandinavian",
    "Scottish",
    "Spanish",
    "Stillson",
    "Stockholm",
    "Swedish",
    "Turkish",
    "Welsh",
    "Whitworth",
    "Woodruff",
];

/// A title in the middle of a sentence: `Oil filter` is `oil filter`. English alone writes it so; and whatever may be a
/// name stays as it is: `LPG hose`, `AdBlue`, `Dr. Bell puller`, `Danish oil`.
#[must_use]
pub fn in_sentence(boat: &Boat, title: &str) -> String {
    let first = title.split_whitespace().next().unwrap_or_default();
    let english = boat.language.split('-').next() == Some("en");
    let mut letters = first.bytes();
    let plain = title.starts_with(first)
        && letters.next().is_some_and(|letter| letter.is_ascii_uppercase())
        && letters.next().is_some_and(|letter| letter.is_ascii_lowercase())
        && letters.all(|letter| letter.is_ascii_lowercase() || matches!(letter, b'-' | b'/' | b','));
    let name = first.split(['-', '/', ',']).next().unwrap_or_default();
    if english && plain && PROPER.binary_search(&name).is_err() {
        let (capital, rest) = title.split_at(1);
        return capital.to_ascii_lowercase() + rest;
    }
    title.to_owned()
}

/// What stands beside each figure of another boat's guide until somebody has held it against this one.
fn unchecked(guide: &Guide, words: &Words) -> String {
    match guide.unchecked() {
        Some(_) => format!(" <small class=\"unchecked\">{}</small>", escape::html(&words.text("received.mark"))),
        None => String::new(),
    }
}

/// What a `{name}` of a guide shows, as HTML; `names` are those of that guide.
#[must_use]
pub fn named(book: &Book, guide: &Guide, names: &NamesOfGuide<'_>, id: &str, root: &str, words: &Words) -> String {
    let boat = &book.boat;
    let unchecked = unchecked(guide, words);
    match names.find(id) {
        Some(Named::Torque(found)) => {
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
        Some(Named::Value(found)) => return value(boat, found).html() + &unchecked,
        Some(Named::Reading(found)) => {
            let limits = found.limits.as_ref();
            let limits = limits.map(|limits| format!(" {}{unchecked}", self::limits(boat, words, limits).html())).unwrap_or_default();
            return format!("<a class=\"named\" href=\"#read-{id}\">{}</a>{limits}", escape::html(&found.name));
        }
        Some(Named::Part(part)) => {
            let title = book.store(&part.item.value).map_or(part.item.value.as_str(), |item| item.title.as_str());
            return format!("<a class=\"named\" href=\"#part-{id}\">{}</a>", escape::html(&in_sentence(boat, title)));
        }
        Some(Named::Tool(tool)) => {
            let title = book.tool(&tool.value).map_or(tool.value.as_str(), |tool| tool.title.as_str());
            return format!("<a class=\"named\" href=\"#tool-{id}\">{}</a>", escape::html(&in_sentence(boat, title)));
        }
        None => {}
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Unit;

    #[track_caller]
    fn case(language: &str, title: &str, expected: &str) {
        let boat = Boat { language: language.to_owned(), ..Boat::default() };
        assert_eq!(in_sentence(&boat, title), expected, "in {language}");
    }

    #[test]
    fn a_plain_name_is_small_in_an_english_sentence() {
        for (title, expected) in [
            ("Oil filter", "oil filter"),
            ("Soft-faced hammer", "soft-faced hammer"),
            ("Fuses, assorted", "fuses, assorted"),
            ("Grease for Arden winches", "grease for Arden winches"),
            // No country is meant.
            ("Polish for the topsides", "polish for the topsides"),
        ] {
            case("en", title, expected);
            case("en-GB", title, expected);
            case("de", title, title);
            case("fr", title, title);
        }
    }

    #[test]
    fn what_may_be_a_name_is_left_as_it_is_written() {
        for title in [
            "AdBlue",
            "LPG hose",
            "Dr. Bell puller",
            "K\u{e4}rcher nozzle",
            "\u{d6}l",
            "T-handle",
            "O-ring",
            "Bell's puller",
            "Mk2 pump",
            "A ring",
            "Danish oil",
            "Allen key",
            "Phillips screwdriver",
            "Stockholm tar",
            "Whitworth spanners",
            "Danish-oil cloth",
            "17 mm socket",
            "oil filter",
            "",
            " Oil",
        ] {
            case("en", title, title);
        }
    }

    #[test]
    fn proper_words_are_sorted_for_looking_them_up() {
        assert!(PROPER.is_sorted());
    }

    #[test]
    fn amounts_of_stores_come_first_as_they_are_written() {
        let measured = |text: &str| Amount::Measured(Quantity::parse(text).expect("an amount"));
        // 1 US gal is 3.785411784 L, 1 US qt 0.946352946 L (NIST SP 811, appendix B.8).
        assert_eq!(amount(&measured("2 L")).text(), "2 L (2 US qt)");
        assert_eq!(amount(&measured("1 US gal")).text(), "1 US gal (4 L)");
        let held =
            |text: &str, unit: Unit| Held { value: Held::of(&measured(text)).in_unit(Some(unit)).expect("a volume"), unit: Some(unit) };
        let in_litres = |text: &str| amount_counted_in(&measured(text), &held(text, Unit::Litre), Rounding::Up);
        assert_eq!(in_litres("1 US gal"), "1 US gal (3.79 L)");
        assert_eq!(in_litres("5 L"), "5 L");
    }
}
