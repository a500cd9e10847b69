//! Whatever a book holds, pages show it as text: no markup, no script, no foreign address.

use crate::publish::{attributes, words};
use crate::support::{Book, Site, entry, guide, job};
use scraper::{Html, Selector};

/// Titles that try to be something else.
const HOSTILE: [&str; 8] = [
    "<script>alert(1)</script>",
    "\"><img src=x onerror=alert(1)>",
    "' onmouseover='alert(1)",
    "</title></main><b>",
    "{{ 7 * 7 }} {% if true %}",
    "\u{202e}desrever\u{202c} 🛶⛵ نص",
    "&lt;b&gt; &amp; & <!-- x -->",
    "]]> --> */ \\u003c",
];

fn quoted(text: &str) -> String {
    format!("'{}'", text.replace('\'', "''"))
}

/// The templates with scripts of their own: a script inside a page must stand there, word for word.
fn templates() -> String {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("themes/jobsheet");
    ["pieces/frame.html", "frame.html", "state.html", "pocket/page.html"]
        .map(|name| std::fs::read_to_string(folder.join(name)).expect("a template"))
        .concat()
}

/// Data for the scripts, which no browser runs: JSON in which nothing can end its element.
fn is_data(element: scraper::ElementRef<'_>) -> bool {
    let text: String = element.text().collect();
    element.attr("type") == Some("application/json") && !text.contains('<') && serde_json::from_str::<serde_json::Value>(&text).is_ok()
}

fn is_json(text: &str) -> bool {
    serde_json::from_str::<serde_json::Value>(text).is_ok()
}

/// A script of the pocket file: word for word one of the theme, or one that the site has as a file. Nothing in it can end
/// its element, since what could is written with an escape.
fn is_carried(site: &Site, script: &str, name: &str) -> bool {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("themes/jobsheet");
    // In a file by itself lines begin where they begin to say something.
    let flush = |script: &str| script.trim().replace("\\x3c", "<").lines().map(str::trim_start).collect::<Vec<_>>().join("\n");
    let plain = flush(script);
    let file = site.files.get(&format!("assets/{name}")).map(|bytes| String::from_utf8_lossy(bytes).into_owned());
    let theme = || std::fs::read_to_string(folder.join("pocket").join(name)).expect("a script of the theme");
    // The index of the search is data, and nothing else.
    let index = || plain.strip_prefix("window.garboardSearch=").and_then(|rest| rest.strip_suffix(';')).is_some_and(is_json);
    let own = name == "search" && index()
        || name != "search"
            && file.map_or_else(
                || plain.lines().all(|line| theme().contains(line)),
                |file| flush(&file) == plain || name == "words-more.js" && are_of(&plain, file.trim()),
            );
    own && !script.contains("<!--") && !script.to_lowercase().contains("</script")
}

/// Whether words are among those that the site hands to its scripts; a file by itself has no need of all.
fn are_of(some: &str, all: &str) -> bool {
    let parts = |script: &str| {
        let (code, words) = script.rsplit_once("({")?;
        let words: serde_json::Map<String, serde_json::Value> = serde_json::from_str(&format!("{{{}", words.strip_suffix(");")?)).ok()?;
        Some((code.to_owned(), words))
    };
    let (Some((code, some)), Some((all_code, all))) = (parts(some), parts(all)) else { return false };
    code == all_code && some.iter().all(|(key, word)| all.get(key) == Some(word))
}

