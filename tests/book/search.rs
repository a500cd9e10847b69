//! The search index of a site: what it holds, where it leads, and how much of it changes.

use crate::pages::{demo, ids};
use crate::samples::fitted_out;
use crate::support::{Site, entry};
use scraper::Html;
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};

/// No file may be larger: what one search loads is bounded by it.
const LARGEST: usize = 18_000;

/// What the files of the index hold, by their names.
fn index(site: &Site) -> BTreeMap<String, Value> {
    let files = site.files.iter().filter_map(|(path, bytes)| Some((path.strip_prefix("assets/search/")?, bytes)));
    files
        .map(|(file, bytes)| {
            let name = file.strip_suffix(".js").unwrap_or_else(|| panic!("{file} is no script"));
            let text = std::str::from_utf8(bytes).expect("UTF-8");
            let json = text.strip_prefix(&format!("garboardSearch(\"{name}\",")).and_then(|rest| rest.strip_suffix(");\n"));
            let json = json.unwrap_or_else(|| panic!("{file} is not one call"));
            assert!(bytes.len() <= LARGEST, "{file} has {} bytes", bytes.len());
            assert!(!text.contains('<'), "{file} holds what could end a script");
            (name.to_owned(), serde_json::from_str(json).unwrap_or_else(|error| panic!("{file}: {error}")))
        })
        .collect()
}

/// All documents: kind, title, href, detail, places.
fn documents(index: &BTreeMap<String, Value>) -> Vec<&Value> {
    let of = |name: &str| name.starts_with(['g', 'o', 'e']);
    index.iter().filter(|(name, _)| of(name)).flat_map(|(_, value)| value.as_array().expect("a list")).collect()
}

/// The words of the index.
fn words(index: &BTreeMap<String, Value>) -> BTreeSet<String> {
    let files = index.iter().filter(|(name, _)| name.starts_with("t-"));
    files
        .flat_map(|(_, lines)| lines.as_str().expect("a text").split('|'))
        .map(|line| line.split(' ').next().unwrap_or_default().to_owned())
        .collect()
}

#[test]
fn everything_that_is_found_leads_to_a_place_that_is_there() {
    let site = demo();
    let index = index(site);
    let ids: BTreeMap<&str, BTreeSet<String>> =
        site.pages().map(|(path, html)| (path, ids(&Html::parse_document(html)).into_iter().collect())).collect();
    let mut followed = 0;
    let mut follow = |href: &str| {
        let (page, fragment) = href.split_once('#').unwrap_or((href, ""));
        let known = ids.get(page).unwrap_or_else(|| panic!("no page for {href}"));
        assert!(fragment.is_empty() || known.contains(fragment), "no place for {href}");
        followed += 1;
    };
    for document in documents(&index) {
        let href = document[2].as_str().expect("an href");
        follow(href);
        for place in document[4].as_array().expect("places") {
            let fragment = place[1].as_str().expect("a fragment");
            if !fragment.is_empty() {
                follow(&format!("{}#{fragment}", href.split('#').next().unwrap_or_default()));
            }
        }
    }
    assert!(followed > 600, "{followed}");
}

#[test]
fn every_guide_entry_store_tool_and_gear_is_in_it() {
    let site = demo();
    let index = index(site);
    let hrefs: BTreeSet<&str> = documents(&index).into_iter().map(|document| document[2].as_str().expect("an href")).collect();
    let guides = site.files.keys().filter(|path| path.starts_with("guides/")).count();
    assert_eq!(hrefs.iter().filter(|href| href.starts_with("guides/")).count(), guides);
    let count = |page: &str, part: &str| site.page(page).matches(part).count();
    for (page, part) in
        [("stores.html", "<li class=\"thing"), ("tools.html", "<li class=\"thing"), ("gear.html", "<div class=\"gearitem\" id=")]
    {
        assert_eq!(hrefs.iter().filter(|href| href.starts_with(&format!("{page}#"))).count(), count(page, part), "{page}");
    }
    let articles: usize = site.pages().filter(|(path, _)| path.starts_with("log/")).map(|(_, html)| html.matches("<article").count()).sum();
    assert_eq!(hrefs.iter().filter(|href| href.starts_with("log/")).count(), articles);
}

