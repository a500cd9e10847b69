//! What becomes of the stores, tools and hazards that come with guides: which of them this book has, which come in,
//! and what they are called here.

use super::append::appended;
use super::names::Kind;
use super::plan::{Fate, Growth, Locked, Receipt, RecordFate, Refused, Wish, with_source};
use super::records::{List, Record, same_caution, same_item, same_words};
use crate::book::model::Book;
use crate::enter::shortened;
use crate::share::hold::{Caution, Held, StoreItem, Tool};
use std::collections::{BTreeMap, BTreeSet};

/// The longest beginning of an id that is made of hers, in bytes.
const STEM: usize = 60;

/// What her records are called here, of those that have another name.
#[derive(Debug, Default)]
pub(super) struct Renamed {
    pub items: BTreeMap<String, String>,
    pub cautions: BTreeMap<String, String>,
}

/// Says in the receipt what becomes of each; returns what hers are called here.
pub(super) fn lists(held: &Held, book: &Book, wish: &Wish<'_>, locked: &Locked, receipt: &mut Receipt) -> Renamed {
    // Parts and tools share their names in marks, so that one which is called otherwise here must be free in both lists.
    let known = Kind::Item.ours(book).into_iter().map(|(id, _)| id).chain(Kind::Item.theirs(held)).collect();
    let mut plan = Plan {
        held,
        book,
        wish,
        known,
        given: BTreeSet::new(),
        seen: BTreeSet::new(),
        hazards: BTreeSet::new(),
        new: BTreeMap::new(),
        receipt,
    };
    let mut renamed = Renamed::default();
    for thing in held.stores.iter().map(Thing::Part).chain(held.tools.iter().map(Thing::Tool)) {
        if let Some(here) = plan.thing(thing) {
            renamed.items.insert(thing.id().to_owned(), here);
        }
    }
    for caution in &held.cautions {
        if let Some(here) = plan.caution(caution) {
            renamed.cautions.insert(caution.id.clone(), here);
        }
    }
    plan.grow(locked);
    renamed
}

/// A part or a tool of hers.
#[derive(Clone, Copy)]
enum Thing<'h> {
    Part(&'h StoreItem),
    Tool(&'h Tool),
}

impl<'h> Thing<'h> {
    fn list(self) -> List {
        match self {
            Self::Part(_) => List::Stores,
            Self::Tool(_) => List::Tools,
        }
    }

    fn id(self) -> &'h str {
        match self {
            Self::Part(item) => &item.id,
            Self::Tool(tool) => &tool.id,
        }
    }

    fn title(self) -> &'h str {
        match self {
            Self::Part(item) => &item.title,
            Self::Tool(tool) => &tool.title,
        }
    }

    fn record(self) -> Result<Record, String> {
        match self {
            Self::Part(item) => Record::of_store(item),
            Self::Tool(tool) => Record::of_tool(tool),
        }
    }

    /// What this book has under an id: its title, and whether it is the same thing.
    fn here<'b>(self, book: &'b Book, id: &str) -> Option<(&'b str, bool)> {
        match self {
            Self::Part(item) => book.store(id).map(|ours| (ours.title.as_str(), same_item(ours, item))),
            Self::Tool(tool) => book.tool(id).map(|ours| (ours.title.as_str(), same_words(&ours.title, &tool.title))),
        }
    }
}

struct Plan<'p> {
    held: &'p Held,
    book: &'p Book,
    wish: &'p Wish<'p>,
    /// Ids of parts and tools, ours and hers.
    known: BTreeSet<&'p str>,
    /// Ids that were made for hers.
    given: BTreeSet<String>,
    /// Ids of hers that were decided about, or under which one came in.
    seen: BTreeSet<(List, String)>,
    /// Ids of her hazards that were decided about.
    hazards: BTreeSet<String>,
    new: BTreeMap<List, Vec<Record>>,
    receipt: &'p mut Receipt,
}

