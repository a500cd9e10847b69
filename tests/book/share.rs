//! Guides shared in one file: what it carries for programs, what it shows, and what never gets into it.

use crate::support::{Book, files_under};
use scraper::{Html, Selector};
use serde_json::Value;
use std::path::Path;

/// Bytes that a shared guide of the demo book may have, pictures left aside.
const LARGEST: usize = 150 * 1024;

fn demo() -> Book {
    let book = Book::new();
    book.lay(&Path::new(env!("CARGO_MANIFEST_DIR")).join("content"));
    book
}

/// The guides of the demo book: id, path in the book, text.
fn guides() -> Vec<(String, String, String)> {
    let all = files_under(&Path::new(env!("CARGO_MANIFEST_DIR")).join("content/guides"));
    all.into_iter()
        .filter(|(path, _)| path.ends_with(".md"))
        .map(|(path, bytes)| {
            let id = path.rsplit('/').next().expect("a name").trim_end_matches(".md").to_owned();
            (id, format!("guides/{path}"), String::from_utf8(bytes).expect("text"))
        })
        .collect()
}

fn select<'p>(page: &'p Html, selector: &str) -> Vec<scraper::ElementRef<'p>> {
    page.select(&Selector::parse(selector).expect("a selector")).collect()
}

/// The data of a shared file, found as any program would: by the id of their element.
#[track_caller]
fn data(html: &str) -> Value {
    let page = Html::parse_document(html);
    let blocks = select(&page, "script#garboard-guides");
    assert_eq!(blocks.len(), 1, "there is one block");
    assert_eq!(blocks[0].attr("type"), Some("application/json"));
    serde_json::from_str(&blocks[0].text().collect::<String>()).expect("the block is JSON")
}

/// What is read by people: the words of the body, scripts and data left aside.
fn words(html: &str) -> String {
    let page = Html::parse_document(html);
    select(&page, "main, header, footer").into_iter().flat_map(|element| element.text()).collect()
}

/// A text without the letters of what is in base 64, among which any figure may stand by chance.
fn uncoded(html: &str) -> String {
    let is_code = |c: char| c.is_ascii_alphanumeric() || "+/=".contains(c);
    html.split_inclusive(|c| !is_code(c)).filter(|run| run.len() < 40).collect()
}

/// Every byte of a file, and once more with whatever it holds in base 64 decoded.
fn opened(html: &str) -> Vec<u8> {
    let mut all = html.as_bytes().to_vec();
    let is_code = |c: char| c.is_ascii_alphanumeric() || "+/=".contains(c);
    for run in html.split(|c| !is_code(c)).filter(|run| run.len() >= 16) {
        // Wherever the code may begin in a run of letters.
        for from in 0..4 {
            let code = run[from..].trim_end_matches('=');
            let decoded = data_encoding::BASE64_NOPAD.decode(&code.as_bytes()[..code.len() / 4 * 4]);
            all.extend(decoded.unwrap_or_default());
        }
    }
    all
}

fn holds(bytes: &[u8], word: &str) -> bool {
    bytes.windows(word.len()).any(|window| window == word.as_bytes())
}

#[test]
fn a_caution_of_safety_shows_its_figures_on_every_page() {
    let front = "occasions: [lay-up]\nhazards: []\nvalues: {gap: 3 mm}\ntools: [feeler gauge]\nsafety: ['WARNING: Below {gap} it strikes. Use the {feeler gauge}, \\{not a card\\}.']\n";
    let guide = crate::support::guide("Set the gap", front, "1. Set {gap} with the {feeler gauge}.\n");
    let book = Book::new().file("boat.yaml", "name: Tern\n").file("guides/engine/gap.md", guide);
    book.run(["share", "gap", "--to", "one.html"]).status(0);
    let book = book.published();
    // 3 mm are 0.118 in: 0.1 would be off by more than half a millimetre (NIST SP 811, B.7.2).
    let said = "Below 3 mm (0.12 in) it strikes. Use the feeler gauge, {not a card}.";
    for (page, html) in [("guides/gap.html", book.site().page("guides/gap.html")), ("one.html", &book.text("one.html"))] {
        let words = words(html);
        let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(words.contains(said), "{page}: {words}");
        let page = Html::parse_document(html);
        assert!(!select(&page, "#cautions a[href$='tool-feeler-gauge']").is_empty());
    }
}

