//! Shared files made to do harm: paths, YAML, Markdown, pictures and characters. Each must be refused, with
//! the reason, and touch nothing. The attacks are of publicly known families (from memory: path traversal
//! and reserved names, YAML and XML entity bombs, decompression bombs, trojan source).

use super::shared_file::{GUIDE, held, page, picture, png, with_text};
use super::support::{Book, Site, files_under};
use garboard::book::load::load;
use garboard::share::receive::plan::{Wish, plan};
use garboard::share::receive::{Maps, place, read};
use proptest::prelude::*;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};
use serde_json::{Value, json};
use std::path::Path;

/// Receives into a book and says what was told; the book and all round it must be as they were.
#[track_caller]
fn untouched(book: &Book, held: &Value) -> String {
    book.put("shared.html", page(held).as_bytes());
    let before = Site::of(&book.path("."));
    let run = book.run(["receive", "shared.html", "--yes", "--on", "2026-11-29"]).without_panic();
    Site::of(&book.path(".")).assert_untouched_since(&before);
    assert_eq!((run.status, run.stdout.as_str()), (Some(1), ""), "{held}\n{}", run.stderr);
    assert!(!run.stderr.chars().any(|letter| letter.is_control() && letter != '\n'), "{:?}", run.stderr);
    run.stderr
}

fn refused(book: &Book, held: &Value, words: &str) {
    let told = untouched(book, held);
    assert!(told.contains(words), "`{words}` is not in: {told}\n{held}");
}

/// A guide with this body and this more in its front matter.
fn text(front: &str, body: &str) -> String {
    format!("---\ntitle: Job\nhazards: [fire]\n{front}---\n{body}")
}

#[test]
fn ids_and_systems_that_are_paths() {
    let book = Book::sound();
    let good = text("", "## Work\n1. Do it.\n");
    let long = "a".repeat(101);
    for name in [
        "../../etc/passwd",
        "..",
        ".",
        "/etc/passwd",
        "C:\\windows\\x",
        "c:",
        "a/b",
        "a\\b",
        "a\0b",
        "con",
        "nul",
        "com1",
        "lpt9",
        "aux",
        "prn",
        "Oil",
        "oil.md",
        " oil",
        "oil ",
        "oil\n",
        "öl",
        "оil",
        "a--b",
        "-a",
        "a-",
        "~",
        "$HOME",
        "%2e%2e",
        "oil\u{202e}",
        ".hidden",
        "a:b",
        "",
        &long,
    ] {
        for key in ["id", "system"] {
            let mut held = with_text(&good);
            held["guides"][0][key] = json!(name);
            refused(&book, &held, "is not an id");
        }
    }
    // The path in the file is never looked at.
    let fresh = Book::sound();
    let mut held = with_text(&good);
    held["guides"][0]["path"] = json!("../../../outside.md");
    fresh.put("shared.html", page(&held).as_bytes());
    fresh
        .run(["receive", "shared.html", "--yes", "--on", "2026-11-29"])
        .status(0)
        .stdout("received content/guides/engine/raw-water-filter.md\n");
    assert!(!fresh.path("../outside.md").exists());
}

