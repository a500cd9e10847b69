//! Entries: as an article of the log, and as a line of a list.

use super::due::reached;
use crate::book::markdown;
use crate::book::model::{Before, Entry, Finding, FindingRef, Grade, Guide};
use crate::book::private;
use crate::book::source::Span;
use crate::reckon::{Cleared, Followed, is_outside};
use crate::site::assets::paper_path;
use crate::site::figures;
use crate::site::markdown::Renderer;
use crate::site::press::Press;
use crate::site::view::{CostView, EntryRef, EntryView, Fact, FindingView, Html, Link};

/// A line of a list.
pub(super) fn reference(press: &Press<'_>, entry: &Entry, root: &str) -> EntryRef {
    EntryRef {
        href: press.entry_href(entry, root),
        date: press.book_date(entry.when.day()),
        title: press.entry_title(entry),
        open: entry.when.is_open(),
        findings: entry.findings.iter().filter(|finding| finding.grade != Grade::Good).count(),
    }
}

/// Fragment of a finding on the page of its entry.
pub(super) fn finding_anchor(press: &Press<'_>, entry: &Entry, number: usize) -> String {
    format!("{}--{number}", press.map.entry_anchor(&entry.id).unwrap_or_default())
}

/// Link to a finding of an entry.
pub(super) fn finding_href(press: &Press<'_>, entry: &Entry, number: usize, root: &str) -> String {
    let page = press.entry_href(entry, root);
    let page = page.split('#').next().unwrap_or_default();
    format!("{page}#{}", finding_anchor(press, entry, number))
}

/// A finding in words.
pub(super) fn finding(press: &Press<'_>, entry: &Entry, number: usize, finding: &Finding, root: &str) -> FindingView {
    let cleared = press.cleared.get(&(entry.id.as_str(), number)).copied();
    let grade = match cleared {
        Some(Cleared { followed: Some(_), .. }) => "followed",
        Some(_) => "cleared",
        None => finding.grade.word(),
    };
    FindingView {
        anchor: finding_anchor(press, entry, number),
        what: finding.what.clone(),
        grade: finding.grade.word().to_owned(),
        grade_text: press.words.text(&format!("grades.{grade}")),
        before: finding.before.as_ref().map(|before| before_text(press, before)),
        limits_use: finding.limits_use.clone(),
        guide: finding.guide.as_ref().and_then(|name| press.guide_by_id(&name.value, root)),
        gear: finding.gear.as_ref().map(|name| press.gear(&name.value, root)),
        cleared: cleared.filter(|one| one.followed.is_none()).map(|one| press.entry(one.by, root)),
        followed: cleared.and_then(|one| followed(press, &one, root)),
    }
}

/// The finding that follows one that was cleared without being put right.
pub(super) fn followed(press: &Press<'_>, cleared: &Cleared<'_>, root: &str) -> Option<Link> {
    let Followed { number, finding } = cleared.followed?;
    Some(Link { text: finding.what.clone(), href: finding_href(press, cleared.by, number, root) })
}

/// Until when a finding should be put right.
pub(super) fn before_text(press: &Press<'_>, before: &Before) -> String {
    match before {
        // `2026-12` is good to its last day, and says so.
        Before::Month(month) if month.month_only => press.words.say("finding.end-of", &[("month", &press.month(month).text)]),
        Before::Month(month) => press.month(month).text,
        Before::Occasion(name) => press.occasion_title(&name.value),
    }
}

