//! `garboard receive`: guides of another boat.

use super::shared_file::{GUIDE, block, held, page, png, with_text};
use super::support::{Book, Run, Site, files_under};
use serde_json::{Value, json};
use std::collections::BTreeMap;

const ON: &str = "2026-11-29";

/// A new book, as `begin` lays it, with a file beside it.
fn fresh(held: &Value) -> Book {
    with_file(page(held))
}

fn with_file(file: impl AsRef<[u8]>) -> Book {
    let book = Book::new();
    std::fs::remove_dir(book.path("content")).expect("an empty folder");
    book.run(["begin", ".", "--on", ON]).status(0);
    book.beside("shared.html", file)
}

fn receive(book: &Book, more: &[&str]) -> Run {
    book.run(["receive", "shared.html", "--on", ON].iter().chain(more))
}

fn content(book: &Book) -> BTreeMap<String, Vec<u8>> {
    files_under(&book.path("content"))
}

/// Fails where the file is not refused with these words, or anything of the book was touched.
#[track_caller]
fn refused(book: &Book, status: i32, words: &str) {
    let before = Site::of(&book.path("content"));
    receive(book, &["--yes"]).without_panic().status(status).stderr_has(words).stdout("");
    Site::of(&book.path("content")).assert_untouched_since(&before);
}

#[test]
fn a_guide_comes_in_with_all_that_it_names() {
    let book = fresh(&held());
    let before = content(&book);
    receive(&book, &["--yes"])
        .status(0)
        .stdout("received content/guides/engine/raw-water-filter.md\nadded to content/stores.yaml\nadded to content/tools.yaml\nadded to content/cautions.yaml\n")
        .stderr_has("from Tern of Ansker (Sloop), made with garboard 0.1.0")
        .stderr_has("4 steps in 1 stage, 2 figures, 1 picture; flooding, cold-hands")
        .stderr_has("Torch (torch, tools.yaml): you have one of that id, `Torch`; see that it is the same");
    // The guide is as it was, with one line more.
    let text = book.text("content/guides/engine/raw-water-filter.md");
    let line = "received: {from: Tern of Ansker, on: 2026-11-29, checked: 2026-01-11}\n";
    assert_eq!(text.replace(line, ""), GUIDE);
    assert_eq!(text.matches(line).count(), 1);
    // Lists have grown at their end.
    let after = content(&book);
    for (file, added) in [
        (
            "stores.yaml",
            "- {id: filter-basket, title: Basket of the raw-water filter, part-number: RB-7, sold-in: 1}\n- {id: silicone-grease, title: Silicone grease, sold-in: [50 mL, 100 mL], note: \"Not near rubber: it swells.\"}\n",
        ),
        ("tools.yaml", "- {id: strap-wrench, title: Strap wrench}\n"),
        (
            "cautions.yaml",
            "- {id: cold-hands, title: Cold hands, signal: caution, harm: Cold fingers slip and are cut., avoid: [Warm them first., Wear gloves.], words: [bare hands]}\n",
        ),
    ] {
        let old = before.get(file).cloned().unwrap_or_default();
        assert_eq!(String::from_utf8_lossy(&after[file]), format!("{}{added}", String::from_utf8_lossy(&old)), "{file}");
    }
    // Nothing else was touched.
    let touched: Vec<&String> = after.keys().filter(|path| before.get(*path) != after.get(*path)).collect();
    assert_eq!(
        touched,
        ["cautions.yaml", "guides/engine/raw-water-filter.md", "guides/engine/raw-water-filter/basket.png", "stores.yaml", "tools.yaml"]
    );
    // The picture is the same by size and, PNG being exact, by every pixel.
    let picture = image::load_from_memory(&after["guides/engine/raw-water-filter/basket.png"]).expect("a picture");
    assert_eq!(picture.to_rgb8(), image::load_from_memory(&png()).expect("a picture").to_rgb8());
    book.run(["publish", "--on", ON]).status(0);
}

#[test]
fn the_same_file_once_more_is_there_already() {
    let book = fresh(&held());
    receive(&book, &["--yes"]).status(0);
    let before = Site::of(&book.path("content"));
    receive(&book, &["--yes"]).status(0).stdout("").stderr_has("all of it is in the book already; nothing was written");
    Site::of(&book.path("content")).assert_untouched_since(&before);
}

#[test]
fn nobody_to_ask_and_no_yes_shows_and_writes_nothing() {
    let book = fresh(&held());
    let before = Site::of(&book.path("content"));
    receive(&book, &[]).status(2).stdout("").stderr_has("Change the raw-water filter").stderr_has("--yes");
    receive(&book, &["--dry-run"]).status(0).stdout("").stderr_has("dry run");
    Site::of(&book.path("content")).assert_untouched_since(&before);
}

