//! Which guides the job names of a spreadsheet mean: by id or title, else as the crew decides.

use super::decisions::Decision;
use super::similar::likeness;
use crate::book::id::{id_of, key_of};
use crate::book::model::{Book, Guide};
use std::collections::{BTreeMap, HashMap};

/// From this likeness on a guide is suggested, else plain work.
const SUGGESTED: f64 = 0.5;
/// Most guides that are named beside the suggestion.
const MOST_OTHERS: usize = 3;

/// A name that nobody has decided on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Doubtful {
    pub name: String,
    pub suggestion: Decision,
    /// Other guides it may mean.
    pub others: Vec<String>,
    /// Line of the first row that has it, and how many have it.
    pub line: u64,
    pub rows: usize,
}

/// What every job name of a table means.
#[derive(Debug, Clone, Default)]
pub struct Names {
    meanings: HashMap<String, Decision>,
    /// In the order of the file.
    pub doubtful: Vec<Doubtful>,
}

impl Names {
    /// Looks names up: as decided, else as the id or title of a guide. `names` come with their lines.
    #[must_use]
    pub fn of<'t>(book: &Book, names: impl Iterator<Item = (u64, &'t str)>, decided: &BTreeMap<String, Decision>) -> Self {
        let titles = titles_of(book);
        let mut found = Self::default();
        let mut doubtful: HashMap<String, usize> = HashMap::new();
        for (line, name) in names {
            let name = one_line(name);
            if name.is_empty() || found.meanings.contains_key(&name) {
                continue;
            }
            if let Some(meaning) = decided.get(&name).cloned().or_else(|| exact(book, &titles, &name)) {
                found.meanings.insert(name, meaning);
            } else if let Some(known) = doubtful.get(&name).and_then(|at| found.doubtful.get_mut(*at)) {
                known.rows += 1;
            } else {
                doubtful.insert(name.clone(), found.doubtful.len());
                found.doubtful.push(suggested(book, name, line));
            }
        }
        found
    }

    /// Takes every suggestion as if it were decided, to show what would become of the rows.
    pub fn suppose(&mut self) {
        self.meanings.extend(self.doubtful.iter().map(|one| (one.name.clone(), one.suggestion.clone())));
    }

    /// What a name means; `None` where it is doubtful.
    #[must_use]
    pub fn meaning(&self, name: &str) -> Option<&Decision> {
        self.meanings.get(&one_line(name))
    }
}

/// Line breaks in a cell are blanks of a name.
pub(super) fn one_line(words: &str) -> String {
    words.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Guides by title; `None` where two have the same.
fn titles_of(book: &Book) -> HashMap<String, Option<&str>> {
    let mut titles: HashMap<String, Option<&str>> = HashMap::new();
    for guide in &book.guides {
        titles.entry(key_of(&guide.title)).and_modify(|known| *known = None).or_insert(Some(&guide.id));
    }
    titles
}

fn exact(book: &Book, titles: &HashMap<String, Option<&str>>, name: &str) -> Option<Decision> {
    let (guide, gear) = name.split_once('/').map_or((name, None), |(guide, gear)| (guide.trim(), Some(id_of(gear))));
    let by_title = titles.get(&key_of(name)).copied().flatten();
    if let Some(id) = by_title {
        return Some(Decision::Jobs(vec![id.to_owned()]));
    }
    let guide = book.guide_or_former(&id_of(guide))?;
    match gear {
        None => Some(Decision::Jobs(vec![guide.id.clone()])),
        Some(gear) if guide.for_gear.iter().any(|known| known.value == gear) => Some(Decision::Jobs(vec![format!("{}/{gear}", guide.id)])),
        Some(_) => None,
    }
}

fn suggested(book: &Book, name: String, line: u64) -> Doubtful {
    let score = |guide: &Guide| {
        let names = [guide.id.as_str(), guide.title.as_str()];
        names
            .into_iter()
            .chain(guide.formerly.iter().map(|former| former.value.as_str()))
            .map(|known| likeness(&name, known))
            .fold(0.0, f64::max)
    };
    let mut near: Vec<(f64, &str)> = book.guides.iter().map(|guide| (score(guide), guide.id.as_str())).collect();
    near.retain(|(score, _)| *score >= SUGGESTED);
    // Guides stand by id, and of equal ones the first stays first.
    near.sort_by(|a, b| b.0.total_cmp(&a.0));
    let mut near = near.into_iter().map(|(_, id)| id.to_owned());
    let suggestion = near.next().map_or(Decision::Work, |id| Decision::Jobs(vec![id]));
    Doubtful { name, suggestion, others: near.take(MOST_OTHERS).collect(), line, rows: 1 }
}
