//! One way to write a piece of data, so that everybody comes to the same fingerprint.
//!
//! The form is that of RFC 8785 (JSON Canonicalization Scheme), which this crate needs only for texts,
//! `true`, lists and objects with ASCII keys: keys sorted, no white space, UTF-8.

use serde_json::{Map, Value};
use sha2::{Digest, Sha256};

/// Data on one line, keys sorted.
#[must_use]
pub fn canonical(value: &Value) -> String {
    let mut text = String::new();
    write(value, &mut text);
    text
}

/// An object on one line, keys sorted.
pub(super) fn canonical_object(object: &Map<String, Value>) -> String {
    let mut text = String::with_capacity(1_024);
    write_object(object, &mut text);
    text
}

fn write(value: &Value, text: &mut String) {
    match value {
        Value::Object(object) => write_object(object, text),
        Value::Array(list) => {
            text.push('[');
            for (at, value) in list.iter().enumerate() {
                text.push_str(if at == 0 { "" } else { "," });
                write(value, text);
            }
            text.push(']');
        }
        other => text.push_str(&other.to_string()),
    }
}

fn write_object(object: &Map<String, Value>, text: &mut String) {
    let mut pairs: Vec<(&String, &Value)> = object.iter().collect();
    // By UTF-16 code units, as the scheme has it.
    pairs.sort_by(|(a, _), (b, _)| a.encode_utf16().cmp(b.encode_utf16()));
    text.push('{');
    for (at, (key, value)) in pairs.into_iter().enumerate() {
        text.push_str(if at == 0 { "" } else { "," });
        text.push_str(&Value::from(key.as_str()).to_string());
        text.push(':');
        write(value, text);
    }
    text.push('}');
}

/// SHA-256 as 64 hexadecimal digits.
#[must_use]
pub fn sha256(bytes: &[u8]) -> String {
    hexadecimal(&Sha256::digest(bytes))
}

pub(super) fn hexadecimal(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}
