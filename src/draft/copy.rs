//! A new guide from another one: its text with another title, without what belongs to the old one.
//!
//! Steps, figures, parts and cautions stay as they are written. The day of checking, earlier names and
//! jobs covered go, for they are of the other guide.

use super::skeleton::Words;
use super::{NoDraft, Wish};
use crate::book::diagnostic::Notes;
use crate::book::front_matter;
use crate::book::model::{Guide, Hazard};
use crate::book::node::{self, Kind};
use crate::book::quoted::quoted;
use std::ops::Range;

/// Keys that say something of the old guide alone; `revised` is set anew.
const DROPPED: [&str; 4] = ["checked", "revised", "formerly", "covers"];

/// The text of the new guide.
///
/// # Errors
/// The front matter is not written one key a line.
pub fn copy(guide: &Guide, title: &str, wish: Wish<'_>, suggested: &[&Hazard], words: &Words) -> Result<String, NoDraft> {
    let text = guide.source.text();
    let mut notes = Notes::new(&guide.source);
    let parts = front_matter::split(&mut notes).ok_or_else(|| cannot(&guide.id))?;
    let node = node::read(&mut notes, parts.yaml).ok_or_else(|| cannot(&guide.id))?;
    let Kind::Map(pairs) = &node.kind else { return Err(cannot(&guide.id)) };
    let line_end = if text.contains("\r\n") { "\r\n" } else { "\n" };

    let mut changes: Vec<(Range<usize>, String)> = Vec::new();
    for (at, (key, value)) in pairs.iter().enumerate() {
        let start = key.span.start as usize;
        if !text.get(..start).is_some_and(|before| before.ends_with('\n')) {
            return Err(cannot(&guide.id));
        }
        let end = pairs.get(at + 1).map_or(parts.yaml.end, |(next, _)| next.span.start) as usize;
        let own = start..start + own_lines(text.get(start..end).unwrap_or_default());
        if key.text == "title" {
            changes.push((value.span.range(), quoted(title)));
        } else if DROPPED.contains(&key.text.as_ref()) {
            changes.push((own, String::new()));
        }
    }
    let head = head(guide, suggested, words, line_end);
    let yaml_start = parts.yaml.start as usize;
    changes.push((yaml_start..yaml_start, head));
    let yaml_end = parts.yaml.end as usize;
    changes.push((yaml_end..yaml_end, format!("revised: {}{line_end}", wish.on)));
    let body = parts.body.start as usize;
    changes.push((body..body, format!("{}{line_end}{line_end}", words.copied_prose)));
    if wish.system != guide.system {
        changes.extend(moved_targets(guide));
    }
    Ok(changed(text, changes))
}

fn cannot(id: &str) -> NoDraft {
    NoDraft {
        message: format!("the front matter of `{id}` is not written one key a line, so it cannot be taken over"),
        remedy: "draft it without `--from`, and copy what you need by hand".to_owned(),
    }
}

fn head(guide: &Guide, suggested: &[&Hazard], words: &Words, line_end: &str) -> String {
    let mut head = words.copied.replace("GUIDE", &guide.id);
    let missing = suggested.iter().filter(|hazard| !guide.hazards.iter().any(|known| known.value == hazard.id));
    let missing: Vec<&str> = missing.map(|hazard| hazard.id.as_str()).collect();
    if !missing.is_empty() {
        head = format!("{head}\n{}\n# {}", words.copied_hazards, missing.join(" "));
    }
    head.lines().map(|line| line.to_owned() + line_end).collect()
}

/// The length of a key with its value: what follows it of blank lines and comments at the margin belongs
/// to the next key.
fn own_lines(text: &str) -> usize {
    let mut own = 0;
    let mut at = 0;
    for line in text.split_inclusive('\n') {
        at += line.len();
        if !line.trim().is_empty() && !line.starts_with('#') {
            own = at;
        }
    }
    own
}

/// Pictures and links that are written from beside the old guide, written from another system's folder.
fn moved_targets(guide: &Guide) -> Vec<(Range<usize>, String)> {
    let pictures = guide.outline.pictures.iter().map(|picture| &picture.path);
    let targets = pictures.chain(guide.outline.links.iter().map(|link| &link.target));
    let beside = |target: &str| !target.is_empty() && !target.starts_with(['#', '/', '\\', '.']) && !target.contains(':');
    targets
        .filter(|target| beside(&target.value))
        // Where the target is written otherwise than it reads, its place is the whole link: it stays, and a
        // survey tells of it.
        .filter(|target| guide.source.slice(target.span) == target.value)
        .map(|target| (target.span.start as usize..target.span.start as usize, format!("../{}/", guide.system)))
        .collect()
}

/// The text with its changes, which do not overlap; of two at one place the first comes first.
fn changed(text: &str, mut changes: Vec<(Range<usize>, String)>) -> String {
    changes.sort_by_key(|(range, _)| range.start);
    let mut new = String::with_capacity(text.len() + 500);
    let mut done = 0;
    for (range, words) in changes {
        new.push_str(text.get(done..range.start).unwrap_or_default());
        new.push_str(&words);
        done = done.max(range.end);
    }
    new.push_str(text.get(done..).unwrap_or_default());
    new
}
