//! A reading that a guide asks for and nobody ever took.
//!
//! One that no step asks for is told by `figure-never-used`, and not again here.

use super::figure_never_used::names;
use super::{Check, Context, GuideCheck, Rule};
use std::collections::BTreeSet;

const ID: &str = "reading-never-taken";

pub(super) const RULE: Rule = Rule {
    id: ID,
    why: "A trend shows wear long before a limit does, and it needs values. A reading that is skipped each time is asked for at the \
          wrong moment, needs a tool that is not aboard, or is not wanted.",
    check: Check::Guides(check),
};

/// Times the job was done without it.
const TIMES: usize = 3;

fn check<'c>(context: &'c Context<'_>) -> GuideCheck<'c> {
    Box::new(move |guide, _, notes| {
        if guide.readings.is_empty() {
            return;
        }
        let taken: BTreeSet<&str> = context.reckoning.readings_of(&guide.id).iter().map(|history| history.spec.id.as_str()).collect();
        let history = context.reckoning.jobs_of(&guide.id).iter().flat_map(|job| &job.history);
        // Done by the job itself, not by one that covers it, which has readings of its own.
        let done = history.filter(|done| !done.entry.when.is_open() && done.through.is_none());
        let done: BTreeSet<&str> = done.map(|done| done.entry.id.as_str()).collect();
        if done.len() < TIMES {
            return;
        }
        let asked = names(guide);
        for spec in guide.readings.iter().filter(|spec| asked.contains(spec.id.as_str()) && !taken.contains(spec.id.as_str())) {
            notes.advice(
                ID,
                spec.span,
                format!("`{}` was never taken, and the job was done {} times", spec.id, done.len()),
                "take it next time and note it under `readings`, or take it out of the guide",
            );
        }
    })
}

#[cfg(test)]
mod tests {
    use super::ID;
    use crate::survey::small_book::{book, found, guide_text, places};

    #[track_caller]
    fn case(step: &str, entries: &[&str], expected: &[&str]) {
        let front = "formerly: [old-job]\nreadings: {level: {unit: mm}, cells: {unit: V, at: [one, two]}}";
        let mut files = vec![
            ("guides/engine/job.md".to_owned(), guide_text(front, &format!("## Work\n\n1. {step}\n"))),
            ("guides/engine/all.md".to_owned(), "---\ntitle: All of it\ncovers: [job]\n---\n## Work\n\n1. Do it.\n".to_owned()),
        ];
        for (number, entry) in entries.iter().enumerate() {
            files.push((format!("log/2020/2020-0{}-01-job.md", number + 1), format!("---\n{}\n---\n", entry.replace("; ", "\n"))));
        }
        let files: Vec<(&str, &str)> = files.iter().map(|(path, text)| (path.as_str(), text.as_str())).collect();
        assert_eq!(places(&found(ID, &book(&files))), expected, "{step}: {entries:?}");
    }

    const STEP: &str = "Look. {read level} {read cells}";

    #[test]
    fn three_times_without_a_reading_are_told() {
        let done = ["jobs: [job]; date: 2020-01-01", "jobs: [old-job]; date: 2020-02-01", "jobs: [job]; date: 2020-03-01"];
        case(STEP, &done, &["4:12 level: {unit: mm}", "4:31 cells: {unit: V, at: [one, two]}"]);
        // One value at one point is a value.
        let once = ["jobs: [job]; date: 2020-01-01; readings: {cells: {two: 2 V}}", done[1], done[2]];
        case(STEP, &once, &["4:12 level: {unit: mm}"]);
    }

    #[test]
    fn fewer_times_open_work_and_work_of_another_job_tell_nothing() {
        let done = "jobs: [job]; date: 2020-01-01";
        case(STEP, &[done, "jobs: [job]; date: 2020-02-01"], &[]);
        case(STEP, &[done, "jobs: [job]; date: 2020-02-01", "jobs: [job]; started: 2020-03-01"], &[]);
        case(STEP, &[done, "jobs: [job]; date: 2020-02-01", "jobs: [all]; date: 2020-03-01"], &[]);
        // No step asks for it: that is another rule's.
        let three = [done, "jobs: [job]; date: 2020-02-01", "jobs: [job]; date: 2020-03-01"];
        case("Look.", &three, &[]);
    }
}
