//! Publishing: what is written, what is left alone, and when nothing is.

use crate::samples::{encoded, fitted_out, with_notes};
use crate::support::{Book, Site, entry, job};
use image::ImageFormat;
use scraper::{Html, Selector};
use std::collections::BTreeSet;

const ON: [&str; 3] = ["publish", "--on", "2026-06-01"];

#[test]
fn the_site_opens_from_index_html() {
    let book = fitted_out();
    book.run(ON).status(0).stdout_has("index.html");
    let site = book.site();
    for path in [
        "index.html",
        "guides/oil.html",
        "guides/aux-pump.html",
        "guides/ol-prufen.html",
        "log/2025.html",
        "log/2026.html",
        "garboard-manifest.json",
    ] {
        assert!(site.files.contains_key(path), "{path} of {:?}", site.files.keys());
    }
}

#[test]
fn a_book_with_errors_leaves_the_site_as_it_is() {
    let book = fitted_out().published();
    let before = book.site();
    for (path, text) in [
        ("guides/engine/bad.md", "---\ntitle: Never closed\n"),
        ("stores.yaml", "- {id: belt, title: Belt, minimun: 1}\n"),
        ("log/2026/2026-05-30-bad.md", "---\njobs: [no-such-job]\ndate: 2026-05-30\n---\n"),
    ] {
        let old = std::fs::read(book.path(&format!("content/{path}"))).ok();
        book.put(&format!("content/{path}"), text.as_bytes());
        book.run(ON).status(1).stdout("").stderr_has("the site is as it was");
        book.site().assert_untouched_since(&before);
        match old {
            Some(old) => book.put(&format!("content/{path}"), &old),
            None => std::fs::remove_file(book.path(&format!("content/{path}"))).expect("removed"),
        }
    }
}

#[test]
fn errors_at_the_first_publish_make_no_site() {
    let book = Book::sound().file("guides/engine/bad.md", "---\ntitle: Never closed\n");
    book.run(ON).status(1);
    assert!(!book.path("site").exists());
}

#[test]
fn despite_errors_every_page_names_the_files_that_are_missing() {
    let book =
        fitted_out().file("guides/engine/bad.md", "---\ntitle: Never closed\n").file("log/2026/2026-05-30-bad.md", "no front matter\n");
    book.run(["publish", "--on", "2026-06-01", "--despite-errors"]).stderr_has("guides/engine/bad.md");
    let site = book.site();
    assert!(site.files.contains_key("guides/oil.html") && !site.files.contains_key("guides/bad.html"));
    let mut pages = 0;
    for (path, html) in site.pages() {
        pages += 1;
        // The record is made to be handed over: it says that something is missing, and no name of a file.
        if path.starts_with("record") {
            assert!(words(html, "body").contains("2 errors in the book") && !html.contains("bad.md"), "{path}");
            continue;
        }
        for file in ["guides/engine/bad.md", "log/2026/2026-05-30-bad.md"] {
            assert!(words(html, "body").contains(file), "{path} does not name {file}");
        }
    }
    assert!(pages > 10);
}

#[test]
fn a_mended_book_takes_the_notice_away() {
    let book = fitted_out().file("guides/engine/bad.md", "---\ntitle: Never closed\n");
    book.run(["publish", "--on", "2026-06-01", "--despite-errors"]);
    let mended = book.file("guides/engine/bad.md", job("Mended", "")).published();
    for (path, html) in mended.site().pages() {
        assert!(!words(html, "body").contains("engine/bad.md"), "{path}");
    }
}

#[test]
fn despite_errors_a_book_without_its_boat_is_still_published() {
    let book = fitted_out().file("boat.yaml", "name: [unclosed\n");
    let run = book.run(["publish", "--on", "2026-06-01", "--despite-errors"]).without_panic();
    assert!(book.path("site/index.html").exists(), "{run:?}");
    assert!(words(book.site().page("index.html"), "body").contains("boat.yaml"));
}

#[test]
fn a_second_publish_writes_nothing_and_says_so() {
    let book = fitted_out().published();
    let before = book.site();
    book.run(ON).status(0).stdout_has("nothing changed");
    book.site().assert_untouched_since(&before);
}

