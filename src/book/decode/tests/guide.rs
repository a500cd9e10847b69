//! The front matter of a guide.

use crate::book::decode::testing::{guide_of, whole_guide};
use crate::book::model::{RuleBy, Surface, Whereabouts};
use crate::book::outline::MarkKind;
use crate::quantity::CalendarSpan;

/// The example of the format.
const WHOLE: &str = "\
---
title: Change the engine oil and filter
summary: One line.
every: {engine: 200 h, calendar: 12 months}    # whichever comes first; a meter's id, calendar, or own
first: {engine: 50 h}                          # once, for new gear
for: [port-engine, starboard-engine]
occasions: [haul-out]
routine: true
notice: 6 months
covers: [oil-level-check]
crew: 1
where: [under-way, at-anchor, moored, ashore]
conditions: [engine warm, boat upright]
wear: [gloves, eye protection]
dispose: [old oil and filter to the oil bank ashore]
time: 2 h
hazards: [hot-liquids, moving-machinery]
safety: [Free text cautions of this job.]
tools: [strap-wrench, 17 mm socket]
parts: [{item: oil-filter, qty: 1}, {item: engine-oil, qty: 7.5 L}, {item: drain-washer, qty: 1, if-worn: true}]
torque:
  - at: drain plug
    value: 35 N·m
    steps: [20 N·m, 35 N·m]
    then: 90°
    fastener: M14 8.8
    surface: oiled
    source: engine handbook, torque table
values: {refill: 7.5 L, warm-up: 10 min}
readings: {oil-pressure: {unit: bar, limits: 2.5..5.0, when: warm at idle}, compression: {unit: bar, at: [cylinder 1, cylinder 2]}}
applies-to: what machine, model and range it was written for
source: where the procedure comes from
licence: CC-BY-SA-4.0
revised: 2026-02-01
checked: 2026-02-01
formerly: [oil-change]
---
Intro prose.

## Drain
1. Run the engine for {warm-up}.
2. Tighten the {drain-plug}.
";

#[test]
fn the_example_of_the_format_reads() {
    let guide = whole_guide(WHOLE).clean();
    assert_eq!((guide.id.as_str(), guide.system.as_str()), ("oil-and-filter", "engine"));
    assert_eq!(guide.title, "Change the engine oil and filter");
    let by: Vec<String> = guide
        .every
        .iter()
        .map(|rule| match &rule.by {
            RuleBy::Calendar(span) => format!("calendar {} months", span.months()),
            RuleBy::Meter { meter, interval } => format!("{meter} {interval}"),
            RuleBy::Own { interval } => format!("own {interval}"),
        })
        .collect();
    assert_eq!(by, ["engine 200 h", "calendar 12 months"]);
    assert_eq!(guide.first.len(), 1);
    assert_eq!(guide.for_gear.iter().map(|name| name.value.as_str()).collect::<Vec<_>>(), ["port-engine", "starboard-engine"]);
    assert!(guide.routine);
    assert_eq!(guide.notice, CalendarSpan::parse("6 months").ok());
    assert_eq!(guide.places, [Whereabouts::UnderWay, Whereabouts::AtAnchor, Whereabouts::Moored, Whereabouts::Ashore]);
    assert_eq!(guide.time.map(|time| time.seconds()), Some(7200));
    assert_eq!(guide.tools[1].value, "17 mm socket");
    assert!(guide.parts[2].if_worn);
    let torque = &guide.torques[0];
    assert_eq!((torque.id.as_str(), torque.at.as_str()), ("drain-plug", "drain plug"));
    assert_eq!(torque.value.to_string(), "35 N·m");
    assert_eq!(torque.steps.len(), 2);
    assert_eq!(torque.then.as_ref().map(ToString::to_string).as_deref(), Some("90°"));
    assert_eq!(torque.surface, Some(Surface::Oiled));
    assert_eq!(guide.readings[1].points, ["cylinder 1", "cylinder 2"]);
    assert_eq!(guide.formerly[0].value, "oil-change");
    assert_eq!(guide.source.slice(guide.body).lines().next(), Some("Intro prose."));
    assert_eq!(guide.outline.stages.len(), 1);
    // Marks that a name stands behind stay what they are.
    assert!(matches!(guide.outline.stages[0].steps[0].marks[0].kind, MarkKind::Name(_)));
}

#[test]
fn intervals() {
    guide_of("every: {engine: 200}").expect_one("3:17 bad-figure", "`200` has no unit", "`200 h`");
    guide_of("first: {calendar: 12}").expect_one("3:19 bad-figure", "`12` has no unit", "`12 months`");
    guide_of("every: {calendar: 200 h}").expect_one("3:19 bad-figure", "not a calendar interval", "`12 months`");
    guide_of("every: {engine: 0 h}").expect_one("3:17 zero-interval", "nought", "write how much");
    guide_of("every: {own: 0 nmi}").expect(&["3:14 zero-interval"]);
    guide_of("every: {calendar: 0 months}").expect(&["3:19 bad-figure"]);
    guide_of("every: {engine: -50 h}").expect_one("3:17 bad-figure", "below zero", "`50 h`");
    guide_of("every: {engine: 12 months}").expect_one("3:17 bad-figure", "`engine` is a meter", "`calendar: 12 months`");
    guide_of("every: {engine: 7,5 h, calendar: 1 year}").expect(&["3:19 unknown-key"]);
}

