//! `survey --explain`: a rule in plain words, without a book; and what only the survey tells.

use crate::broken::case;
use crate::support::Book;
use garboard::survey::rule_names;

#[test]
fn a_rule_is_explained_without_a_book() {
    // There is no `content/` where a book was taken away.
    let nowhere = Book::new().without("");
    for rule in ["alone", "caution-without-act", "estimate-off"] {
        let said = nowhere.run(["survey", "--explain", rule]).status(0).stdout_has(rule);
        let said = said.stdout_has("What it means: ").stdout_has("How to mend it: ");
        assert!(said.stderr.is_empty(), "{said:?}");
    }
    nowhere.run(["survey", "--explain", "alone"]).stdout_has("Why it matters: ").stdout_has("(warning)");
    nowhere.run(["survey"]).status(1);
}

#[test]
fn an_unknown_rule_is_answered_with_the_nearest() {
    Book::sound().run(["survey", "--explain", "long-stepp"]).status(2).stdout("").stderr_has("did you mean `long-step`?");
    Book::sound().run(["survey", "--explain", "no such rule at all"]).status(2).stdout("").stderr_has("there is no rule");
    Book::sound().run(["survey", "--explain", ""]).status(2).stdout("");
}

#[test]
fn every_problem_of_a_case_can_be_explained() {
    let names = rule_names();
    for name in ["alone-aloft", "german-words", "hazard-that-words-suggest", "unknown-mark", "entry-of-the-future"] {
        for problem in case(name).survey() {
            assert!(names.contains(&problem.rule), "{problem:?}");
        }
    }
}

#[test]
fn what_the_survey_finds_changes_no_site_and_no_status() {
    let book = case("alone-aloft");
    book.run(["survey", "--on", "2026-06-01"]).status(0).stdout_has("one person alone");
    let published = book.run(["publish", "--on", "2026-06-01"]).status(0);
    assert!(!published.stderr.contains("alone") && !published.stdout.contains("alone"), "{published:?}");
    let due = book.run(["due", "--on", "2026-06-01"]).status(0);
    assert!(!due.stderr.contains("warning"), "{due:?}");
}
