//! `boat.yaml`.

use crate::book::decode::testing::{boat_of, whole_boat};
use crate::book::model::Units;

const WHOLE: &str = "\
name: Skerrywake
type: Cutter
built: 1988
length: 11.6 m
flag: Ansker
home-port: Ansker
hull-number: SKW-1988-037
crew: [Maren, Tove]
in-service: 2022-04-10
language: en
units: imperial
soon: 15 %
site: https://skerrywake.example/book/
licence: CC-BY-SA-4.0
systems: [{id: engine, title: Engine}, {id: rig, title: Rig}]
meters: [{id: engine, title: Engine hours, unit: h}, {id: miles, title: Miles by log, unit: nmi}]
gear:
  - {id: life-raft, title: Life raft, system: safety, expires: 2029-05, guide: life-raft-service, note: on the coachroof}
  - {id: port-engine, title: Port engine, system: engine, meter: engine, serial: ME-1, fitted: {on: ~2021-05, at: 0 h}}
occasions: [{id: yard-visit, title: Visit to the yard}, spring-cruise]
private-fields: [home-port, stowed]
public-fields: [hull-number]
";

#[test]
fn everything_a_boat_can_say() {
    let boat = whole_boat(WHOLE).clean();
    assert_eq!(boat.name, "Skerrywake");
    assert_eq!(boat.kind.as_deref(), Some("Cutter"));
    assert_eq!(boat.built.as_deref(), Some("1988"));
    assert_eq!(boat.length.as_ref().map(|length| length.written()), Some("11.6 m"));
    assert_eq!(boat.crew, ["Maren", "Tove"]);
    assert_eq!(boat.units, Units::Imperial);
    assert_eq!(boat.soon_percent.as_ref().map(|share| share.written()), Some("15"));
    assert_eq!(boat.systems.iter().map(|system| system.id.value.as_str()).collect::<Vec<_>>(), ["engine", "rig"]);
    assert_eq!(boat.meters.iter().map(|meter| meter.unit.symbol()).collect::<Vec<_>>(), ["h", "nmi"]);
    let raft = boat.gear("life-raft").expect("there");
    // The end of the month, by the format.
    assert_eq!(raft.expires.map(|month| month.last_day.to_string()).as_deref(), Some("2029-05-31"));
    let fitted = boat.gear("port-engine").and_then(|gear| gear.fitted.clone()).expect("there");
    assert!(fitted.on.about);
    assert_eq!(fitted.at.as_ref().map(|at| at.written()), Some("0 h"));
    let occasions: Vec<(&str, &str)> =
        boat.occasions.iter().map(|occasion| (occasion.id.value.as_str(), occasion.title.as_str())).collect();
    assert_eq!(occasions, [("yard-visit", "Visit to the yard"), ("spring-cruise", "Spring cruise")]);
    assert_eq!(boat.private_fields.len(), 2);
    assert_eq!(boat.public_fields.len(), 1);
}

#[test]
fn a_boat_needs_no_more_than_a_name() {
    let boat = whole_boat("name: Skerrywake\n").clean();
    assert_eq!((boat.language.as_str(), boat.units), ("en", Units::Metric));
    assert!(boat.soon_percent.is_none());
}

#[test]
fn facts_are_checked() {
    boat_of("length: 11.6").expect_one("2:9 bad-figure", "`11.6` has no unit", "a length");
    boat_of("length: 11.6 nmi").expect_one("2:9 bad-figure", "is a distance, not a length", "a length");
    boat_of("built: 88").expect_one("2:8 bad-date", "`88` is not a year", "four digits");
    boat_of("in-service: 2022-04").expect_one("2:13 bad-date", "is a month, and a day is needed", "2026-03-14");
    boat_of("language: English").expect_one("2:11 bad-language", "`English`", "`en`");
    boat_of("gear: [{id: a, title: A, meter: e, fitted: {on: 2021-04-02, at: 0}}]").expect_one(
        "2:65 bad-figure",
        "`0` has no unit",
        "the unit that the meter counts in, such as `0 h`",
    );
    boat_of("soon: 10").expect_one("2:7 bad-figure", "`10` has no unit", "`10 %`");
    boat_of("soon: 110 %").expect_one("2:7 bad-figure", "more than 100 %", "from `0 %` to `100 %`");
    boat_of("soon: -5 %").expect_one("2:7 bad-figure", "below zero", "write");
}

