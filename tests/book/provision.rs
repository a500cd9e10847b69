//! `provision`: the demo book with its sums by hand, the forms it prints, and odd stores.

use crate::support::{Book, Run, entry, job, run_within};
use serde_json::{Value, json};
use std::path::Path;
use std::time::Duration;

/// Day of the demo book.
const DEMO_ON: &str = "2026-11-24";
const ON: &str = "2026-06-01";

fn demo(arguments: &[&str]) -> Run {
    let content = Path::new(env!("CARGO_MANIFEST_DIR")).join("content");
    let content = content.to_str().expect("a plain path");
    let all = ["provision", "--on", DEMO_ON, "--book", content].into_iter().chain(arguments.iter().copied());
    run_within(&std::env::temp_dir(), all, Duration::from_secs(120)).status(0)
}

/// Needed, aboard, minimum, short, buy and cost of an item; `-` where there is none.
#[track_caller]
fn row(rows: &Value, item: &str, expected: &str) {
    let found: Vec<&Value> = rows.as_array().expect("a list").iter().filter(|row| row["item"] == item).collect();
    let [row] = found.as_slice() else { panic!("{} rows of {item}", found.len()) };
    let text = |key: &str| row[key].as_str().unwrap_or("-").to_owned();
    let figures = ["needed", "aboard", "minimum", "short", "buy"].map(text).join(" | ");
    let cost: Vec<&str> = row["cost"].as_array().expect("a list").iter().map(|cost| cost.as_str().expect("a text")).collect();
    let cost = if cost.is_empty() { String::new() } else { format!(" | {}", cost.join(", ")) };
    assert_eq!(format!("{figures}{cost}"), expected, "{item}");
}

#[track_caller]
fn packs(rows: &Value, item: &str, expected: Value) {
    let found = rows.as_array().expect("a list").iter().find(|row| row["item"] == item);
    assert_eq!(found.expect("the item")["packs"], expected, "{item}");
}

/// `808.30 EUR` in cents.
#[track_caller]
fn cents(cost: &str) -> i64 {
    let (euros, cents) = cost.strip_suffix(" EUR").and_then(|amount| amount.split_once('.')).expect("euros and cents");
    assert_eq!(cents.len(), 2, "{cost}");
    format!("{euros}{cents}").parse().expect("digits")
}

#[test]
fn the_demo_boat_for_ninety_days() {
    let run = demo(&["--format", "json"]);
    let rows = run.json();
    // Until 2027-02-22: 6 days of November, 31, 31 and 22. The four winches fall due once each
    // (15 November twice, 7 and 8 February). Springs: 2 × 4 + 8 − 7 = 9, a pack of ten at 1.80.
    row(&rows, "winch-pawl-springs", "8 | 7 | 8 | 9 | 10 | 18.00 EUR");
    // Pawls if worn, 2 for each winch: 8 + 4 − 6 = 6, three pairs at 9.50 each.
    row(&rows, "winch-pawls", "8 | 6 | 4 | 6 | 6 | 57.00 EUR");
    packs(&rows, "winch-pawls", json!([{"size": "2", "count": 3}]));
    // Counted 12 m on 24 October, 2 m bought, 5.5 m used by the open job: 8.5 m.
    // 11 + 6 − 8.5 = 8.5 m, by the metre 9; 9 × 5.90 = 53.10.
    row(&rows, "steering-wire", "11 m | 8.5 m | 6 m | 8.5 m | 9 m | 53.10 EUR");
    // Due since 19 October, once; 1 + 2 − 1 = 2 at 15.60.
    row(&rows, "fuel-filter-fine", "1 | 1 | 2 | 2 | 2 | 31.20 EUR");
    // Never counted: 1 if worn + 1 − 0 = 2 at 31.00.
    row(&rows, "gas-hose", "1 | 0 | 1 | 2 | 2 | 62.00 EUR");
    // Pumps 2, heads 2, two seacocks 4, stern gland 2, all if worn: 10 + 6 − 5 = 11, two tens at 2.60 each.
    row(&rows, "hose-clamp-32", "10 | 5 | 6 | 11 | 20 | 52.00 EUR");
    // Nothing needs it; 0 + 2 − 0 = 2, a pair at 34.00 each.
    row(&rows, "hull-anode", "0 | 0 | 2 | 2 | 2 | 68.00 EUR");
    // Enough: one in January, 0.6 + 2 − 4 < 0.
    row(&rows, "distilled-water", "0.6 L | 4 L | 2 L | 0 L | 0 L");
    // By level: low counts as none, plenty as enough.
    row(&rows, "winch-grease", "1 | - | - | 1 | 1 | 13.50 EUR");
    row(&rows, "lanolin-grease", "1 | - | - | 0 | 0");
    // Due on 30 November and again on 28 February, which is later: once, 30 mL of 0.3 L.
    row(&rows, "leak-test-fluid", "0.03 L | 0.3 L | 0.1 L | 0 L | 0 L");
    // The oil is due in July, and enough is aboard.
    assert!(rows.as_array().is_some_and(|rows| rows.iter().all(|row| row["item"] != "engine-oil")));
    // What the text says in all is the sum of the costs in the JSON, in cents.
    let costs = rows.as_array().expect("a list").iter().flat_map(|row| row["cost"].as_array().expect("a list"));
    let sum: i64 = costs.map(|cost| cents(cost.as_str().expect("a text"))).sum();
    let text = demo(&[]);
    let total = text.stdout.lines().find_map(|line| line.strip_prefix("total: ")).expect("a total");
    assert_eq!(cents(total), sum);
    text.stdout_has(
        "Steering wire, 3/16 in, 7×19 stainless: `2026-11-08-steering-wire-renewal`, which is not finished, has used 5.5 m already",
    );
}

