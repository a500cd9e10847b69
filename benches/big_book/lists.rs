//! Stores, tools, passages and hazards of the boat's own.

use super::random::Random;
use super::words::{FLUIDS, LOCKERS, METRES, PARTS, SYSTEMS, TOOLS};
use super::{File, Size};
use std::fmt::Write as _;

/// How an item is counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    Pieces,
    Litres,
    Metres,
}

/// An item of the stores.
#[derive(Debug, Clone)]
pub struct Item {
    pub id: String,
    pub title: String,
    pub kind: Kind,
}

impl Item {
    /// The `n`th item of the stores, from 0.
    pub fn of(n: u64) -> Self {
        let (kind, name) = match n % 10 {
            0 => (Kind::Litres, at(&FLUIDS, n / 10)),
            1 => (Kind::Metres, at(&METRES, n / 10)),
            _ => (Kind::Pieces, at(&PARTS, n)),
        };
        let (_, _, things) = &SYSTEMS[index(n, SYSTEMS.len())];
        let title = match kind {
            Kind::Pieces => format!("{name} for the {}", at(things, n / 7)),
            Kind::Litres | Kind::Metres => format!("{name}, grade {}", n / 10 + 1),
        };
        Self { id: format!("{}-{}", slug(name), n + 1), title, kind }
    }

    /// An amount of it, `halves` halves of a litre or a metre, or so many pieces.
    pub fn amount(&self, halves: u64) -> String {
        let measure = |unit: &str| format!("{}.{} {unit}", halves / 2, 5 * (halves % 2));
        match self.kind {
            Kind::Pieces => halves.to_string(),
            Kind::Litres => measure("L"),
            Kind::Metres => measure("m"),
        }
    }
}

/// How many items the stores have.
pub fn items(size: Size) -> u64 {
    40 + size.guides / 4
}

/// The id of the `n`th tool, from 0.
pub fn tool(n: u64) -> String {
    format!("{}-{}", slug(at(&TOOLS, n)), n + 1)
}

/// How many tools there are.
pub fn tools(size: Size) -> u64 {
    30 + size.guides / 20
}

/// An id of words that are plain letters.
pub fn slug(words: &str) -> String {
    words.to_lowercase().replace([' ', '.'], "-")
}

/// The item of a list that a number falls on.
pub fn at<'a>(list: &[&'a str], n: u64) -> &'a str {
    list[index(n, list.len())]
}

/// A number, wrapped to the length of a list.
pub fn index(n: u64, length: usize) -> usize {
    usize::try_from(n % length as u64).unwrap_or_default()
}

/// `stores.yaml`, `tools.yaml`, `passages.yaml` and `cautions.yaml`.
pub fn files(size: Size) -> Vec<File> {
    let stores: String = (0..items(size)).map(|n| store_line(size, n)).collect();
    let tools: String = (0..tools(size)).map(|n| tool_line(size, n)).collect();
    [("stores.yaml", stores), ("tools.yaml", tools), ("passages.yaml", PASSAGES.into()), ("cautions.yaml", CAUTIONS.into())]
        .map(|(path, text)| (path.to_owned(), text))
        .into()
}

fn store_line(size: Size, n: u64) -> String {
    let mut random = Random::of(size.seed, "item", n);
    let item = Item::of(n);
    let mut line = format!(
        "- {{id: {}, title: \"{}\", part-number: {}-{:04}, stowed: {} {}",
        item.id,
        item.title,
        item.id[..2].to_uppercase(),
        1000 + n,
        random.one(&LOCKERS),
        random.between(1, 4)
    );
    if random.chance(5) {
        let _ = write!(line, ", level: {}", random.one(&["plenty", "low", "none"]));
    } else {
        let aboard = if random.chance(70) { random.between(4, 12) } else { random.below(4) };
        let day = random.between(1, 28);
        let _ = write!(line, ", counted: {{on: 2026-04-{day:02}, qty: {}}}", item.amount(aboard));
        let _ = write!(line, ", minimum: {}", item.amount(random.between(1, 3)));
        if random.chance(10) {
            let _ = write!(line, ", bought: [{{on: 2026-05-{:02}, qty: {}}}]", random.between(1, 28), item.amount(random.between(1, 4)));
        }
    }
    match item.kind {
        Kind::Pieces => {}
        Kind::Litres => line.push_str(", sold-in: [1 L, 5 L]"),
        Kind::Metres => line.push_str(", sold-in: 10 m"),
    }
    let _ = write!(line, ", price: {}.{}0 EUR", random.between(1, 90), random.below(10));
    if random.chance(15) {
        let _ = write!(line, ", also-fits: [{}-{:04}B]", item.id[..2].to_uppercase(), 1000 + n);
    }
    if random.chance(10) {
        let _ = write!(line, ", expires: {}-{:02}", random.between(2026, 2031), random.between(7, 12));
    }
    line.push_str("}\n");
    line
}

fn tool_line(size: Size, n: u64) -> String {
    let mut random = Random::of(size.seed, "tool", n);
    let title = format!("{}, size {}", at(&TOOLS, n), n / TOOLS.len() as u64 + 1);
    format!("- {{id: {}, title: \"{title}\", stowed: {} {}}}\n", tool(n), random.one(&LOCKERS), random.between(1, 4))
}

const PASSAGES: &str = "\
- {id: outer-skarrs, title: Round the Outer Skarrs, depart: 2026-06-18, days: 16, miles: 620, meters: {engine: 45 h}, reserve: 25 %}
- {id: southern-crossing, title: South across the open water, depart: 2026-08-04, days: 28, miles: 1450, meters: {engine: 70 h}, reserve: 25 %}
- {id: home-leg, title: Home by Stranda Bight, depart: 2026-09-20, days: 12, miles: 540}
";

const CAUTIONS: &str = "\
- id: stern-ladder
  title: The stern ladder
  signal: warning
  harm: A rung that is wasted by rust breaks and drops you on hardstanding, which can break bones or worse.
  avoid: Keep to the yard's ladder ashore, lashed at the top and footed on firm ground.
  words: [stern ladder]
";
