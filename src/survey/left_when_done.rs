//! A finished entry that still says how the boat was left.

use super::{Check, Context, Rule};
use crate::book::diagnostic::{Diagnostic, Notes};

const ID: &str = "left-when-done";

pub(super) const RULE: Rule = Rule {
    id: ID,
    why: "What open entries left shut, off or apart heads the first page. A finished entry is history: a seacock that it says is \
          still shut stands nowhere but in the log.",
    check: Check::Book(check),
};

fn check(context: &Context<'_>) -> Vec<Diagnostic> {
    let mut found = Vec::new();
    let entries = context.book.entries.iter();
    for entry in entries.filter(|entry| !entry.when.is_open() && !entry.left.is_empty()) {
        let mut notes = Notes::new(&entry.source);
        notes.warning(
            ID,
            entry.when_span,
            "this entry is finished, so the first page does not show what `left` says",
            "take `left` out if it no longer holds; if the job is not finished, write `started` alone, without `date` and `done`",
        );
        found.append(&mut notes.found);
    }
    found
}

#[cfg(test)]
mod tests {
    use super::ID;
    use crate::survey::small_book::{book, found, places};

    #[track_caller]
    fn case(when: &str, expected: &[&str]) {
        let text = format!("---\nwork: [Changed the impeller]\n{when}\nleft: [seacock shut]\n---\n");
        assert_eq!(places(&found(ID, &book(&[("log/2020/2020-02-01-a.md", &text)]))), expected, "{when}");
    }

    #[test]
    fn how_she_was_left_is_asked_of_open_jobs() {
        case("date: 2020-02-01", &["3:7 2020-02-01"]);
        case("started: 2020-02-01\ndone: 2020-02-03", &["3:10 2020-02-01"]);
        case("started: 2020-02-01", &[]);
        let without = "---\nwork: [Changed the impeller]\ndate: 2020-02-01\n---\n";
        assert!(found(ID, &book(&[("log/2020/2020-02-01-a.md", without)])).is_empty());
    }
}
