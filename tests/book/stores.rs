//! What pages say of stores, tools and gear: as the crew wrote it.

use crate::publish::words;
use crate::support::Book;

const ON: [&str; 3] = ["publish", "--on", "2026-06-01"];
const PUBLIC: [&str; 5] = ["publish", "--edition", "public", "--on", "2026-06-01"];

fn said(book: &Book, page: &str, selector: &str) -> String {
    words(&book.text(page), selector).split_whitespace().collect::<Vec<_>>().join(" ")
}

fn noted() -> Book {
    Book::new()
        .file(
            "boat.yaml",
            "name: Plover\nsystems: [{id: safety, title: Safety}]\n\
             gear: [{id: raft, title: Raft, system: safety, note: qzsix <persons> on the coachroof}]\n",
        )
        .file("tools.yaml", "- {id: wrench, title: Torque wrench, note: qzwind back to 10 after use}\n")
        .file("stores.yaml", "- {id: oil, title: Oil, note: qzprice of one litre}\n")
}

#[test]
fn a_note_is_shown_beside_what_it_is_about_and_found() {
    let book = noted();
    for (command, site) in [(&ON[..], "site"), (&PUBLIC[..], "site-public")] {
        book.run(command).status(0);
        let page = |name: &str| format!("{site}/{name}");
        assert_eq!(said(&book, &page("gear.html"), "#raft"), "Raft qzsix <persons> on the coachroof");
        assert_eq!(said(&book, &page("systems/safety.html"), ".gearitem"), "Raft qzsix <persons> on the coachroof");
        assert_eq!(said(&book, &page("tools.html"), "#wrench .task"), "Torque wrench qzwind back to 10 after use");
        assert_eq!(said(&book, &page("stores.html"), "#oil .task"), "Oil qzprice of one litre");
        let index: String = crate::support::files_under(&book.path(site).join("assets/search"))
            .values()
            .map(|bytes| String::from_utf8_lossy(bytes).into_owned())
            .collect();
        for word in ["qzsix", "qzwind", "qzprice"] {
            assert!(index.contains(word), "{word} is not found in {site}");
        }
    }
}

#[test]
fn a_note_that_is_kept_private_is_not_shown_to_others() {
    let book = noted();
    book.put("content/boat.yaml", (book.text("content/boat.yaml") + "private-fields: [note]\n").as_bytes());
    book.run(PUBLIC).status(0);
    for (path, bytes) in crate::support::files_under(&book.path("site-public")) {
        assert!(!String::from_utf8_lossy(&bytes).contains("qz"), "{path}");
    }
}

/// Oil in litres, with a least amount in gallons, and what the log and a guide take of it.
fn oil(units: &str) -> Book {
    Book::new()
        .file("boat.yaml", format!("name: Plover\nunits: {units}\nsystems: [{{id: engine, title: Engine}}]\n"))
        .file(
            "stores.yaml",
            "- {id: oil, title: Oil, counted: {on: 2026-01-01, qty: 4 L}, bought: [{on: 2026-02-01, qty: 1 US qt}], sold-in: [1 L, 20 L], \
             minimum: 1 US gal}\n- {id: hose, title: Hose, counted: {on: 2026-01-01, qty: 2 m}}\n",
        )
        .file(
            "guides/engine/oil-change.md",
            "---\ntitle: Change the oil\nevery: {calendar: 3 months}\nhazards: []\nparts: [{item: oil, qty: 2 L}]\nvalues: {level: 3 L}\n---\n\
             1. Pour in {level} of {oil}.\n",
        )
        .file("log/2026/2026-05-01-oil.md", "---\njobs: [oil-change]\ndate: 2026-05-01\nparts: [{item: oil, qty: 2 L}]\n---\n")
}

#[test]
fn amounts_of_stores_are_shown_as_they_are_written_in_any_book() {
    for units in ["metric", "imperial", "both"] {
        let book = oil(units);
        book.run(ON).status(0);
        // 4 L, 1 US qt of 0.946352946 L more, 2 L less; 1 US gal is 3.785411784 L.
        let oil = said(&book, "site/stores.html", "#oil");
        for words in [
            "2.94 L aboard · at least 1 US gal (3.79 L)",
            "sold in 1 L, 20 L",
            "4 L counted on 1 January 2026, 0.95 L bought since, 2 L used since",
            "1 US qt (0.95 L) bought",
            "2 L used",
        ] {
            assert!(oil.contains(words), "{units}: {words}: {oil}");
        }
        assert!(said(&book, "site/stores.html", "#hose").contains("2 m counted on"), "{units}");
        assert_eq!(said(&book, "site/guides/oil-change.html", "#part-oil .qty"), "2 L (2 US qt)", "{units}");
        assert!(said(&book, "site/log/2026.html", "main").contains("Oil, 2 L"), "{units}");
        assert!(said(&book, "site/record.html", "main").contains("Oil, 2 L"), "{units}");
        // Other figures of a guide go by what the crew likes to read.
        let step = said(&book, "site/guides/oil-change.html", ".step");
        let level = if units == "imperial" { "3 US qt (3 L)" } else { "3 L (3 US qt)" };
        assert!(step.contains(&format!("Pour in {level} of oil")), "{units}: {step}");
        // Due once within 90 days: needed 2 L, and 3.7854 L at least, with 2.9463… L aboard: 2.84 L are short, sold by the litre.
        let list = book.text("site/provisions.csv");
        assert!(list.contains("oil,Oil,,,2 L,2.94 L,3.79 L,2.84 L,3 L,3 x 1 L,"), "{units}: {list}");
    }
}

#[test]
fn an_interval_is_shown_as_it_is_written() {
    for (written, english, german) in [
        ("24 months", "every 24 months", "alle 24 Monate"),
        ("2 years", "every 2 years", "alle 2 Jahre"),
        ("1 year 6 months", "every 1 year 6 months", "alle 1 Jahr 6 Monate"),
        ("14 days", "every 14 days", "alle 14 Tage"),
        ("2 weeks", "every 2 weeks", "alle 2 Wochen"),
    ] {
        for (language, expected) in [("en", english), ("de", german)] {
            let guide = format!("---\ntitle: Look\nevery: {{calendar: {written}}}\nhazards: []\n---\n1. Look.\n");
            let book = Book::new()
                .file("boat.yaml", format!("name: Plover\nlanguage: {language}\nsystems: [{{id: rig, title: Rig}}]\n"))
                .file("guides/rig/look.md", guide);
            book.run(ON).status(0);
            let page = said(&book, "site/guides/look.html", "main");
            assert!(page.contains(expected), "{language}, {written}: {page}");
        }
    }
}
