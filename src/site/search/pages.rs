//! Documents from what the pages show, and nothing from what they do not.

use super::document::{Document, Kind, Place};
use super::plain::{plain_text, sentences};
use super::terms::terms_of;
use crate::site::map::LogPagePlan;
use crate::site::pages;
use crate::site::press::Press;
use crate::site::view::{Block, CautionView, EntryView, Fact, GuidePage, Link, StageView, StepView};

/// A guide: what it is and needs, its stages and steps.
#[must_use]
pub fn guide(press: &Press<'_>, number: usize, page: &GuidePage) -> Document {
    let word = |key: &str| press.words.text(key);
    let about = [&page.summary, &page.applies_to, &page.source].into_iter().flatten().cloned();
    let lists = [&page.places, &page.conditions, &page.wear, &page.dispose].into_iter().flatten().cloned();
    let tools = page.tools.iter().map(|tool| with(&tool.title, [&tool.stowed]));
    let parts =
        page.parts.iter().map(|part| with(&part.title, [&part.quantity, &part.quantity_converted, &part.part_number, &part.stowed]));
    let torques = page.torques.iter().map(|torque| {
        let value = Some(torque.value.clone());
        with(&torque.at, [&value, &torque.converted, &torque.then, &torque.fastener, &torque.surface, &torque.source])
    });
    let values = page.values.iter().map(|value| with(&value.name, [&Some(value.value.clone()), &value.converted]));
    let readings = page.readings.iter().map(|reading| with(&reading.name, [&reading.limits, &reading.limits_converted, &reading.when]));
    let mut places = vec![place("", "", sentences(about.chain([plain_text(&page.intro.0)]).chain(lists)))];
    for stage in &page.stages {
        stage_places(press, stage, &mut places);
    }
    // Behind the steps: where both have a word, what is done with a thing says more than that it is needed.
    places.extend([
        place(&word("guide.parts"), "parts", sentences(parts)),
        place(&word("guide.tools"), "tools", sentences(tools)),
        place(&word("guide.figures"), "figures", sentences(torques.chain(values).chain(readings))),
        place(&word("guide.cautions"), "cautions", sentences(page.cautions.iter().map(caution_head))),
    ]);
    places.push(place("", "", id_beside(&page.id, &page.title)));
    places.retain(|place| place.heading || !place.text.is_empty());
    Document {
        kind: Kind::Guide,
        number: number_of(number),
        title: page.title.clone(),
        href: format!("guides/{}.html", page.id),
        detail: page.system.text.clone(),
        places,
    }
}

fn stage_places(press: &Press<'_>, stage: &StageView, places: &mut Vec<Place>) {
    let prose = stage.blocks.iter().filter_map(|block| match block {
        Block::Prose { html } => Some(plain_text(&html.0)),
        Block::Cautions { cautions } => Some(sentences(cautions.iter().map(caution))),
        Block::Steps { .. } => None,
    });
    places.push(Place { heading: true, ..place(&stage.title_text, &stage.id, sentences(prose)) });
    let steps = stage.blocks.iter().flat_map(|block| match block {
        Block::Steps { steps, .. } => steps.as_slice(),
        _ => &[],
    });
    for step in steps {
        let label = press.words.say("search.step", &[("stage", &stage.title_text), ("n", &step.number.to_string())]);
        places.push(place(&label, &step.id, step_text(step)));
    }
}

/// What is done, what is isolated, proved or read, and the cautions before it.
fn step_text(step: &StepView) -> String {
    let marks = step.marks.iter().map(|mark| with(&format!("{} {}", mark.label, mark.text), [&mark.limits]));
    sentences([plain_text(&step.html.0)].into_iter().chain(marks).chain(step.cautions.iter().map(caution)))
}

fn caution(caution: &CautionView) -> String {
    format!("{}: {}", caution.word, plain_text(&caution.body.0))
}

/// A usual caution stands in full on a page of its own, and in every guide: its title is enough.
fn caution_head(one: &CautionView) -> String {
    one.title.clone().unwrap_or_else(|| caution(one))
}

