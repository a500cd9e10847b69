//! An entry that was never closed, though the log tells of the same job as finished since.

use super::{Check, Context, Rule};
use crate::book::diagnostic::{Diagnostic, Notes};

const ID: &str = "still-open";

pub(super) const RULE: Rule = Rule {
    id: ID,
    why: "While an entry is open its job is told as open: whether it is overdue is not said, and how the boat was left then stands \
          on the first page as if it still held.",
    check: Check::Book(check),
};

fn check(context: &Context<'_>) -> Vec<Diagnostic> {
    let mut found: Vec<Diagnostic> = Vec::new();
    for job in context.book.guides.iter().flat_map(|guide| context.reckoning.jobs_of(&guide.id)) {
        let Some(done) = job.last_done.as_ref().filter(|done| done.through.is_none() && !done.date.about) else { continue };
        for open in job.open.iter().filter(|open| !open.when.day().about && open.when.day().date < done.date.date) {
            let mut notes = Notes::new(&open.source);
            notes.warning(
                ID,
                open.when_span,
                format!("this entry is open, and the log has `{}` as finished on {}: {}", job.guide.id, done.date.date, done.entry.id),
                "if that ended it, write `done: …` here and take the job out of the other entry; or take this entry away",
            );
            found.append(&mut notes.found);
        }
    }
    // A job for several pieces of gear has the entry under each.
    found.sort_by(|a, b| (&a.place.file, &a.message).cmp(&(&b.place.file, &b.message)));
    found.dedup_by(|a, b| a.place.file == b.place.file && a.message == b.message);
    found
}

#[cfg(test)]
mod tests {
    use super::ID;
    use crate::survey::small_book::{book, found, guide_text, places};

    #[track_caller]
    fn case(log: &[(&str, &str)], expected: &[&str]) {
        let mut files = vec![("guides/engine/job.md".to_owned(), guide_text("every: {calendar: 1 months}", "## Work\n\n1. Do it.\n"))];
        files.extend(log.iter().map(|(name, front)| (format!("log/2020/{name}.md"), format!("---\njobs: [job]\n{front}\n---\n"))));
        let files: Vec<(&str, &str)> = files.iter().map(|(path, text)| (path.as_str(), text.as_str())).collect();
        assert_eq!(places(&found(ID, &book(&files))), expected, "{log:?}");
    }

    #[test]
    fn an_open_entry_with_a_finished_one_after_it_is_told() {
        case(&[("2020-02-01-a", "started: 2020-02-01"), ("2020-03-01-b", "date: 2020-03-01")], &["3:10 2020-02-01"]);
        case(&[("2020-02-01-a", "started: 2020-02-01"), ("2020-01-01-b", "date: 2020-01-01")], &[]);
        case(&[("2020-02-01-a", "started: 2020-02-01\ndone: 2020-02-05"), ("2020-03-01-b", "date: 2020-03-01")], &[]);
        case(&[("2020-02-01-a", "started: ~2020-02"), ("2020-03-01-b", "date: 2020-03-01")], &[]);
    }
}
