//! An entry of the boat's record, as far as it belongs to the system of the section.

use super::record_plan::{Matter, RecordPlan, Shares};
use crate::book::model::{Entry, Finding, FindingRef, Grade, Guide, JobRef, PartUse, When};
use crate::reckon::Cleared;
use crate::record::Recorded;
use crate::site::figures;
use crate::site::press::Press;
use crate::site::view::{Fact, Link, RecordCleared, RecordEntry, RecordFound, RecordJob};

/// Digits of a fingerprint that stand beside an entry.
pub(super) const DIGITS: usize = 12;

/// Where a row stands: on this page, in the section of this system.
#[derive(Clone, Copy)]
pub(super) struct Here<'h> {
    pub plan: &'h RecordPlan<'h>,
    pub page: &'h str,
    pub system: Option<&'h str>,
}

/// Fills a row. `at` is its place in the record.
pub(super) fn row(press: &Press<'_>, here: Here<'_>, at: usize, one: &Recorded<'_>) -> RecordEntry {
    let entry = one.entry;
    let shares = here.plan.shares(at);
    let first = shares.and_then(Shares::first) == here.system;
    let belongs = |system: Option<&str>| shares.is_some_and(|shares| shares.belongs(system, here.system));
    let jobs: Vec<(&JobRef, &Guide)> = entry.jobs.iter().filter_map(|job| Some((job, press.book.guide_or_former(&job.guide)?))).collect();
    let guide_system = |id: &str| press.book.guide_or_former(id).map(|guide| guide.system.as_str());
    let finding_system = |finding: &Finding| {
        let gear = finding.gear.as_ref().and_then(|name| press.book.system_of_gear(&name.value));
        gear.or_else(|| finding.guide.as_ref().and_then(|name| guide_system(&name.value)))
    };
    let link = |clears: &FindingRef| {
        let of = press.book.entry(&clears.entry)?;
        let finding = of.findings.get(clears.number.checked_sub(1)?)?;
        belongs(finding_system(finding)).then(|| Link { text: finding.what.clone(), href: here.plan.href(&clears.entry, here.page) })
    };
    let links = |followed: bool| {
        let wanted = entry.clears.iter().filter(|clears| super::entry::follows(press, entry, clears) == followed);
        wanted.filter_map(link).collect()
    };
    let findings = entry.findings.iter().enumerate().filter(|(_, finding)| belongs(finding_system(finding)));
    let own = |list: &[String]| if first { list.to_vec() } else { Vec::new() };
    RecordEntry {
        anchor: if first { here.plan.anchor(at).to_owned() } else { String::new() },
        date: press.book_date(entry.when.day()),
        started: match &entry.when {
            When::Finished { started, .. } => Some(press.book_date(started)),
            When::On(_) | When::Open { .. } => None,
        },
        open: entry.when.is_open(),
        meters: super::entry::meters(press, entry),
        jobs: jobs.iter().filter(|(_, guide)| belongs(Some(&guide.system))).map(|(job, guide)| job_row(press, entry, job, guide)).collect(),
        work: if belongs(entry.system.as_ref().map(|name| name.value.as_str())) { entry.work.clone() } else { Vec::new() },
        parts: entry.parts.iter().filter(|part| belongs(part_system(&jobs, part))).map(|part| part_text(press, part)).collect(),
        fitted: super::entry::fitted(press, entry)
            .into_iter()
            .zip(&entry.fitted)
            .filter(|(_, renewal)| belongs(press.book.system_of_gear(&renewal.gear.value)))
            .map(|(fact, _)| fact)
            .collect(),
        findings: findings.map(|(at, finding)| found(press, here, entry, at + 1, finding)).collect(),
        clears: links(false),
        follows: links(true),
        except: own(&entry.except),
        left: own(&entry.left),
        notes: if first { notes(one) } else { None },
        vouched: vouched(press, entry),
        also: also(here, at),
        fingerprint: one.fingerprint.to_string().chars().take(DIGITS).collect(),
    }
}