#[test]
fn a_taken_id_makes_a_second_guide_and_touches_neither_the_first_nor_its_pictures() {
    let ours = GUIDE.replace("12 N·m", "10 N·m").replace("hazards: [flooding, cold-hands]", "hazards: [flooding]");
    let book = fresh(&held());
    book.put("content/guides/engine/raw-water-filter.md", ours.as_bytes());
    book.put("content/guides/engine/raw-water-filter/basket.png", b"our own picture");
    receive(&book, &["--yes"]).status(0).stdout_has("received content/guides/engine/raw-water-filter-from-tern-of-ansker.md");
    assert_eq!(book.text("content/guides/engine/raw-water-filter.md"), ours);
    assert_eq!(book.text("content/guides/engine/raw-water-filter/basket.png"), "our own picture");
    let text = book.text("content/guides/engine/raw-water-filter-from-tern-of-ansker.md");
    let line = "received: {from: Tern of Ansker, on: 2026-11-29, checked: 2026-01-11, guides: {raw-water-filter: raw-water-filter-from-tern-of-ansker}}\n";
    assert_eq!(text.replace(line, ""), GUIDE);
    assert!(book.path("content/guides/engine/raw-water-filter-from-tern-of-ansker/basket.png").is_file());
    // Its picture is found under the new name.
    let survey = book.survey();
    assert!(survey.iter().all(|problem| problem.rule != "missing-picture" || !problem.file.contains("tern")), "{survey:?}");
}

#[test]
fn a_revision_stands_beside_ours_and_says_what_differs() {
    let ours = GUIDE.replace("12 N·m", "10 N·m");
    let book = fresh(&held());
    book.put("content/guides/engine/raw-water-filter.md", ours.as_bytes());
    book.put("content/guides/engine/raw-water-filter/basket.png", &png());
    receive(&book, &["--yes", "--revise"])
        .status(0)
        .stdout_has("raw-water-filter-revision-2026-01-10.md")
        .stderr_has("- - {at: lid nut, value: 10 N·m")
        .stderr_has("+ - {at: lid nut, value: 12 N·m");
    assert_eq!(book.text("content/guides/engine/raw-water-filter.md"), ours);
    let text = book.text("content/guides/engine/raw-water-filter-revision-2026-01-10.md");
    assert!(text.contains("revises: raw-water-filter"), "{text}");
    book.run(["publish", "--on", ON]).status(0);
    let page = book.text("site/guides/raw-water-filter.html");
    assert!(page.contains("href=\"../guides/raw-water-filter-revision-2026-01-10.html\""), "each names the other");
    let rules: Vec<String> = book.survey().into_iter().map(|problem| problem.rule).collect();
    assert!(rules.contains(&"received-revision".to_owned()), "{rules:?}");
}

#[test]
fn names_of_her_boat_are_mapped_or_passed_over_as_words() {
    let text = GUIDE.replace("engine: 100 h", "port-hours: 100 h").replace("[strap-wrench, torch]", "[strap-wrench, lamp]");
    let mut held = held();
    held["guides"][0]["text"] = json!(text.replace("../hull/", "../below/"));
    held["guides"][0]["system"] = json!("machinery");
    held["systems"] = json!([{"id": "machinery", "title": "Machinery"}, {"id": "below", "title": "Below the water"}]);
    held["meters"] = json!([{"id": "port-hours", "title": "Hours to port", "unit": "h"}]);
    held["tools"] = json!([{"id": "strap-wrench", "title": "Strap wrench"}, {"id": "lamp", "title": "Lamp"}]);
    held["pictures"][0]["path"] = json!("guides/machinery/raw-water-filter/basket.png");
    // Mapped: the interval counts by the meter here, the tool is the one here.
    let book = fresh(&held);
    receive(
        &book,
        &["--yes", "--system", "machinery=engine", "--system", "below=hull", "--meter", "port-hours=engine", "--item", "lamp=torch"],
    )
    .status(0);
    let text = book.text("content/guides/engine/raw-water-filter.md");
    assert!(text.contains("systems: {below: hull, machinery: engine}, meters: {port-hours: engine}, items: {lamp: torch}}"), "{text}");
    assert!(!book.text("content/tools.yaml").contains("lamp"));
    let row = book.due(ON).into_iter().find(|row| row["guide"] == "raw-water-filter").expect("the job");
    assert_eq!(row["system"], "engine");
    book.run(["publish", "--on", ON]).status(0);
    assert!(book.text("site/guides/raw-water-filter.html").contains("100 h (Engine hours)"));
    // Not mapped: a system of its own, and the interval as words.
    let book = fresh(&held);
    receive(&book, &["--yes"]).status(0).stderr_has("the system Machinery (machinery): kept as a system of its own");
    book.run(["publish", "--on", ON]).status(0);
    let page = book.text("site/guides/raw-water-filter.html");
    assert!(page.contains("every: 100 h (port-hours)") && page.contains("6 months"), "passed over in words, the calendar kept");
    assert!(book.text("site/guides.html").contains(">Machinery</a>"));
    let rules: Vec<(String, String)> =
        book.survey().into_iter().filter(|one| one.file.contains("raw-water")).map(|one| (one.severity, one.rule)).collect();
    for rule in ["unknown-system", "unknown-meter"] {
        assert!(rules.contains(&("warning".to_owned(), rule.to_owned())), "{rule}: {rules:?}");
    }
}

