//! The page to search from. Without scripts it leads to the lists.

use crate::site::press::Press;
use crate::site::view::{Link, SearchPage};

/// Pages that list what can be found.
const LISTS: [(&str, &str); 5] =
    [("guides", "guides.html"), ("log", "log.html"), ("stores", "stores.html"), ("tools", "tools.html"), ("gear", "gear.html")];

/// Fills the page.
#[must_use]
pub fn search(press: &Press<'_>) -> SearchPage {
    let lists = LISTS.map(|(id, file)| Link { text: press.words.text(&format!("pages.{id}")), href: file.to_owned() });
    SearchPage { lists: lists.to_vec() }
}
