//! `stores.yaml`, `tools.yaml`, `passages.yaml`, `cautions.yaml`.

use crate::book::decode::testing::{cautions_of, passages_of, stores_of, tools_of};
use crate::book::model::{Amount, Level, Signal};

const STORES: &str = "\
- {id: oil-filter, title: Oil filter, part-number: OF-1, stowed: port locker 3,
   counted: {on: 2026-01-05, qty: 2}, minimum: 1, sold-in: 1, price: 18.50 EUR,
   also-fits: [OF-2], expires: 2029-05, bought: [{on: 2026-02-11, qty: 4}], note: keep dry}
- {id: grease, title: Grease, level: low}
- {id: oil, title: Oil, sold-in: [1 L, 5 L], minimum: 2 L}
";

#[test]
fn stores() {
    let stores = stores_of(STORES).clean();
    assert_eq!(stores.len(), 3);
    assert_eq!(stores[0].bought.len(), 1);
    assert!(matches!(&stores[0].counted, Some(counted) if matches!(&counted.amount, Amount::Pieces(number) if number.written() == "2")));
    assert_eq!(stores[1].level, Some(Level::Low));
    assert_eq!(stores[2].sold_in.len(), 2);
    let item = |rest: &str| stores_of(&format!("- {{id: a, title: A, {rest}}}"));
    item("level: low, counted: {on: 2026-01-05, qty: 2}").expect_one("1:21 counted-and-level", "`level` stands beside `counted`", "keep");
    item("level: full").expect(&["1:28 unknown-word"]);
    item("counted: 2").expect_one("1:30 wrong-shape", "`counted` needs a map", "write `counted: {on: …, qty: 2}`");
    item("counted: {on: 2026-01-05}").expect_one("1:30 missing-key", "`qty` is missing", "add");
    item("counted: {on: 2026-01, qty: 2}").expect(&["1:35 bad-date"]);
    item("minimum: 2 h").expect(&["1:30 bad-figure"]);
    item("sold-in: 0").expect_one("1:30 bad-figure", "sold by nought", "take `sold-in` out");
    item("sold-in: [1,5 L]").expect_one("1:30 bad-figure", "mixes numbers of pieces and amounts", "write a point");
    item("price: 18.5 €").expect(&["1:28 bad-money"]);
    item("bought: {on: 2026-01-05, qty: 2}").expect(&["1:29 wrong-shape"]);
    item("expires: 2029").expect(&["1:30 bad-date"]);
}

#[test]
fn tools() {
    assert_eq!(tools_of("- {id: torch, title: Torch, stowed: shelf, note: charge it}\n").clean().len(), 1);
    tools_of("- {id: torch}\n- {id: torch, title: T}").expect(&["1:3 missing-key", "2:8 duplicate-id"]);
    tools_of("- torch\n").expect_one("1:3 wrong-shape", "`tools` needs a map", "{id: torch, title: torch}");
}

#[test]
fn passages() {
    let text =
        "- {id: northern-isles, title: Northern isles, depart: 2026-06-01, days: 21, miles: 900, meters: {engine: 60 h}, reserve: 25 %}\n";
    let passages = passages_of(text).clean();
    assert_eq!(passages[0].miles.as_ref().map(|miles| miles.written()), Some("900"));
    assert_eq!(passages[0].meters[0].0.value, "engine");
    assert_eq!(passages[0].days, Some(21));
    let miles = |written: &str| {
        let passages = passages_of(&format!("- {{id: a, title: A, depart: 2026-06-01, miles: {written}}}")).clean();
        passages[0].miles.as_ref().map(ToString::to_string).unwrap_or_default()
    };
    assert_eq!(miles("900 nmi"), "900");
    // 1852 m a nautical mile by definition.
    assert_eq!(miles("1852 km"), "1000");
    let passage = |rest: &str| passages_of(&format!("- {{id: a, title: A, depart: 2026-06-01, {rest}}}"));
    passage("days: 0").expect(&["1:47 bad-figure"]);
    passage("miles: 900 L").expect_one("1:48 bad-figure", "is a volume, not a distance", "a distance");
    passage("meters: {engine: 60}").expect_one("1:58 bad-figure", "`60` has no unit", "the unit that the meter counts in, such as `60 h`");
    passage("reserve: 25").expect(&["1:50 bad-figure"]);
    passage("reserve: 501 %").expect(&["1:50 bad-figure"]);
    passages_of("- {id: a, title: A}").expect_one("1:3 missing-key", "`depart` is missing", "`depart: 2026-03-14`");
}

#[test]
fn cautions() {
    let text = "\
- id: outboard-petrol
  title: Petrol for the tender
  signal: danger
  harm: It explodes.
  avoid: Keep the can on deck.
  defer: Follow the local rules.
  words: [petrol, outboard]
- {id: ladder, title: Ladder, signal: warning, harm: It breaks., avoid: [Look at it., Lash it.]}
";
    let hazards = cautions_of(text).clean();
    assert_eq!(hazards[0].hazard.avoid, ["Keep the can on deck."]);
    assert_eq!(hazards[1].hazard.avoid.len(), 2);
    assert_eq!(hazards[1].hazard.signal, Signal::Warning);
    cautions_of("- {id: a, title: A, signal: Warning, harm: h, avoid: v}").expect_one("1:29 unknown-word", "`Warning`", "`warning`");
    cautions_of("- {id: a, title: A, signal: warning}").expect(&["1:3 missing-key", "1:3 missing-key"]);
}

#[test]
fn the_root_is_a_list_perhaps_under_the_name_of_the_file() {
    assert_eq!(tools_of("tools:\n  - {id: torch, title: Torch}\n").clean().len(), 1);
    assert_eq!(tools_of("tools: []\n").clean().len(), 0);
    assert_eq!(tools_of("tools:\n").clean().len(), 0);
    tools_of("{id: torch, title: Torch}\n").expect_one("1:1 wrong-shape", "a list of maps", "begin each of them with a hyphen");
    tools_of("stores:\n  - {id: torch, title: Torch}\n").expect(&["1:1 wrong-shape"]);
    tools_of("torch\n").expect(&["1:1 wrong-shape"]);
    tools_of("-\n- {id: torch, title: Torch}\n").expect(&["1:2 missing-value"]);
}