#[test]
fn pictures_that_are_paths_or_no_pictures() {
    let book = Book::sound();
    for (target, words) in [
        ("../../../outside.png", "is no picture of this guide's own folder"),
        ("..%2f..%2f..%2foutside.png", "is no picture of this guide's own folder"),
        ("/etc/passwd.png", "is no picture of this guide's own folder"),
        ("https://tracker.example/x.png", "is no picture of this guide's own folder"),
        ("//tracker.example/x.png", "is no picture of this guide's own folder"),
        ("data:image/png;base64,AAAA", "is no picture of this guide's own folder"),
        ("file:///etc/passwd.png", "is no picture of this guide's own folder"),
        ("javascript:alert(1)", "is no picture of this guide's own folder"),
        ("raw-water-filter/../../hull/x.png", "is no picture of this guide's own folder"),
        ("raw-water-filter/deep/x.png", "is no picture of this guide's own folder"),
        ("other/x.png", "is no picture of this guide's own folder"),
        ("raw-water-filter\\x.png", "is not in the file"),
        ("raw-water-filter/x.html", "it is not called like a picture"),
        ("raw-water-filter/x.png.exe", "it is not called like a picture"),
        ("raw-water-filter/con.png", "not one that every system takes"),
        ("raw-water-filter/.htaccess.png", "not one that every system takes"),
        ("raw-water-filter/a%00b.png", "not one that every system takes"),
        ("raw-water-filter/a%3Ab.png", "not one that every system takes"),
        ("raw-water-filter/a%22onload=x.png", "not one that every system takes"),
        ("raw-water-filter/missing.png", "is not in the file"),
    ] {
        let held = with_text(&text("", &format!("## Work\n1. Do it.\n\n   ![x](<{target}>)\n")));
        refused(&book, &held, words);
    }
    let long = format!("raw-water-filter/{}.png", "a".repeat(200));
    refused(&book, &with_text(&text("", &format!("## Work\n1. Do it. ![x]({long})\n"))), "its name is too long");
    // Two that are one on a phone's card.
    let mut held = with_text(&text("", "## Work\n1. Do it. ![x](raw-water-filter/a.png) ![x](raw-water-filter/A.png)\n"));
    let at = |name: &str| picture(&format!("guides/engine/raw-water-filter/{name}"), "image/png", &png());
    held["pictures"] = json!([at("a.png"), at("A.png")]);
    refused(&book, &held, "but for capitals");
    held["pictures"] = json!([at("a.png"), at("A.png"), at("a.png")]);
    refused(&book, &held, "twice");
}

/// A PNG that says so many pixels and holds none (PNG specification, 5.6 and 11.2.2).
fn png_of(width: u32, height: u32) -> Vec<u8> {
    let mut bytes = b"\x89PNG\r\n\x1a\n\0\0\0\x0dIHDR".to_vec();
    let mut head = b"IHDR".to_vec();
    head.extend(width.to_be_bytes());
    head.extend(height.to_be_bytes());
    head.extend([8, 6, 0, 0, 0]);
    bytes.extend(&head[4..]);
    bytes.extend(crc(&head).to_be_bytes());
    // The beginning of an empty stream (RFC 1950).
    let data = b"IDAT\x78\x9c\x03\0\0\0\0\x01";
    bytes.extend(8_u32.to_be_bytes());
    bytes.extend(data);
    bytes.extend(crc(data).to_be_bytes());
    bytes
}

/// PNG specification, annex D.
fn crc(bytes: &[u8]) -> u32 {
    !bytes.iter().fold(!0_u32, |crc, byte| {
        (0..8).fold(crc ^ u32::from(*byte), |crc, _| if crc & 1 == 1 { 0xedb8_8320 ^ (crc >> 1) } else { crc >> 1 })
    })
}

