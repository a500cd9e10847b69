//! The boat's record: what is in it, what is not, and what its fingerprints tell.

use crate::public::{canaries, files, planted};
use crate::support::{self, Book, Run, job};
use serde_json::{Value, json};
use std::io::Write;
use std::process::{Command, Stdio};

const ON: [&str; 3] = ["publish", "--on", "2026-06-01"];
const PUBLIC: [&str; 5] = ["publish", "--edition", "public", "--on", "2026-06-01"];

/// A book with an entry that says something under every public key.
fn told() -> Book {
    let boat = "name: Plover\ntype: Sloop\nbuilt: 1988\nlength: 9.5 m\nflag: Ansker\nhull-number: PLV-1\n\
                systems: [{id: engine, title: Engine}, {id: rig, title: Rig}]\n\
                meters: [{id: engine, title: Engine hours, unit: h}]\n\
                gear: [{id: raft, title: Raft, system: rig, expires: 2029-05}]\n";
    let guide = "---\ntitle: Change the oil\nrevised: 2026-02-01\nevery: {engine: 100 h}\nparts: [{item: filter}]\nhazards: [hot-liquids]\n\
                 readings: {pressure: {unit: bar, limits: 2..5}}\n---\n## Drain\n1. Drain it. {read pressure}\n";
    Book::new()
        .file("boat.yaml", boat)
        .file("stores.yaml", "- {id: filter, title: Filter}\n")
        .file("guides/engine/oil.md", guide)
        .file("guides/rig/look.md", "---\ntitle: Look aloft\nhazards: [working-aloft]\n---\n## Look\n1. Look.\n")
        .file("log/2026/2026-03-14-oil.md", entry())
        .file("log/2026/2026-03-14-oil/kept.svg", drawing("kept"))
        .file(
            "log/2026/2026-02-01-look.md",
            "---\nwork: [Looked]\nsystem: rig\ndate: 2026-02-01\nfindings: [{what: Weep, grade: watch}]\n---\n",
        )
        .file("log/2025/2025-05-01-oil.md", "---\njobs: [oil]\ndate: ~2025-05\nmeters: {engine: ~20}\n---\n")
}

fn entry() -> &'static str {
    "---\njobs: [oil]\nwork: [Cleaned the sump]\nsystem: engine\ngear: [raft]\nstarted: 2026-03-13\ndone: 2026-03-14\nmeters: {engine: 100.5}\n\
     time: 2 h 40 min\nparts: [{item: filter, qty: 1, cost: 18.50 EUR}]\ncosts: [{what: crane, cost: 240 EUR}]\nreadings: {pressure: 3.8 bar}\n\
     findings: [{what: Scored, grade: act, before: 2026-09, limits-use: below 2000}]\nclears: [2026-02-01-look/1]\nfitted: [{gear: raft, expires: 2030-05, serial: S1}]\n\
     done-by: yard\nby: Somebody\nplace: Somewhere\npapers: [invoice.pdf]\nbasis: invoice\nexcept: [The damper]\n---\n\
     All dry. ![kept](2026-03-14-oil/kept.svg)\n\nSecond \"line\" \u{e9}\u{1f600}.\n"
}

fn drawing(label: &str) -> String {
    format!("<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 9 9'><title>{label}</title><rect width='9' height='9'/></svg>")
}

fn with_papers(book: Book) -> Book {
    book.file("log/2026/2026-03-14-oil/invoice.pdf", "%PDF-1.4")
}

fn record(book: &Book) -> Value {
    book.run(PUBLIC).status(0);
    serde_json::from_str(&book.text("site-public/record.json")).expect("JSON")
}

fn of<'r>(record: &'r Value, id: &str) -> &'r Value {
    let entries = record["entries"].as_array().expect("a list");
    entries.iter().find(|one| one["content"]["entry"] == id).unwrap_or_else(|| panic!("no {id}"))
}