#[test]
fn a_map_that_names_what_is_not_there_is_a_wrong_command_line() {
    let book = fresh(&held());
    for (map, words) in [
        (["--system", "engin=engine"], "the file names no system `engin`"),
        (["--system", "engine=engien"], "did you mean `engine`?"),
        (["--meter", "engine"], "write the id in the file"),
        (["--item", "torch=beacon"], "this book has no item `beacon`"),
    ] {
        receive(&book, &["--yes", map[0], map[1]]).status(2).stderr_has(words).stdout("");
    }
}

#[test]
fn her_hazard_of_our_id_with_other_words_stands_beside_ours() {
    let ours = "- {id: cold-hands, title: Cold hands, signal: notice, harm: Ours., avoid: Ours.}\n";
    let book = fresh(&held()).file("cautions.yaml", ours);
    receive(&book, &["--yes"]).status(0).stderr_has("hers is added as cold-hands-from-tern-of-ansker");
    let cautions = book.text("content/cautions.yaml");
    assert!(
        cautions.starts_with(ours) && cautions.contains("\n- {id: cold-hands-from-tern-of-ansker, title: Cold hands, signal: caution,"),
        "{cautions}"
    );
    assert!(book.text("content/guides/engine/raw-water-filter.md").contains("cautions: {cold-hands: cold-hands-from-tern-of-ansker}"));
    book.run(["publish", "--on", ON]).status(0);
    assert!(book.text("site/guides/raw-water-filter.html").contains("Cold fingers slip and are cut."));
    // A hazard that ships is neither reworded nor dropped.
    let mut held = held();
    held["cautions"][0]["id"] = json!("flooding");
    held["cautions"][0]["harm"] = json!("Nothing happens.");
    let book = fresh(&held);
    receive(&book, &["--yes"]).status(0);
    book.run(["publish", "--on", ON]).status(0);
    let page = book.text("site/cautions.html");
    assert!(page.contains("Nothing happens.") && book.text("content/cautions.yaml").contains("id: flooding-from-tern-of-ansker"));
}

#[test]
fn figures_are_marked_until_somebody_has_checked_them() {
    let book = fresh(&held());
    receive(&book, &["--yes"]).status(0);
    book.run(["publish", "--on", ON]).status(0);
    let path = "site/guides/raw-water-filter.html";
    let page = book.text(path);
    assert!(page.contains("From another boat (Tern of Ansker). Not yet checked against this boat."));
    // The nut and the vinegar in the table and in the step, the basket and the grease among the parts.
    assert_eq!(page.matches("<small class=\"unchecked\">not checked for this boat</small>").count(), 6);
    // What that boat checked does not count.
    assert!(page.contains("<strong>not checked</strong>"));
    assert!(page.contains("every 100 h (Engine hours), not checked for this boat"));
    book.run(["due", "--all", "--on", ON]).stdout_has("Change the raw-water filter, not checked for this boat");
    // So are its parts and tools wherever they are asked for.
    for list in ["site/stores.html", "site/tools.html"] {
        assert!(book.text(list).contains(">Change the raw-water filter (not checked for this boat)</a>"), "{list}");
    }
    let asked = book.run(["provision", "--until", "2027-12-31", "--all", "--on", ON]).status(0);
    assert!(asked.stdout.contains("asked for by a guide of another boat, not checked for this one"), "{}", asked.stdout);
    assert!(book.survey().iter().any(|problem| problem.rule == "received-not-checked" && problem.severity == "advice"));
    // Once it was.
    let text = book.text("content/guides/engine/raw-water-filter.md").replace("\nchecked: 2026-01-11", "\nchecked: 2026-11-29");
    book.put("content/guides/engine/raw-water-filter.md", text.as_bytes());
    book.run(["publish", "--on", ON]).status(0);
    let page = book.text(path);
    assert!(
        !page.contains("not checked") && !page.contains("Not yet checked") && page.contains("Tern of Ansker"),
        "where it came from stays"
    );
}

