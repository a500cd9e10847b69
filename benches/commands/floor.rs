//! What no program could do without: every file of a book read, and its YAML parsed with the bare crate.

use rayon::prelude::*;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

/// Reads and parses all of a book, on as many threads as the program has. `how`: `events` or `values`.
///
/// # Errors
/// A file cannot be read, or its YAML not be parsed.
pub fn read_all(folder: &Path, how: &str) -> io::Result<bool> {
    let files: Vec<PathBuf> = walkdir::WalkDir::new(folder)
        .into_iter()
        .filter_map(Result::ok)
        .filter(|item| item.file_type().is_file())
        .map(walkdir::DirEntry::into_path)
        .collect();
    let parse = if how == "events" { events } else { values };
    let counts: Vec<usize> = files.par_iter().map(|path| parse(&fs::read_to_string(path)?, path)).collect::<io::Result<_>>()?;
    Ok(counts.into_iter().sum::<usize>() > 0)
}

/// The YAML of a file: its front matter, or all of it; none of a table.
fn yaml<'t>(text: &'t str, path: &Path) -> &'t str {
    match path.extension().and_then(|ending| ending.to_str()) {
        Some("md") => text.strip_prefix("---\n").and_then(|rest| rest.split_once("\n---\n")).map_or("", |(front, _)| front),
        Some("yaml") => text,
        _ => "",
    }
}

fn events(text: &str, path: &Path) -> io::Result<usize> {
    let mut parser = granit_parser::Parser::new_from_str(yaml(text, path));
    let mut count = 0;
    while let Some(event) = parser.next_event() {
        event.map_err(io::Error::other)?;
        count += 1;
    }
    Ok(count)
}

fn values(text: &str, path: &Path) -> io::Result<usize> {
    let yaml = yaml(text, path);
    if yaml.is_empty() {
        return Ok(0);
    }
    let value: serde_json::Value = serde_yaml::from_str(yaml).map_err(io::Error::other)?;
    Ok(usize::from(!value.is_null()))
}