/// Readings of an entry as facts: `Oil pressure 3.8 bar`; a value outside its limits says so.
pub(super) fn readings(press: &Press<'_>, entry: &Entry, only: Option<&str>) -> Vec<Fact> {
    if entry.readings.is_empty() {
        return Vec::new();
    }
    let of_jobs = entry.jobs.iter().filter_map(|job| press.book.guide_or_former(&job.guide));
    let guides: Vec<&Guide> = of_jobs.filter(|guide| only.is_none_or(|id| guide.id == id)).collect();
    entry
        .readings
        .iter()
        .filter_map(|value| {
            let id = crate::book::id::id_of(&value.reading.value);
            let spec = guides.iter().find_map(|guide| guide.readings.iter().find(|spec| spec.id == id));
            if spec.is_none() && only.is_some() {
                return None;
            }
            let name = spec.map_or_else(|| value.reading.value.clone(), super::reading_words::title);
            let label = value.point.as_ref().map_or_else(|| name.clone(), |point| format!("{name}, {point}"));
            let written = spec.map_or_else(|| value.value.written().to_owned(), |spec| figures::read(spec, &value.value));
            let outside = spec.is_some_and(|spec| is_outside(spec, &value.value));
            let value = if outside { format!("{written}, {}", press.words.text("guide.outside")) } else { written };
            Some(Fact { label, value })
        })
        .collect()
}

/// An entry as an article.
pub(super) fn view(press: &Press<'_>, entry: &Entry, root: &'static str) -> EntryView {
    let started = match &entry.when {
        crate::book::model::When::Finished { started, .. } => Some(press.book_date(started)),
        _ => None,
    };
    let jobs = entry.jobs.iter().filter_map(|job| press.job(job, root)).collect();
    let (follows, clears): (Vec<&FindingRef>, Vec<&FindingRef>) = entry.clears.iter().partition(|clears| follows(press, entry, clears));
    let links = |list: Vec<&FindingRef>| list.iter().filter_map(|clears| cleared_link(press, &clears.entry, clears.number, root)).collect();
    let (clears, follows) = (links(clears), links(follows));
    EntryView {
        id: press.map.entry_anchor(&entry.id).unwrap_or_default().to_owned(),
        date: press.book_date(entry.when.day()),
        started,
        title: press.entry_title(entry),
        open: entry.when.is_open(),
        reached: reached(press, entry, root),
        left: entry.left.clone(),
        jobs,
        work: entry.work.clone(),
        system: entry.system.as_ref().map(|name| press.system(&name.value, root)),
        gear: entry.gear.iter().map(|name| press.gear(&name.value, root)).collect(),
        meters: meters(press, entry),
        time: entry.time.as_ref().map(ToString::to_string),
        parts: entry.parts.iter().map(|part| part_link(press, part, root)).collect(),
        readings: readings(press, entry, None),
        findings: entry.findings.iter().enumerate().map(|(at, one)| finding(press, entry, at + 1, one, root)).collect(),
        clears,
        follows,
        fitted: fitted(press, entry),
        except: entry.except.clone(),
        costs: costs(press, entry),
        done_by: entry.done_by.map(|by| press.words.text(&format!("done-by.{}", by.word()))),
        by: (!entry.kept().by.is_empty()).then(|| entry.kept().by.join(", ")),
        place: entry.kept().place.clone(),
        basis: entry.basis.map(|basis| press.words.text(&format!("basis.{}", basis.word().replace(' ', "-")))),
        papers: papers(press, entry, root),
        private: entry.private,
        notes: Html(notes(press, entry, root)),
    }
}

pub(super) fn meters(press: &Press<'_>, entry: &Entry) -> Vec<Fact> {
    entry
        .meters
        .iter()
        .map(|value| {
            let meter = press.book.boat.meter(&value.meter.value);
            let amount = format!("{} {}", value.value.written(), meter.map_or("", |meter| meter.unit.symbol()));
            let amount = press.perhaps_about(amount.trim().to_owned(), value.about);
            Fact { label: meter.map_or_else(|| value.meter.value.clone(), |meter| meter.title.clone()), value: amount }
        })
        .collect()
}

