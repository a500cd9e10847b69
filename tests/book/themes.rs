//! Themes beside the book: one file replaced, and what happens when it is broken.

use crate::publish::words;
use crate::samples::fitted_out;
use crate::support::{self, Book, Site};
use std::path::Path;

const ON: [&str; 3] = ["publish", "--on", "2026-06-01"];

#[test]
fn a_single_file_of_the_theme_may_be_replaced() {
    let plain = fitted_out().published().site();
    let own = fitted_out().beside("themes/jobsheet/style.css", "body { color: black }\n").published().site();
    assert_eq!(own.files["assets/style.css"], b"body{color:black}\n");
    let differing: Vec<&String> = plain.files.keys().filter(|path| plain.files.get(*path) != own.files.get(*path)).collect();
    assert_eq!(differing, ["assets/style.css", "garboard-manifest.json", "pocket.html", "sw.js"]);
}

#[test]
fn a_template_may_be_replaced_and_taken_back() {
    let book = fitted_out().published();
    let before = book.site();
    let book = book.beside("themes/jobsheet/tools.html", "<!doctype html><title>x</title><p>My own tools page\n");
    book.run(ON).status(0);
    assert!(words(book.site().page("tools.html"), "body").contains("My own tools page"));
    std::fs::remove_dir_all(book.path("themes")).expect("removed");
    book.run(ON).status(0);
    book.site().assert_same_bytes(&before);
}

#[test]
fn a_file_of_the_theme_may_have_capitals_spaces_and_letters_of_any_script() {
    for edition in ["crew", "public"] {
        let book = fitted_out();
        let publish = ["publish", "--on", "2026-06-01", "--edition", edition, "--to", "out"];
        for name in ["Logo.png", "our own.css", "größe.js"] {
            book.put(&format!("themes/jobsheet/{name}"), b"/* 1 */");
        }
        book.run(publish).status(0);
        for name in ["Logo.png", "our own.css", "größe.js"] {
            assert!(book.path("out/assets").join(name).exists(), "{name}");
        }
        book.run(publish).status(0).stdout_has("nothing changed");
        // The next publish knows what is there: what the book has no longer is taken away.
        let book = book.without("guides/hull/aux-pump.md").without("log/2026/2026-04-20-pump.md");
        std::fs::remove_file(book.path("themes/jobsheet/our own.css")).expect("removed");
        book.run(publish).status(0).stdout_has("removed");
        assert!(!book.path("out/guides/aux-pump.html").exists() && !book.path("out/assets/our own.css").exists());
    }
}

#[cfg(unix)]
#[test]
fn a_file_of_the_theme_with_a_name_that_a_disk_refuses_is_named() {
    let names = [
        ("a:b.png", "not every disk"),
        ("con.png", "not every disk"),
        ("back\\slash.css", "not every disk"),
        ("50%.png", "`%`"),
        ("why?.js", "`?`"),
        ("Style.css", "`style.css` is there too"),
        ("Words.js", "`words.js` is there too"),
    ];
    for (name, why) in names {
        let book = fitted_out().published();
        let before = book.site();
        let book = book.beside(&format!("themes/jobsheet/{name}"), "");
        book.run(ON).status(1).stdout("").stderr_has(name).stderr_has(why).stderr_has("give it another name");
        book.site().assert_untouched_since(&before);
    }
    // What pages do not load may be called anything.
    fitted_out().beside("themes/jobsheet/why?.txt", "").published();
}

/// The templates that ship are read with words and components put into them; where one is of the boat's own, be it by
/// a comment, all are read as they are written.
#[test]
fn the_demo_is_the_same_however_its_templates_are_read() {
    let demo = || {
        let book = Book::new();
        book.lay(&Path::new(env!("CARGO_MANIFEST_DIR")).join("content"));
        book
    };
    let site = |book: Book| {
        book.run_within(support::LIMIT * 2, ["publish", "--on", "2026-11-24"]).status(0);
        let mut site = book.site();
        site.files.remove("garboard-manifest.json");
        site
    };
    let about = include_str!("../../themes/jobsheet/about.html");
    site(demo()).assert_same_bytes(&site(demo().beside("themes/jobsheet/about.html", format!("{about}{{# ours #}}"))));
}