/// Remakes all fingerprints by the reference, with Python's own JSON and SHA-256: objects with sorted keys,
/// compact, UTF-8; the whole from the sorted fingerprints, each with a line feed.
fn by_python(file: &str) -> Vec<String> {
    let script = "import sys, json, hashlib\n\
                  sha = lambda text: hashlib.sha256(text.encode('utf-8')).hexdigest()\n\
                  record = json.load(sys.stdin)\n\
                  prints = [sha(json.dumps(e['content'], sort_keys=True, separators=(',', ':'), ensure_ascii=False)) for e in record['entries']]\n\
                  print('\\n'.join(prints))\n\
                  print(sha(''.join(p + '\\n' for p in sorted(prints))))\n";
    let mut child = Command::new("python3")
        .args(["-c", script])
        .env("PYTHONIOENCODING", "utf-8")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("Python starts");
    child.stdin.take().expect("input").write_all(file.as_bytes()).expect("written");
    let output = child.wait_with_output().expect("ends");
    String::from_utf8(output.stdout).expect("text").lines().map(str::to_owned).collect()
}

#[test]
fn nothing_private_is_in_any_file_of_the_record_in_either_edition() {
    let (book, figures) = planted();
    book.run(ON).status(0);
    book.run(PUBLIC).status(0);
    let words: Vec<String> = canaries().chain(figures.into_iter().map(str::to_owned)).chain(["2026-02-01-hidden".to_owned()]).collect();
    let mut seen = 0;
    for folder in ["site", "site-public"] {
        for (path, bytes) in files(&book.path(folder)).iter().filter(|(path, _)| path.starts_with("record")) {
            let text = String::from_utf8_lossy(bytes);
            seen += 1;
            for word in &words {
                assert!(!text.contains(word.as_str()), "`{word}` stands in {folder}/{path}");
            }
        }
    }
    assert_eq!(seen, 6, "a page, a table and data in each edition");
}

#[test]
fn the_record_is_the_same_in_both_editions() {
    let (book, _) = planted();
    book.run(ON).status(0);
    book.run(PUBLIC).status(0);
    for file in ["record.json", "record.csv", "record.html"] {
        let crew = book.text(&format!("site/{file}")).replace("data-book=\"plover\"", "data-book=\"plover-public\"");
        assert_eq!(crew, book.text(&format!("site-public/{file}")), "{file}");
    }
}

#[test]
fn an_entry_says_what_the_crew_wrote_under_its_public_keys() {
    let record = record(&with_papers(told()));
    assert_eq!((&record["record"], &record["version"], &record["as_of"]), (&json!("garboard"), &json!(1), &json!("2026-06-01")));
    assert_eq!(record["boat"], json!({"name": "Plover", "type": "Sloop", "built": "1988", "length": "9.5 m", "flag": "Ansker"}));
    // `printf '%s' "<svg …" | sha256sum` of the drawing above.
    let picture = by_sha256sum(&drawing("kept"));
    let expected = json!({
        "basis": "invoice",
        "clears": ["2026-02-01-look/1"],
        "date": "2026-03-14",
        "done-by": "yard",
        "entry": "2026-03-14-oil",
        "except": ["The damper"],
        "findings": [{"before": "2026-09", "grade": "act", "limits-use": "below 2000", "what": "Scored"}],
        "fitted": [{"expires": "2030-05", "gear": "raft"}],
        "gear": ["raft"],
        "jobs": ["oil"],
        "meters": [{"meter": "engine", "value": "100.5 h"}],
        "notes": "All dry. kept\nSecond \"line\" \u{e9}\u{1f600}.",
        "paper-on-file": true,
        "parts": [{"item": "filter", "qty": "1"}],
        "pictures": [picture],
        "readings": [{"reading": "pressure", "value": "3.8 bar"}],
        "started": "2026-03-13",
        "system": "engine",
        "time": "PT2H40M",
        "work": ["Cleaned the sump"],
    });
    assert_eq!(of(&record, "2026-03-14-oil")["content"], expected);
    assert_eq!(
        of(&record, "2026-03-14-oil")["guides"],
        json!([{"guide": "oil", "title": "Change the oil", "system": "engine", "revised": "2026-02-01"}])
    );
    assert_eq!(of(&record, "2026-02-01-look")["cleared"], json!([{"finding": 1, "by": "2026-03-14-oil", "date": "2026-03-14"}]));
    let about = &of(&record, "2025-05-01-oil")["content"];
    assert_eq!((&about["date"], &about["meters"][0]["value"]), (&json!("~2025-05"), &json!("~20 h")));
}

