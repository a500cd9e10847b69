//! One way to write a piece of data, so that everybody comes to the same fingerprint.
//!
//! The form is that of RFC 8785 (JSON Canonicalization Scheme), which this crate needs only for texts,
//! `true`, lists and objects with ASCII keys: keys sorted, no white space, UTF-8.

use super::content::{Content, Said};
use data_encoding::HEXLOWER;
use serde_json::{Map, Value};
use sha2::{Digest, Sha256};
use std::fmt::{self, Write as _};

/// Data on one line, keys sorted.
#[must_use]
pub fn canonical(value: &Value) -> String {
    let mut text = String::new();
    write(value, &mut text);
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

/// Appends what an entry says: its keys are sorted already.
pub(super) fn write_content(content: &Content<'_>, out: &mut Vec<u8>) {
    out.push(b'{');
    for (at, (key, said)) in content.pairs().enumerate() {
        if at > 0 {
            out.push(b',');
        }
        write_text(key, out);
        out.push(b':');
        write_said(said, out);
    }
    out.push(b'}');
}

fn write_said(said: &Said<'_>, out: &mut Vec<u8>) {
    match said {
        Said::Text(text) => write_text(text, out),
        Said::True => out.extend_from_slice(b"true"),
        Said::List(list) => {
            out.push(b'[');
            for (at, said) in list.iter().enumerate() {
                if at > 0 {
                    out.push(b',');
                }
                write_said(said, out);
            }
            out.push(b']');
        }
        Said::Object(content) => write_content(content, out),
    }
}

/// Appends a text in quotation marks.
pub(super) fn write_text(text: &str, out: &mut Vec<u8>) {
    // Writing a text into memory does not fail.
    let _ = serde_json::to_writer(out, text);
}

/// A SHA-256; written as 64 hexadecimal digits. In order of its bytes it is in order of its digits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Fingerprint([u8; 32]);

impl Fingerprint {
    /// Of these bytes.
    #[must_use]
    pub fn of(bytes: &[u8]) -> Self {
        Self(Sha256::digest(bytes).into())
    }
}

impl fmt::Display for Fingerprint {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        HEXLOWER.encode_display(&self.0).fmt(f)
    }
}

/// SHA-256 as 64 hexadecimal digits.
#[must_use]
pub fn sha256(bytes: &[u8]) -> String {
    Fingerprint::of(bytes).to_string()
}

/// SHA-256 of lines, each ended by a line feed, as 64 hexadecimal digits.
pub(super) fn sha256_of_lines(lines: impl Iterator<Item = impl fmt::Display>) -> String {
    let mut hasher = Sha256::new();
    let mut written = String::new();
    for line in lines {
        written.clear();
        // Writing into memory does not fail.
        let _ = writeln!(written, "{line}");
        hasher.update(&written);
    }
    hexadecimal(&hasher.finalize())
}

pub(super) fn hexadecimal(bytes: &[u8]) -> String {
    HEXLOWER.encode(bytes)
}
