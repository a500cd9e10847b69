//! Large books, as `benches/big_book` makes them.

#[path = "../../benches/big_book/mod.rs"]
mod big_book;

use crate::support::{Book, Site, entry, files_under, job};
use big_book::{LAST_DAY, Size, write};
use std::collections::{BTreeMap, BTreeSet};

const SIZE: Size = Size { guides: 60, entries: 600, seed: 1 };

#[test]
fn a_made_book_has_no_errors_and_little_to_warn_of() {
    let book = Book::new();
    let count = write(&book.path("content"), SIZE).expect("a book");
    assert_eq!(files_under(&book.path("content")).len() as u64, count);
    let problems = book.run(["survey", "--format", "json", "--on", LAST_DAY]).status(0).json();
    let warnings = problems.as_array().expect("a list").iter().filter(|problem| problem["severity"] == "warning").count();
    assert!(warnings < 20, "{warnings} warnings: {problems}");
}

#[test]
fn a_made_book_is_the_same_for_the_same_seed_and_another_for_another() {
    let made = |size: Size| {
        let book = Book::new();
        write(&book.path("content"), size).expect("a book");
        files_under(&book.path("content"))
    };
    let first = made(SIZE);
    assert!(first == made(SIZE), "two runs differ");
    assert!(first != made(Size { seed: 2, ..SIZE }), "the seed changes nothing");
}

/// What a phone must be able to load at once: every page and file but the pocket file, which is the whole book and
/// which nobody needs, and the list of files that the program keeps for itself.
const LARGEST: u64 = 300_000;

/// A book whose lists would not fit on a page: guides, defects, stores, tools and gear by the thousand, all of one system
/// and one occasion, and one part, one tool and one hazard that all guides name.
fn long_lists() -> Book {
    let book = Book::new();
    let lines = |line: &dyn Fn(usize) -> String, count: usize| (0..count).map(line).collect::<String>();
    let gear = lines(&|n| format!("  - {{id: gear-{n}, title: Gear {n}, system: deck, expires: 2026-07, guide: job-{n}}}\n"), 700);
    let boat = format!(
        "name: Long\nin-service: 2020-01-01\nsystems: [{{id: deck, title: Deck}}]\nmeters: [{{id: engine, title: Engine, unit: h}}]\ngear:\n{gear}"
    );
    book.put("content/boat.yaml", boat.as_bytes());
    let stores = lines(&|n| format!("- {{id: part-{n}, title: Part {n}, counted: {{on: 2026-05-01, qty: 0}}, minimum: 1}}\n"), 1_500);
    book.put("content/stores.yaml", stores.as_bytes());
    book.put("content/tools.yaml", lines(&|n| format!("- {{id: tool-{n}, title: Tool {n}}}\n"), 1_500).as_bytes());
    book.put("content/passages.yaml", b"- {id: away, title: Away, depart: 2026-06-10, days: 30, miles: 900, meters: {engine: 90 h}}\n");
    for n in 0..1_500 {
        let front = "every: {engine: 90 h, calendar: 6 months}\noccasions: [haul-out]\nhazards: [flooding]\nparts: [{item: part-0}]\ntools: [tool-0]\n";
        book.put(&format!("content/guides/deck/job-{n}.md"), job(&format!("Job {n}"), front).as_bytes());
        let open = if n < 300 { "started: 2026-05-20\nleft: [cover off]\n" } else { "date: 2026-01-10\n" };
        let grade = if n % 2 == 0 { "act" } else { "watch" };
        let seen = format!(
            "jobs: [job-{n}]\n{open}meters: {{engine: 10}}\nfindings: [{{what: Seen {n}, grade: {grade}, gear: gear-{}, before: haul-out}}]\n",
            n % 700
        );
        let day = if n < 300 { "2026-05-20" } else { "2026-01-10" };
        let meters = if n < 300 { seen.replace("engine: 10", "engine: 40") } else { seen };
        book.put(&format!("content/log/2026/{day}-seen-{n}.md"), entry(&meters).as_bytes());
    }
    book
}