/// The public words of the notes, as running text.
fn notes(one: &Recorded<'_>) -> Option<String> {
    let notes = one.notes();
    (!notes.is_empty()).then(|| notes.replace('\n', " "))
}

fn vouched(press: &Press<'_>, entry: &Entry) -> Vec<String> {
    let by = entry.done_by.map(|by| press.words.text(&format!("record.by.{}", by.word())));
    let basis = entry.basis.map(|basis| press.words.text(&format!("record.basis.{}", basis.word().replace(' ', "-"))));
    let said: Vec<String> = by.into_iter().chain(basis).collect();
    let said = if said.is_empty() { vec![press.words.text("record.not-said")] } else { said };
    said.into_iter().chain(entry.paper_on_file.then(|| press.words.text("entry.on-file"))).collect()
}

fn job_row(press: &Press<'_>, entry: &Entry, job: &JobRef, guide: &Guide) -> RecordJob {
    let title = press.job_title(job, guide);
    let day = entry.when.day().date;
    let revision = match guide.revised {
        Some(revised) if revised <= day => press.words.say("record.revised", &[("date", &press.words.day(revised))]),
        Some(revised) => press.words.say("record.revised-since", &[("date", &press.words.day(revised))]),
        None => press.words.text("record.no-revision"),
    };
    RecordJob { title, revision }
}

/// Of the job whose guide lists the part.
fn part_system<'b>(jobs: &[(&JobRef, &'b Guide)], part: &PartUse) -> Option<&'b str> {
    let lists = |guide: &Guide| guide.parts.iter().any(|used| used.item.value == part.item.value);
    jobs.iter().map(|(_, guide)| *guide).find(|guide| lists(guide)).map(|guide| guide.system.as_str())
}

fn part_text(press: &Press<'_>, part: &PartUse) -> String {
    super::entry::part_link(press, part, "").text
}

fn found(press: &Press<'_>, here: Here<'_>, entry: &Entry, number: usize, finding: &Finding) -> RecordFound {
    RecordFound {
        what: finding.what.clone(),
        grade_text: press.words.text(&format!("grades.{}", finding.grade.word())),
        cleared: if finding.grade == Grade::Good { None } else { cleared(press, here, entry, number) },
    }
}

/// By which entry a finding was cleared.
pub(super) fn cleared(press: &Press<'_>, here: Here<'_>, entry: &Entry, number: usize) -> Option<RecordCleared> {
    let Cleared { by, followed, .. } = press.cleared.get(&(entry.id.as_str(), number)).copied()?;
    let followed = followed.map(|one| Link { text: one.finding.what.clone(), href: here.plan.href(&by.id, here.page) });
    Some(RecordCleared { on: press.book_date(by.when.day()), by: title_link(press, here, by), followed })
}

/// An entry by its title, as a link to its place in the record.
pub(super) fn title_link(press: &Press<'_>, here: Here<'_>, entry: &Entry) -> Link {
    Link { text: press.entry_title(entry), href: here.plan.href(&entry.id, here.page) }
}

/// The other sections that tell of the entry.
fn also(here: Here<'_>, at: usize) -> Vec<Link> {
    let others = here.plan.parts_of(at).filter(|part| match &part.matter {
        Matter::System(system, _) => system.as_deref() != here.system,
        _ => false,
    });
    others.map(|part| Link { text: part.title.clone(), href: here.plan.part_href(part, here.page) }).collect()
}

/// A label with a length or another figure of the boat.
pub(super) fn length(press: &Press<'_>) -> Option<String> {
    let boat = &press.book.boat;
    boat.length.as_ref().map(|length| figures::figure(boat, &crate::quantity::Figure::Exact(length.clone())).text())
}

/// A label with its value.
pub(super) fn fact(press: &Press<'_>, key: &str, value: Option<String>) -> Option<Fact> {
    value.map(|value| Fact { label: press.words.text(key), value })
}
