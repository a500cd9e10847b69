//! The key `received` in the front matter of a guide: put in as its last line, and cut out again.

use crate::book::cut::without_keys;
use crate::book::diagnostic::Notes;
use crate::book::front_matter;
use crate::book::node::{self, Kind};
use crate::book::source::Source;
use crate::enter::{Value, flow};
use jiff::civil::Date;
use std::collections::BTreeMap;

/// The key.
pub const KEY: &str = "received";

/// What stands in it.
#[derive(Debug, Clone)]
pub struct Provenance<'p> {
    pub from: &'p str,
    pub on: Date,
    pub checked: Option<Date>,
    pub licence: Option<&'p str>,
    pub system: Option<&'p str>,
    pub revises: Option<&'p str>,
    pub systems: BTreeMap<String, String>,
    pub meters: BTreeMap<String, String>,
    pub items: BTreeMap<String, String>,
    pub cautions: BTreeMap<String, String>,
    pub guides: BTreeMap<String, String>,
}

impl Provenance<'_> {
    /// The line of the front matter, without its end.
    fn line(&self) -> String {
        let words = |words: &str| Value::words(words);
        let names =
            |names: &BTreeMap<String, String>| Value::Map(names.iter().map(|(theirs, ours)| (theirs.clone(), words(ours))).collect());
        let mut pairs = vec![("from", words(self.from)), ("on", Value::figure(self.on.to_string()))];
        pairs.extend(self.checked.map(|day| ("checked", Value::figure(day.to_string()))));
        let more = [("licence", self.licence), ("system", self.system), ("revises", self.revises)];
        pairs.extend(more.into_iter().filter_map(|(key, value)| Some((key, words(value?)))));
        let maps = [
            ("systems", &self.systems),
            ("meters", &self.meters),
            ("items", &self.items),
            ("cautions", &self.cautions),
            ("guides", &self.guides),
        ];
        pairs.extend(maps.into_iter().filter(|(_, map)| !map.is_empty()).map(|(key, map)| (key, names(map))));
        let pairs: Vec<String> = pairs.iter().map(|(key, value)| format!("{key}: {}", flow(value))).collect();
        format!("{KEY}: {{{}}}", pairs.join(", "))
    }
}

/// Where a further key of the front matter would stand.
struct Room {
    /// What stands before each key.
    indent: String,
    end: usize,
}

/// `None` where there is no front matter, or the key stands in it already.
fn room(text: &str) -> Option<Room> {
    let source = Source::new("guide.md", text);
    let mut notes = Notes::new(&source);
    let parts = front_matter::split(&mut notes)?;
    let node = node::read(&mut notes, parts.yaml)?;
    let Kind::Map(pairs) = &node.kind else { return None };
    if pairs.iter().any(|(key, _)| key.text == KEY) {
        return None;
    }
    let first = pairs.first()?.0.span.start as usize;
    let line = text.get(..first)?.rfind('\n').map_or(0, |end| end + 1);
    Some(Room { indent: text.get(line..first)?.to_owned(), end: parts.yaml.end as usize })
}

/// The text with the key as the last line of its front matter; nothing else of it changes. `None` where
/// its front matter takes no further line.
#[must_use]
pub fn with(text: &str, provenance: &Provenance<'_>) -> Option<String> {
    let room = room(text)?;
    if !room.indent.bytes().all(|byte| byte == b' ') {
        return None;
    }
    let (front, body) = text.split_at_checked(room.end)?;
    Some(format!("{front}{}{}\n{body}", room.indent, provenance.line()))
}

/// The text without the key, without a byte-order mark and with line feeds alone: as it was received.
#[must_use]
pub fn without(text: &str) -> String {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text).replace("\r\n", "\n");
    without_keys(&Source::new("guide.md", text.as_str()), &|_| false, &[KEY]).unwrap_or(text)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn provenance() -> Provenance<'static> {
        Provenance {
            from: "Tern: \"two\"",
            on: jiff::civil::date(2026, 11, 29),
            checked: None,
            licence: None,
            system: Some("Rigging"),
            revises: None,
            systems: BTreeMap::new(),
            meters: [("port-hours".to_owned(), "engine".to_owned())].into(),
            items: BTreeMap::new(),
            cautions: BTreeMap::new(),
            guides: BTreeMap::new(),
        }
    }

    #[test]
    fn cutting_the_key_gives_the_bytes_back() {
        for text in [
            "---\ntitle: Oil\n---\nbody\n",
            "---\n  title: Oil\n  summary: |\n    two\n    lines\n---\n",
            "---\ntitle: Oil\nparts:\n- {item: oil, qty: 1}\n# a remark\n\n---\n\n---\n",
        ] {
            let with = with(text, &provenance()).expect("takes the key");
            assert_eq!(without(&with), text);
            assert_eq!(with.lines().count(), text.lines().count() + 1);
        }
    }

    #[test]
    fn the_line_says_where_it_came_from() {
        let text = with("---\ntitle: Oil\n---\n", &provenance()).expect("takes the key");
        let line = "received: {from: \"Tern: \\\"two\\\"\", on: 2026-11-29, system: Rigging, meters: {port-hours: engine}}";
        assert_eq!(text, format!("---\ntitle: Oil\n{line}\n---\n"));
    }

    #[test]
    fn a_front_matter_that_takes_no_line_is_told() {
        for text in [
            "---\n{title: Oil}\n---\n",
            "no front matter",
            "---\ntitle: Oil\nreceived: {from: x, on: 2026-01-01}\n---\n",
            "---\n- a\n---\n",
        ] {
            assert_eq!(with(text, &provenance()), None, "{text}");
        }
    }

    #[test]
    fn a_key_that_the_crew_moved_is_cut_all_the_same() {
        let text = "\u{feff}---\r\nreceived:\r\n  from: Tern\r\n  on: 2026-11-29\r\ntitle: Oil\r\n---\r\nbody\r\n";
        assert_eq!(without(text), "---\ntitle: Oil\n---\nbody\n");
    }
}