#[test]
fn no_page_of_a_book_with_long_lists_is_too_large_and_every_item_is_on_one_that_links_lead_to() {
    for edition in ["crew", "public"] {
        let book = long_lists();
        book.run(["publish", "--on", "2026-06-01", "--to", "site", "--edition", edition]).status(0);
        let site = book.site();
        // Nobody's phone must load these: they are handed out whole, to be kept.
        let own = ["garboard-manifest.json", "pocket.html", "dates.ics", "record.csv", "record.json"];
        let large: Vec<(&str, usize)> = site
            .files
            .iter()
            .filter(|(path, bytes)| !own.contains(&path.as_str()) && bytes.len() as u64 > LARGEST)
            .map(|(path, bytes)| (path.as_str(), bytes.len()))
            .collect();
        assert_eq!(large, [], "{edition}");

        let reached = reached_from_the_first_page(&site);
        let missing: Vec<&str> =
            site.pages().map(|(path, _)| path).filter(|path| !own.contains(path) && !reached.contains(*path)).collect();
        assert_eq!(missing, Vec::<&str>::new(), "{edition}: pages that no link leads to");
        for (list, word, count) in
            [("guides", "Job", 1_500), ("systems", "Job", 1_500), ("defects", "Seen", 1_500), ("occasions", "Seen", 1_500)]
                .into_iter()
                .chain([("stores", "Part", 1_500), ("tools", "Tool", 1_500), ("gear", "Gear", 700)])
        {
            let held = named_on(&site, list, word);
            let lost = (0..count).filter(|n| !held.contains(&format!("{word} {n}"))).count();
            assert_eq!(lost, 0, "{edition}: {lost} of {count} `{word}` are on no page of {list}");
        }
        assert_eq!(broken_fragments(&site), Vec::<String>::new(), "{edition}");
    }
}

/// Links of a page as paths from the top of the site, each with its fragment.
fn links(path: &str, page: &str) -> Vec<(String, String)> {
    let folder: Vec<&str> = path.split('/').rev().skip(1).collect::<Vec<_>>().into_iter().rev().collect();
    page.split("href=\"")
        .skip(1)
        .filter_map(|rest| rest.split('"').next())
        .filter(|href| !href.contains(':'))
        .map(|href| {
            let (file, fragment) = href.split_once('#').unwrap_or((href, ""));
            let mut parts = folder.clone();
            for part in file.split('/') {
                if part == ".." {
                    parts.pop();
                } else {
                    parts.push(part);
                }
            }
            (if file.is_empty() { path.to_owned() } else { parts.join("/") }, fragment.to_owned())
        })
        .collect()
}

fn reached_from_the_first_page(site: &Site) -> BTreeSet<String> {
    let pages: BTreeMap<&str, &str> = site.pages().collect();
    let mut reached = BTreeSet::from(["index.html".to_owned()]);
    let mut next = vec!["index.html".to_owned()];
    while let Some(path) = next.pop() {
        for (to, _) in links(&path, pages[path.as_str()]) {
            if pages.contains_key(to.as_str()) && reached.insert(to.clone()) {
                next.push(to);
            }
        }
    }
    reached
}

/// What is named by a word and a number on the pages of a list: its own, and those it goes on with.
fn named_on(site: &Site, list: &str, word: &str) -> BTreeSet<String> {
    let of_list = |path: &str| path.starts_with(list) || (list == "guides" && path.starts_with("systems/"));
    let texts = site.pages().filter(|(path, _)| of_list(path) && !path.starts_with("guides/")).flat_map(|(_, page)| page.split('>'));
    let name = |text: &str| text.split('<').next().unwrap_or_default().to_owned();
    texts.map(name).filter(|text| text.starts_with(word)).collect()
}

/// Links to lines of stores, tools and gear that the page they lead to does not have.
fn broken_fragments(site: &Site) -> Vec<String> {
    let pages: BTreeMap<&str, &str> = site.pages().collect();
    let ids: BTreeMap<&str, BTreeSet<&str>> = pages
        .iter()
        .filter(|(path, _)| ["stores", "tools", "gear"].iter().any(|list| path.starts_with(list)))
        .map(|(path, page)| (*path, page.split(" id=\"").skip(1).filter_map(|rest| rest.split('"').next()).collect()))
        .collect();
    let mut broken: Vec<String> = Vec::new();
    for (path, page) in &pages {
        for (to, fragment) in links(path, page) {
            if !fragment.is_empty() && ids.get(to.as_str()).is_some_and(|ids| !ids.contains(fragment.as_str())) {
                broken.push(format!("{path} → {to}#{fragment}"));
            }
        }
    }
    broken.truncate(20);
    broken
}
