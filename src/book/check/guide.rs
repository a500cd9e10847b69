//! Names, units and marks of one guide.

use super::{Index, isolation, paths};
use crate::book::decode::is_calendar;
use crate::book::diagnostic::{Diagnostic, Notes};
use crate::book::id::{id_of, looks_like_id};
use crate::book::mark;
use crate::book::model::{Guide, Rule, RuleBy};
use crate::book::names_of_guide::NamesOfGuide;
use crate::book::outline::{Mark, MarkKind};
use crate::book::received;
use crate::book::source::Name;
use crate::quantity::Unit;
use std::cell::LazyCell;

pub(super) fn check(index: &Index<'_>, guide: &Guide) -> Vec<Diagnostic> {
    let mut notes = Notes::new(&guide.source);
    let head = guide.title_span;
    folder(index, &mut notes, guide);
    for rule in guide.every.iter().chain(&guide.first) {
        check_rule(index, &mut notes, guide, rule);
    }
    for meter in &guide.unread_meters {
        meter_of_rule(index, &mut notes, meter);
    }
    for gear in &guide.for_gear {
        index.gear(&mut notes, gear);
    }
    for occasion in &guide.occasions {
        index.occasion(&mut notes, occasion);
    }
    for covered in &guide.covers {
        if let Some(other) = index.job(&mut notes, covered)
            && other.id == guide.id
        {
            notes.error("covers", covered.span, "a job cannot cover itself", "take it out of `covers`");
        }
    }
    for former in &guide.formerly {
        if let Some(other) = index.book.guide(&former.value) {
            notes.error(
                "duplicate-id",
                former.span,
                format!("`{}` is the id of another guide: `{}`", former.value, other.source.path()),
                "`formerly` names ids that no guide has any more",
            );
        } else if let Some(other) = index.book.guide_formerly(&former.value)
            && other.id != guide.id
        {
            notes.error(
                "duplicate-id",
                former.span,
                format!("`{}` is a former id of another guide too: `{}`", former.value, other.source.path()),
                "leave it in the one guide that the log of that time belongs to",
            );
        }
    }
    for hazard in &guide.hazards {
        index.hazard(&mut notes, hazard);
    }
    for part in &guide.parts {
        index.part(&mut notes, part);
    }
    for tool in &guide.tools {
        index.tool(&mut notes, tool);
    }
    check_marks(index, &mut notes, guide);
    isolation::check_pairs(&mut notes, guide, index);
    let folder = format!("guides/{}", guide.system);
    for picture in &guide.outline.pictures {
        paths::check_picture(index, &mut notes, &folder, picture);
    }
    for link in &guide.outline.links {
        paths::check_link(index, &mut notes, &folder, &link.target);
    }
    if guide.outline.stages.iter().all(|stage| stage.steps.is_empty()) {
        notes.warning("no-steps", head, "this guide has no steps", "write a numbered list under a `##` heading");
    }
    if guide.received.is_some() {
        received::spare(&mut notes.found);
    }
    notes.found
}

/// The folder of a guide is the id of its system.
fn folder(index: &Index<'_>, notes: &mut Notes<'_>, guide: &Guide) {
    let system = Name::new(guide.system.clone(), guide.title_span);
    if looks_like_id(&guide.system) {
        index.system(notes, &system);
        return;
    }
    let boat = &index.book.boat;
    let id = id_of(&guide.system);
    let rename = match id.as_str() {
        "" => "give it a name of small letters, digits and hyphens".to_owned(),
        id => format!("rename it to `{id}`"),
    };
    let and_list = if boat.lists_systems && boat.system(&id).is_none() { ", and add that to `systems` in `boat.yaml`" } else { "" };
    let message = format!("the name of the folder `{}` is no id of a system", guide.system);
    notes.error("unknown-system", system.span, message, format!("{rename}{and_list}"));
}

/// The unit of the meter that an interval counts by; also says where it is none.
fn meter_of_rule(index: &Index<'_>, notes: &mut Notes<'_>, meter: &Name) -> Option<Unit> {
    if !index.meters.contains_key(meter.value.as_str()) && is_calendar(&meter.value) {
        notes.error("unknown-meter", meter.span, format!("there is no meter `{}`", meter.value), "did you mean `calendar`?");
        return None;
    }
    index.meter(notes, meter)
}

