//! A store of which the log used more than was counted: the pages ask for a count, and say nowhere that
//! less than nothing is aboard.

use crate::support::{Book, entry, job};

/// Counted 2 L, used 5 L: 3 L more than was counted.
fn miscounted() -> Book {
    let book = Book::sound();
    let stores =
        book.text("content/stores.yaml") + "- {id: sump-oil, title: Sump oil, counted: {on: 2026-01-05, qty: 2 L}, minimum: 1 L}\n";
    book.file("stores.yaml", stores)
        .file("guides/engine/top-up.md", job("Top up the oil", "parts:\n  - {item: sump-oil, qty: 1 L}\n"))
        .file("log/2026/2026-02-01-oil.md", entry("date: 2026-02-01\nwork: [Filled the sump]\nparts: [{item: sump-oil, qty: 5 L}]\n"))
        .published()
}

#[test]
fn the_first_page_the_stores_and_the_guide_ask_for_a_count() {
    let site = miscounted().site();
    for path in ["index.html", "stores.html", "guides/top-up.html"] {
        let page = site.page(path);
        assert!(page.contains("the log used 3 L more than was counted: count again"), "{path}");
        assert!(!page.contains("-3 L"), "{path}");
    }
    // Nothing counts as aboard: one doing lacks all of its litre.
    assert!(site.page("guides/top-up.html").contains("short by 1 L"));
}

#[test]
fn what_is_apart_stands_above_the_guides_and_in_the_pocket_file() {
    let site = Book::sound()
        .file("log/2026/2026-03-01-apart.md", entry("started: 2026-03-01\njobs: [oil]\nleft: [no oil in the engine]\n"))
        .published()
        .site();
    for path in ["index.html", "guides.html", "pocket.html"] {
        assert!(site.page(path).contains("no oil in the engine"), "{path}");
    }
}
