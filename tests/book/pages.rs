//! The site of the demo book: every link leads somewhere, and nothing leads out that should not.

use crate::support::{Site, run_within};
use scraper::{Html, Selector};
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use std::sync::OnceLock;
use std::time::Duration;

/// The demo book that ships, published once for all tests of this file.
pub fn demo() -> &'static Site {
    static DEMO: OnceLock<Site> = OnceLock::new();
    DEMO.get_or_init(|| {
        let folder = tempfile::tempdir().expect("a folder");
        let book = Path::new(env!("CARGO_MANIFEST_DIR")).join("content");
        let to = folder.path().join("a site/with a space");
        let arguments = [
            "publish".as_ref(),
            "--on".as_ref(),
            "2026-11-24".as_ref(),
            "--book".as_ref(),
            book.as_os_str(),
            "--to".as_ref(),
            to.as_os_str(),
        ];
        run_within(folder.path(), arguments, Duration::from_secs(300)).status(0);
        Site::of(&to)
    })
}

/// Attributes by which a page loads or leads.
const REFERENCES: [&str; 9] = ["href", "src", "srcset", "data", "poster", "action", "formaction", "background", "xlink:href"];

struct Reference {
    element: String,
    attribute: String,
    target: String,
}

fn references(html: &Html) -> Vec<Reference> {
    let mut found = Vec::new();
    for element in html.select(&Selector::parse("*").expect("a selector")) {
        for (name, value) in element.value().attrs() {
            if !REFERENCES.contains(&name) {
                continue;
            }
            let targets: Vec<&str> =
                if name == "srcset" { value.split(',').filter_map(|part| part.split_whitespace().next()).collect() } else { vec![value] };
            found.extend(targets.into_iter().map(|target| Reference {
                element: element.value().name().to_owned(),
                attribute: name.to_owned(),
                target: target.to_owned(),
            }));
        }
    }
    found
}

fn is_web(target: &str) -> bool {
    ["https://", "http://", "mailto:", "tel:", "geo:"].iter().any(|scheme| target.starts_with(scheme))
}

/// A picture that the pocket file holds itself.
fn is_held(page: &str, reference: &Reference) -> bool {
    page == "pocket.html" && reference.element == "img" && reference.target.starts_with("data:image/")
}

/// The path in the site that a relative target leads to from a page; `None` out of the site.
fn resolved(page: &str, target: &str) -> Option<String> {
    let mut parts: Vec<&str> = page.split('/').collect();
    parts.pop();
    for part in target.split('/') {
        match part {
            "" | "." => {}
            ".." => {
                parts.pop()?;
            }
            part => parts.push(part),
        }
    }
    Some(parts.join("/"))
}

#[test]
fn every_internal_link_and_fragment_resolves() {
    let site = demo();
    let parsed: BTreeMap<&str, Html> = site.pages().map(|(path, html)| (path, Html::parse_document(html))).collect();
    let ids: BTreeMap<&str, BTreeSet<String>> = parsed.iter().map(|(path, html)| (*path, ids(html).into_iter().collect())).collect();
    let mut broken = BTreeSet::new();
    let mut followed = 0;
    for (page, html) in &parsed {
        for reference in references(html) {
            if is_web(&reference.target) || is_held(page, &reference) {
                continue;
            }
            followed += 1;
            let (path, fragment) =
                reference.target.split_once('#').map_or((reference.target.as_str(), None), |(path, fragment)| (path, Some(fragment)));
            let to = if path.is_empty() { Some((*page).to_owned()) } else { resolved(page, path) };
            let known = to.as_deref().is_some_and(|to| site.files.contains_key(to));
            let there = fragment.is_none_or(|fragment| {
                fragment.is_empty() || to.as_deref().and_then(|to| ids.get(to)).is_some_and(|ids| ids.contains(fragment))
            });
            if !known || !there {
                broken.insert(format!("{page}: <{} {}=\"{}\">", reference.element, reference.attribute, reference.target));
            }
        }
    }
    assert!(followed > 1000, "{followed}");
    assert!(broken.is_empty(), "{} broken, such as:\n{}", broken.len(), broken.iter().take(40).cloned().collect::<Vec<_>>().join("\n"));
}

pub fn ids(html: &Html) -> Vec<String> {
    html.select(&Selector::parse("[id]").expect("a selector")).filter_map(|element| element.value().attr("id")).map(str::to_owned).collect()
}

#[test]
fn an_id_stands_once_on_a_page() {
    for (page, html) in demo().pages() {
        let all = ids(&Html::parse_document(html));
        let mut seen = BTreeSet::new();
        let twice: Vec<&String> = all.iter().filter(|id| !seen.insert(*id)).collect();
        assert!(twice.is_empty(), "{page}: {twice:?}");
    }
}

#[test]
fn labels_and_descriptions_name_an_id_that_is_there() {
    for (page, html) in demo().pages() {
        let parsed = Html::parse_document(html);
        let known: BTreeSet<String> = ids(&parsed).into_iter().collect();
        for element in parsed.select(&Selector::parse("*").expect("a selector")) {
            for name in ["for", "aria-labelledby", "aria-describedby", "aria-controls", "headers"] {
                for id in element.value().attr(name).unwrap_or_default().split_whitespace() {
                    assert!(known.contains(id), "{page}: {name}=\"{id}\"");
                }
            }
        }
    }
}

