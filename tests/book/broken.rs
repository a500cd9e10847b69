//! Every way in which a book is commonly broken, and the place at which the survey must say so.
//!
//! `tests/broken/NAME/` holds the files of one case, laid over the sound book `tests/broken/base`,
//! and `expected`: a line a problem, `path:line:column severity rule`, columns counted in
//! characters from 1. A `*` stands where the format leaves the line or column open: YAML says itself
//! where it stumbles.

use crate::support::{Book, Problem, broken_folder};
use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

fn cases() -> Vec<String> {
    let names = fs::read_dir(broken_folder()).expect("the folder of broken books");
    let mut names: Vec<String> = names.map(|item| item.expect("a folder").file_name().to_string_lossy().into_owned()).collect();
    names.retain(|name| name != "base");
    names.sort();
    names
}

/// Lays a case over the sound book.
pub fn case(name: &str) -> Book {
    let book = Book::sound();
    for entry in walkdir::WalkDir::new(broken_folder().join(name)) {
        let entry = entry.expect("a file of the case");
        let inside = entry.path().strip_prefix(broken_folder().join(name)).expect("inside");
        if entry.file_type().is_file() && inside != Path::new("expected") {
            book.put(&format!("content/{}", inside.display()), &fs::read(entry.path()).expect("read"));
        }
    }
    book
}

/// Rules that ask whether a guide is complete. The guides of most cases are cut down to the one thing
/// that is wrong with them, so these count only in cases that expect one of the same rule.
const COMPLETE: [&str; 4] = ["never-due", "never-used", "figure-never-used", "figure-by-hand"];

/// The problems of a case that count in it.
fn counted(name: &str, expected: &str) -> Vec<Problem> {
    let mut found = case(name).survey();
    found.retain(|problem| {
        !COMPLETE.contains(&problem.rule.as_str()) || expected.lines().any(|line| line.ends_with(&format!(" {}", problem.rule)))
    });
    found
}

/// Pairs each expected line with a problem; says what is missing and what is too much.
fn differences(expected: &str, found: &[Problem]) -> Vec<String> {
    let mut left: Vec<String> = found.iter().map(Problem::line).collect();
    let mut wrong = Vec::new();
    for line in expected.lines() {
        match left.iter().position(|found| fits(line, found)) {
            Some(at) => {
                left.remove(at);
            }
            None => wrong.push(format!("not said: {line}")),
        }
    }
    wrong.extend(left.into_iter().map(|line| format!("too much: {line}")));
    wrong
}

fn fits(expected: &str, found: &str) -> bool {
    let parts = |line: &str| {
        let (place, rest) = line.split_once(' ').map(|(place, rest)| (place.to_owned(), rest.to_owned()))?;
        let mut pieces = place.rsplitn(3, ':').map(str::to_owned);
        Some([pieces.next()?, pieces.next()?, pieces.next()?, rest])
    };
    let (Some(expected), Some(found)) = (parts(expected), parts(found)) else { return false };
    expected.iter().zip(&found).all(|(expected, found)| expected == "*" || expected == found)
}

#[test]
fn the_base_of_all_cases_is_sound() {
    assert_eq!(Book::sound().survey(), []);
    Book::sound().run(["survey", "--on", "2026-06-01"]).status(0);
}

#[test]
fn every_problem_is_said_at_its_place_and_no_other() {
    let names = cases();
    assert!(names.len() >= 60, "{}", names.len());
    let mut wrong = Vec::new();
    for name in names {
        let expected = fs::read_to_string(broken_folder().join(&name).join("expected")).expect("what is expected");
        let found = counted(&name, &expected);
        for difference in differences(&expected, &found) {
            wrong.push(format!("{name}: {difference}"));
        }
    }
    assert!(wrong.is_empty(), "{} wrong:\n{}", wrong.len(), wrong.join("\n"));
}

#[test]
fn every_problem_says_what_is_wrong_and_how_to_mend_it() {
    let mut rules = BTreeSet::new();
    for name in cases() {
        for problem in case(&name).survey() {
            rules.insert(problem.rule.clone());
            let said = format!("{name}: {problem:?}");
            assert!(!problem.remedy.trim().is_empty(), "{said}");
            assert!(!problem.message.trim().is_empty(), "{said}");
            assert!(
                !problem.message.starts_with(|first: char| first.is_uppercase()
                    && !problem.message.starts_with("YAML")
                    && !problem.message.starts_with("Windows")
                    && first != 'N'),
                "{said}"
            );
            assert!(!problem.message.ends_with('.') && !problem.remedy.ends_with('.'), "{said}");
            assert!(problem.rule.bytes().all(|byte| byte.is_ascii_lowercase() || byte == b'-' || byte.is_ascii_digit()), "{said}");
        }
    }
    assert!(rules.len() > 50, "{rules:?}");
}