#[test]
fn the_demo_boat_round_the_outer_skarrs() {
    let rows = demo(&["--passage", "outer-skarrs", "--format", "json"]).json();
    // 45 h and a quarter of reserve are 56.25 h. The oil has 126.7 h left on 24 November and is due by the
    // use rate 245 days later, so some 126.7 × (245 − 175) / 245 = 36 h at departure 175 days on: once
    // under way. 6.5 + 2 − 4 = 4.5 L: one can of five (five of one hold as much, in more packs). 5 × 7.20.
    row(&rows, "engine-oil", "6.5 L | 4 L | 2 L | 4.5 L | 5 L | 36.00 EUR");
    packs(&rows, "engine-oil", json!([{"size": "5 L", "count": 1}]));
    // Due on 4 April: 6 − 0.5 = 5.5 L by 0.75 and 2.5: 2.5 + 4 × 0.75, nothing over; 5.5 × 46.00 = 253.00.
    row(&rows, "antifouling-paint", "6 L | 0.5 L | - | 5.5 L | 5.5 L | 253.00 EUR");
    packs(&rows, "antifouling-paint", json!([{"size": "2.5 L", "count": 1}, {"size": "0.75 L", "count": 4}]));
    // Due in February and taken as done at departure; 56.25 of 100 h and 16 days of 6 months do not bring
    // it round again. 1 + 2 − 2 = 1, a pair at 9.80 each.
    row(&rows, "cooling-anode", "1 | 2 | 2 | 1 | 2 | 19.60 EUR");
    // Coolant 3.5 L and batteries 0.6 L: 4.1 + 2 − 4 = 2.1, three of one litre (five would leave more).
    row(&rows, "distilled-water", "4.1 L | 4 L | 2 L | 2.1 L | 3 L | 3.30 EUR");
    // 3.5 + 1 − 1.5 = 3 L: two of 1.5 at 6.40 a litre.
    row(&rows, "coolant-concentrate", "3.5 L | 1.5 L | 1 L | 3 L | 3 L | 19.20 EUR");
    // 2 + 2 − 0 = 4: two pairs at 34.00 each.
    row(&rows, "hull-anode", "2 | 0 | 2 | 4 | 4 | 136.00 EUR");
    // Good until the end of March 2027, and the boat is back on 3 June.
    demo(&["--passage", "outer-skarrs"]).stdout_has("\nPolysulphide sealant: expires 2027-03\n").stdout_has("2027-05-18 to 2027-06-03");
}