#[test]
fn what_is_no_shared_file_is_refused_politely() {
    let good = page(&held());
    let changed = |key: &str, value: Value| {
        let mut held = held();
        held[key] = value;
        page(&held)
    };
    let mut jpeg = b"\xff\xd8\xff\xe0\0\x10JFIF".to_vec();
    jpeg.extend([0x80; 500]);
    let deep = format!("{}{}", "[".repeat(100_000), "]".repeat(100_000));
    let cases: Vec<(Vec<u8>, &str)> = vec![
        (Vec::new(), "this file holds no guides to receive"),
        (b"<!DOCTYPE html><p>Nothing.</p>".to_vec(), "this file holds no guides to receive"),
        (b"<!DOCTYPE html>\n<html lang=\"en\"><head><title>Oi".to_vec(), "this file ends before its end"),
        (jpeg, "it is not text"),
        (format!("{good}{}", block(&held())).into_bytes(), "two blocks"),
        (good.as_bytes()[..good.len() - 200].to_vec(), "cut short"),
        (good.replace("Shared.", "Shared. <script>alert(1)</script>").replace("\"made\"", "<\"made\"").into_bytes(), "changed by hand"),
        (changed("format", json!("guides")).into_bytes(), "are not guides of a boat"),
        (changed("version", json!(2)).into_bytes(), "this file is of version 2 of the format, and this program reads version 1"),
        (changed("version", json!("1")).into_bytes(), "cannot be read"),
        (changed("version", json!(0)).into_bytes(), "does not say that it is of version 1"),
        (changed("more", json!(1)).into_bytes(), "unknown field `more`"),
        (changed("guides", json!([])).into_bytes(), "holds no guides"),
        (changed("guides", json!({})).into_bytes(), "are not as version 1 has them"),
        (changed("from", json!({"boat": " ", "type": null})).into_bytes(), "does not say which boat"),
        (changed("from", json!({"boat": "Tern\u{202e}", "type": null})).into_bytes(), "⟨U+202E⟩"),
        (changed("from", json!({"boat": "\u{1b}[2J", "type": null})).into_bytes(), "⟨U+001B⟩"),
        (changed("from", json!({"boat": "x".repeat(121), "type": null})).into_bytes(), "longer than 120 bytes"),
        (good.replace("\"made\":\"garboard 0.1.0\"", &format!("\"made\":{deep}")).into_bytes(), "are not as version 1 has them"),
        (good.replace("\"version\":1", "\"version\":1,\"version\":1").into_bytes(), "duplicate field"),
    ];
    for (bytes, words) in cases {
        refused(&with_file(bytes), 1, words);
    }
    let more = format!("\"version\":1,\"more\":{deep}");
    refused(&with_file(good.replace("\"version\":1", &more)), 1, "unknown field `more`");
    refused(&with_file(vec![b' '; 64 * 1024 * 1024 + 1]), 1, "more than 64 MB");
    refused(&with_file(changed("guides", json!(vec![held()["guides"][0].clone(); 501]))), 1, "501 guides");
    let book = with_file("");
    book.run(["receive", "not-there.html"]).status(1).stderr_has("cannot read `not-there.html`");
    book.run(["receive", "content"]).status(1).without_panic();
    book.run(["receive", "shared.html", "--book", "nowhere"]).status(1).without_panic();
}

#[test]
fn a_later_version_says_so_whatever_else_it_holds() {
    let book = with_file(page(&json!({"format": "garboard-guides", "version": 7, "cargo": [1, 2]})));
    refused(&book, 1, "get a newer garboard");
}

#[test]
fn a_list_that_cannot_grow_stays_and_the_line_is_told() {
    let list = "[{id: impeller, title: Impeller}, {id: impeller-gasket, title: Gasket}]\n";
    let book = fresh(&held()).file("stores.yaml", list);
    receive(&book, &["--yes"])
        .status(0)
        .stderr_has("not added, its list stands in brackets; the line to add is")
        .stderr_has("- {id: filter-basket, title: Basket of the raw-water filter, part-number: RB-7, sold-in: 1}");
    assert_eq!(book.text("content/stores.yaml"), list);
    book.run(["publish", "--on", ON]).status(0);
}

