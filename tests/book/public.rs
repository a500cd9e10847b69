//! The public edition: words planted in every private place, and every byte of the site looked through.

use crate::publish::{contains, with_secrets};
use crate::samples::encoded;
use crate::support::{Book, Site, job};
use image::ImageFormat;
use scraper::{Html, Selector};
use std::collections::BTreeMap;
use std::fs;

/// A word that stands nowhere but where it is planted.
fn canary(n: usize) -> String {
    format!("qzcanary{n:02}x")
}

/// A book with a canary in every private place; what is planted where, by its number.
pub fn planted() -> (Book, Vec<&'static str>) {
    let c = canary;
    let boat = format!(
        "name: Plover\nhull-number: {}\ncrew: [{}]\nhome-port: {}\nprivate-fields: [home-port, stowed]\n# {}\n\
         systems: [{{id: engine, title: Engine}}]\nmeters: [{{id: engine, title: Engine hours, unit: h}}]\n\
         gear: [{{id: raft, title: Raft, system: engine, serial: {}, expires: 2029-05}}]\n",
        c(0),
        c(1),
        c(2),
        c(3),
        c(4),
    );
    let stores = format!(
        "- {{id: filter, title: Filter, stowed: {}, counted: {{on: 2026-01-05, qty: 7771}}, minimum: 1, price: 8881.50 EUR, \
         bought: [{{on: 2026-02-11, qty: 6661}}]}} # {}\n",
        c(5),
        c(6),
    );
    let passages = format!("- {{id: {}, title: {}, depart: 2026-07-09, days: 9}}\n", c(7), c(8));
    let guide = "---\ntitle: Change the oil\nevery: {calendar: 1 month}\nparts: [{item: filter}]\nhazards: [hot-liquids]\n---\n\
                 ## Drain\n1. Drain it with the {filter}.\n";
    let public = format!(
        "---\n# {}\njobs: [oil]\ndate: 2026-03-14\nmeters: {{engine: 100}}\nby: {}\nplace: {}\npapers: [{}.pdf]\n\
         parts: [{{item: filter, qty: 1, cost: 5551.50 EUR}}]\ncosts: [{{what: {}, cost: 4441 EUR}}]\n\
         fitted: [{{gear: raft, serial: {}}}]\nclears: [2026-02-01-hidden/1]\n---\n\
         Seen. <!-- private -->Key behind {}.<!-- /private --> Shown.\n\n```\n<!-- private -->\n{}\n<!-- /private -->\ncode\n```\n\n\
         [one](2026-02-01-hidden.md) ![kept](2026-03-14-oil/kept.svg) <!-- private -->![p](2026-03-14-oil/{}.svg)<!-- /private -->\n",
        c(9),
        c(10),
        c(11),
        c(12),
        c(13),
        c(14),
        c(15),
        c(16),
        c(17),
    );
    let hidden = format!(
        "---\nwork: [{}]\ndate: 2026-02-01\nprivate: true\nfindings: [{{what: {}, grade: act}}]\n---\n{} ![h](2026-02-01-hidden/photo.svg)\n",
        c(18),
        c(19),
        c(20)
    );
    let drawing = |label: &str| {
        format!("<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 9 9'><title>{label}</title><rect width='9' height='9'/></svg>")
    };
    let book = Book::new()
        .file("boat.yaml", boat)
        .file("stores.yaml", stores)
        .file("passages.yaml", passages)
        .file("guides/engine/oil.md", guide)
        .file("log/2026/2026-03-14-oil.md", public)
        .file(&format!("log/2026/2026-03-14-oil/{}.pdf", c(12)), format!("%PDF-1.4 {}", c(21)))
        .file("log/2026/2026-03-14-oil/kept.svg", drawing("kept"))
        .file(&format!("log/2026/2026-03-14-oil/{}.svg", c(17)), drawing(&c(22)))
        .file("log/2026/2026-02-01-hidden.md", hidden)
        .file("log/2026/2026-02-01-hidden/photo.svg", drawing(&c(23)));
    // Not in words of ours, but just as private.
    (book, vec!["7771", "8881.5", "6661", "5551.5", "4441", "9 July", "2026-07-09"])
}

const PUBLIC: [&str; 5] = ["publish", "--edition", "public", "--on", "2026-06-01"];
const CANARIES: usize = 24;