/// Every element of a page that could run or load something it should not.
#[track_caller]
fn assert_harmless(site: &Site, path: &str, html: &str) {
    let page = Html::parse_document(html);
    for found in page.select(&Selector::parse("*").expect("a selector")) {
        let element = found.value();
        let said = format!("{path}: <{} {:?}>", element.name(), element.attrs().collect::<Vec<_>>());
        for (name, value) in element.attrs() {
            assert!(!name.starts_with("on"), "{said}");
            let plain: String =
                value.chars().filter(|letter| !letter.is_whitespace() && !letter.is_control()).collect::<String>().to_lowercase();
            for scheme in ["javascript:", "vbscript:", "data:text"] {
                assert!(!plain.starts_with(scheme), "{said}");
            }
        }
        assert!(!["iframe", "object", "embed", "base", "frame"].contains(&element.name()), "{said}");
        // The theme's own form leads to the page to search from, and nowhere else.
        let searches = ["search.html", "../search.html"].map(Some).contains(&element.attr("action"))
            || path == "pocket.html" && element.attr("action") == Some("#_home");
        assert!(element.name() != "form" || searches && element.attr("method").is_none(), "{said}");
        if element.name() == "script" {
            let own =
                element.attr("src").is_some_and(|src| !src.contains(':')) || templates().contains(found.text().collect::<String>().trim());
            let carried = element
                .attr("data-file")
                .is_some_and(|name| path == "pocket.html" && is_carried(site, &found.text().collect::<String>(), name));
            let own = own || carried || is_data(found);
            assert!(own, "{said}: {}", found.inner_html());
        }
    }
    assert_eq!(
        page.select(&Selector::parse("title").expect("a selector")).count()
            - page.select(&Selector::parse("svg title").expect("a selector")).count(),
        1,
        "{path}"
    );
    assert_eq!(page.select(&Selector::parse("main").expect("a selector")).count(), 1, "{path}");
}

#[test]
fn hostile_names_are_text_on_every_page() {
    let mut book = Book::sound();
    for (number, title) in HOSTILE.iter().enumerate() {
        let tool = quoted(&format!("tool {title}"));
        // A brace in `safety` is a mark, unless a backslash stands before it.
        let caution = quoted(&title.replace('{', "\\{"));
        let title = quoted(title);
        let front = format!(
            "summary: {title}\nsafety: [{caution}]\ntools: [{tool}]\nparts: [{{item: {title}}}]\nconditions: [{title}]\nwear: [{title}]\ndispose: [{title}]\nsource: {title}\napplies-to: {title}\ntorque:\n  - {{at: bolt, value: 35 N·m, source: {title}}}\nvalues: {{colour: {}}}\n",
            quoted(&format!("as {}", HOSTILE[number]))
        );
        book = book.file(&format!("guides/engine/job-{number}.md"), guide(&title, &front, "## Work\n\n1. Tighten {bolt}, {colour}.\n"));
        let front = format!(
            "jobs: [job-{number}]\ndate: 2026-05-0{}\nwork: [{title}]\nleft: [{title}]\nby: {title}\nplace: {title}\nexcept: [{title}]\nparts: [{{item: {title}}}]\ncosts: [{{what: {title}, cost: 3 EUR}}]\nfindings:\n  - {{what: {title}, grade: act, limits-use: {title}}}\n",
            number + 1
        );
        book = book.file(&format!("log/2026/2026-05-0{}-entry-{number}.md", number + 1), entry(&front));
    }
    let boat = book
        .text("content/boat.yaml")
        .replace("name: Test boat", &format!("name: {}", quoted(HOSTILE[0])))
        .replace("title: Engine}", &format!("title: {}}}", quoted(HOSTILE[1])));
    let hostile = quoted(HOSTILE[1]);
    let item = format!("- {{id: x, title: {hostile}, stowed: {hostile}, part-number: {hostile}, note: {hostile}}}\n");
    let stores = book.text("content/stores.yaml") + &item;
    let book = book.file("boat.yaml", boat).file("stores.yaml", stores).published();
    let site = book.site();
    for (path, html) in site.pages() {
        assert_harmless(&site, path, html);
    }
    for (number, title) in HOSTILE.iter().enumerate() {
        // A title is one run of words: white space in it counts as one space.
        let page = site.page(&format!("guides/job-{number}.html"));
        assert!(words(page, "h1").contains(title), "{title}: {}", words(page, "h1"));
        assert!(words(page, "title").contains(title), "{title}: {}", words(page, "title"));
    }
}

#[test]
fn hostile_file_names_are_text_on_every_page() {
    let mut book = Book::sound();
    for (number, name) in ["a'b\"c", "a<b>c", "a&b;c", "שלום a", "⛵ sail 🛶", "a b%20c#d?e"].iter().enumerate() {
        book = book
            .file(&format!("guides/engine/{name} guide {number}.md"), job("A job", ""))
            .file(&format!("log/2026/2026-05-01 {name} {number}.md"), entry("date: 2026-05-01\n"));
    }
    let site = book.published().site();
    for (path, html) in site.pages() {
        assert_harmless(&site, path, html);
    }
    let entries = attributes(site.page("log/2026.html"), "article[id]", "id");
    assert_eq!(entries.len(), 7, "{entries:?}");
}

