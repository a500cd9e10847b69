//! The feed of the log, the calendar of dates, and guides as data: what a published site holds of them.
//!
//! Read by other projects' parsers: `icalendar`, `atom_syndication`, `scraper`, `serde_json`.

use crate::support::{Book, entry, guide, job};
use icalendar::parser::{read_calendar, unfold};
use scraper::{Html, Selector};
use serde_json::Value;
use std::collections::BTreeMap;

/// Properties of each event of a calendar, by its UID.
type Dates = BTreeMap<String, BTreeMap<String, String>>;

#[track_caller]
fn dates(book: &Book, path: &str) -> Dates {
    let text = unfold(&book.text(path));
    let calendar = read_calendar(&text).expect("another parser reads it");
    let mut dates = Dates::new();
    for event in &calendar.components {
        let pairs = event.properties.iter().map(|one| (one.name.to_string(), one.val.clone().unescape_text().to_string()));
        let properties: BTreeMap<String, String> = pairs.collect();
        assert!(dates.insert(properties["UID"].clone(), properties).is_none(), "a UID stands once");
    }
    dates
}

/// The event whose UID begins so.
#[track_caller]
fn date<'d>(dates: &'d Dates, uid: &str) -> &'d BTreeMap<String, String> {
    let found = dates.iter().find(|(id, _)| id.starts_with(&format!("{uid}@")));
    found.map(|(_, properties)| properties).unwrap_or_else(|| panic!("no {uid} in {:?}", dates.keys()))
}

#[track_caller]
fn feed(book: &Book, path: &str) -> atom_syndication::Feed {
    atom_syndication::Feed::read_from(book.text(path).as_bytes()).expect("another parser reads it")
}

fn with_site(book: Book, address: &str) -> Book {
    let boat = book.text("content/boat.yaml");
    book.file("boat.yaml", format!("{boat}site: {address}\n"))
}

/// A job due by the calendar, gear and stores that expire, a defect with a day, a passage.
fn full() -> Book {
    Book::sound()
        .file("guides/hull/anodes.md", job("Renew the anodes; check, and log \\ them", "every: {calendar: 12 months}\nnotice: 6 months\n"))
        .file("log/2026/2026-04-20-anodes.md", entry("jobs: [anodes]\ndate: 2026-04-20\n"))
        .file(
            "log/2026/2026-05-02-hull.md",
            entry("work: [Looked at the hull]\ndate: 2026-05-02\nfindings: [{what: Weeping hose, grade: watch, before: 2026-09}]\n"),
        )
        .file("stores.yaml", format!("{}- {{id: flares, title: Flares, expires: 2028-02}}\n", Book::sound().text("content/stores.yaml")))
        .file("passages.yaml", "- {id: north, title: North, depart: 2026-06-28, days: 10}\n")
}

#[test]
fn the_calendar_holds_what_has_a_date() {
    let book = full().published();
    let dates = dates(&book, "site/dates.ics");
    let span = |uid: &str| (date(&dates, uid)["DTSTART"].as_str(), date(&dates, uid)["DTEND"].as_str());
    // Twelve months on; the end is the day after (RFC 5545, 3.6.1).
    assert_eq!(span("due.anodes"), ("20270420", "20270421"));
    // `2029-05` is the end of that month, as 2028 is a leap year `2028-02` is its 29th.
    assert_eq!(span("gear.life-raft"), ("20290531", "20290601"));
    assert_eq!(span("store.flares"), ("20280229", "20280301"));
    assert_eq!(span("finding.2026-05-02-hull.1"), ("20260930", "20261001"));
    // From the day of departure to the day of return, which is ten days later and belongs to it: the span of
    // the RFC's own sample, 28 June to 8 July inclusive.
    assert_eq!(span("passage.north"), ("20260628", "20260709"));
    assert_eq!(date(&dates, "due.anodes")["SUMMARY"], "Renew the anodes; check, and log \\ them");
    assert_eq!(date(&dates, "due.anodes")["CATEGORIES"], "Hull");
    assert_eq!(date(&dates, "gear.life-raft")["SUMMARY"], "Expires: Life raft");
    assert_eq!(date(&dates, "finding.2026-05-02-hull.1")["SUMMARY"], "To be put right: Weeping hose");
    assert_eq!(date(&dates, "due.anodes")["DTSTAMP"], "20260601T000000Z");
    // From 20 October 2026 to 20 April 2027: 12 + 30 + 31 + 31 + 28 + 31 + 19 days, by the calendar.
    assert!(book.text("site/dates.ics").contains("TRIGGER:-P182D\r\n"));
}