#[test]
fn every_guide_of_the_demo_book_is_carried_byte_for_byte() {
    let book = demo();
    book.run(["share", "--all", "--to", "all.html"]).status(0).stdout("").stderr_has("shared 31 guides in all.html");
    let held = data(&book.text("all.html"));
    let carried = held["guides"].as_array().expect("guides");
    assert_eq!(carried.len(), guides().len());
    for (id, path, text) in guides() {
        let one = carried.iter().find(|guide| guide["id"] == *id).unwrap_or_else(|| panic!("{id} is carried"));
        assert_eq!(one["path"], *path);
        assert_eq!(one["system"], path.split('/').nth(1).expect("a folder"));
        assert_eq!(one["text"].as_str(), Some(text.as_str()), "{id}");
    }
    assert_eq!((&held["format"], &held["version"]), (&Value::from("garboard-guides"), &Value::from(1)));
    assert_eq!(held["from"]["boat"], "Skerrywake");
    assert_eq!((&held["language"], &held["units"]), (&Value::from("en"), &Value::from("metric")));
    // Only what identifies a thing and how to order it.
    let allowed = |list: &str, keys: &[&str]| {
        for one in held[list].as_array().expect("a list") {
            let strange = one.as_object().expect("a record").keys().find(|key| !keys.contains(&key.as_str()));
            assert_eq!(strange, None, "{list}: {one}");
        }
    };
    allowed("stores", &["id", "title", "part-number", "sold-in", "also-fits", "note"]);
    allowed("tools", &["id", "title"]);
    allowed("meters", &["id", "title", "unit"]);
    let filter = held["stores"].as_array().expect("stores").iter().find(|item| item["id"] == "oil-filter").expect("the filter");
    // As `content/stores.yaml` has it.
    assert_eq!(filter["part-number"], "OF-7719");
    assert_eq!(filter["also-fits"], serde_json::json!(["OF-7719-B", "118-204"]));
}

#[test]
fn a_guide_by_itself_is_small_and_says_whose_it_is() {
    let book = demo();
    for (id, _, _) in guides() {
        book.run(["share", id.as_str(), "--to", "one.html", "--replace"]).status(0);
        let html = book.text("one.html");
        let held = data(&html);
        let carried: usize =
            held["pictures"].as_array().expect("pictures").iter().map(|one| one["bytes"].as_str().map_or(0, str::len)).sum();
        let page = Html::parse_document(&html);
        let shown: usize = select(&page, "img").iter().filter_map(|image| image.attr("src")).map(str::len).sum();
        let size = html.len() - carried - shown;
        assert!(size <= LARGEST, "{id}: {size} bytes");
        let words = words(&html);
        for said in ["Shared by Skerrywake", "Written for another boat, Skerrywake", "Checked on Skerrywake"] {
            assert!(words.contains(said), "{id} does not say `{said}`");
        }
        // How this boat stands is her own business.
        for unsaid in ["Last done", "Next due", "No record", "never read", "last read", "History", "Crew edition"] {
            assert!(!words.contains(unsaid), "{id} says `{unsaid}`");
        }
        assert!(select(&page, ".aboard").iter().all(|place| place.text().all(|text| text.trim().is_empty())), "{id}: stock");
        assert_eq!(select(&page, "#_home, #_all").len(), 0, "{id}: a guide by itself has no contents");
    }
}