#[test]
fn the_pocket_file_is_the_same_for_the_same_book_and_holds_every_guide() {
    let site = fitted_out().published().site();
    let again = fitted_out().published().site();
    assert_eq!(site.files["pocket.html"], again.files["pocket.html"]);
    let page = site.page("pocket.html");
    for path in site.files.keys().filter_map(|path| path.strip_prefix("guides/")?.strip_suffix(".html")) {
        assert!(page.contains(&format!("id=\"{path}\"")) && page.contains(&format!("id=\"{path}.sheet\"")), "{path}");
    }
    let ids: Vec<String> = attributes(page, "[id]", "id");
    assert_eq!(ids.iter().collect::<BTreeSet<_>>().len(), ids.len(), "no id stands twice");
    assert!(attributes(page, "img", "src").iter().all(|src| src.starts_with("data:image/")));
    assert_eq!(attributes(page, "link, [srcset], script[src]", "href"), [""; 0]);
    // A device that keeps the site need not keep it twice.
    assert!(!String::from_utf8_lossy(&site.files["sw.js"]).contains("pocket.html"));
}

#[test]
fn only_the_pages_that_show_a_changed_entry_are_written() {
    let book = fitted_out().published();
    let before = book.site();
    let path = "content/log/2025/2025-05-02-oil.md";
    book.put(path, book.text(path).replace("Cold hands.", "Frozen fingers.").as_bytes());
    book.run(ON).status(0);
    let after = book.site();
    let changed = after.changed_since(&before);
    assert!(changed.contains(&"log/2025.html"), "{changed:?}");
    for path in changed {
        // Words of the search index: which of its files change is looked at in `search.rs`. The record has
        // another fingerprint.
        assert!(
            path.starts_with("assets/search/")
                || path.starts_with("record.")
                || ["garboard-manifest.json", "sw.js"].contains(&path)
                || String::from_utf8_lossy(&after.files[path]).contains("Frozen fingers"),
            "{path}"
        );
    }
}

#[test]
fn another_day_touches_only_pages_that_show_a_state() {
    let book = fitted_out().published();
    let before = book.site();
    book.run(["publish", "--on", "2026-06-02"]).status(0);
    let after = book.site();
    let changed = after.changed_since(&before);
    for path in ["index.html", "guides/oil.html"] {
        assert!(changed.contains(&path), "{path}: {changed:?}");
    }
    for path in ["log/2025.html", "log/2026.html", "log.html", "tools.html", "cautions.html", "assets/style.css"] {
        assert!(!changed.contains(&path), "{path}: {changed:?}");
    }
}

#[test]
fn what_is_no_longer_in_the_book_is_taken_away_and_files_of_others_stay() {
    let book = fitted_out().published();
    book.put("site/notes-of-mine.txt", b"mine");
    book.put("site/guides/mine.html", b"mine");
    book.put("site/Folder/mine.txt", b"mine");
    let mine =
        |site: &Site| site.files.iter().filter(|(_, bytes)| bytes.as_slice() == b"mine").map(|(path, _)| path.clone()).collect::<Vec<_>>();
    let before = book.site();
    assert!(before.files.keys().any(|path| path.ends_with(".png") || path.ends_with(".webp") || path.ends_with(".jpg")));
    let book =
        book.without("guides/hull/aux-pump.md").without("guides/hull/aux-pump").without("log/2026/2026-04-20-pump.md").without("log/2025");
    book.run(ON).status(0);
    let after = book.site();
    for path in ["guides/aux-pump.html", "log/2025.html"] {
        assert!(!after.files.contains_key(path), "{path}");
    }
    assert!(!after.files.keys().any(|path| path.contains("pump")), "{:?}", after.files.keys());
    assert_eq!(mine(&after), mine(&before));
    assert_eq!(mine(&after).len(), 3);
}

#[test]
fn a_foreign_index_is_refused_and_nothing_is_changed() {
    let book = fitted_out();
    book.put("site/index.html", b"<p>my own page</p>");
    book.put("site/photo.jpg", b"mine");
    let before = book.site();
    book.run(ON).status(1).stderr_has("index.html").stdout("");
    book.site().assert_untouched_since(&before);
}