#[test]
fn a_date_by_estimate_says_so() {
    let meters = "date,meter,value\n2025-06-01,engine,1000\n2026-06-01,engine,1365\n";
    let boat = Book::sound().text("content/boat.yaml");
    let book = Book::new()
        .file("boat.yaml", boat)
        .file("meters.csv", meters)
        .file("guides/engine/belt.md", job("Renew the belt", "every: {engine: 500 h}\n"))
        .file("log/2026/2026-06-01-belt.md", entry("jobs: [belt]\ndate: 2026-06-01\nmeters: {engine: 1365}\n"))
        .published();
    let dates = dates(&book, "site/dates.ics");
    // An hour a day: 500 days after 1 June 2026 is 14 October 2027.
    assert_eq!(date(&dates, "due.belt")["DTSTART"], "20271014");
    assert_eq!(date(&dates, "due.belt")["SUMMARY"], "Renew the belt (by estimate)");
}

#[test]
fn a_job_of_several_pieces_of_gear_has_a_date_for_each() {
    let book = Book::sound()
        .file("guides/engine/belt.md", job("Renew the belt", "every: {calendar: 12 months}\nfor: [port-engine, starboard-engine]\n"))
        .file("log/2026/2026-05-01-belt.md", entry("jobs: [belt/port-engine]\ndate: 2026-05-01\n"))
        .file("log/2026/2026-05-03-belt.md", entry("jobs: [belt/starboard-engine]\ndate: 2026-05-03\n"))
        .published();
    let dates = dates(&book, "site/dates.ics");
    assert_eq!(date(&dates, "due.belt.port-engine")["DTSTART"], "20270501");
    assert_eq!(date(&dates, "due.belt.starboard-engine")["DTSTART"], "20270503");
    assert_eq!(date(&dates, "due.belt.starboard-engine")["SUMMARY"], "Renew the belt (Starboard engine)");
}

#[test]
fn a_date_keeps_its_name_when_it_moves() {
    let book = full().published();
    let before = dates(&book, "site/dates.ics");
    book.put("content/log/2026/2026-06-05-anodes.md", entry("jobs: [anodes]\ndate: 2026-06-05\n").as_bytes());
    let passage = "- {id: north, title: Farther north, depart: 2026-07-01, days: 10}\n";
    book.put("content/passages.yaml", passage.as_bytes());
    book.run(["publish", "--on", "2026-06-06"]).status(0);
    let after = dates(&book, "site/dates.ics");
    assert_eq!(before.keys().collect::<Vec<_>>(), after.keys().collect::<Vec<_>>());
    assert_eq!(date(&after, "due.anodes")["DTSTART"], "20270605");
    assert_eq!(date(&after, "passage.north")["DTSTART"], "20260701");
    assert!(date(&after, "due.anodes")["DTSTAMP"] > date(&before, "due.anodes")["DTSTAMP"], "the newer state is known as such");
}

#[test]
fn without_dates_and_entries_there_are_no_such_files_and_no_links_to_them() {
    let book = Book::new().file("boat.yaml", "name: Plover\n").published();
    let site = book.site();
    for path in ["dates.ics", "log.atom"] {
        assert!(!site.files.contains_key(path), "{path}");
        assert!(site.pages().all(|(_, page)| !page.contains(path)), "{path}");
    }
}

