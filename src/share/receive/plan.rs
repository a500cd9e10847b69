//! What receiving a file would do to this book: which guides come in, under which names, with which records
//! and pictures; what is there already; what is refused, and why.

use super::difference::difference;
use super::hidden::shown;
use super::names::{Kind, Maps};
use super::picture;
use super::plan_lists::{Renamed, lists};
use super::provenance::{Provenance, with, without};
use super::read::{cut, wrong_words};
use super::records::List;
use super::text::{self, few, told};
use crate::book::check::{Target, check, resolve};
use crate::book::diagnostic::{Diagnostic, Severity};
use crate::book::id::{check_id, id_of};
use crate::book::load::{Loaded, guide_of};
use crate::book::model::{Guide, RuleBy};
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
    let pictures = by_path(held);
    let renamed: BTreeMap<String, String> = incoming.renamed;
    let mut taken: Vec<(Taken, Vec<NewFile>, NewFile)> = Vec::new();
    for one in incoming.read {
        let name = format!("the guide `{}`", shown(&cut(&one.held.id)));
        match guide(held, loaded, wish, &one, &renamed, &names, &pictures) {
            Ok(good) => taken.push(good),
            Err(why) => receipt.refused.push(Refused { what: name, why }),
        }
    }
    let problems = problems_of(loaded, &mut taken, &mut receipt);
    receipt.warnings = problems;
    let mut texts = Vec::new();
    for (guide, pictures, text) in taken {
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
struct Candidate<'h> {
    held: &'h hold::Guide,
    text: text::Read,
    id: String,
    system: String,
    revises: Option<String>,
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

/// One guide with its pictures, as they would be written.
fn guide(
    held: &Held,
    loaded: &Loaded,
    wish: &Wish<'_>,
    one: &Candidate<'_>,
    renamed: &BTreeMap<String, String>,
    names: &Renamed,
    pictures: &ByPath<'_>,
) -> Result<(Taken, Vec<NewFile>, NewFile), Vec<String>> {
    let guide = &one.text.guide;
    let pictures = anew(pictures, one)?;
    let text = with(&one.held.text, &provenance(held, loaded, wish, one, renamed, names))
        .ok_or_else(|| vec!["its front matter takes no further line: it stands in braces".to_owned()])?;
    let path = format!("guides/{}/{}.md", one.system, one.id);
    // The whole text once more, as this book will read it.
    let (read, problems) = guide_of(&Source::new(&path, text.as_str()));
    let errors: Vec<String> = problems.iter().filter(|problem| problem.severity == Severity::Error).map(told).collect();
    if read.is_none() || !errors.is_empty() {
        return Err(few(errors));
    }
    let ours = one.revises.as_ref().and_then(|id| loaded.book.guide(id));
    let taken = Taken {
        title: guide.title.clone(),
        theirs: one.held.id.clone(),
        id: one.id.clone(),
        system: one.system.clone(),
        stages: guide.outline.stages.len(),
        steps: guide.outline.stages.iter().map(|stage| stage.steps.len()).sum(),
        hazards: guide.hazards.iter().map(|name| name.value.clone()).collect(),
        figures: guide.torques.len() + guide.values.len() + guide.readings.len(),
        pictures: pictures.len(),
        licence: guide.licence.clone().or_else(|| held.licence.clone()),
        revises: ours.map(|ours| (ours.id.clone(), difference(&without(ours.source.text()), &one.held.text))),
    };
    let file = NewFile { folder: format!("guides/{}", one.system), name: format!("{}.md", one.id), bytes: text.into_bytes() };
    Ok((taken, pictures, file))
}

/// The pictures of a file by their paths; `None`: it holds two of one path.
type ByPath<'h> = HashMap<&'h str, Option<&'h [u8]>>;

fn by_path(held: &Held) -> ByPath<'_> {
    let mut pictures = HashMap::with_capacity(held.pictures.len());
    for picture in &held.pictures {
        pictures.entry(picture.path.as_str()).and_modify(|one| *one = None).or_insert(Some(picture.bytes.as_slice()));
    }
    pictures
}

