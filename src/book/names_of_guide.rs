//! What the names of a guide mean: within it one name has one meaning, over torques, values, readings, parts and tools.

use super::id::{id_of, looks_like_id};
use super::model::{GuideFacts, PartUse, ReadingSpec, Torque, Value};
use super::source::{Name, Span};
use std::borrow::Cow;

/// What a name of a guide stands for.
#[derive(Debug, Clone, Copy)]
pub enum Named<'g> {
    Torque(&'g Torque),
    Value(&'g Value),
    Reading(&'g ReadingSpec),
    Part(&'g PartUse),
    Tool(&'g Name),
}

impl Named<'_> {
    /// What it is, as messages say it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Torque(_) => "torque",
            Self::Value(_) => "value",
            Self::Reading(_) => "reading",
            Self::Part(_) => "part",
            Self::Tool(_) => "tool",
        }
    }

    /// Where it stands in the front matter.
    #[must_use]
    pub fn span(self) -> Span {
        match self {
            Self::Torque(torque) => torque.span,
            Self::Value(value) => value.span,
            Self::Reading(reading) => reading.span,
            Self::Part(part) => part.item.span,
            Self::Tool(tool) => tool.span,
        }
    }
}

/// Everything that a guide names, with its name as an id; of parts and tools in words the id that is made of these.
pub fn all_named(guide: &GuideFacts) -> impl Iterator<Item = (Cow<'_, str>, Named<'_>)> {
    let torques = guide.torques.iter().map(|torque| (Cow::from(&torque.id), Named::Torque(torque)));
    let values = guide.values.iter().map(|value| (Cow::from(&value.id), Named::Value(value)));
    let readings = guide.readings.iter().map(|reading| (Cow::from(&reading.id), Named::Reading(reading)));
    let parts = guide.parts.iter().map(|part| (as_id(&part.item.value), Named::Part(part)));
    let tools = guide.tools.iter().map(|tool| (as_id(&tool.value), Named::Tool(tool)));
    torques.chain(values).chain(readings).chain(parts).chain(tools)
}

fn as_id(words: &str) -> Cow<'_, str> {
    if looks_like_id(words) { Cow::from(words) } else { Cow::from(id_of(words)) }
}

/// The names of one guide, for looking up what its marks name.
#[derive(Debug)]
pub struct NamesOfGuide<'g> {
    /// Sorted by name: most guides have ten, too few for a table by hash, and a few have no end of them.
    sorted: Vec<(Cow<'g, str>, Named<'g>)>,
}

impl<'g> NamesOfGuide<'g> {
    /// The names of `guide`. What is in error and was given twice stands in the order of [`all_named`].
    #[must_use]
    pub fn of(guide: &'g GuideFacts) -> Self {
        let mut sorted: Vec<(Cow<'g, str>, Named<'g>)> = all_named(guide).collect();
        sorted.sort_by(|(one, _), (other, _)| one.cmp(other));
        Self { sorted }
    }

    /// What a name means.
    #[must_use]
    pub fn find(&self, name: &str) -> Option<Named<'g>> {
        self.all(name).next()
    }

    /// The reading of this name.
    #[must_use]
    pub fn reading(&self, name: &str) -> Option<&'g ReadingSpec> {
        self.all(name).find_map(|named| if let Named::Reading(reading) = named { Some(reading) } else { None })
    }

    /// All names, from a to z.
    pub fn iter(&self) -> impl Iterator<Item = &str> {
        self.sorted.iter().map(|(name, _)| &**name)
    }

    fn all(&self, name: &str) -> impl Iterator<Item = Named<'g>> {
        let first = self.sorted.partition_point(|(known, _)| **known < *name);
        self.sorted.get(first..).unwrap_or_default().iter().take_while(move |(known, _)| *known == name).map(|(_, named)| *named)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::load::guide_of;
    use crate::book::source::Source;

    #[test]
    fn a_name_means_what_the_front_matter_says() {
        let text = "---\ntitle: A job\nvalues: {refill: 7.5 L}\nreadings: {compression: {unit: bar}}\nparts: [{item: Öl filter, qty: 1}]\n\
                    tools: [17 mm socket, refill]\ntorque: [{at: Drain plug, value: 35 N·m}]\n---\n";
        let (guide, _) = guide_of(&Source::new("guides/engine/a.md", text));
        let guide = guide.expect("a guide");
        let names = NamesOfGuide::of(&guide);
        let case = |name: &str, expected: Option<&str>| assert_eq!(names.find(name).map(Named::word), expected, "{name}");
        case("drain-plug", Some("torque"));
        case("compression", Some("reading"));
        case("ol-filter", Some("part"));
        case("17-mm-socket", Some("tool"));
        // Given twice: of a value and a tool the value is meant.
        case("refill", Some("value"));
        case("17 mm socket", None);
        case("refil", None);
        assert!(names.reading("compression").is_some() && names.reading("refill").is_none());
        assert_eq!(names.iter().collect::<Vec<_>>(), ["17-mm-socket", "compression", "drain-plug", "ol-filter", "refill", "refill"]);
    }
}
