//! The tables of keys, as the document shows them.

use crate::document::table;
use garboard::book::keys::{self, Shape, Table};

/// Every table by the name of its block.
const TABLES: [(&str, &Table); 22] = [
    ("boat", &keys::BOAT),
    ("systems", &keys::SYSTEM),
    ("meters", &keys::METER),
    ("gear", &keys::GEAR),
    ("fitted", &keys::FITTED),
    ("occasions", &keys::OCCASION),
    ("guides", &keys::GUIDE),
    ("parts-of-a-guide", &keys::GUIDE_PART),
    ("torque", &keys::TORQUE),
    ("received", &keys::RECEIVED),
    ("readings", &keys::READING),
    ("entries", &keys::ENTRY),
    ("parts-of-an-entry", &keys::ENTRY_PART),
    ("costs", &keys::COST),
    ("findings", &keys::FINDING),
    ("renewals", &keys::RENEWAL),
    ("stores", &keys::STORE_ITEM),
    ("counted", &keys::COUNTED),
    ("bought", &keys::BOUGHT),
    ("tools", &keys::TOOL),
    ("passages", &keys::PASSAGE),
    ("cautions", &keys::HAZARD),
];

pub fn names() -> impl Iterator<Item = &'static str> {
    TABLES.iter().map(|(name, _)| *name)
}

pub fn has(table: &Table) -> bool {
    TABLES.iter().any(|(_, known)| std::ptr::eq(*known, table))
}

/// The table of this name.
pub fn of(name: &str) -> String {
    let (_, keys) = TABLES.iter().find(|(known, _)| *known == name).unwrap_or_else(|| panic!("there are no keys `{name}`"));
    let yes = |flag: bool| if flag { "yes" } else { "no" }.to_owned();
    let rows = keys
        .keys
        .iter()
        .map(|key| vec![format!("`{}`", key.name), holds(key.shape), yes(key.required), yes(key.private), key.doc.to_owned()]);
    table(&["key", "what it holds", "required", "private", "what it is for"], rows)
}

/// What stands in a key, with how it is written.
fn holds(shape: Shape) -> String {
    let words = |words: &[&str]| words.iter().map(|word| format!("`{word}`")).collect::<Vec<_>>().join(", ");
    let record = |table: &'static Table| {
        let (name, _) = TABLES.iter().find(|(_, known)| std::ptr::eq(*known, table)).expect("every table has its block");
        format!("[of {}](#keys-of-{name})", name.replace('-', " "))
    };
    match shape {
        Shape::Text | Shape::Texts | Shape::TextOrTexts | Shape::Flag => shape.needs().to_owned(),
        Shape::Choice(choices) => format!("one of {}", words(choices)),
        Shape::Choices(choices) => format!("a list of some of {}", words(choices)),
        Shape::Day => "a day: `2026-03-14`".to_owned(),
        Shape::LogDay => "a day, or about one: `2026-03-14`, `~2021-05`".to_owned(),
        Shape::MonthOrOccasion => "a month, a day or an occasion: `2026-09`, `haul-out`".to_owned(),
        Shape::Ref => "an id that something has".to_owned(),
        Shape::Refs => "a list of ids that something has".to_owned(),
        Shape::RefOrRefs => "an id that something has, or a list of them".to_owned(),
        Shape::Measure(dimension) => format!("{} with its unit: `{}`", dimension.name(), shape.example()),
        Shape::Measures(dimension) => format!("a list, each a {} with its unit: `{}`", dimension.name(), shape.example()),
        Shape::Limits => "limits: `2.5..5.0`, `2.5..`, `..5`".to_owned(),
        Shape::Amount => "a number of pieces, or an amount with its unit: `2`, `7.5 L`".to_owned(),
        Shape::AmountOrAmounts => "an amount, or a list of amounts: `1`, `[1 L, 5 L]`".to_owned(),
        Shape::Named(table) => format!("names, each with the keys {}", record(table)),
        Shape::Record(table) => format!("one map with the keys {}", record(table)),
        Shape::Records(table) => format!("a list of maps with the keys {}", record(table)),
        Shape::RecordsOrWords(table) => format!("a list of words, or of maps with the keys {}", record(table)),
        other => format!("{}: `{}`", other.needs(), other.example()),
    }
}
