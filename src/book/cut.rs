//! Cutting keys out of the front matter of a guide: what is left reads as if they had never been written,
//! and stands as it was, byte for byte.

use super::diagnostic::Notes;
use super::front_matter;
use super::keys::{GUIDE, KeySpec, Shape, Table};
use super::node::{self, Key, Kind, Node};
use super::source::{Source, Span};

/// The front matter is written so that its keys cannot be told apart line by line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CannotCut {
    /// The key that could not be cut out.
    pub key: String,
}

/// The text of a guide without the keys that are hidden, wherever in its front matter they stand, and
/// without the top-level keys `named`. A key goes with its value and the comments behind it; comments above
/// it stay.
///
/// # Errors
/// What would be left reads otherwise than what was written without these keys.
pub fn without_keys(source: &Source, hides: &dyn Fn(&KeySpec) -> bool, named: &[&str]) -> Result<String, CannotCut> {
    let mut notes = Notes::new(source);
    let Some(parts) = front_matter::split(&mut notes) else { return Ok(source.text().to_owned()) };
    let Some(root) = node::read(&mut notes, parts.yaml) else { return Ok(source.text().to_owned()) };
    let cutting = Cutting { text: source.text(), hides, named };
    let mut cuts = Vec::new();
    cutting.map(&root, &GUIDE, parts.yaml.end as usize, &mut cuts);
    let mut left = source.text().to_owned();
    for cut in cuts.iter().rev() {
        if left.get(cut.range()).is_some() {
            left.replace_range(cut.range(), "");
        }
    }
    if cuts.is_empty() || cutting.is_sound(&root, &left) {
        return Ok(left);
    }
    let key = cuts.first().map_or("", |cut| source.slice(*cut)).split(':').next().unwrap_or_default().trim().to_owned();
    Err(CannotCut { key })
}

struct Cutting<'c> {
    text: &'c str,
    hides: &'c dyn Fn(&KeySpec) -> bool,
    named: &'c [&'c str],
}

