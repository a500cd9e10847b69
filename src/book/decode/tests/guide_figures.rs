//! Torques, values, readings and parts of a guide.

use crate::book::decode::testing::guide_of;
use crate::book::model::{Amount, ValueFigure};

#[test]
fn torques() {
    guide_of("torque: [{at: plug, value: 35}]").expect_one("3:28 bad-figure", "`35` has no unit", "a torque");
    guide_of("torque: [{at: plug, value: 35 nm}]").expect_one("3:28 bad-figure", "more than one unit", "`35 N·m` or `35 nmi`");
    guide_of("torque: [{at: plug, value: 35 bar}]").expect_one("3:28 bad-figure", "is a pressure, not a torque", "a torque");
    guide_of("torque: [{at: plug, value: 30-35 N·m}]").expect_one("3:28 bad-figure", "looks like a range", "`30..35 N·m`");
    guide_of("torque: [{at: plug, value: 35 N·m, steps: [20 L]}]").expect(&["3:44 bad-figure"]);
    let angle = |written: &str| {
        let guide = guide_of(&format!("torque: [{{at: plug, value: 35 N·m, then: {written}}}]")).clean();
        guide.torques[0].then.as_ref().map(ToString::to_string).unwrap_or_default()
    };
    assert_eq!([angle("90°"), angle("90..100°"), angle("90 ± 5°")], ["90°", "90..100°", "90 ± 5°"]);
    guide_of("torque: [{at: plug, value: 35 N·m, then: 90}]").expect_one("3:42 bad-figure", "`90` has no unit", "an angle");
    guide_of("torque: [{at: plug, value: 35 N·m, surface: wet}]").expect_one("3:45 unknown-word", "`wet`", "`dry`, `oiled`");
    guide_of("torque: [{at: '…', value: 35 N·m}]").expect(&["3:15 bad-id"]);
    for value in ["35 N·m", "30..35 N·m", "35 ± 3 N·m", "26 lbf·ft"] {
        let guide = guide_of(&format!("torque: [{{at: plug, value: {value}}}]")).clean();
        assert_eq!(guide.torques[0].value.to_string(), value);
    }
}

#[track_caller]
fn value(written: &str, expected: &str) {
    let guide = guide_of(&format!("values:\n  x: {written}")).clean();
    let found = match &guide.values[0].figure {
        ValueFigure::Figure(figure) => format!("figure {figure}"),
        ValueFigure::Duration(duration) => format!("duration {} s", duration.seconds()),
        ValueFigure::Calendar(span) => format!("calendar {} months {} days", span.months(), span.days()),
        ValueFigure::Words(words) => format!("words {words}"),
    };
    assert_eq!(found, expected);
}

#[test]
fn values_are_figures_times_or_words() {
    value("7.5 L", "figure 7.5 L");
    value("10 min", "figure 10 min");
    value("30..35 N·m", "figure 30..35 N·m");
    value("..5 bar", "figure ..5 bar");
    value("8 L/min", "figure 8 L/min");
    value("-10 °C", "figure -10 °C");
    value("2 h 40 min", "duration 9600 s");
    value("1 year 6 months", "calendar 18 months 0 days");
    value("1:50", "words 1:50");
    value("SAE 15W-40", "words SAE 15W-40");
    value("hand tight", "words hand tight");
}

#[test]
fn a_value_that_begins_like_a_figure_must_be_one() {
    guide_of("values: {refill: 7.5}").expect_one("3:18 bad-figure", "`7.5` has no unit", "`7.5 L`");
    guide_of("values: {refill: 7 gal}").expect_one("3:18 bad-figure", "more than one unit", "`7 US gal` or `7 imp gal`");
    guide_of("values: {speed: 800 rpm}").expect_one("3:17 bad-figure", "unknown unit `rpm`", "begin with a word, such as `about 800 rpm`");
    guide_of("values: {refill: '7,5 L'}").expect_one("3:18 bad-figure", "decimal comma", "`7.5 L`");
    guide_of("values: {refill: [7 L]}").expect(&["3:18 wrong-shape"]);
    guide_of("values: {'…': 7 L}").expect(&["3:10 bad-id"]);
    // No file is called by the name of a value, so that Windows has no say in it.
    guide_of("values: {aux: 12 V}").clean();
}

