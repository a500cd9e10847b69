//! What a shared file carries for the boat that receives it: the guides as they were written, with the
//! stores, tools, cautions and pictures they name.
//!
//! It stands in the file as JSON, in a script element that no browser runs. Nothing of it comes from the
//! log, and nothing of it says what is aboard, where it lives or what it cost.

use crate::site::escape;
use serde::de::Error as _;
use serde::{Deserialize, Deserializer, Serialize, Serializer};

/// The word by which the data are known.
pub const FORMAT: &str = "garboard-guides";

/// The version of the format that this program writes, and the only one it reads.
pub const VERSION: u64 = 1;

/// The id of the element that holds the data.
pub const BLOCK_ID: &str = "garboard-guides";

/// Guides of one boat with all that they name. Lists are in the order of the book.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Held {
    /// [`FORMAT`].
    pub format: String,
    /// [`VERSION`].
    pub version: u64,
    pub from: From,
    /// The language of the boat's pages: `en`.
    pub language: String,
    /// `metric`, `imperial` or `both`.
    pub units: String,
    /// The licence of guides that name none.
    pub licence: Option<String>,
    /// The program that wrote it, with its version.
    pub made: String,
    pub guides: Vec<Guide>,
    pub systems: Vec<System>,
    pub meters: Vec<Meter>,
    pub stores: Vec<StoreItem>,
    pub tools: Vec<Tool>,
    /// The boat's own hazards; those that ship with the program are known everywhere.
    pub cautions: Vec<Caution>,
    pub pictures: Vec<Picture>,
}

/// The boat that shares.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct From {
    /// Her name.
    pub boat: String,
    /// What she is: rig, material, keel.
    #[serde(rename = "type")]
    pub kind: Option<String>,
}

/// A guide as it was written, front matter included.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Guide {
    pub id: String,
    /// The id of its system.
    pub system: String,
    /// Its file in the book of the boat that shares.
    pub path: String,
    /// Lines end with a line feed alone; there is no byte-order mark.
    pub text: String,
}

/// A system that the guides stand in.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct System {
    pub id: String,
    pub title: String,
}

/// A meter that the guides count by.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Meter {
    pub id: String,
    pub title: String,
    /// Its symbol: `h`, `nmi`.
    pub unit: String,
}

/// A store item that the guides use: what it is and how to order it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StoreItem {
    pub id: String,
    pub title: String,
    #[serde(rename = "part-number", default, skip_serializing_if = "Option::is_none")]
    pub part_number: Option<String>,
    /// Sizes as they were written: `1`, `5 L`.
    #[serde(rename = "sold-in", default, skip_serializing_if = "Vec::is_empty")]
    pub sold_in: Vec<String>,
    #[serde(rename = "also-fits", default, skip_serializing_if = "Vec::is_empty")]
    pub also_fits: Vec<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

/// A tool that the guides need.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Tool {
    pub id: String,
    pub title: String,
}

/// A hazard of the boat's own, with its caution.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Caution {
    pub id: String,
    pub title: String,
    /// `danger`, `warning`, `caution` or `notice`.
    pub signal: String,
    pub harm: String,
    /// A sentence each.
    pub avoid: Vec<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub defer: Option<String>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub words: Vec<String>,
}

/// A picture that a guide shows.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Picture {
    /// Its file in the book of the boat that shares.
    pub path: String,
    /// `image/jpeg`, `image/png` or `image/svg+xml`.
    #[serde(rename = "type")]
    pub kind: String,
    /// In base 64 (RFC 4648, section 4) where it stands in the data.
    #[serde(serialize_with = "to_base64", deserialize_with = "from_base64")]
    pub bytes: Vec<u8>,
}

fn to_base64<S: Serializer>(bytes: &[u8], serializer: S) -> Result<S::Ok, S::Error> {
    serializer.serialize_str(&data_encoding::BASE64.encode(bytes))
}

fn from_base64<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Vec<u8>, D::Error> {
    let text = String::deserialize(deserializer)?;
    data_encoding::BASE64.decode(text.as_bytes()).map_err(D::Error::custom)
}