#[test]
fn the_demo_boat_at_haul_out() {
    let rows = demo(&["--occasion", "haul-out", "--format", "json"]).json();
    // Seven seacocks, if worn: 2 × 7 + 8 − 11 = 11, two tens at 2.20 each.
    row(&rows, "hose-clamp-20", "14 | 11 | 8 | 11 | 20 | 44.00 EUR");
    // And two for the stern gland: 16 + 6 − 5 = 17.
    row(&rows, "hose-clamp-32", "16 | 5 | 6 | 17 | 20 | 52.00 EUR");
    row(&rows, "soft-wood-plugs", "7 | 10 | 10 | 7 | 10 | 14.00 EUR");
    row(&rows, "shaft-anode", "1 | 1 | 1 | 1 | 1 | 22.00 EUR");
    // Low, and no job of this occasion needs it: nobody can say how much.
    row(&rows, "winch-grease", "0 | - | - | - | -");
    let users = |item: &str| rows.as_array().and_then(|rows| rows.iter().find(|row| row["item"] == item)).map(|row| row["for"].clone());
    assert_eq!(users("hose-clamp-32"), Some(json!(["seacocks", "shaft-seal"])));
    assert_eq!(users("winch-grease"), Some(json!([])));
    // 15.60 + 22 + 136 + 253 + 44 + 52 + 14 + 24.50 + 18 + 6.90 + 31 = 617.00; two are low, without an amount.
    demo(&["--occasion", "haul-out"]).stdout_has("\ntotal: 617.00 EUR, 2 without a price\n");
}

const BOAT: &str = "name: Test boat\nsystems: [{id: engine, title: Engine}]\noccasions: [{id: regatta, title: Regatta}]\n";

/// A book with stores and one job of the occasion haul-out that needs parts.
fn with(stores: &str, parts: &str) -> Book {
    let guide = job("The job", &format!("occasions: [haul-out]\nparts: [{parts}]\n"));
    Book::new().file("boat.yaml", BOAT).file("stores.yaml", stores).file("guides/engine/job.md", guide)
}

#[track_caller]
fn listed(book: &Book) -> Value {
    book.run(["provision", "--occasion", "haul-out", "--format", "json", "--on", ON]).without_panic().json()
}

#[test]
fn a_row_has_these_keys_in_this_order_and_null_for_what_is_absent() {
    let book = with(
        "- {id: oil, title: Oil, counted: {on: 2026-01-01, qty: 4 L}, sold-in: [1 L, 5 L], price: 7.20 EUR}\n",
        "{item: oil, qty: 10 L}",
    );
    let rows = listed(&book);
    // 10 − 4 = 6 L.
    let expected = json!([{
        "item": "oil", "title": "Oil", "needed": "10 L", "aboard": "4 L", "minimum": null, "short": "6 L", "buy": "6 L",
        "for": ["job"], "cost": ["43.20 EUR"], "packs": [{"size": "5 L", "count": 1}, {"size": "1 L", "count": 1}],
    }]);
    assert_eq!(rows, expected);
    let keys: Vec<&String> = rows[0].as_object().expect("a map").keys().collect();
    assert_eq!(keys, ["item", "title", "needed", "aboard", "minimum", "short", "buy", "for", "cost", "packs"]);
}

#[test]
fn a_total_of_nothing_that_has_a_price_says_so() {
    #[track_caller]
    fn case(parts: &str, expected: &str) {
        let stores = "- {id: oil, title: Oil, counted: {on: 2026-01-01, qty: 0 L}, price: 7.20 EUR}\n\
                      - {id: rag, title: Rag, counted: {on: 2026-01-01, qty: 0}}\n- {id: tape, title: Tape, counted: {on: 2026-01-01, qty: 0}}\n";
        with(stores, parts).run(["provision", "--occasion", "haul-out", "--on", ON]).status(0).stdout_has(expected);
    }
    case("{item: rag, qty: 1}", "\ntotal: no prices known (1 item)\n");
    case("{item: rag, qty: 1}, {item: tape, qty: 1}", "\ntotal: no prices known (2 items)\n");
    case("{item: rag, qty: 1}, {item: oil, qty: 2 L}", "\ntotal: 14.40 EUR, 1 without a price\n");
    case("{item: oil, qty: 2 L}", "\ntotal: 14.40 EUR\n");
}

#[test]
fn without_stores_every_part_is_listed() {
    let rows =
        listed(&with("[]\n", "{item: oil-filter, qty: 2}, {item: a sheet of paper}, {item: engine-oil, qty: 3 L}").without("stores.yaml"));
    row(&rows, "a sheet of paper", "1 | 0 | - | 1 | 1");
    row(&rows, "engine-oil", "3 L | 0 L | - | 3 L | 3 L");
    row(&rows, "oil-filter", "2 | 0 | - | 2 | 2");
}