impl Plan<'_> {
    /// Decides about a part or a tool, and says what it is called here where that is another name.
    fn thing(&mut self, thing: Thing<'_>) -> Option<String> {
        let (list, id) = (thing.list(), thing.id());
        let record = match thing.record() {
            Ok(record) => record,
            Err(why) => return self.refuse(list, why),
        };
        if self.wish.maps.has(Kind::Item, id) {
            self.tell(list, id, thing.title(), Fate::Mapped(self.wish.maps.here(Kind::Item, id).to_owned()));
            return None;
        }
        if !self.seen.insert((list, id.to_owned())) {
            return None;
        }
        let ours = match thing.here(self.book, id) {
            None => {
                self.tell(list, id, thing.title(), Fate::Added(id.to_owned()));
                self.new.entry(list).or_default().push(record);
                return None;
            }
            Some((ours, true)) => {
                self.tell(list, id, thing.title(), Fate::Ours(ours.to_owned()));
                return None;
            }
            Some((ours, false)) => ours.to_owned(),
        };
        // An earlier file of hers may have brought it.
        let same = |here: &str| thing.here(self.book, here).is_some_and(|(_, same)| same);
        let free = |name: &str| !self.known.contains(name) && !self.given.contains(name);
        let here = with_source(shortened(id, STEM), self.held).find(|name| same(name) || free(name))?;
        if same(&here) {
            self.tell(list, id, thing.title(), Fate::Mapped(here.clone()));
        } else {
            self.given.insert(here.clone());
            self.tell(list, id, thing.title(), Fate::Beside { ours, id: here.clone() });
            self.new.entry(list).or_default().push(record.called(&here));
        }
        Some(here)
    }

    /// Decides about a hazard, and says what it is called here where that is another name.
    fn caution(&mut self, caution: &Caution) -> Option<String> {
        let list = List::Cautions;
        let record = match Record::of_caution(caution) {
            Ok(record) => record,
            Err(why) => return self.refuse(list, why),
        };
        if !self.hazards.insert(caution.id.clone()) {
            return None;
        }
        let mut other = None;
        for id in std::iter::once(caution.id.clone()).chain(with_source(shortened(&caution.id, STEM), self.held)) {
            let fate = match self.book.hazard(&id) {
                Some(ours) if same_caution(ours, caution) => {
                    if id == caution.id {
                        Fate::Ours(ours.title.clone())
                    } else {
                        Fate::Mapped(id.clone())
                    }
                }
                None if self.seen.insert((list, id.clone())) => {
                    self.new.entry(list).or_default().push(record.called(&id));
                    match other {
                        Some(ours) => Fate::Beside { ours, id: id.clone() },
                        None => Fate::Added(id.clone()),
                    }
                }
                ours => {
                    other = other.or_else(|| ours.map(|hazard| hazard.title.clone()));
                    continue;
                }
            };
            self.tell(list, &caution.id, &caution.title, fate);
            return (id != caution.id).then_some(id);
        }
        None
    }

    /// Adds what is new to the lists of the book, as text; where a list takes no more, says what would be added.
    fn grow(self, locked: &Locked) {
        for (list, records) in self.new {
            let old = self.book.sources.get(list.file()).map(|source| source.text().to_owned());
            let lines: Vec<String> = records.iter().map(Record::line).collect();
            let grown = match locked.get(&list) {
                Some(why) => Err(why.clone()),
                None => appended(list, old.as_deref().unwrap_or_default(), &lines).map_err(str::to_owned),
            };
            match grown {
                Ok(new) => self.receipt.lists.push(Growth { file: list.file(), old, new }),
                Err(why) => {
                    for fate in self.receipt.records.iter_mut().filter(|fate| fate.list == list) {
                        let record = records.iter().find(|record| fate.fate.added() == Some(&record.id));
                        if let Some(record) = record {
                            fate.fate = Fate::Words { why: why.clone(), line: format!("- {}", record.line()) };
                        }
                    }
                }
            }
        }
    }

    fn tell(&mut self, list: List, id: &str, title: &str, fate: Fate) {
        self.receipt.records.push(RecordFate { list, id: id.to_owned(), title: title.to_owned(), fate });
    }

    fn refuse(&mut self, list: List, why: String) -> Option<String> {
        self.receipt.refused.push(Refused { what: format!("a line of `{}`", list.file()), why: vec![why] });
        None
    }
}
