//! The shape of feed and calendar, held against the rules of RFC 5545 and RFC 4287 and read by other
//! projects' parsers: `icalendar`, `atom_syndication`, `roxmltree`.

use super::atom::{self, Feed, FeedEntry};
use super::calendar::{self, Calendar, CalendarDate, escaped, fold};
use super::identity;
use icalendar::parser::{Component, read_calendar, unfold};
use jiff::civil::{Date, date};
use proptest::prelude::*;
use uuid::Uuid;

fn on(first: Date, last: Date, title: &str) -> CalendarDate {
    CalendarDate {
        id: "due.oil@book".to_owned(),
        first,
        last,
        title: title.to_owned(),
        notes: Vec::new(),
        address: None,
        category: "Engine".to_owned(),
        busy: false,
        notice: None,
    }
}

fn written(dates: Vec<CalendarDate>) -> String {
    let calendar = Calendar { name: "Plover: dates".to_owned(), as_of: date(2026, 4, 17), dates };
    calendar::text(&calendar).expect("a calendar")
}

/// The value of a property of a component, as another project's parser reads it.
#[track_caller]
fn value(component: &Component<'_>, name: &str) -> String {
    component.find_prop(name).unwrap_or_else(|| panic!("{name}")).val.clone().unescape_text().to_string()
}

#[track_caller]
fn title_read_back(title: &str) -> String {
    let text = unfold(&written(vec![on(date(2026, 4, 17), date(2026, 4, 17), title)]));
    let calendar = read_calendar(&text).expect("another parser reads it");
    value(&calendar.components[0], "SUMMARY")
}

#[test]
fn text_is_escaped() {
    // RFC 5545, 3.3.11; the literal case was made with the PyPI package icalendar 7.3.2.
    assert_eq!(escaped("Oil; filter, 2 x gasket\\ring\nCheck level"), "Oil\\; filter\\, 2 x gasket\\\\ring\\nCheck level");
    assert_eq!(escaped("a: b"), "a: b", "a colon is not escaped");
    assert_eq!(escaped("a\r\nb\rc"), "a\\nb\\nc");
    assert_eq!(escaped("a\u{7}\u{0}b\tc"), "ab c", "control characters cannot be said");
}

#[test]
fn long_lines_are_folded_at_75_octets() {
    // Made with the PyPI package icalendar 7.3.2: 112 characters, 114 octets, two physical lines.
    let line = "SUMMARY:Change sea-water pump impeller – check cover-plate gasket, wear plate and shaft seal (spare in locker 3)";
    assert_eq!((line.chars().count(), line.len()), (112, 114));
    let mut out = String::new();
    fold(line, &mut out);
    let physical: Vec<&str> = out.strip_suffix("\r\n").expect("ends with CR LF").split("\r\n").collect();
    assert_eq!(physical.len(), 2);
    assert!(physical.iter().all(|line| line.len() <= 75));
    assert_eq!(out.replace("\r\n ", ""), format!("{line}\r\n"));
}

#[test]
fn no_character_is_cut_by_a_fold() {
    // Two and four octets, so that each of the last places of a line falls inside one.
    for (letter, pad) in [("ä", 0..4), ("🔧", 0..8)] {
        for pad in pad {
            let line = format!("SUMMARY:{}{}", "x".repeat(pad), letter.repeat(60));
            let mut out = String::new();
            fold(&line, &mut out);
            assert!(out.split("\r\n").all(|physical| physical.len() <= 75), "{out}");
            assert_eq!(out.replace("\r\n ", ""), format!("{line}\r\n"));
        }
    }
}

#[test]
fn titles_come_back_from_another_parser() {
    for title in [
        "Öl; Filter, und \\ Dichtung prüfen",
        "Impeller 🔧 and 🛢️, then the level; see the handbook – all of it, from the first page to the last one there is",
        "Größenmäßig überprüfen: Ankerwinschenölständeprüfgerätschaftsüberwürfe müssen öfter geölt werden äöüß",
        "END:VEVENT",
    ] {
        assert_eq!(title_read_back(title), title);
    }
    assert_eq!(title_read_back("one\nEND:VCALENDAR\r\ntwo"), "one\nEND:VCALENDAR\ntwo");
}

