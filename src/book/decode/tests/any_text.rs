//! Whatever is written, decoding ends without a panic and every problem has a place and a remedy.

use proptest::prelude::*;

use crate::book::decode::testing::{
    Read, boat_of, cautions_of, entry_of, guide_of, meters_of, passages_of, stores_of, tools_of, whole_boat, whole_entry, whole_guide,
};

const FRONT: &str = "\
every: {engine: 200 h, calendar: 12 months, own: 50 h}
first: {engine: 50 h}
for: [port-engine]
crew: 2
where: [ashore]
time: 2 h 40 min
tools: [strap-wrench, 17 mm socket]
parts: [{item: oil-filter, qty: 1}, {item: oil, qty: 7.5 L, if-worn: true}]
torque: [{at: drain plug, value: 35 ± 3 N·m, steps: [20 N·m], then: 90°, surface: oiled}]
values: {refill: 7.5 L, mix: 1:50, warm-up: 10 min}
readings: {oil-pressure: {unit: bar, limits: 2.5..5.0, at: [a, b]}}
revised: 2026-02-01
meters: {engine: 1840.5, miles: ~12034 nmi}
costs: [{what: crane, cost: 240 EUR}]
findings: [{what: Weep, grade: watch, before: 2026-09}]
clears: [2025-11-02-rig-check/1]
started: ~2021-05
soon: 10 %
site: https://boat.example/
gear: [{id: a, title: A, fitted: {on: 2021-04-02, at: 0 h}}]
id: a
counted: {on: 2026-01-05, qty: 2}
sold-in: [1 L, 5 L]
miles: 900 km
";

/// What stands in the way of a text: signs of YAML, digits, letters of many scripts.
fn slip() -> impl Strategy<Value = String> {
    prop_oneof![Just(String::new()), "[-:,{}\\[\\]'\"~#|>&*!%@`.\\\\/ \t\n0-9±°é·²ß\u{feff}\u{0}\u{1b}船]{1,4}", "\\PC{1,6}",]
}

fn mutated(original: &'static str) -> impl Strategy<Value = String> {
    prop::collection::vec((0..original.len(), 0..12_usize, slip()), 0..5).prop_map(move |slips| {
        let mut text = original.to_owned();
        for (at, length, slip) in slips {
            let floor = |mut at: usize| {
                at = at.min(text.len());
                while !text.is_char_boundary(at) {
                    at -= 1;
                }
                at
            };
            let (start, end) = (floor(at), floor(at + length));
            text.replace_range(start..end, &slip);
        }
        text
    })
}

fn told<T>(read: &Read<T>) -> Result<(), TestCaseError> {
    for problem in &read.problems {
        prop_assert!(problem.place.line > 0 && problem.place.column > 0);
        prop_assert!(!problem.message.is_empty() && !problem.remedy.is_empty(), "{:?}", problem);
        // What a YAML parser says of a broken file quotes it.
        prop_assert!(
            problem.rule == "yaml-syntax" || !problem.message.chars().chain(problem.remedy.chars()).any(char::is_control),
            "{:?}",
            problem
        );
    }
    Ok(())
}

proptest! {
    #[test]
    fn slips_of_the_pen(front in mutated(FRONT)) {
        told(&guide_of(&front))?;
        told(&entry_of(&front))?;
        told(&boat_of(&front))?;
        let item: String = front.lines().map(|line| format!("  {line}\n")).collect();
        let list = format!("-\n{item}");
        told(&stores_of(&list))?;
        told(&tools_of(&list))?;
        told(&passages_of(&list))?;
        told(&cautions_of(&list))?;
    }

    #[test]
    fn whole_files_of_anything(text in "\\PC{0,200}", lines in "(---\n|a: b\n|- c\n|\\{|\\}|<!-- private -->|<!-- /private -->|\n|!\\[x\\]\\(y\\)|é){0,30}") {
        for text in [text.as_str(), lines.as_str()] {
            told(&whole_guide(text))?;
            told(&whole_entry(text))?;
            told(&whole_boat(text))?;
            told(&meters_of(text))?;
        }
    }

    #[test]
    fn rows_of_anything(rows in mutated("2026-03-14,engine,1840.5,0\n\"2026-03-15\",miles,\"1 \"\"2\"\n,,,\n")) {
        told(&meters_of(&format!("date,meter,value,replaced\n{rows}")))?;
    }
}
