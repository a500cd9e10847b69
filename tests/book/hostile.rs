//! Inputs made to break the program: it ends within ten seconds, without a panic.

use crate::support::{Book, Run, guide, job};
use std::time::Duration;

// Of a debug build, beside all other tests; alone the longest takes a quarter of it.
const LIMIT: Duration = Duration::from_secs(30);
const COMMANDS: [&str; 3] = ["survey", "due", "publish"];

/// How much of one sign a file is filled with: as much as a text may have, but unoptimised code is
/// some eight times slower.
const FILL: usize = if cfg!(debug_assertions) { 500_000 } else { 4_000_000 };

/// The book is published as far as it goes, and the survey gives its rows.
#[track_caller]
fn survives(book: &Book) -> Vec<String> {
    book.run_within(LIMIT, ["publish", "--on", "2026-06-01", "--despite-errors"]).without_panic();
    rows(&book.run_within(LIMIT, ["survey", "--format", "json", "--on", "2026-06-01"]).without_panic())
}

fn rows(run: &Run) -> Vec<String> {
    let rows = run.json();
    rows.as_array()
        .expect("a list")
        .iter()
        .map(|row| format!("{} {}", row["file"].as_str().unwrap_or_default(), row["rule"].as_str().unwrap_or_default()))
        .collect()
}

/// Every sign survives; all that do not are named.
fn all_survive(signs: &[&str], book_of: impl Fn(String) -> Book) {
    let fallen: Vec<&&str> = signs
        .iter()
        .filter(|sign| {
            let book = book_of(sign.repeat(FILL / sign.len()));
            std::panic::catch_unwind(std::panic::AssertUnwindSafe(|| survives(&book))).is_err()
        })
        .collect();
    assert!(fallen.is_empty(), "files of nothing but {fallen:?}");
}

#[track_caller]
fn says(book: &Book, expected: &str) {
    let found = survives(book);
    assert!(found.iter().any(|row| row == expected), "{expected}: {found:?}");
}

#[test]
fn a_guide_of_50_mb_is_refused() {
    let text = guide("Long", "", &"1. Do it again, and mind the hose.\n\n".repeat(1_400_000));
    assert!(text.len() > 50_000_000);
    says(&Book::sound().file("guides/engine/long.md", text), "guides/engine/long.md too-large");
}

#[test]
fn a_meters_file_of_50_mb_is_refused() {
    let text = format!("date,meter,value\n{}", "2026-01-01,engine,1000.5\n".repeat(2_000_000));
    assert!(text.len() >= 50_000_000);
    says(&Book::sound().file("meters.csv", text), "meters.csv too-large");
}

#[test]
fn a_guide_just_small_enough_is_read() {
    let text = guide("Long", "", &format!("## Work\n\n{}", "1. Do it again, and mind the hose.\n".repeat(FILL / 40)));
    assert!(text.len() < 4_000_000);
    survives(&Book::sound().file("guides/engine/long.md", text));
}

#[test]
fn nothing_but_one_sign_in_a_body() {
    let signs = ["[", "{", "> ", "- ", "*", "`", "1. ", "<", "![", "|", "\\", "_a", "{a ", "[a](", "&", "<!--", "~", "#"];
    all_survive(&signs, |text| Book::sound().file("guides/engine/signs.md", guide("Signs", "", &text)));
}

#[test]
fn nothing_but_one_sign_in_an_entry() {
    let signs = ["[", "{", "> ", "- ", "*", "`", "<!-- private -->", "<!--"];
    all_survive(&signs, |text| Book::sound().file("log/2026/2026-05-01-signs.md", format!("---\ndate: 2026-05-01\n---\n{text}")));
}

#[test]
fn nothing_but_one_sign_in_yaml() {
    let signs = ["[", "{", "- ", "? ", "a: ", "\"", "'", "&a ", "*a ", "!", "%", "|\n", "\t", "- - "];
    all_survive(&signs, |text| Book::sound().file("tools.yaml", text));
}

