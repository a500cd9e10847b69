//! The pocket file: guides with all that they need in one HTML file, for phones that open no folders.
//!
//! Without scripts it reads as one long document: contents, then guide after guide. Scripts take the
//! guides out of it and show one at a time, as its own page would, so that the working mode, timers and
//! records are those of the site. Links to pages that the file does not hold are plain text.

mod gathered;
mod rewrite;
mod tags;
#[cfg(test)]
mod tests;

pub use gathered::{Carried, Gathered, carried};

use super::style;
use super::theme::{Theme, ThemeError, ThemeFiles};
use super::view::{Frame, Html};
use rayon::prelude::*;
use rewrite::Places;
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};
use tera::Context;

/// Name of the file in a site.
pub const NAME: &str = "pocket.html";

/// Guides that one file may hold; a phone opens no more.
pub const MOST_GUIDES: usize = 500;

/// Bytes up to which the file holds pictures; a larger one is carried without.
const MOST_BYTES: usize = 20_000_000;

/// What stands before the ids of the contents; no guide is called so.
const CONTENTS: &str = "_list";

/// The file that holds the template, the style and the script of the pocket file in a theme.
const TEMPLATE: &str = "pocket/page.html";

/// Scripts of the theme that are of no use in a file by itself: `install` needs a server, and the search its index.
const LEFT_OUT: [&str; 3] = ["install.js", "search.js", "search-index.js"];

/// A guide for the file.
#[derive(Debug, Clone, Copy)]
pub struct Sheet<'p> {
    /// The guide's id.
    pub id: &'p str,
    /// Its page as the template of the site prints it.
    pub page: &'p str,
}

/// What a pocket file is made of.
pub struct Ingredients<'p> {
    pub files: &'p ThemeFiles,
    pub theme: &'p Theme,
    /// What stands round the file; its root is empty.
    pub frame: &'p Frame,
    /// The page that lists the guides, as the template prints it for the top of the site.
    pub contents: &'p str,
    /// In the order of the contents.
    pub guides: &'p [Sheet<'p>],
    /// The script of the boat's meters and stores; empty where none is handed out.
    pub boat: &'p str,
    /// A picture of the site, by its path from the top.
    pub picture: &'p (dyn Fn(&str) -> Option<Vec<u8>> + Sync),
}

/// What the template prints.
#[derive(Serialize)]
struct View {
    styles: Html,
    contents: Html,
    guides: Vec<GuideView>,
    scripts: Vec<ScriptView>,
    /// The file would have been too large with its pictures.
    no_pictures: bool,
}

#[derive(Serialize)]
struct GuideView {
    id: String,
    matter: Html,
}

#[derive(Serialize)]
struct ScriptView {
    file: String,
    text: Html,
}

/// Makes the file: the same bytes for the same ingredients.
///
/// # Errors
/// The template of the theme cannot be used.
pub fn pocket(from: &Ingredients<'_>) -> Result<String, ThemeError> {
    let matters: Vec<(&str, &str)> = from.guides.par_iter().map(|sheet| (sheet.id, rewrite::matter(sheet.page))).collect();
    let places: Places<'_> = matters.par_iter().map(|(id, matter)| (*id, rewrite::ids(matter))).collect();
    let pictures = Pictures::take(&matters, from.picture);
    let address = |path: &str| pictures.addresses.get(path).cloned();
    let guides = matters
        .par_iter()
        .map(|(id, matter)| GuideView { id: (*id).to_owned(), matter: Html(rewrite::rewritten(matter, id, &places, &address)) })
        .collect();
    let contents = rewrite::rewritten(rewrite::matter(from.contents), CONTENTS, &places, &address);
    let view =
        View { styles: Html(styles(from.files)), contents: Html(contents), guides, scripts: scripts(from), no_pictures: pictures.too_many };
    let mut context = Context::new();
    context.insert("frame", from.frame);
    context.insert("page", &view);
    from.theme.render(TEMPLATE, &context)
}

/// The pictures of all guides, held by the file.
struct Pictures {
    addresses: BTreeMap<String, String>,
    too_many: bool,
}

impl Pictures {
    /// Takes them one by one, as long as the file stays small enough: all of them, or none.
    fn take(matters: &[(&str, &str)], picture: &(dyn Fn(&str) -> Option<Vec<u8>> + Sync)) -> Self {
        let mut size: usize = matters.iter().map(|(_, matter)| matter.len()).sum();
        let mut addresses: BTreeMap<String, String> = BTreeMap::new();
        for path in matters.iter().flat_map(|(_, matter)| rewrite::pictures(matter)) {
            if !addresses.contains_key(path) {
                let Some(address) = picture(path).and_then(|bytes| rewrite::data_address(path, &bytes)) else { continue };
                addresses.insert(path.to_owned(), address);
            }
            // Once for each time it is shown.
            size = size.saturating_add(addresses.get(path).map_or(0, String::len));
            if size > MOST_BYTES {
                return Self { addresses: BTreeMap::new(), too_many: true };
            }
        }
        Self { addresses, too_many: false }
    }
}

/// All style sheets: `style.css` first, since others build on it, and paper last.
fn styles(files: &ThemeFiles) -> String {
    let named: BTreeSet<&str> = files.assets().map(|(name, _)| name).filter(|name| name.ends_with(".css")).collect();
    let others = named.iter().copied().filter(|name| !["style.css", "print.css"].contains(name));
    let sheet = |name: &str| files.text(name).map(|css| rewrite::style(&style::smaller(css))).unwrap_or_default();
    let screen = std::iter::once("style.css").chain(others).chain(std::iter::once("pocket/pocket.css")).map(sheet).collect::<String>();
    format!("{screen}@media print{{\n{}}}\n", sheet("print.css"))
}

/// All scripts: the words, the script of every page, its parts, and last what shows the guides.
fn scripts(from: &Ingredients<'_>) -> Vec<ScriptView> {
    let mut all = vec![("words.js".to_owned(), from.theme.script_words()), ("words-more.js".to_owned(), from.theme.more_script_words())];
    let parts =
        from.files.assets().map(|(name, _)| name).filter(|name| name.ends_with(".js") && *name != "script.js" && !LEFT_OUT.contains(name));
    for name in std::iter::once("script.js").chain(parts) {
        all.extend(from.files.text(name).map(|text| (name.to_owned(), style::uncommented(text))));
    }
    if !from.boat.is_empty() {
        all.push(("boat.js".to_owned(), from.boat.to_owned()));
    }
    all.extend(from.files.text("pocket/pocket.js").map(|text| ("pocket.js".to_owned(), style::uncommented(text))));
    all.into_iter().map(|(file, text)| ScriptView { file, text: Html(rewrite::script(&text)) }).collect()
}