#[test]
fn a_list_keeps_every_byte_it_had() {
    for list in [
        "\u{feff}- {id: impeller, title: Impeller}\r\n- {id: impeller-gasket, title: Gasket}\r\n",
        "- {id: impeller, title: Impeller}\n- {id: impeller-gasket, title: Gasket}",
        "- {id: impeller, title: Impeller}\n- {id: impeller-gasket, title: Gasket}\n# the end\n\n",
    ] {
        let book = fresh(&held()).file("stores.yaml", list);
        receive(&book, &["--yes"]).status(0);
        let after = book.text("content/stores.yaml");
        assert!(after.starts_with(list) && after.len() > list.len());
        assert_eq!(after.contains("\r\n"), list.contains("\r\n"));
        let alone = after.replace("\r\n", "");
        assert!(!alone.contains('\r'));
        assert!(!list.contains("\r\n") || !alone.contains('\n'), "all line ends are as they were");
        book.run(["publish", "--on", ON]).status(0);
    }
}

#[cfg(unix)]
#[test]
fn what_cannot_be_written_leaves_the_book_as_it_was() {
    use std::os::unix::fs::{PermissionsExt, symlink};
    // A file where the folder of the guide would be.
    let mut other = held();
    other["guides"][0]["system"] = json!("rigging");
    other["guides"][0]["text"] = json!(GUIDE.replace("   ![The basket](raw-water-filter/basket.png)\n", ""));
    let book = fresh(&other).file("guides/rigging", "a file");
    refused(&book, 1, "rigging");
    // A folder that is a link to another place.
    let book = fresh(&held());
    std::fs::rename(book.path("content/guides/engine"), book.path("engine")).expect("moved");
    symlink(book.path("engine"), book.path("content/guides/engine")).expect("a link");
    let before = files_under(&book.path("engine"));
    receive(&book, &["--yes"]).status(1).stderr_has("is a link to another place");
    assert_eq!(files_under(&book.path("engine")), before);
    // A list that may not be written to: its lines are told.
    let book = fresh(&held());
    let before = book.text("content/stores.yaml");
    std::fs::set_permissions(book.path("content/stores.yaml"), std::fs::Permissions::from_mode(0o444)).expect("read-only");
    receive(&book, &["--yes"]).status(0).stderr_has("it may not be written to; the line to add is");
    assert_eq!(book.text("content/stores.yaml"), before);
}

#[test]
fn what_is_never_restored_is_refused_and_what_another_guide_restores_is_warned_of() {
    let job =
        |until: &str| with_text(&format!("---\ntitle: Job\nhazards: [flooding]\n---\n## Work\n1. Shut it. {{isolate seacock{until}}}\n"));
    refused(&fresh(&job("")), 1, "`seacock` is isolated here, and never restored");
    let book = fresh(&job(" until lay-up"));
    receive(&book, &["--yes"]).status(0);
    book.run(["survey", "--on", ON]).status(0).stdout_has("no guide of that occasion restores it");
    let book = fresh(&job(" until careening"));
    receive(&book, &["--yes"]).status(0).stderr_has("there is no occasion `careening`");
}

#[test]
fn a_guide_that_is_refused_does_not_keep_the_others_out() {
    let mut held = held();
    let bad = "---\ntitle: Bad\nhazards: [fire]\n---\n## Work\n1. Do it. <b onclick=\"x\">now</b>\n";
    held["guides"].as_array_mut().expect("guides").push(json!({"id": "bad", "system": "engine", "path": "x", "text": bad}));
    let book = fresh(&held);
    receive(&book, &["--yes"])
        .status(1)
        .stdout_has("received content/guides/engine/raw-water-filter.md")
        .stderr_has("line 6: it holds HTML");
    assert!(!book.path("content/guides/engine/bad.md").exists());
}

#[test]
fn errors_in_the_book_keep_it_out_only_where_names_are_looked_up() {
    let book = fresh(&held()).file("log/2026/2026-01-01-slip.md", "no front matter");
    receive(&book, &["--yes"]).status(0).stderr_has("the book has errors elsewhere");
    let book = fresh(&held()).file("stores.yaml", "- {id: [\n");
    refused(&book, 1, "`stores.yaml` of this book cannot be read");
}

#[test]
fn text_with_nothing_named_comes_in_alone() {
    let text = "---\ntitle: Plain\nhazards: [fire]\n---\n## Work\n1. Do it.\n";
    let book = fresh(&with_text(text));
    receive(&book, &["--yes"]).status(0).stdout("received content/guides/engine/raw-water-filter.md\n");
}
