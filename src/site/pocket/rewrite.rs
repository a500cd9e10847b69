//! The matter of a page made to stand beside others in one file: its ids get a name in front, links
//! lead to places of the file or become plain text, and pictures are held by the page itself.

use super::tags::{Piece, Tag, pieces};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;

/// Attributes that name ids of the same page, one or several.
const NAMES: [&str; 9] =
    ["id", "for", "headers", "list", "aria-labelledby", "aria-describedby", "aria-controls", "aria-owns", "aria-details"];

/// Attributes that a link keeps when it becomes plain text.
const KEPT: [&str; 5] = ["id", "class", "dir", "lang", "title"];

/// Ids of each guide of the file, by the guide's id.
pub type Places<'p> = BTreeMap<&'p str, BTreeSet<&'p str>>;

/// What stands in the `main` of a page; nothing where it has none.
#[must_use]
pub fn matter(page: &str) -> &str {
    let mut at = 0;
    for piece in pieces(page) {
        let raw = match &piece {
            Piece::Text(raw) | Piece::Close { raw, .. } => raw,
            Piece::Open(tag) => tag.raw,
        };
        at += raw.len();
        if matches!(&piece, Piece::Open(tag) if tag.name == "main") {
            return page.get(at..).and_then(|rest| rest.rsplit_once("</main>")).map_or("", |(inside, _)| inside.trim());
        }
    }
    ""
}

/// The ids that stand in a piece of a page.
#[must_use]
pub fn ids(matter: &str) -> BTreeSet<&str> {
    opened(matter).filter_map(|tag| tag.value("id")).collect()
}

/// The pictures that a piece of a page shows, as paths from the top of the site.
pub fn pictures(matter: &str) -> impl Iterator<Item = &str> {
    opened(matter).filter(|tag| tag.name == "img").filter_map(|tag| tag.value("src")).map(inside)
}

fn opened(matter: &str) -> impl Iterator<Item = Tag<'_>> {
    pieces(matter).filter_map(|piece| match piece {
        Piece::Open(tag) => Some(tag),
        _ => None,
    })
}

/// Rewrites the matter of one page. `name` stands before its ids, or is empty where it is alone in the file; `picture` gives the address of a picture by its
/// path from the top of the site, `None` where its words stand in for it.
#[must_use]
pub fn rewritten(matter: &str, name: &str, places: &Places<'_>, picture: &dyn Fn(&str) -> Option<String>) -> String {
    let own = ids(matter);
    let mut out = String::with_capacity(matter.len() + matter.len() / 8);
    let mut unlinked = false;
    for piece in pieces(matter) {
        match piece {
            Piece::Text(text) => out.push_str(text),
            Piece::Close { name: "a", .. } if unlinked => {
                out.push_str("</span>");
                unlinked = false;
            }
            Piece::Close { raw, .. } => out.push_str(raw),
            Piece::Open(tag) if tag.name == "img" => image(&tag, picture, &mut out),
            Piece::Open(tag) => {
                let link = tag.value("href").map(|href| target(href, name, &own, places));
                if let (Some(Target::Elsewhere(fragment)), "a") = (&link, tag.name) {
                    plain(&tag, name, *fragment, &mut out);
                    unlinked = true;
                } else {
                    changed(&tag, name, &own, link.as_ref(), &mut out);
                }
            }
        }
    }
    out
}

/// Where a link leads.
#[derive(Debug, PartialEq, Eq)]
enum Target<'h> {
    /// To a place of the file, or out into the world.
    To(String),
    /// To a page of the site that the file does not hold; with its fragment.
    Elsewhere(Option<&'h str>),
}

fn target<'h>(href: &'h str, name: &str, own: &BTreeSet<&str>, places: &Places<'_>) -> Target<'h> {
    if let Some(fragment) = href.strip_prefix('#') {
        // What is not here stands in the frame, which all pages share.
        return Target::To(if own.contains(fragment) { format!("#{}", within(name, fragment)) } else { href.to_owned() });
    }
    if href.starts_with("//") || has_scheme(href) {
        return Target::To(href.to_owned());
    }
    let (path, fragment) = href.split_once('#').map_or((href, None), |(path, fragment)| (path, Some(fragment)));
    let guide = inside(path).strip_prefix("guides/").and_then(|file| file.strip_suffix(".html"));
    match guide.and_then(|guide| Some((guide, places.get(guide)?))) {
        Some((guide, ids)) => Target::To(match fragment.filter(|fragment| ids.contains(fragment)) {
            Some(fragment) if name.is_empty() => format!("#{fragment}"),
            Some(fragment) => format!("#{}", within(guide, fragment)),
            // The guide itself is all there is.
            None if name.is_empty() => "#_main".to_owned(),
            None => format!("#{guide}"),
        }),
        None => Target::Elsewhere(fragment),
    }
}

/// An id of a page in the file.
fn within(name: &str, id: &str) -> String {
    if name.is_empty() { id.to_owned() } else { format!("{name}.{id}") }
}