fn by_sha256sum(text: &str) -> String {
    let mut child = Command::new("sha256sum").stdin(Stdio::piped()).stdout(Stdio::piped()).spawn().expect("sha256sum starts");
    child.stdin.take().expect("input").write_all(text.as_bytes()).expect("written");
    String::from_utf8(child.wait_with_output().expect("ends").stdout).expect("text").chars().take(64).collect()
}

#[test]
fn another_program_comes_to_the_same_fingerprints() {
    let book = with_papers(told());
    let record = record(&book);
    let entries = record["entries"].as_array().expect("a list");
    let said = entries.iter().map(|one| &one["fingerprint"]).chain([&record["fingerprint"]]);
    let said: Vec<&str> = said.map(|print| print.as_str().expect("text")).collect();
    assert_eq!(said, by_python(&book.text("site-public/record.json")));
    let page = book.text("site-public/record.html");
    let whole = said.last().expect("one");
    assert!(page.contains(&said[0][..12]) && page.contains(&whole[..8]) && page.contains(&whole[56..]));
}

/// The fingerprint of the entry when this has become that.
fn print_of(book: &Book, file: &str, this: &str, that: &str) -> String {
    let path = format!("content/{file}");
    let before = book.text(&path);
    assert!(before.contains(this), "{this} in {file}");
    book.put(&path, before.replacen(this, that, 1).as_bytes());
    let print = of(&record(book), "2026-03-14-oil")["fingerprint"].as_str().expect("text").to_owned();
    book.put(&path, before.as_bytes());
    print
}

#[test]
fn nothing_private_and_nothing_beside_an_entry_changes_its_fingerprint() {
    let book = with_papers(told());
    let file = "log/2026/2026-03-14-oil.md";
    let before = print_of(&book, file, "oil", "oil");
    for (file, this, that) in [
        (file, "by: Somebody", "by: [A, B]"),
        (file, "place: Somewhere\n", ""),
        (file, "cost: 18.50 EUR", "cost: 19 EUR"),
        (file, "costs: [{what: crane, cost: 240 EUR}]\n", ""),
        (file, "serial: S1", "serial: S2"),
        (file, "papers: [invoice.pdf]", "papers: [invoice.pdf, invoice.pdf]"),
        (file, "All dry. ", "All dry. <!-- private -->Key under the mat.<!-- /private --> "),
        (file, "All dry. ", "<!-- private -->\nCode 1234\n<!-- /private -->\n\nAll dry. "),
        (file, "EUR}]\ncosts", "EUR}] # a comment\ncosts"),
        (file, "All dry. ", "All dry. <!-- to myself --> "),
        // What is written otherwise and says the same: quotes, order, Unicode (U+0065 U+0301 is U+00E9 in NFC).
        (file, "done-by: yard\n", "done-by: \"yard\"\n"),
        (file, "\u{e9}", "e\u{301}"),
        ("guides/engine/oil.md", "revised: 2026-02-01", "revised: 2026-05-01"),
        ("guides/engine/oil.md", "title: Change the oil", "title: Renew the oil"),
        ("boat.yaml", "hull-number: PLV-1", "hull-number: PLV-2"),
        ("boat.yaml", "name: Plover", "name: Plover\nlanguage: de"),
        ("stores.yaml", "title: Filter", "title: Other"),
    ] {
        assert_eq!(print_of(&book, file, this, that), before, "{this}");
    }
    book.put("themes/jobsheet/tools.html", b"<!doctype html><title>x</title>\n");
    assert_eq!(print_of(&book, file, "oil", "oil"), before, "another theme");
}