#[test]
fn pictures_that_do_harm() {
    let book = Book::sound();
    let svg = |inside: &str| format!("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"10\" height=\"10\">{inside}</svg>").into_bytes();
    let laughs = "<!DOCTYPE svg [<!ENTITY a \"ha\"><!ENTITY b \"&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;\"><!ENTITY c \"&b;&b;&b;&b;&b;&b;&b;&b;\">]><svg xmlns=\"http://www.w3.org/2000/svg\" width=\"1\" height=\"1\"><text>&c;</text></svg>";
    let outside = "<!DOCTYPE svg [<!ENTITY x SYSTEM \"file:///etc/passwd\">]><svg xmlns=\"http://www.w3.org/2000/svg\" width=\"1\" height=\"1\"><text>&x;</text></svg>";
    let uses: String = (1..12).map(|n| format!("<g id=\"p{n}\">{}</g>", format!("<use href=\"#p{}\"/>", n - 1).repeat(10))).collect();
    let many = svg(&format!("<g id=\"p0\"><rect width=\"1\" height=\"1\"/></g>{uses}<use href=\"#p11\"/>"));
    let deep = svg(&format!("{}{}", "<g>".repeat(100_000), "</g>".repeat(100_000)));
    let mut cut = png();
    cut.truncate(40);
    let mut large = png();
    large.resize(12 * 1024 * 1024 + 1, 0);
    let cases: Vec<(&str, Vec<u8>, &str)> = vec![
        ("a.png", png_of(60_000, 60_000), "60000 by 60000 pixels"),
        ("a.png", png_of(16_000, 15_999), "16000 by 15999 pixels"),
        ("a.png", png_of(0, 0), "damaged"),
        ("a.png", cut, "damaged"),
        ("a.png", Vec::new(), "empty"),
        ("a.png", large, "more than 12 MB"),
        ("a.png", b"<html><script>alert(1)</script></html>".to_vec(), "not a photo"),
        ("a.jpg", b"%PDF-1.7 /JavaScript".to_vec(), "a PDF document"),
        ("a.jpg", b"MZ\x90\0".to_vec(), "not a photo"),
        ("a.gif", b"GIF89a\xff\xff\xff\xff\0\0\0".to_vec(), "damaged"),
        ("a.webp", b"RIFF\x10\0\0\0WEBPVP8 ".to_vec(), "damaged"),
        ("a.png", svg("<rect width=\"1\" height=\"1\"/>"), "an SVG drawing"),
        ("a.svg", png(), "not plain SVG text"),
        ("a.svg", laughs.as_bytes().to_vec(), "declarations of its own"),
        ("a.svg", outside.as_bytes().to_vec(), "declarations of its own"),
        ("a.svg", many, "beyond measure"),
        ("a.svg", deep, "this drawing"),
        ("a.svg", b"<html xmlns=\"http://www.w3.org/1999/xhtml\"><script>alert(1)</script></html>".to_vec(), "starts with `html`"),
        ("a.svg", svg("<rect width=\"1\""), "cannot be read"),
        ("a.svg", vec![b' '; 6 * 1024 * 1024], "more than 5 MB"),
    ];
    for (name, bytes, words) in cases {
        let mut held = with_text(&text("", &format!("## Work\n1. Do it. ![x](raw-water-filter/{name})\n")));
        held["pictures"] = json!([picture(&format!("guides/engine/raw-water-filter/{name}"), "image/png", &bytes)]);
        refused(&book, &held, words);
    }
}

#[test]
fn what_hides_in_a_picture_stays_behind() {
    let mut hidden = png();
    hidden.extend(b"<script>alert('HIDDEN')</script>PK\x03\x04");
    let drawing = "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" width=\"10\" height=\"10\" onload=\"alert(1)\">\
        <script>alert(1)</script><foreignObject><body xmlns=\"http://www.w3.org/1999/xhtml\" onload=\"alert(1)\"/></foreignObject>\
        <a xlink:href=\"javascript:alert(1)\"><rect width=\"4\" height=\"4\" onclick=\"alert(1)\" style=\"fill:url(https://tracker.example/x)\"/></a>\
        <image href=\"https://tracker.example/x.png\"/><use href=\"https://tracker.example/x.svg#a\"/><style>@import 'https://tracker.example/x.css';</style>\
        <animate attributeName=\"href\" to=\"javascript:alert(1)\"/><set attributeName=\"onload\" to=\"alert(1)\"/><circle r=\"2\"/></svg>";
    let mut held = with_text(&text("", "## Work\n1. Do it. ![x](raw-water-filter/a.png) ![x](raw-water-filter/b.svg)\n"));
    held["pictures"] = json!([
        picture("guides/engine/raw-water-filter/a.png", "text/html", &hidden),
        picture("guides/engine/raw-water-filter/b.svg", "image/svg+xml", drawing.as_bytes()),
    ]);
    let book = Book::sound();
    book.put("shared.html", page(&held).as_bytes());
    book.run(["receive", "shared.html", "--yes", "--on", "2026-11-29"]).status(0);
    let anew = std::fs::read(book.path("content/guides/engine/raw-water-filter/a.png")).expect("the picture");
    assert!(!String::from_utf8_lossy(&anew).contains("HIDDEN"));
    let drawing = book.text("content/guides/engine/raw-water-filter/b.svg");
    for word in ["script", "onload", "onclick", "javascript", "tracker", "foreignObject", "image", "import", "animate", "set "] {
        assert!(!drawing.contains(word), "`{word}` is in {drawing}");
    }
    assert!(drawing.contains("<circle r=\"2\"/>"));
    // A drawing that is rebuilt already stays byte for byte.
    held["pictures"][1] = picture("guides/engine/raw-water-filter/b.svg", "image/svg+xml", drawing.as_bytes());
    let again = Book::sound();
    again.put("shared.html", page(&held).as_bytes());
    again.run(["receive", "shared.html", "--yes", "--on", "2026-11-29"]).status(0);
    assert_eq!(again.text("content/guides/engine/raw-water-filter/b.svg"), drawing);
}