#[test]
fn lines_of_signs_in_yaml_and_csv() {
    survives(&Book::sound().file("tools.yaml", "- {id: a, title: b}\n".repeat(FILL / 21)));
    survives(&Book::sound().file("tools.yaml", "- \n".repeat(FILL / 4)));
    survives(&Book::sound().file("tools.yaml", (0..FILL / 27).map(|n| format!("k{n}: 1\n")).collect::<String>()));
    survives(&Book::sound().file("meters.csv", format!("date,meter,value\n{}", "\"".repeat(FILL))));
    survives(&Book::sound().file("meters.csv", format!("date,meter,value\n{}", ",".repeat(FILL))));
    survives(&Book::sound().file("meters.csv", format!("date,meter,value\n{}", "x\n".repeat(FILL / 2))));
}

#[test]
fn deep_nesting_of_lists_and_quotes() {
    let lists: String = (0..1500).map(|depth| format!("{}- a\n", "  ".repeat(depth))).collect();
    let steps: String = (0..1000).map(|depth| format!("{}1. a\n\n", "   ".repeat(depth))).collect();
    let quotes = format!("{}WARNING: deep\n", "> ".repeat(20_000));
    let mixed = format!("{}deep\n", "> 1. - ".repeat(5_000));
    let emphasis = format!("{}x{}", "*a **b ".repeat(20_000), "** *".repeat(20_000));
    let marks = format!("1. {}\n", "{takes ".repeat(50_000));
    let links = format!("1. {}x{}\n", "[".repeat(30_000), "](a)".repeat(30_000));
    for body in [lists, steps, quotes, mixed, emphasis, marks, links] {
        survives(&Book::sound().file("guides/engine/deep.md", guide("Deep", "", &format!("## Work\n\n{body}"))));
    }
}

#[test]
fn a_bomb_of_aliases_is_refused() {
    let mut bomb = "a: &a [x, x, x, x, x, x, x, x, x]\n".to_owned();
    for pair in "abcdefghijklmnop".as_bytes().windows(2) {
        let (from, to) = (char::from(pair[0]), char::from(pair[1]));
        bomb.push_str(&format!("{to}: &{to} [{}]\n", vec![format!("*{from}"); 9].join(", ")));
    }
    says(&Book::sound().file("tools.yaml", bomb), "tools.yaml yaml-syntax");
}

#[test]
fn many_steps_marks_stages_and_names() {
    let steps: String = (0..3000).map(|n| format!("1. Step {n}. {{takes 1 min}} {{isolate cock {n}}} {{restore cock {n}}}\n")).collect();
    let stages: String = (0..2000).map(|n| format!("## Stage {n}\n\n1. Do it. {{takes 1 min}}\n\n")).collect();
    let alike: String = "## Stage\n\n1. Do it.\n\n".repeat(3000);
    let footnotes: String = (0..3000).map(|n| format!("Text[^{n}].\n\n[^{n}]: Note.\n\n")).collect();
    for body in [format!("## Work\n\n{steps}"), stages, alike, footnotes] {
        survives(&Book::sound().file("guides/engine/many.md", guide("Many", "", &body)));
    }
}

// Of sizes that take seconds where all is looked up, and minutes where each is held against all others.
#[test]
fn thousands_of_parts_in_words_each_with_its_mark() {
    let parts: String = (0..10_000).map(|n| format!("  - {{item: Part number {n}, qty: 1}}\n")).collect();
    let steps: String = (0..10_000).map(|n| format!("1. Take {{part-number-{n}}}.\n")).collect();
    let text = guide("Many", &format!("routine: true\nparts:\n{parts}"), &format!("## Work\n\n{steps}"));
    assert_eq!(survives(&Book::sound().file("guides/engine/many.md", text)), Vec::<String>::new());
}

#[test]
fn thousands_of_stages_that_wait_for_one_another() {
    let stages =
        |wait: fn(usize) -> String| (0..3_000).map(|n| format!("## S{n}{}\n\n1. Do it. {{takes 1 min}}\n\n", wait(n))).collect::<String>();
    let line = stages(|n| if n == 0 { String::new() } else { format!(" {{after S{}}}", n - 1) });
    let circle = stages(|n| format!(" {{after S{}}}", (n + 1) % 3_000));
    let many = |body: &str| Book::sound().file("guides/engine/many.md", guide("Many", "routine: true\n", body));
    assert_eq!(survives(&many(&line)), Vec::<String>::new());
    assert_eq!(survives(&many(&circle)), ["guides/engine/many.md stage-circle"]);
}

