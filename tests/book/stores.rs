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
