//! Lists that are longer than a page may hold: the first rows stay, the others get pages of their own beside it.
//!
//! A page is cut by the number of its rows, so that a row stands where its place in the list says, whatever
//! the other rows look like: links to it can be told before any page is made.

use super::view::{Link, More, MoreList, MorePage};
use super::words::Words;

/// Items of the stores on a page.
pub const STORES: usize = 120;
/// Tools on a page.
pub const TOOLS: usize = 120;
/// Pieces of gear on a page.
pub const GEAR: usize = 50;

/// A page that holds a further part of a list.
#[derive(Debug)]
pub struct Leaf {
    pub path: String,
    pub page: MorePage,
}

/// The path of a part of a list, 1 the page it begins on: `stores.html`, `stores--2.html`,
/// `systems/engine--guides-2.html`. No id has two hyphens, so that no other page has this name.
#[must_use]
pub fn path(stem: &str, list: &str, part: usize) -> String {
    match (part, list) {
        (0 | 1, _) => format!("{stem}.html"),
        (_, "") => format!("{stem}--{part}.html"),
        _ => format!("{stem}--{list}-{part}.html"),
    }
}

/// The page on which the `at`th of a list stands, from 0, where each page has `rows`.
#[must_use]
pub fn page_of(stem: &str, list: &str, at: usize, rows: usize) -> String {
    path(stem, list, at / rows.max(1) + 1)
}

/// Cuts the lists of one page, and holds what is cut off.
#[derive(Debug)]
pub struct Cutter<'w> {
    words: &'w Words,
    /// Path of the page without its ending.
    stem: &'w str,
    over: Link,
    leaves: Vec<Leaf>,
}

impl<'w> Cutter<'w> {
    /// A page by its path without the ending, and its title.
    #[must_use]
    pub fn new(words: &'w Words, stem: &'w str, title: &str) -> Self {
        let over = Link { text: title.to_owned(), href: file(&path(stem, "", 1)).to_owned() };
        Self { words, stem, over, leaves: Vec::new() }
    }

    /// Leaves the `first` rows in a list and puts the others on pages of `each`. `None`: all stay.
    pub fn cut<T>(
        &mut self,
        rows: &mut Vec<T>,
        name: &str,
        heading: &str,
        (first, each): (usize, usize),
        list: impl Fn(Vec<T>) -> MoreList,
    ) -> Option<More> {
        if rows.len() <= first {
            return None;
        }
        let mut rest = rows.split_off(first).into_iter();
        let count = rest.len();
        let parts = count.div_ceil(each.max(1));
        let pages: Vec<Link> = (2..parts + 2).map(|part| self.link(name, part)).collect();
        for part in 2..parts + 2 {
            self.leaves.push(Leaf {
                path: path(self.stem, name, part),
                page: MorePage {
                    over: self.over.clone(),
                    heading: heading.to_owned(),
                    of: self.words.say("more.part", &[("part", &part.to_string()), ("parts", &(parts + 1).to_string())]),
                    earlier: if part == 2 { self.over.clone() } else { self.link(name, part - 1) },
                    later: (part <= parts).then(|| self.link(name, part + 1)),
                    list: list(rest.by_ref().take(each.max(1)).collect()),
                },
            });
        }
        Some(More { count: i64::try_from(count).unwrap_or(i64::MAX), pages })
    }

    fn link(&self, name: &str, part: usize) -> Link {
        Link { text: self.words.say("more.page", &[("n", &part.to_string())]), href: file(&path(self.stem, name, part)).to_owned() }
    }

    /// The pages that came of it.
    #[must_use]
    pub fn leaves(self) -> Vec<Leaf> {
        self.leaves
    }
}

/// Pages that are cut from one stand in its folder.
fn file(path: &str) -> &str {
    path.rsplit('/').next().unwrap_or(path)
}

#[cfg(test)]
mod tests {
    use super::{page_of, path};

    #[test]
    fn parts_are_named_behind_two_hyphens() {
        assert_eq!(path("stores", "", 1), "stores.html");
        assert_eq!(path("stores", "", 2), "stores--2.html");
        assert_eq!(path("systems/engine", "guides", 3), "systems/engine--guides-3.html");
    }

    #[test]
    fn a_row_stands_where_its_place_says() {
        assert_eq!(page_of("stores", "", 59, 60), "stores.html");
        assert_eq!(page_of("stores", "", 60, 60), "stores--2.html");
        assert_eq!(page_of("stores", "", 180, 60), "stores--4.html");
    }
}