#[test]
fn an_empty_book_needs_nothing() {
    let book = Book::new().file("boat.yaml", BOAT);
    book.run(["provision", "--format", "json", "--on", ON]).status(0).stdout("[]\n");
    book.run(["provision", "--on", ON]).status(0).stdout("nothing to buy for what falls due until 2026-08-30, as of 2026-06-01\n");
    let enough = with("- {id: oil, title: Oil, level: plenty}\n", "{item: oil}");
    let run = enough.run(["provision", "--occasion", "haul-out", "--on", ON]).status(0);
    run.stdout("nothing to buy for `haul-out`, as of 2026-06-01; `--all` lists 1 line of what is needed and aboard\n");
    enough
        .run(["provision", "--occasion", "haul-out", "--all", "--on", ON])
        .status(0)
        .stdout_has("enough  Oil   1       -         plenty  -     job\n");
}

#[test]
fn odd_stores_are_listed_and_never_dropped() {
    // More used than there was: none aboard, and the count to redo is named.
    let negative = with("- {id: oil, title: Oil, counted: {on: 2026-01-01, qty: 1 L}}\n", "{item: oil, qty: 2 L}")
        .file("log/2026/2026-02-01-a.md", entry("work: [Topped up]\ndate: 2026-02-01\nparts: [{item: oil, qty: 3 L}]\n"));
    row(&listed(&negative), "oil", "2 L | 0 L | - | 2 L | 2 L");
    let run = negative.run(["provision", "--occasion", "haul-out", "--on", ON]).status(0);
    run.stdout_has("Oil: the log used 2 L more than there was since the count of 2026-01-01");
    let told = negative.survey();
    let place = told.iter().find(|problem| problem.rule == "negative-stock").expect("it is told");
    assert_eq!((place.file.as_str(), place.line, place.column), ("stores.yaml", 1, 34));
    assert!(place.message.contains("since the count of 2026-01-01"), "{place:?}");
    // Sold in a unit of another kind; the price needs no packs: 2 − 1 = 1 L at 9.00.
    let otherwise =
        with("- {id: oil, title: Oil, counted: {on: 2026-01-01, qty: 1 L}, sold-in: [2 kg], price: 9 EUR}\n", "{item: oil, qty: 2 L}");
    row(&listed(&otherwise), "oil", "2 L | 1 L | - | 1 L | 1 L | 9 EUR");
    // Sold in another unit of the same kind: 3 L are 3.17 US qt (0.946352946 L each, NIST SP 811): four.
    let quarts = with("- {id: oil, title: Oil, counted: {on: 2026-01-01, qty: 0 L}, sold-in: 1 US qt}\n", "{item: oil, qty: 3 L}");
    row(&listed(&quarts), "oil", "3 L | 0 L | - | 3 L | 3.79 L");
    packs(&listed(&quarts), "oil", json!([{"size": "1 US qt", "count": 4}]));
    // A price without sold-in: singly. Half a piece is a whole one.
    let singly = with("- {id: sheet, title: Sheet, counted: {on: 2026-01-01, qty: 0}, price: 3.10 EUR}\n", "{item: sheet, qty: 1.5}");
    row(&listed(&singly), "sheet", "1.5 | 0 | - | 1.5 | 2 | 6.20 EUR");
    // Millions of litres: 3,000,001 by 5 and 1.
    let millions =
        with("- {id: oil, title: Oil, counted: {on: 2026-01-01, qty: 0 L}, sold-in: [1 L, 5 L]}\n", "{item: oil, qty: 3000001 L}");
    row(&listed(&millions), "oil", "3000001 L | 0 L | - | 3000001 L | 3000001 L");
    packs(&listed(&millions), "oil", json!([{"size": "5 L", "count": 600_000}, {"size": "1 L", "count": 1}]));
}

