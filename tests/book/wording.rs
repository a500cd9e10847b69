//! What pages say in few words, where a part is missing or several stand side by side.

use crate::support::Book;
use scraper::{Html, Selector};

fn book() -> Book {
    let boat = "name: Plover\nsystems: [{id: engine, title: Engine}]\nmeters: [{id: engine, title: Engine hours, unit: h}]\n";
    let guide = "---\ntitle: Change the oil\nevery: {engine: 100 h, calendar: 12 months}\noccasions: [haul-out, lay-up]\nhazards: [hot-liquids]\n\
                 parts: [{item: filter, qty: 1}]\nreadings: {voltage: {unit: V, limits: 12.4..}}\n---\n## Drain\n\
                 1. Pump. {run 2 L at 1 L/min, 15 min on, 10 min off}\n2. Pump on. {run 2 L at 1 L/min, 1 min on, 2 min off} {read voltage}\n\
                 3. Let it drip. {takes 5 min} {wait 20 min: drip}\n";
    Book::new()
        .file("boat.yaml", boat)
        .file("stores.yaml", "- {id: filter, title: Filter, stowed: bought fresh each spring}\n")
        .file("guides/engine/oil.md", guide)
        .file("log/2026/2026-03-14-oil.md", "---\njobs: [oil]\ndate: 2026-03-14\nmeters: {engine: 100}\nreadings: {voltage: 12.1 V}\n---\n")
        .file("log/2025/2025-03-14-read.md", "---\nwork: [Read]\ndate: 2025-03-14\nmeters: {engine: 60}\n---\n")
}

/// The words of each element, with single spaces.
fn words(page: &str, selector: &str) -> Vec<String> {
    let page = Html::parse_document(page);
    let of = |element: scraper::ElementRef<'_>| element.text().collect::<String>().split_whitespace().collect::<Vec<_>>().join(" ");
    page.select(&Selector::parse(selector).expect("a selector")).map(of).collect()
}

#[test]
fn pages_say_it_in_words_that_read_well() {
    let book = book();
    book.run(["publish", "--on", "2026-06-01"]).status(0);
    let guide = book.text("site/guides/oil.html");
    let governs = words(&guide, ".rules .governs");
    assert!(governs.iter().all(|line| line.ends_with("– this one decides")) && governs.len() == 1, "{governs:?}");
    assert_eq!(words(&guide, ".parts .aboard"), ["never counted, short by 1"]);
    let runs = words(&guide, ".mark-run");
    assert!(runs[0].ends_with("2 L at 1 L/min: about 2 min, no rest needed"), "{runs:?}");
    assert!(runs[1].ends_with("1 min on, 2 min off, 1 rest, about 4 min"), "{runs:?}");
    // 20 min of dripping, and 2 min of rest for the pump.
    assert!(words(&guide, ".takes dd p").iter().any(|line| line == "22 min of waiting"), "{:?}", words(&guide, ".takes dd p"));
    let stores = words(&book.text("site/stores.html"), ".asides li");
    assert!(stores.contains(&"stowed: bought fresh each spring".to_owned()), "{stores:?}");
    let problems = book.text("site/about.html");
    assert_eq!(words(&problems, "#problems .task > p:first-child"), ["voltage is 12.1 V, outside the limits of oil: at least 12.4 V"]);
    assert_eq!(words(&problems, "#problems .task > p:first-child code"), ["voltage", "oil"]);
    let record = words(&book.text("site/record.html"), ".tally div");
    assert!(record.contains(&"Entries that do not say how it is known2".to_owned()), "{record:?}");
}

#[test]
fn under_an_occasion_a_job_names_the_others_alone() {
    let book = book();
    book.run(["publish", "--on", "2026-06-01"]).status(0);
    let page = book.text("site/occasions.html");
    let at = |section: &str| words(&page, &format!("{section} .job .aside a[href*=occasions]"));
    assert_eq!((at("#haul-out"), at("#lay-up")), (vec!["Lay-up".to_owned()], vec!["Haul-out".to_owned()]));
}