#[test]
fn a_folder_of_others_may_take_the_site() {
    let book = fitted_out();
    book.put("stick/photos/us.jpg", b"mine");
    book.run(["publish", "--on", "2026-06-01", "--to", "stick"]).status(0);
    assert!(book.path("stick/index.html").exists());
    assert_eq!(book.text("stick/photos/us.jpg"), "mine");
    assert!(!book.path("site").exists());
}

#[test]
fn the_site_is_never_written_into_the_book() {
    let book = fitted_out();
    for to in ["content", "content/site", "content/../content/log", "./content"] {
        book.run(["publish", "--on", "2026-06-01", "--to", to]).status(1).stderr_has("--to");
    }
    assert!(!book.path("content/site").exists());
}

#[test]
fn the_same_book_gives_the_same_bytes() {
    let (one, other) = (fitted_out().published(), fitted_out());
    // Another order of making, another time, another place.
    std::thread::sleep(std::time::Duration::from_millis(1100));
    other.run(["publish", "--on", "2026-06-01", "--to", "deep/down/site"]).status(0);
    one.site().assert_same_bytes(&Site::of(&other.path("deep/down/site")));
}

#[test]
fn publishing_over_an_older_site_gives_the_same_bytes_as_anew() {
    let fresh = fitted_out().published();
    let book = with_notes(fitted_out(), 120);
    book.run(["publish", "--on", "2026-05-01"]).status(0);
    let book = book.without("log/2025");
    let text = fitted_out().text("content/log/2025/2025-05-02-oil.md");
    let book = book.file("log/2025/2025-05-02-oil.md", text).published();
    book.site().assert_same_bytes(&fresh.site());
}

/// Microsoft, "Naming Files, Paths, and Namespaces"; exFAT compares names without regard to case.
#[test]
fn every_file_name_is_plain_everywhere() {
    let book = fitted_out()
        .file(
            "boat.yaml",
            fitted_out()
                .text("content/boat.yaml")
                .replace("{id: hull, title: Hull}", "{id: hull, title: Hull}\n  - {id: aux-systems, title: Aux}"),
        )
        .file("log/2026/2026-05-21 Ölwechsel & Größe.md", entry("date: 2026-05-21\nwork: [Öl]\n"))
        .published();
    let site = book.site();
    let mut seen = BTreeSet::new();
    for path in site.files.keys() {
        assert!(seen.insert(path.to_lowercase()), "{path} twice");
        assert!(path.len() < 200, "{path}");
        for part in path.split('/') {
            assert!(part.bytes().all(|byte| byte.is_ascii_lowercase() || byte.is_ascii_digit() || b"-_.".contains(&byte)), "{path}");
            assert!(!part.starts_with('.') && !part.ends_with('.'), "{path}");
            let stem = part.split('.').next().unwrap_or_default();
            let port = |word: &str| stem.strip_prefix(word).is_some_and(|rest| rest.len() == 1 && rest.as_bytes()[0].is_ascii_digit());
            assert!(!["con", "prn", "aux", "nul"].contains(&stem) && !port("com") && !port("lpt"), "{path}");
        }
    }
}

#[test]
fn a_guide_shows_when_it_was_last_done_with_a_link_to_the_entry() {
    let site = fitted_out().without("log/2026/2026-05-20-begun.md").published().site();
    let links = attributes(site.page("guides/oil.html"), "a[href]", "href");
    assert!(links.contains(&"../log/2026.html#2026-03-14-oil".to_owned()), "{links:?}");
    assert!(attributes(site.page("guides/oil.html"), "time[datetime]", "datetime").contains(&"2026-03-14".to_owned()));
}

#[test]
fn what_an_open_job_left_apart_heads_the_first_page() {
    let site = fitted_out().published().site();
    let main = words(site.page("index.html"), "main");
    let at = |wanted: &str| main.find(wanted).unwrap_or_else(|| panic!("`{wanted}` is not on the first page: {main}"));
    assert!(at("no oil in the engine") < at("Weeping hose"), "{main}");
}