#[test]
fn errors_end_with_status_1_and_warnings_do_not() {
    let on = ["survey", "--format", "json", "--on", "2026-06-01"];
    case("unknown-mark").run(on).status(1);
    case("entry-of-the-future").run(on).status(0);
    case("unknown-part-and-tool").run(on).status(0);
}

/// The remedy of the only problem of a case.
#[track_caller]
fn remedy(name: &str, expected: &str) {
    let found = case(name).survey();
    let remedies: Vec<&str> = found.iter().map(|problem| problem.remedy.as_str()).collect();
    assert!(remedies.iter().any(|remedy| remedy.contains(expected)), "{name}: {remedies:?}");
}

#[test]
fn a_mistyped_word_is_answered_with_the_nearest_known_one() {
    remedy("unknown-key-in-a-guide", "`torque`");
    remedy("unknown-key-in-the-boat", "`home-port`");
    remedy("unknown-key-in-a-part", "`qty`");
    remedy("unknown-key-in-an-entry", "`meters`");
    remedy("unknown-key-in-the-stores", "`minimum`");
    remedy("unknown-key-in-a-passage", "`days`");
    remedy("unknown-hazard", "`hot-liquids`");
    remedy("unknown-occasions", "`haul-out`");
    remedy("unknown-meters", "`engine`");
    remedy("unknown-jobs", "`oil`");
    remedy("unknown-part-and-tool", "`strap-wrench`");
    remedy("reading-of-no-guide", "`oil-pressure`");
    remedy("stage-that-waits-for-none", "`One`");
    remedy("stage-of-no-guide", "`Refill`");
    remedy("mistyped-mark", "{takes 10 min}");
    remedy("file-nearly-named-right", "`stores.yaml`");
    remedy("findings-that-are-not-there", "2026-03-14-oil/1");
}

#[test]
fn what_yaml_misreads_is_answered_with_how_to_write_it() {
    remedy("decimal-comma-in-braces", "`7.5 L`");
    remedy("decimal-comma-in-a-meter", "`1850.5`");
    remedy("colon-without-a-space", "`engine: 200 h`");
    remedy("yes-is-a-word", "`true`");
    remedy("unquoted-colon", "\"Oil: change\"");
    remedy("value-cut-at-a-hash", "quotes");
    remedy("tab-for-indentation", "spaces");
    remedy("an-interval-without-its-name", "calendar: 12 months");
    remedy("a-word-where-a-list-is-needed", "[hot-liquids]");
    remedy("about-without-its-sign", "`~2026-04`");
    remedy("bare-gallons", "US gal");
    remedy("bare-gallons", "imp gal");
    remedy("fastener-that-cannot-be-read", "`M8 8.8`");
    remedy("fastener-that-cannot-be-read", "`M13x` and the pitch");
    remedy("torque-in-another-unit", "`90 lbf·in`");
}

/// The message and the remedy of the only problem at a place.
#[track_caller]
fn said(book: &Book, place: &str) -> (String, String) {
    let found = book.survey();
    let there: Vec<&Problem> = found.iter().filter(|problem| problem.line().starts_with(place)).collect();
    let [problem] = there.as_slice() else { panic!("{place}: {found:?}") };
    (problem.message.clone(), problem.remedy.clone())
}

