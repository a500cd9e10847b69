//! Names and units of one entry.

use super::near::Kind;
use super::{Index, paths};
use crate::book::decode::entry::written_unit;
use crate::book::diagnostic::{Diagnostic, Notes, offered};
use crate::book::id::{id_of, key_of};
use crate::book::model::{Before, Entry, Guide, JobRef};
use crate::book::source::Name;
use crate::book::stages::titled;

pub(super) fn check(index: &Index<'_>, entry: &Entry) -> Vec<Diagnostic> {
    let mut notes = Notes::new(&entry.source);
    let guides: Vec<&Guide> = entry.jobs.iter().filter_map(|job| check_job(index, &mut notes, job)).collect();
    if let Some(system) = &entry.system {
        index.system(&mut notes, system);
    }
    for gear in entry.gear_touched() {
        index.gear(&mut notes, gear);
    }
    for renewal in &entry.fitted {
        let had_expiry = index.book.boat.gear(&renewal.gear.value).is_some_and(|gear| gear.expires.is_some());
        if had_expiry && renewal.expires.is_none() {
            notes.warning(
                "renewed-without-expiry",
                renewal.gear.span,
                format!("`{}` had an expiry date, and the new one has none here", renewal.gear.value),
                "write until when it is good: `expires: 2029-05`",
            );
        }
    }
    for value in &entry.meters {
        if let Some(unit) = index.meter(&mut notes, &value.meter)
            && let Some(written) = written_unit(&entry.source, value)
            && written != unit
        {
            notes.error(
                "unit",
                value.span,
                format!("the meter `{}` counts in {}, not in {}", value.meter.value, unit.symbol(), written.symbol()),
                "write what the counter shows, as a plain number",
            );
        }
    }
    for part in &entry.parts {
        // Units that disagree are told where the stock is reckoned.
        index.part_name(&mut notes, &part.item);
    }
    check_reached(&mut notes, entry, &guides);
    check_readings(&mut notes, entry, &guides);
    for finding in &entry.findings {
        if let Some(guide) = &finding.guide {
            index.job(&mut notes, guide);
        }
        if let Some(gear) = &finding.gear {
            index.gear(&mut notes, gear);
        }
        if let Some(Before::Occasion(occasion)) = &finding.before {
            index.occasion(&mut notes, occasion);
        }
    }
    check_clears(index, &mut notes, entry);
    let folder = entry.source.folder();
    check_papers(index, &mut notes, entry, folder);
    for picture in &entry.pictures {
        paths::check_picture(index, &mut notes, folder, picture);
    }
    for link in &entry.links {
        paths::check_link(index, &mut notes, folder, &link.target);
    }
    notes.found
}

fn check_job<'b>(index: &Index<'b>, notes: &mut Notes<'_>, job: &JobRef) -> Option<&'b Guide> {
    let guide = index.job(notes, &Name::new(job.guide.clone(), job.span))?;
    match &job.gear {
        Some(gear) if index.gear(notes, &Name::new(gear.clone(), job.span)) && !guide.for_gear.iter().any(|name| name.value == *gear) => {
            let known = || guide.for_gear.iter().map(|name| name.value.as_str());
            let remedy = offered(notes.nearest(gear, known()), known(), "write the guide alone, or add the gear to `for` in the guide");
            notes.error("unknown-gear", job.span, format!("the guide `{}` is not for `{gear}`", guide.id), remedy);
        }
        None if guide.for_gear.len() > 1 => {
            notes.warning(
                "job-without-gear",
                job.span,
                format!("`{}` is for {} pieces of gear, and this names none: it counts for all of them", guide.id, guide.for_gear.len()),
                format!(
                    "if it was one of them, write it: `{}/{}`",
                    guide.id,
                    guide.for_gear.first().map_or("", |name| name.value.as_str())
                ),
            );
        }
        _ => {}
    }
    Some(guide)
}

fn check_reached(notes: &mut Notes<'_>, entry: &Entry, guides: &[&Guide]) {
    let Some(reached) = &entry.reached else { return };
    let titles: Vec<&str> = guides.iter().flat_map(|guide| guide.outline.stages.iter().map(|stage| stage.title.as_str())).collect();
    if titled(titles.iter().copied(), &reached.value).is_none() {
        let remedy = offered(
            notes.nearest(&reached.value, titles.iter().copied()),
            titles.iter().copied(),
            "write the title of a stage of that guide",
        );
        notes.warning("unknown-stage", reached.span, format!("no guide of this entry has a stage `{}`", reached.value), remedy);
    }
}