#[test]
fn nothing_in_the_file_can_load_anything() {
    let book = demo();
    book.run(["share", "oil-and-filter", "steering-wire", "--to", "two.html"]).status(0);
    let html = book.text("two.html");
    let page = Html::parse_document(&html);
    let policy = select(&page, "meta[http-equiv='Content-Security-Policy']")[0].attr("content").expect("a policy").to_owned();
    assert!(policy.starts_with("default-src 'none'; script-src 'sha256-"), "{policy}");
    assert!(policy.ends_with("img-src data:; base-uri 'none'; form-action 'none'") && !policy.contains("unsafe"), "{policy}");
    for element in select(&page, "[src]") {
        assert!(element.attr("src").is_some_and(|to| to.starts_with("data:image/")), "{:?}", element.value());
    }
    // Inline styles and handlers would be blocked.
    assert!(select(&page, "[style], [onclick], [onload], [srcset], link, iframe, object, embed, base").is_empty());
    let ids: Vec<&str> = select(&page, "[id]").iter().filter_map(|element| element.attr("id")).collect();
    for link in select(&page, "a[href]") {
        let to = link.attr("href").unwrap_or_default();
        assert!(to.strip_prefix('#').is_some_and(|id| ids.contains(&id)) || to.starts_with("https://"), "{to}");
    }
}

/// A word that stands nowhere but where it is planted.
fn canary(n: usize) -> String {
    format!("qzcanary{n:02}x")
}

const CANARIES: usize = 40;

/// An EXIF block (JEITA CP-3451) by hand: a maker's name in the first directory, and a directory of the place.
fn exif(word: &str) -> Vec<u8> {
    let mut tiff = b"MM\0\x2a\0\0\0\x08\0\x02".to_vec();
    let name = format!("{word}\0");
    let entry = |tag: u16, kind: u16, count: usize, value: u32| {
        let mut bytes = tag.to_be_bytes().to_vec();
        bytes.extend(kind.to_be_bytes());
        bytes.extend(u32::try_from(count).expect("short").to_be_bytes());
        bytes.extend(value.to_be_bytes());
        bytes
    };
    tiff.extend(entry(0x010f, 2, name.len(), 38));
    tiff.extend(entry(0x8825, 4, 1, 38 + u32::try_from(name.len()).expect("short")));
    tiff.extend([0; 4]);
    tiff.extend(name.as_bytes());
    // The reference of the latitude alone: `N`.
    tiff.extend(b"\0\x01");
    tiff.extend(entry(0x0001, 2, 2, u32::from_be_bytes(*b"N\0\0\0")));
    tiff.extend([0; 4]);
    let mut block = b"\xff\xe1".to_vec();
    block.extend(u16::try_from(tiff.len() + 8).expect("short").to_be_bytes());
    block.extend(b"Exif\0\0");
    block.extend(tiff);
    block
}

/// A photo of the demo book with an EXIF block behind its first marker.
fn photo(word: &str) -> Vec<u8> {
    let plain =
        std::fs::read(Path::new(env!("CARGO_MANIFEST_DIR")).join("content/guides/fuel/fuel-tank-sump/sample-jar.jpg")).expect("a photo");
    let mut bytes = plain[..2].to_vec();
    bytes.extend(exif(word));
    bytes.extend(&plain[2..]);
    bytes
}

