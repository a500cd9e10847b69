//! What is the same for every record: keys, shapes, texts, values without anything in them.

use crate::book::decode::testing::{boat_of, entry_of, guide_of, stores_of, whole_boat, whole_guide};

#[test]
fn an_unknown_key_names_the_nearest_one() {
    guide_of("sumary: x").expect_one("3:1 unknown-key", "`sumary` is not a key of a guide", "did you mean `summary`?");
    guide_of("Tools: [x]").expect_one("3:1 unknown-key", "`Tools`", "did you mean `tools`?");
    guide_of("colour: red").expect_one("3:1 unknown-key", "`colour`", "take it out");
    guide_of("torque:\n  - {at: plug, value: 35 N·m, surfce: dry}").expect_one("4:31 unknown-key", "key of a torque", "`surface`");
    boat_of("gear:\n  - id: a\n    title: A\n    expire: 2029-05").expect_one("5:5 unknown-key", "key of a piece of gear", "`expires`");
}

#[test]
fn a_comma_or_colon_that_yaml_misread_is_named() {
    guide_of("parts: [{item: oil, qty: 7,5 L}]").expect_one("3:28 unknown-key", "`5 L`", "a comma ends a value: write a point, `7.5 L`");
    guide_of("parts: [{item: oil, qty: 1,200 L}]").expect_one("3:28 unknown-key", "`200 L`", "or for thousands no sign at all, `1200 L`");
    guide_of("every: {engine:200 h}").expect_one("3:9 unknown-key", "`engine:200 h`", "put a space after the colon: `engine: 200 h`");
    guide_of("every: {engine: 1,5 h}").expect_one("3:19 unknown-key", "`5 h`", "`1.5 h`");
    stores_of("- {id: a, title: Seacock, engine intake}").expect_one(
        "1:27 unknown-key",
        "`engine intake`",
        "put the text in quotes: `\"Seacock, engine intake\"`",
    );
    guide_of("every: engine:200 h").expect_one("3:8 wrong-shape", "`every` needs a map", "put a space after the colon: `engine: 200 h`");
}

#[test]
fn a_value_of_another_shape_says_what_is_needed_and_what_is_there() {
    guide_of("tools: torch").expect_one(
        "3:8 wrong-shape",
        "`tools` needs a list of ids or plain words, and a single value stands here",
        "write `tools: [torch]`",
    );
    guide_of("summary: [a]").expect_one(
        "3:10 wrong-shape",
        "`summary` needs a text, and a list stands here",
        "write `summary: some words`",
    );
    guide_of("wear:\n  - Gloves: thick ones").expect_one(
        "4:5 wrong-shape",
        "a map of keys and values",
        "a text with `: ` in it goes in quotes",
    );
    guide_of("tools: [{a: b}]").expect_one(
        "3:9 wrong-shape",
        "an item of `tools` needs an id or plain words, and a map of keys and values stands here",
        "write an id or plain words in its place, such as `some words`",
    );
    guide_of("every: 12 months").expect_one("3:8 wrong-shape", "a map of intervals", "write `every: {calendar: 12 months}`");
    guide_of("parts: [oil-filter]").expect_one(
        "3:9 wrong-shape",
        "an item of `parts` needs a map",
        "write `{item: oil-filter}` in its place",
    );
    guide_of("parts: oil-filter").expect_one("3:8 wrong-shape", "a list of maps", "write `parts: [{item: oil-filter}]`");
    entry_of("findings: [weep]").expect_one(
        "3:12 wrong-shape",
        "an item of `findings` needs a map",
        "write `{what: weep, grade: …}` in its place, with one of `good`, `watch`, `act` as `grade`",
    );
    stores_of("- Oil, thin").expect_one(
        "1:3 wrong-shape",
        "an item of `stores`",
        "write `{id: oil-thin, title: \"Oil, thin\"}` in its place",
    );
    stores_of("oil").expect_one("1:1 wrong-shape", "`stores` needs a list of maps", "write `stores: [{id: oil, title: oil}]`");
    boat_of("systems: [engine]").expect_one("2:11 wrong-shape", "an item of `systems`", "write `{id: engine, title: engine}` in its place");
    boat_of("meters: [engine]").expect_one(
        "2:10 wrong-shape",
        "an item of `meters`",
        "write `{id: engine, title: engine, unit: …}` in its place",
    );
    guide_of("torque: {at: plug, value: 35 N·m}").expect_one("3:9 wrong-shape", "a list of maps", "begin each of them with a hyphen");
    guide_of("values: [7.5 L]").expect_one("3:9 wrong-shape", "a map of names and figures", "write `values: {refill: 7.5 L");
    guide_of("crew: {a: b}").expect_one("3:7 wrong-shape", "`crew` needs a whole number", "write `crew: 2`");
    boat_of("gear:\n  - {id: a, title: A, fitted: 2021-04-02}").expect_one(
        "3:31 wrong-shape",
        "`fitted` needs a map",
        "write `fitted: {on: 2021-04-02}`",
    );
    whole_boat("- a\n- b\n").expect_one("1:1 wrong-shape", "`boat.yaml` needs keys with values, and a list", "`name: …`");
    whole_guide("---\njust words\n---\n1. Do it.\n").expect_one("2:1 wrong-shape", "the front matter needs keys with values", "`title: …`");
}