/// Every word that is planted.
pub fn canaries() -> impl Iterator<Item = String> {
    (0..CANARIES).map(canary)
}

/// Every file below a folder.
pub fn files(folder: &std::path::Path) -> BTreeMap<String, Vec<u8>> {
    let all = walkdir::WalkDir::new(folder).into_iter().map(|item| item.expect("a file")).filter(|item| item.file_type().is_file());
    all.map(|item| {
        let path = item.path().strip_prefix(folder).expect("inside").to_string_lossy().into_owned();
        (path, fs::read(item.path()).expect("bytes"))
    })
    .collect()
}

fn holds(bytes: &[u8], word: &str) -> bool {
    bytes.windows(word.len()).any(|window| window == word.as_bytes())
}

#[test]
fn nothing_private_is_in_any_byte_or_name_of_the_public_site() {
    let (book, figures) = planted();
    book.run(PUBLIC).status(0).stdout_has("site-public");
    let words: Vec<String> = canaries().chain(figures.into_iter().map(str::to_owned)).collect();
    for (path, bytes) in files(&book.path("site-public")) {
        for word in &words {
            assert!(!holds(&bytes, word), "`{word}` stands in {path}");
            assert!(!path.contains(word.as_str()), "`{word}` is in the name {path}");
        }
        assert!(!path.contains("hidden") && !path.contains("passage") && !path.contains("provision") && !path.contains("costs"), "{path}");
    }
}

#[test]
fn the_crew_sees_what_is_private() {
    // The search above finds nothing because it is not there, not because it cannot find.
    let (book, figures) = planted();
    book.run(["publish", "--on", "2026-06-01"]).status(0);
    let all = files(&book.path("site"));
    // Comments (3, 6, 9) are shown to nobody, nor is the serial number of gear that was renewed since (4).
    for n in (0..CANARIES).filter(|n| ![3, 4, 6, 9].contains(n)) {
        let word = canary(n);
        assert!(all.iter().any(|(path, bytes)| path.contains(&word) || holds(bytes, &word)), "{word}");
    }
    for figure in figures.iter().filter(|figure| **figure != "9 July") {
        assert!(all.values().any(|bytes| holds(bytes, figure)), "{figure}");
    }
}

#[test]
fn the_public_site_says_what_it_is_and_never_that_a_job_is_overdue() {
    let (book, _) = planted();
    book.run(PUBLIC).status(0);
    for (path, bytes) in files(&book.path("site-public")) {
        if !path.ends_with(".html") {
            continue;
        }
        let text = String::from_utf8(bytes).expect("text");
        let page = Html::parse_document(&text);
        let main = Selector::parse("main").expect("a selector");
        let words: String = page.select(&main).flat_map(|element| element.text()).collect::<String>().to_lowercase();
        assert!(!words.contains("overdue") && !words.contains("days over") && !words.contains("next due"), "{path}");
        assert!(text.contains("public edition"), "{path}");
    }
    let guide = book.text("site-public/guides/oil.html");
    assert!(guide.contains("14 March 2026") && guide.contains("every 1 month"), "the last time and the interval are said");
    let log = book.text("site-public/log/2026.html");
    assert!(log.contains("Paper on file") && log.contains("Shown.") && log.contains("code"));
}

#[test]
fn every_link_of_the_public_site_leads_somewhere() {
    let (book, _) = planted();
    book.run(PUBLIC).status(0);
    let all = files(&book.path("site-public"));
    let links = Selector::parse("a[href], img[src], link[href], script[src]").expect("a selector");
    for (path, bytes) in all.iter().filter(|(path, _)| path.ends_with(".html")) {
        let page = Html::parse_document(&String::from_utf8_lossy(bytes));
        for element in page.select(&links) {
            let target = element.attr("href").or(element.attr("src")).unwrap_or_default();
            let target = target.split(['#', '?']).next().unwrap_or_default();
            if target.is_empty() || target.contains(':') {
                continue;
            }
            let folder = path.rsplit_once('/').map_or("", |(folder, _)| folder);
            let mut parts: Vec<&str> = folder.split('/').filter(|part| !part.is_empty()).collect();
            for part in target.split('/') {
                match part {
                    ".." => drop(parts.pop()),
                    "." | "" => {}
                    part => parts.push(part),
                }
            }
            assert!(all.contains_key(&parts.join("/")), "{path} links to {target}");
        }
    }
}