#[test]
fn packs_are_named_as_they_are_written() {
    // 0.7 L by tins of 0.375: two, 0.75. 2 L by 1 1/3: two, 2 2/3 = 2.666…
    let book = |size: &str, qty: &str| {
        let stores = format!("- {{id: oil, title: Oil, counted: {{on: 2026-01-01, qty: 0 L}}, sold-in: [{size}]}}\n");
        with(&stores, &format!("{{item: oil, qty: {qty}}}"))
    };
    let tins = book("0.375 L", "0.7 L");
    row(&listed(&tins), "oil", "0.7 L | 0 L | - | 0.7 L | 0.75 L");
    packs(&listed(&tins), "oil", json!([{"size": "0.375 L", "count": 2}]));
    let arguments = ["provision", "--occasion", "haul-out", "--on", ON];
    tins.run(arguments).stdout_has("0.75 L: 2 × 0.375 L");
    tins.run(arguments.iter().chain(&["--format", "csv"])).stdout_has(",0.75 L,2 x 0.375 L,");
    let thirds = book("1 1/3 L", "2 L");
    row(&listed(&thirds), "oil", "2 L | 0 L | - | 2 L | 2.67 L");
    packs(&listed(&thirds), "oil", json!([{"size": "1 1/3 L", "count": 2}]));
    // One of them is said too: 1.34 L is not what it holds.
    book("1 1/3 L", "1 L").run(arguments).stdout_has("1.34 L: 1 × 1 1/3 L");
    // One can of all that is short says nothing more.
    assert!(!book("5 L", "5 L").run(arguments).stdout.contains('×'));
    let published = tins.published();
    let page = published.site().page("provisions/occasion-haul-out.html").to_owned();
    assert!(page.contains("2 × 0.375 L"), "{page}");
}

#[test]
fn a_little_is_not_said_to_be_nothing() {
    // 0.002 − 0.006 = −0.004 kg; an unfinished job has used 4 g.
    let book = with("- {id: glue, title: Glue, counted: {on: 2026-01-01, qty: 0.002 kg}}\n", "{item: glue, qty: 0.004 kg}")
        .file("log/2026/2026-02-01-a.md", entry("work: [Glued]\ndate: 2026-02-01\nparts: [{item: glue, qty: 2 g}]\n"))
        .file("log/2026/2026-05-20-b.md", entry("jobs: [job]\nstarted: 2026-05-20\nparts: [{item: glue, qty: 4 g}]\n"));
    let run = book.run(["provision", "--occasion", "haul-out", "--on", ON]).status(0);
    run.stdout_has("the log used 0.004 kg more than there was").stdout_has("has used 0.004 kg already");
    let told = book.survey();
    assert!(told.iter().any(|problem| problem.message.ends_with("than there was: -0.004 kg aboard")), "{told:?}");
    let site = book.published().site();
    let page = site.page("provisions/occasion-haul-out.html");
    for words in ["0.004 kg more", "0.004 kg"] {
        assert!(page.contains(words), "`{words}`: {page}");
    }
    // One doing of the job lacks all of its 4 g.
    let page = site.page("guides/job.html");
    assert!(page.contains("short by 0.004 kg"), "{page}");
}

#[test]
fn what_cannot_be_compared_has_a_line_of_its_own() {
    let book = with("- {id: oil, title: Oil, counted: {on: 2026-01-01, qty: 5 L}}\n", "{item: oil}")
        .file("guides/engine/other.md", job("The other", "occasions: [haul-out]\nparts: [{item: oil, qty: 2 kg}]\n"));
    let rows = listed(&book);
    let figures: Vec<(&Value, &Value, &Value)> =
        rows.as_array().expect("a list").iter().map(|row| (&row["needed"], &row["aboard"], &row["buy"])).collect();
    assert_eq!(figures, [(&Value::Null, &json!("5 L"), &Value::Null), (&json!("2 kg"), &json!("5 L"), &Value::Null)]);
    let run = book.run(["provision", "--occasion", "haul-out", "--on", ON]).status(0);
    run.stdout_has("Oil: how much is needed is not said").stdout_has("it is counted in L, and what is needed cannot be compared with that");
}

#[test]
fn csv_is_rfc_4180_and_no_field_is_a_formula() {
    let stores = "- {id: oil, title: \"=HYPERLINK(1)\", part-number: \"-7\", stowed: \"port, below \\\"the\\\" bunk\", counted: {on: 2026-01-01, qty: 1}}\n";
    let book = with(stores, "{item: oil, qty: 3}, {item: \"@home, twice\", qty: 1}, {item: \"+1 rag\"}");
    let run = book.run(["provision", "--occasion", "haul-out", "--format", "csv", "--on", ON]).status(0);
    let expected = "item,title,part-number,stowed,needed,aboard,minimum,short,buy,packs,for,cost,notes\r\n\
        oil,'=HYPERLINK(1),'-7,\"port, below \"\"the\"\" bunk\",3,1,,2,2,,job,,\r\n\
        '+1 rag,'+1 rag,,,1,0,,1,1,,job,,\"not in the stores, so it counts as none aboard\"\r\n\
        \"'@home, twice\",\"'@home, twice\",,,1,0,,1,1,,job,,\"not in the stores, so it counts as none aboard\"\r\n";
    run.stdout(expected);
}