#[test]
fn yaml_that_grows_or_hides() {
    let book = Book::sound();
    let nested = format!("summary: {}{}\n", "[".repeat(5_000), "]".repeat(5_000));
    for (front, words) in [
        ("summary: &a x\nsource: *a\n", "an anchor"),
        ("summary: *a\n", "cannot be read as YAML"),
        ("summary: !!python/object/apply:os.system ['id']\n", "a tag"),
        ("summary: !!binary aGk=\n", "a tag"),
        ("summary: !<tag:yaml.org,2002:js/function> 'x'\n", "a tag"),
        ("<<: {title: x}\n", "`<<` is not a key"),
        ("? [a, b]\n: c\n", "cannot be a key"),
        ("title: twice\n", "twice"),
        ("colour: red\n", "`colour` is not a key"),
        ("every: {calendar: 0 days}\n", "line"),
        ("torque: [{at: bolt, value: ３５ N·m}]\n", "another figure: ⟨U+FF13⟩"),
        ("torque: [{at: bolt, value: 3٥ N·m}]\n", "digit of another script"),
        ("torque: [{at: bolt, value: \"35\u{202e} N·m\"}]\n", "not seen: ⟨U+202E⟩"),
        ("values: {fill: \"5\u{200b} L\"}\n", "not seen: ⟨U+200B⟩"),
        ("summary: \"\u{feff}x\"\n", "⟨U+FEFF⟩"),
        ("summary: \"x\u{e0041}\"\n", "⟨U+E0041⟩"),
        ("received: {from: You, on: 2026-01-01}\n", "has the key `received` already"),
        (&nested, "line"),
    ] {
        refused(&book, &with_text(&text(front, "## Work\n1. Do it.\n")), words);
    }
    for (text, words) in [
        ("", "does not begin with its front matter"),
        ("# no front matter\n", "does not begin with its front matter"),
        ("---\n{title: x}\n---\n## Work\n1. Do it.\n", "stands in braces"),
        ("---\ntitle: x\n", "never ends"),
        ("\u{feff}---\ntitle: x\n---\n", "⟨U+FEFF⟩"),
        ("---\r\ntitle: x\r\n---\r\n", "⟨U+000D⟩"),
        ("---\ntitle: x\n---\n\0", "⟨U+0000⟩"),
        ("---\ntitle: x\n---\n\u{1b}]8;;https://x.example\u{7}", "⟨U+001B⟩"),
    ] {
        refused(&book, &with_text(text), words);
    }
    refused(&book, &with_text(&text("", &"x".repeat(1024 * 1024))), "more than 1 MB of text");
    let links = "[a](b) ".repeat(1_001);
    refused(&book, &with_text(&text("", &format!("## Work\n1. {links}\n"))), "names more than 1000 things");
    let flat = format!("---\ntitle: x\ntools:\n{}---\n", "- a\n".repeat(200_000));
    untouched(&book, &with_text(&flat));
}

