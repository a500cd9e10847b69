//! HTML brought to one form, so that two renderers can be compared by what they mean.
//!
//! Dropped, by name: the scrolling frame round a table, `tabindex`, `scope` and `aria-label`, the
//! colours inside code, how a column is aligned (a class here, an attribute there), how a URL is
//! percent-encoded in a picture, and white space that a browser does not show.

use scraper::{ElementRef, Html, Node};
use std::fmt::Write as _;

const BLOCKS: [&str; 22] = [
    "p",
    "h1",
    "h2",
    "h3",
    "h4",
    "h5",
    "h6",
    "ul",
    "ol",
    "li",
    "pre",
    "blockquote",
    "hr",
    "table",
    "thead",
    "tbody",
    "tr",
    "th",
    "td",
    "div",
    "br",
    "figure",
];

/// The canonical form of a fragment: a block a line.
pub fn canonical(html: &str) -> String {
    let fragment = Html::parse_fragment(html);
    let mut out = String::new();
    inside(fragment.root_element(), false, &mut out);
    let lines: Vec<&str> = out.split('\n').map(|line| line.trim_matches(' ')).filter(|line| !line.is_empty()).collect();
    lines.join("\n")
}

fn inside(element: ElementRef<'_>, in_pre: bool, out: &mut String) {
    for child in element.children() {
        match child.value() {
            Node::Text(text) if in_pre => out.push_str(&text.replace('\n', "⏎")),
            Node::Text(text) => out.push_str(&one_space(text)),
            Node::Comment(comment) => {
                let _ = write!(out, "<!--{}-->", &**comment);
            }
            _ => {
                if let Some(element) = ElementRef::wrap(child) {
                    whole(element, in_pre, out);
                }
            }
        }
    }
}

fn whole(element: ElementRef<'_>, in_pre: bool, out: &mut String) {
    let name = element.value().name();
    let in_pre = in_pre || name == "pre";
    let frame = element.value().attr("class") == Some("scroll");
    if frame || (name == "span" && in_pre) {
        inside(element, in_pre, out);
        return;
    }
    let line = if BLOCKS.contains(&name) { "\n" } else { "" };
    // Inside `pre` every sign counts.
    let inner_line = if in_pre { "" } else { line };
    let _ = write!(out, "{line}<{name}{}>{inner_line}", attributes(name, element.value()));
    inside(element, in_pre, out);
    let _ = write!(out, "{inner_line}</{name}>{line}");
}

/// Runs of white space as one space; a no-break space is a letter of the text.
fn one_space(text: &str) -> String {
    let mut out = String::new();
    let mut space = false;
    for letter in text.chars() {
        let is_space = matches!(letter, ' ' | '\n' | '\t' | '\r');
        if !is_space {
            out.push(letter);
        } else if !space {
            out.push(' ');
        }
        space = is_space;
    }
    out
}

fn attributes(name: &str, element: &scraper::node::Element) -> String {
    let mut all: Vec<String> = Vec::new();
    for (key, value) in element.attrs() {
        let kept = match (name, key) {
            (_, "tabindex" | "scope" | "aria-label" | "align") => continue,
            ("th" | "td", "class") => continue,
            ("img", "src") => decoded(value),
            _ => value.split_ascii_whitespace().collect::<Vec<_>>().join(" "),
        };
        all.push(format!(" {key}=\"{kept}\""));
    }
    if matches!(name, "th" | "td") {
        let side = match (element.attr("align"), element.attr("class")) {
            (Some("right"), _) | (_, Some("right")) => " right",
            (Some("center"), _) | (_, Some("centre")) => " centre",
            _ => "",
        };
        all.push(side.to_owned());
    }
    all.sort();
    all.concat()
}

/// Without percent-encoding.
fn decoded(url: &str) -> String {
    let bytes = url.as_bytes();
    let mut out = Vec::new();
    let mut at = 0;
    while let Some(byte) = bytes.get(at) {
        let hex = url.get(at + 1..at + 3).and_then(|pair| u8::from_str_radix(pair, 16).ok());
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
    String::from_utf8_lossy(&out).into_owned()
}

#[test]
fn what_a_browser_shows_alike_is_alike() {
    assert_eq!(canonical("<p>a\n b</p>\n"), canonical("<p>a b</p>"));
    assert_eq!(canonical("<ul><li>a<ul><li>b</li></ul></li></ul>"), canonical("<ul>\n<li>a\n<ul>\n<li>b</li>\n</ul>\n</li>\n</ul>"));
    assert_ne!(canonical("<p>a</p>"), canonical("<p>b</p>"));
    assert_ne!(canonical("<pre><code>a\n b</code></pre>"), canonical("<pre><code>a\nb</code></pre>"));
    assert_ne!(canonical("<p>a</p><p>b</p>"), canonical("<p>a b</p>"));
    assert_eq!(canonical("<pre><code>a <span class=\"k\">b</span></code></pre>"), canonical("<pre tabindex=\"0\"><code>a b</code></pre>"));
}
