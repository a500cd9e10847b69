//! What no program could do without: read the book, parse its YAML into plain structs, turn its Markdown into HTML with
//! the bare crates, and write files of the number and the sizes of the site, each by a temporary file and a rename.

use super::plain::{Entry, Guide};
use rayon::prelude::*;
use serde::de::DeserializeOwned;
use std::fs;
use std::hint::black_box;
use std::io;
use std::path::{Path, PathBuf};

/// A file of the site: its path from the top, and its bytes.
pub type Size = (String, usize);

/// Does all that for a book. `sizes` are of the files of its site, `site` is where as many are written.
///
/// # Errors
/// A file cannot be read, parsed or written.
pub fn publish(book: &Path, sizes: &[Size], site: &Path) -> io::Result<()> {
    let files: Vec<PathBuf> = walkdir::WalkDir::new(book)
        .into_iter()
        .filter_map(Result::ok)
        .filter(|item| item.file_type().is_file())
        .map(walkdir::DirEntry::into_path)
        .collect();
    let guides = book.join("guides");
    files.par_iter().try_for_each(|path| {
        let text = fs::read_to_string(path)?;
        match path.extension().and_then(|ending| ending.to_str()) {
            Some("md") if path.starts_with(&guides) => page::<Guide>(&text),
            Some("md") => page::<Entry>(&text),
            Some("yaml") => parsed::<serde_json::Value>(&text),
            _ => Ok(()),
        }
    })?;
    let mut folders: Vec<PathBuf> = sizes.iter().filter_map(|(path, _)| site.join(path).parent().map(Path::to_owned)).collect();
    folders.sort();
    folders.dedup();
    folders.iter().try_for_each(fs::create_dir_all)?;
    let filler = vec![b' '; sizes.iter().map(|(_, size)| *size).max().unwrap_or_default()];
    sizes.par_iter().try_for_each(|(path, size)| {
        let place = site.join(path);
        let mut staged = place.clone().into_os_string();
        staged.push(".new");
        fs::write(&staged, filler.get(..*size).unwrap_or_default())?;
        fs::rename(&staged, &place)
    })
}

fn page<F: DeserializeOwned>(text: &str) -> io::Result<()> {
    let (front, body) = text.strip_prefix("---\n").and_then(|rest| rest.split_once("\n---\n")).unwrap_or(("", text));
    parsed::<F>(front)?;
    let options = pulldown_cmark::Options::ENABLE_TABLES
        | pulldown_cmark::Options::ENABLE_FOOTNOTES
        | pulldown_cmark::Options::ENABLE_TASKLISTS
        | pulldown_cmark::Options::ENABLE_STRIKETHROUGH;
    let mut html = String::with_capacity(body.len() * 3 / 2);
    pulldown_cmark::html::push_html(&mut html, pulldown_cmark::Parser::new_ext(body, options));
    black_box(html);
    Ok(())
}

fn parsed<F: DeserializeOwned>(yaml: &str) -> io::Result<()> {
    black_box(serde_yaml::from_str::<F>(yaml).map_err(io::Error::other)?);
    Ok(())
}