#[test]
fn words_are_found_by_what_pages_show() {
    let book = fitted_out()
        .file("guides/engine/belt.md", "---\ntitle: Überprüfe den Keilriemen\ntorque: [{at: bolt, value: 35 N·m}]\n---\n\n## Prüfen\n\n1. Tighten the {bolt} with the 13  mm socket. {isolate Startschlüssel}\n2. Done. {restore Startschlüssel}\n")
        .file("log/2026/2026-05-30-hostile.md", "---\ndate: 2026-05-30\nwork: ['</script><img src=x onerror=alert(1)>']\n---\n\nשמן במנוע `foo_bar` 👩‍🔧\n")
        .published();
    let index = index(&book.site());
    let words = words(&index);
    // 35 N·m / 1.355818 N·m (NIST SP 811, B.8) = 25.8 lbf·ft.
    for word in ["uberprufe", "keilriemen", "35nm", "25.8lbfft", "13mm", "startschlussel", "שמן", "foobar", "onerror"] {
        assert!(words.contains(word), "{word}");
    }
    // A mark is found by what the page says of it, not by how it is written.
    assert!(words.contains("restore") && !words.iter().any(|word| word.contains('{')));
    assert!(documents(&index).iter().any(|document| document[1].as_str().is_some_and(|title| title.contains("</script><img"))));
}

#[test]
fn the_same_book_makes_the_same_index() {
    let first = fitted_out().published().site();
    let second = fitted_out().published().site();
    assert_eq!(index(&first), index(&second));
    first.assert_same_bytes(&second);
}

#[test]
fn a_changed_entry_and_a_new_one_change_few_files_of_the_index() {
    let note = |n: usize| (format!("content/log/2025/2025-06-{:02}-note-{n}.md", n / 10 + 1), n);
    let book = fitted_out();
    for (path, n) in (0..120).map(note) {
        // Words that no other entry has, spread over the letters.
        let letter = char::from(b'a' + u8::try_from(n % 26).expect("a letter"));
        let words: String = (0..40).map(|k| format!("{letter}{} ", (n * 7919 + k * 104_729) % 100_003)).collect();
        book.put(&path, entry("date: 2025-06-01\n").replace("2025-06-01", &path[17..27]).as_bytes());
        book.put(&path, format!("{}{words}\n", book.text(&path)).as_bytes());
    }
    let book = book.published();
    let before = book.site();
    let all = before.files.keys().filter(|path| path.starts_with("assets/search/")).count();
    let changed = |book: &crate::support::Book, before: &Site| -> Vec<String> {
        book.run(["publish", "--on", "2026-06-01"]).status(0);
        let after = book.site();
        after.changed_since(before).into_iter().filter(|path| path.starts_with("assets/search/")).map(str::to_owned).collect()
    };
    let (path, _) = note(77);
    book.put(&path, format!("{}One zebrafish more.\n", book.text(&path)).as_bytes());
    let files = changed(&book, &before);
    assert!(files.contains(&"assets/search/e-4.js".to_owned()) || files.iter().any(|file| file.contains("/e-")), "{files:?}");
    assert_eq!(files.iter().filter(|file| file.contains("/e-")).count(), 1, "{files:?}");
    assert!(files.len() <= 6 && all > 12, "{files:?} of {all}");

    // A new entry at the end moves no number: the last file of texts, its words, and the list with the count.
    let before = book.site();
    book.put("content/log/2026/2026-05-31-late.md", format!("{}A zebrafish.\n", entry("date: 2026-05-31\n")).as_bytes());
    let files = changed(&book, &before);
    assert_eq!(files.iter().filter(|file| file.contains("/e-")).count(), 1, "{files:?}");
    assert!(files.len() <= 8, "{files:?}");
}
