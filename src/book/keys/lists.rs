//! Keys of `stores.yaml`, `tools.yaml`, `passages.yaml` and `cautions.yaml`.

use super::shape::Shape;
use super::{KeySpec, Table, key, private, required, required_private};

pub static STORE_ITEM: Table = Table { name: "store item", keys: STORE_ITEM_KEYS };
pub static COUNTED: Table = Table { name: "count", keys: COUNTED_KEYS };
pub static BOUGHT: Table = Table { name: "purchase", keys: BOUGHT_KEYS };
pub static TOOL: Table = Table { name: "tool", keys: TOOL_KEYS };
pub static PASSAGE: Table = Table { name: "passage", keys: PASSAGE_KEYS };
pub static HAZARD: Table = Table { name: "hazard", keys: HAZARD_KEYS };

const STORE_ITEM_KEYS: &[KeySpec] = &[
    required("id", Shape::Id, "The name by which guides and entries refer to it."),
    required("title", Shape::Text, "What pages call it."),
    key("part-number", Shape::Text, "The number to order it by."),
    key("stowed", Shape::Text, "Where it lives."),
    private("counted", Shape::Record(&COUNTED), "The last count of what is aboard."),
    private("level", Shape::Choice(&["plenty", "low", "none"]), "About how much is left, for what nobody counts; instead of `counted`."),
    key("minimum", Shape::Amount, "The least that should be aboard."),
    key("sold-in", Shape::AmountOrAmounts, "How it is sold: a pack, a can, or a list of sizes; singly unless given."),
    private("price", Shape::Money, "The price of one piece or of one of its unit."),
    key("also-fits", Shape::Texts, "Other part numbers that will do."),
    key("expires", Shape::MonthOrDay, "The month or day until which it is good."),
    private("bought", Shape::Records(&BOUGHT), "What came aboard after the last count."),
    key("note", Shape::Text, "Anything else worth knowing about it."),
];

const COUNTED_KEYS: &[KeySpec] = &[
    required_private("on", Shape::Day, "The day it was counted."),
    required_private("qty", Shape::Amount, "How many pieces, or how much with its unit."),
];

const BOUGHT_KEYS: &[KeySpec] = &[
    required_private("on", Shape::Day, "The day it came aboard."),
    required_private("qty", Shape::Amount, "How many pieces, or how much with its unit."),
];

const TOOL_KEYS: &[KeySpec] = &[
    required("id", Shape::Id, "The name by which guides refer to it."),
    required("title", Shape::Text, "What pages call it."),
    key("stowed", Shape::Text, "Where it lives."),
    key("note", Shape::Text, "Anything else worth knowing about it."),
];

const PASSAGE_KEYS: &[KeySpec] = &[
    required_private("id", Shape::Id, "The name by which it is asked for."),
    required_private("title", Shape::Text, "What pages call it."),
    required_private("depart", Shape::Day, "The day of departure."),
    private("days", Shape::Count, "How many days it takes."),
    private("miles", Shape::Miles, "How far it is, in nautical miles."),
    private("meters", Shape::MeterMeasures, "How much each meter will run on the way."),
    private("reserve", Shape::Share, "What to add to all its figures for safety."),
];

const HAZARD_KEYS: &[KeySpec] = &[
    required("id", Shape::Id, "The name by which guides refer to it."),
    required("title", Shape::Text, "What pages call it."),
    required("signal", Shape::Choice(&["danger", "warning", "caution", "notice"]), "How badly a person can be hurt."),
    required("harm", Shape::Text, "What can happen, and how badly."),
    required("avoid", Shape::TextOrTexts, "How to avoid it."),
    key("defer", Shape::Text, "Whose rules come before the guide's: local codes, licensed practice."),
    key("words", Shape::Texts, "Words in a guide that suggest this hazard."),
];
