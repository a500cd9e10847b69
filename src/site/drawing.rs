//! Drawings for the pages: an SVG file taken apart and built again from what is known to be harmless.
//!
//! Only listed elements and attributes come through, so that scripts, links, outside pictures and whatever the
//! next editor invents stay behind. Style sheets and `style` attributes become plain attributes. Everything is
//! bounded before it is read: size, depth, count, and how often a part may be repeated.

mod allowed;
mod repeats;
mod scan;
mod size;
mod style;
#[cfg(test)]
mod tests;
mod tree;

use self::style::StyleSheet;
use self::tree::{Child, Element};
use super::pictures::PictureError;
use roxmltree::{Document, Node, ParsingOptions};
use std::collections::BTreeSet;

const SVG_NAMESPACE: &str = "http://www.w3.org/2000/svg";
const XLINK_NAMESPACE: &str = "http://www.w3.org/1999/xlink";
const XML_NAMESPACE: &str = "http://www.w3.org/XML/1998/namespace";

/// The largest file that is read, in bytes.
const LARGEST_FILE: usize = 5 * 1024 * 1024;
/// The most elements and pieces of text.
const MOST_NODES: u32 = 100_000;
/// The most text a drawing may come to when its style sheet is written out on each element, in bytes.
const LARGEST_RESULT: usize = 4 * LARGEST_FILE;
/// How many kinds of things left out are named.
const MOST_NAMED: usize = 20;

/// A drawing made ready for the pages.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Drawing {
    /// A whole SVG file in UTF-8, without XML declaration; the same bytes for the same drawing.
    pub bytes: Vec<u8>,
    /// Its own width, in CSS pixels (96 to the inch), rounded.
    pub width: u32,
    /// Its own height, likewise.
    pub height: u32,
    /// What it held that may not be shown and that its author may miss: `image`, `script`, `onload`. Sorted,
    /// each once; the private notes of drawing programs are dropped without a word.
    pub left_out: Vec<String>,
}

/// Builds a drawing anew from the harmless parts of an SVG file.
///
/// # Errors
///
/// A file that is not well-formed SVG, declares entities, is too large or too deep, has no size, or repeats
/// its parts beyond measure. What is merely not allowed is left out and named in the result.
pub fn rebuild_svg(bytes: &[u8]) -> Result<Drawing, PictureError> {
    if bytes.is_empty() {
        return Err(PictureError::Empty);
    }
    if bytes.len() > LARGEST_FILE {
        return Err(PictureError::DrawingTooLarge("5 MB"));
    }
    let text = std::str::from_utf8(bytes).map_err(|_| PictureError::DrawingNotText)?;
    let text = scan::check_bounds(text)?;
    let options = ParsingOptions { allow_dtd: false, nodes_limit: MOST_NODES, ..ParsingOptions::default() };
    let document = Document::parse_with_options(&text, options).map_err(from_xml_error)?;
    let root = document.root_element();
    if svg_name(root) != Some("svg") {
        return Err(PictureError::DrawingNotSvg(short(root.tag_name().name())));
    }
    let mut builder = Builder { styles: StyleSheet::of_document(&document), left_out: BTreeSet::new(), written: 0 };
    let mut drawing = builder.element(root, Surroundings::Shapes)?.ok_or(PictureError::DrawingWithoutSize)?;
    let size = size::take_size(&mut drawing)?;
    repeats::check(&drawing)?;
    Ok(Drawing {
        bytes: drawing.to_file().into_bytes(),
        width: size.width,
        height: size.height,
        left_out: builder.left_out.into_iter().collect(),
    })
}

fn from_xml_error(error: roxmltree::Error) -> PictureError {
    match error {
        roxmltree::Error::NodesLimitReached => PictureError::DrawingTooLarge("100,000 parts"),
        roxmltree::Error::DtdDetected => PictureError::DrawingDeclares,
        other => PictureError::DrawingNotXml(other.to_string()),
    }
}

/// The name of an element of SVG; files written by hand may lack the namespace.
fn svg_name<'a>(node: Node<'a, '_>) -> Option<&'a str> {
    let name = node.tag_name();
    let ours = name.namespace().is_none_or(|space| space == SVG_NAMESPACE);
    (node.is_element() && ours).then(|| name.name())
}