#[test]
fn a_day_ends_where_the_next_begins() {
    // RFC 5545, 3.6.1: DTEND is not part of the event. The last row is its own sample, 28 June to 8 July 2007 inclusive.
    for (first, last, start, end) in [
        (date(2026, 4, 17), date(2026, 4, 17), "20260417", "20260418"),
        (date(2029, 5, 31), date(2029, 5, 31), "20290531", "20290601"),
        (date(2028, 2, 29), date(2028, 2, 29), "20280229", "20280301"),
        (date(2026, 12, 31), date(2026, 12, 31), "20261231", "20270101"),
        (date(2007, 6, 28), date(2007, 7, 8), "20070628", "20070709"),
    ] {
        let text = written(vec![on(first, last, "t")]);
        assert!(text.contains(&format!("\r\nDTSTART;VALUE=DATE:{start}\r\nDTEND;VALUE=DATE:{end}\r\n")), "{text}");
    }
    let last_of_all = written(vec![on(Date::MAX, Date::MAX, "t")]);
    assert!(!last_of_all.contains("DTEND"), "no day follows, and without DTEND one day is meant");
}

#[test]
fn each_event_has_what_the_rules_ask_for_once() {
    let with_all = CalendarDate {
        notes: vec!["every 12 months".to_owned(), "a; b".to_owned()],
        address: Some("https://boat.example/über/guides/oil.html".to_owned()),
        notice: Some(183),
        ..on(date(2026, 4, 17), date(2026, 4, 17), "Oil")
    };
    let text = written(vec![with_all, on(date(2026, 5, 1), date(2026, 5, 3), "Away")]);
    assert!(text.is_ascii() && text.ends_with("END:VCALENDAR\r\n"));
    assert_eq!(text.matches('\n').count(), text.matches("\r\n").count(), "every line ends with CR LF");
    let unfolded = unfold(&text);
    let calendar = read_calendar(&unfolded).expect("another parser reads it");
    let count = |properties: &[icalendar::parser::Property<'_>], name: &str| properties.iter().filter(|one| one.name == name).count();
    for name in ["VERSION", "PRODID"] {
        assert_eq!(count(&calendar.properties, name), 1, "{name}");
    }
    assert_eq!(calendar.components.len(), 2);
    for event in &calendar.components {
        assert_eq!(event.name, "VEVENT");
        for name in ["UID", "DTSTAMP", "DTSTART", "DTEND", "SUMMARY"] {
            assert_eq!(count(&event.properties, name), 1, "{name}");
        }
        assert_eq!(value(event, "DTSTAMP"), "20260417T000000Z");
        assert!(event.find_prop("DURATION").is_none(), "DTEND or DURATION, not both");
    }
    let first = &calendar.components[0];
    assert_eq!(value(first, "DESCRIPTION"), "every 12 months\na; b");
    assert_eq!(value(first, "URL"), "https://boat.example/%C3%BCber/guides/oil.html");
    let alarm = &first.components[0];
    // RFC 5545, 3.6.6: these three, of a DISPLAY alarm.
    assert_eq!(
        (value(alarm, "ACTION"), value(alarm, "TRIGGER"), value(alarm, "DESCRIPTION")),
        ("DISPLAY".into(), "-P183D".into(), "Oil".into())
    );
    assert!(calendar.components[1].components.is_empty());
}

#[test]
fn without_dates_there_is_no_calendar() {
    // RFC 5545, 3.6: one component at the least.
    assert_eq!(calendar::text(&Calendar { name: "Plover".to_owned(), as_of: date(2026, 4, 17), dates: Vec::new() }), None);
}

#[test]
fn names_are_the_same_for_ever() {
    // Python's uuid.uuid5 of the same namespace and names.
    let book = identity::of_book("Plover");
    assert_eq!(book.to_string(), "f4547b69-03f8-5632-99c2-a2f8b2edbec4");
    assert_eq!(identity::of_log(&book).to_string(), "bafb39a6-b9d1-5072-8240-429f96c1d310");
    assert_eq!(identity::of_entry(&book, "2026-03-14-oil").to_string(), "517c26b6-b93d-5496-b28a-2e939a233c9b");
    assert_eq!(identity::of_date(&book, "due", &["oil", "port"]), "due.oil.port@f4547b69-03f8-5632-99c2-a2f8b2edbec4");
    assert_eq!(identity::of_book("  PLOVER "), book, "however it is spelt");
    assert_eq!(identity::of_book("Plover!"), book, "a sign of her name must not tell every reader of new entries");
    assert_ne!(identity::of_book("Чибис"), identity::of_book("Кулик"), "in any script");
}

fn feed(entries: Vec<FeedEntry>) -> Feed {
    Feed {
        id: Uuid::from_u128(1),
        language: "en".to_owned(),
        title: "Log of <Plover> & \"others\"".to_owned(),
        author: "Plover".to_owned(),
        page: "log.html".to_owned(),
        own: None,
        entries,
    }
}

fn entry(number: u128, updated: Date, title: &str) -> FeedEntry {
    let page = format!("log/2026.html#e{number}");
    FeedEntry { id: Uuid::from_u128(number), title: title.to_owned(), updated, page, summary: "1 < 2 ]]> &amp;".to_owned() }
}

#[test]
fn a_feed_has_what_the_rules_ask_for_once() {
    let feed = Feed {
        own: Some("https://boat.example/log.atom".to_owned()),
        ..feed(vec![entry(7, date(2026, 3, 14), "Oil \u{8}& filter <b>"), entry(6, date(2028, 2, 29), "Ölwechsel 🔧")])
    };
    let text = atom::text(&feed).expect("a feed");
    let tree = roxmltree::Document::parse(&text).expect("well formed");
    let root = tree.root_element();
    let atom = "http://www.w3.org/2005/Atom";
    assert!(root.has_tag_name((atom, "feed")));
    // RFC 4287, 4.1.1 and 4.1.2.
    let count = |node: roxmltree::Node<'_, '_>, name: &str| node.children().filter(|child| child.has_tag_name((atom, name))).count();
    for name in ["id", "title", "updated", "author", "generator"] {
        assert_eq!(count(root, name), 1, "{name}");
    }
    for entry in root.children().filter(|child| child.has_tag_name((atom, "entry"))) {
        for name in ["id", "title", "updated", "summary"] {
            assert_eq!(count(entry, name), 1, "{name}");
        }
    }
    let read = atom_syndication::Feed::read_from(text.as_bytes()).expect("another parser reads it");
    assert_eq!(read.title().as_str(), "Log of <Plover> & \"others\"");
    assert_eq!(read.id(), "urn:uuid:00000000-0000-0000-0000-000000000001");
    // The latest of its entries, whatever their order.
    assert_eq!(read.updated().to_rfc3339(), "2028-02-29T00:00:00+00:00");
    let links: Vec<(&str, &str)> = read.links().iter().map(|link| (link.rel(), link.href())).collect();
    assert_eq!(links, [("alternate", "log.html"), ("self", "https://boat.example/log.atom")]);
    let first = &read.entries()[0];
    assert_eq!(first.title().as_str(), "Oil & filter <b>");
    assert_eq!(first.summary().map(|summary| summary.as_str()), Some("1 < 2 ]]> &amp;"));
    assert_eq!(first.links()[0].href(), "log/2026.html#e7");
    assert!(text.contains("<updated>2026-03-14T00:00:00Z</updated>"), "upper-case T and Z");
}

#[test]
fn without_an_address_a_feed_names_none() {
    let text = atom::text(&feed(vec![entry(7, date(2026, 3, 14), "Oil")])).expect("a feed");
    assert!(!text.contains("rel=\"self\"") && !text.contains("https:"), "{text}");
}

#[test]
fn without_entries_there_is_no_feed() {
    assert_eq!(atom::text(&feed(Vec::new())), None);
}

proptest! {
    #[test]
    fn no_text_breaks_out_of_a_calendar(title in "\\PC{0,120}|(.|\n){0,60}") {
        let text = written(vec![on(date(2026, 4, 17), date(2026, 4, 17), &title)]);
        prop_assert!(text.split("\r\n").all(|line| line.len() <= 75));
        prop_assert_eq!(text.matches('\r').count(), text.matches("\r\n").count());
        prop_assert_eq!(text.matches('\n').count(), text.matches("\r\n").count());
        let begins = text.split("\r\n").filter(|line| line.starts_with("BEGIN:")).count();
        prop_assert_eq!(begins, 2);
    }

    #[test]
    fn any_text_makes_a_feed_that_is_well_formed(title in "(.|\n){0,80}") {
        let text = atom::text(&feed(vec![entry(1, date(2026, 4, 17), &title)])).expect("a feed");
        prop_assert!(roxmltree::Document::parse(&text).is_ok(), "{}", text);
    }
}
