//! Near names for what leads nowhere, over the whole book.
//!
//! A book may name ten thousand things that it does not have, and each could be compared with as many that it has. So
//! the checks run once without near names and note what they would look up; then these names are looked up in the
//! order of the book, as long as that takes no time to speak of, and the files for which something was found are
//! checked again. Which names these are hangs on the book alone, not on which thread came first.

use crate::book::diagnostic::{Notes, Severity};
use crate::book::near::Known;
use crate::book::source::Span;
use rayon::prelude::*;
use std::collections::{BTreeSet, HashMap, HashSet};
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

/// Most work that is done for near names, about half a second of it: a million comparisons. Where that is not enough, the
/// names are not mistyped, but something is missing.
pub(super) const MOST_WORK: u64 = 50_000_000;
/// So many names are looked up at once.
const AT_ONCE: usize = 64;

/// What a name should be that of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(in crate::book) enum Kind {
    System,
    Meter,
    Gear,
    Job,
    Occasion,
    Hazard,
    Store,
    Tool,
    Entry,
    Picture,
    File,
}

impl Kind {
    /// How much it matters where such a name leads nowhere: plain words stand beside the ids of stores and tools, and a
    /// link is no more than a way.
    fn severity(self) -> Severity {
        match self {
            Self::Store | Self::Tool | Self::File => Severity::Warning,
            Self::System | Self::Meter | Self::Gear | Self::Job | Self::Occasion | Self::Hazard | Self::Entry | Self::Picture => {
                Severity::Error
            }
        }
    }
}

/// A name that leads nowhere, in the order of the book.
#[derive(Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Miss {
    file: Arc<str>,
    at: u32,
    kind: Kind,
    typed: String,
}

/// Names that were missed, and what was found for them.
#[derive(Debug, Default)]
pub(super) struct Near<'b> {
    missed: Mutex<BTreeSet<Miss>>,
    found: OnceLock<HashMap<(Kind, String), &'b str>>,
}

impl<'b> Near<'b> {
    /// The known name nearest to one that leads nowhere; while the book is checked for the first time, none.
    pub fn to(&self, notes: &Notes<'_>, span: Span, kind: Kind, typed: &str) -> Option<&'b str> {
        if let Some(found) = self.found.get() {
            return found.get(&(kind, typed.to_owned())).copied();
        }
        if !notes.is_full(kind.severity()) {
            let miss = Miss { file: notes.source().shared_path(), at: span.start, kind, typed: typed.to_owned() };
            self.missed.lock().unwrap_or_else(PoisonError::into_inner).insert(miss);
        }
        None
    }

    /// Looks up what was missed, among the names of each kind. Returns the files of which something was found.
    pub fn look_up<N: Iterator<Item = &'b str>>(&self, names: impl Fn(Kind) -> N, most_work: u64) -> HashSet<Arc<str>> {
        let missed = std::mem::take(&mut *self.missed.lock().unwrap_or_else(PoisonError::into_inner));
        let mut seen: HashSet<(Kind, &str)> = HashSet::new();
        let all = missed.iter().map(|miss| (miss.kind, miss.typed.as_str()));
        let wanted: Vec<(Kind, &str)> = all.filter(|miss| seen.insert(*miss)).collect();
        let kinds: BTreeSet<Kind> = wanted.iter().map(|(kind, _)| *kind).collect();
        let known: HashMap<Kind, Known<'b>> = kinds.into_iter().map(|kind| (kind, Known::of(names(kind)))).collect();
        let found = found(&wanted, &known, most_work);
        let files = missed.into_iter().filter(|miss| found.contains_key(&(miss.kind, miss.typed.clone()))).map(|miss| miss.file).collect();
        // The checks that ask are over, so nobody else has set it.
        let _ = self.found.set(found);
        files
    }
}

/// The nearest of the known names to each that is wanted, from the first on until enough work was done.
fn found<'b>(wanted: &[(Kind, &str)], known: &HashMap<Kind, Known<'b>>, most_work: u64) -> HashMap<(Kind, String), &'b str> {
    let mut found = HashMap::new();
    let mut done = 0;
    for some in wanted.chunks(AT_ONCE) {
        if done >= most_work {
            break;
        }
        let looked_up: Vec<_> =
            some.par_iter().filter_map(|(kind, typed)| known.get(kind).map(|known| (*kind, *typed, known.nearest(typed)))).collect();
        for (kind, typed, (near, work)) in looked_up {
            done += work;
            found.extend(near.map(|near| ((kind, typed.to_owned()), near)));
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_looked_up_from_the_first_on_until_enough_work_was_done() {
        let stores: Vec<String> = (0..1_000).map(|number| format!("store-{number:04}")).collect();
        let known = HashMap::from([(Kind::Store, Known::of(stores.iter().map(String::as_str)))]);
        let typed: Vec<String> = (0..1_000).map(|number| format!("stoer-{number:04}")).collect();
        let wanted: Vec<(Kind, &str)> = typed.iter().map(|typed| (Kind::Store, typed.as_str())).collect();
        let all = found(&wanted, &known, u64::MAX);
        assert_eq!(all.len(), 1_000);
        assert_eq!(all.get(&(Kind::Store, "stoer-0500".to_owned())), Some(&"store-0500"));
        // Any work at all is once as much as is done at once.
        let few = found(&wanted, &known, 1);
        assert_eq!(few.len(), AT_ONCE);
        assert!(wanted[..AT_ONCE].iter().all(|(kind, typed)| few.contains_key(&(*kind, (*typed).to_owned()))), "{few:?}");
        assert_eq!(found(&wanted, &known, 0).len(), 0);
    }
}
