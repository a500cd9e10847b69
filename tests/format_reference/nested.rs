//! Keys of the JSON that stand inside another key.

use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};

/// By key of a row, the keys of the maps that stand in it: `last_done` has `entry` and `date`.
pub fn keys_of(rows: &[Value]) -> BTreeMap<String, BTreeSet<String>> {
    let mut found: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for (key, value) in rows.iter().filter_map(Value::as_object).flatten() {
        let maps = std::iter::once(value).chain(value.as_array().into_iter().flatten()).filter_map(Value::as_object);
        for map in maps {
            found.entry(key.clone()).or_default().extend(map.keys().cloned());
        }
    }
    found
}

/// Fails where the rows have not all the same keys.
#[track_caller]
pub fn assert_alike(rows: &[Value]) {
    let keys = |row: &Value| row.as_object().map(|row| row.keys().cloned().collect::<Vec<_>>());
    let first = rows.first().and_then(keys);
    assert!(first.is_some(), "no rows");
    for row in rows {
        assert_eq!(keys(row), first);
    }
}