fn check_rule(index: &Index<'_>, notes: &mut Notes<'_>, guide: &Guide, rule: &Rule) {
    match &rule.by {
        RuleBy::Calendar(_) => {}
        RuleBy::Meter { meter, interval } => {
            let name = Name::new(meter.clone(), rule.span);
            if let Some(unit) = meter_of_rule(index, notes, &name)
                && unit.dimension() != interval.unit().dimension()
            {
                notes.error(
                    "unit",
                    rule.span,
                    format!("`{}` does not fit the meter `{meter}`, which counts in {}", interval.written(), unit.symbol()),
                    format!("give the interval in {}", unit.symbol()),
                );
            }
        }
        RuleBy::Own { interval } => {
            if guide.for_gear.is_empty() {
                notes.error(
                    "own-meter",
                    rule.span,
                    "`own` is the meter of the gear in `for`, and this guide names none",
                    "add `for: [gear, …]`, or name a meter of `boat.yaml`",
                );
            }
            for gear in &guide.for_gear {
                let Some(known) = index.book.boat.gear(&gear.value) else { continue };
                let unit = known.meter.as_ref().and_then(|meter| index.meters.get(meter.value.as_str()));
                match unit {
                    None => notes.error(
                        "own-meter",
                        gear.span,
                        format!("`{}` has no meter of its own, and an interval here counts by it", gear.value),
                        "give that gear a `meter:` in `boat.yaml`",
                    ),
                    Some(unit) if unit.dimension() != interval.unit().dimension() => notes.error(
                        "unit",
                        rule.span,
                        format!("`{}` does not fit the meter of `{}`, which counts in {}", interval.written(), gear.value, unit.symbol()),
                        format!("give the interval in {}", unit.symbol()),
                    ),
                    Some(_) => {}
                }
            }
        }
    }
}

fn check_marks(index: &Index<'_>, notes: &mut Notes<'_>, guide: &Guide) {
    let steps = guide.outline.stages.iter().flat_map(|stage| stage.steps.iter().flat_map(|step| step.marks.iter()));
    let headings =
        guide.outline.stages.iter().flat_map(|stage| stage.heading_marks.iter().filter(|mark| matches!(mark.kind, MarkKind::Name(_))));
    let names = LazyCell::new(|| NamesOfGuide::of(guide));
    for mark in steps.chain(headings).chain(guide.outline.loose_marks.iter()) {
        match &mark.kind {
            MarkKind::Name(id) => check_name(index, notes, guide, &names, mark, id),
            MarkKind::Read(id) if names.reading(id).is_none() => {
                let remedy = notes.nearest(id, guide.readings.iter().map(|reading| reading.id.as_str())).map_or_else(
                    || format!("declare it in the front matter: `readings: {{{id}: {{unit: …}}}}`"),
                    |near| format!("did you mean `{{read {near}}}`?"),
                );
                notes.error("unknown-mark", mark.span, format!("there is no reading `{id}` in this guide"), remedy);
            }
            MarkKind::Hands(hands) if *hands > guide.crew => {
                notes.error(
                    "too-few-hands",
                    mark.span,
                    format!("this step needs {hands} people, and the guide says `crew: {}`", guide.crew),
                    format!("write `crew: {hands}` in the front matter, or fewer hands here"),
                );
            }
            _ => {}
        }
    }
}

fn check_name(index: &Index<'_>, notes: &mut Notes<'_>, guide: &Guide, names: &NamesOfGuide<'_>, mark: &Mark, id: &str) {
    if names.find(id).is_some() {
        return;
    }
    if index.aboard(id) {
        notes.warning(
            "not-listed",
            mark.span,
            format!("`{id}` is used here, and listed neither in `parts` nor in `tools` of this guide"),
            "list it in the front matter, so that it is at hand before the job begins",
        );
        return;
    }
    let written = guide.source.slice(mark.span);
    let inner = written.trim_start_matches('{').trim_end_matches('}').trim();
    let remedy = match (notes.nearest(id, names.iter()), mark::like(inner)) {
        (Some(near), _) => format!("did you mean `{{{near}}}`?"),
        (None, Some(example)) => format!("a mark is written like `{example}`; a plain brace is `\\{{`"),
        (None, None) => "name a torque, value, part, tool or reading of the front matter; a plain brace is `\\{`".to_owned(),
    };
    notes.error("unknown-mark", mark.span, format!("`{{{inner}}}` is neither a mark nor a name of this guide"), remedy);
}
