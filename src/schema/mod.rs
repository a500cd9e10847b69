//! JSON Schemas of the files of a book, for editors that check and complete while one writes.
//!
//! Made from the tables of keys that drive the decoder, so that neither can say something else. A
//! schema sees keys and shapes; what a name refers to only `garboard survey` can tell. It never refuses
//! what the program takes, save one thing: a key with `~` behind it, which says nothing.

mod file;
mod patterns;
mod shape;

use serde_json::Value;

/// The files that have a schema, by the name under which it is asked for.
pub const FILES: [&str; 7] = ["boat", "stores", "tools", "passages", "cautions", "guide", "entry"];

/// The schemas (JSON Schema draft 2020-12) with the names of their files, such as `boat.schema.json`.
///
/// `guide` and `entry` are for front matter. `meters.csv` has none: it is no YAML.
#[must_use]
pub fn files() -> Vec<(String, String)> {
    FILES.into_iter().filter_map(|name| Some((file_name(name), text(name)?))).collect()
}

/// The file name of the schema of `boat`, `stores`, …
#[must_use]
pub fn file_name(name: &str) -> String {
    format!("{name}.schema.json")
}

/// The schema of one of [`FILES`] as text; `None` where the name is another.
#[must_use]
pub fn text(name: &str) -> Option<String> {
    let schema = of(name)?;
    // A value made of strings, numbers, lists and maps of strings can always be written.
    serde_json::to_string_pretty(&schema).ok().map(|text| text + "\n")
}

/// The schema of one of [`FILES`]; `None` where the name is another.
#[must_use]
pub fn of(name: &str) -> Option<Value> {
    file::schema(name)
}