fn has_scheme(href: &str) -> bool {
    href.split_once(':').is_some_and(|(scheme, _)| {
        scheme.starts_with(|c: char| c.is_ascii_alphabetic()) && scheme.chars().all(|c| c.is_ascii_alphanumeric() || "+-.".contains(c))
    })
}

/// The path from the top of the site.
fn inside(path: &str) -> &str {
    let mut path = path;
    while let Some(up) = path.strip_prefix("../").or_else(|| path.strip_prefix("./")) {
        path = up;
    }
    path
}

fn attribute(out: &mut String, name: &str, value: Option<&str>) {
    // Writing into a string cannot fail.
    let _ = match value {
        Some(value) => write!(out, " {name}=\"{}\"", value.replace('"', "&quot;")),
        None => write!(out, " {name}"),
    };
}

/// A link that leads out of the file is plain text; `data-to` keeps what it named there, which scripts ask for.
fn plain(tag: &Tag<'_>, name: &str, fragment: Option<&str>, out: &mut String) {
    out.push_str("<span");
    for (key, value) in &tag.attributes {
        if KEPT.contains(key) {
            match (*key, value) {
                ("id", Some(id)) => attribute(out, "id", Some(&within(name, id))),
                _ => attribute(out, key, *value),
            }
        }
    }
    if fragment.is_some() {
        attribute(out, "data-to", fragment);
    }
    out.push('>');
}

fn changed(tag: &Tag<'_>, name: &str, own: &BTreeSet<&str>, link: Option<&Target<'_>>, out: &mut String) {
    let concerned =
        |(key, value): &(&str, Option<&str>)| NAMES.contains(key) || *key == "href" || value.is_some_and(|value| value.contains("url(#"));
    if !tag.attributes.iter().any(concerned) {
        return out.push_str(tag.raw);
    }
    out.push('<');
    out.push_str(tag.name);
    for (key, value) in &tag.attributes {
        let Some(old) = value else {
            attribute(out, key, None);
            continue;
        };
        let new = match (*key, link) {
            ("href", Some(Target::To(to))) => to.clone(),
            ("id", _) => within(name, old),
            (key, _) if NAMES.contains(&key) => {
                let named = |id: &str| if own.contains(id) { within(name, id) } else { id.to_owned() };
                old.split_ascii_whitespace().map(named).collect::<Vec<_>>().join(" ")
            }
            _ if old.contains("url(#") => {
                own.iter().fold((*old).to_owned(), |text, id| text.replace(&format!("url(#{id})"), &format!("url(#{})", within(name, id))))
            }
            _ => (*old).to_owned(),
        };
        attribute(out, key, Some(&new));
    }
    out.push_str(if tag.raw.ends_with("/>") { "/>" } else { ">" });
}

fn image(tag: &Tag<'_>, picture: &dyn Fn(&str) -> Option<String>, out: &mut String) {
    let source = tag.value("src").unwrap_or_default();
    let kept = if has_scheme(source) { Some(source.to_owned()) } else { picture(inside(source)) };
    let Some(address) = kept else {
        out.push_str("<span class=\"no-picture\">");
        out.push_str(&tag.value("alt").unwrap_or_default().replace('<', "&lt;").replace('>', "&gt;"));
        return out.push_str("</span>");
    };
    out.push_str("<img");
    for (key, value) in &tag.attributes {
        match *key {
            "src" => attribute(out, "src", Some(&address)),
            // One size is held, and it is there already.
            "srcset" | "sizes" | "loading" => {}
            _ => attribute(out, key, *value),
        }
    }
    out.push('>');
}

/// A picture as an address that holds it. `None` for a kind that pages do not show.
#[must_use]
pub fn data_address(path: &str, bytes: &[u8]) -> Option<String> {
    let kind = match path.rsplit_once('.').map(|(_, ending)| ending)? {
        "svg" => "svg+xml",
        "jpg" | "jpeg" => "jpeg",
        "png" => "png",
        "webp" => "webp",
        "gif" => "gif",
        _ => return None,
    };
    // The fragment says nothing to browsers; styles tell drawings from photos by the end of the address.
    let end = if kind == "svg+xml" { "#.svg" } else { "" };
    Some(format!("data:image/{kind};base64,{}{end}", data_encoding::BASE64.encode(bytes)))
}

/// A script that may stand inside a page: nothing in it can end its element. What could is written with an escape,
/// which means the same in texts and in patterns, the only places where it stands.
#[must_use]
pub fn script(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some((before, after)) = rest.split_once('<') {
        out.push_str(before);
        let ends = ["!--", "/script"].iter().any(|word| after.get(..word.len()).is_some_and(|found| found.eq_ignore_ascii_case(word)));
        out.push_str(if ends { "\\x3c" } else { "<" });
        rest = after;
    }
    out.push_str(rest);
    out
}

/// A style sheet that may stand inside a page.
#[must_use]
pub fn style(text: &str) -> String {
    text.replace("</", "<\\/")
}
