//! One way to write a piece of data, so that everybody comes to the same fingerprint.
//!
//! The form is that of RFC 8785 (JSON Canonicalization Scheme), which this crate needs only for texts,
//! `true`, lists and objects with ASCII keys: keys sorted, no white space, UTF-8.

use serde_json::{Map, Value};
use sha2::{Digest, Sha256};

/// Data on one line, keys sorted.
#[must_use]
pub fn canonical(value: &Value) -> String {
    sorted(value).to_string()
}

fn sorted(value: &Value) -> Value {
    match value {
        Value::Object(object) => {
            let mut pairs: Vec<(&String, &Value)> = object.iter().collect();
            // By UTF-16 code units, as the scheme has it.
            pairs.sort_by(|(a, _), (b, _)| a.encode_utf16().cmp(b.encode_utf16()));
            Value::Object(pairs.into_iter().map(|(key, value)| (key.clone(), sorted(value))).collect::<Map<_, _>>())
        }
        Value::Array(list) => Value::Array(list.iter().map(sorted).collect()),
        other => other.clone(),
    }
}

/// SHA-256 as 64 hexadecimal digits.
#[must_use]
pub fn sha256(bytes: &[u8]) -> String {
    hexadecimal(&Sha256::digest(bytes))
}

pub(super) fn hexadecimal(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}