#[test]
fn pages_load_nothing_from_elsewhere() {
    for (page, html) in demo().pages() {
        for reference in references(&Html::parse_document(html)) {
            let target = &reference.target;
            let said = format!("{page}: <{} {}=\"{target}\">", reference.element, reference.attribute);
            if reference.element == "a" && is_web(target) || is_held(page, &reference) {
                continue;
            }
            let scheme = target.split(['/', '#', '?']).next().is_some_and(|first| first.contains(':'));
            assert!(!scheme && !target.starts_with('/') && !target.starts_with('\\'), "{said}");
        }
        for bad in ["@import", "url(http", "url(//", "<base", "http-equiv=\"refresh\""] {
            assert!(!html.contains(bad), "{page} holds {bad}");
        }
    }
}

#[test]
fn style_and_script_load_nothing_at_all() {
    let mut seen = 0;
    for (path, bytes) in &demo().files {
        let text = String::from_utf8_lossy(bytes);
        if path.ends_with(".css") {
            seen += 1;
            for bad in ["@import", "http:", "https:", "url(//"] {
                assert!(!text.contains(bad), "{path} holds {bad}");
            }
        }
        // The worker's work is to fetch the files of its own site; pages from a folder never meet it.
        // The search index is text of the book in a script: `search.rs` looks at that.
        if path.ends_with(".js") && path != "sw.js" && !path.starts_with("assets/search/") {
            seen += 1;
            for bad in ["fetch(", "XMLHttpRequest", "import(", "import ", "export ", "WebSocket", "http://", "https://"] {
                assert!(
                    !text.lines().any(|line| line.trim_start().starts_with(bad) || (bad.ends_with('(') && text.contains(bad))),
                    "{path} holds {bad}"
                );
            }
        }
    }
    assert!(seen >= 3, "{seen}");
}

#[test]
fn scripts_are_classic_and_deferred() {
    for (page, html) in demo().pages() {
        for script in Html::parse_document(html).select(&Selector::parse("script[src]").expect("a selector")) {
            let script = script.value();
            assert!(script.attr("defer").is_some() && script.attr("type").is_none_or(|kind| kind != "module"), "{page}: {script:?}");
        }
    }
}

#[test]
fn every_page_has_its_frame() {
    let count = |html: &Html, selector: &str| html.select(&Selector::parse(selector).expect("a selector")).count();
    for (page, text) in demo().pages() {
        let html = Html::parse_document(text);
        for (selector, wanted) in
            [("html[lang]", 1), ("head > title", 1), ("main", 1), ("h1", 1), ("meta[charset]", 1), ("meta[name=viewport]", 1)]
        {
            // Each guide of the pocket file has its heading.
            let wanted = if page == "pocket.html" && selector == "h1" { count(&html, ".carried") + 1 } else { wanted };
            assert_eq!(count(&html, selector), wanted, "{page}: {selector}");
        }
        assert!(text.trim_end().ends_with("</html>"), "{page}");
        assert!(html.errors.is_empty() || html.errors.iter().all(|error| error.contains("foreign")), "{page}: {:?}", html.errors);
    }
}

#[test]
fn headings_skip_no_level() {
    for (page, html) in demo().pages() {
        let mut above = 0;
        for heading in Html::parse_document(html).select(&Selector::parse("h1, h2, h3, h4, h5, h6").expect("a selector")) {
            let level: usize = heading.value().name()[1..].parse().expect("a level");
            assert!(level <= above + 1, "{page}: h{level} after h{above}: {}", heading.text().collect::<String>());
            above = level;
        }
    }
}

#[test]
fn every_picture_has_its_words_and_its_size() {
    let mut seen = 0;
    for (page, html) in demo().pages() {
        for picture in Html::parse_document(html).select(&Selector::parse("img").expect("a selector")) {
            seen += 1;
            let picture = picture.value();
            assert!(picture.attr("alt").is_some_and(|alt| !alt.is_empty()), "{page}: {picture:?}");
            assert!(picture.attr("width").is_some() && picture.attr("height").is_some(), "{page}: {picture:?}");
        }
    }
    assert!(seen >= 10, "{seen}");
}

#[test]
fn no_template_is_left_unfilled() {
    for (page, html) in demo().pages() {
        // Between the style sheets and the scripts, which have braces of their own.
        let html = if page == "pocket.html" {
            html.split_once("<main").map_or("", |(_, rest)| rest.split("</main>").next().unwrap_or(""))
        } else {
            html
        };
        for rest in ["{{", "{%", "}}", "%}", "undefined", "[object Object]"] {
            assert!(!html.contains(rest), "{page} holds {rest}");
        }
    }
}

#[test]
fn every_guide_has_a_page_and_every_entry_an_article() {
    let site = demo();
    let content = crate::support::files_under(&Path::new(env!("CARGO_MANIFEST_DIR")).join("content"));
    let guides = content.keys().filter(|path| path.starts_with("guides/") && path.ends_with(".md"));
    for guide in guides {
        let stem = guide.rsplit('/').next().expect("a name").trim_end_matches(".md");
        assert!(site.files.contains_key(&format!("guides/{stem}.html")), "{guide}");
    }
    let entries = content.keys().filter(|path| path.starts_with("log/") && path.ends_with(".md")).count();
    let articles: usize = site
        .pages()
        .filter(|(path, _)| path.starts_with("log/"))
        .map(|(_, html)| Html::parse_document(html).select(&Selector::parse("article[id]").expect("a selector")).count())
        .sum();
    assert_eq!(articles, entries);
}
