//! What receiving a file would do to this book: which guides come in, under which names, with which records
//! and pictures; what is there already; what is refused, and why.

use super::hidden::shown;
use super::names::{Kind, Maps};
use super::plan_guide::{Ready, Receiving};
use super::plan_lists::lists;
use super::provenance::without;
use super::read::cut;
use super::records::List;
use super::text::{self, few, told};
use crate::book::check::check;
use crate::book::diagnostic::{Diagnostic, Severity};
use crate::book::id::{check_id, id_of};
use crate::book::load::{Loaded, guide_of};
use crate::book::model::Guide;
use crate::book::source::Source;
use crate::enter::shortened;
use crate::share::hold::{self, Held};
use jiff::civil::Date;
use std::collections::{BTreeMap, BTreeSet, HashMap};

/// The longest id that is made for a guide, without a number behind it, in bytes.
const LONGEST_ID: usize = 90;

/// What was asked for.
#[derive(Debug)]
pub struct Wish<'w> {
    pub on: Date,
    pub maps: &'w Maps,
    /// A guide that is here already becomes a revision beside it.
    pub revise: bool,
}

/// What would be done.
#[derive(Debug, Default, PartialEq, Eq)]
pub struct Receipt {
    pub guides: Vec<Taken>,
    /// Guides that this book has word for word, with their files.
    pub already: Vec<(String, String)>,
    /// What is not taken, with the reasons.
    pub refused: Vec<Refused>,
    pub records: Vec<RecordFate>,
    /// New files, pictures first: their path in the book, and what they hold.
    pub files: Vec<NewFile>,
    /// Lists that grow.
    pub lists: Vec<Growth>,
    /// What the book would say of the guides: nothing that keeps them out.
    pub warnings: Vec<Diagnostic>,
}

/// A guide that comes in.
#[derive(Debug, PartialEq, Eq)]
pub struct Taken {
    pub title: String,
    /// Its id there.
    pub theirs: String,
    pub id: String,
    pub system: String,
    pub stages: usize,
    pub steps: usize,
    pub hazards: Vec<String>,
    /// Torques, values and readings.
    pub figures: usize,
    pub pictures: usize,
    pub licence: Option<String>,
    /// The guide here that it is a revision of, with what differs.
    pub revises: Option<(String, Vec<String>)>,
}

/// What is not taken.
#[derive(Debug, PartialEq, Eq)]
pub struct Refused {
    pub what: String,
    pub why: Vec<String>,
}

/// What becomes of a record.
#[derive(Debug, PartialEq, Eq)]
pub struct RecordFate {
    pub list: List,
    pub id: String,
    pub title: String,
    pub fate: Fate,
}

#[derive(Debug, PartialEq, Eq)]
pub enum Fate {
    /// It comes in, perhaps under another id.
    Added(String),
    /// This book has the same thing under the id, and keeps it as it is; its title here.
    Ours(String),
    /// This book has another thing under the id, whose title this is; hers comes in under an id of its own.
    Beside { ours: String, id: String },
    /// It is called otherwise here.
    Mapped(String),
    /// The file that it belongs to takes no more, and why; the line that would be added.
    Words { why: String, line: String },
}

impl Fate {
    /// Whether nothing is to be looked at: it is new here, and under its own name.
    #[must_use]
    pub fn is_plain(&self, id: &str) -> bool {
        matches!(self, Self::Added(here) if here == id)
    }

    /// The id under which it comes in.
    pub(super) fn added(&self) -> Option<&str> {
        match self {
            Self::Added(id) | Self::Beside { id, .. } => Some(id),
            _ => None,
        }
    }
}

/// A file that is new to the book.
#[derive(Debug, PartialEq, Eq)]
pub struct NewFile {
    pub folder: String,
    pub name: String,
    pub bytes: Vec<u8>,
}

impl NewFile {
    /// Its path in the book.
    #[must_use]
    pub fn path(&self) -> String {
        format!("{}/{}", self.folder, self.name)
    }
}

/// A list of the book before and after.
#[derive(Debug, PartialEq, Eq)]
pub struct Growth {
    pub file: &'static str,
    /// `None`: there is no such file yet.
    pub old: Option<String>,
    pub new: String,
}

