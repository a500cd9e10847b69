//! Beginning a book: the files of a new `content/`, which teach the format by example, and laying
//! them where no book is yet.
//!
//! [`files`] says what stands in them and touches nothing; [`lay`] is the only part that writes.

pub mod lay;

use jiff::civil::Date;

/// A file of a new book: its path inside `content/`, with forward slashes, and its text.
pub type NewFile = (String, String);

/// In the starter files the day of beginning stands for this word.
const DAY: &str = "DAY";

/// A starter file: path inside `content/`, text, and which schema it answers to.
struct Starter {
    path: &'static str,
    text: &'static str,
    schema: Option<&'static str>,
}

const STARTERS: [Starter; 6] = [
    Starter { path: "boat.yaml", text: include_str!("starter/boat.yaml"), schema: Some("boat") },
    Starter { path: "stores.yaml", text: include_str!("starter/stores.yaml"), schema: Some("stores") },
    Starter { path: "tools.yaml", text: include_str!("starter/tools.yaml"), schema: Some("tools") },
    Starter { path: "guides/engine/raw-water-impeller.md", text: include_str!("starter/impeller.md"), schema: Some("guide") },
    Starter { path: "guides/engine/raw-water-impeller/vanes.svg", text: include_str!("starter/vanes.svg"), schema: None },
    Starter { path: "log/YEAR/DAY-raw-water-impeller.md", text: include_str!("starter/entry.md"), schema: Some("entry") },
];

/// The folder of the schemas, beside `content/`.
pub const SCHEMAS: &str = "schemas";

/// Schemas to write beside a new book, as file name and text. A file of the book gets the line that
/// names its schema to an editor only where the schema is among these.
#[must_use]
pub fn schemas() -> Vec<(String, String)> {
    crate::schema::files()
}

/// The file name of a schema by what it describes: `boat`, `stores`, `tools`, `guide`, `entry` …
#[must_use]
pub fn schema_file(name: &str) -> String {
    format!("{name}.schema.json")
}

/// The files of a new book that is begun on this day. The entry and the counts are of the day itself,
/// so that nothing is late in a book that nobody has used yet.
#[must_use]
pub fn files(on: Date, schemas: &[(String, String)]) -> Vec<NewFile> {
    STARTERS
        .iter()
        .map(|starter| {
            let path = starter.path.replace("YEAR", &format!("{:04}", on.year())).replace(DAY, &on.to_string());
            let text = starter.text.replace(DAY, &on.to_string());
            let schema = starter.schema.map(schema_file).filter(|file| schemas.iter().any(|(known, _)| known == file));
            let text = match schema {
                Some(file) => with_schema(&path, &text, &file),
                None => text,
            };
            (path, text)
        })
        .collect()
}

/// Puts the line that names its schema to an editor at the head of a YAML file, or of the front matter
/// of a Markdown file. `path` is inside `content/`, and `schemas/` stands beside that folder.
#[must_use]
pub fn with_schema(path: &str, text: &str, file: &str) -> String {
    let up = "../".repeat(path.matches('/').count() + 1);
    let line = format!("# yaml-language-server: $schema={up}{SCHEMAS}/{file}\n");
    match text.strip_prefix("---\n") {
        Some(rest) if path.ends_with(".md") => format!("---\n{line}{rest}"),
        _ => format!("{line}{text}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn the_day_stands_in_the_files_and_their_names() {
        let files = files(date(2026, 11, 24), &[]);
        let paths: Vec<&str> = files.iter().map(|(path, _)| path.as_str()).collect();
        let expected = [
            "boat.yaml",
            "stores.yaml",
            "tools.yaml",
            "guides/engine/raw-water-impeller.md",
            "guides/engine/raw-water-impeller/vanes.svg",
            "log/2026/2026-11-24-raw-water-impeller.md",
        ];
        assert_eq!(paths, expected);
        assert!(files.iter().all(|(_, text)| !text.contains(DAY) && !text.contains("yaml-language-server")));
        assert!(files[5].1.contains("date: 2026-11-24\n"));
    }

    #[test]
    fn a_file_names_its_schema_from_where_it_stands() {
        let one = vec![("boat.schema.json".to_owned(), "{}".to_owned()), ("entry.schema.json".to_owned(), "{}".to_owned())];
        let files = files(date(2026, 11, 24), &one);
        assert!(files[0].1.starts_with("# yaml-language-server: $schema=../schemas/boat.schema.json\n"));
        assert!(files[5].1.starts_with("---\n# yaml-language-server: $schema=../../../schemas/entry.schema.json\n"));
        assert!(!files[1].1.contains("yaml-language-server"));
    }
}
