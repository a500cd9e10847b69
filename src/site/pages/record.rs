//! The boat's record: a document for a surveyor, an insurer or a buyer, made from the public book.

use super::record_entry::{self, Here, fact};
use super::record_lists::{self, Listed};
use super::record_plan::{FRONT, Matter, Part, RecordPlan};
use crate::book::model::{Basis, DoneBy};
use crate::record::Record;
use crate::site::press::Press;
use crate::site::view::{Fact, Link, RecordContents, RecordFront, RecordPage, RecordSection};
use rayon::prelude::*;
use std::collections::BTreeSet;

/// Digits of a fingerprint that are read in one go.
const GROUP: usize = 8;

/// A page of the record with its path and title.
pub struct Sheet {
    pub path: String,
    pub title: String,
    pub page: RecordPage,
}

/// Fills every page of the record, from several threads, and hands each to `done`; says how many there are. `press` must
/// be of the public book.
///
/// # Errors
/// Those of `done`.
pub fn record<'b, E: Send>(press: &Press<'b>, record: &Record<'b>, done: impl Fn(Sheet) -> Result<(), E> + Sync) -> Result<usize, E> {
    let listed = Listed::of(press);
    let plan = RecordPlan::new(press, record, &listed.weights(press));
    let whole = press.words.text("pages.record");
    plan.pages.par_iter().try_for_each(|(path, parts)| {
        let parts: Vec<&Part> = parts.iter().filter_map(|at| plan.parts.get(*at)).collect();
        let front = path == FRONT;
        let title = match parts.first() {
            Some(part) if !front => format!("{whole}: {}", part.title),
            _ => whole.clone(),
        };
        let page = RecordPage {
            front: front.then(|| self::front(press, record, &plan, &listed)),
            over: (!front).then(|| Link { text: whole.clone(), href: FRONT.to_owned() }),
            sections: parts.into_iter().map(|part| section(press, record, &plan, &listed, part)).collect(),
        };
        done(Sheet { path: path.clone(), title, page })
    })?;
    Ok(plan.pages.len())
}

fn front(press: &Press<'_>, record: &Record<'_>, plan: &RecordPlan<'_>, listed: &Listed<'_>) -> RecordFront {
    let boat = &press.book.boat;
    let facts = [
        fact(press, "about.name", Some(boat.name.clone())),
        fact(press, "about.type", boat.kind.clone()),
        fact(press, "about.built", boat.built.clone()),
        fact(press, "about.length", record_entry::length(press)),
        fact(press, "about.flag", boat.flag.clone()),
        fact(press, "about.hull-number", boat.hull_number.clone()),
        fact(press, "about.in-service", boat.in_service.map(|date| press.words.day(date))),
    ];
    let day = |one: Option<&crate::record::Recorded<'_>>| one.map(|one| press.book_date(one.entry.when.day()).text);
    let period = day(record.entries.first()).zip(day(record.entries.last()));
    let contents = plan.parts.iter().map(|part| RecordContents {
        number: part.number.clone(),
        to: Link { text: part.title.clone(), href: plan.part_href(part, FRONT) },
        holds: holds(press, part, listed),
        first_sheet: format!("{}-1", part.number),
    });
    let digits: Vec<char> = record.fingerprint.chars().collect();
    RecordFront {
        boat: facts.into_iter().flatten().collect(),
        meters: record_lists::latest(press),
        period: period.map(|(from, to)| press.words.say("record.from-to", &[("from", &from), ("to", &to)])),
        counts: counts(press, record),
        contents: contents.collect(),
        csv: "record.csv".to_owned(),
        json: "record.json".to_owned(),
        fingerprint: digits.chunks(GROUP).map(|group| group.iter().collect()).collect(),
    }
}