#[test]
fn names_that_are_not_there_are_a_wrong_command_line() {
    let book = with("[]\n", "").file("passages.yaml", "- {id: northern-isles, title: North, depart: 2026-07-01, days: 5}\n");
    let told = |arguments: &[&str], words: &str| {
        let run = book.run(["provision", "--on", ON].iter().chain(arguments)).status(2).stderr_has(words);
        assert_eq!(run.stdout, "");
    };
    told(&["--passage", "nothern-isles"], "did you mean `northern-isles`?");
    told(&["--occasion", "haul-uot"], "did you mean `haul-out`?");
    told(&["--occasion", "regata"], "did you mean `regatta`?");
    told(&["--until", "2026-05-31"], "2026-05-31 is over");
    told(&["--until", "31.5.2026"], "31.5.2026");
    told(&["--until", "2026-07-01", "--occasion", "haul-out"], "cannot be used with");
    // One that is there calls for nothing, and that is fine.
    book.run(["provision", "--on", ON, "--occasion", "regatta"]).status(0).stdout_has("nothing to buy for `regatta`");
    book.run(["provision", "--on", ON, "--passage", "northern-isles"]).status(0).stdout_has("2026-07-01 to 2026-07-06");
    book.run(["provision", "--on", ON, "--until", ON]).status(0);
}

#[test]
fn errors_in_the_book_are_told_and_the_rest_is_listed() {
    let book = with("- {id: oil, title: Oil, counted: {on: 2026-01-01, qty: 0}}\n", "{item: oil}")
        .file("guides/engine/broken.md", "no front matter\n");
    let run = book.run(["provision", "--occasion", "haul-out", "--on", ON]).status(1);
    run.stdout_has("the book has errors, and this list may lack items\n").stdout_has("Oil").stderr_has("1 error");
    assert_eq!(book.run(["provision", "--occasion", "haul-out", "--format", "json", "--on", ON]).status(1).json()[0]["buy"], "1");
}

#[test]
fn pages_stand_with_their_tables_for_what_the_book_names() {
    let book =
        with("- {id: oil, title: \"=Oil\", counted: {on: 2026-01-01, qty: 0}, price: 2 EUR}\n", "{item: oil, qty: 3}, {item: a rag}")
            .file("passages.yaml", "- {id: northern-isles, title: North, depart: 2026-07-01, days: 5}\n")
            .published();
    let site = book.site();
    let files: Vec<&str> = site.files.keys().map(String::as_str).filter(|path| path.starts_with("provisions")).collect();
    assert_eq!(
        files,
        [
            "provisions.csv",
            "provisions.html",
            "provisions/occasion-haul-out.csv",
            "provisions/occasion-haul-out.html",
            "provisions/passage-northern-isles.csv",
            "provisions/passage-northern-isles.html",
        ]
    );
    let page = site.page("provisions/occasion-haul-out.html");
    for words in
        ["To buy", "6 EUR", "a rag", "The stores do not list it", "../guides/job.html", "occasion-haul-out.csv", "../provisions.html"]
    {
        assert!(page.contains(words), "`{words}`");
    }
    let csv = &site.files["provisions/occasion-haul-out.csv"];
    assert!(String::from_utf8_lossy(csv).contains("\r\noil,'=Oil,"), "{csv:?}");
}

#[test]
fn the_stores_page_leads_from_each_movement_to_its_entry() {
    let book = with(
        "- {id: oil, title: Oil, counted: {on: 2026-01-01, qty: 4 L}, bought: [{on: 2026-03-01, qty: 500 mL}]}\n",
        "{item: oil, qty: 1 L}",
    )
    .file("log/2026/2026-02-01-a.md", entry("work: [Topped up]\ndate: 2026-02-01\nparts: [{item: oil, qty: 5 mL}]\n"))
    .published();
    let site = book.site();
    let page = site.page("stores.html");
    // 4 − 0.005 + 0.5 = 4.495 L.
    for words in ["4.495 L aboard", "0.005 L used", "0.5 L bought", "log/2026.html#2026-02-01-a"] {
        assert!(page.contains(words), "`{words}`: {page}");
    }
}
