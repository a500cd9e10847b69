//! The drawing as it is built anew, and its text.

use std::collections::BTreeMap;

/// An element whose name and attributes are from the lists.
pub struct Element {
    pub name: &'static str,
    /// Sorted by name, so that the same drawing gives the same bytes.
    pub attributes: BTreeMap<&'static str, String>,
    pub children: Vec<Child>,
}

pub enum Child {
    Element(Element),
    Text(String),
}

impl Element {
    pub fn new(name: &'static str) -> Self {
        Self { name, attributes: BTreeMap::new(), children: Vec::new() }
    }

    pub fn set(&mut self, name: &'static str, value: &str) {
        self.attributes.insert(name, value.to_owned());
    }

    /// The whole file, with `self` as its root.
    pub fn to_file(&self) -> String {
        let mut file = String::new();
        self.write(&mut file, " xmlns=\"http://www.w3.org/2000/svg\"");
        file.push('\n');
        file
    }

    fn write(&self, file: &mut String, namespace: &str) {
        file.push('<');
        file.push_str(self.name);
        file.push_str(namespace);
        for (name, value) in &self.attributes {
            file.push(' ');
            file.push_str(name);
            file.push_str("=\"");
            escape_into(file, value, true);
            file.push('"');
        }
        if self.children.is_empty() {
            file.push_str("/>");
            return;
        }
        file.push('>');
        for child in &self.children {
            match child {
                Child::Element(element) => element.write(file, ""),
                Child::Text(text) => escape_into(file, text, false),
            }
        }
        file.push_str("</");
        file.push_str(self.name);
        file.push('>');
    }
}

/// Line ends and tabs are written as numbers where a reader would make blanks of them.
fn escape_into(file: &mut String, text: &str, in_attribute: bool) {
    for character in text.chars() {
        match character {
            '&' => file.push_str("&amp;"),
            '<' => file.push_str("&lt;"),
            '>' => file.push_str("&gt;"),
            '"' if in_attribute => file.push_str("&quot;"),
            '\r' => file.push_str("&#13;"),
            '\n' if in_attribute => file.push_str("&#10;"),
            '\t' if in_attribute => file.push_str("&#9;"),
            _ => file.push(character),
        }
    }
}
