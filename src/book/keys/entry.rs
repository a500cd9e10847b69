//! Keys of an entry's front matter.

use super::shape::Shape;
use super::{KeySpec, Table, key, private, required, required_private};

pub static ENTRY: Table = Table { name: "entry", keys: ENTRY_KEYS };
pub static ENTRY_PART: Table = Table { name: "part", keys: ENTRY_PART_KEYS };
pub static COST: Table = Table { name: "cost", keys: COST_KEYS };
pub static FINDING: Table = Table { name: "finding", keys: FINDING_KEYS };
pub static RENEWAL: Table = Table { name: "renewal", keys: RENEWAL_KEYS };

const ENTRY_KEYS: &[KeySpec] = &[
    key("jobs", Shape::Jobs, "The guides that were followed, each with `/` and the gear where it is for several."),
    key("work", Shape::Texts, "Work that no guide describes."),
    key("system", Shape::Ref, "The system the work belongs to."),
    key("gear", Shape::RefOrRefs, "The gear that was worked on."),
    key("date", Shape::LogDay, "The day it was done; `~2021-05` where only about then is known."),
    key("started", Shape::LogDay, "The day it was begun, for work over several days."),
    key("done", Shape::LogDay, "The day it was finished; without it a job that was started is still open."),
    key("reached", Shape::Text, "While it is open: the stage to go on from."),
    key("left", Shape::Texts, "While it is open: how the boat was left."),
    key("meters", Shape::MeterValues, "What the meters showed that day; `~1200` is about."),
    key("time", Shape::Duration, "How long it really took."),
    key("parts", Shape::Records(&ENTRY_PART), "The parts and consumables that were used."),
    private("costs", Shape::Records(&COST), "Other money that was spent on it."),
    key("readings", Shape::ReadingValues, "What was measured, by the readings of the guide."),
    key("findings", Shape::Records(&FINDING), "What was seen; counted from 1."),
    key("clears", Shape::Findings, "Findings that this work put right."),
    key("fitted", Shape::Records(&RENEWAL), "Gear that was renewed; its life starts again."),
    key("done-by", Shape::Choice(&["owner", "yard", "licensed"]), "What sort of hand did it; public."),
    private("by", Shape::TextOrTexts, "Who did it, by name."),
    private("place", Shape::Text, "Where it was done."),
    private("papers", Shape::Texts, "Files beside the entry that prove it, such as an invoice."),
    key("basis", Shape::Choice(&["own record", "invoice", "told", "judged"]), "How you know what the entry says."),
    key("except", Shape::Texts, "What was left out of the job."),
    key("private", Shape::Flag, "True keeps the whole entry out of a public edition."),
];

const ENTRY_PART_KEYS: &[KeySpec] = &[
    required("item", Shape::RefOrWords, "An id of `stores.yaml`, or plain words."),
    key("qty", Shape::Amount, "How many pieces, or how much with its unit; one piece unless given."),
    private("cost", Shape::Money, "What it cost, all pieces together."),
];

const COST_KEYS: &[KeySpec] =
    &[required_private("what", Shape::Text, "What the money was for."), required_private("cost", Shape::Money, "How much it was.")];

const FINDING_KEYS: &[KeySpec] = &[
    required("what", Shape::Text, "What was seen."),
    required("grade", Shape::Choice(&["good", "watch", "act"]), "Good: no fault seen; watch: keep an eye on it; act: put it right."),
    key("guide", Shape::Ref, "The guide that says how to put it right."),
    key("gear", Shape::Ref, "The gear it was seen on."),
    key("before", Shape::MonthOrOccasion, "By when it should be put right: a month, a day or an occasion."),
    key("limits-use", Shape::Text, "What must not be done until then."),
];

const RENEWAL_KEYS: &[KeySpec] = &[
    required("gear", Shape::Ref, "The gear that was renewed."),
    key("expires", Shape::MonthOrDay, "The month or day until which the new one is good."),
    private("serial", Shape::Text, "The serial number of the new one."),
];