#[test]
fn public_fields_are_shown_all_the_same() {
    let (book, _) = planted();
    let boat = book.text("content/boat.yaml").replace("private-fields: [home-port, stowed]", "public-fields: [hull-number, counted]");
    book.put("content/boat.yaml", boat.as_bytes());
    book.run(PUBLIC).status(0);
    let about = book.text("site-public/about.html");
    assert!(about.contains(&canary(0)) && about.contains(&canary(2)) && !about.contains(&canary(1)));
    assert!(book.text("site-public/stores.html").contains("7771"));
}

#[test]
fn a_site_whose_list_of_files_is_damaged_is_not_taken_for_the_public_edition() {
    let (book, _) = planted();
    book.run(["publish", "--on", "2026-06-01"]).status(0);
    for torn in ["", "{\"version\": 1, \"files\": {"] {
        book.put("site/garboard-manifest.json", torn.as_bytes());
        let before = book.site();
        let run = book.run(["publish", "--edition", "public", "--on", "2026-06-01", "--to", "site"]);
        run.status(1).stdout("").stderr_has("garboard-manifest.json").stderr_has("--to DIR");
        book.site().assert_untouched_since(&before);
    }
    // The crew's own edition puts it right.
    book.run(["publish", "--on", "2026-06-01"]).status(0);
    book.run(["publish", "--on", "2026-06-01"]).status(0).stdout_has("nothing changed");
}

#[test]
fn a_public_site_whose_list_of_files_is_damaged_is_not_taken_for_the_crews() {
    let (book, _) = planted();
    book.run(PUBLIC).status(0);
    let whole = book.text("site-public/garboard-manifest.json");
    for torn in ["x\n", "", &whole.replacen("\"version\": 1", "\"version\": 99", 1)] {
        book.put("site-public/garboard-manifest.json", torn.as_bytes());
        let before = Site::of(&book.path("site-public"));
        for edition in ["crew", "public"] {
            let run = book.run(["publish", "--edition", edition, "--on", "2026-06-01", "--to", "site-public"]);
            run.status(1).stdout("").stderr_has("garboard-manifest.json").stderr_has("--to DIR");
            Site::of(&book.path("site-public")).assert_untouched_since(&before);
        }
    }
}

#[test]
fn a_crew_site_is_known_by_what_no_public_site_has() {
    let (book, _) = planted();
    book.run(PUBLIC).status(0);
    book.run(["publish", "--on", "2026-06-01"]).status(0);
    for own in ["provisions.html", "costs.html", "assets/boat.js"] {
        assert!(book.path("site").join(own).exists() && !book.path("site-public").join(own).exists(), "{own}");
    }
}

#[test]
fn the_editions_do_not_touch_each_other() {
    let (book, _) = planted();
    book.run(["publish", "--on", "2026-06-01"]).status(0);
    let before = book.site();
    book.run(PUBLIC).status(0);
    book.site().assert_untouched_since(&before);
    book.run(PUBLIC).status(0).stdout_has("nothing changed");
    book.run(["publish", "--on", "2026-06-01", "--to", "site-public"]).status(1).stderr_has("public edition");
    book.run(["publish", "--edition", "public", "--on", "2026-06-01", "--to", "site"]).status(1).stderr_has("crew edition");
    book.site().assert_untouched_since(&before);
}

#[test]
fn errors_of_the_book_are_counted_and_not_told() {
    let (book, _) = planted();
    book.put("content/log/2026/2026-05-30-secret-thing.md", b"no front matter\n");
    book.run(["publish", "--edition", "public", "--on", "2026-06-01", "--despite-errors"]).status(1);
    let index = book.text("site-public/index.html");
    assert!(index.contains("1 error in the book") && !index.contains("secret-thing"));
}