#[test]
fn thousands_of_footnotes() {
    let notes: String = (0..20_000).map(|n| format!("Text[^{n}].\n\n[^{n}]: Note.\n\n")).collect();
    let text = guide("Many", "routine: true\n", &format!("## Work\n\n1. Do it.\n\n{notes}"));
    assert_eq!(survives(&Book::sound().file("guides/engine/many.md", text)), Vec::<String>::new());
}

#[test]
fn a_job_for_thousands_of_pieces_of_gear() {
    let gear: String = (0..1_000).map(|n| format!("  - {{id: g{n}, title: Gear {n}, system: engine}}\n")).collect();
    let ids = (0..1_000).map(|n| format!("g{n}")).collect::<Vec<_>>().join(", ");
    let book = Book::new()
        .file("boat.yaml", format!("name: Solo\nsystems: [{{id: engine, title: Engine}}]\ngear:\n{gear}"))
        .file("guides/engine/many.md", job("Many", &format!("every: {{calendar: 12 months}}\nfor: [{ids}]\n")))
        .file("log/2026/2026-05-01-many.md", "---\njobs: [many]\ndate: 2026-05-01\n---\n");
    assert_eq!(survives(&book), ["log/2026/2026-05-01-many.md job-without-gear"]);
}

#[test]
fn numbers_beyond_all_measure() {
    let huge = "9".repeat(400);
    let front = format!(
        "every: {{engine: {huge} h, calendar: {huge} months}}\ntime: {huge} h\ncrew: {huge}\nvalues: {{refill: {huge} L, small: 0.{}1 L}}\nnotice: 99999999 years\n",
        "0".repeat(400)
    );
    survives(&Book::sound().file("guides/engine/huge.md", job("Huge", &front)));
    for interval in ["999999 years", "99999999 months", "2147483648 days", "9223372036854775807 days"] {
        let book = Book::sound()
            .file("guides/engine/huge.md", job("Huge", &format!("every: {{calendar: {interval}}}\nfirst: {{calendar: {interval}}}\n")))
            .file("log/2026/2026-05-01-huge.md", "---\njobs: [huge]\ndate: 2026-05-01\n---\n");
        survives(&book);
    }
    let book = Book::sound()
        .file("meters.csv", format!("date,meter,value,replaced\n2026-01-01,miles,{}\n2026-02-01,miles,{},0.{}1\n2026-03-01,miles,170141183460469231731687303715884105727\n", "9".repeat(30), "9".repeat(38), "0".repeat(30)))
        .file("guides/engine/huge.md", job("Huge", "every: {miles: 0.000000000000000000001 nmi}\n"))
        .file("log/2026/2026-05-01-huge.md", "---\njobs: [huge]\ndate: 2026-05-01\n---\n");
    survives(&book);
}

#[test]
fn the_first_and_the_last_day() {
    let book = Book::sound()
        .file("guides/engine/old.md", job("Old", "every: {calendar: 1000 years}\nfirst: {engine: 1 h}\n"))
        .file("log/1800/1800-01-01-old.md", "---\njobs: [old]\ndate: 1800-01-01\nmeters: {engine: 0}\n---\n");
    for on in ["1800-01-01", "2999-12-31"] {
        for command in COMMANDS {
            book.run_within(LIMIT, [command, "--on", on]).without_panic();
        }
    }
}

#[test]
fn books_with_next_to_nothing() {
    says(&Book::new(), "boat.yaml no-boat");
    assert_eq!(survives(&Book::new().file("boat.yaml", "name: Solo\n")), Vec::<String>::new());
    survives(&Book::new().file("boat.yaml", "---\n...\n"));
    survives(&Book::new().file("boat.yaml", "~"));
    says(&Book::new().file("boat.yaml", "name: ''\n"), "boat.yaml missing-value");
    survives(&Book::sound().file("guides/engine/job.md", ""));
    survives(&Book::sound().file("guides/engine/job.md", "---"));
    survives(&Book::sound().file("guides/engine/job.md", "---\n---"));
    survives(&Book::sound().file("guides/engine/job.md", "\u{feff}---\r\ntitle: x\r\n---\r"));
    survives(&Book::sound().file("meters.csv", ""));
    survives(&Book::sound().file("meters.csv", "\u{feff}"));
    survives(&Book::sound().file("stores.yaml", ""));
    survives(&Book::sound().file(".md", "x").file("guides/engine/.md", "x").file("log/2026/.md", "x"));
}