#[test]
fn every_public_key_changes_the_fingerprint() {
    let book = with_papers(told());
    let file = "log/2026/2026-03-14-oil.md";
    let before = print_of(&book, file, "oil", "oil");
    for (file, this, that) in [
        (file, "jobs: [oil]", "jobs: [oil, look]"),
        (file, "work: [Cleaned the sump]", "work: [Cleaned the bilge]"),
        (file, "system: engine", "system: rig"),
        (file, "gear: [raft]\n", ""),
        (file, "started: 2026-03-13", "started: 2026-03-12"),
        (file, "done: 2026-03-14", "done: 2026-03-15"),
        (file, "engine: 100.5", "engine: 100.6"),
        (file, "engine: 100.5", "engine: ~100.5"),
        (file, "2 h 40 min", "2 h 41 min"),
        (file, "item: filter, qty: 1", "item: filter, qty: 2"),
        (file, "item: filter", "item: Filter paper"),
        (file, "3.8 bar", "3.9 bar"),
        (file, "what: Scored", "what: scored"),
        (file, "grade: act", "grade: watch"),
        (file, "before: 2026-09", "before: 2026-10"),
        (file, "below 2000", "below 2001"),
        (file, "clears: [2026-02-01-look/1]\n", ""),
        (file, "expires: 2030-05", "expires: 2030-06"),
        (file, "done-by: yard", "done-by: owner"),
        (file, "papers: [invoice.pdf]\n", ""),
        (file, "basis: invoice", "basis: told"),
        (file, "The damper", "The pump"),
        (file, "All dry.", "All wet."),
        (file, "![kept](2026-03-14-oil/kept.svg)", ""),
        ("log/2026/2026-03-14-oil/kept.svg", "kept", "another"),
        ("boat.yaml", "unit: h}", "unit: min}"),
    ] {
        assert_ne!(print_of(&book, file, this, that), before, "{this} to {that}");
    }
}

#[test]
fn the_table_says_what_the_data_say_and_no_cell_is_a_formula() {
    let book = with_papers(told()).file("log/2026/2026-04-01-x.md", "---\nwork: [\"=1+1\"]\ndate: 2026-04-01\n---\n@home, \"so\"\n");
    let record = record(&book);
    let text = book.text("site-public/record.csv");
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let heads = reader.headers().expect("heads").clone();
    let rows: Vec<csv::StringRecord> = reader.records().map(|row| row.expect("a row")).collect();
    let entries = record["entries"].as_array().expect("a list");
    assert_eq!(rows.len(), entries.len());
    for (row, one) in rows.iter().zip(entries) {
        for (head, cell) in heads.iter().zip(row) {
            let expected = if head == "fingerprint" { cell_of(&one["fingerprint"]) } else { cell_of(&one["content"][head]) };
            assert_eq!(cell, expected, "{head}");
        }
        let keys: Vec<&String> = one["content"].as_object().expect("content").keys().collect();
        assert!(keys.iter().all(|key| heads.iter().any(|head| head == key.as_str())), "{keys:?}");
    }
    assert!(text.contains(",'=1+1,") && text.contains("\"'@home, \"\"so\"\"\""));
}