/// A book in which a guide and an entry link to photos with the place in them, and to other files.
fn linking() -> Book {
    let jpeg = with_secrets(&encoded(ImageFormat::Jpeg, 1600, 1200));
    let entry = "---\nwork: [Look at the mast]\ndate: 2026-03-14\n---\n[Photo](2026-03-14-mast/mast.JPG), [no name](2026-03-14-mast/scan), \
                 [paper](2026-03-14-mast/bill.pdf), [shown](2026-03-14-mast/shown.jpg).\n\n![Shown](2026-03-14-mast/shown.jpg)\n";
    Book::sound()
        .file("guides/hull/cock.md", job("Cock", "") + "\n   [The cock](cock/cock.jpg)\n")
        .file("guides/hull/cock/cock.jpg", &jpeg)
        .file("log/2026/2026-03-14-mast.md", entry)
        .file("log/2026/2026-03-14-mast/mast.JPG", with_secrets(&encoded(ImageFormat::Jpeg, 300, 200)))
        .file("log/2026/2026-03-14-mast/scan", with_secrets(&encoded(ImageFormat::Jpeg, 200, 300)))
        .file("log/2026/2026-03-14-mast/shown.jpg", with_secrets(&encoded(ImageFormat::Jpeg, 400, 300)))
        .file("log/2026/2026-03-14-mast/bill.pdf", "%PDF-1.4 by SOMEBODY")
}

/// Where the links of a page lead whose words are these.
fn link_of(page: &str, words: &str) -> String {
    let page = Html::parse_document(page);
    let links = Selector::parse("a[href]").expect("a selector");
    let link = page.select(&links).find(|link| link.text().collect::<String>() == words);
    link.and_then(|link| link.attr("href")).unwrap_or_else(|| panic!("no link `{words}`")).to_owned()
}

#[test]
fn a_linked_photo_is_made_anew_for_strangers() {
    let book = linking();
    book.run(PUBLIC).status(0);
    for (path, bytes) in files(&book.path("site-public")) {
        for secret in ["SECRET-PLACE", "Exif\0", "http://ns.adobe.com"] {
            assert!(!contains(&bytes, secret.as_bytes()), "{path} holds {secret}");
        }
    }
    let log = book.text("site-public/log/2026.html");
    for (page, words, sides) in [
        (&book.text("site-public/guides/cock.html"), "The cock", (1600, 1200)),
        (&log, "Photo", (300, 200)),
        (&log, "no name", (200, 300)),
        (&log, "shown", (400, 300)),
    ] {
        let href = link_of(page, words);
        let bytes = fs::read(book.path("site-public/log").join(&href)).unwrap_or_else(|error| panic!("{href}: {error}"));
        let picture = image::load_from_memory(&bytes).unwrap_or_else(|error| panic!("{href}: {error}"));
        assert_eq!((picture.width(), picture.height()), sides, "{href}");
    }
    let paper = fs::read(book.path("site-public/log").join(link_of(&log, "paper"))).expect("the paper");
    assert_eq!(paper, b"%PDF-1.4 by SOMEBODY");
    book.run(PUBLIC).status(0).stdout_has("nothing changed");
}

#[test]
fn the_crew_has_a_linked_photo_as_it_was_taken() {
    let book = linking();
    book.run(["publish", "--on", "2026-06-01"]).status(0);
    let href = link_of(&book.text("site/guides/cock.html"), "The cock");
    let bytes = fs::read(book.path("site/guides").join(href)).expect("the photo");
    assert_eq!(bytes, fs::read(book.path("content/guides/hull/cock/cock.jpg")).expect("the photo"));
}

#[test]
fn a_linked_photo_that_cannot_be_made_anew_is_not_handed_out() {
    let heic = b"\0\0\0\x18ftypheic\0\0\0\0mif1heic SECRET-PLACE";
    let book = linking()
        .file("guides/hull/cock.md", job("Cock", "") + "\n   [The cock](cock/cock.heic) and [torn](cock/torn.jpg)\n")
        .file("guides/hull/cock/cock.heic", heic)
        .file("guides/hull/cock/torn.jpg", "\u{fffd}SECRET-PLACE");
    let run = book.run(PUBLIC).status(0);
    assert_eq!(run.stderr.matches("it may say where it was taken, so this edition leaves it out").count(), 2, "{}", run.stderr);
    assert!(
        run.stderr.contains("cock.heic") && run.stderr.contains("save it as JPEG") && run.stderr.contains("torn.jpg"),
        "{}",
        run.stderr
    );
    for (path, bytes) in files(&book.path("site-public")) {
        assert!(!contains(&bytes, b"SECRET-PLACE"), "{path}");
    }
    assert!(book.text("site-public/guides/cock.html").contains("The cock"), "its words stay");
}

