//! Every key of every file of a book: its name, what stands in it, and a sentence for the crew.
//!
//! One table a kind of record drives the decoder, the nearest-key hint, the format reference and
//! the JSON Schema, so that none of them can say something else than another. `private` keys are
//! taken out of a public edition unless the boat's `public-fields` name them.

mod boat;
mod entry;
mod guide;
mod lists;
mod shape;

pub use boat::{BOAT, FITTED, GEAR, METER, OCCASION, SYSTEM};
pub use entry::{COST, ENTRY, ENTRY_PART, FINDING, RENEWAL};
pub use guide::{GUIDE, GUIDE_PART, READING, RECEIVED, TORQUE};
pub use lists::{BOUGHT, COUNTED, HAZARD, PASSAGE, STORE_ITEM, TOOL};
pub use shape::Shape;

/// One key of a record.
#[derive(Debug)]
pub struct KeySpec {
    pub name: &'static str,
    pub shape: Shape,
    /// Left out of a public edition.
    pub private: bool,
    pub required: bool,
    /// One plain sentence for the crew.
    pub doc: &'static str,
}

/// The keys of one kind of record.
#[derive(Debug)]
pub struct Table {
    /// What the record is, as it stands in a message: `guide`, `store item`.
    pub name: &'static str,
    pub keys: &'static [KeySpec],
}

impl Table {
    /// The key of this name.
    #[must_use]
    pub fn key(&self, name: &str) -> Option<&'static KeySpec> {
        self.keys.iter().find(|key| key.name == name)
    }

    /// What the record is, with its article: `an entry`, `a piece of gear`.
    #[must_use]
    pub fn described(&self) -> String {
        match self.name {
            "gear" => "a piece of gear".to_owned(),
            "fitted" => "the fitting of gear".to_owned(),
            name if name.starts_with(['a', 'e', 'i', 'o', 'u']) => format!("an {name}"),
            name => format!("a {name}"),
        }
    }

    /// Names of all keys, in the order of the format.
    pub fn names(&self) -> impl Iterator<Item = &'static str> + Clone {
        self.keys.iter().map(|key| key.name)
    }
}

/// All tables, files first, each followed by the records that stand in it.
pub static ALL: [&Table; 22] = [
    &BOAT,
    &SYSTEM,
    &METER,
    &GEAR,
    &FITTED,
    &OCCASION,
    &GUIDE,
    &GUIDE_PART,
    &TORQUE,
    &READING,
    &RECEIVED,
    &ENTRY,
    &ENTRY_PART,
    &COST,
    &FINDING,
    &RENEWAL,
    &STORE_ITEM,
    &COUNTED,
    &BOUGHT,
    &TOOL,
    &PASSAGE,
    &HAZARD,
];

/// Optional keys without which a public edition would say something else than the book: an entry
/// without `done` is an open job, and one without `private` is public.
const KEPT: [&str; 6] = ["date", "started", "done", "private", "private-fields", "public-fields"];

/// Whether `private-fields` may name this key.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Withholding {
    Allowed,
    /// No record has such a key.
    Unknown,
    /// A record of this kind, said with its article, is nothing without it.
    Needed(String),
}

/// Whether a key may be taken out of the public edition.
#[must_use]
pub fn withholding(name: &str) -> Withholding {
    let mut known = false;
    for table in ALL {
        let Some(key) = table.key(name) else { continue };
        known = true;
        if (key.required && !key.private) || KEPT.contains(&key.name) {
            return Withholding::Needed(table.described());
        }
    }
    if known { Withholding::Allowed } else { Withholding::Unknown }
}

/// Names of all keys that are private unless `public-fields` names them.
pub fn private_names() -> impl Iterator<Item = &'static str> + Clone {
    ALL.into_iter().flat_map(|table| table.keys.iter()).filter(|key| key.private).map(|key| key.name)
}

/// Names of all keys of all tables; some come more than once.
pub fn all_names() -> impl Iterator<Item = &'static str> + Clone {
    ALL.into_iter().flat_map(Table::names)
}

/// A key that may be left out.
const fn key(name: &'static str, shape: Shape, doc: &'static str) -> KeySpec {
    KeySpec { name, shape, private: false, required: false, doc }
}

/// A key that must be there.
const fn required(name: &'static str, shape: Shape, doc: &'static str) -> KeySpec {
    KeySpec { name, shape, private: false, required: true, doc }
}

/// A key that may be left out, and that a public edition leaves out.
const fn private(name: &'static str, shape: Shape, doc: &'static str) -> KeySpec {
    KeySpec { name, shape, private: true, required: false, doc }
}

/// A key that must be there, of a record that a public edition leaves out.
const fn required_private(name: &'static str, shape: Shape, doc: &'static str) -> KeySpec {
    KeySpec { name, shape, private: true, required: true, doc }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_key_stands_once_and_has_a_sentence() {
        for table in ALL {
            let mut seen = std::collections::BTreeSet::new();
            for key in table.keys {
                assert!(seen.insert(key.name), "`{}` twice in {}", key.name, table.name);
                assert!(key.doc.ends_with('.') && key.doc.starts_with(char::is_uppercase), "{}: {}", key.name, key.doc);
                assert!(key.doc.chars().count() <= 160, "{}: {}", key.name, key.doc);
                assert_eq!(crate::book::id::id_of(key.name), key.name);
            }
        }
    }

    #[test]
    fn the_private_keys_are_those_of_the_format() {
        let names: std::collections::BTreeSet<&str> = private_names().collect();
        let expected = ["hull-number", "crew", "serial", "by", "place", "papers", "cost", "costs", "price", "counted", "level", "bought"];
        for name in expected {
            assert!(names.contains(name), "{name}");
        }
        assert!(PASSAGE.keys.iter().all(|key| key.private));
        for table in [&GUIDE, &TORQUE, &READING, &GUIDE_PART, &TOOL, &HAZARD] {
            assert!(table.keys.iter().all(|key| !key.private), "{}", table.name);
        }
    }

    #[test]
    fn only_optional_keys_may_be_withheld() {
        for name in ["home-port", "stowed", "note", "serial", "work", "except"] {
            assert_eq!(withholding(name), Withholding::Allowed, "{name}");
        }
        for name in ["title", "name", "id", "grade", "done", "private"] {
            assert!(matches!(withholding(name), Withholding::Needed(_)), "{name}");
        }
        assert_eq!(withholding("colour"), Withholding::Unknown);
    }
}
