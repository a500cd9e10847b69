//! Near names where very many lead nowhere: the first are offered, and nobody waits for the others.

use crate::support::{Book, Problem, entry, guide};
use std::fmt::Write as _;

fn remedies(problems: &[Problem], rule: &str) -> Vec<String> {
    problems.iter().filter(|problem| problem.rule == rule).map(|problem| problem.remedy.clone()).collect()
}

#[test]
fn one_slip_is_answered_wherever_it_was_made() {
    let book = Book::sound();
    for number in 0..300 {
        book.put(&format!("content/log/2026/2026-04-01-n{number:03}.md"), entry("jobs: [oill]\ndate: 2026-04-01\n").as_bytes());
    }
    let remedies = remedies(&book.survey(), "unknown-job");
    assert_eq!(remedies.len(), 300);
    assert!(remedies.iter().all(|remedy| remedy == "did you mean `oil`?"), "{remedies:?}");
}

#[test]
fn in_one_guide_the_first_slips_are_answered() {
    let mut values = String::from("values: {");
    let mut steps = String::from("## Work\n\n");
    for number in 0..60 {
        write!(values, "level-{number:02}: {number} mm, ").expect("text");
        writeln!(steps, "1. Fill to {{levle-{number:02}}}.").expect("text");
    }
    let book = Book::sound().file("guides/engine/job.md", guide("A job", &format!("{values}}}\n"), &steps));
    let remedies = remedies(&book.survey(), "unknown-mark");
    assert_eq!(remedies.len(), 60);
    let offered: Vec<usize> = (0..60).filter(|at| remedies[*at] == format!("did you mean `{{level-{at:02}}}`?")).collect();
    assert_eq!(offered, (0..50).collect::<Vec<_>>());
    assert!(remedies[50].starts_with("name a torque, value, part"), "{}", remedies[50]);
}

#[test]
fn what_a_file_that_cannot_be_read_would_be_called_is_not_missed() {
    // The second by the id that its name makes.
    let book = Book::sound()
        .file("guides/engine/broken.md", "no front matter")
        .file("guides/engine/Broken Too.md", "no front matter")
        .file("log/2026/2026-04-01-work.md", entry("jobs: [broken, broken-too, brokem]\ndate: 2026-04-01\n"));
    let found = book.survey();
    let missed: Vec<&str> = found.iter().filter(|problem| problem.rule == "unknown-job").map(|problem| problem.message.as_str()).collect();
    assert_eq!(missed, ["there is no guide `brokem`"]);
}