/// A list is joined by `; `, of an object stand keys and values; a formula gets an apostrophe.
fn cell_of(value: &Value) -> String {
    fn said(value: &Value) -> String {
        match value {
            Value::Null => String::new(),
            Value::String(text) => text.clone(),
            Value::Array(list) => list.iter().map(said).collect::<Vec<_>>().join("; "),
            Value::Object(object) => object.iter().map(|(key, value)| format!("{key}: {}", said(value))).collect::<Vec<_>>().join(", "),
            other => other.to_string(),
        }
    }
    let text = said(value);
    if text.starts_with(['=', '+', '-', '@']) { format!("'{text}") } else { text }
}

#[test]
fn the_page_tells_of_work_by_system_of_intervals_findings_and_gear() {
    let book = with_papers(told()).file("log/2025/2025-08-01-oil.md", "---\njobs: [oil]\ndate: 2025-08-01\nmeters: {engine: 30}\n---\n");
    book.run(PUBLIC).status(0);
    let page = book.text("site-public/record.html");
    let text = scraper::Html::parse_document(&page);
    let main = scraper::Selector::parse("main").expect("a selector");
    let words: String = text.select(&main).flat_map(|main| main.text()).collect::<Vec<_>>().join(" ");
    let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
    for expected in [
        // From the first known day to the second 30 h to 100.5 h: 70.5 h of 100.
        "every 100 h (Engine hours) 70.5 h 70.5 h 70.5 h 1 of 1",
        "Done by a yard 1",
        "Done by a yard From an invoice Paper on file",
        "guide of 1 February 2026",
        "guide revised since, on 1 February 2026",
        "Weep : keep an eye on. Put right 14 March 2026 : Change the oil; Cleaned the sump",
        "Not put right yet",
        "Not done or not checked The damper",
        "about May 2025 to 14 March 2026",
        "Raft",
        "entries may have been withheld",
    ] {
        assert!(words.contains(expected), "`{expected}` is not in {words}");
    }
    assert!(!words.to_lowercase().contains("overdue"));
}