pub(super) fn part_link(press: &Press<'_>, part: &crate::book::model::PartUse, root: &str) -> Link {
    let item = press.book.store(&part.item.value);
    let title = item.map_or(part.item.value.as_str(), |item| item.title.as_str());
    let amount = figures::part_amount(part).map(|pair| pair.first);
    let text = match &part.amount {
        Some(crate::book::model::Amount::Measured(_)) => format!("{title}, {}", amount.unwrap_or_default()),
        Some(crate::book::model::Amount::Pieces(_)) => format!("{} × {title}", amount.unwrap_or_default()),
        None => title.to_owned(),
    };
    let href = item.map(|item| press.map.store(root, &item.id.value)).unwrap_or_default();
    Link { text, href }
}

/// Whether this entry found again what it clears.
pub(super) fn follows(press: &Press<'_>, entry: &Entry, clears: &FindingRef) -> bool {
    let cleared = press.cleared.get(&(clears.entry.as_str(), clears.number));
    cleared.is_some_and(|one| one.by.id == entry.id && one.followed.is_some())
}

fn cleared_link(press: &Press<'_>, entry: &str, number: usize, root: &str) -> Option<Link> {
    let found = press.book.entry(entry)?;
    // An entry that is not shown is not linked either.
    press.map.entry_anchor(entry)?;
    let finding = found.findings.get(number.checked_sub(1)?)?;
    Some(Link { text: finding.what.clone(), href: finding_href(press, found, number, root) })
}

pub(super) fn fitted(press: &Press<'_>, entry: &Entry) -> Vec<Fact> {
    entry
        .fitted
        .iter()
        .enumerate()
        .map(|(at, renewal)| {
            let expires = renewal.expires.as_ref().map(|month| press.words.say("entry.good-until", &[("date", &press.month(month).text)]));
            let serial = entry.kept().serial_of(at).map(|serial| press.words.say("entry.serial", &[("serial", serial)]));
            Fact {
                label: press.gear(&renewal.gear.value, "").text,
                value: [expires, serial].into_iter().flatten().collect::<Vec<_>>().join(", "),
            }
        })
        .collect()
}

fn costs(press: &Press<'_>, entry: &Entry) -> Vec<CostView> {
    let kept = entry.kept();
    let parts = kept.of_parts.iter().filter_map(|(at, cost)| {
        let part = entry.parts.get(*at)?;
        let title = press.book.store(&part.item.value).map_or(part.item.value.as_str(), |item| item.title.as_str());
        Some(CostView { what: title.to_owned(), cost: cost.to_string() })
    });
    parts.chain(kept.costs.iter().map(|cost| CostView { what: cost.what.clone(), cost: cost.cost.to_string() })).collect()
}

fn papers(press: &Press<'_>, entry: &Entry, root: &str) -> Vec<Link> {
    let papers = &entry.kept().papers;
    if papers.is_empty() && entry.paper_on_file {
        return vec![Link { text: press.words.text("entry.on-file"), href: String::new() }];
    }
    papers
        .iter()
        .filter_map(|paper| {
            let path = paper_path(press.book, entry, &paper.value)?;
            // One that is not handed out is named all the same.
            let href = press.assets.file(&path).map(|href| format!("{root}{href}")).unwrap_or_default();
            Some(Link { text: paper.value.clone(), href })
        })
        .collect()
}

/// The notes of an entry. The tags of private passages are taken out; in the crew's edition what
/// stands between them is shown.
fn notes(press: &Press<'_>, entry: &Entry, root: &'static str) -> String {
    let shown = private::without_tags(entry.source.slice(entry.body));
    if shown.trim().is_empty() {
        return String::new();
    }
    let events = markdown::parse(&shown, Span::new(0, shown.len()));
    let surroundings = press.surroundings(entry.source.path(), root);
    let anchor = press.map.entry_anchor(&entry.id).unwrap_or_default();
    let mut renderer = Renderer::new(&shown, &[], &surroundings, 2, &format!("{anchor}--"));
    let mut html = renderer.blocks(&events);
    html.push_str(&renderer.footnotes());
    html
}