#[test]
fn nothing_where_something_is_needed_is_an_error() {
    guide_of("summary:").expect_one("3:1 missing-value", "`summary` needs a text, and nothing stands here", "or take the key out");
    guide_of("every: {engine: }").expect_one("3:9 missing-value", "`engine` has no value", "write a value after its colon");
    guide_of("every: {engine: ~}").expect(&["3:9 missing-value"]);
    guide_of("tools: [torch, ~]").expect(&["3:16 missing-value"]);
    guide_of("tools: [torch, '']").expect(&["3:16 missing-value"]);
    guide_of("summary: ''").expect(&["3:10 missing-value"]);
    guide_of("torque: [{at: ~, value: 35 N·m}]").expect(&["3:11 missing-value"]);
    whole_boat("name:\nflag: Ansker\n").expect(&["1:1 missing-value"]);
    whole_boat("name: '  '\n").expect(&["1:7 missing-value"]);
    // `~` on a key that may be left out says that there is none.
    assert_eq!(guide_of("summary: ~").clean().summary, None);
    assert!(guide_of("tools: []\nevery: {}").clean().tools.is_empty());
}

#[test]
fn a_key_that_must_be_there_is_missed_once() {
    whole_boat("flag: Ansker\n").expect_one("1:1 missing-key", "`name` is missing", "add `name: some words`");
    whole_guide("---\nsummary: x\n---\n1. Do it.\n").expect_one("2:1 missing-key", "`title` is missing", "add `title: ");
    // Named under a mistyped key: one problem, not two.
    whole_guide("---\ntitel: x\n---\n1. Do it.\n").expect_one("2:1 unknown-key", "`titel`", "`title`");
    guide_of("torque: [{at: plug}]").expect_one("3:10 missing-key", "`value` is missing", "`value: 30..35 N·m`");
    boat_of("meters: [{id: engine, title: Engine hours}]").expect_one("2:10 missing-key", "`unit` is missing", "`unit: h`");
}

#[test]
fn texts_are_trimmed_and_kept_on_one_line() {
    assert_eq!(guide_of("summary: '  one   line '").clean().summary.as_deref(), Some("one line"));
    assert_eq!(guide_of("summary: >\n  folded\n  lines\n").clean().summary.as_deref(), Some("folded lines"));
    assert_eq!(guide_of("summary: |\n  two\n  lines\n").clean().summary.as_deref(), Some("two lines"));
    assert_eq!(guide_of("summary: 12").clean().summary.as_deref(), Some("12"));
    assert_eq!(guide_of("summary: true").clean().summary.as_deref(), Some("true"));
}

#[test]
fn a_control_character_is_an_error() {
    guide_of("summary: \"a\\0b\"").expect_one("3:10 control-character", "U+0000", "delete it");
    guide_of("tools: [\"a\\eb\"]").expect_one("3:9 control-character", "U+001B", "delete it");
    guide_of("values: {\"a\\bb\": 1 L}").expect(&["3:10 control-character"]);
}

#[test]
fn only_true_and_false_are_booleans() {
    assert!(guide_of("routine: true").clean().routine);
    assert!(!guide_of("routine: false").clean().routine);
    guide_of("routine: yes").expect_one("3:10 not-true-or-false", "`yes` is a word here", "write `true`");
    guide_of("routine: no").expect_one("3:10 not-true-or-false", "`no` is a word here", "write `false`");
    guide_of("routine: True").expect_one("3:10 not-true-or-false", "`True`", "write `true`");
    guide_of("routine: maybe").expect_one("3:10 not-true-or-false", "`maybe`", "`true` or `false`");
    // What cannot be read hides rather than shows.
    let read = entry_of("private: yes");
    read.expect(&["3:10 not-true-or-false"]);
    assert!(read.value.expect("decoded").private);
}

#[test]
fn a_word_of_a_short_list_is_checked() {
    boat_of("units: metrc").expect_one("2:8 unknown-word", "`units` does not take `metrc`", "did you mean `metric`?");
    guide_of("where: [at-anchor, in harbour]").expect_one(
        "3:20 unknown-word",
        "`in harbour`",
        "there is `under-way`, `at-anchor`, `moored`, `ashore`",
    );
}

#[test]
fn all_problems_of_a_file_are_told_at_once() {
    let read =
        guide_of("sumary: x\ncrew: none\nrevised: 2026-02-30\nparts:\n  - {item: oil, qty: 7 gal}\ntorque:\n  - {at: plug, value: 35 L}");
    read.expect(&["3:1 unknown-key", "4:7 bad-figure", "5:10 bad-date", "7:22 bad-figure", "9:23 bad-figure"]);
}