impl Cutting<'_> {
    fn is_cut(&self, table: &Table, key: &Key<'_>) -> bool {
        let is_root = std::ptr::eq(table.keys, GUIDE.keys);
        (is_root && self.named.contains(&key.text.as_ref())) || table.key(&key.text).is_some_and(|key| (self.hides)(key))
    }

    /// Gathers what is cut of a record, in order. `limit`: where the next thing behind it may begin.
    fn map(&self, node: &Node<'_>, table: &'static Table, limit: usize, cuts: &mut Vec<Span>) {
        let Kind::Map(pairs) = &node.kind else { return };
        let flow = self.text.as_bytes().get(node.span.start as usize) == Some(&b'{');
        // Where the run of hidden keys that is open began.
        let mut hidden_from: Option<usize> = None;
        for (at, (key, value)) in pairs.iter().enumerate() {
            if self.is_cut(table, key) {
                hidden_from.get_or_insert(at);
                continue;
            }
            if let Some(first) = hidden_from.take().and_then(|from| pairs.get(from)) {
                cuts.push(Span { start: first.0.span.start, end: key.span.start });
            }
            let next =
                pairs.get(at + 1).map_or(limit, |(next, _)| if flow { value.span.end as usize } else { self.line_of(next.span.start) });
            if let Some(shape) = table.key(&key.text).map(|key| key.shape) {
                self.value(value, shape, next, cuts);
            }
        }
        // A run to the end: with the line break or the comma before it.
        let Some(from) = hidden_from else { return };
        let Some(first) = pairs.get(from) else { return };
        let before = from.checked_sub(1).and_then(|at| pairs.get(at));
        cuts.push(match before {
            Some((_, before)) if flow => Span::new(before.span.end as usize, pairs.last().map_or(0, |(_, last)| last.span.end as usize)),
            _ => Span::new(self.line_of(first.0.span.start), limit),
        });
    }

    /// What is cut of the records in a value.
    fn value(&self, node: &Node<'_>, shape: Shape, limit: usize, cuts: &mut Vec<Span>) {
        let Some(table) = shape.table() else { return };
        match (&node.kind, shape) {
            (Kind::List(items), _) => {
                for (at, item) in items.iter().enumerate() {
                    let next = items.get(at + 1).map_or(limit, |next| self.line_of(next.span.start));
                    self.map(item, table, next, cuts);
                }
            }
            (Kind::Map(pairs), Shape::Named(_)) => {
                for (at, (_, value)) in pairs.iter().enumerate() {
                    let next = pairs.get(at + 1).map_or(limit, |(next, _)| self.line_of(next.span.start));
                    self.map(value, table, next, cuts);
                }
            }
            _ => self.map(node, table, limit, cuts),
        }
    }

    /// Where the line of a place begins.
    fn line_of(&self, at: u32) -> usize {
        self.text.get(..at as usize).and_then(|before| before.rfind('\n')).map_or(0, |end| end + 1)
    }

    /// Whether a text reads as `root` would without what is cut.
    fn is_sound(&self, root: &Node<'_>, left: &str) -> bool {
        let source = Source::new("", left);
        let mut notes = Notes::new(&source);
        let read = front_matter::split(&mut notes).and_then(|parts| node::read(&mut notes, parts.yaml));
        read.is_some_and(|read| self.same(root, &read, Some(&GUIDE)))
    }

    fn same(&self, whole: &Node<'_>, left: &Node<'_>, table: Option<&'static Table>) -> bool {
        match (&whole.kind, &left.kind) {
            (Kind::Scalar { text: a, plain: b }, Kind::Scalar { text: c, plain: d }) => a == c && b == d,
            (Kind::List(a), Kind::List(b)) => a.len() == b.len() && a.iter().zip(b).all(|(a, b)| self.same(a, b, table)),
            (Kind::Map(whole), Kind::Map(left)) => {
                let kept: Vec<_> = whole.iter().filter(|(key, _)| table.is_none_or(|table| !self.is_cut(table, key))).collect();
                kept.len() == left.len()
                    && kept.iter().zip(left).all(|((key, value), (left_key, left_value))| {
                        let shape = table.and_then(|table| table.key(&key.text)).map(|key| key.shape);
                        key.text == left_key.text
                            && match (shape, &value.kind, &left_value.kind) {
                                (Some(Shape::Named(inner)), Kind::Map(a), Kind::Map(b)) => {
                                    a.len() == b.len()
                                        && a.iter().zip(b).all(|(a, b)| a.0.text == b.0.text && self.same(&a.1, &b.1, Some(inner)))
                                }
                                _ => self.same(value, left_value, shape.and_then(Shape::table)),
                            }
                    })
            }
            _ => false,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn cut(text: &str, names: &[&str]) -> Result<String, CannotCut> {
        let source = Source::new("guides/engine/oil.md", text);
        without_keys(&source, &|key| !key.required && names.contains(&key.name), &["received"])
    }

    #[track_caller]
    fn case(text: &str, names: &[&str], expected: &str) {
        assert_eq!(cut(&format!("---\n{text}---\nBody: source: x\n"), names), Ok(format!("---\n{expected}---\nBody: source: x\n")));
    }

    #[test]
    fn a_key_goes_with_its_value_and_all_else_stays() {
        case("title: Oil\nsource: a book\ncrew: 2\n", &["source"], "title: Oil\ncrew: 2\n");
        case("source: a book # and a remark\n# more of it\ntitle: Oil\n", &["source"], "title: Oil\n");
        case("title: Oil\nsource: >\n  folded # text\n  # and more\n", &["source"], "title: Oil\n");
        case("title: Oil\nwear:\n  - gloves\n  - boots\nsource: a\n", &["wear", "source"], "title: Oil\n");
        case("title:   'Oil'   # kept\n\n# kept too\ncrew: 2\n", &["source"], "title:   'Oil'   # kept\n\n# kept too\ncrew: 2\n");
        // What is needed stays, whatever is asked for.
        case("title: Oil\n", &["title"], "title: Oil\n");
    }

    #[test]
    fn a_key_of_a_record_goes_wherever_the_record_stands() {
        case(
            "title: Oil\ntorque:\n  - {at: plug, value: 35 N·m, source: yard}\n  - {source: yard, at: cap, value: 9 N·m}\n",
            &["source"],
            "title: Oil\ntorque:\n  - {at: plug, value: 35 N·m}\n  - {at: cap, value: 9 N·m}\n",
        );
        case(
            "title: Oil\ntorque:\n  - source: yard\n    at: plug\n    value: 35 N·m\n  - at: cap\n    value: 9 N·m\n    source: yard\ncrew: 1\n",
            &["source"],
            "title: Oil\ntorque:\n  - at: plug\n    value: 35 N·m\n  - at: cap\n    value: 9 N·m\ncrew: 1\n",
        );
        case(
            "title: Oil\nreadings:\n  level: {unit: mm, when: cold, limits: 1..2}\n  wear:\n    unit: mm\n    when: dry\n",
            &["when"],
            "title: Oil\nreadings:\n  level: {unit: mm, limits: 1..2}\n  wear:\n    unit: mm\n",
        );
        case("{title: Oil, source: yard, crew: 2}\n", &["source", "crew"], "{title: Oil}\n");
    }

    #[test]
    fn a_block_that_only_one_boat_needs_goes_too() {
        case("title: Oil\nreceived:\n  from: Tern\n  on: 2026-03-14\n", &[], "title: Oil\n");
        case("title: Oil\nreceived: {from: Tern}\ncrew: 2\n", &[], "title: Oil\ncrew: 2\n");
        // Only at the top.
        case("title: Oil\nvalues:\n  received: 2 mm\n", &[], "title: Oil\nvalues:\n  received: 2 mm\n");
    }

    #[test]
    fn a_text_without_front_matter_is_left_alone() {
        assert_eq!(cut("source: x\n", &["source"]).as_deref(), Ok("source: x\n"));
        assert_eq!(cut("---\n: [\n---\n", &["source"]).as_deref(), Ok("---\n: [\n---\n"));
    }

    #[test]
    fn what_cannot_be_cut_cleanly_is_refused() {
        // A key on the line of another's end, which no line of the file can be cut at.
        let found = cut("---\ntitle: Oil\nwear: [a,\n b]\n? source\n: yard\n---\n", &["source"]);
        assert!(matches!(&found, Ok(left) if !left.contains("yard")) || found.is_err(), "{found:?}");
    }

    proptest! {
        #[test]
        fn nothing_hidden_is_left_whatever_the_text(yaml in "(title: Oil\n)?([ {}\\[\\],:#'\"?>|\n-]|source|source: |torque:\n|at: a|value: 1|zq){0,40}") {
            let text = format!("---\ntitle: a\n{yaml}\n---\n");
            let source = Source::new("f.md", text.as_str());
            if let Ok(left) = cut(&text, &["source"]) {
                // What is left has no key that is hidden.
                let again = Source::new("f.md", left.as_str());
                let mut notes = Notes::new(&again);
                if let Some(root) = front_matter::split(&mut notes).and_then(|parts| node::read(&mut notes, parts.yaml))
                    && let Kind::Map(pairs) = root.kind
                {
                    prop_assert!(pairs.iter().all(|(key, _)| key.text != "source"), "{:?} -> {left:?}", source.text());
                }
            }
        }
    }
}