#[test]
fn markdown_that_is_more_than_words() {
    let book = Book::sound();
    for (body, words) in [
        ("<script>alert(1)</script>", "it holds HTML"),
        ("a <img src=x onerror=alert(1)> b", "it holds HTML"),
        ("<!-- a remark -->", "it holds HTML"),
        ("<!-- private -->a<!-- /private -->", "line 5"),
        ("<iframe srcdoc='x'></iframe>", "it holds HTML"),
        ("<?php x ?>", "it holds HTML"),
        ("<![CDATA[x]]>", "it holds HTML"),
        ("[x](javascript:alert(1))", "not a kind of link"),
        ("[x](JaVaScRiPt:alert(1))", "not a kind of link"),
        ("[x](java&#115;cript:alert(1))", "not a kind of link"),
        ("[x](&#x6A;avascript&colon;alert(1))", "not a kind of link"),
        ("[x](<java\tscript:alert(1)>)", "not a kind of link"),
        ("[x](data:text/html;base64,PHNjcmlwdD4=)", "not a kind of link"),
        ("[x](vbscript:msgbox)", "not a kind of link"),
        ("[x](file:///etc/passwd)", "not a kind of link"),
        ("[x](blob:https://x.example/y)", "not a kind of link"),
        ("[x](//x.example/y)", "not a kind of link"),
        ("[x](../../../../etc/passwd)", "leads out of the book"),
        ("[x](/etc/passwd)", "leads out of the book"),
        ("[x][r]\n\n[r]: javascript:alert(1)", "not a kind of link"),
        ("<javascript:alert(1)>", "not a kind of link"),
        ("![x](javascript:alert(1))", "own folder"),
        ("a \u{202e}b", "⟨U+202E⟩"),
        ("a \u{200b}b", "⟨U+200B⟩"),
        ("{takes ３ min}", "⟨U+FF13⟩"),
        ("{{ 7 * 7 }}", "line 5"),
        ("{% include 'x' %}", "line 5"),
    ] {
        refused(&book, &with_text(&text("", &format!("\n{body}\n\n## Work\n1. Do it.\n")).replace("---\n\n", "---\n")), words);
    }
}

#[test]
fn records_that_are_more_than_records() {
    let book = Book::sound();
    let cases = [
        ("stores", json!({"id": "../x", "title": "X"})),
        ("stores", json!({"id": "x", "title": "X\n- {id: y, title: Y}"})),
        ("stores", json!({"id": "x", "title": "X\u{202e}"})),
        ("stores", json!({"id": "x", "title": ""})),
        ("stores", json!({"id": "x", "title": "X", "sold-in": ["0"]})),
        ("stores", json!({"id": "x", "title": "X", "sold-in": ["1}\n- {id: z"]})),
        ("stores", json!({"id": "x", "title": "X", "note": "a".repeat(20_000)})),
        ("tools", json!({"id": "con", "title": "X"})),
        ("cautions", json!({"id": "x", "title": "X", "signal": "loud", "harm": "h", "avoid": ["a"]})),
        ("cautions", json!({"id": "x", "title": "X", "signal": "danger", "harm": "h\u{0}", "avoid": ["a"]})),
    ];
    for (list, record) in cases {
        let mut held = held();
        held["pictures"] = json!([]);
        held["guides"][0]["text"] = json!("---\ntitle: [\n---\n");
        held[list] = json!([record]);
        refused(&book, &held, &format!("a line of `{list}.yaml`"));
    }
    for (list, record) in
        [("stores", json!({"id": "x", "title": "X", "price": "1 EUR"})), ("tools", json!({"id": "x"})), ("cautions", json!([1]))]
    {
        let mut held = held();
        held[list] = json!([record]);
        refused(&book, &held, "are not as version 1 has them");
    }
    // Quotes, colons and braces stay words.
    let title = "\"}, {id: y, title: Y} # ' : - &a *b !c %d @e `f` {{ g }} <b>";
    let mut held = held();
    held["tools"] = json!([{"id": "odd", "title": title}]);
    let fresh = Book::sound();
    fresh.put("shared.html", page(&held).as_bytes());
    fresh.run(["receive", "shared.html", "--yes", "--on", "2026-11-29"]).status(0);
    let loaded = load(&fresh.path("content")).expect("a book");
    assert_eq!(loaded.book.tool("odd").map(|tool| tool.title.as_str()), Some(title));
}

