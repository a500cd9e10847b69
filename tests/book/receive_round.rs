//! From boat to boat and back: what `share` writes, `receive` takes in without loss.

use super::shared_file::{GUIDE, held, page, png};
use super::support::{Book, Run};
use serde_json::Value;
use std::path::{Path, PathBuf};

const ON: &str = "2026-11-29";

fn demo() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("content")
}

/// Shares all guides of a book; the data in the file.
fn shared(book: &Book, content: &Path, file: &str) -> Value {
    let content = content.to_string_lossy().into_owned();
    book.run(["share", "--all", "--to", file, "--book", &content]).status(0);
    data(book, file)
}

/// What a shared file carries for programs.
fn data(book: &Book, file: &str) -> Value {
    let page = book.text(file);
    let (_, data) = page.split_once("<script type=\"application/json\" id=\"garboard-guides\">").expect("the data");
    serde_json::from_str(data.split_once("</script>").expect("their end").0).expect("JSON")
}

fn receive(book: &Book, file: &str, content: &str) -> Run {
    book.run(["receive", file, "--yes", "--on", ON, "--book", content])
}

#[test]
fn every_guide_of_the_demo_comes_into_a_new_book_that_publishes() {
    let book = Book::new();
    let data = shared(&book, &demo(), "all.html");
    let guides = data["guides"].as_array().expect("guides").len();
    book.run(["begin", "new", "--on", ON]).status(0);
    let run = receive(&book, "all.html", "new/content").status(0);
    assert_eq!(run.stdout.lines().filter(|line| line.starts_with("received ")).count(), guides, "{}", run.stderr);
    book.run(["publish", "--on", ON, "--book", "new/content"]).status(0);
    assert!(book.text("new/site/guides/oil-and-filter.html").contains("Not yet checked against this boat."));
}

#[test]
fn shared_received_and_shared_again_it_is_the_same() {
    let book = Book::new();
    let first = shared(&book, &demo(), "all.html");
    // A boat of the same name and systems, with nothing aboard.
    let facts = std::fs::read_to_string(demo().join("boat.yaml")).expect("the boat");
    let book = book.file("boat.yaml", facts);
    receive(&book, "all.html", "content").status(0);
    let again = shared(&book, &book.path("content"), "again.html");
    for key in ["from", "licence", "guides", "systems", "meters", "stores", "tools", "cautions"] {
        assert_eq!(first[key], again[key], "{key}");
    }
    // Pictures keep their size and look alike: JPEG is not exact, so a mean of three steps in 255 is allowed (common
    // practice, no source); drawings and PNG are the same.
    let pictures = |data: &Value| data["pictures"].as_array().expect("pictures").clone();
    let (before, after) = (pictures(&first), pictures(&again));
    assert_eq!(before.len(), after.len());
    assert!(!before.is_empty());
    for (one, other) in before.iter().zip(&after) {
        assert_eq!((&one["path"], &one["type"]), (&other["path"], &other["type"]));
        if one["type"] == "image/svg+xml" {
            assert_eq!(one["bytes"], other["bytes"], "{}", one["path"]);
            continue;
        }
        let pixels = |picture: &Value| {
            let bytes = data_encoding::BASE64.decode(picture["bytes"].as_str().expect("bytes").as_bytes()).expect("base 64");
            image::load_from_memory(&bytes).expect("a picture").to_rgb8()
        };
        let (one_pixels, other_pixels) = (pixels(one), pixels(other));
        assert_eq!(one_pixels.dimensions(), other_pixels.dimensions(), "{}", one["path"]);
        let far: u64 = one_pixels.iter().zip(other_pixels.iter()).map(|(a, b)| u64::from(a.abs_diff(*b))).sum();
        assert!(far <= 3 * one_pixels.len() as u64, "{}: {far} over {}", one["path"], one_pixels.len());
    }
    // And once more it is there already.
    receive(&book, "again.html", "content").status(0).stdout("").stderr_has("in the book already");
}