/// Lists that cannot be written to, with the reason.
pub type Locked = BTreeMap<List, String>;

/// Says what receiving `held` would do to the book.
#[must_use]
pub fn plan(held: &Held, loaded: &mut Loaded, wish: &Wish<'_>, locked: &Locked) -> Receipt {
    let mut receipt = Receipt::default();
    let names = lists(held, &loaded.book, wish, locked, &mut receipt);
    let incoming = guides(held, loaded, wish, &mut receipt);
    let receiving = Receiving::of(held, &loaded.book, wish, &incoming.renamed, &names);
    let mut all: Vec<Ready> = Vec::new();
    for one in &incoming.read {
        match receiving.ready(one) {
            Ok(ready) => all.push(ready),
            Err(why) => receipt.refused.push(Refused { what: format!("the guide `{}`", shown(&cut(&one.held.id))), why }),
        }
    }
    receipt.warnings = problems_of(loaded, &mut all, &mut receipt);
    let mut texts = Vec::new();
    for Ready { guide, pictures, text } in all {
        receipt.guides.push(guide);
        receipt.files.extend(pictures);
        texts.push(text);
    }
    receipt.files.extend(texts);
    if receipt.guides.is_empty() {
        // Records without the guides that name them are of no use.
        receipt.lists.clear();
        receipt.records.clear();
    }
    receipt
}

/// `oil-from-tern`, `oil-from-tern-2` …
pub(super) fn with_source<'n>(stem: &'n str, held: &Held) -> impl Iterator<Item = String> + 'n {
    let boat = boat_id(held);
    (1_u32..).map(move |number| if number == 1 { format!("{stem}-from-{boat}") } else { format!("{stem}-from-{boat}-{number}") })
}

fn boat_id(held: &Held) -> String {
    let id = id_of(&held.from.boat);
    if id.is_empty() { "another-boat".to_owned() } else { shortened(&id, 24).trim_end_matches('-').to_owned() }
}

struct Incoming<'h> {
    read: Vec<Candidate<'h>>,
    /// Ids there to ids here, of those that differ.
    renamed: BTreeMap<String, String>,
}

/// A guide that can be read and has a name here.
pub(super) struct Candidate<'h> {
    pub(super) held: &'h hold::Guide,
    pub(super) text: text::Read,
    pub(super) id: String,
    pub(super) system: String,
    pub(super) revises: Option<String>,
}

/// Reads every guide and finds it a name.
fn guides<'h>(held: &'h Held, loaded: &Loaded, wish: &Wish<'_>, receipt: &mut Receipt) -> Incoming<'h> {
    let book = &loaded.book;
    let here: BTreeMap<String, &Guide> = book.guides.iter().map(|guide| (without(guide.source.text()), guide)).collect();
    let mut taken = taken_names(loaded);
    let mut incoming = Incoming { read: Vec::new(), renamed: BTreeMap::new() };
    let mut theirs: BTreeSet<String> = BTreeSet::new();
    for one in &held.guides {
        let mut refuse = |why: Vec<String>| receipt.refused.push(Refused { what: format!("the guide `{}`", shown(&cut(&one.id))), why });
        let wrong = [("id", &one.id), ("system", &one.system)].into_iter().find(|(_, id)| id_of(id) != **id || check_id(id).is_err());
        if let Some((what, id)) = wrong {
            refuse(vec![format!("its {what} `{}` is not an id", shown(&cut(id)))]);
            continue;
        }
        if !theirs.insert(one.id.clone()) {
            refuse(vec!["the file holds another guide of this id".to_owned()]);
            continue;
        }
        if let Some(ours) = here.get(one.text.as_str()) {
            receipt.already.push((one.id.clone(), ours.source.path().to_owned()));
            if ours.id != one.id {
                incoming.renamed.insert(one.id.clone(), ours.id.clone());
            }
            continue;
        }
        let text = match text::read(one) {
            Ok(text) => text,
            Err(why) => {
                refuse(why);
                continue;
            }
        };
        let system = wish.maps.here(Kind::System, &one.system).to_owned();
        let revises = book.guide(&one.id).filter(|_| wish.revise).map(|ours| ours.id.clone());
        let stem = shortened(&one.id, 60);
        let id = match &revises {
            Some(_) => {
                let day = text.guide.revised.unwrap_or(wish.on);
                let stem = format!("{stem}-revision-{day}");
                let mut names = (1_u32..).map(|number| if number == 1 { stem.clone() } else { format!("{stem}-{number}") });
                names.find(|name| !taken.contains(name))
            }
            None => std::iter::once(one.id.clone()).chain(with_source(stem, held)).find(|name| !taken.contains(name)),
        };
        let Some(id) = id.filter(|id| id.len() <= LONGEST_ID + 10 && check_id(id).is_ok()) else {
            refuse(vec!["no id is free for it".to_owned()]);
            continue;
        };
        taken.insert(id.clone());
        if id != one.id {
            incoming.renamed.insert(one.id.clone(), id.clone());
        }
        incoming.read.push(Candidate { held: one, text, id, system, revises });
    }
    incoming
}