const DESPITE: [&str; 6] = ["publish", "--edition", "public", "--on", "2026-06-01", "--despite-errors"];

/// A book that withholds `stowed`, `except` and `note`, each with a canary, and has an entry that names them.
fn withholding() -> Book {
    Book::new()
        .file("boat.yaml", "name: Plover\nprivate-fields: [stowed, except, note]\nsystems: [{id: engine, title: Engine}]\n")
        .file("stores.yaml", format!("- {{id: filter, title: Filter, stowed: {}, note: {}}}\n", canary(0), canary(1)))
        .file(
            "guides/engine/oil.md",
            "---\ntitle: Change the oil\nparts: [{item: filter}]\n---\n## Drain\n1. Drain it with the {filter}.\n",
        )
        .file("log/2026/2026-03-14-oil.md", format!("---\njobs: [oil]\ndate: 2026-03-14\nexcept: [{}]\n---\nSeen.\n", canary(2)))
}

/// Where a canary of [`withholding`] stands in a folder.
fn told(folder: &std::path::Path) -> Vec<String> {
    let is_told = |bytes: &[u8]| canaries().any(|word| holds(bytes, &word));
    files(folder).into_iter().filter(|(_, bytes)| is_told(bytes)).map(|(path, _)| path).collect()
}

/// What may be wrong with `boat.yaml`, be it far from what it says of private things.
fn wrong_boats() -> Vec<String> {
    let boat = withholding().text("content/boat.yaml");
    let fields = "private-fields: [stowed, except, note]";
    vec![
        format!("{boat}length: [a\n"),
        format!("{boat}length: 12 fathoms of chain\n"),
        format!("{boat}colour: red\n"),
        boat.replace(fields, "privat-fields: [stowed, except, note]"),
        boat.replace(fields, "private-fields: stowed"),
        boat.replace(fields, "private-fields: [stowed, except, note, titel]"),
        format!("{boat}private-fields: [flag]\n"),
        format!("{boat}public-fields: [hull-numbr]\n"),
        String::new(),
    ]
}

#[test]
fn there_is_no_public_edition_while_the_boat_has_an_error() {
    let sound = withholding();
    sound.run(PUBLIC).status(0);
    assert_eq!(told(&sound.path("site-public")), [""; 0]);
    let before = Site::of(&sound.path("site-public"));
    for boat in wrong_boats() {
        sound.put("content/boat.yaml", boat.as_bytes());
        for command in [&PUBLIC[..], &DESPITE[..]] {
            let run = sound
                .run(command)
                .status(1)
                .stdout("")
                .stderr_has("`boat.yaml` has errors, so nobody can tell what should be kept private");
            assert!(run.stderr.contains("mend these errors first") && !run.stderr.contains("publish the rest"), "{}", run.stderr);
            Site::of(&sound.path("site-public")).assert_untouched_since(&before);
        }
        let fresh = withholding().file("boat.yaml", &boat);
        fresh.run(DESPITE).status(1).stdout("");
        assert!(!fresh.path("site-public").exists(), "{boat}");
    }
    let none = withholding().without("boat.yaml");
    none.run(DESPITE).status(1).stdout("").stderr_has("`boat.yaml` has errors");
    assert!(!none.path("site-public").exists());
}

#[test]
fn there_is_no_public_edition_while_a_list_has_an_error() {
    for (list, text) in [
        ("stores.yaml", "- {id: filter, title: Filter, private: true}\n"),
        ("tools.yaml", "- {id: socket, title: Socket, privat: true}\n"),
        ("cautions.yaml", "- {id: gas, title: Gas, harm: It burns, avoid: Air, signal: WARNING, private: true}\n"),
    ] {
        let book = withholding().file(list, text);
        book.run(DESPITE).status(1).stdout("").stderr_has(&format!("`{list}` has errors, so nobody can tell"));
        assert!(!book.path("site-public").exists());
    }
}

