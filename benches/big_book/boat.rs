//! `boat.yaml`, and what the boat's meters showed on each day.

use super::lists::{index, slug};
use super::random::Random;
use super::words::{PLACES, SYSTEMS};
use super::{File, Size};
use std::fmt::Write as _;

/// Days that the log spans: twelve years.
pub const SPAN: u64 = 12 * 365;
/// The day of the log on which a new counter of the generator began at nought.
const REPLACED: u64 = 2_000;

/// A day of the log, `SPAN` - 1 the last, as `YYYY-MM-DD`.
pub fn date(day: u64) -> String {
    let first = jiff::civil::date(2014, 6, 4);
    let days = i64::try_from(day).unwrap_or_default();
    first.saturating_add(jiff::Span::new().days(days)).to_string()
}

/// How many pieces of gear there are.
pub fn gear_count(size: Size) -> u64 {
    10 + size.guides / 10
}

/// The id of the `n`th piece of gear, from 0. The even ones have a meter.
pub fn gear(n: u64) -> String {
    slug(&gear_title(n))
}

fn gear_title(n: u64) -> String {
    let (_, _, things) = &SYSTEMS[index(n, SYSTEMS.len())];
    format!("Set of {} no. {}", things[index(n / SYSTEMS.len() as u64, things.len())], n + 1).replace("no. ", "no ")
}

/// What a meter shows on a day of the log.
pub fn meter(id: &str, day: u64) -> String {
    let tenths = engine_tenths(day);
    match id {
        "miles" => (9_000 + tenths * 3 / 2).to_string(),
        "generator" => {
            let run = |day: u64| 800 + engine_tenths(day) / 3;
            let tenths = if day > REPLACED { run(day) - run(REPLACED) } else { run(day) };
            format!("{}.{}", tenths / 10, tenths % 10)
        }
        _ => format!("{}.{}", (12_000 + tenths) / 10, tenths % 10),
    }
}

/// Tenths of an hour since the first day: 140 h a year, most of them in the warm half.
fn engine_tenths(day: u64) -> u64 {
    let (years, rest) = (day / 365, day % 365);
    let within = match rest {
        0..150 => rest * 7,
        150..300 => 1_050 + rest - 150,
        _ => 1_200 + (rest - 300) * 3,
    };
    years * 1_400 + within
}

/// `boat.yaml` and `meters.csv`.
pub fn files(size: Size) -> [File; 2] {
    let mut text = String::from(FACTS);
    text.push_str("systems:\n");
    for (id, title, _) in &SYSTEMS {
        let _ = writeln!(text, "  - {{id: {id}, title: {title}}}");
    }
    text.push_str("gear:\n");
    for n in 0..gear_count(size) {
        text.push_str(&gear_line(size, n));
    }
    let mut csv = String::from("date,meter,value,replaced\n");
    for day in (0..SPAN).step_by(30) {
        for id in ["engine", "miles", "generator"] {
            let _ = writeln!(csv, "{},{id},{},", date(day), meter(id, day));
        }
    }
    let _ = writeln!(csv, "{},generator,{},0", date(REPLACED), meter("generator", REPLACED));
    [("boat.yaml".into(), text), ("meters.csv".into(), csv)]
}

fn gear_line(size: Size, n: u64) -> String {
    let mut random = Random::of(size.seed, "gear", n);
    let (system, _, _) = SYSTEMS[index(n, SYSTEMS.len())];
    let mut line = format!("  - {{id: {}, title: {}, system: {system}, serial: SN-{:05}", gear(n), gear_title(n), random.below(100_000));
    if n.is_multiple_of(2) {
        let _ = write!(line, ", meter: {}", if n.is_multiple_of(4) { "engine" } else { "generator" });
    }
    let _ = write!(line, ", fitted: {{on: {}}}", date(random.below(SPAN / 4)));
    if random.chance(25) {
        let _ = write!(line, ", expires: {}-{:02}", random.between(2026, 2031), random.between(1, 12));
    }
    if random.chance(10) {
        let _ = write!(line, ", note: \"Sits {}\"", random.one(&PLACES[1..]));
    }
    line.push_str("}\n");
    line
}

const FACTS: &str = "\
name: Skerrywake
type: Cutter, GRP, long fin keel
built: 1988
length: 11.6 m
flag: Ansker
home-port: Ansker
hull-number: SKW-1988-037
crew: [Maren, Tove]
in-service: 2014-06-04
language: en
units: metric
soon: 10 %
site: https://skerrywake.example/book/
licence: CC-BY-SA-4.0
private-fields: [home-port]
meters:
  - {id: engine, title: Engine hours, unit: h}
  - {id: generator, title: Generator hours, unit: h}
  - {id: miles, title: Miles by log, unit: nmi}
";
