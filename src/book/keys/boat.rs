//! Keys of `boat.yaml`.

use super::shape::Shape;
use super::{KeySpec, Table, key, private, required};
use crate::quantity::Dimension;

pub static BOAT: Table = Table { name: "boat", keys: BOAT_KEYS };
pub static SYSTEM: Table = Table { name: "system", keys: SYSTEM_KEYS };
pub static METER: Table = Table { name: "meter", keys: METER_KEYS };
pub static GEAR: Table = Table { name: "gear", keys: GEAR_KEYS };
pub static FITTED: Table = Table { name: "fitted", keys: FITTED_KEYS };
pub static OCCASION: Table = Table { name: "occasion", keys: OCCASION_KEYS };

const BOAT_KEYS: &[KeySpec] = &[
    required("name", Shape::Text, "The boat's name, as it stands on every sheet."),
    key("type", Shape::Text, "What she is: rig, material, keel."),
    key("built", Shape::Year, "The year she was built."),
    key("length", Shape::Measure(Dimension::Length), "Her length over all."),
    key("flag", Shape::Text, "The flag she flies."),
    key("home-port", Shape::Text, "The port she belongs to."),
    private("hull-number", Shape::Text, "Her hull identification number."),
    private("crew", Shape::TextOrTexts, "Who sails her."),
    key("in-service", Shape::Day, "The day from which a first calendar interval counts."),
    key("language", Shape::Language, "The language of the words that pages add; `en` unless given."),
    key(
        "units",
        Shape::Choice(&["metric", "imperial", "both"]),
        "Which units pages show first; metric unless given. Amounts of stores and parts stay as they are written.",
    ),
    key("soon", Shape::Share, "How near counts as soon: a share of the interval, `10 %` unless given."),
    key("site", Shape::WebAddress, "Where the site will be served, for feeds and codes to scan."),
    key("licence", Shape::Text, "The licence of guides you share, unless a guide names its own."),
    key(
        "systems",
        Shape::Records(&SYSTEM),
        "The systems of the boat, in the order that pages use. Without this key: the folders of the guides, by the alphabet.",
    ),
    key("meters", Shape::Records(&METER), "The counters you read: engine hours, miles by log."),
    key("gear", Shape::Records(&GEAR), "Things aboard with a life of their own."),
    key("occasions", Shape::RecordsOrWords(&OCCASION), "Moments that call for jobs, besides those the program knows."),
    key("private-fields", Shape::KeyNames, "Optional keys that a public edition leaves out besides the private ones."),
    key("public-fields", Shape::PrivateKeyNames, "Private keys that a public edition shows all the same."),
];

const SYSTEM_KEYS: &[KeySpec] =
    &[required("id", Shape::Id, "The name of its folder under `guides`."), required("title", Shape::Text, "What pages call it.")];

const METER_KEYS: &[KeySpec] = &[
    required("id", Shape::Id, "The name by which guides and entries refer to it."),
    required("title", Shape::Text, "What pages call it."),
    required("unit", Shape::Unit, "What it counts in, such as `h` or `nmi`."),
];

const GEAR_KEYS: &[KeySpec] = &[
    required("id", Shape::Id, "The name by which guides and entries refer to it."),
    required("title", Shape::Text, "What pages call it."),
    key("system", Shape::Ref, "The system it belongs to."),
    key("expires", Shape::MonthOrDay, "The month or day until which it is good."),
    key("guide", Shape::Ref, "The guide that says how it is looked after or renewed."),
    key("meter", Shape::Ref, "The meter that counts its hours or miles; `own` in a guide's intervals means this one."),
    private("serial", Shape::Text, "Its serial number."),
    key("fitted", Shape::Record(&FITTED), "When it was fitted, and what its meter showed then."),
    key("note", Shape::Text, "Anything else worth knowing about it."),
];

const FITTED_KEYS: &[KeySpec] = &[
    required("on", Shape::LogDay, "The day it was fitted; `~2021-05` where only about then is known."),
    key("at", Shape::AnyMeasure, "What its meter showed that day."),
];

const OCCASION_KEYS: &[KeySpec] =
    &[required("id", Shape::Id, "The name by which guides refer to it."), required("title", Shape::Text, "What pages call it.")];
