//! What is only known about is never shown as if somebody had read it off the counter on that day.

use crate::support::{Book, entry};
use scraper::{Html, Selector};

const ON: &str = "2026-06-01";

/// Of three meters the value is only known about, the day, and both.
pub fn book(language: &str) -> Book {
    Book::new()
        .file(
            "boat.yaml",
            format!(
                "name: Test\nlanguage: {language}\nsystems: [{{id: engine, title: Engine}}]\n\
                 meters: [{{id: value, title: Value, unit: h}}, {{id: day, title: Day, unit: nmi}}, {{id: both, title: Both, unit: nmi}}]\n"
            ),
        )
        .file("log/2026/2026-05-20-value.md", entry("date: 2026-05-20\nwork: [Looked round]\nmeters: {value: ~1200}\n"))
        .file("log/2026/2026-05-days.md", entry("date: ~2026-05\nwork: [Came home]\nmeters: {day: 12000, both: ~3200}\n"))
}

/// The text of each element, with one blank where there are several.
fn texts(html: &str, selector: &str) -> Vec<String> {
    let (html, selector) = (Html::parse_document(html), Selector::parse(selector).expect("a selector"));
    html.select(&selector)
        .map(|found| found.text().collect::<Vec<_>>().join(" ").split_whitespace().collect::<Vec<_>>().join(" "))
        .collect()
}

#[track_caller]
fn said(language: &str, first_page: [&str; 3], meters_page: [&str; 3], table: [&str; 3], record: [&str; 3]) {
    let book = book(language);
    book.run(["publish", "--on", ON]).status(0);
    let things = texts(&book.text("site/index.html"), "li.thing");
    for line in first_page {
        assert!(things.iter().any(|thing| thing == line), "{line}: {things:?}");
    }
    let meters = book.text("site/meters.html");
    assert_eq!(texts(&meters, "p.now"), meters_page);
    assert_eq!(texts(&meters, "table.readings tbody tr"), table);
    let facts = texts(&book.text("site/record.html"), "dd");
    for line in record {
        assert!(facts.iter().any(|fact| fact == line), "{line}: {facts:?}");
    }
}

#[test]
fn the_pages_say_about_of_the_value_of_the_day_and_of_both() {
    said(
        "en",
        ["about 1200 h Value read on 20 May 2026", "12000 nmi Day read about May 2026", "about 3200 nmi Both read about May 2026"],
        ["about 1200 h read on 20 May 2026", "12000 nmi read about May 2026", "about 3200 nmi read about May 2026"],
        ["20 May 2026 about 1200 h Looked round", "about May 2026 12000 nmi Came home", "about May 2026 about 3200 nmi Came home"],
        ["about 1200 h, read on 20 May 2026", "12000 nmi, read about May 2026", "about 3200 nmi, read about May 2026"],
    );
}

#[test]
fn german_pages_say_so_too() {
    said(
        "de",
        [
            "etwa 1200 h Value abgelesen am 20. Mai 2026",
            "12000 nmi Day abgelesen etwa Mai 2026",
            "etwa 3200 nmi Both abgelesen etwa Mai 2026",
        ],
        ["etwa 1200 h abgelesen am 20. Mai 2026", "12000 nmi abgelesen etwa Mai 2026", "etwa 3200 nmi abgelesen etwa Mai 2026"],
        ["20. Mai 2026 etwa 1200 h Looked round", "etwa Mai 2026 12000 nmi Came home", "etwa Mai 2026 etwa 3200 nmi Came home"],
        ["etwa 1200 h, abgelesen am 20. Mai 2026", "12000 nmi, abgelesen etwa Mai 2026", "etwa 3200 nmi, abgelesen etwa Mai 2026"],
    );
}

#[test]
fn the_words_of_a_plot_say_so_too() {
    let book = book("en")
        .file("log/2025/2025-04-first.md", entry("date: ~2025-04\nwork: [Bought her]\nmeters: {day: 10000, both: ~1000}\n"))
        .published();
    let labels: Vec<String> = {
        let html = Html::parse_document(&book.text("site/meters.html"));
        let selector = Selector::parse("svg[aria-label]").expect("a selector");
        html.select(&selector).filter_map(|svg| svg.attr("aria-label").map(str::to_owned)).collect()
    };
    let begins = |words: &str| assert!(labels.iter().any(|label| label.starts_with(words)), "{labels:?}");
    begins("Day: 2 readings from about April 2025 to about May 2026, from 10000 nmi to 12000 nmi");
    begins("Both: 2 readings from about April 2025 to about May 2026, from about 1000 nmi to about 3200 nmi");
}

#[test]
fn the_forms_of_the_phone_are_told() {
    let book = book("en");
    book.run(["publish", "--on", ON]).status(0);
    let boat = book.text("site/assets/boat.js");
    for last in [
        r#""last":{"value":"1200","about":true,"day":"2026-05-20"}"#,
        r#""last":{"value":"12000","day":"2026-05","around":true}"#,
        r#""last":{"value":"3200","about":true,"day":"2026-05","around":true}"#,
    ] {
        assert!(boat.contains(last), "{last}: {boat}");
    }
}
