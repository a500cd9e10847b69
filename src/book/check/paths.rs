//! Pictures and links: that they lead to something in the book, and never out of it.

use super::Index;
use super::near::Kind;
use crate::book::diagnostic::Notes;
use crate::book::outline::PictureRef;
use crate::book::source::Name;

/// Where a link or a picture leads.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Target {
    /// A file of the book, by its path in it; with what follows a `#`.
    Inside { path: String, fragment: Option<String> },
    /// Out of the book by too many `..`, or from the root of the disk.
    Outside,
    /// A fragment of the same page.
    Fragment(String),
    /// `https:`, `http:`, `mailto:`, `tel:`, `geo:`.
    Web,
    /// Another scheme, such as `javascript:`: never followed.
    Refused,
}

/// Schemes a link may have.
const SCHEMES: [&str; 5] = ["https", "http", "mailto", "tel", "geo"];

/// Resolves a target as written in a file that stands in `folder` (a path in the book).
#[must_use]
pub fn resolve(folder: &str, target: &str) -> Target {
    let target = target.trim();
    if let Some(fragment) = target.strip_prefix('#') {
        return Target::Fragment(fragment.to_owned());
    }
    // From a folder this would be another computer's share.
    if target.starts_with("//") {
        return Target::Refused;
    }
    if let Some((scheme, _)) = target.split_once(':')
        && !scheme.contains(['/', '.', '#', '?'])
        && !scheme.is_empty()
    {
        let plain: String = scheme.chars().filter(|c| !c.is_whitespace() && !c.is_control()).collect();
        return if SCHEMES.iter().any(|known| known.eq_ignore_ascii_case(&plain)) { Target::Web } else { Target::Refused };
    }
    if target.starts_with(['/', '\\']) {
        return Target::Outside;
    }
    let (path, fragment) = target.split_once('#').map_or((target, None), |(path, fragment)| (path, Some(fragment.to_owned())));
    let decoded = percent_decoded(path);
    let mut parts: Vec<&str> = folder.split('/').filter(|part| !part.is_empty()).collect();
    for part in decoded.split(['/', '\\']) {
        match part {
            "" | "." => {}
            ".." => {
                if parts.pop().is_none() {
                    return Target::Outside;
                }
            }
            part => parts.push(part),
        }
    }
    Target::Inside { path: parts.join("/"), fragment }
}

/// `%20` and the like, as links in Markdown may have them.
fn percent_decoded(path: &str) -> String {
    let bytes = path.as_bytes();
    let mut out = Vec::with_capacity(bytes.len());
    let mut at = 0;
    while let Some(byte) = bytes.get(at) {
        let hex = path.get(at + 1..at + 3).and_then(|pair| u8::from_str_radix(pair, 16).ok());
        match (byte, hex) {
            (b'%', Some(value)) => {
                out.push(value);
                at += 3;
            }
            _ => {
                out.push(*byte);
                at += 1;
            }
        }
    }
    String::from_utf8(out).unwrap_or_else(|_| path.to_owned())
}

/// Endings of pictures that can be shown.
pub const PICTURES: [&str; 6] = [".jpg", ".jpeg", ".png", ".webp", ".gif", ".svg"];

pub(super) fn check_picture(index: &Index<'_>, notes: &mut Notes<'_>, folder: &str, picture: &PictureRef) {
    let span = picture.path.span;
    let written = &picture.path.value;
    match resolve(folder, written) {
        Target::Inside { path, .. } => {
            if !index.book.files.contains_key(&path) {
                let remedy = index
                    .near(notes, span, Kind::Picture, &path)
                    .map_or_else(|| format!("put the file there: `{path}`"), |near| format!("did you mean the file `{near}`?"));
                notes.error("missing-picture", span, format!("there is no picture `{written}`"), remedy);
            } else if !PICTURES.iter().any(|ending| path.to_lowercase().ends_with(ending)) {
                notes.error(
                    "picture-kind",
                    span,
                    format!("`{written}` is not a kind of picture that can be shown"),
                    "save it as JPEG, PNG, WebP, GIF or SVG",
                );
            }
        }
        Target::Outside => notes.error(
            "outside-the-book",
            span,
            format!("`{written}` leads out of the book"),
            "put the picture into the folder beside this file, and name it from there",
        ),
        Target::Web | Target::Refused | Target::Fragment(_) => notes.error(
            "picture-kind",
            span,
            format!("`{written}` is not a file of the book"),
            "save the picture into the folder beside this file: pages must work without a network",
        ),
    }
    if picture.alt.is_empty() {
        notes.warning(
            "no-alternative-text",
            span,
            "this picture has no words for who cannot see it",
            "say in the square brackets what it shows: `![The drain plug, seen from below](…)`",
        );
    }
}

pub(super) fn check_link(index: &Index<'_>, notes: &mut Notes<'_>, folder: &str, target: &Name) {
    let span = target.span;
    match resolve(folder, &target.value) {
        Target::Inside { path, .. } => {
            let known = index.book.files.contains_key(&path) || index.book.sources.contains_key(path.as_str());
            if !known {
                let near = index.near(notes, span, Kind::File, &path).filter(|near| *near != notes.source().path());
                let remedy = near.map_or_else(
                    || "name a file of the book, from the folder of this one: `../engine/oil-and-filter.md`".to_owned(),
                    |near| format!("did you mean the file `{near}`?"),
                );
                notes.warning("dead-link", span, format!("`{}` leads nowhere", target.value), remedy);
            }
        }
        Target::Outside => notes.warning("dead-link", span, format!("`{}` leads out of the book", target.value), "name a file of the book"),
        Target::Refused => notes.warning(
            "dead-link",
            span,
            format!("`{}` is not a kind of link that pages follow", target.value),
            "use `https:`, `mailto:`, `tel:`, or a file of the book",
        ),
        Target::Web | Target::Fragment(_) => {}
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn inside(path: &str) -> Target {
        Target::Inside { path: path.to_owned(), fragment: None }
    }

    #[test]
    fn paths_are_relative_to_the_file_and_stay_in_the_book() {
        assert_eq!(resolve("guides/engine", "oil/seat.jpg"), inside("guides/engine/oil/seat.jpg"));
        assert_eq!(resolve("guides/engine", "../hull/seacocks.md"), inside("guides/hull/seacocks.md"));
        assert_eq!(resolve("guides/engine", "./a%20b.jpg"), inside("guides/engine/a b.jpg"));
        assert_eq!(resolve("guides/engine", "../../../etc/passwd"), Target::Outside);
        assert_eq!(resolve("guides/engine", "..%2f..%2f..%2fetc/passwd"), Target::Outside);
        assert_eq!(resolve("guides/engine", "/etc/passwd"), Target::Outside);
        assert_eq!(resolve("guides/engine", "..\\..\\..\\x"), Target::Outside);
    }

    #[test]
    fn only_plain_schemes_are_followed() {
        assert_eq!(resolve("a", "https://example.org"), Target::Web);
        assert_eq!(resolve("a", "MAILTO:a@example.org"), Target::Web);
        assert_eq!(resolve("a", "javascript:alert(1)"), Target::Refused);
        assert_eq!(resolve("a", "java\tscript:alert(1)"), Target::Refused);
        assert_eq!(resolve("a", "data:text/html,x"), Target::Refused);
        assert_eq!(resolve("a", "#history"), Target::Fragment("history".to_owned()));
    }
}
