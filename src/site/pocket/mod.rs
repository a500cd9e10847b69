//! The pocket file: guides with all that they need in one HTML file, for phones that open no folders.
//!
//! Without scripts it reads as one long document: contents, then guide after guide. Scripts take the
//! guides out of it and show one at a time, as its own page would, so that the working mode, timers and
//! records are those of the site. Links to pages that the file does not hold are plain text.

mod gathered;
mod policy;
mod rewrite;
mod tags;
#[cfg(test)]
mod tests;

pub use gathered::{Carried, Gathered, carried, in_order};

use super::search::{Document, File, Index, Kind, Place, inline};
use super::style;
use super::theme::{Theme, ThemeError, ThemeFiles};
use super::view::{Fact, Frame, Html};
use rayon::prelude::*;
use rewrite::Places;
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};

/// Name of the file in a site.
pub const NAME: &str = "pocket.html";

/// Guides that one file may hold; a phone opens no more.
pub const MOST_GUIDES: usize = 500;

/// Bytes up to which the file holds pictures; a larger one is carried without.
const MOST_BYTES: usize = 20_000_000;

/// What stands before the ids of the contents; no guide is called so.
const CONTENTS: &str = "_list";

/// The template of the pocket file in a theme.
pub const TEMPLATE: &str = "pocket/page.html";

/// Files of the theme that are of no use in a file by itself: they need a server, or are of pages that it does not hold.
pub const LEFT_OUT: [&str; 2] = ["boats-record.css", "install.js"];

/// The script that shows one guide of several at a time, and the one that a guide by itself begins with.
const SHOWS: [&str; 2] = ["pocket/pocket.js", "pocket/alone.js"];

/// A guide for the file.
#[derive(Debug, Clone, Copy)]
pub struct Sheet<'p> {
    /// The guide's id.
    pub id: &'p str,
    /// Its page as the template of the site prints it.
    pub page: &'p str,
    /// What is found of it, with its places on its own page.
    pub found: &'p Document,
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
    /// The template that prints the file.
    pub template: &'p str,
    /// Scripts and style sheets of the theme that the file has no use for, by name.
    pub left_out: &'p [&'p str],
    /// There is one guide and nothing else: it stands under the ids of its own page, without contents.
    pub alone: bool,
    /// Lines for the foot of the file.
    pub facts: &'p [Fact],
    /// The element that holds data for programs; may be empty.
    pub data: &'p str,
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
    alone: bool,
    facts: Vec<Fact>,
    data: Html,
    /// What the browser may run and show; [`policy::sealed`] fills it in where the template asks for it.
    policy: Html,
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
        .map(|(id, matter)| {
            let name = if from.alone { "" } else { id };
            GuideView { id: (*id).to_owned(), matter: Html(rewrite::rewritten(matter, name, &places, &address)) }
        })
        .collect();
    let contents = rewrite::rewritten(rewrite::matter(from.contents), CONTENTS, &places, &address);
    let view = View {
        styles: Html(styles(from)),
        contents: Html(contents),
        guides,
        scripts: scripts(from),
        no_pictures: pictures.too_many,
        alone: from.alone,
        facts: from.facts.to_vec(),
        data: Html(from.data.to_owned()),
        policy: Html(policy::PLACE.to_owned()),
    };
    from.theme.print(from.template, from.frame, &view).map(|page| policy::sealed(&page))
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
fn styles(from: &Ingredients<'_>) -> String {
    let files = from.files;
    let named: BTreeSet<&str> =
        files.assets().map(|(name, _)| name).filter(|name| name.ends_with(".css") && !from.left_out.contains(name)).collect();
    let others = named.iter().copied().filter(|name| !["style.css", "print.css"].contains(name));
    let sheet = |name: &str| files.text(name).map(|css| rewrite::style(&style::smaller(css))).unwrap_or_default();
    let screen = std::iter::once("style.css").chain(others).chain(std::iter::once("pocket/pocket.css")).map(sheet).collect::<String>();
    format!("{screen}@media print{{\n{}}}\n", sheet("print.css"))
}

/// The index of the guides, whose places are those of this file.
fn index(from: &Ingredients<'_>) -> String {
    let index = Index::new([u32::try_from(from.guides.len()).unwrap_or(u32::MAX), 0, 0]);
    let mut files: Vec<File> = Vec::new();
    for (number, sheet) in (0..).zip(from.guides) {
        let within = |fragment: &str| if fragment.is_empty() { String::new() } else { format!("{}.{fragment}", sheet.id) };
        let places = sheet.found.places.iter().map(|place| Place { fragment: within(&place.fragment), ..place.clone() }).collect();
        files.extend(index.add(&Document { number, href: format!("#{}", sheet.id), places, ..sheet.found.clone() }));
    }
    files.par_extend(
        index
            .finish(
                &Kind::ALL.map(|kind| from.theme.words.text(&format!("search.{}", kind.word()))),
                &from.theme.words.text("search.small"),
            )
            .files(),
    );
    inline(&files)
}

/// All scripts: the words, the script of every page, its parts, and last what shows the guides.
fn scripts(from: &Ingredients<'_>) -> Vec<ScriptView> {
    let silent: Vec<&str> = from.left_out.iter().filter_map(|name| name.strip_suffix(".js")).collect();
    let words = [("words.js", from.theme.script_words()), ("words-more.js", from.theme.more_script_words(&silent))];
    let mut all = words.map(|(name, text)| (name.to_owned(), text)).to_vec();
    let parts = from.files.assets().map(|(name, _)| name);
    let parts = parts.filter(|name| name.ends_with(".js") && *name != "script.js" && !from.left_out.contains(name));
    for name in std::iter::once("script.js").chain(parts) {
        all.extend(from.files.text(name).map(|text| (name.to_owned(), lean(text))));
    }
    if !from.alone {
        // Before the finder, which takes from it what it would else load.
        all.insert(2, ("search".to_owned(), index(from)));
    }
    if !from.boat.is_empty() {
        all.push(("boat.js".to_owned(), from.boat.to_owned()));
    }
    let [several, one] = SHOWS;
    let last = if from.alone { one } else { several };
    all.extend(from.files.text(last).map(|text| (last.trim_start_matches("pocket/").to_owned(), lean(text))));
    all.into_iter().map(|(file, text)| ScriptView { file, text: Html(rewrite::script(&text)) }).collect()
}

/// A script in few bytes: the file is one page, which a phone reads as a whole.
fn lean(script: &str) -> String {
    style::flush_left(&style::uncommented(script))
}
