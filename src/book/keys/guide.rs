//! Keys of a guide's front matter.

use super::shape::Shape;
use super::{KeySpec, Table, key, required};
use crate::quantity::Dimension;

pub static GUIDE: Table = Table { name: "guide", keys: GUIDE_KEYS };
pub static GUIDE_PART: Table = Table { name: "part", keys: GUIDE_PART_KEYS };
pub static TORQUE: Table = Table { name: "torque", keys: TORQUE_KEYS };
pub static RECEIVED: Table = Table { name: "provenance", keys: RECEIVED_KEYS };
pub static READING: Table = Table { name: "reading", keys: READING_KEYS };

const GUIDE_KEYS: &[KeySpec] = &[
    required("title", Shape::Text, "What the job is called."),
    key("summary", Shape::Text, "The job in one line."),
    key(
        "every",
        Shape::Intervals,
        "How often it falls due: by a meter, by the calendar, or by the gear's `own` meter; whichever comes first.",
    ),
    key("first", Shape::Intervals, "When it falls due the first time, on new gear."),
    key("for", Shape::Refs, "The gear it is reckoned for, each by itself."),
    key("occasions", Shape::Refs, "The occasions that call for it."),
    key("routine", Shape::Flag, "True for a daily or weekly round, which is recorded but never overdue."),
    key("notice", Shape::CalendarSpan, "How long before to warn, where a yard or a long lead is needed."),
    key("covers", Shape::Refs, "The jobs that count as done when this one is done."),
    key("crew", Shape::Count, "How many people are at hand; one unless given."),
    key("where", Shape::Choices(&["under-way", "at-anchor", "moored", "ashore"]), "Where it can be done."),
    key("conditions", Shape::Texts, "What must be so before starting."),
    key("wear", Shape::Texts, "What to wear."),
    key("dispose", Shape::Texts, "What to do with the waste."),
    key("time", Shape::Duration, "How long it takes, where the steps carry no times."),
    key("hazards", Shape::Refs, "Its hazards; each brings in the usual cautions."),
    key("safety", Shape::Texts, "Cautions of this job, in your own words; `{name}` shows a figure, as in the text."),
    key("tools", Shape::RefsOrWords, "The tools it needs: ids of `tools.yaml` or plain words."),
    key("parts", Shape::Records(&GUIDE_PART), "The parts and consumables it uses."),
    key("torque", Shape::Records(&TORQUE), "How tight its fasteners go."),
    key("values", Shape::NamedFigures, "Other figures of the job, for use in its steps by their names."),
    key("readings", Shape::Named(&READING), "What is measured and noted, with its limits."),
    key("applies-to", Shape::Text, "The machine, model and range it was written for."),
    key("source", Shape::Text, "Where the procedure comes from."),
    key("licence", Shape::Text, "On what terms others may use it."),
    key("revised", Shape::Day, "The day it was last changed."),
    key("checked", Shape::Day, "The day someone last held it against this boat."),
    key("formerly", Shape::Refs, "Ids it had before it was renamed; their log goes with it."),
    key("received", Shape::Record(&RECEIVED), "From which boat `garboard receive` took it, and what her names are called here."),
];

const GUIDE_PART_KEYS: &[KeySpec] = &[
    required("item", Shape::RefOrWords, "An id of `stores.yaml`, or plain words."),
    key("qty", Shape::Amount, "How many pieces, or how much with its unit; one piece unless given."),
    key("if-worn", Shape::Flag, "True where it is only used when the old one is worn."),
];

const TORQUE_KEYS: &[KeySpec] = &[
    required("at", Shape::Text, "Which fastener; steps refer to it by this name made into an id."),
    required("value", Shape::Figure(Dimension::Torque), "The final torque: `35 N·m`, `30..35 N·m` or `35 ± 3 N·m`."),
    key("steps", Shape::Measures(Dimension::Torque), "The stages before and up to it."),
    key("then", Shape::Figure(Dimension::Angle), "The angle to turn on after the torque: `90°`, `90..100°` or `90 ± 5°`."),
    key("fastener", Shape::Fastener, "Its thread and strength, so that the value can be checked; or its thread alone."),
    key("surface", Shape::Choice(&["dry", "oiled", "anti-seize", "threadlock"]), "How the thread is prepared."),
    key("source", Shape::Text, "Where the value comes from."),
];

const READING_KEYS: &[KeySpec] = &[
    required("unit", Shape::Unit, "The unit it is noted in."),
    key("limits", Shape::Limits, "The lowest and highest value that are right: `2.5..5.0`, `2.5..` or `..5`."),
    key("when", Shape::Text, "In what state it is taken."),
    key("at", Shape::Texts, "The points at which it is taken, where there are several."),
];

const RECEIVED_KEYS: &[KeySpec] = &[
    required("from", Shape::Text, "The boat it came from."),
    required("on", Shape::Day, "The day it was received; only a `checked` from that day on counts."),
    key("checked", Shape::Day, "The day that boat checked it; while `checked` says the same day, it does not count here."),
    key("licence", Shape::Text, "The terms on which that boat shares it, where the guide names none."),
    key("system", Shape::Text, "What that boat calls its system, where this boat has none of that id."),
    key("revises", Shape::Ref, "The guide of this book that it is another revision of."),
    key("systems", Shape::Names, "Her systems by their ids there, with the ids here."),
    key("meters", Shape::Names, "Her meters by their ids there, with the ids here."),
    key("items", Shape::Names, "Her stores and tools by their ids there, with the ids here."),
    key("cautions", Shape::Names, "Her own hazards by their ids there, with the ids here."),
    key("guides", Shape::Names, "Her guides by their ids there, with the ids here."),
];