#[test]
fn files_that_are_there_are_linked() {
    let site = full().published().site();
    for (page, path) in [("index.html", "dates.ics"), ("index.html", "log.atom"), ("log.html", "log.atom")] {
        assert!(site.page(page).contains(&format!("<a href=\"{path}\">")), "{page} to {path}");
    }
    for page in ["index.html", "log.html"] {
        let html = Html::parse_document(site.page(page));
        let link = Selector::parse("head > link[rel=alternate][type='application/atom+xml']").expect("a selector");
        assert_eq!(html.select(&link).filter_map(|link| link.value().attr("href")).collect::<Vec<_>>(), ["log.atom"]);
    }
}

#[test]
fn a_day_later_only_the_state_is_another() {
    let book = full().published();
    let before = book.site();
    book.run(["publish", "--on", "2026-06-02"]).status(0);
    let after = book.site();
    let changed = after.changed_since(&before);
    assert!(changed.contains(&"dates.ics") && !changed.contains(&"log.atom"), "{changed:?}");
    book.run(["publish", "--on", "2026-06-01"]).status(0);
    book.site().assert_same_bytes(&before);
}

#[test]
fn the_feed_has_the_newest_entries() {
    let mut book = Book::sound();
    for day in 1..=27 {
        for name in ["a", "b"] {
            book = book.file(
                &format!("log/2026/2026-05-{day:02}-{name}.md"),
                format!("---\nwork: [Work {day}{name}]\ndate: 2026-05-{day:02}\n---\nOne *note*.\n"),
            );
        }
    }
    let read = feed(&book.published(), "site/log.atom");
    assert_eq!(read.entries().len(), 50);
    assert_eq!(read.title().as_str(), "Log of Test boat");
    assert_eq!(read.authors()[0].name(), "Test boat");
    assert_eq!(read.updated().to_rfc3339(), "2026-05-27T00:00:00+00:00");
    let first = &read.entries()[0];
    assert_eq!(first.title().as_str(), "Work 27b");
    assert_eq!(first.updated().to_rfc3339(), "2026-05-27T00:00:00+00:00");
    assert_eq!(first.links()[0].href(), "log/2026.html#2026-05-27-b");
    assert_eq!(first.summary().map(|summary| summary.as_str()), Some("27 May 2026. One note."));
    assert_eq!(read.entries()[49].title().as_str(), "Work 3a");
}

#[test]
fn ids_stay_when_title_site_and_edition_change() {
    let ids = |book: &Book, path: &str| {
        let read = feed(book, path);
        let entries = read.entries().iter().map(|entry| entry.id.clone()).collect::<Vec<_>>();
        (read.id().to_owned(), entries)
    };
    let book = full().published();
    let before = ids(&book, "site/log.atom");
    // RFC 4287, 4.2.6: an absolute IRI.
    assert!(before.1.iter().chain([&before.0]).all(|id| id.starts_with("urn:uuid:")), "{before:?}");
    let book = with_site(book.file("guides/hull/anodes.md", job("Anodes", "every: {calendar: 6 months}\n")), "https://boat.example/book/");
    book.run(["publish", "--on", "2026-06-01"]).status(0);
    assert_eq!(ids(&book, "site/log.atom"), before);
    book.run(["publish", "--on", "2026-06-01", "--edition", "public"]).status(0);
    assert_eq!(ids(&book, "site-public/log.atom"), before);
    let read = feed(&book, "site/log.atom");
    let own: Vec<&str> = read.links().iter().filter(|link| link.rel() == "self").map(|link| link.href()).collect();
    assert_eq!(own, ["https://boat.example/book/log.atom"]);
    assert_eq!(read.entries()[0].links()[0].href(), "https://boat.example/book/log/2026.html#2026-05-02-hull");
    let dates = dates(&book, "site/dates.ics");
    assert_eq!(date(&dates, "due.anodes")["URL"], "https://boat.example/book/guides/anodes.html");
}