/// One change of a sound file: where, and what is put there instead of how many bytes.
fn change() -> impl Strategy<Value = (prop::sample::Index, usize, Vec<u8>)> {
    let signs: Vec<&'static [u8]> = vec![
        b"{",
        b"}",
        b"\"",
        b"\\",
        b"\\u0000",
        b"\\u202e",
        b"\\n",
        b"---\\n",
        b"\\t",
        b": ",
        b" #",
        b"[",
        b"]",
        b"<",
        b"</script>",
        b"../",
        b"/",
        b"..",
        b"\\\\",
        b"&",
        b"*",
        b"\xff",
        b"\0",
        b"\xc3\xa9",
        b"`",
        b"\\u003c!--",
        b"-",
        b"](",
        b"![",
        b"javascript:",
        b"con",
        b"=",
        b"A",
        b",",
        b"null",
        b"1e9",
    ];
    let put = prop_oneof![prop::sample::select(signs).prop_map(<[u8]>::to_vec), prop::collection::vec(any::<u8>(), 0..4)];
    (any::<prop::sample::Index>(), 0..8_usize, put)
}

#[test]
fn a_shared_file_with_changed_bytes_never_panics_and_never_leaves_the_guides() {
    let book = Book::sound();
    let folder = book.path("content");
    let sound = page(&held()).into_bytes();
    // Most changes belong into the data, not into the page round it.
    let begins = sound.windows(9).position(|bytes| bytes == b"{\"format\"").expect("the data");
    let before = files_under(&folder);
    let config = Config { cases: 600, failure_persistence: None, ..Config::default() };
    let mut runner = TestRunner::new_with_rng(config, TestRng::from_seed(RngAlgorithm::ChaCha, &[11; 32]));
    let taken = std::cell::Cell::new(0);
    runner
        .run(&prop::collection::vec(change(), 1..3), |changes| {
            let mut bytes = sound.clone();
            for (at, cut, put) in changes {
                let start = begins + at.index(bytes.len() - begins + 1);
                let end = (start + cut).min(bytes.len());
                bytes.splice(start..end, put);
            }
            let Ok(held) = read(&bytes) else { return Ok(()) };
            let mut loaded = load(&folder).expect("a book");
            let maps = Maps::default();
            let wish = Wish { on: jiff::civil::date(2026, 11, 29), maps: &maps, revise: false };
            let receipt = plan(&held, &mut loaded, &wish, &place::locked(&folder));
            for file in &receipt.files {
                let path = format!("{}/{}", file.folder, file.name);
                let parts: Vec<&str> = path.split('/').collect();
                prop_assert!(parts[0] == "guides" && (parts.len() == 3 || parts.len() == 4), "{path}");
                prop_assert!(parts.iter().all(|part| !part.is_empty() && !part.starts_with('.')), "{path}");
                prop_assert!(!path.contains(['\\', ':', '\0']), "{path}");
                prop_assert!(!before.contains_key(&path), "{path}");
            }
            for growth in &receipt.lists {
                prop_assert!(growth.new.starts_with(growth.old.as_deref().unwrap_or_default()));
            }
            taken.set(taken.get() + usize::from(!receipt.guides.is_empty()));
            Ok(())
        })
        .expect("no change does harm");
    assert!(taken.get() > 50, "only {} came as far as the book", taken.get());
    assert_eq!(files_under(&folder), before, "nothing is written before somebody agrees");
}

