//! The text of a guide of another boat: taken as it is, or refused with the place and the reason.

use super::hidden::{self, Found, Ground, is_foreign_digit, shown};
use super::provenance::KEY;
use crate::book::check::{Target, resolve};
use crate::book::diagnostic::{Diagnostic, Notes, Severity};
use crate::book::front_matter;
use crate::book::load::guide_of;
use crate::book::markdown;
use crate::book::model::Guide;
use crate::book::source::{Source, Span};
use crate::share::hold;
use pulldown_cmark::{Event, Tag};
use std::collections::BTreeSet;

/// A guide as another boat wrote it, with the names of the pictures of its own folder.
#[derive(Debug)]
pub struct Read {
    pub guide: Guide,
    pub pictures: BTreeSet<String>,
}

/// The most links, pictures and names that a guide may hold: each is looked for in the whole book.
const MOST_NAMED: usize = 1_000;
/// The most problems that are told of one guide.
const MOST_TOLD: usize = 20;

/// Reads the text of a guide.
///
/// # Errors
/// Each reason why it is not taken, with its line: what the format refuses, raw HTML, links that no page
/// may follow, pictures from elsewhere, and characters that are not seen.
pub fn read(held: &hold::Guide) -> Result<Read, Vec<String>> {
    let source = Source::new(format!("guides/{}/{}.md", held.system, held.id), held.text.as_str());
    let mut found = hidden_characters(&source);
    if !found.is_empty() {
        return Err(found);
    }
    let (guide, problems) = guide_of(&source);
    found.extend(problems.iter().filter(|problem| problem.severity == Severity::Error).map(told));
    let Some(guide) = guide else { return Err(few(found)) };
    if guide.received.is_some() {
        found.push(format!("it has the key `{KEY}` already, which only this boat gives it"));
    }
    if named(&guide) > MOST_NAMED {
        found.push(format!("it names more than {MOST_NAMED} things"));
        return Err(few(found));
    }
    let mut pictures = BTreeSet::new();
    for (event, range) in markdown::parse(source.text(), guide.body) {
        let span = Span::new(range.start, range.end);
        let problem = match &event {
            Event::Html(_) | Event::InlineHtml(_) => Some("it holds HTML, and a guide is Markdown alone".to_owned()),
            Event::Start(Tag::Link { dest_url, .. }) => wrong_link(held, dest_url),
            Event::Start(Tag::Image { dest_url, .. }) => match own_picture(held, dest_url) {
                Ok(name) => {
                    pictures.insert(name);
                    None
                }
                Err(why) => Some(why),
            },
            _ => None,
        };
        found.extend(problem.map(|why| at(&source, span, &why)));
    }
    if found.is_empty() { Ok(Read { guide, pictures }) } else { Err(few(found)) }
}

/// How many things of the book a guide names.
fn named(guide: &Guide) -> usize {
    let marks = guide.outline.stages.iter().flat_map(|stage| &stage.steps).map(|step| step.marks.len()).sum::<usize>();
    let names = [&guide.for_gear, &guide.occasions, &guide.covers, &guide.formerly, &guide.hazards, &guide.tools]
        .map(Vec::len)
        .iter()
        .sum::<usize>();
    marks
        + names
        + guide.parts.len()
        + guide.every.len()
        + guide.first.len()
        + guide.outline.loose_marks.len()
        + guide.outline.links.len()
        + guide.outline.pictures.len()
}

/// The first of what is wrong, and how much more there is.
pub(super) fn few(mut found: Vec<String>) -> Vec<String> {
    found.dedup();
    if found.len() > MOST_TOLD {
        let more = found.len() - MOST_TOLD;
        found.truncate(MOST_TOLD);
        found.push(format!("and {more} more"));
    }
    found
}

/// A problem in one line.
pub(super) fn told(problem: &Diagnostic) -> String {
    format!("line {}: {}", problem.place.line, shown(&problem.message))
}

fn at(source: &Source, span: Span, why: &str) -> String {
    format!("line {}: {}", source.place(span).line, shown(why))
}

fn hidden_characters(source: &Source) -> Vec<String> {
    let text = source.text();
    let mut notes = Notes::new(source);
    let body = front_matter::split(&mut notes).map_or(text.len(), |parts| parts.body.start as usize);
    let (front, prose) = text.split_at_checked(body).unwrap_or((text, ""));
    let in_front = hidden::first(front, Ground::Names);
    let in_prose = hidden::first(prose, Ground::Prose).map(|found| Found { at: found.at + body, ..found });
    // A mark in braces holds figures.
    let mut depth = 0_usize;
    let in_mark = prose.char_indices().find_map(|(at, character)| {
        match character {
            '{' => depth += 1,
            '}' => depth = depth.saturating_sub(1),
            _ if depth > 0 && is_foreign_digit(character) => return Some(Found { at: at + body, character }),
            _ => {}
        }
        None
    });
    let all = [in_front, in_prose, in_mark].into_iter().flatten();
    all.map(|found| at(source, Span::new(found.at, found.at + found.character.len_utf8()), &format!("it holds {}", found.what()))).collect()
}

fn wrong_link(held: &hold::Guide, target: &str) -> Option<String> {
    match resolve(&format!("guides/{}", held.system), target) {
        Target::Refused => Some(format!("`{target}` is not a kind of link that pages follow")),
        Target::Outside => Some(format!("`{target}` leads out of the book")),
        Target::Inside { .. } | Target::Web | Target::Fragment(_) => None,
    }
}

/// The name of a picture that stands in the guide's own folder.
fn own_picture(held: &hold::Guide, target: &str) -> Result<String, String> {
    let folder = format!("guides/{}/{}/", held.system, held.id);
    let name = match resolve(&format!("guides/{}", held.system), target) {
        Target::Inside { path, .. } => path.strip_prefix(&folder).filter(|name| !name.contains('/')).map(str::to_owned),
        _ => None,
    };
    let name = name.ok_or_else(|| format!("`{target}` is no picture of this guide's own folder"))?;
    match super::picture::wrong_name(&name) {
        Some(why) => Err(format!("`{target}` is not taken: {why}")),
        None => Ok(name),
    }
}
