//! Private passages of an entry, and what its notes point at.

use crate::book::decode::testing::{Read, whole_entry};
use crate::book::model::Entry;

fn with_body(body: &str) -> Read<Entry> {
    // The body begins on line 4.
    whole_entry(&format!("---\ndate: 2026-03-14\n---\n{body}"))
}

#[track_caller]
fn hidden(body: &str, expected: &[&str]) {
    let entry = with_body(body).clean();
    let found: Vec<&str> = entry.private_passages.iter().map(|span| entry.source.slice(*span)).collect();
    assert_eq!(found, expected);
}

#[test]
fn a_passage_goes_from_mark_to_mark() {
    hidden("All public.", &[]);
    hidden("a <!-- private -->b<!-- /private --> c", &["<!-- private -->b<!-- /private -->"]);
    hidden("<!--private-->\nb\n<!--/PRIVATE-->\n", &["<!--private-->\nb\n<!--/PRIVATE-->"]);
    // Code hides no mark.
    hidden("```\n<!-- private -->\nx\n<!-- /private -->\n```\n", &["<!-- private -->\nx\n<!-- /private -->"]);
    hidden(
        "<!-- private -->a<!-- /private -->b<!-- private -->c<!-- /private -->",
        &["<!-- private -->a<!-- /private -->", "<!-- private -->c<!-- /private -->"],
    );
    hidden("<!-- <!-- private -->b<!-- /private -->", &["<!-- private -->b<!-- /private -->"]);
    hidden("<!-- a remark -->", &[]);
    hidden("<!-- nothing private in here, only a remark -->", &[]);
}

#[test]
fn a_passage_that_is_not_closed_hides_to_the_end() {
    let read = with_body("a\n<!-- private -->\nb\n");
    read.expect_one("5:1 private-passage", "is not closed", "<!-- /private -->");
    let entry = read.value.expect("decoded");
    assert_eq!(entry.source.slice(entry.private_passages[0]), "<!-- private -->\nb\n");
}

#[test]
fn what_would_hide_nothing_is_an_error() {
    with_body("a <!-- /private --> b").expect_one("4:3 private-passage", "not opened", "<!-- private -->");
    with_body("<!-- privat --> b").expect_one("4:1 private-passage", "`<!-- privat -->` hides nothing", "<!-- private -->");
    with_body("<!-- private -- > b").expect(&["4:1 private-passage"]);
    with_body("<!-- end private -->").expect(&["4:1 private-passage"]);
    with_body("<!-- private -->a<!-- private -->b<!-- /private -->").expect_one(
        "4:18 private-passage",
        "inside another",
        "close the first",
    );
}

#[test]
fn pictures_and_links_are_found_where_they_stand() {
    let entry =
        with_body("![Filter](2026-03-14-oil-and-filter/old.jpg) <!-- private -->![Bill](bill.jpg)<!-- /private --> [other](../x.md)\n")
            .clean();
    let pictures: Vec<(&str, &str)> =
        entry.pictures.iter().map(|picture| (picture.alt.as_str(), entry.source.slice(picture.path.span))).collect();
    assert_eq!(pictures, [("Filter", "2026-03-14-oil-and-filter/old.jpg"), ("Bill", "bill.jpg")]);
    assert!(entry.private_passages[0].contains(entry.pictures[1].path.span));
    assert!(!entry.private_passages[0].contains(entry.pictures[0].path.span));
    assert_eq!(entry.source.slice(entry.links[0].target.span), "../x.md");
    // A line that begins with a mark is Markdown all the same.
    let entry = with_body("<!-- private --> ![Bill](bill.jpg) <!-- /private -->\n").clean();
    assert_eq!(entry.source.slice(entry.pictures[0].path.span), "bill.jpg");
}