#[test]
fn a_guide_or_an_entry_with_an_error_stays_out_of_the_public_edition() {
    let entry = |front: &str, notes: &str| format!("---\nwork: [Look]\ndate: 2026-05-02\n{front}---\n{notes}\n");
    let guide = |front: &str, step: &str| format!("---\ntitle: Look\n{front}---\n## Look\n\n1. {step}\n");
    let secret = canary(3);
    let look = "log/2026/2026-05-02-look.md";
    for (path, text) in [
        (look, entry("privat: true\n", &secret)),
        (look, entry("private: false\nprivate: true\n", &secret)),
        (look, entry("", &format!("<!-- privat -->{secret}<!-- /privat -->"))),
        (look, entry("", &format!("Seen.<!-- /private --> {secret}"))),
        (look, entry("", "[It](2026-05-02-look/secret.txt)\n").replace("date:", "paper: [secret.txt]\ndate:")),
        (look, entry("papers: secret.txt\n", "[It](2026-05-02-look/secret.txt)\n")),
        ("guides/engine/look.md", guide("private: true\n", &secret)),
        ("guides/engine/look.md", guide("", &format!("Look. <!-- private -->{secret}<!-- /private -->"))),
    ] {
        let book = withholding().file("log/2026/2026-05-02-look/secret.txt", &secret).file(path, &text);
        book.run(PUBLIC).status(1).stdout("").stderr_has("the site is as it was");
        book.run(DESPITE).status(1).stdout_has("site-public").stderr_has("left out: a guide or entry that has errors");
        assert_eq!(told(&book.path("site-public")), [""; 0], "{text}");
        // All else is there, and owns up to the error.
        assert!(book.text("site-public/log/2026.html").contains("Seen.") && book.path("site-public/guides/oil.html").exists());
        assert!(book.text("site-public/index.html").contains("in the book"), "{text}");
        book.run(["publish", "--on", "2026-06-01", "--despite-errors"]).status(1);
        assert!(!told(&book.path("site")).is_empty(), "the crew has it: {text}");
    }
}

#[test]
fn files_of_an_entry_that_cannot_be_read_are_not_handed_out_to_strangers() {
    let book = withholding()
        .file("log/2026/2026-05-02-look.md", "no front matter\n")
        .file("log/2026/2026-05-02-look/secret.txt", canary(3))
        .file("log/2026/2026-05-03-more.md", "---\nwork: [More]\ndate: 2026-05-03\n---\n[It](2026-05-02-look/secret.txt)\n");
    book.run(DESPITE).status(1).stdout_has("site-public");
    assert_eq!(told(&book.path("site-public")), [""; 0]);
    assert!(book.text("site-public/log/2026.html").contains("More"));
}

#[test]
fn the_crew_has_her_pages_whatever_is_wrong_with_the_boat_and_the_record_tells_nothing() {
    for boat in wrong_boats() {
        let book = withholding().file("boat.yaml", &boat);
        book.run(["publish", "--on", "2026-06-01", "--despite-errors"]).status(1).stdout_has("open site");
        assert!(book.text("site/guides/oil.html").contains("Drain it"), "{boat}");
        assert!(book.text("site/log/2026.html").contains(&canary(2)), "{boat}");
        let told = told(&book.path("site"));
        assert!(!told.iter().any(|path| path.starts_with("record")), "{boat}: {told:?}");
        assert!(book.text("site/record.html").contains("in the book"), "{boat}");
    }
}

#[test]
fn a_record_is_not_compared_while_nobody_can_tell_what_is_private() {
    let book = withholding();
    book.run(PUBLIC).status(0);
    let record = book.text("site-public/record.json");
    let book = book.beside("seen.json", record);
    let compare = ["survey", "--on", "2026-06-01", "--record", "seen.json"];
    book.run(compare).status(0).stdout_has("1 the same");
    let boat = book.text("content/boat.yaml") + "colour: red\n";
    let book = book.file("boat.yaml", boat);
    book.run(compare).status(1).stdout("").stderr_has("today's record cannot be made").stderr_has("mend `boat.yaml` first");
}

#[test]
fn nothing_is_shared_while_the_book_has_an_error() {
    for boat in wrong_boats() {
        let book = withholding().file("boat.yaml", &boat);
        book.run(["share", "oil", "--to", "oil.html"]).status(1).stderr_has("nothing was shared");
        assert!(!book.path("oil.html").exists(), "{boat}");
    }
}