/// Ids that a new guide may not have: of guides and what they were called, readable or not, and of folders.
fn taken_names(loaded: &Loaded) -> BTreeSet<String> {
    let book = &loaded.book;
    let mut taken: BTreeSet<String> = book.guides.iter().flat_map(|guide| &guide.formerly).map(|name| name.value.clone()).collect();
    let others = book.files.keys().chain(&loaded.broken).map(String::as_str);
    for path in book.sources.keys().map(|path| &**path).chain(others) {
        if let ["guides", _, name, ..] = path.split('/').collect::<Vec<_>>().as_slice() {
            taken.insert(id_of(name.strip_suffix(".md").unwrap_or(name)));
        }
    }
    taken
}

/// Holds the guides against the whole book as it would be: those that bring errors are refused; what is
/// left to say of the others is returned.
fn problems_of(loaded: &mut Loaded, all: &mut Vec<Ready>, receipt: &mut Receipt) -> Vec<Diagnostic> {
    let book = &mut loaded.book;
    for growth in &receipt.lists {
        crate::book::load::read_list_again(book, &Source::new(growth.file, growth.new.as_str()));
    }
    let mut paths = BTreeSet::new();
    for Ready { pictures, text, .. } in all.iter() {
        for picture in pictures {
            book.files.insert(picture.path(), picture.bytes.len() as u64);
        }
        let path = text.path();
        let source = Source::new(&path, String::from_utf8_lossy(&text.bytes).into_owned());
        if let (Some(guide), _) = guide_of(&source) {
            let place = book.guides.partition_point(|known| known.id < guide.id);
            book.guides.insert(place, guide);
            book.sources.insert(source.shared_path(), source);
            paths.insert(path);
        }
    }
    let problems: Vec<Diagnostic> = check(book, &loaded.broken).into_iter().filter(|problem| paths.contains(&problem.place.file)).collect();
    let mut errors: HashMap<&str, Vec<&Diagnostic>> = HashMap::new();
    for problem in problems.iter().filter(|problem| problem.severity == Severity::Error) {
        errors.entry(&problem.place.file).or_default().push(problem);
    }
    all.retain(|Ready { guide, text, .. }| {
        let Some(errors) = errors.get(text.path().as_str()) else { return true };
        let why = as_sent(errors, &text.bytes);
        receipt.refused.push(Refused { what: format!("the guide `{}`", guide.theirs), why: few(why) });
        false
    });
    let kept: BTreeSet<String> = all.iter().map(|ready| ready.text.path()).collect();
    problems.into_iter().filter(|problem| kept.contains(&problem.place.file)).collect()
}

/// Problems at their lines in the text as it was sent: one line less behind the key that was put in.
fn as_sent(problems: &[&Diagnostic], text: &[u8]) -> Vec<String> {
    let text = String::from_utf8_lossy(text);
    let key = text.lines().position(|line| line.trim_start().starts_with("received: {")).map_or(usize::MAX, |at| at + 1);
    let sent = problems.iter().map(|problem| {
        let mut problem = (*problem).clone();
        if problem.place.line > key {
            problem.place.line -= 1;
        }
        told(&problem)
    });
    sent.collect()
}