#[test]
fn a_name_that_stands_twice_in_a_list_counts_once() {
    let read = guide_of("for: [engine-a, engine-a]");
    read.expect_one("3:17 named-twice", "`engine-a` stands here twice", "keep one");
    assert_eq!(read.value.expect("decoded").for_gear.len(), 1);
    guide_of("hazards: [gas, fire, gas]").expect(&["3:22 named-twice"]);
}

#[test]
fn single_values() {
    guide_of("crew: 0").expect_one("3:7 bad-figure", "`0` is not a whole number from 1", "`2`");
    guide_of("crew: 1.5").expect(&["3:7 bad-figure"]);
    guide_of("crew: 99999999999999999999").expect(&["3:7 bad-figure"]);
    guide_of("notice: 6 h").expect(&["3:9 bad-figure"]);
    guide_of("time: 2").expect_one("3:7 bad-figure", "`2` has no unit", "write");
    guide_of("time: 2 months").expect(&["3:7 bad-figure"]);
    guide_of("revised: ~2026-02").expect(&["3:10 bad-date"]);
    guide_of("checked: 1.2.2026").expect_one("3:10 bad-date", "`1.2.2026` is not a date", "2026-03-14");
    guide_of("formerly: [Oil Change]").expect_one("3:12 bad-id", "`Oil Change`", "`oil-change`");
    assert_eq!(guide_of("").clean().crew, 1);
}

#[test]
fn one_name_has_one_meaning() {
    let twice = |front: &str, place: &str, message: &str| guide_of(front).expect_one(&format!("{place} name-twice"), message, "name");
    twice(
        "torque: [{at: drain plug, value: 35 N·m}]\nvalues: {drain-plug: 24 mm}",
        "4:10",
        "`drain-plug` means a value here and a torque on line 3",
    );
    twice(
        "torque:\n  - {at: drain plug, value: 35 N·m}\n  - {at: Drain-Plug, value: 30 N·m}",
        "5:5",
        "the torque `drain-plug` stands here twice, first on line 4",
    );
    twice("values: {refill: 7 L, Refill: 8 L}", "3:23", "the value `refill` stands here twice");
    twice("values: {pressure: 3 bar}\nreadings: {pressure: {unit: bar}}", "4:12", "means a reading here and a value");
    twice("parts: [{item: washer}, {item: washer, qty: 2}]", "3:32", "the part `washer` stands here twice");
    twice("tools: [torch, torch]", "3:16", "the tool `torch` stands here twice");
    twice("tools: [17 mm socket]\nvalues: {17-mm-socket: 1 L}", "4:10", "means a value here and a tool");
    twice("parts: [{item: torch}]\ntools: [torch]", "4:9", "means a tool here and a part");
}

#[test]
fn a_mark_whose_figure_could_not_be_read_is_not_told_twice() {
    let read = whole_guide(
        "---\ntitle: T\ntorque: [{at: plug, value: 35 L}]\nreadings: {level: {unit: bars}}\n---\n## Do\n1. Tighten {plug}, {read level}, see {nut}.\n",
    );
    read.expect(&["3:28 bad-figure", "4:26 bad-figure"]);
    let guide = read.value.expect("decoded");
    let kinds: Vec<bool> = guide.outline.stages[0].steps[0].marks.iter().map(|mark| mark.kind == MarkKind::Broken).collect();
    assert_eq!(kinds, [true, true, false]);
}

#[test]
fn a_syntax_error_in_the_front_matter_leaves_the_body_checked() {
    let read = whole_guide("---\ntitle: [a\n---\n## Do\n1. Wait {takes forever}.\n");
    assert!(read.value.is_none());
    let rules = read.rules();
    assert_eq!(rules.len(), 2, "{rules:?}");
    assert!(rules[0].ends_with("yaml-syntax") && rules[1].starts_with("5:"), "{rules:?}");
}

#[test]
fn a_crew_that_cannot_be_read_is_told_once() {
    guide_of("crew: two").expect_one("3:7 bad-figure", "`two` is not a number", "write a whole number, such as `2`");
    for crew in ["two", "[2]", "0"] {
        let text = format!("---\ntitle: A job\ncrew: {crew}\n---\n1. Lift it. {{hands 3}}\n");
        let read = whole_guide(&text);
        assert_eq!(read.rules().len(), 1, "{:?}", read.rules());
        let marks = &read.value.expect("a guide").outline.stages[0].steps[0].marks;
        assert_eq!(marks[0].kind, MarkKind::Broken, "{crew}");
    }
}