/// A book that keeps back what its guide names: no step, caution, heading or prose may tell it.
fn naming() -> Book {
    let front = "title: Renew the impeller\noccasions: [lay-up]\nhazards: []\nsafety: [\"Never strain {qzpart-ring}.\"]\n\
                 torque: [{at: qztorque screw, value: 35 N·m}]\nvalues: {qzvalue-level: 3 L}\nparts: [{item: qzpart-ring}, {item: qzstore-seal}]\n\
                 tools: [qztool spanner]\nreadings: {qzreading-lift: {unit: bar}}\n";
    let body = "Have {qzpart-ring} ready.\n\n## Fit {qzpart-ring}\n\nPour in {qzvalue-level}.\n\n\
                > CAUTION: {qztorque-screw} shears.\n\n\
                1. Turn the {qztorque-screw} with the {qztool-spanner}, put {qzpart-ring} and {qzstore-seal} on. \
                {takes 5 min} {read qzreading-lift}\n\n   > NOTICE: Do not scratch {qzpart-ring}.\n2. Look at {qzreading-lift}.\n\
                ## Try {after Fit}\n1. Run it. {takes 5 min}\n";
    Book::new()
        .file(
            "boat.yaml",
            "name: Plover\nsite: https://plover.example/\nprivate-fields: [torque, values, parts, tools, readings]\n\
             systems: [{id: engine, title: Engine}]\n",
        )
        .file("stores.yaml", "- {id: seal, title: A seal}\n- {id: qzstore-seal, title: Lip seal}\n")
        .file("guides/engine/impeller.md", format!("---\n{front}---\n{body}"))
}

#[test]
fn names_of_what_is_withheld_stand_nowhere_in_the_public_site() {
    let book = naming();
    book.run(PUBLIC).status(0);
    // The stores themselves are open: what is withheld is that this job takes the seal.
    let own_store = |path: &str| path == "stores.html" || path.starts_with("assets/search/");
    for (path, bytes) in files(&book.path("site-public")) {
        for name in ["qztorque", "qzvalue", "qzpart", "qztool", "qzreading"] {
            assert!(!holds(&bytes, name), "`{name}` stands in {path}");
        }
        assert!(own_store(&path) || !holds(&bytes, "qzstore"), "{path}");
    }
    let guide = book.text("site-public/guides/impeller.html");
    let said = crate::publish::words(&guide, "main").split_whitespace().collect::<Vec<_>>().join(" ");
    for sentence in [
        "Never strain (not shown).",
        "Have (not shown) ready.",
        "Fit (not shown)",
        "Pour in (not shown).",
        "(not shown) shears.",
        "Turn the (not shown) with the (not shown), put (not shown) and (not shown) on.",
        "Do not scratch (not shown).",
        "Look at (not shown).",
    ] {
        assert!(said.contains(sentence), "{sentence}: {said}");
    }
    assert!(!guide.contains('{') || !said.contains('{'), "{said}");
    book.run(["publish", "--on", "2026-06-01"]).status(0);
    assert!(book.text("site/guides/impeller.html").contains("qztool spanner"), "the crew sees them");
    let german = naming();
    german.put("content/boat.yaml", (german.text("content/boat.yaml") + "language: de\n").as_bytes());
    german.run(PUBLIC).status(0);
    assert!(german.text("site-public/guides/impeller.html").contains("Look at (nicht gezeigt)."));
}

#[test]
fn names_of_what_is_withheld_are_not_shared_either() {
    let book = naming();
    book.run(["share", "impeller", "--to", "impeller.html"]).status(0);
    let file = book.text("impeller.html");
    assert!(!file.contains("qz"), "{}", &file[file.find("qz").unwrap_or_default()..]);
    assert!(file.contains("Turn the (not shown) with the (not shown), put (not shown) and (not shown) on. {takes 5 min} "));
    // Another boat takes it in as it is, and stages still find each other.
    let other = Book::new().file("boat.yaml", "name: Tern\n");
    other.put("impeller.html", file.as_bytes());
    other.run(["receive", "impeller.html", "--yes"]).status(0);
    let guide = other.text("content/guides/engine/impeller.md");
    assert!(
        guide.contains("## Fit \n") && guide.contains("## Try {after Fit}\n") && guide.contains("2. Look at (not shown).\n"),
        "{guide}"
    );
    other.run(["survey"]).status(0);
}