/// A book with a canary in every place that no other boat should see, and a guide that leads to all of them.
fn planted() -> Book {
    let c = canary;
    let boat = format!(
        "name: Plover\ntype: Ketch\nbuilt: 1979\nflag: {}\nhome-port: {}\nhull-number: {}\ncrew: [{}]\nin-service: 2011-03-04\nsite: https://{}.example/\n\
         private-fields: [source, conditions, part-number]\npublic-fields: [hull-number, crew, counted, price, serial]\n# {}\n\
         systems: [{{id: engine, title: Engine}}, {{id: rig, title: {}}}]\nmeters: [{{id: engine, title: Engine hours, unit: h}}]\n\
         gear: [{{id: raft, title: Raft, system: engine, serial: {}, note: {}, expires: 2029-05, fitted: {{on: 2019-05-14, at: 0 h}}, meter: engine}}]\n",
        c(0),
        c(1),
        c(2),
        c(3),
        c(4),
        c(5),
        c(6),
        c(7),
        c(8)
    );
    let stores = format!(
        "- {{id: filter, title: Filter, part-number: {}, stowed: {}, counted: {{on: 2026-01-05, qty: 7771}}, minimum: 9991, price: 8881.50 EUR, \
         expires: 2031-07, bought: [{{on: 2026-02-11, qty: 6661}}]}} # {}\n- {{id: grease, title: Grease, stowed: {}, level: plenty}}\n\
         - {{id: other, title: {}}}\n",
        c(9),
        c(10),
        c(11),
        c(12),
        c(13)
    );
    let tools = format!("- {{id: wrench, title: Wrench, stowed: {}, note: {}}}\n- {{id: saw, title: {}}}\n", c(14), c(15), c(16));
    let cautions = format!("- {{id: ladder, title: {}, signal: warning, harm: It breaks., avoid: Use another.}}\n", c(17));
    let guide = format!(
        "---\ntitle: Change the oil\nevery: {{own: 150 h}}\nfor: [raft]\nsource: {}\nconditions:\n  - {}\nparts: [{{item: filter}}, {{item: grease}}]\ntools: [wrench]\n\
         hazards: [hot-liquids]\ntorque:\n  - {{at: plug, value: 35 N·m, source: {}}}\nreadings: {{level: {{unit: mm}}}}\n---\n\
         ## Drain\n1. Drain it with the {{filter}} [as then](../../log/2026/2026-03-14-oil.md), see [the other](../rig/mast.md) and the [bill](oil/bill.pdf). {{read level}}\n\n\
         ![jar](oil/jar.jpg)\n",
        c(18),
        c(19),
        c(20)
    );
    let other = format!("---\ntitle: {}\nhazards: [ladder]\n---\n## Look\n1. {}.\n", c(22), c(23));
    let entry = format!(
        "---\n# {}\njobs: [oil/raft]\ndate: 2026-03-14\nmeters: {{engine: 4321.5}}\nby: {}\nplace: {}\npapers: [{}.pdf]\ntime: 3 h\n\
         parts: [{{item: filter, qty: 1, cost: 5551.50 EUR}}]\ncosts: [{{what: {}, cost: 4441 EUR}}]\nreadings: {{level: 333.25 mm}}\n\
         fitted: [{{gear: raft, serial: {}}}]\nfindings: [{{what: {}, grade: act, guide: oil}}]\n---\n{} <!-- private -->{}<!-- /private -->\n",
        c(24),
        c(25),
        c(26),
        c(27),
        c(28),
        c(29),
        c(30),
        c(31),
        c(32)
    );
    let passages = format!("- {{id: {}, title: {}, depart: 2026-07-09, days: 9}}\n", c(33), c(34));
    Book::new()
        .file("boat.yaml", boat)
        .file("stores.yaml", stores)
        .file("tools.yaml", tools)
        .file("cautions.yaml", cautions)
        .file("passages.yaml", passages)
        .file("meters.csv", "date,meter,value\n2026-02-01,engine,4300.25\n")
        .file("guides/engine/oil.md", guide)
        .file("guides/engine/oil/bill.pdf", format!("%PDF-1.4 {}", c(35)))
        .file("guides/engine/oil/jar.jpg", photo(&c(36)))
        .file("guides/rig/mast.md", other)
        .file("log/2026/2026-03-14-oil.md", entry)
        .file(&format!("log/2026/2026-03-14-oil/{}.pdf", c(27)), format!("%PDF-1.4 {}", c(37)))
}

