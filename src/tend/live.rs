//! What lets pages follow the book: which version of the site stands, what is wrong with the book, and
//! the script that asks for both.

use crate::site::escape;
use serde::Serialize;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};

/// Added to every page that is served.
pub const SCRIPT: &str = include_str!("tend.js");
/// Served in place of the site's own worker.
pub const WORKER: &str = include_str!("worker.js");

/// What is wrong, as the pages show it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Problem {
    /// File, line and column; empty where it is not about a place.
    pub place: String,
    pub message: String,
    pub remedy: String,
}

/// Sentences in the language of the pages.
#[derive(Debug, Clone, Default)]
pub struct Said {
    /// Language tag.
    pub language: String,
    /// The pages hear nothing any more.
    pub lost: String,
    /// Heading, text and link of the page that is shown for one that is not there.
    pub missing: [String; 3],
    /// Heading and text while there is no site.
    pub nothing: [String; 2],
}

/// What is shown of the book at the moment.
#[derive(Debug, Clone, Default, Serialize)]
struct Notice {
    /// Changes with every site that differs.
    version: String,
    /// Heads the problems; empty where there are none.
    title: String,
    problems: Vec<Problem>,
    /// Says that there are more problems than are listed.
    more: String,
    lost: String,
}

/// The site that is served, and what its pages are told. Shared by all connections.
#[derive(Debug)]
pub struct Live {
    site: PathBuf,
    now: Mutex<(Notice, Said)>,
}

impl Live {
    #[must_use]
    pub fn new(site: &Path) -> Self {
        Self { site: site.to_owned(), now: Mutex::default() }
    }

    /// Folder of the site.
    #[must_use]
    pub fn site(&self) -> &Path {
        &self.site
    }

    fn lock(&self) -> MutexGuard<'_, (Notice, Said)> {
        self.now.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Tells the pages in which words to speak.
    pub fn speak(&self, said: Said) {
        let mut now = self.lock();
        now.0.lost.clone_from(&said.lost);
        now.1 = said;
    }

    /// Tells the pages which site stands.
    pub fn show(&self, version: String) {
        self.lock().0.version = version;
    }

    /// Tells the pages what is wrong; an empty title takes it back.
    pub fn complain(&self, title: String, problems: Vec<Problem>, more: String) {
        let mut now = self.lock();
        now.0 = Notice { title, problems, more, ..std::mem::take(&mut now.0) };
    }

    #[must_use]
    pub fn version(&self) -> String {
        self.lock().0.version.clone()
    }

    /// The notice as JSON.
    #[must_use]
    pub fn notice(&self) -> String {
        serde_json::to_string(&self.lock().0).unwrap_or_default()
    }

    /// The page for a path that leads nowhere.
    #[must_use]
    pub fn missing(&self) -> String {
        let (version, said) = {
            let now = self.lock();
            (now.0.version.clone(), now.1.clone())
        };
        let [heading, text, home] = said.missing.each_ref().map(|text| escape::html(text));
        let [nothing, nothing_text] = said.nothing.each_ref().map(|text| escape::html(text));
        let (heading, text, link) = if version.is_empty() {
            (nothing, nothing_text, String::new())
        } else {
            (heading, text, format!("<p><a href=\"/\">{home}</a></p>"))
        };
        let page = format!(
            "<!doctype html>\n<html lang=\"{}\"><head><meta charset=\"utf-8\"><meta name=\"viewport\" content=\"width=device-width\">\
             <title>{heading}</title><link rel=\"stylesheet\" href=\"/assets/style.css\"></head>\
             <body><main><h1>{heading}</h1><p>{text}</p>{link}</main></body></html>\n",
            escape::html(&said.language)
        );
        String::from_utf8_lossy(&with_script(page.into_bytes(), &version)).into_owned()
    }
}

/// Adds the script to a page, at the end of its head.
#[must_use]
pub fn with_script(mut page: Vec<u8>, version: &str) -> Vec<u8> {
    let tag = format!("<script src=\"/_tend.js\" data-version=\"{}\" defer></script>", escape::html(version));
    let at = page.windows(7).position(|seven| seven.eq_ignore_ascii_case(b"</head>")).unwrap_or(page.len());
    page.splice(at..at, tag.into_bytes());
    page
}

#[cfg(test)]
mod tests {
    use super::{Live, Problem, with_script};
    use std::path::Path;

    #[test]
    fn the_script_stands_at_the_end_of_the_head() {
        #[track_caller]
        fn case(page: &str, expected: &str) {
            let tag = "<script src=\"/_tend.js\" data-version=\"7\" defer></script>";
            assert_eq!(String::from_utf8_lossy(&with_script(page.into(), "7")), expected.replace('*', tag));
        }
        case("<head><title>x</title></head><body></body>", "<head><title>x</title>*</head><body></body>");
        case("<HEAD></HEAD>x", "<HEAD>*</HEAD>x");
        case("no head", "no head*");
        case("", "*");
    }

    #[test]
    fn what_is_wrong_is_told_and_taken_back() {
        let live = Live::new(Path::new("site"));
        live.show("a".to_owned());
        let problem = Problem { place: "boat.yaml:1:1".to_owned(), message: "<b>".to_owned(), remedy: "y".to_owned() };
        live.complain("1 error".to_owned(), vec![problem], String::new());
        let said: serde_json::Value = serde_json::from_str(&live.notice()).unwrap_or_default();
        assert_eq!(said["version"], "a");
        assert_eq!(said["problems"][0]["message"], "<b>");
        live.complain(String::new(), Vec::new(), String::new());
        let said: serde_json::Value = serde_json::from_str(&live.notice()).unwrap_or_default();
        assert_eq!(said["title"], "");
        assert_eq!(said["version"], "a");
    }
}