/// The pictures of a guide, each written anew.
fn anew(pictures: &ByPath<'_>, one: &Candidate<'_>) -> Result<Vec<NewFile>, Vec<String>> {
    let mut files = Vec::new();
    let mut wrong = Vec::new();
    let mut folded = BTreeSet::new();
    for name in &one.text.pictures {
        let path = format!("guides/{}/{}/{name}", one.held.system, one.held.id);
        let shown_name = shown(name);
        match pictures.get(path.as_str()) {
            None => wrong.push(format!("its picture `{shown_name}` is not in the file")),
            Some(None) => wrong.push(format!("its picture `{shown_name}` stands in the file twice")),
            Some(Some(_)) if !folded.insert(name.to_lowercase()) => {
                wrong.push(format!("two of its pictures are called `{shown_name}` but for capitals"));
            }
            Some(Some(bytes)) => match picture::anew(name, bytes) {
                Ok(bytes) => files.push(NewFile { folder: format!("guides/{}/{}", one.system, one.id), name: name.clone(), bytes }),
                Err(why) => wrong.push(format!("its picture `{shown_name}`: {}", shown(&why))),
            },
        }
    }
    if wrong.is_empty() { Ok(files) } else { Err(few(wrong)) }
}

/// Where the guide came from, with only those names that it uses.
fn provenance<'h>(
    held: &'h Held,
    loaded: &Loaded,
    wish: &Wish<'_>,
    one: &'h Candidate<'_>,
    renamed: &BTreeMap<String, String>,
    names: &Renamed,
) -> Provenance<'h> {
    let guide = &one.text.guide;
    let mut systems: BTreeSet<String> = BTreeSet::from([one.held.system.clone()]);
    let mut guides: BTreeSet<String> = guide.covers.iter().map(|name| name.value.clone()).collect();
    guides.insert(one.held.id.clone());
    for link in &guide.outline.links {
        if let Target::Inside { path, .. } = resolve(&format!("guides/{}", one.held.system), &link.target.value)
            && let ["guides", system, name, ..] = path.split('/').collect::<Vec<_>>().as_slice()
        {
            systems.insert((*system).to_owned());
            guides.insert(name.strip_suffix(".md").unwrap_or(name).to_owned());
        }
    }
    let picked = |names: &BTreeMap<String, String>, used: &dyn Fn(&str) -> bool| -> BTreeMap<String, String> {
        names.iter().filter(|(theirs, _)| used(theirs)).map(|(theirs, ours)| (theirs.clone(), ours.clone())).collect()
    };
    let meters = guide.every.iter().chain(&guide.first).filter_map(|rule| match &rule.by {
        RuleBy::Meter { meter, .. } => Some(meter.as_str()),
        _ => None,
    });
    let items: BTreeSet<&str> = guide.parts.iter().map(|part| &part.item).chain(&guide.tools).map(|name| name.value.as_str()).collect();
    let hazards: BTreeSet<&str> = guide.hazards.iter().map(|name| name.value.as_str()).collect();
    let title = held.systems.iter().find(|system| system.id == one.held.system).map(|system| system.title.as_str());
    Provenance {
        from: &held.from.boat,
        on: wish.on,
        checked: guide.checked,
        licence: held.licence.as_deref().filter(|_| guide.licence.is_none()),
        system: title.filter(|title| wrong_words(title).is_none() && loaded.book.boat.system(&one.system).is_none()),
        revises: one.revises.as_deref(),
        systems: wish.maps.of(Kind::System, systems.iter().map(String::as_str)),
        meters: wish.maps.of(Kind::Meter, meters),
        items: wish.maps.of(Kind::Item, items.iter().copied()).into_iter().chain(picked(&names.items, &|id| items.contains(id))).collect(),
        cautions: picked(&names.cautions, &|id| hazards.contains(id)),
        guides: picked(renamed, &|id| guides.contains(id)),
    }
}

/// Holds the guides against the whole book as it would be: those that bring errors are refused; what is
/// left to say of the others is returned.
fn problems_of(loaded: &mut Loaded, taken: &mut Vec<(Taken, Vec<NewFile>, NewFile)>, receipt: &mut Receipt) -> Vec<Diagnostic> {
    let book = &mut loaded.book;
    let path_of = |file: &NewFile| format!("{}/{}", file.folder, file.name);
    for growth in &receipt.lists {
        crate::book::load::read_list_again(book, &Source::new(growth.file, growth.new.as_str()));
    }
    let mut paths = BTreeSet::new();
    for (_, pictures, text) in taken.iter() {
        for picture in pictures {
            book.files.insert(path_of(picture), picture.bytes.len() as u64);
        }
        let path = path_of(text);
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
    taken.retain(|(guide, _, text)| {
        let Some(errors) = errors.get(path_of(text).as_str()) else { return true };
        let why = as_sent(errors, &text.bytes);
        receipt.refused.push(Refused { what: format!("the guide `{}`", guide.theirs), why: few(why) });
        false
    });
    let kept: BTreeSet<String> = taken.iter().map(|(_, _, text)| path_of(text)).collect();
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