#[test]
fn nothing_of_the_boats_own_is_in_any_byte() {
    let book = planted();
    book.run(["share", "oil", "--to", "oil.html"])
        .status(0)
        .stderr_has("not in the file, though its guides lead there: mast")
        .stderr_has("guides/engine/oil/bill.pdf")
        .stderr_has("left out: 2 keys that are private by `boat.yaml`");
    let all = opened(&book.text("oil.html"));
    for n in 0..CANARIES {
        assert!(!holds(&all, &canary(n)), "{} is in the file", canary(n));
    }
    // In figures and days, just as private.
    let html = uncoded(&book.text("oil.html"));
    for figure in [
        "7771",
        "9991",
        "8881.5",
        "6661",
        "5551.5",
        "4441",
        "4321.5",
        "4300.25",
        "333.25",
        "2031-07",
        "2029-05",
        "2019-05-14",
        "2011",
        "1979",
    ] {
        assert!(!html.contains(figure), "{figure} is in the file");
    }
    for day in ["2026-03-14", "14 March 2026", "9 July", "2026-07-09", "Raft", "raft-"] {
        assert!(!words(&book.text("oil.html")).contains(day), "{day} is on the page");
    }
    // What is shared is there all the same.
    let text = data(&book.text("oil.html"))["guides"][0]["text"].as_str().expect("text").to_owned();
    assert!(text.contains("parts: [{item: filter}, {item: grease}]\ntools: [wrench]\n"), "{text}");
    assert!(text.contains("torque:\n  - {at: plug, value: 35 N·m}\n"), "{text}");
}

#[test]
fn the_canaries_are_found_where_they_stand() {
    // The search finds nothing in the shared file because nothing is there, not because it cannot find.
    let photo = photo(&canary(36));
    assert!(holds(&photo, &canary(36)));
    let code = data_encoding::BASE64.encode(&photo);
    assert!(holds(&opened(&format!("<img src=\"data:image/jpeg;base64,{code}\">")), &canary(36)));
}

#[test]
fn pictures_are_made_anew_and_carried_in_their_largest_size() {
    let book = planted();
    book.run(["share", "oil", "--to", "oil.html"]).status(0);
    let held = data(&book.text("oil.html"));
    let picture = &held["pictures"][0];
    assert_eq!((&picture["path"], &picture["type"]), (&Value::from("guides/engine/oil/jar.jpg"), &Value::from("image/jpeg")));
    let bytes = data_encoding::BASE64.decode(picture["bytes"].as_str().expect("bytes").as_bytes()).expect("base 64");
    // A JPEG file begins with SOI (ITU-T T.81, B.1.1.3), and no marker of it holds EXIF.
    assert!(bytes.starts_with(b"\xff\xd8\xff") && !holds(&bytes, "Exif"));
}

#[test]
fn a_link_to_what_is_not_in_the_file_is_plain_text() {
    let book = planted();
    book.run(["share", "oil", "--to", "oil.html"]).status(0);
    let html = book.text("oil.html");
    let page = Html::parse_document(&html);
    let step: String = select(&page, ".step").into_iter().flat_map(|step| step.text()).collect();
    assert!(step.contains("see the other and the bill"), "{step}");
    assert!(select(&page, "a").iter().all(|link| link.attr("href").is_some_and(|to| to.starts_with('#'))));
}

#[test]
fn no_text_of_a_guide_breaks_out_of_the_data() {
    let nasty = "---\ntitle: \"</script><script>alert(1)</script><!-- \\u2028\"\n---\n## Do\n1. `</script>` <!-- <script> ]]> \u{2028}\n";
    let book = Book::sound().file("guides/engine/nasty.md", nasty);
    book.run(["share", "nasty", "--to", "nasty.html"]).status(0);
    let html = book.text("nasty.html");
    assert_eq!(data(&html)["guides"][0]["text"], nasty);
    let page = Html::parse_document(&html);
    assert!(select(&page, "script").iter().all(|script| script.text().collect::<String>().trim() != "alert(1)"));
    // The data are the last thing in the body, whole.
    assert!(html.ends_with("</script>\n</body>\n</html>\n"));
}