#[test]
fn what_was_found_again_by_the_entry_that_clears_it_is_not_called_put_right() {
    let again = "---\njobs: [oil]\ngear: [raft]\ndate: 2026-05-01\nclears: [2026-03-14-oil/1]\nfindings: [{what: Scored deeper, grade: act}]\n---\n";
    let book = with_papers(told()).file("log/2026/2026-05-01-oil.md", again);
    let record = record(&book);
    assert_eq!(
        of(&record, "2026-03-14-oil")["cleared"],
        json!([{"finding": 1, "by": "2026-05-01-oil", "date": "2026-05-01", "followed_by": "2026-05-01-oil/1"}])
    );
    let words = |page: &str| {
        let page = scraper::Html::parse_document(&book.text(&format!("site-public/{page}")));
        let words = page.root_element().text().collect::<Vec<_>>().join(" ");
        words.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    for (page, expected) in [
        ("record.html", "Scored : to be put right. Followed by a new finding 1 May 2026 : Scored deeper"),
        ("record.html", "Found again Scored"),
        (
            "defects.html",
            "Followed by a new finding 1 May 2026 Scored found 14 March 2026 : Change the oil; Cleaned the sump followed by: Scored deeper",
        ),
        ("guides/oil.html", "followed by a new finding Scored"),
        ("log/2026.html", "followed by a new finding Scored"),
        ("log/2026.html", "Found again Scored"),
    ] {
        let words = words(page);
        assert!(words.contains(expected), "{page}: `{expected}` is not in {words}");
    }
}

#[test]
fn pages_of_a_long_log_are_light_and_every_entry_is_on_one() {
    const ENTRIES: usize = 2000;
    let mut book = with_papers(told());
    for n in 0..ENTRIES {
        let (year, month, day) = (1990 + n / 60, 1 + n % 12, 1 + n % 28);
        let date = format!("{year}-{month:02}-{day:02}");
        let text = format!(
            "---\njobs: [oil]\ndate: {date}\nparts: [{{item: filter, qty: 1}}]\nfindings: [{{what: \"Seen <&> {n} {}\", grade: act}}]\n---\nWell.\n",
            "and more words of it ".repeat(10)
        );
        book = book.file(&format!("log/{year}/{date}-e{n:04}.md"), text);
    }
    book.run(PUBLIC).status(0);
    let all = files(&book.path("site-public"));
    let pages: Vec<(&String, &Vec<u8>)> = all.iter().filter(|(path, _)| path.starts_with("record") && path.ends_with(".html")).collect();
    assert!(pages.len() > 10, "{} pages", pages.len());
    for (path, bytes) in &pages {
        assert!(bytes.len() <= 300_000, "{path}: {} bytes", bytes.len());
    }
    let text: String = pages.iter().map(|(_, bytes)| String::from_utf8_lossy(bytes).into_owned()).collect();
    let rows = text.matches("<tr id=").count();
    assert_eq!(rows, ENTRIES + 3, "each entry has one place");
    let front = book.text("site-public/record.html");
    assert!(pages.iter().filter(|(path, _)| *path != "record.html").all(|(path, _)| front.contains(path.as_str())));
    assert!(front.contains("record-engine.html") && front.contains("record-engine-2.html"));
}

fn survey(book: &Book, file: &str) -> Run {
    book.run(["survey", "--on", "2026-06-01", "--record", file, "--format", "json"])
}

fn handed_over() -> Book {
    let book = with_papers(told());
    book.run(PUBLIC).status(0);
    let record = book.text("site-public/record.json");
    book.beside("seen.json", record)
}

#[test]
fn an_untouched_book_is_the_same_as_its_record() {
    let book = handed_over();
    let expected = json!({"same": 3, "changed": [], "added": [], "taken_away": [], "renamed": [], "file_whole": true, "damaged": []});
    assert_eq!(survey(&book, "seen.json").status(0).json(), expected);
    let run = book.run(["survey", "--on", "2026-06-01", "--record", "seen.json"]).status(0);
    run.stdout_has("3 the same\n").stdout_has("the file is whole").stdout_has("Plover, as of 2026-06-01");
}

#[test]
fn what_was_changed_added_taken_away_and_renamed_is_told() {
    let book = handed_over();
    let text = book.text("content/log/2026/2026-03-14-oil.md").replace("100.5", "90.5").replace("All dry", "All wet");
    book.put("content/log/2026/2026-03-14-oil.md", text.as_bytes());
    let book = book
        .without("log/2025/2025-05-01-oil.md")
        .file("log/2025/2025-05-02-oil-change.md", "---\njobs: [oil]\ndate: ~2025-05\nmeters: {engine: ~20}\n---\n")
        .file("log/2026/2026-05-01-new.md", "---\nwork: [New]\ndate: 2026-05-01\n---\n");
    let look = book.text("content/log/2026/2026-02-01-look.md").replace("---\nwork", "---\nprivate: true\nwork");
    book.put("content/log/2026/2026-02-01-look.md", look.as_bytes());
    let found = survey(&book, "seen.json").status(0).json();
    // The entry that cleared a finding of the one made private no longer says so.
    let expected = json!({
        "same": 0,
        "changed": [{"entry": "2026-03-14-oil", "fields": ["clears", "meters", "notes"]}],
        "added": ["2026-05-01-new"],
        "taken_away": ["2026-02-01-look"],
        "renamed": [{"from": "2025-05-01-oil", "to": "2025-05-02-oil-change"}],
        "file_whole": true,
        "damaged": [],
    });
    assert_eq!(found, expected);
    book.run(["survey", "--on", "2026-06-01", "--record", "seen.json"])
        .status(0)
        .stdout_has("changed     2026-03-14-oil   clears, meters, notes\n")
        .stdout_has("renamed     2025-05-01-oil   now 2025-05-02-oil-change\n")
        .stdout_has("0 the same, 1 changed, 1 renamed, 1 added, 1 taken away\n")
        .stdout_has("made private");
}

#[test]
fn a_file_that_was_meddled_with_is_told_and_compared_all_the_same() {
    let book = handed_over();
    let file = book.text("seen.json").replace("100.5 h", "10.5 h");
    let book = book.beside("meddled.json", file);
    let found = survey(&book, "meddled.json").status(1).json();
    assert_eq!((&found["file_whole"], &found["damaged"]), (&json!(false), &json!(["2026-03-14-oil"])));
    assert_eq!(found["changed"], json!([{"entry": "2026-03-14-oil", "fields": ["meters"]}]));
    book.run(["survey", "--record", "meddled.json", "--on", "2026-06-01"]).status(1).stdout_has("the file is not whole");
}

#[test]
fn what_is_no_record_is_refused_with_a_remedy() {
    let book = told();
    for (file, text) in [
        ("empty.json", ""),
        ("words.json", "not JSON"),
        ("list.json", "[1, 2]"),
        ("other.json", "{\"record\": \"something\"}"),
        ("later.json", "{\"record\": \"garboard\", \"version\": 99}"),
        ("half.json", "{\"record\": \"garboard\", \"version\": 1, \"entries\": [{"),
    ] {
        book.put(file, text.as_bytes());
        survey(&book, file).status(1).without_panic().stdout("").stderr_has("help:").stderr_has(file);
    }
    survey(&book, "nowhere.json").status(1).stderr_has("nowhere.json").stderr_has("help:");
    survey(&book, "content").status(1).without_panic().stderr_has("help:");
    // A megabyte more than the limit of 64.
    std::fs::File::create(book.path("huge.json")).and_then(|file| file.set_len(65 * 1024 * 1024)).expect("a sparse file");
    survey(&book, "huge.json").status(1).stdout("").stderr_has("larger than 64 MB");
    // Why it cannot be read is said without the numbers of the system.
    for (file, why) in [("none.json", "it is not there"), ("content", "it is a folder, not a file")] {
        let run = survey(&book, file).status(1).stdout("").stderr_has(&format!("error: {file}: this file cannot be read: {why}\n"));
        assert!(!run.stderr.contains("os error"), "{}", run.stderr);
    }
    // What a terminal would obey is not printed.
    let hostile = "{\"record\":\"garboard\",\"version\":1,\"fingerprint\":\"\\u001b[2J\",\"boat\":{\"name\":\"\\u001b]0;x\\u0007\"},\
                   \"entries\":[{\"fingerprint\":\"\",\"content\":{\"entry\":\"\\u001b[31m\"}}]}";
    book.put("hostile.json", hostile.as_bytes());
    let run = book.run(["survey", "--record", "hostile.json"]).status(1).without_panic();
    assert!(!run.stdout.contains('\u{1b}') && run.stdout.contains("taken away"), "{}", run.stdout);
    book.run(["survey", "--record", "x.json", "--explain", "never-due"]).status(2);
}

#[test]
fn a_year_and_a_day_does_not_read_as_a_year() {
    // 366 days are 12.02 months of 146,097 / 4,800 days, the mean of the Gregorian calendar; 372 are 12.22, 254 are 8.35.
    let mut book = Book::new()
        .file("boat.yaml", "name: Test boat\nsystems: [{id: engine, title: Engine}]\n")
        .file("guides/engine/valve.md", job("Valve", "every: {calendar: 12 months}\n"));
    for day in ["2023-09-29", "2024-10-05", "2025-10-06", "2026-06-17"] {
        book = book.file(&format!("log/{}/{day}-valve.md", &day[..4]), support::entry(&format!("jobs: [valve]\ndate: {day}\n")));
    }
    book.run(["publish", "--on", "2026-07-01"]).status(0);
    let page = book.text("site/record.html");
    assert!(page.contains("12.2, 12.1, 8.3 months"), "{page}");
    assert!(page.contains("data-label=\"Within\">1 of 3"), "{page}");
}
