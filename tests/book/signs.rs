//! Names that differ in a sign alone: on the pages, in readings and on the command line they are two things.

use crate::broken::case;
use crate::support::Book;
use scraper::{Html, Selector};

const ON: [&str; 3] = ["publish", "--on", "2026-06-01"];

fn published() -> (Book, Html) {
    let book = case("sound-signs-that-tell-things-apart");
    book.run(ON).status(0);
    let page = Html::parse_document(&book.text("site/guides/job.html"));
    (book, page)
}

fn elements<'p>(page: &'p Html, selector: &str) -> Vec<scraper::ElementRef<'p>> {
    page.select(&Selector::parse(selector).expect("a selector")).collect()
}

fn texts(page: &Html, selector: &str) -> Vec<String> {
    let words = |element: scraper::ElementRef<'_>| element.text().collect::<String>().split_whitespace().collect::<Vec<_>>().join(" ");
    elements(page, selector).into_iter().map(words).collect()
}

#[test]
fn each_isolation_is_paired_with_its_own_restoring() {
    let (_, page) = published();
    let keys = |kind: &str| -> Vec<String> {
        let marks = elements(&page, &format!("#steps .mark-{kind}"));
        marks.into_iter().map(|mark| mark.attr("data-key").expect("a key").to_owned()).collect()
    };
    // As a browser gives them: what stands in the page is escaped.
    assert_eq!(keys("isolate"), ["battery--", "battery-+", "seacock-1-/-2-\"", "seacock-1-2"]);
    assert_eq!(keys("restore"), ["seacock-1-/-2-\"", "seacock-1-2", "battery-+", "battery--"]);
}

#[test]
fn the_table_of_what_is_isolated_has_a_line_for_each() {
    let (_, page) = published();
    let lines = texts(&page, ".isolations tbody tr");
    let expected = ["battery -", "battery +", "seacock 1/2\"", "seacock 1 2"];
    assert_eq!(lines.len(), expected.len(), "{lines:?}");
    for (line, what) in lines.iter().zip(expected) {
        assert!(line.starts_with(what), "{line}");
    }
}

#[test]
fn points_that_differ_in_a_sign_have_each_its_own_value() {
    let (book, page) = published();
    let lines = texts(&page, "#read-voltage .pointline");
    assert!(lines.iter().any(|line| line.starts_with("pole +") && line.contains("12.6 V")), "{lines:?}");
    assert!(lines.iter().any(|line| line.starts_with("pole -") && line.contains("0 V")), "{lines:?}");
    let run = book.run(["enter", "job", "--on", "2026-06-01", "--reading", "voltage/Pole −=0.1 V", "--reading", "voltage/pole+=12.4 V"]);
    run.status(0).stdout_has("2026-06-01-job");
    let entry = book.text("content/log/2026/2026-06-01-job.md");
    assert!(entry.contains("readings: {voltage: {\"pole -\": 0.1 V, \"pole +\": 12.4 V}}"), "{entry}");
}

#[test]
fn a_stage_is_found_by_its_words_where_a_mark_cannot_hold_its_name() {
    let (_, page) = published();
    let links = elements(&page, ".stagehead .aside a");
    let found: Vec<_> = links.iter().map(|link| link.attr("href").unwrap_or_default()).collect();
    assert_eq!(found, ["#s-shut-off-then-let-cool"]);
}