#[test]
fn raw_html_is_shown_as_it_was_written() {
    let body = "Look: <b onclick=\"alert(1)\">bold</b>.\n\n<script>alert(1)</script>\n\n<div><iframe src=\"https://example.org\"></iframe></div>\n\n## Work\n\n1. Do <i>it</i>.\n\n   <style>body { display: none }</style>\n\n   > WARNING: <marquee>Hot</marquee> oil.\n";
    let site = Book::sound()
        .file("guides/hull/job.md", guide("A job", "", body))
        .file("log/2026/2026-05-01-note.md", entry("date: 2026-05-01\nwork: [A note]\n") + "<script>alert(2)</script> and <b>bold</b>\n")
        .published()
        .site();
    for (path, html) in site.pages() {
        assert_harmless(&site, path, html);
    }
    let shown = words(site.page("guides/job.html"), "main");
    for raw in [
        "<b onclick=\"alert(1)\">bold</b>",
        "<script>alert(1)</script>",
        "<iframe src=\"https://example.org\">",
        "<i>it</i>",
        "<style>body { display: none }</style>",
        "<marquee>Hot</marquee>",
    ] {
        assert!(shown.split_whitespace().collect::<Vec<_>>().join(" ").contains(raw), "{raw} is not in {shown}");
    }
    assert!(words(site.page("log/2026.html"), "main").contains("<script>alert(2)</script>"));
}

#[test]
fn only_plain_schemes_become_links() {
    let body = "\
[one](javascript:alert(1)), [two](JaVaScRiPt:alert(1)), [three](data:text/html,x), [four](vbscript:x), \
[five](java&#x0A;script:alert(1)), [six](<java script:alert(1)>), [seven](file:///etc/passwd), [eight](&#106;avascript:alert(1)), \
[nine](//example.org/x), <javascript:alert(1)>, [web](https://example.org/a?b=c&d), [post](mailto:a@example.org), [call](tel:+4912), \
[place](geo:54.3,10.1)\n\n## Work\n\n1. Do it.\n";
    let site = Book::sound().file("guides/hull/job.md", guide("A job", "", body)).published().site();
    let page = site.page("guides/job.html");
    assert_harmless(&site, "guides/job.html", page);
    let links = attributes(page, "a[href]", "href");
    for wanted in ["https://example.org/a?b=c&d", "mailto:a@example.org", "tel:+4912", "geo:54.3,10.1"] {
        assert!(links.contains(&wanted.to_owned()), "{wanted}: {links:?}");
    }
    assert!(!links.iter().any(|link| link.starts_with("file:") || link.contains("script:") || link.contains("script%3A")), "{links:?}");
    for word in ["one", "two", "three", "four", "five", "six", "seven", "eight"] {
        assert!(words(page, "main").contains(word), "the words of the link `{word}` are gone");
    }
}

#[test]
fn a_drawing_cannot_run_or_load_anything() {
    let drawing = "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" viewBox=\"0 0 9 9\" onload=\"alert(1)\"><script>alert(1)</script><image href=\"https://example.org/x.png\"/><use xlink:href=\"https://example.org/x.svg#a\"/><a href=\"javascript:alert(1)\"><circle cx=\"4\" cy=\"4\" r=\"3\" style=\"fill:url(https://example.org/)\"/></a><foreignObject><b>x</b></foreignObject></svg>\n";
    let book = Book::sound()
        .file("guides/hull/job.md", job("A job", "") + "\n   ![A drawing](job/drawing.svg)\n")
        .file("guides/hull/job/drawing.svg", drawing);
    book.run(["publish", "--on", "2026-06-01"]).without_panic();
    for (path, bytes) in &book.site().files {
        if !path.ends_with(".svg") && !path.ends_with(".html") {
            continue;
        }
        let text = String::from_utf8_lossy(bytes);
        // The scripts and styles of the theme stand in the pocket file too.
        let text = if path == "pocket.html" {
            text.split_once("<main").map_or("", |(_, rest)| rest.split("</main>").next().unwrap_or(""))
        } else {
            &text
        };
        for bad in ["alert(1)", "onload", "example.org", "foreignObject"] {
            assert!(!text.contains(bad), "{path} holds {bad}");
        }
    }
}