#[test]
fn the_public_calendar_says_neither_what_is_due_nor_when_she_leaves() {
    let book = full();
    book.run(["publish", "--on", "2026-06-01", "--edition", "public"]).status(0);
    let kinds: Vec<String> =
        dates(&book, "site-public/dates.ics").into_keys().map(|uid| uid.split('.').next().unwrap_or_default().to_owned()).collect();
    // What the public pages say: gear, stores and defects with their days.
    assert_eq!(kinds, ["finding", "gear", "store"]);
    let text = book.text("site-public/dates.ics");
    assert!(!text.contains("North") && !text.contains("20260628") && !text.contains("20270420"), "{text}");
}

#[test]
fn the_feed_names_nobody_and_no_cost() {
    let front = "work: [Renewed the bow light]\ndate: 2026-05-20\nby: [Qzname]\nplace: Qzplace\ncosts: [{what: Qzcost, cost: 77 EUR}]\n";
    let hidden = "---\nwork: [Qzhidden]\ndate: 2026-05-21\nprivate: true\n---\n";
    let notes = "Seen. <!-- private -->Qzkey<!-- /private -->\n";
    let book = full()
        .file("log/2026/2026-05-20-light.md", format!("{}{notes}", entry(front)))
        .file("log/2026/2026-05-21-hidden.md", hidden)
        .published();
    let crew = book.text("site/log.atom");
    assert!(crew.contains("Qzhidden") && crew.contains("Qzkey"), "the crew reads all that it wrote");
    // Kept by programs elsewhere: even the crew's feed leaves these to the pages.
    assert!(["Qzname", "Qzplace", "Qzcost", "77 EUR"].iter().all(|word| !crew.contains(word)), "{crew}");
    book.run(["publish", "--on", "2026-06-01", "--edition", "public"]).status(0);
    let public = book.text("site-public/log.atom");
    assert!(public.contains("Renewed the bow light") && !public.contains("Qz"), "{public}");
}

/// The data of a guide's page.
#[track_caller]
fn how_to(book: &Book, guide: &str) -> Value {
    let page = Html::parse_document(&book.text(&format!("site/guides/{guide}.html")));
    let script = Selector::parse("script[type='application/ld+json']").expect("a selector");
    let data: Vec<String> = page.select(&script).map(|script| script.text().collect()).collect();
    assert_eq!(data.len(), 1);
    serde_json::from_str(&data[0]).expect("JSON")
}

#[test]
fn a_guide_is_data_where_the_site_has_an_address() {
    let book = with_site(full(), "https://boat.example/book").published();
    let data = how_to(&book, "oil");
    assert_eq!((data["@context"].as_str(), data["@type"].as_str()), (Some("https://schema.org"), Some("HowTo")));
    assert_eq!(data["name"], "Change the oil");
    assert_eq!(data["url"], "https://boat.example/book/guides/oil.html");
    assert_eq!(data["tool"][0]["@type"], "HowToTool");
    assert_eq!(data["tool"].as_array().map(Vec::len), Some(2));
    assert_eq!(data["supply"][1]["requiredQuantity"], "7.5 L");
    // A step without a time: a sum would be less than the whole.
    assert_eq!(data["totalTime"], Value::Null);
    let steps = data["step"].as_array().expect("steps");
    let names: Vec<&str> = steps.iter().filter_map(|step| step["name"].as_str()).collect();
    assert_eq!(names, ["Cautions", "Drain", "Refill"]);
    assert!(steps[0]["text"].as_str().is_some_and(|text| text.contains("WARNING: ")), "{}", steps[0]);
    assert_eq!(steps[1]["@type"], "HowToSection");
    let second = &steps[1]["itemListElement"][1];
    assert_eq!(second["@type"], "HowToStep");
    assert_eq!(second["name"], "Drain, step 2");
    // The caution before the act, and the names of tool and part in its place.
    let text = second["text"].as_str().unwrap_or_default();
    assert!(text.starts_with("WARNING: Hot oil scalds. Let it cool. Undo the plug"), "{text}");
    let first = steps[1]["itemListElement"][0]["text"].as_str().unwrap_or_default();
    assert!(first.contains("Isolate: start key") && first.contains("Prove: it does not turn"), "{first}");
    // Every step leads to a place that is there.
    let page = Html::parse_document(&book.text("site/guides/oil.html"));
    for step in steps.iter().chain(steps.iter().filter_map(|step| step["itemListElement"].as_array()).flatten()) {
        let url = step["url"].as_str().expect("a url");
        let place = url.strip_prefix("https://boat.example/book/guides/oil.html#").unwrap_or_else(|| panic!("{url}"));
        assert_eq!(page.select(&Selector::parse(&format!("[id='{place}']")).expect("a selector")).count(), 1, "{url}");
    }
}

