//! Guides by themselves in one file, for another boat: to be read, worked through and printed.
//!
//! The book that comes here holds nothing else any more, so that nothing else can be shown.

use super::assets::{self, Carried};
use super::map::SiteMap;
use super::pages;
use super::pocket::{self, Ingredients, Sheet};
use super::publish::{Edition, press, print};
use super::search::guide_document;
use super::theme::{self, Theme, ThemeError, ThemeFiles};
use super::view::Fact;
use crate::book::diagnostic::Diagnostic;
use crate::book::model::{Book, Guide};
use crate::reckon::reckon_unchecked;
use jiff::civil::{Date, date};
use rayon::prelude::*;
use std::path::Path;

const TEMPLATE: &str = "pocket/shared.html";

/// What nobody can use who has no log: what makes entries.
const LOGGING: [&str; 9] =
    ["boats-record.css", "install.js", "record.js", "record.css", "note.js", "fields.js", "forms.js", "entry.js", "kept.js"];

/// What one guide has no use for: lists, and finding things in them.
const LISTING: [&str; 5] = ["inhand.js", "search.js", "search-index.js", "search.css", "lists.css"];

/// Nothing that is shown depends on a day; the reckoning asks for one.
const ANY_DAY: Date = date(2000, 1, 1);

/// Guides with their pictures, ready to be printed.
pub struct Lent<'b> {
    book: &'b Book,
    pictures: Carried,
}

/// A picture for programs: the largest that is made of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LentPicture<'p> {
    /// Its file in the book.
    pub path: &'p str,
    /// `jpg`, `png` or `svg`: what it is now, whatever its file is called.
    pub ending: &'p str,
    pub bytes: &'p [u8],
}

impl<'b> Lent<'b> {
    /// Makes the pictures of all guides of `book` anew. `folder` is where the book lies.
    #[must_use]
    pub fn prepare(book: &'b Book, folder: &Path) -> Self {
        Self { book, pictures: assets::carry(book, folder) }
    }

    /// Pictures that could not be used.
    #[must_use]
    pub fn problems(&self) -> &[Diagnostic] {
        &self.pictures.problems
    }

    /// All pictures, by their files in the book.
    pub fn pictures(&self) -> impl Iterator<Item = LentPicture<'_>> {
        let ending = |href: &'_ str| href.rfind('.').map_or(href.len(), |dot| dot + 1);
        self.pictures.largest().map(move |(path, href, bytes)| LentPicture {
            path,
            ending: href.get(ending(href)..).unwrap_or_default(),
            bytes,
        })
    }

    /// What stands in a step for a name that is kept back, in the language of the boat.
    ///
    /// # Errors
    /// The words of the theme cannot be read.
    pub fn not_shown(&self, files: &ThemeFiles) -> Result<String, ThemeError> {
        Ok(theme::words(files, &self.book.boat.language)?.text("marks.withheld"))
    }

    /// Prints the file: all guides of the book, and an element with `data` for programs.
    ///
    /// # Errors
    /// The theme cannot be used.
    pub fn file(&self, files: &ThemeFiles, data: &str) -> Result<String, ThemeError> {
        let book = self.book;
        let theme = Theme::new(files, &book.boat.language)?;
        let reckoning = reckon_unchecked(book, ANY_DAY);
        let map = SiteMap::new(book, &[]);
        let press = press(Edition::Shared, &reckoning, &map, &self.pictures.assets, &theme, &[]);
        let printed = |(at, guide): (usize, &Guide)| {
            let view = pages::guide(&press, guide);
            let frame = press.frame("guide", "guides", guide.title.clone(), "../", false);
            Ok((print(&theme, "guide.html", &frame, &view)?, guide_document(&press, at, &view)))
        };
        let printed = book.guides.par_iter().enumerate().map(printed).collect::<Result<Vec<_>, ThemeError>>()?;
        let sheets: Vec<Sheet<'_>> = pocket::in_order(book)
            .into_iter()
            .filter_map(|(at, guide)| printed.get(at).map(|(page, found)| Sheet { id: &guide.id, page, found }))
            .collect();
        let alone = match book.guides.as_slice() {
            [one] => Some(one),
            _ => None,
        };
        let title = alone.map_or_else(|| theme.words.say("share.title", &[("boat", &book.boat.name)]), |guide| guide.title.clone());
        let frame = press.frame("shared", "guides", title, "", false);
        let contents = print(&theme, "guides.html", &frame, &pages::guides(&press))?;
        let left_out: Vec<&str> = LOGGING.into_iter().chain(LISTING.into_iter().filter(|_| alone.is_some())).collect();
        pocket::pocket(&Ingredients {
            files,
            theme: &theme,
            frame: &frame,
            contents: &contents,
            guides: &sheets,
            boat: "",
            picture: &|path| self.pictures.bytes.get(path).cloned(),
            template: TEMPLATE,
            left_out: &left_out,
            alone: alone.is_some(),
            facts: &facts(&press, alone),
            data,
        })
    }
}

/// What the foot of the file says of the guides: of a single one what its sheet says, else the licence of the boat.
fn facts(press: &super::press::Press<'_>, alone: Option<&Guide>) -> Vec<Fact> {
    let licence = alone.and_then(|guide| guide.licence.as_ref()).or(press.book.boat.licence.as_ref());
    let revised = alone.and_then(|guide| guide.revised).map(|day| press.words.day(day));
    let all = [("licence", licence.cloned()), ("source", alone.and_then(|guide| guide.from.clone())), ("revised", revised)];
    all.into_iter().filter_map(|(key, value)| Some(Fact { label: press.words.text(&format!("guide.{key}")), value: value? })).collect()
}