#[test]
fn the_log_is_split_after_a_hundred_entries_from_the_oldest() {
    let book = with_notes(Book::sound(), 205).published();
    let site = book.site();
    let articles = |path: &str| attributes(site.page(path), "article[id]", "id");
    let (first, second, third) = (articles("log/2025.html"), articles("log/2025-2.html"), articles("log/2025-3.html"));
    assert_eq!((first.len(), second.len(), third.len()), (100, 100, 5));
    assert!(first.contains(&"2025-01-01-note-000".to_owned()) && third.contains(&"2025-03-02-note-204".to_owned()), "{first:?} {third:?}");
    assert!(!site.files.contains_key("log/2025-4.html"));
    // One more at the end touches neither of the full pages.
    let before = book.site();
    let book = book.file("log/2025/2025-12-01-note-205.md", "---\ndate: 2025-12-01\nwork: [Note 205]\n---\n");
    book.run(ON).status(0);
    let after = book.site();
    let changed = after.changed_since(&before);
    assert!(
        changed.contains(&"log/2025-3.html") && !changed.contains(&"log/2025.html") && !changed.contains(&"log/2025-2.html"),
        "{changed:?}"
    );
}

#[test]
fn photos_lose_what_a_camera_hides_in_them() {
    let jpeg = with_secrets(&encoded(ImageFormat::Jpeg, 1600, 1200));
    assert!(image::load_from_memory(&jpeg).is_ok());
    let book = Book::sound()
        .file("guides/hull/cock.md", job("Cock", "") + "\n   ![The cock](cock/cock.jpg)\n")
        .file("guides/hull/cock/cock.jpg", &jpeg)
        .published();
    let site = book.site();
    let pictures: Vec<&String> =
        site.files.keys().filter(|path| [".jpg", ".jpeg", ".webp", ".png"].iter().any(|end| path.ends_with(end))).collect();
    assert!(!pictures.is_empty());
    for (path, bytes) in &site.files {
        for secret in ["SECRET-PLACE", "Exif\0", "http://ns.adobe.com"] {
            assert!(!contains(bytes, secret.as_bytes()), "{path} holds {secret}");
        }
    }
    for path in pictures {
        image::load_from_memory(&site.files[path]).unwrap_or_else(|error| panic!("{path}: {error}"));
    }
}

#[test]
fn a_picture_nobody_shows_is_not_copied() {
    let site = fitted_out().file("guides/hull/aux-pump/other.png", encoded(ImageFormat::Png, 60, 60)).published().site();
    assert_eq!(
        site.files.keys().filter(|path| path.ends_with(".png") || path.ends_with(".webp")).filter(|path| path.contains("other")).count(),
        0
    );
}

/// A JPEG with an Exif segment, an XMP segment and a comment after its start (JFIF 1.02; Exif 2.3).
pub fn with_secrets(jpeg: &[u8]) -> Vec<u8> {
    let mut out = jpeg[..2].to_vec();
    for (marker, content) in [
        (0xe1, &b"Exif\0\0MM\0*\0\0\0\x08\0\0\0\0\0\0SECRET-PLACE"[..]),
        (0xe1, b"http://ns.adobe.com/xap/1.0/\0<x>SECRET-PLACE</x>"),
        (0xfe, b"SECRET-PLACE"),
    ] {
        let length = u16::try_from(content.len() + 2).expect("short");
        out.extend([0xff, marker]);
        out.extend(length.to_be_bytes());
        out.extend(content);
    }
    out.extend(&jpeg[2..]);
    out
}

pub fn contains(bytes: &[u8], wanted: &[u8]) -> bool {
    bytes.windows(wanted.len()).any(|window| window == wanted)
}

/// Text of the first element that a selector finds.
pub fn words(html: &str, selector: &str) -> String {
    let page = Html::parse_document(html);
    let selector = Selector::parse(selector).expect("a selector");
    page.select(&selector).next().map(|element| element.text().collect::<Vec<_>>().join(" ")).unwrap_or_default()
}

/// Values of an attribute over all elements that a selector finds.
pub fn attributes(html: &str, selector: &str, attribute: &str) -> Vec<String> {
    let page = Html::parse_document(html);
    let selector = Selector::parse(selector).expect("a selector");
    page.select(&selector).filter_map(|element| element.value().attr(attribute)).map(str::to_owned).collect()
}