#[test]
fn what_is_called_otherwise_here_is_passed_on_as_it_came() {
    let came = held();
    let book = Book::new().beside("shared.html", page(&came));
    std::fs::remove_dir(book.path("content")).expect("an empty folder");
    book.run(["begin", ".", "--on", ON]).status(0);
    // A guide, a part and a hazard of the same ids are here, and are others.
    book.put(
        "content/guides/engine/raw-water-filter.md",
        GUIDE.replace("12 N·m", "10 N·m").replace("../hull/seacocks.md", "#clean").as_bytes(),
    );
    book.put("content/guides/engine/raw-water-filter/basket.png", &png());
    let basket = "- {id: filter-basket, title: Basket of the fuel filter, part-number: FF-1, counted: {on: 2026-10-24, qty: 2}}\n";
    book.put("content/stores.yaml", (book.text("content/stores.yaml") + basket).as_bytes());
    let hands = "- {id: cold-hands, title: Cold hands, signal: notice, harm: Ours., avoid: Ours.}\n";
    book.put("content/cautions.yaml", hands.as_bytes());
    receive(&book, "shared.html", "content")
        .status(0)
        .stderr_has("yours of that id is another thing, `Basket of the fuel filter`, so hers is added as filter-basket-from-tern-of-ansker")
        .stderr_has("`--item filter-basket=filter-basket` says that they are the same");
    let stores = book.text("content/stores.yaml");
    assert!(stores.contains(basket) && stores.contains("- {id: filter-basket-from-tern-of-ansker, title: Basket of the raw-water filter"));
    let text = book.text("content/guides/engine/raw-water-filter-from-tern-of-ansker.md");
    assert!(text.contains("items: {filter-basket: filter-basket-from-tern-of-ansker}"), "{text}");
    // Her guide asks for her part, and nobody takes it for ours, of which there are two aboard.
    book.run(["publish", "--on", ON]).status(0);
    let sheet = book.text("site/guides/raw-water-filter-from-tern-of-ansker.html");
    assert!(sheet.contains("Basket of the raw-water filter") && !sheet.contains("Basket of the fuel filter"));
    // Another guide of hers with the same part finds the part that came before.
    let mut more = came.clone();
    more["guides"][0]["id"] = "strainer".into();
    more["guides"][0]["text"] = GUIDE.replace("   ![The basket](raw-water-filter/basket.png)\n", "").into();
    more["pictures"] = serde_json::json!([]);
    let book = book.beside("more.html", page(&more));
    let run = receive(&book, "more.html", "content").status(0);
    assert!(run.stderr.contains("(filter-basket, stores.yaml): is your filter-basket-from-tern-of-ansker"), "{}", run.stderr);
    assert_eq!(book.text("content/stores.yaml"), stores);
    std::fs::remove_file(book.path("content/guides/engine/strainer.md")).expect("the other guide");
    // Passed on by itself it is what it was.
    book.run(["share", "raw-water-filter-from-tern-of-ansker", "--to", "on.html"]).status(0);
    let on = data(&book, "on.html");
    for key in ["guides", "stores", "cautions"] {
        assert_eq!(on[key], came[key], "{key}");
    }
    // In the order of this book, which had a torch already.
    assert_eq!(on["tools"], serde_json::json!([came["tools"][1], came["tools"][0]]));
    assert_eq!(on["pictures"][0]["path"], came["pictures"][0]["path"]);
    // Beside ours of the same names it is only to be read.
    book.run(["share", "--all", "--to", "all.html"])
        .status(0)
        .stderr_has("to be read in it and not to be received from it, for a name in them means another thing elsewhere in it: raw-water-filter-from-tern-of-ansker");
    let ids: Vec<_> = data(&book, "all.html")["guides"].as_array().expect("guides").iter().map(|guide| guide["id"].clone()).collect();
    assert!(ids.contains(&"raw-water-filter".into()) && !ids.contains(&"raw-water-filter-from-tern-of-ansker".into()), "{ids:?}");
}