/// The value of an attribute without namespace. The parser's own look-up takes one of any namespace, and would
/// find an editor's `e:style`.
fn plain_value<'a>(node: Node<'a, '_>, name: &str) -> Option<&'a str> {
    let found = node.attributes().find(|attribute| attribute.namespace().is_none() && attribute.name() == name);
    found.map(|attribute| attribute.value())
}

/// A name from the file, cut so that a message stays readable.
fn short(name: &str) -> String {
    name.chars().take(40).collect()
}

/// What an element stands in, which decides whether bare text is shown and what a link becomes.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Surroundings {
    Shapes,
    Text,
}

struct Builder {
    styles: StyleSheet,
    left_out: BTreeSet<String>,
    written: usize,
}

impl Builder {
    /// Builds one element with all below it; `None` when it may not be shown. The depth is bounded by the scan.
    fn element(&mut self, node: Node<'_, '_>, surroundings: Surroundings) -> Result<Option<Element>, PictureError> {
        let Some(own_name) = svg_name(node) else {
            return Ok(None);
        };
        let Some(name) = built_name(own_name, surroundings) else {
            if !allowed::is_silently_dropped(own_name) {
                self.leave_out(own_name);
            }
            return Ok(None);
        };
        let mut element = Element::new(name);
        self.attributes(node, &mut element);
        if name == "use" && !element.attributes.contains_key("href") {
            return Ok(None);
        }
        self.count(&element)?;
        let inside = if allowed::holds_text(name) { Surroundings::Text } else { Surroundings::Shapes };
        for child in node.children() {
            if child.is_text() {
                let text = child.text().unwrap_or_default();
                if inside == Surroundings::Text && !text.is_empty() {
                    self.written += text.len();
                    element.children.push(Child::Text(text.to_owned()));
                }
            } else if let Some(built) = self.element(child, inside)? {
                element.children.push(Child::Element(built));
                // A switch shows the first of its children that a viewer understands.
                if own_name == "switch" {
                    break;
                }
            }
        }
        Ok(Some(element))
    }

    /// Takes over the attributes; the style sheet wins over them, and the element's own style over both.
    fn attributes(&mut self, node: Node<'_, '_>, element: &mut Element) {
        for attribute in node.attributes() {
            let name = attribute.name();
            let value = attribute.value();
            match attribute.namespace() {
                Some(XLINK_NAMESPACE) if name == "href" && plain_value(node, "href").is_none() => {
                    self.link(value, element);
                }
                Some(XML_NAMESPACE) => {
                    if let Some(name) = allowed::xml_attribute(name, value) {
                        element.set(name, value);
                    }
                }
                None if name == "href" => self.link(value, element),
                None => self.plain_attribute(name, value, element),
                Some(_) => {}
            }
        }
        for rule in self.styles.rules_for(node) {
            let set = rule.iter().map(|(name, value)| (*name, value.clone()));
            element.attributes.extend(set);
        }
        if let Some(own_style) = plain_value(node, "style") {
            element.attributes.extend(style::declarations(own_style));
        }
    }

    fn plain_attribute(&mut self, name: &str, value: &str, element: &mut Element) {
        if name.get(..2).is_some_and(|start| start.eq_ignore_ascii_case("on")) {
            self.leave_out(name);
        } else if let Some(name) = allowed::attribute(name, value) {
            element.set(name, value);
        }
    }

    /// A link to a part of the same drawing is kept where a drawing needs it; all others go.
    fn link(&mut self, value: &str, element: &mut Element) {
        if !allowed::may_link(element.name) {
            return;
        }
        if allowed::local_id(value).is_some() {
            element.set("href", value.trim());
        } else {
            self.leave_out("link to another file");
        }
    }

    fn leave_out(&mut self, what: &str) {
        if self.left_out.len() < MOST_NAMED {
            self.left_out.insert(short(what));
        }
    }

    fn count(&mut self, element: &Element) -> Result<(), PictureError> {
        let attributes = element.attributes.iter();
        self.written += attributes.map(|(name, value)| name.len() + value.len() + 4).sum::<usize>();
        if self.written > LARGEST_RESULT {
            return Err(PictureError::DrawingTooLarge("20 MB with its styles written out"));
        }
        Ok(())
    }
}

/// What an element is built as: itself when listed. Links and switches lose their meaning, not their content.
fn built_name(name: &str, surroundings: Surroundings) -> Option<&'static str> {
    match (name, surroundings) {
        ("a", Surroundings::Text) => Some("tspan"),
        ("a" | "switch", _) => Some("g"),
        _ => allowed::element(name),
    }
}
