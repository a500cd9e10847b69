//! What every page carries round its own matter.

use serde::{Serialize, Serializer};
use tera::Value;

/// Text that is HTML already. The only way round the escaping of the templates.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Html(pub String);

impl Html {
    /// Whether there is nothing to show.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
}

impl Serialize for Html {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        // A value of the engine goes into views as it is; elsewhere it is the text that it holds.
        Value::safe_string(&self.0).serialize(serializer)
    }
}

/// A day, for people and for machines.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
pub struct DateView {
    /// `2026-03-14`, for `datetime` attributes and scripts.
    pub iso: String,
    /// `14 March 2026`, or `about May 2021`.
    pub text: String,
    /// The crew wrote it as about then.
    pub about: bool,
}

/// Words that lead somewhere.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
pub struct Link {
    pub text: String,
    /// Relative to the page it stands on.
    pub href: String,
}

/// A label with its value.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
pub struct Fact {
    pub label: String,
    pub value: String,
}

/// The boat in the head of each sheet.
#[derive(Debug, Clone, Serialize)]
pub struct BoatView {
    pub name: String,
    /// `Cutter, 11.6 m, built 1988`; may be empty.
    pub line: String,
}

/// One line of the contents that stand at the foot of every page.
#[derive(Debug, Clone, Serialize)]
pub struct Contents {
    /// Stable name of the page: `state`, `guides`, `log`, `stores` …
    pub id: String,
    pub text: String,
    pub href: String,
    /// This page, or the group it belongs to.
    pub current: bool,
}

/// Shown at the top of every page of a site that was published despite errors.
#[derive(Debug, Clone, Serialize)]
pub struct Banner {
    /// Files that could not be used, as paths in the book.
    pub files: Vec<String>,
    pub errors: usize,
}

/// What stands round every page.
#[derive(Debug, Clone, Serialize)]
pub struct Frame {
    /// BCP 47 tag of the words of the page: `en`.
    pub language: String,
    /// Title of this page, without the boat's name.
    pub title: String,
    /// Which template: `state`, `guide`, `system`, `log` …
    pub kind: String,
    /// Path from this page to the top of the site: empty, or `../`.
    pub root: String,
    pub boat: BoatView,
    pub contents: Vec<Contents>,
    /// `crew`.
    pub edition: String,
    /// Day of publication; only on pages that show a state, so that the others need no rewriting.
    pub published: Option<DateView>,
    pub banner: Option<Banner>,
    /// Name of this book for what the browser remembers.
    pub book_key: String,
    /// Where the site will be served; not for pages that are carried ashore alone.
    pub site: Option<String>,
    /// Drawing of this page's address as a QR code, for paper; with the address itself.
    pub qr: Option<Link>,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[derive(Serialize)]
    struct Row {
        html: Option<Html>,
        words: String,
        inner: Vec<Row>,
    }

    #[test]
    fn only_html_is_not_escaped_however_deep_it_stands() {
        let row = |inner| Row { html: Some(Html("<p>a</p>".to_owned())), words: "<p>b</p>".to_owned(), inner };
        let told = Value::from_serializable(&row(vec![row(Vec::new())]));
        for path in ["html", "inner.0.html"] {
            let value = told.get_from_path(path).expect("a value");
            assert!(value.is_safe(), "{path}");
            assert_eq!(value.as_str(), Some("<p>a</p>"));
        }
        for path in ["words", "inner.0.words"] {
            assert!(!told.get_from_path(path).expect("a value").is_safe(), "{path}");
        }
    }

    #[test]
    fn html_is_plain_text_where_no_page_is_made() {
        assert_eq!(serde_json::to_string(&Html("<p>a</p>".to_owned())).expect("JSON"), "\"<p>a</p>\"");
    }
}
