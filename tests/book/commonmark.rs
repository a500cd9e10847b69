//! The Markdown of guides and entries against another implementation.
//!
//! The corpus is the Markdown of all examples of CommonMark 0.31.2 (`tests/commonmark-0.31.2.txt`),
//! and of tables and task lists; the reference is comrak. Differences on purpose are made on the
//! reference's own tree before it is printed: HTML is text, and a heading is never more than one
//! level below the heading before it. What both print is then brought to one form (`canonical`).

use crate::canonical::canonical;
use comrak::nodes::NodeValue;
use comrak::{Arena, Options, format_html, parse_document};
use garboard::book::markdown;
use garboard::book::source::Span;
use garboard::site::markdown::{LinkTo, Renderer, Surroundings};
use std::path::Path;

/// Examples on which the two differ for a reason.
const SKIPPED: [(usize, &str); 4] = [
    (175, "HTML in an item of a tight list is a paragraph of its own, so that it stands apart as text"),
    (526, BRACKETS),
    (538, BRACKETS),
    (603, BRACKETS),
];

const BRACKETS: &str = "square brackets in an address stay as they were written";

struct Plain;

impl Surroundings for Plain {
    fn link(&self, target: &str) -> LinkTo {
        LinkTo::Href(target.to_owned())
    }

    fn picture(&self, target: &str, alt: &str, title: &str, block: bool) -> String {
        let escaped = |text: &str| text.replace('&', "&amp;").replace('"', "&quot;").replace('<', "&lt;");
        let title = if title.is_empty() { String::new() } else { format!(" title=\"{}\"", escaped(title)) };
        let image = format!("<img src=\"{}\" alt=\"{}\"{title}>", escaped(target), escaped(alt));
        if block { format!("<p>{image}</p>\n") } else { image }
    }

    fn word(&self, name: &str) -> String {
        name.to_owned()
    }
}

fn ours(text: &str) -> String {
    let events = markdown::parse(text, Span::new(0, text.len()));
    Renderer::new(text, &[], &Plain, 0, "").blocks(&events)
}

fn reference(text: &str) -> String {
    let mut options = Options::default();
    options.extension.table = true;
    options.extension.tasklist = true;
    // There is no HTML left in the tree, and the schemes of links are not the renderer's business.
    options.render.r#unsafe = true;
    let arena = Arena::new();
    let root = parse_document(&arena, text, &options);
    let mut above = 0;
    for node in root.descendants() {
        let mut data = node.data_mut();
        match &mut data.value {
            NodeValue::Heading(heading) => {
                heading.level = heading.level.min(above + 1);
                above = heading.level;
            }
            NodeValue::HtmlInline(html) => {
                let html = std::mem::take(html);
                data.value = NodeValue::Text(html.into());
            }
            NodeValue::HtmlBlock(html) => {
                let html = std::mem::take(&mut html.literal);
                data.value = NodeValue::Paragraph;
                drop(data);
                node.append(arena.alloc(NodeValue::Text(html.into()).into()));
            }
            _ => {}
        }
    }
    let mut out = String::new();
    format_html(root, &options, &mut out).expect("a string takes everything");
    out
}

/// Number, section and Markdown of every example.
fn examples() -> Vec<(usize, String, String)> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/commonmark-0.31.2.txt");
    let text = std::fs::read_to_string(path).expect("the examples");
    let fence = "`".repeat(32);
    let mut found: Vec<(usize, String, String)> = Vec::new();
    for line in text.split_inclusive('\n') {
        match line.strip_prefix(&fence) {
            Some(head) => {
                if let Some((number, section)) = head.trim().split_once(' ') {
                    found.push((number.parse().expect("a number"), section.to_owned(), String::new()));
                }
            }
            None => {
                if let Some((_, _, markdown)) = found.last_mut() {
                    markdown.push_str(&line.replace('→', "\t"));
                }
            }
        }
    }
    found
}

#[test]
fn every_example_of_the_specification_comes_out_as_the_reference_has_it() {
    let examples = examples();
    assert_eq!(examples.len(), 652);
    let mut wrong = Vec::new();
    for (number, section, text) in &examples {
        if SKIPPED.iter().any(|(skipped, _)| skipped == number) {
            continue;
        }
        let (ours, reference) = (canonical(&ours(text)), canonical(&reference(text)));
        if ours != reference {
            wrong.push(format!("{number} ({section}): {text:?}\n ours:      {ours:?}\n reference: {reference:?}"));
        }
    }
    assert!(wrong.is_empty(), "{} differ:\n{}", wrong.len(), wrong.join("\n"));
}

#[test]
fn what_is_skipped_is_an_example_and_has_a_reason() {
    let numbers: Vec<usize> = examples().iter().map(|(number, _, _)| *number).collect();
    for (number, reason) in SKIPPED {
        assert!(numbers.contains(&number) && !reason.is_empty(), "{number}");
    }
}

#[track_caller]
fn case(text: &str) {
    assert_eq!(canonical(&ours(text)), canonical(&reference(text)), "{text}");
}

#[test]
fn tables_come_out_as_the_reference_has_them() {
    case("| a | b |\n| --- | --- |\n| 1 | 2 |\n");
    case("a | b\n--- | ---\n1 | 2\n");
    case("| left | centre | right |\n|:--|:-:|--:|\n| 1 | 2 | 3 |\n| 4 | 5 |\n");
    case("| a |\n| - |\n| `x \\| y` |\n| *b* **c** |\n");
    case("Text.\n\n| a |\n| - |\n| 1 |\n\nMore.\n");
    case("> | a |\n> | - |\n> | 1 |\n");
    case("- | a |\n  | - |\n  | 1 |\n");
    case("| a | b |\n| - |\n| 1 | 2 |\n");
    case("| size | torque |\n| ---- | -----: |\n| M8 8.8 | 25 N·m |\n");
}

#[test]
fn task_lists_come_out_as_the_reference_has_them() {
    case("- [ ] shut the cock\n- [x] switch off\n");
    case("1. [ ] one\n2. [X] two\n");
    case("- [ ] outer\n  - [x] inner\n");
    case("- [] no box\n- [ ]no box\n");
}

#[test]
fn alignment_is_understood_on_both_sides() {
    // So that the comparison of tables cannot pass by dropping it.
    let right = canonical(&reference("| a |\n| -: |\n| 1 |\n"));
    assert!(right.contains("right"), "{right}");
}