fn check_readings(notes: &mut Notes<'_>, entry: &Entry, guides: &[&Guide]) {
    for value in &entry.readings {
        let specs = || guides.iter().flat_map(|guide| guide.readings.iter());
        let id = id_of(&value.reading.value);
        let Some(spec) = specs().find(|spec| spec.id == id) else {
            let known: Vec<&str> = specs().map(|spec| spec.id.as_str()).collect();
            let remedy = offered(
                notes.nearest(&value.reading.value, known.iter().copied()),
                known.iter().copied(),
                "declare it under `readings` in the guide of the job, or name that job in `jobs`",
            );
            notes.error(
                "unknown-reading",
                value.reading.span,
                format!("no guide of this entry asks for the reading `{}`", value.reading.value),
                remedy,
            );
            continue;
        };
        if spec.unit.dimension() != value.value.unit().dimension() {
            notes.error(
                "unit",
                value.span,
                format!("`{}` does not fit the reading `{}`, which is in {}", value.value.written(), spec.id, spec.unit.symbol()),
                format!("give it in {}", spec.unit.symbol()),
            );
        }
        match &value.point {
            Some(point) if !spec.points.is_empty() && !spec.points.iter().any(|known| key_of(known) == key_of(point)) => {
                let points = || spec.points.iter().map(String::as_str);
                let remedy = offered(notes.nearest(point, points()), points(), "write a point as the guide has it under `at`");
                notes.warning("unknown-point", value.span, format!("the reading `{}` has no point `{point}`", spec.id), remedy);
            }
            _ => {}
        }
    }
}

fn check_clears(index: &Index<'_>, notes: &mut Notes<'_>, entry: &Entry) {
    for clears in &entry.clears {
        match index.entries.get(clears.entry.as_str()) {
            None if index.is_broken_text("log/", &clears.entry) => {}
            None => {
                let remedy = index.near(notes, clears.span, Kind::Entry, &clears.entry).map_or_else(
                    || "write the name of the entry's file without `.md`, a slash, and the number of the finding".to_owned(),
                    |near| format!("did you mean `{near}/{}`?", clears.number),
                );
                notes.error("unknown-finding", clears.span, format!("there is no entry `{}`", clears.entry), remedy);
            }
            Some(count) if clears.number == 0 || clears.number > *count => {
                notes.error(
                    "unknown-finding",
                    clears.span,
                    format!("the entry `{}` has {count} findings, and no number {}", clears.entry, clears.number),
                    "findings count from 1 in the order they are written",
                );
            }
            Some(_) if clears.entry == entry.id => {
                notes.warning(
                    "clears",
                    clears.span,
                    "this entry puts right its own finding",
                    "grade it `good`, or leave it to a later entry",
                );
            }
            Some(_) if cleared_before_found(index, entry, &clears.entry) => {
                notes.warning(
                    "clears",
                    clears.span,
                    format!(
                        "this entry is older than `{}`, so it cannot have put right what was found then; it stays a defect",
                        clears.entry
                    ),
                    "correct the date that is mistyped, or name it in the entry of the work that did",
                );
            }
            Some(_) => {}
        }
    }
}

/// Whether finished work is said to have put right what was found on a later day.
fn cleared_before_found(index: &Index<'_>, entry: &Entry, found: &str) -> bool {
    let Some(found) = index.book.entry(found) else { return false };
    entry.is_before(found)
}

fn check_papers(index: &Index<'_>, notes: &mut Notes<'_>, entry: &Entry, folder: &str) {
    for paper in &entry.kept().papers {
        if paths_of_paper(folder, &entry.id, &paper.value).iter().any(|path| index.book.files.contains_key(path)) {
            continue;
        }
        if matches!(paths::resolve(folder, &paper.value), paths::Target::Inside { .. }) {
            notes.error(
                "missing-paper",
                paper.span,
                format!("there is no paper `{}`", paper.value),
                format!("put the file into `{folder}/{}/`", entry.id),
            );
        } else {
            notes.error(
                "outside-the-book",
                paper.span,
                format!("`{}` leads out of the book", paper.value),
                "put the paper into the folder of the entry",
            );
        }
    }
}

/// A paper stands in the folder of its entry, or is named from beside the entry.
#[must_use]
pub fn paths_of_paper(folder: &str, entry: &str, written: &str) -> Vec<String> {
    [format!("{folder}/{entry}"), folder.to_owned()]
        .iter()
        .filter_map(|base| match paths::resolve(base, written) {
            paths::Target::Inside { path, .. } => Some(path),
            _ => None,
        })
        .collect()
}