/// An entry of a page of the log; `at` counts from the first of the page.
#[must_use]
pub fn entry(plan: &LogPagePlan, number: usize, entry: &EntryView) -> Document {
    let links = |list: &[Link]| list.iter().map(|link| link.text.clone()).collect::<Vec<_>>();
    let facts = |list: &[Fact]| list.iter().map(|fact| format!("{} {}", fact.label, fact.value)).collect::<Vec<_>>();
    // What the title says already need not be said again.
    let more = links(&entry.jobs).into_iter().chain(entry.work.iter().cloned()).filter(|words| !entry.title.contains(words.as_str()));
    let mut text = vec![plain_text(&entry.notes.0)];
    text.extend(more);
    text.extend([&entry.left, &entry.except].into_iter().flatten().cloned());
    text.extend([&entry.gear, &entry.parts, &entry.clears, &entry.follows, &entry.papers].into_iter().flat_map(|list| links(list)));
    text.extend([&entry.fitted, &entry.readings, &entry.meters].into_iter().flat_map(|list| facts(list)));
    text.extend(entry.system.iter().chain(&entry.reached).map(|link| link.text.clone()));
    text.extend([&entry.by, &entry.place, &entry.done_by, &entry.basis, &entry.time].into_iter().flatten().cloned());
    text.extend(entry.costs.iter().map(|cost| format!("{} {}", cost.what, cost.cost)));
    let mut places = vec![place("", "", sentences(text))];
    places.extend(entry.findings.iter().map(|finding| {
        let text = with(&finding.what, [&finding.limits_use, &finding.before]);
        place(&finding.grade_text, &finding.anchor, text)
    }));
    places.retain(|place| !place.text.is_empty());
    Document {
        kind: Kind::Entry,
        number: number_of(number),
        title: entry.title.clone(),
        href: format!("{}#{}", plan.path, entry.id),
        detail: entry.date.text.clone(),
        places,
    }
}

/// Stores, tools and gear, numbered from 0.
#[must_use]
pub fn things(press: &Press<'_>) -> Vec<Document> {
    let stores = pages::stores(press).stores.into_iter().map(|row| {
        let also = if row.also_fits.is_empty() { None } else { Some(row.also_fits.join(", ")) };
        let text = with(&id_beside(&row.id, &row.title), [&row.part_number, &also, &row.note]);
        (Kind::Store, row.title, row.href, row.stowed.unwrap_or_default(), text)
    });
    let tools = pages::tools(press);
    let tools = tools
        .tools
        .into_iter()
        .chain(tools.other)
        .map(|row| (with(&id_beside(&row.id, &row.title), [&row.note]), row))
        .map(|(text, row)| (Kind::Tool, row.title, row.href, row.stowed.unwrap_or_default(), text));
    let gear = pages::gear(press).groups.into_iter().flat_map(|group| group.gear).map(|row| {
        let system = row.system.map(|link| link.text).unwrap_or_default();
        let text = with(&id_beside(&row.id, &row.title), [&row.serial, &row.note]);
        (Kind::Gear, row.title, row.href, system, text)
    });
    let all = stores.chain(tools).chain(gear).enumerate();
    all.map(|(number, (kind, title, href, detail, text))| {
        let places = if text.is_empty() { Vec::new() } else { vec![place("", "", text)] };
        Document { kind, number: number_of(number), title, href, detail, places }
    })
    .collect()
}

/// An id that says more than its title: of gear titled "Emergency beacon" `epirb` may be what it is known by.
fn id_beside(id: &str, title: &str) -> String {
    if terms_of(&id.replace('-', " ")).is_subset(&terms_of(title)) { String::new() } else { id.to_owned() }
}

fn number_of(number: usize) -> u32 {
    u32::try_from(number).unwrap_or(u32::MAX)
}

fn place(label: &str, fragment: &str, text: String) -> Place {
    Place { label: label.to_owned(), fragment: fragment.to_owned(), heading: false, text }
}

/// `Oil filter, AB-12, port locker`.
fn with<'o>(first: &'o str, more: impl IntoIterator<Item = &'o Option<String>>) -> String {
    let mut all: Vec<&str> = vec![first];
    all.extend(more.into_iter().flatten().map(String::as_str));
    all.retain(|words| !words.is_empty());
    all.join(", ")
}