#[test]
fn what_comes_as_far_as_the_disk_stays_in_its_folder() {
    let sound = page(&held());
    for (number, text) in [GUIDE.replace("title: Change", "title: <b>Change"), GUIDE.replace("Shared", "x")].into_iter().enumerate() {
        let book = Book::sound();
        let mut held = held();
        held["guides"][0]["text"] = json!(text);
        let bytes = page(&held);
        assert!(number > 0 || bytes != sound);
        let folder = book.path("content");
        let before = files_under(Path::new(&folder));
        book.put("shared.html", bytes.as_bytes());
        book.run(["receive", "shared.html", "--yes", "--on", "2026-11-29"]).status(0);
        for (path, bytes) in &before {
            let now = std::fs::read(folder.join(path)).expect("every file of before");
            assert!(now.starts_with(bytes), "{path}");
        }
        let outside: Vec<String> = files_under(&book.path(".")).into_keys().filter(|path| !path.starts_with("content/")).collect();
        assert_eq!(outside, ["shared.html"]);
    }
}

#[test]
fn pictures_that_are_few_bytes_and_many_pixels_together() {
    // 6300² = 39,690,000: 25 are 992 million, 26 are 1,032 million.
    let of = |count: usize| {
        let mut held = with_text(&text("", "## Work\n1. Do it.\n"));
        let pictures =
            (0..count).map(|at| picture(&format!("guides/engine/raw-water-filter/{at}.png"), "image/png", &png_of(6_300, 6_300)));
        held["pictures"] = pictures.collect();
        held
    };
    assert!(read(page(&of(25)).as_bytes()).is_ok());
    let error = read(page(&of(26)).as_bytes()).expect_err("too many pixels");
    assert_eq!(error.message, "the pictures in this file have 1032 million pixels, and at most 1000 million are read");
    assert_eq!(error.remedy, "ask for fewer guides in one file, or for one with smaller pictures");
    refused(&Book::sound(), &of(26), "1032 million pixels");
    // One that is refused by itself is not unpacked, and keeps nothing else out.
    let mut held = of(25);
    held["pictures"][0] = picture("guides/engine/raw-water-filter/0.png", "image/png", &png_of(15_000, 15_000));
    assert!(read(page(&held).as_bytes()).is_ok());
}

#[test]
fn pictures_as_another_boat_shares_them_are_taken_however_many() {
    // 400 photos of 1600 by 1200: 768 million pixels, more than the 15 MB that `garboard share` puts into a file.
    let mut held = with_text(&text("", "## Work\n1. Do it.\n"));
    let pictures = (0..400).map(|at| picture(&format!("guides/engine/raw-water-filter/{at}.png"), "image/png", &png_of(1_600, 1_200)));
    held["pictures"] = pictures.collect();
    assert!(read(page(&held).as_bytes()).is_ok());
}

#[test]
fn of_very_many_things_that_are_wrong_the_first_are_told() {
    let book = Book::sound();
    let pictures: String = (0..30).map(|at| format!("![x](raw-water-filter/{at:02}.png) ")).collect();
    let told = untouched(&book, &with_text(&text("", &format!("## Work\n1. Do it. {pictures}\n"))));
    assert!(told.contains("`19.png` is not in the file") && !told.contains("`20.png`"), "{told}");
    assert!(told.contains("and 10 more"), "{told}");
    let steps: String = (0..30).map(|at| format!("1. Fill to {{level-{at:02}}}.\n")).collect();
    let told = untouched(&book, &with_text(&text("", &format!("## Work\n\n{steps}"))));
    assert!(told.contains("{level-19}") && !told.contains("{level-20}"), "{told}");
    assert!(told.contains("and 10 more"), "{told}");
}

#[test]
fn a_hazard_that_stands_in_the_file_twice_comes_in_once() {
    let mut held = held();
    let mut again = held["cautions"][0].clone();
    again["harm"] = json!("Something else.");
    held["cautions"].as_array_mut().expect("a list").push(again);
    let held = read(page(&held).as_bytes()).expect("a shared file");
    let book = Book::sound();
    let mut loaded = load(&book.path("content")).expect("a book");
    let wish = Wish { on: "2026-11-29".parse().expect("a day"), maps: &Maps::default(), revise: false };
    let receipt = plan(&held, &mut loaded, &wish, &Default::default());
    let hazards: Vec<&str> = receipt.records.iter().filter(|one| one.title == "Cold hands").map(|one| one.id.as_str()).collect();
    assert_eq!(hazards, ["cold-hands"]);
}
