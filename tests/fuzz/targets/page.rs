//! A page read by an independent HTML parser (html5ever): it is well-formed, and nothing in it runs or leads astray.

use scraper::{Html, Node};

/// Elements that Markdown, marks and coloured code become, and no others.
const ELEMENTS: [&str; 36] = [
    "html",
    "head",
    "title",
    "body",
    "main",
    "p",
    "h2",
    "h3",
    "h4",
    "h5",
    "h6",
    "ul",
    "ol",
    "li",
    "blockquote",
    "pre",
    "code",
    "em",
    "strong",
    "a",
    "img",
    "figure",
    "figcaption",
    "section",
    "table",
    "thead",
    "tbody",
    "tr",
    "th",
    "td",
    "hr",
    "br",
    "sup",
    "span",
    "b",
    "i",
];
/// Attributes that they may have; `input` is the box of a task list.
const ATTRIBUTES: [&str; 14] =
    ["scope", "lang", "href", "title", "id", "class", "alt", "tabindex", "aria-label", "type", "checked", "disabled", "value", "start"];

/// Puts pieces of HTML into a page and reads it.
pub fn assert_sound(pieces: &[&str]) {
    let page =
        format!("<!DOCTYPE html><html lang=\"en\"><head><title>x</title></head><body><main>{}</main></body></html>", pieces.concat());
    let read = Html::parse_document(&page);
    assert!(read.errors.is_empty(), "{:?} in {page}", read.errors);
    for node in read.tree.values() {
        let Node::Element(element) = node else {
            assert!(!matches!(node, Node::Comment(_)), "a comment in {page}");
            continue;
        };
        assert!(ELEMENTS.contains(&element.name()) || is_box(element), "<{}> in {page}", element.name());
        for (name, value) in element.attrs() {
            assert!(ATTRIBUTES.contains(&name), "{name}={value} in {page}");
            if matches!(name, "href" | "src") {
                assert_leads_nowhere_bad(value);
            }
        }
    }
}

/// What a browser makes of an address: blanks and control characters are dropped before its scheme is read (WHATWG URL,
/// basic URL parser).
fn assert_leads_nowhere_bad(value: &str) {
    let plain: String = value.chars().filter(|letter| !letter.is_whitespace() && !letter.is_control()).collect::<String>().to_lowercase();
    let scheme = plain.split(['/', '?', '#']).next().and_then(|start| start.split_once(':')).map(|(scheme, _)| scheme);
    assert!(matches!(scheme, None | Some("http" | "https" | "mailto" | "tel" | "geo")), "{value}");
}

/// The box of a task list, which nobody can tick.
fn is_box(element: &scraper::node::Element) -> bool {
    element.name() == "input" && element.attr("type") == Some("checkbox") && element.attr("disabled").is_some()
}