#[test]
fn line_ends_and_the_byte_order_mark_of_another_system_are_left_behind() {
    let book = Book::sound().file("guides/engine/crlf.md", "\u{feff}---\r\ntitle: Look\r\n---\r\n## Do\r\n1. Look.\r\n");
    book.run(["share", "crlf", "--to", "look.html"]).status(0);
    assert_eq!(data(&book.text("look.html"))["guides"][0]["text"], "---\ntitle: Look\n---\n## Do\n1. Look.\n");
}

#[test]
fn the_licence_of_the_boat_holds_for_guides_without_their_own() {
    let book = Book::sound()
        .file("guides/engine/own.md", "---\ntitle: Own\nlicence: CC0-1.0\nsource: the yard\nrevised: 2026-02-01\n---\n## Do\n1. Look.\n")
        .file("guides/engine/none.md", "---\ntitle: None\n---\n## Do\n1. Look.\n");
    let boat = format!("{}licence: CC-BY-4.0\n", book.text("content/boat.yaml"));
    book.put("content/boat.yaml", boat.as_bytes());
    for (id, licence) in [("own", "CC0-1.0"), ("none", "CC-BY-4.0")] {
        book.run(["share", id, "--to", "one.html", "--replace"]).status(0);
        let html = book.text("one.html");
        let page = Html::parse_document(&html);
        for place in ["#sheet-facts", ".foot"] {
            let said: String = select(&page, place)[0].text().collect();
            assert!(said.contains(licence), "{id}: {place} says {said}");
        }
        assert_eq!(data(&html)["licence"], "CC-BY-4.0");
    }
    let foot: String = {
        book.run(["share", "own", "--to", "one.html", "--replace"]).status(0);
        let html = book.text("one.html");
        let page = Html::parse_document(&html);
        select(&page, ".foot")[0].text().collect()
    };
    assert!(foot.contains("Source: the yard") && foot.contains("Revised: 1 February 2026"), "{foot}");
    let book = book.published();
    assert!(book.text("site/guides/none.html").contains("CC-BY-4.0"), "the site says it too");
}

#[test]
fn the_same_book_gives_the_same_bytes() {
    let book = demo();
    book.run(["share", "seacocks", "oil-and-filter", "--to", "a.html"]).status(0);
    book.run(["share", "oil-and-filter", "seacocks", "oil-and-filter", "--to", "b.html"]).status(0);
    assert_eq!(book.text("a.html"), book.text("b.html"));
}

#[test]
fn no_file_is_replaced_but_one_of_shared_guides_that_may_be() {
    let book = demo();
    book.run(["share", "gearbox-oil", "--to", "out/oil.html"]).status(0);
    let first = book.text("out/oil.html");
    book.run(["share", "seacocks", "--to", "out/oil.html"]).status(1).stderr_has("there already").stderr_has("--replace");
    assert_eq!(book.text("out/oil.html"), first);
    book.run(["share", "seacocks", "--to", "out/oil.html", "--replace"]).status(0);
    assert_eq!(data(&book.text("out/oil.html"))["guides"][0]["id"], "seacocks");
    book.put("letter.html", b"<!DOCTYPE html><p>Dear all");
    book.run(["share", "seacocks", "--to", "letter.html", "--replace"]).status(1).stderr_has("only a file of shared guides");
    assert_eq!(book.text("letter.html"), "<!DOCTYPE html><p>Dear all");
    book.run(["share", "seacocks", "--to", "out", "--replace"]).status(1).stderr_has("is a folder");
    book.run(["share", "seacocks", "--to", "content/oil.html"]).status(1).stderr_has("does not belong into the book");
    let left: Vec<String> = files_under(&book.path("out")).into_keys().collect();
    assert_eq!(left, ["oil.html"], "nothing is left beside it");
}

