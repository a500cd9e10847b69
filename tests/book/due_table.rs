//! `due` for people: which rows are shown, and what they say.

use crate::support::{Book, entry, job};

fn book() -> Book {
    let every = "every: {calendar: 12 months}\n";
    let mut book = Book::new().file("boat.yaml", "name: Test boat\nsystems: [{id: engine, title: Engine}]\n");
    for (id, title, front, last) in [
        ("over", "Over", every, Some("2025-05-01")),
        ("today", "Today", every, Some("2025-06-01")),
        ("near", "Near", every, Some("2025-06-20")),
        ("far", "Far", every, Some("2026-05-01")),
        ("never", "Never", every, None),
        ("hauled", "Hauled", "occasions: [haul-out]\n", None),
        ("asked", "Asked", "", None),
    ] {
        book = book.file(&format!("guides/engine/{id}.md"), job(title, front));
        if let Some(last) = last {
            book = book.file(&format!("log/{}/{last}-{id}.md", &last[..4]), entry(&format!("jobs: [{id}]\ndate: {last}\n")));
        }
    }
    book
}

/// Rows of the table as lists of words set apart by two spaces or more.
fn rows(stdout: &str) -> Vec<Vec<&str>> {
    stdout.lines().map(|line| line.split("  ").map(str::trim).filter(|cell| !cell.is_empty()).collect()).collect()
}

#[test]
fn only_what_needs_attention_is_listed_most_pressing_first() {
    let run = book().run(["due", "--on", "2026-06-01"]).status(0);
    let expected = [
        vec!["state", "due on", "left", "job", "last done"],
        vec!["overdue", "2026-05-01", "-31 days", "Over", "2025-05-01"],
        vec!["no record", "-", "-", "Never", "never recorded"],
        vec!["due", "2026-06-01", "0 days", "Today", "2025-06-01"],
        vec!["soon", "2026-06-20", "19 days", "Near", "2025-06-20"],
    ];
    assert_eq!(rows(&run.stdout), expected, "{}", run.stdout);
    assert_eq!(run.stderr, "");
}

#[test]
fn all_lists_everything() {
    let run = book().run(["due", "--all", "--on", "2026-06-01"]).status(0);
    let found = rows(&run.stdout);
    assert_eq!(found.len(), 8, "{}", run.stdout);
    assert_eq!(found[5], ["later", "2027-05-01", "334 days", "Far", "2026-05-01"]);
    assert_eq!((found[6][0], found[7][0]), ("on occasion", "as needed"));
}

#[test]
fn what_is_left_begins_with_the_rule_that_decides() {
    // 100 h at 1 h a day are up on 2026-06-10, the year on 2027-03-02.
    let book = Book::new()
        .file(
            "boat.yaml",
            "name: Test boat\nsystems: [{id: engine, title: Engine}]\nmeters: [{id: engine, title: Engine hours, unit: h}]\n",
        )
        .file("guides/engine/by-hours.md", job("By hours", "every: {calendar: 12 months, engine: 100 h}\n"))
        .file("log/2026/2026-03-02-a.md", entry("jobs: [by-hours]\ndate: 2026-03-02\nmeters: {engine: 0}\n"))
        .file("log/2026/2026-06-01-b.md", entry("date: 2026-06-01\nmeters: {engine: 91}\n"));
    let run = book.run(["due", "--all", "--on", "2026-06-01"]).status(0);
    assert_eq!(rows(&run.stdout)[1], ["soon", "~2026-06-10", "9 h, 274 days", "By hours", "2026-03-02"]);
}

#[test]
fn what_goes_by_a_meter_that_nobody_reads_is_not_passed_over() {
    let meters = "meters: [{id: engine, title: Engine hours, unit: h}]\n";
    let boat = format!("name: Test boat\nsystems: [{{id: engine, title: Engine}}]\n{meters}");
    let book = Book::new()
        .file("boat.yaml", &boat)
        .file("guides/engine/belt.md", job("Belt", "every: {engine: 100 h}\n"))
        .file("guides/engine/far.md", job("Far", "every: {engine: 100 h, calendar: 24 months}\n"))
        .file("log/2026/2026-05-01-a.md", entry("jobs: [belt, far]\ndate: 2026-05-01\n"));
    let said = "1 job depends on a meter with too few readings, so nobody can say when it is due";
    let run = book.run(["due", "--on", "2026-06-01"]).status(0);
    assert_eq!(run.stdout, format!("nothing needs attention as of 2026-06-01\n\n{said}: --all lists it\n"));
    assert!(!book.run(["due", "--all", "--on", "2026-06-01"]).status(0).stdout.contains(said));
    book.run(["publish", "--on", "2026-06-01"]).status(0);
    let page = book.text("site/index.html");
    assert!(page.contains(said) && page.contains("1 other job needs nothing now"), "{page}");
    // Once it is known how fast it runs, what is left can be said.
    let reads = |day: &str, value: u32| entry(&format!("date: {day}\nmeters: {{engine: {value}}}\n"));
    let book = book.file("log/2026/2026-05-02-b.md", reads("2026-05-02", 10)).file("log/2026/2026-05-22-c.md", reads("2026-05-22", 11));
    assert_eq!(book.run(["due", "--on", "2026-06-01"]).stdout, "nothing needs attention as of 2026-06-01\n");
}

#[test]
fn the_columns_stand_in_line() {
    let run = book().run(["due", "--all", "--on", "2026-06-01"]);
    let head = run.stdout.lines().next().expect("a head");
    let at = head.find("job").expect("a column");
    for (line, title) in run.stdout.lines().skip(1).zip(["Over", "Never", "Today", "Near", "Far", "Hauled", "Asked"]) {
        assert!(line[at..].starts_with(title), "{}", run.stdout);
        assert_eq!(line.trim_end(), line);
    }
}

#[test]
fn when_nothing_presses_it_says_so() {
    let book = Book::new().file("boat.yaml", "name: Solo\n");
    book.run(["due", "--on", "2026-06-01"]).status(0).stdout("nothing needs attention as of 2026-06-01\n");
}
