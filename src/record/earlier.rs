//! A `record.json` seen earlier. It may come from anywhere, and is taken for what it says only as far as
//! its own fingerprints bear it out.

use super::canonical::{canonical, sha256};
use super::file::{MARK, VERSION};
use super::of_all;
use serde_json::{Map, Value};
use std::collections::BTreeMap;

/// Largest file that is read, in bytes: some thirty thousand entries.
pub const LARGEST: u64 = 64 * 1024 * 1024;

/// A record of another day.
#[derive(Debug, Clone)]
pub struct Earlier {
    /// The boat's name, as the file has it.
    pub boat: String,
    /// The day it was made for, as the file has it.
    pub as_of: String,
    /// The fingerprint of all that it names.
    pub fingerprint: String,
    /// What each entry says, by its id; of two with one id the first.
    pub entries: BTreeMap<String, Map<String, Value>>,
    /// Ids of entries that are not what their own fingerprint says, or that stand in it twice.
    pub damaged: Vec<String>,
    /// Nothing is damaged, and the fingerprint of all is that of these entries.
    pub whole: bool,
}

/// Why a file is not taken for a record.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NotARecord {
    pub message: String,
    pub remedy: String,
}

fn not(message: &str) -> NotARecord {
    NotARecord {
        message: message.to_owned(),
        remedy: "give the `record.json` that stood beside the record's page, as it was handed over".to_owned(),
    }
}

impl Earlier {
    /// Reads a file.
    ///
    /// # Errors
    /// It is no JSON, no record, of a later version, or lacks what every record has.
    pub fn read(bytes: &[u8]) -> Result<Self, NotARecord> {
        let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
        let file: Value = serde_json::from_slice(bytes).map_err(|error| not(&format!("this is not a whole JSON file: {error}")))?;
        if file.get("record").and_then(Value::as_str) != Some(MARK) {
            return Err(not("this JSON file is not a boat's record"));
        }
        match file.get("version").and_then(Value::as_u64) {
            Some(VERSION) => {}
            Some(version) => {
                return Err(NotARecord {
                    message: format!("this record is of version {version}, and this program knows version {VERSION}"),
                    remedy: "use the garboard that made it, or a later one".to_owned(),
                });
            }
            None => return Err(not("this record does not say of which version it is")),
        }
        let text = |value: &Value, key: &str| value.get(key).and_then(Value::as_str).map(str::to_owned);
        let fingerprint = text(&file, "fingerprint").ok_or_else(|| not("this record has no `fingerprint` of all its entries"))?;
        let list = file.get("entries").and_then(Value::as_array).ok_or_else(|| not("this record has no list of `entries`"))?;
        let mut entries = BTreeMap::new();
        let (mut damaged, mut claims) = (Vec::new(), Vec::new());
        for (at, entry) in list.iter().enumerate() {
            let (Some(claim), Some(content)) = (text(entry, "fingerprint"), entry.get("content").and_then(Value::as_object)) else {
                return Err(not(&format!("entry {} of this record has no `fingerprint` or no `content`", at + 1)));
            };
            let Some(id) = content.get("entry").and_then(Value::as_str) else {
                return Err(not(&format!("entry {} of this record does not say which it is: its `content` has no `entry`", at + 1)));
            };
            let twice = entries.contains_key(id);
            if twice || sha256(canonical(&Value::Object(content.clone())).as_bytes()) != claim {
                damaged.push(id.to_owned());
            }
            if !twice {
                entries.insert(id.to_owned(), content.clone());
            }
            claims.push(claim);
        }
        let whole = damaged.is_empty() && of_all(claims.iter().map(String::as_str)) == fingerprint;
        let boat = file.get("boat").and_then(|boat| text(boat, "name")).unwrap_or_default();
        Ok(Self { boat, as_of: text(&file, "as_of").unwrap_or_default(), fingerprint, entries, damaged, whole })
    }
}