/// What a part holds: `23 entries`.
fn holds(press: &Press<'_>, part: &Part, listed: &Listed<'_>) -> String {
    let count = |key: &str, n: usize| press.words.count(key, i64::try_from(n).unwrap_or(i64::MAX));
    match &part.matter {
        Matter::System(_, entries) => count("log.entries", entries.len()),
        Matter::Intervals(range) => {
            // A guide with two rules is one guide.
            let rows = listed.intervals.get(range.clone()).unwrap_or_default();
            count("record.jobs", rows.iter().map(|(job, _)| job.guide.id.as_str()).collect::<BTreeSet<_>>().len())
        }
        Matter::Findings(range) => count("entry.findings", range.len()),
        Matter::Gear(range) => count("entry.pieces", range.len()),
        Matter::Proof => String::new(),
    }
}

/// How many entries there are, and how many of each kind.
fn counts(press: &Press<'_>, record: &Record<'_>) -> Vec<Fact> {
    let entries = || record.entries.iter().map(|one| one.entry);
    let by = |who: Option<DoneBy>| entries().filter(|entry| entry.done_by == who).count();
    let from = |basis: Option<Basis>| entries().filter(|entry| entry.basis == basis).count();
    let row = |label: String, n: usize| Fact { label, value: n.to_string() };
    let by_whom = [Some(DoneBy::Owner), Some(DoneBy::Yard), Some(DoneBy::Licensed), None].map(|who| {
        let word = who.map_or("not-said", DoneBy::word);
        row(press.words.text(&format!("record.by.{word}")), by(who))
    });
    let bases = [Some(Basis::OwnRecord), Some(Basis::Invoice), Some(Basis::Told), Some(Basis::Judged), None].map(|basis| {
        let word = basis.map_or("not-said", Basis::word).replace(' ', "-");
        row(press.words.text(&format!("record.basis.{word}")), from(basis))
    });
    let all = row(press.words.text("record.entries"), record.entries.len());
    let papers = row(press.words.text("record.with-paper"), entries().filter(|entry| entry.paper_on_file).count());
    let rest = by_whom.into_iter().chain(bases).chain([papers]).filter(|fact| fact.value != "0");
    std::iter::once(all).chain(rest).collect()
}

fn section(press: &Press<'_>, record: &Record<'_>, plan: &RecordPlan<'_>, listed: &Listed<'_>, part: &Part) -> RecordSection {
    let system = match &part.matter {
        Matter::System(system, _) => system.as_deref(),
        _ => None,
    };
    let here = Here { plan, page: &part.path, system };
    let mut section = RecordSection {
        number: part.number.clone(),
        sheet: part.sheet.clone(),
        title: part.title.clone(),
        entries: Vec::new(),
        intervals: Vec::new(),
        findings: Vec::new(),
        gear: Vec::new(),
        is_proof: part.matter == Matter::Proof,
        empty: None,
    };
    let none = |key: &str, range: &std::ops::Range<usize>| range.is_empty().then(|| press.words.text(key));
    match &part.matter {
        Matter::System(_, entries) => {
            let rows = entries.iter().filter_map(|at| Some((*at, record.entries.get(*at)?)));
            section.entries = rows.map(|(at, one)| record_entry::row(press, here, at, one)).collect();
        }
        Matter::Intervals(range) => {
            let rows = listed.intervals.get(range.clone()).unwrap_or_default();
            section.intervals = rows.iter().map(|(job, rule)| record_lists::interval(press, job, rule)).collect();
            section.empty = none("record.no-intervals", range);
        }
        Matter::Findings(range) => {
            let rows = listed.findings.get(range.clone()).unwrap_or_default();
            section.findings = rows.iter().map(|listing| record_lists::finding(press, here, *listing)).collect();
            section.empty = none("record.no-findings", range);
        }
        Matter::Gear(range) => {
            let rows = listed.gear.get(range.clone()).unwrap_or_default();
            section.gear = rows.iter().map(|state| record_lists::gear(press, here, state)).collect();
            section.empty = none("record.no-gear", range);
        }
        Matter::Proof => {}
    }
    section
}