#[test]
fn a_theme_of_another_name_begins_with_the_one_that_ships() {
    let book = fitted_out().beside("themes/mine/style.css", "body { color: navy }\n");
    book.run(["publish", "--on", "2026-06-01", "--theme", "mine"]).status(0);
    assert_eq!(book.site().files["assets/style.css"], b"body{color:navy}\n");
    assert!(book.site().files.contains_key("guides/oil.html"));
}

#[test]
fn a_theme_that_is_not_there_is_said() {
    for name in ["no-such", "../content", "", "/etc"] {
        let book = fitted_out();
        book.run(["publish", "--on", "2026-06-01", "--theme", name]).without_panic();
        if name == "no-such" {
            book.run(["publish", "--on", "2026-06-01", "--theme", name]).status(1).stderr_has("no-such").stdout("");
            assert!(!book.path("site").exists());
        }
    }
}

/// A broken template leaves the site as it was, and the message names the file and the line.
#[track_caller]
fn broken(template: &str, text: &str, line: usize) {
    let book = fitted_out().published();
    let before = book.site();
    let book = book.beside(&format!("themes/jobsheet/{template}"), text);
    let run = book.run(ON).status(1).stderr_has(template).stdout("");
    let said = [format!("{template}:{line}"), format!("line {line}"), format!("{line} |")].iter().any(|place| run.stderr.contains(place));
    assert!(said, "no line {line} in {}", run.stderr);
    book.site().assert_untouched_since(&before);
}

#[test]
fn a_template_that_cannot_be_read_is_named() {
    broken("tools.html", "<p>\n<p>\n{% if page %}\n", 4);
    broken("tools.html", "<p>\n{{ page. }}\n", 2);
    broken("tools.html", "<p>\n\n{% nonsense %}\n", 3);
}

#[test]
fn a_template_that_asks_for_what_is_not_there_is_named() {
    broken("tools.html", "<p>\n{{ page.no_such_thing.deeper }}\n", 2);
    broken("guide.html", "<p>\n<p>\n{{ say(k=\"no.such.words\") }}\n", 3);
}

#[test]
fn broken_words_are_named_with_their_file() {
    let book = fitted_out().published();
    let before = book.site();
    let book = book.beside("themes/jobsheet/words/en.yaml", "guide: [unclosed\n");
    book.run(ON).status(1).stderr_has("en.yaml");
    book.site().assert_untouched_since(&before);
}

#[test]
fn another_language_changes_the_words_and_no_file_name() {
    let english = fitted_out().published().site();
    let boat = fitted_out().text("content/boat.yaml") + "language: de\n";
    let german: Site = fitted_out().file("boat.yaml", boat).published().site();
    assert_eq!(german.files.keys().collect::<Vec<_>>(), english.files.keys().collect::<Vec<_>>());
    assert_ne!(words(german.page("tools.html"), "h1"), words(english.page("tools.html"), "h1"));
    for (path, html) in german.pages() {
        assert!(html.contains("lang=\"de\""), "{path}");
    }
}

#[test]
fn a_language_nobody_has_put_into_words_falls_back() {
    let boat = fitted_out().text("content/boat.yaml") + "language: is\n";
    let book: Book = fitted_out().file("boat.yaml", boat);
    let warned = "there are no words in `is`: pages are in English";
    book.run(ON).status(0).stderr_has(warned).stderr_has("`de`, `en`").stderr_has("themes/jobsheet/words/is.yaml");
    book.run(["survey"]).stdout_has(warned);
    // The boat's own words count, for the theme that has them.
    let book = book.beside("themes/plain/words/is.yaml", "guide: {}\n");
    assert!(!book.run(["survey"]).status(0).stdout.contains(warned));
    book.run(ON).status(0).stderr_has(warned);
    let plain = book.run(["publish", "--on", "2026-06-01", "--theme", "plain"]).status(0);
    assert!(!plain.stderr.contains(warned), "{}", plain.stderr);
}
