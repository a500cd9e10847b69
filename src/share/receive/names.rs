//! Names of another boat that are called something else here.

use crate::book::diagnostic::offer;
use crate::book::model::Book;
use crate::share::hold::Held;
use std::collections::BTreeMap;

/// What a name is the name of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    System,
    Meter,
    /// A store item or a tool.
    Item,
}

impl Kind {
    /// `system`, `meter` or `item`; also the option that maps it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::System => "system",
            Self::Meter => "meter",
            Self::Item => "item",
        }
    }

    /// What the file names.
    #[must_use]
    pub fn theirs(self, held: &Held) -> Vec<&str> {
        match self {
            Self::System => {
                held.systems.iter().map(|one| one.id.as_str()).chain(held.guides.iter().map(|one| one.system.as_str())).collect()
            }
            Self::Meter => held.meters.iter().map(|one| one.id.as_str()).collect(),
            Self::Item => held.stores.iter().map(|one| one.id.as_str()).chain(held.tools.iter().map(|one| one.id.as_str())).collect(),
        }
    }

    /// What the book has, with its title.
    #[must_use]
    pub fn ours(self, book: &Book) -> Vec<(&str, &str)> {
        match self {
            Self::System => book.boat.systems.iter().map(|one| (one.id.value.as_str(), one.title.as_str())).collect(),
            Self::Meter => book.boat.meters.iter().map(|one| (one.id.value.as_str(), one.title.as_str())).collect(),
            Self::Item => {
                let stores = book.stores.iter().map(|one| (one.id.value.as_str(), one.title.as_str()));
                stores.chain(book.tools.iter().map(|one| (one.id.value.as_str(), one.title.as_str()))).collect()
            }
        }
    }
}

/// Ids there with ids here.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Maps(BTreeMap<(Kind, String), String>);

/// A map that names what is not there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WrongMap {
    pub message: String,
    pub remedy: String,
}

impl Maps {
    /// Maps one name, if both are there.
    ///
    /// # Errors
    /// The file or the book has no such name.
    pub fn add(&mut self, held: &Held, book: &Book, kind: Kind, theirs: &str, ours: &str) -> Result<(), WrongMap> {
        let word = kind.word();
        let known = kind.theirs(held);
        if !known.contains(&theirs) {
            let remedy = offer(theirs, known.iter().copied(), &format!("write the {word} as the file names it, then `=`, then yours"));
            return Err(WrongMap { message: format!("the file names no {word} `{theirs}`"), remedy });
        }
        let known = kind.ours(book);
        if !known.iter().any(|(id, _)| *id == ours) {
            let remedy = offer(ours, known.iter().map(|(id, _)| *id), &format!("write the id of a {word} of your book behind the `=`"));
            return Err(WrongMap { message: format!("this book has no {word} `{ours}`"), remedy });
        }
        self.0.insert((kind, theirs.to_owned()), ours.to_owned());
        Ok(())
    }

    /// What a name is called here: as there, unless it is mapped.
    #[must_use]
    pub fn here<'n>(&'n self, kind: Kind, theirs: &'n str) -> &'n str {
        self.0.get(&(kind, theirs.to_owned())).map_or(theirs, String::as_str)
    }

    /// Whether a name is mapped.
    #[must_use]
    pub fn has(&self, kind: Kind, theirs: &str) -> bool {
        self.0.contains_key(&(kind, theirs.to_owned()))
    }

    /// Names of a kind that are called otherwise here, of those in `named`.
    #[must_use]
    pub fn of<'n>(&self, kind: Kind, named: impl IntoIterator<Item = &'n str>) -> BTreeMap<String, String> {
        let pairs = named.into_iter().map(|theirs| (theirs, self.here(kind, theirs)));
        pairs.filter(|(theirs, ours)| theirs != ours).map(|(theirs, ours)| (theirs.to_owned(), ours.to_owned())).collect()
    }
}

/// A system or a meter that this book does not have, and that may be called otherwise here.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unsettled {
    pub kind: Kind,
    pub id: String,
    pub title: String,
}

/// Systems and meters of the file that the book has not and no map names.
#[must_use]
pub fn unsettled(held: &Held, book: &Book, maps: &Maps) -> Vec<Unsettled> {
    let systems = held.systems.iter().map(|one| (Kind::System, &one.id, &one.title));
    let meters = held.meters.iter().map(|one| (Kind::Meter, &one.id, &one.title));
    let all = systems.chain(meters);
    let open = all.filter(|(kind, id, _)| !maps.has(*kind, id) && !kind.ours(book).iter().any(|(ours, _)| ours == id));
    open.map(|(kind, id, title)| Unsettled { kind, id: id.clone(), title: title.clone() }).collect()
}
