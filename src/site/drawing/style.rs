//! Style sheets and `style` attributes, read just far enough to turn them into plain attributes.
//!
//! Drawing programs write rules for one class, one id or one element: those are understood. All else, `@`
//! rules first of all, is passed over. Every property goes through the same list as an attribute.

use super::{allowed, plain_value, svg_name};
use roxmltree::{Document, Node};
use std::collections::BTreeMap;

/// Attributes to set, by name.
pub type Declarations = BTreeMap<&'static str, String>;

/// The longest value a style may set; a longer one is no colour and no width.
const LONGEST_VALUE: usize = 300;

/// The most selectors that are kept and the most classes of one element that are looked up: few enough that no
/// style sheet, however it repeats itself, takes long.
const MOST_SELECTORS: usize = 2_000;
const MOST_CLASSES: usize = 30;

/// The rules of all `style` elements of a drawing, by selector: `.valve`, `#valve`, `path`.
pub struct StyleSheet {
    rules: BTreeMap<String, Declarations>,
}

impl StyleSheet {
    pub fn of_document(document: &Document<'_>) -> Self {
        let mut sheet = Self { rules: BTreeMap::new() };
        for node in document.descendants() {
            if svg_name(node) == Some("style") {
                let text: String = node.children().filter_map(|child| child.text()).collect();
                sheet.read(&text);
            }
        }
        sheet
    }

    /// The declarations for an element, weakest first: by element, by class, by id.
    pub fn rules_for(&self, node: Node<'_, '_>) -> Vec<&Declarations> {
        if self.rules.is_empty() {
            return Vec::new();
        }
        let classes = plain_value(node, "class").unwrap_or_default();
        let selectors = std::iter::once(node.tag_name().name().to_owned())
            .chain(classes.split_ascii_whitespace().take(MOST_CLASSES).map(|class| format!(".{class}")))
            .chain(plain_value(node, "id").map(|id| format!("#{id}")));
        selectors.filter_map(|selector| self.rules.get(&selector)).collect()
    }

    fn read(&mut self, text: &str) {
        let text = without_comments(text);
        let mut rest = text.as_str();
        while let Some((selectors, after)) = rest.split_once('{') {
            // A rule such as `@import` ends at a semicolon and has no braces.
            let selectors = selectors.rsplit(';').next().unwrap_or_default().trim();
            if selectors.starts_with('@') {
                rest = after_block(after);
                continue;
            }
            let (body, next) = after.split_once('}').unwrap_or((after, ""));
            rest = next;
            let set = declarations(body);
            if set.is_empty() {
                continue;
            }
            for selector in selectors.split(',').map(str::trim) {
                let room = self.rules.len() < MOST_SELECTORS || self.rules.contains_key(selector);
                if room && is_simple(selector) {
                    let rule = self.rules.entry(selector.to_owned()).or_default();
                    rule.extend(set.iter().map(|(name, value)| (*name, value.clone())));
                }
            }
        }
    }
}

/// Reads `fill: none; stroke-width: 2px`, keeping what is listed and harmless.
pub fn declarations(text: &str) -> Declarations {
    let text = without_comments(text);
    let mut declarations = Declarations::new();
    for declaration in text.split(';') {
        let Some((name, value)) = declaration.split_once(':') else {
            continue;
        };
        let name = name.trim();
        let value = value.trim();
        let value = value.strip_suffix("!important").unwrap_or(value).trim_end();
        if value.len() > LONGEST_VALUE {
            continue;
        }
        // The one shorthand drawing programs use has no attribute of its own.
        let names: &[&str] = match name {
            "marker" => &["marker-start", "marker-mid", "marker-end"],
            _ => &[name],
        };
        for name in names {
            if let Some(name) = allowed::look(name, value) {
                declarations.insert(name, value.to_owned());
            }
        }
    }
    declarations
}

fn is_simple(selector: &str) -> bool {
    let name = selector.strip_prefix(['.', '#']).unwrap_or(selector);
    !name.is_empty() && name.chars().all(|c| c.is_alphanumeric() || c == '-' || c == '_')
}

/// What follows a block with blocks inside, from just after its first brace.
fn after_block(text: &str) -> &str {
    let mut depth = 1;
    for (index, character) in text.char_indices() {
        match character {
            '{' => depth += 1,
            '}' => depth -= 1,
            _ => {}
        }
        if depth == 0 {
            return text.get(index + 1..).unwrap_or_default();
        }
    }
    ""
}

fn without_comments(text: &str) -> String {
    let mut kept = String::with_capacity(text.len());
    let mut rest = text;
    while let Some((before, after)) = rest.split_once("/*") {
        kept.push_str(before);
        // Something must stand between what the comment held apart.
        kept.push(' ');
        rest = after.split_once("*/").map_or("", |(_, after)| after);
    }
    kept.push_str(rest);
    kept
}