#[test]
fn times_of_a_guide_are_iso_8601() {
    // ISO 8601-1, 5.5.2: P, then days, T, then hours, minutes, seconds.
    for (front, body, expected) in [
        ("", "1. One. {takes 50 min}\n2. Two. {takes 40 min}\n", Some("PT1H30M")),
        ("", "1. One. {takes 10 min} {wait 26 h: glue sets}\n", Some("P1DT2H10M")),
        ("time: 2 h 30 min\n", "1. One.\n", Some("PT2H30M")),
        ("", "1. One. {takes 50 min}\n2. Two.\n", None),
        ("", "1. One.\n", None),
    ] {
        let book = with_site(Book::sound(), "https://boat.example");
        let book = book.file("guides/hull/glue.md", guide("Glue", front, &format!("## Work\n\n{body}"))).published();
        assert_eq!(how_to(&book, "glue")["totalTime"].as_str(), expected, "{front}{body}");
    }
}

#[test]
fn no_text_ends_the_data() {
    let title = "\"Oil </script><script>alert(1)</script> <!-- & \\\\\"";
    let front = "safety: [\"WARNING: a </script> b\"]\n";
    let body = "## Work `</script>`\n\n1. Do `</script><!--<script>` it.\n";
    let book = with_site(Book::sound(), "https://boat.example").file("guides/hull/odd.md", guide(title, front, body)).published();
    let data = how_to(&book, "odd");
    assert_eq!(data["name"], "Oil </script><script>alert(1)</script> <!-- & \\");
    assert!(data["step"][0]["text"].as_str().is_some_and(|text| text.contains("WARNING: a </script> b")), "{data}");
    assert!(data["step"][1]["itemListElement"][0]["text"].as_str().is_some_and(|text| text.contains("</script><!--<script>")), "{data}");
}

#[test]
fn without_an_address_pages_carry_no_data() {
    let site = full().published().site();
    assert!(site.pages().all(|(_, page)| !page.contains("ld+json")), "a page from a folder is not to be heavier");
}

#[test]
fn the_pocket_file_carries_no_data_twice() {
    let book = with_site(full(), "https://boat.example").published();
    assert!(!book.text("site/pocket.html").contains("ld+json"));
}

#[test]
fn dates_and_feed_speak_the_language_of_the_boat() {
    let boat = Book::sound().text("content/boat.yaml");
    let book = full().file("boat.yaml", format!("{boat}language: de\n")).published();
    let dates = dates(&book, "site/dates.ics");
    assert_eq!(date(&dates, "gear.life-raft")["SUMMARY"], "Läuft ab: Life raft");
    assert_eq!(date(&dates, "finding.2026-05-02-hull.1")["SUMMARY"], "Zu beheben: Weeping hose");
    let read = feed(&book, "site/log.atom");
    assert_eq!((read.title().as_str(), read.lang()), ("Logbuch von Test boat", Some("de")));
    assert!(book.text("site/log.html").contains("Logbuch abonnieren"));
}