/// The element that carries the data in a page: one line of JSON in which nothing can end the element or
/// begin a comment. The same data give the same bytes.
#[must_use]
pub fn block(held: &Held) -> String {
    // Only a map with keys that are no texts could fail, and there is none.
    let json = escape::script_json(serde_json::to_string(held).unwrap_or_default());
    format!("<script type=\"application/json\" id=\"{BLOCK_ID}\">{json}</script>")
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use serde_json::json;

    /// One of each, all filled in.
    pub(crate) fn held() -> Held {
        let words = str::to_owned;
        Held {
            format: words(FORMAT),
            version: VERSION,
            from: From { boat: words("Tern"), kind: Some(words("Sloop")) },
            language: words("en"),
            units: words("metric"),
            licence: None,
            made: words("garboard 0.1.0"),
            guides: vec![Guide {
                id: words("oil"),
                system: words("engine"),
                path: words("guides/engine/oil.md"),
                text: words("---\ntitle: Oil\n---\n</script><!-- \u{2028}\"\\\n"),
            }],
            systems: vec![System { id: words("engine"), title: words("Engine") }],
            meters: vec![Meter { id: words("engine"), title: words("Engine hours"), unit: words("h") }],
            stores: vec![StoreItem {
                id: words("oil-filter"),
                title: words("Oil filter"),
                part_number: Some(words("OF-1")),
                sold_in: vec![words("1")],
                also_fits: Vec::new(),
                note: None,
            }],
            tools: vec![Tool { id: words("strap-wrench"), title: words("Strap wrench") }],
            cautions: vec![Caution {
                id: words("stern-ladder"),
                title: words("The stern ladder"),
                signal: words("warning"),
                harm: words("A rung breaks."),
                avoid: vec![words("Use another.")],
                defer: None,
                words: Vec::new(),
            }],
            pictures: vec![Picture { path: words("guides/engine/oil/seat.png"), kind: words("image/png"), bytes: vec![0, 255, 62] }],
        }
    }

    #[test]
    fn the_data_stand_in_the_page_as_the_format_says() {
        let block = block(&held());
        let json = block
            .strip_prefix("<script type=\"application/json\" id=\"garboard-guides\">")
            .and_then(|rest| rest.strip_suffix("</script>"))
            .expect("an element");
        // Nothing in it ends the element, begins a comment, or ends a line for an older browser.
        assert!(!json.contains(['<', '\u{2028}', '\u{2029}', '\n']));
        let value: serde_json::Value = serde_json::from_str(json).expect("JSON");
        let expected = json!({
            "format": "garboard-guides", "version": 1, "from": {"boat": "Tern", "type": "Sloop"},
            "language": "en", "units": "metric", "licence": null, "made": "garboard 0.1.0",
            "guides": [{"id": "oil", "system": "engine", "path": "guides/engine/oil.md",
                "text": "---\ntitle: Oil\n---\n</script><!-- \u{2028}\"\\\n"}],
            "systems": [{"id": "engine", "title": "Engine"}],
            "meters": [{"id": "engine", "title": "Engine hours", "unit": "h"}],
            "stores": [{"id": "oil-filter", "title": "Oil filter", "part-number": "OF-1", "sold-in": ["1"]}],
            "tools": [{"id": "strap-wrench", "title": "Strap wrench"}],
            "cautions": [{"id": "stern-ladder", "title": "The stern ladder", "signal": "warning",
                "harm": "A rung breaks.", "avoid": ["Use another."]}],
            // RFC 4648, section 4, worked by hand: 0x00ff3e is AP8+.
            "pictures": [{"path": "guides/engine/oil/seat.png", "type": "image/png", "bytes": "AP8+"}],
        });
        assert_eq!(value, expected);
    }

    #[test]
    fn what_is_written_is_read_again() {
        let text = serde_json::to_string(&held()).expect("JSON");
        assert_eq!(serde_json::from_str::<Held>(&text).expect("reads"), held());
    }

    #[test]
    fn what_the_format_does_not_know_is_refused() {
        let text = serde_json::to_string(&held()).expect("JSON");
        for (good, bad) in
            [("\"AP8+\"", "\"AP8\""), ("\"AP8+\"", "\"A P8+\""), ("\"units\"", "\"unit\""), ("\"version\":1", "\"version\":-1")]
        {
            assert!(text.contains(good), "{good}");
            assert!(serde_json::from_str::<Held>(&text.replace(good, bad)).is_err(), "{bad}");
        }
    }
}