#[test]
fn what_cannot_be_shared_is_told() {
    let book = demo();
    book.run(["share", "oil-and-filer", "seacoks", "--to", "x.html"])
        .status(2)
        .stderr_has("did you mean `oil-and-filter`?")
        .stderr_has("did you mean `seacocks`?");
    book.run(["share", "--system", "engin", "--to", "x.html"]).status(2).stderr_has("did you mean `engine`?");
    book.run(["share", "--to", "x.html"]).status(2);
    book.run(["share", "seacocks", "--all", "--to", "x.html"]).status(2);
    book.run(["share", "seacocks"]).status(2).stderr_has("--to");
    book.run(["share", "seacocks", "--to", "x.html", "--theme", "nowhere"]).status(1).stderr_has("there is no theme `nowhere`");
    book.run(["share", "seacocks", "--to", "seacocks"]).status(0).stderr_has("`.html`");
    let book = book.file("guides/engine/bad.md", "no front matter\n");
    book.run(["share", "seacocks", "--to", "x.html"]).status(1).stderr_has("bad.md").stderr_has("nothing was shared");
    assert!(!book.path("x.html").exists());
}

#[test]
fn a_system_is_shared_as_a_whole() {
    let book = demo();
    book.run(["share", "--system", "gas", "--to", "gas.html"]).status(0);
    let held = data(&book.text("gas.html"));
    let ids: Vec<&str> = held["guides"].as_array().expect("guides").iter().filter_map(|guide| guide["id"].as_str()).collect();
    let expected: Vec<String> = guides().into_iter().filter(|(_, path, _)| path.starts_with("guides/gas/")).map(|(id, _, _)| id).collect();
    assert_eq!(ids, expected);
    let all = held["systems"].as_array().expect("systems");
    assert!(all.iter().all(|system| system["id"] == "gas") && all.len() == 1);
}

/// The heads are laid up by one guide and opened again by another.
fn laid_up() -> Book {
    let guide = |title: &str, occasion: &str, mark: &str| {
        format!(
            "---\ntitle: {title}\noccasions: [{occasion}]\nhazards: [sewage]\n---\n1. Turn it. {{{mark} heads intake{}}} {{prove it is dry}}\n",
            if mark == "isolate" { " until fitting-out" } else { "" }
        )
    };
    Book::new()
        .file("boat.yaml", "name: Tern\nsystems: [{id: plumbing, title: Plumbing}]\n")
        .file("guides/plumbing/heads-lay-up.md", guide("Lay up the heads", "lay-up", "isolate"))
        .file("guides/plumbing/heads-open.md", guide("Open the heads", "fitting-out", "restore"))
}

#[test]
fn half_of_an_isolation_is_told_when_it_is_shared() {
    let book = laid_up();
    let told = |run: &crate::support::Run| {
        run.stderr.lines().filter(|line| line.starts_with("warning") || line.starts_with("help")).map(str::to_owned).collect::<Vec<_>>()
    };
    let open = book.run(["share", "heads-open", "--to", "open.html"]).status(0);
    assert_eq!(
        told(&open),
        [
            "warning: `heads-open` restores `heads intake`, which `heads-lay-up` isolates, and the file does not hold it",
            "help: share `heads-lay-up` along with `heads-open`: without it `garboard receive` refuses `heads-open`",
        ]
    );
    let laid_up = book.run(["share", "heads-lay-up", "--to", "lay-up.html"]).status(0);
    assert_eq!(
        told(&laid_up),
        [
            "warning: `heads-lay-up` leaves `heads intake` isolated, which `heads-open` restores, and the file does not hold it",
            "help: share `heads-open` along with `heads-lay-up`, so that whoever shuts it is told to open it again",
        ]
    );
    let both = book.run(["share", "heads-open", "heads-lay-up", "--to", "both.html"]).status(0);
    assert_eq!(told(&both), [""; 0]);
    // What was said of receiving them is so.
    let receive = |file: &str| {
        let other = Book::new().file("boat.yaml", "name: Plover\n");
        other.put("shared.html", book.text(file).as_bytes());
        other.run(["receive", "shared.html", "--yes"])
    };
    receive("open.html").status(1).stderr_has("`heads intake` is restored here, and was not isolated before");
    receive("lay-up.html").status(0);
    receive("both.html").status(0);
}