#[test]
fn what_begins_as_a_figure_and_is_none_says_how_it_is_written() {
    guide_of("values: {q: 2026-01-01}").expect_one("3:13 bad-figure", "`2026-01-01` is a date", "such as `on 2026-01-01`");
    guide_of("values: {q: ~2026-01}").expect_one("3:13 bad-figure", "`~2026-01` is a date", "such as `on ~2026-01`");
    guide_of("values: {q: 3 cm3}").expect_one("3:13 bad-figure", "`cm3` is written `mL` here", "write `3 mL`");
    assert_eq!(guide_of("values: {q: on 2026-01-01, r: 3 mL}").clean().values.len(), 2);
}

#[test]
fn readings() {
    let guide = guide_of("readings: {Oil pressure: {unit: bar, limits: 2.5.., when: warm}}").clean();
    assert_eq!((guide.readings[0].id.as_str(), guide.readings[0].name.as_str()), ("oil-pressure", "Oil pressure"));
    assert_eq!(guide.readings[0].limits.as_ref().map(ToString::to_string).as_deref(), Some("2.5.. bar"));
    guide_of("readings: {p: {limits: 1..2}}").expect_one("3:15 missing-key", "`unit` is missing", "add");
    guide_of("readings: {p: {unit: bar, limits: 1..2 psi}}").expect_one("3:35 bad-figure", "not in `bar`", "`bar`");
    guide_of("readings: {p: {unit: bar, limits: 5..2}}").expect(&["3:35 bad-figure"]);
    guide_of("readings: {p: {unit: bar, at: [a, a]}}").expect_one("3:35 name-twice", "the point `a` stands here twice", "own name");
    guide_of("readings: {p: {unit: V, at: [Pole +, pole+]}}").expect(&["3:38 name-twice"]);
    let poles = guide_of("readings: {p: {unit: V, at: [pole +, pole -, pole]}}").clean();
    assert_eq!(poles.readings[0].points, ["pole +", "pole -", "pole"]);
    guide_of("readings: {p: bar}").expect_one("3:15 wrong-shape", "`p` needs a map", "write `p: {unit: bar}`");
    guide_of("readings: [p]").expect(&["3:11 wrong-shape"]);
}

#[test]
fn parts() {
    let guide = guide_of("parts: [{item: a, qty: 2}, {item: b, qty: 7.5 L}, {item: c, qty: 0.5}, {item: Plain words}]").clean();
    let amounts: Vec<String> = guide
        .parts
        .iter()
        .map(|part| match &part.amount {
            Some(Amount::Pieces(number)) => format!("{number} pieces"),
            Some(Amount::Measured(quantity)) => quantity.to_string(),
            None => "one".to_owned(),
        })
        .collect();
    assert_eq!(amounts, ["2 pieces", "7.5 L", "0.5 pieces", "one"]);
    guide_of("parts: [{item: a, qty: 2 h}]").expect_one("3:24 bad-figure", "`2 h` is not an amount of a part: it measures time", "`7.5 L`");
    guide_of("parts: [{item: a, qty: 2 pcs}]").expect_one("3:24 bad-figure", "word after the number of pieces", "write `2`");
    guide_of("parts: [{item: a, qty: -2}]").expect_one("3:24 bad-figure", "below zero", "write `2`");
    guide_of("parts: [{item: a, qty: some}]").expect(&["3:24 bad-figure"]);
    guide_of("parts: [{qty: 2}]").expect_one("3:9 missing-key", "`item` is missing", "add");
}