#[test]
fn the_site_is_a_web_address() {
    for address in ["https://boat.example/book/", "http://boat.example", "http://192.0.2.7:8080/b"] {
        assert_eq!(boat_of(&format!("site: {address}")).clean().site.as_deref(), Some(address));
    }
    for address in [
        "boat.example",
        "ftp://boat.example",
        "javascript:alert(1)",
        "https://",
        "'https://a b/'",
        "https://a.example/?q",
        "'https://a\"b'",
    ] {
        boat_of(&format!("site: {address}")).expect_one("2:7 bad-address", "is not the address of a site", "https://");
    }
}

#[test]
fn ids_are_well_formed_and_stand_once() {
    boat_of("systems: [{id: Engine Room, title: Engine}]").expect_one("2:16 bad-id", "`Engine Room` is not an id", "write `engine-room`");
    boat_of("systems: [{id: '…', title: Engine}]").expect_one("2:16 bad-id", "nothing here that an id can be made of", "letters");
    boat_of("systems: [{id: aux, title: Auxiliary}]").expect_one("2:16 bad-id", "Windows keeps the name `aux`", "add a word");
    boat_of("systems:\n  - {id: rig, title: Rig}\n  - {id: rig, title: Mast}").expect_one(
        "4:10 duplicate-id",
        "on line 3 already",
        "another id",
    );
    boat_of("meters:\n  - {id: a, title: A, unit: h}\n  - {id: a, title: B, unit: h}").expect(&["4:10 duplicate-id"]);
    boat_of("gear:\n  - {id: a, title: A}\n  - {id: a, title: B}").expect(&["4:10 duplicate-id"]);
    boat_of("meters: [{id: own, title: A, unit: h}]").expect_one("2:15 bad-id", "cannot be called `own`", "another id");
    boat_of("meters: [{id: calendar, title: A, unit: h}]").expect(&["2:15 bad-id"]);
    boat_of("meters: [{id: a, title: A, unit: hours}]").expect_one("2:34 bad-figure", "`hours` is written `h` here", "write `h`");
    boat_of("occasions: [haul-out]").expect_one("2:13 duplicate-id", "`haul-out` ships", "take it out");
    boat_of("occasions: [yard, yard]").expect(&["2:19 duplicate-id"]);
}

#[test]
fn only_optional_keys_may_be_private() {
    boat_of("private-fields: [title]").expect_one("2:18 not-optional", "`title` cannot be left out", "take it out");
    boat_of("private-fields: [name]").expect(&["2:18 not-optional"]);
    boat_of("private-fields: [done]").expect(&["2:18 not-optional"]);
    boat_of("private-fields: [home-prt]").expect_one(
        "2:18 unknown-key",
        "no file of a book has the key `home-prt`",
        "did you mean `home-port`?",
    );
    boat_of("public-fields: [serail]").expect_one("2:17 unknown-key", "`serail`", "`serial`");
    boat_of("public-fields: [stowed]").expect_one("2:17 not-private", "`stowed` is public as it is", "take it out");
    boat_of("public-fields: [depart]").expect_one("2:17 not-private", "stay private as a whole", "take it out");
    assert_eq!(boat_of("public-fields: [serial, place, price]").clean().public_fields.len(), 3);
}

#[test]
fn fitted_needs_a_day() {
    boat_of("gear: [{id: a, title: A, fitted: {at: 0 h}}]").expect_one("2:34 missing-key", "`on` is missing", "`on: 2026-03-14`");
    boat_of("gear: [{id: a, title: A, fitted: {on: 2021, at: 0}}]").expect(&["2:39 bad-date", "2:49 bad-figure"]);
}