#[test]
fn folders_where_files_belong() {
    let book = Book::new().file("boat.yaml/inner.txt", "x");
    says(&book, "boat.yaml no-boat");
    survives(&Book::sound().file("guides/engine/job.md/inner.md", job("A job", "")));
    survives(&Book::sound().file("guides.md", "x").file("log.md", "x"));
    let book = Book::new().file("boat.yaml", "name: Solo\n").file("guides", "no folder").file("log", "no folder");
    survives(&book);
}

#[test]
fn a_site_folder_that_is_a_file() {
    let book = Book::sound().beside("site", "no folder");
    book.run_within(LIMIT, ["publish", "--on", "2026-06-01"]).status(1).without_panic();
    assert_eq!(book.text("site"), "no folder");
}

#[test]
fn a_manifest_that_lies_removes_nothing_of_others() {
    let book = Book::sound().published().beside("precious.txt", "mine");
    let lie = book.text("site/garboard-manifest.json").replacen(
        "\"files\": {",
        "\"files\": {\n    \"../precious.txt\": {\"size\": 4, \"hash\": \"\"},",
        1,
    );
    book.put("site/garboard-manifest.json", lie.as_bytes());
    book.run_within(LIMIT, ["publish", "--on", "2026-06-02"]).without_panic();
    assert_eq!(book.text("precious.txt"), "mine");
    for text in ["", "{", "[]", "null", "{\"version\": 99}", "\u{0}"] {
        book.put("site/garboard-manifest.json", text.as_bytes());
        book.run_within(LIMIT, ["publish", "--on", "2026-06-02"]).without_panic();
    }
}

#[test]
fn pictures_that_are_no_pictures() {
    let mut truncated = crate::samples::encoded(image::ImageFormat::Jpeg, 400, 300);
    truncated.truncate(truncated.len() / 2);
    // A PNG header (PNG specification, IHDR) that claims 65535 × 65535 pixels.
    let mut vast = b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR\0\0\xff\xff\0\0\xff\xff\x08\x02\0\0\0".to_vec();
    vast.extend([0; 40]);
    for (name, bytes) in [
        ("a.jpg", b"no picture".to_vec()),
        ("a.jpg", truncated),
        ("a.png", vast),
        ("a.png", Vec::new()),
        ("a.svg", b"<svg".to_vec()),
        ("a.svg", b"<!DOCTYPE svg [<!ENTITY a \"aaaa\"><!ENTITY b \"&a;&a;&a;\">]><svg>&b;</svg>".to_vec()),
        ("a.webp", b"RIFF\xff\xff\xff\xffWEBPVP8 ".to_vec()),
        ("a.gif", b"GIF89a\xff\xff\xff\xff".to_vec()),
    ] {
        let text = job("A job", "") + &format!("\n   ![A thing](job/{name})\n");
        survives(&Book::sound().file("guides/engine/job.md", text).file(&format!("guides/engine/job/{name}"), &bytes));
    }
}

#[cfg(unix)]
#[test]
fn a_book_that_is_a_link_to_itself() {
    let folder = tempfile::tempdir().expect("a folder");
    std::os::unix::fs::symlink("content", folder.path().join("content")).expect("a link");
    for command in COMMANDS {
        crate::support::run_within(folder.path(), [command], LIMIT).status(1).without_panic();
    }
}

#[cfg(unix)]
#[test]
fn a_pipe_in_the_book_is_not_waited_for() {
    let book = Book::sound();
    let made = std::process::Command::new("mkfifo").arg(book.path("content/guides/engine/pipe.md")).status();
    if made.is_ok_and(|status| status.success()) {
        survives(&book);
    }
}