#[test]
fn a_name_that_can_be_no_id_is_not_to_be_listed_as_it_is() {
    let entry = "---\nwork: [x]\nsystem: Engine Room\ndate: 2026-03-14\n---\n";
    let book = Book::new()
        .file("boat.yaml", "name: Tern\n")
        .file("guides/Engine Room/job.md", crate::support::job("A job", "occasions: [Next winter]\n"))
        .file("log/2026/2026-03-14-x.md", entry);
    let folder = "guides/Engine Room/job.md:2:8";
    let name = "the name of the folder `Engine Room` is no id of a system";
    assert_eq!(said(&book, folder), (name.to_owned(), "rename it to `engine-room`".to_owned()));
    let (_, remedy) = said(&book, "guides/Engine Room/job.md:3:13");
    assert!(remedy.starts_with("write it as an id, `next-winter`, and add that to `occasions` in `boat.yaml`"), "{remedy}");
    let (_, remedy) = said(&book, "log/2026/2026-03-14-x.md:3:9");
    assert!(remedy.starts_with("write it as an id, `engine-room`, and add that to `systems`"), "{remedy}");
    // Where the boat lists her systems, the new name must be among them.
    let book = book.file("boat.yaml", "name: Tern\nsystems: [{id: hull, title: Hull}]\n");
    assert_eq!(said(&book, folder).1, "rename it to `engine-room`, and add that to `systems` in `boat.yaml`");
    let book = book.file("boat.yaml", "name: Tern\nsystems: [{id: engine-room, title: Engine room}]\n");
    assert_eq!(said(&book, folder).1, "rename it to `engine-room`");
}

#[test]
fn a_calendar_with_a_slip_is_no_meter() {
    for (interval, place) in [("calender: 12 months", "guides/e/job.md:3:9"), ("calender: 90 days", "guides/e/job.md:3:9")] {
        let book = Book::new()
            .file("boat.yaml", "name: Tern\n")
            .file("guides/e/job.md", crate::support::job("A job", &format!("every: {{{interval}}}\n")));
        let problems = book.survey();
        let lines: Vec<String> = problems.iter().filter(|one| one.severity == "error").map(Problem::line).collect();
        assert_eq!(lines, [format!("{place} error unknown-meter")], "{interval}");
        assert_eq!(said(&book, place), ("there is no meter `calender`".to_owned(), "did you mean `calendar`?".to_owned()));
    }
}

#[test]
fn a_link_that_leads_nowhere_does_not_mean_its_own_file() {
    let text = crate::support::guide("A job", "", "See [the other](heads-lay-u.md).\n\n1. Do it.\n");
    let book = Book::new().file("boat.yaml", "name: Tern\n").file("guides/e/heads-lay-up.md", text);
    let (_, remedy) = said(&book, "guides/e/heads-lay-up.md:4:17");
    assert!(remedy.starts_with("name a file of the book"), "{remedy}");
}

#[test]
fn a_name_without_a_latin_letter_is_said_to_name_nothing() {
    let front = "values: {ποσότητα: 7.5 L}\nreadings: {πίεση: {unit: bar}}\n";
    let text = crate::support::guide("A job", front, "1. {ποσότητα} {read πίεση}\n");
    let book = Book::new().file("boat.yaml", "name: Tern\n").file("guides/e/job.md", text);
    let (message, remedy) = said(&book, "guides/e/job.md:6:15");
    assert_eq!(message, "`πίεση` has no letter from a to z and no digit, so it is the name of no reading");
    assert_eq!(remedy, "name it in letters from a to z; a plain brace is `\\{`");
    let (message, _) = said(&book, "guides/e/job.md:6:4");
    assert_eq!(message, "`ποσότητα` has no letter from a to z and no digit, so it is the name of no figure");
    assert!(book.survey().iter().all(|one| !format!("{} {}", one.message, one.remedy).contains("``")));
}

#[test]
fn a_wrong_checksum_is_answered_with_the_right_one() {
    // The sums as recomputed in the published notes on NMEA 0183: 4F, 48 and 77.
    for sum in ["*4F", "*48", "*77"] {
        remedy("wrong-checksums", sum);
    }
}

#[test]
fn a_meter_that_runs_backwards_names_both_suspects() {
    let found = case("meter-that-runs-backwards").survey();
    let [problem] = found.as_slice() else { panic!("{found:?}") };
    let said = format!("{} {}", problem.message, problem.remedy);
    // The other reading: line 4 of the entry of 2026-03-14.
    assert!(said.contains("2026-03-14-oil.md:4"), "{said}");
    assert!(said.contains("1804.5") && said.contains("1840.5"), "{said}");
}

#[test]
fn problems_come_in_the_order_of_files_and_lines() {
    let found = case("unknown-meters").survey();
    let places: Vec<(String, u64, u64)> = found.iter().map(|problem| (problem.file.clone(), problem.line, problem.column)).collect();
    let mut sorted = places.clone();
    sorted.sort();
    assert_eq!(places, sorted);
}
