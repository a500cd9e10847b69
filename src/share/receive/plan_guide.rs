//! One guide of a received file, as it would be written: its text with where it came from, and its pictures.

use super::difference::difference;
use super::hidden::shown;
use super::names::Kind;
use super::picture;
use super::plan::{Candidate, NewFile, Taken, Wish};
use super::plan_lists::Renamed;
use super::provenance::{Provenance, with, without};
use super::read::wrong_words;
use super::text::{few, told};
use crate::book::check::{Target, resolve};
use crate::book::diagnostic::Severity;
use crate::book::load::guide_of;
use crate::book::model::{Book, RuleBy};
use crate::book::source::Source;
use crate::share::hold::Held;
use std::collections::{BTreeMap, BTreeSet, HashMap};

/// A guide that could be written.
pub(super) struct Ready {
    pub(super) guide: Taken,
    pub(super) pictures: Vec<NewFile>,
    pub(super) text: NewFile,
}

/// What guides are made ready with.
pub(super) struct Receiving<'r> {
    held: &'r Held,
    book: &'r Book,
    wish: &'r Wish<'r>,
    /// Ids of guides there to ids here, of those that differ.
    renamed: &'r BTreeMap<String, String>,
    names: &'r Renamed,
    pictures: ByPath<'r>,
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

impl<'r> Receiving<'r> {
    pub(super) fn of(
        held: &'r Held,
        book: &'r Book,
        wish: &'r Wish<'r>,
        renamed: &'r BTreeMap<String, String>,
        names: &'r Renamed,
    ) -> Self {
        Self { held, book, wish, renamed, names, pictures: by_path(held) }
    }

    /// One guide with its pictures, as they would be written; else why it is refused.
    pub(super) fn ready(&self, one: &Candidate<'_>) -> Result<Ready, Vec<String>> {
        let guide = &one.text.guide;
        let pictures = self.pictures_of(one)?;
        let text = with(&one.held.text, &self.provenance(one))
            .ok_or_else(|| vec!["its front matter takes no further line: it stands in braces".to_owned()])?;
        let path = format!("guides/{}/{}.md", one.system, one.id);
        // The whole text once more, as this book will read it.
        let (read, problems) = guide_of(&Source::new(&path, text.as_str()));
        let errors: Vec<String> = problems.iter().filter(|problem| problem.severity == Severity::Error).map(told).collect();
        if read.is_none() || !errors.is_empty() {
            return Err(few(errors));
        }
        let ours = one.revises.as_ref().and_then(|id| self.book.guide(id));
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
            licence: guide.licence.clone().or_else(|| self.held.licence.clone()),
            revises: ours.map(|ours| (ours.id.clone(), difference(&without(ours.source.text()), &one.held.text))),
        };
        let text = NewFile { folder: format!("guides/{}", one.system), name: format!("{}.md", one.id), bytes: text.into_bytes() };
        Ok(Ready { guide: taken, pictures, text })
    }

    /// The pictures of a guide, each written anew.
    fn pictures_of(&self, one: &Candidate<'_>) -> Result<Vec<NewFile>, Vec<String>> {
        let mut files = Vec::new();
        let mut wrong = Vec::new();
        let mut folded = BTreeSet::new();
        for name in &one.text.pictures {
            let path = format!("guides/{}/{}/{name}", one.held.system, one.held.id);
            let shown_name = shown(name);
            match self.pictures.get(path.as_str()) {
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
    fn provenance<'a>(&'a self, one: &'a Candidate<'_>) -> Provenance<'a> {
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
        let title = self.held.systems.iter().find(|system| system.id == one.held.system).map(|system| system.title.as_str());
        Provenance {
            from: &self.held.from.boat,
            on: self.wish.on,
            checked: guide.checked,
            licence: self.held.licence.as_deref().filter(|_| guide.licence.is_none()),
            system: title.filter(|title| wrong_words(title).is_none() && self.book.boat.system(&one.system).is_none()),
            revises: one.revises.as_deref(),
            systems: self.wish.maps.of(Kind::System, systems.iter().map(String::as_str)),
            meters: self.wish.maps.of(Kind::Meter, meters),
            items: self
                .wish
                .maps
                .of(Kind::Item, items.iter().copied())
                .into_iter()
                .chain(picked(&self.names.items, &|id| items.contains(id)))
                .collect(),
            cautions: picked(&self.names.cautions, &|id| hazards.contains(id)),
            guides: picked(self.renamed, &|id| guides.contains(id)),
        }
    }
}
