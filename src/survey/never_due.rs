//! A guide that never falls due and that nothing calls for.
//!
//! A repair has no interval, and needs none where what shows the need names it: a finding, a piece of
//! gear, a job that covers it, or another guide with a link to it.

use super::{Check, Context, GuideCheck, Rule};
use crate::book::check::{Target, resolve};
use crate::book::model::Book;
use std::collections::BTreeSet;

const ID: &str = "never-due";

pub(super) const RULE: Rule = Rule {
    id: ID,
    why: "A job without an interval and without an occasion is done when somebody thinks of it. That is right for a repair, which \
          the guide of the inspection should name; an inspection or a service should come up by itself.",
    check: Check::Guides(check),
};

fn check<'c>(context: &'c Context<'_>) -> GuideCheck<'c> {
    let called = called(context.book);
    let linked = linked(context.book);
    Box::new(move |guide, _, notes| {
        let comes_up = !guide.every.is_empty() || !guide.first.is_empty() || !guide.occasions.is_empty() || guide.routine;
        let names = std::iter::once(&guide.id).chain(guide.formerly.iter().map(|name| &name.value));
        let named = names.map(String::as_str).any(|name| called.contains(name)) || linked.contains(guide.source.path());
        if !comes_up && !named {
            notes.advice(
                ID,
                guide.title_span,
                "this job has no interval and no occasion: it never falls due, and nothing calls for it",
                "write `every` or `occasions`; name a repair where its need shows: by a link from the guide that looks for it, or as \
                 the `guide` of a finding or of gear",
            );
        }
    })
}

/// Guides that gear, findings and other jobs name.
fn called(book: &Book) -> BTreeSet<&str> {
    let gear = book.boat.gear.iter().filter_map(|gear| gear.guide.as_ref());
    let findings = book.entries.iter().flat_map(|entry| &entry.findings).filter_map(|finding| finding.guide.as_ref());
    let covered = book.guides.iter().flat_map(|guide| guide.covers.iter().filter(|name| name.value != guide.id));
    gear.chain(findings).chain(covered).map(|name| name.value.as_str()).collect()
}

/// Files that a guide, another than theirs, links to.
fn linked(book: &Book) -> BTreeSet<String> {
    let mut linked = BTreeSet::new();
    for guide in &book.guides {
        let folder = format!("guides/{}", guide.system);
        for link in &guide.outline.links {
            if let Target::Inside { path, .. } = resolve(&folder, &link.target.value)
                && path != guide.source.path()
            {
                linked.insert(path);
            }
        }
    }
    linked
}

#[cfg(test)]
mod tests {
    use super::ID;
    use crate::survey::small_book::{book, found, guide_text, places};

    #[track_caller]
    fn case(front: &str, beside: &[(&str, &str)], expected: &[&str]) {
        let text = guide_text(front, "## Work\n\n1. Do it.\n");
        let mut files = vec![("guides/engine/job.md", text.as_str())];
        files.extend(beside);
        assert_eq!(places(&found(ID, &book(&files))), expected, "{front}");
    }

    const OTHER: &str = "guides/engine/other.md";

    #[test]
    fn a_job_that_never_comes_up_is_told() {
        case("crew: 1", &[], &["2:8 A job"]);
        // A link from itself calls for nothing.
        let text = guide_text("crew: 1", "See [above](job.md).\n\n## Work\n\n1. Do it.\n");
        assert_eq!(places(&found(ID, &book(&[("guides/engine/job.md", &text)]))), ["2:8 A job"]);
    }

    #[test]
    fn an_interval_an_occasion_a_round_or_whoever_names_it_brings_it_up() {
        case("every: {calendar: 1 year}", &[], &[]);
        case("first: {engine: 50 h}", &[], &[]);
        case("occasions: [haul-out]", &[], &[]);
        case("routine: true", &[], &[]);
        let covers = "---\ntitle: Other\nevery: {calendar: 1 year}\ncovers: [job]\n---\n## Work\n\n1. Do it.\n";
        case("crew: 1", &[(OTHER, covers)], &[]);
        let links = "---\ntitle: Other\nevery: {calendar: 1 year}\n---\n## Work\n\n1. Else [do it](../engine/job.md#work).\n";
        case("crew: 1", &[(OTHER, links)], &[]);
        let finding = "---\ndate: 2020-01-01\nfindings: [{what: Weep, grade: watch, guide: was}]\n---\n";
        case("formerly: [was]", &[("log/2020/2020-01-01-seen.md", finding)], &[]);
    }
}
