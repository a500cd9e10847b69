//! A record seen earlier held against the record of today.

use super::canonical::canonical;
use super::{Earlier, Record};
use serde::Serialize;
use serde_json::{Map, Value};
use std::collections::{BTreeMap, BTreeSet};

/// What became of the entries of an earlier record.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct Comparison {
    /// How many say today what they said.
    pub same: usize,
    pub changed: Vec<Changed>,
    /// Those that the earlier record does not have.
    pub added: Vec<String>,
    /// Those that are not there today: taken out of the log, or made private. Nobody can tell which.
    pub taken_away: Vec<String>,
    pub renamed: Vec<Renamed>,
}

/// An entry that says something else today.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Changed {
    pub entry: String,
    /// Keys of its content that differ, or that only one of the two has.
    pub fields: Vec<String>,
}

/// An entry that says the same under another name.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Renamed {
    pub from: String,
    pub to: String,
}

/// Holds an earlier record against today's. What the earlier file says is taken from its content, not from
/// the fingerprints it claims.
#[must_use]
pub fn compare(earlier: &Earlier, today: &Record<'_>) -> Comparison {
    let now: BTreeMap<&str, Map<String, Value>> =
        today.entries.iter().map(|one| (one.entry.id.as_str(), today.content(one).into_map())).collect();
    let mut found = Comparison::default();
    for (id, then) in &earlier.entries {
        match now.get(id.as_str()) {
            None => found.taken_away.push(id.clone()),
            Some(now) => match differing(then, now) {
                fields if fields.is_empty() => found.same += 1,
                fields => found.changed.push(Changed { entry: id.clone(), fields }),
            },
        }
    }
    found.added = now.keys().filter(|id| !earlier.entries.contains_key(**id)).map(|id| (*id).to_owned()).collect();
    find_renamed(&mut found, earlier, &now);
    found
}

fn differing(then: &Map<String, Value>, now: &Map<String, Value>) -> Vec<String> {
    let keys: BTreeSet<&String> = then.keys().chain(now.keys()).collect();
    keys.into_iter().filter(|key| then.get(*key) != now.get(*key)).cloned().collect()
}

/// Takes pairs that say the same out of the lists of what is gone and what is new.
fn find_renamed(found: &mut Comparison, earlier: &Earlier, now: &BTreeMap<&str, Map<String, Value>>) {
    let nameless = |content: &Map<String, Value>| {
        let rest: Map<String, Value> =
            content.iter().filter(|(key, _)| *key != "entry").map(|(key, value)| (key.clone(), value.clone())).collect();
        canonical(&Value::Object(rest))
    };
    let mut new: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for id in found.added.iter().rev() {
        if let Some(content) = now.get(id.as_str()) {
            new.entry(nameless(content)).or_default().push(id.clone());
        }
    }
    for from in &found.taken_away {
        let to = earlier.entries.get(from).and_then(|content| new.get_mut(&nameless(content))?.pop());
        found.renamed.extend(to.map(|to| Renamed { from: from.clone(), to }));
    }
    let gone: BTreeSet<&String> = found.renamed.iter().map(|pair| &pair.from).collect();
    let come: BTreeSet<&String> = found.renamed.iter().map(|pair| &pair.to).collect();
    found.taken_away.retain(|id| !gone.contains(id));
    found.added.retain(|id| !come.contains(id));
}
