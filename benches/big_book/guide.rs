//! Guides: their front matter, and steps that use every figure of it.

use super::boat::{gear, gear_count};
use super::lists::{Item, Kind, index, items, slug, tool, tools};
use super::random::Random;
use super::words::{
    CAUTIONS, CODE, FASTENERS, HAZARDS, ISOLATIONS, PLACES, READINGS, SENTENCES, STAGES, STEPS, SYSTEM_HAZARDS, SYSTEMS, VALUES, VERBS,
};
use super::{File, Size};
use std::fmt::Write as _;

/// Guides that are rounds, done over and over; they come first.
pub const ROUNDS: u64 = 4;

/// A guide: what entries need to know of it, and its text.
#[derive(Debug)]
pub struct Guide {
    pub id: String,
    pub system: usize,
    pub thing: &'static str,
    /// The gear that it is for, each by itself; empty where it is for none.
    pub gear: Vec<String>,
    /// What it uses, and how many halves or pieces of it.
    pub parts: Vec<(Item, u64)>,
    /// Indices of `READINGS`.
    pub readings: Vec<usize>,
    pub stages: Vec<String>,
    /// Hands-on time of all steps.
    pub minutes: u64,
    pub text: String,
}

/// The file of the `n`th guide, from 0.
pub fn file(size: Size, n: u64) -> File {
    let guide = Guide::of(size, n);
    (format!("guides/{}/{}.md", SYSTEMS[guide.system].0, guide.id), guide.text)
}

/// System, thing and title of the `n`th guide.
fn name(n: u64) -> (usize, &'static str, String) {
    let system = index(n, SYSTEMS.len());
    let nth = n / SYSTEMS.len() as u64;
    let things = &SYSTEMS[system].2;
    let count = things.len() as u64;
    let thing = things[index(nth, things.len())];
    // The verb moves on with the thing too, so that a small book has all of them.
    let verb = VERBS[index(nth / count + nth, VERBS.len())];
    let round = nth / (count * VERBS.len() as u64);
    let place = match PLACES.get(usize::try_from(round).unwrap_or(usize::MAX)) {
        Some(&"") => String::new(),
        Some(place) => format!(" {place}"),
        None => format!(", set {}", round + 1),
    };
    (system, thing, format!("{verb} the {thing}{place}"))
}

fn id(n: u64) -> String {
    slug(&name(n).2.replace(',', ""))
}

impl Guide {
    /// The `n`th guide, from 0.
    pub fn of(size: Size, n: u64) -> Self {
        let mut random = Random::of(size.seed, "guide", n);
        let (system, thing, title) = name(n);
        let mut guide = Self {
            id: id(n),
            system,
            thing,
            gear: Vec::new(),
            parts: (0..random.below(4)).map(|_| (Item::of(random.below(items(size))), random.between(1, 4))).collect(),
            readings: Vec::new(),
            stages: Vec::new(),
            minutes: 0,
            text: String::new(),
        };
        guide.parts.sort_by(|one, other| one.0.id.cmp(&other.0.id));
        guide.parts.dedup_by(|one, other| one.0.id == other.0.id);
        guide.readings = indices(&mut random, READINGS.len(), 2);
        if n >= ROUNDS && random.chance(10) {
            let pairs = gear_count(size) / 2;
            guide.gear = (0..2).map(|_| gear(2 * random.below(pairs))).collect();
            guide.gear.sort();
            guide.gear.dedup();
        }
        let mut tools: Vec<String> = (0..random.between(1, 5)).map(|_| tool(random.below(tools(size)))).collect();
        tools.sort();
        tools.dedup();
        tools.push(format!("{} mm socket", random.between(8, 24)));
        let torque = indices(&mut random, FASTENERS.len(), 2);
        let values = indices(&mut random, VALUES.len(), 2);
        let body = guide.body(&mut random, &tools, &torque, &values);
        let front = guide.front(size, n, &title, &mut random, &tools, &torque, &values);
        let intro = guide.intro(size, n, &mut random);
        guide.text = format!("---\n{front}---\n{intro}\n{body}");
        guide
    }

    #[allow(clippy::too_many_arguments, reason = "all that the front matter says")]
    fn front(&self, size: Size, n: u64, title: &str, random: &mut Random, tools: &[String], torque: &[usize], values: &[usize]) -> String {
        let mut text =
            format!("title: {title}\nsummary: \"What to look at on the {}, in which order, and how it should be left.\"\n", self.thing);
        text.push_str(&self.interval(n, random));
        if !text.contains("occasions:") && random.chance(10) {
            let _ = writeln!(text, "occasions: [{}]", random.one(&["haul-out", "lay-up", "fitting-out", "before-passage"]));
        }
        if n >= ROUNDS && n + 12 < size.guides && random.chance(3) {
            let _ = writeln!(text, "covers: [{}]", id(n + 12));
        }
        // Nobody goes aloft alone.
        let _ = writeln!(text, "crew: {}", if SYSTEM_HAZARDS[self.system].contains(&"working-aloft") { 2 } else { 1 });
        let _ = writeln!(
            text,
            "where: [{}]",
            random.one(&["at-anchor, moored, ashore", "moored, ashore", "ashore", "under-way, at-anchor, moored"])
        );
        if random.chance(60) {
            let _ = writeln!(text, "conditions: [{}]", random.one(&["engine stopped and cool", "boat upright", "dry weather, engine off"]));
        }
        let _ = writeln!(text, "wear: [{}]", random.one(&["gloves", "gloves, eye protection", "closed shoes"]));
        if random.chance(40) {
            text.push_str("dispose: [\"what comes out goes to the collection point ashore\"]\n");
        }
        let more = random.below(3);
        let mut hazards: Vec<&str> =
            random.some(&HAZARDS, more).into_iter().copied().chain(SYSTEM_HAZARDS[self.system].iter().copied()).collect();
        hazards.sort_unstable();
        hazards.dedup();
        let _ = writeln!(text, "hazards: [{}]", list(hazards));
        if random.chance(20) {
            text.push_str("safety:\n  - \"A trapped hand is broken before anybody can stop it. Agree who starts and who stops, and keep hands clear until both have said so.\"\n");
        }
        let _ = writeln!(text, "tools: [{}]", tools.join(", "));
        if !self.parts.is_empty() {
            text.push_str("parts:\n");
            for (item, count) in &self.parts {
                let worn = if random.chance(30) { ", if-worn: true" } else { "" };
                let _ = writeln!(text, "  - {{item: {}, qty: {}{worn}}}", item.id, item.amount(*count));
            }
        }
        if !torque.is_empty() {
            text.push_str("torque:\n");
            for (at, value, fastener) in torque.iter().map(|&index| FASTENERS[index]) {
                let _ = writeln!(
                    text,
                    "  - {{at: {at}, value: {value}, fastener: {fastener}, surface: dry, source: \"handbook, torque table\"}}"
                );
            }
        }
        if !values.is_empty() {
            text.push_str("values:\n");
            for (name, value) in values.iter().map(|&index| VALUES[index]) {
                let _ = writeln!(text, "  {name}: \"{value}\"");
            }
        }
        if !self.readings.is_empty() {
            text.push_str("readings:\n");
            for (name, unit, limits, _) in self.readings.iter().map(|&index| READINGS[index]) {
                let _ = writeln!(text, "  {name}: {{unit: {unit}, limits: {limits}, when: \"after ten minutes\"}}");
            }
        }
        text.push_str("applies-to: the pattern fitted aboard, seen from the service side\nsource: handbook, and practice aboard\nlicence: CC-BY-SA-4.0\n");
        let revised = format!("{}-{:02}-{:02}", random.between(2018, 2025), random.between(1, 12), random.between(1, 28));
        let _ = writeln!(text, "revised: {revised}");
        if random.chance(60) {
            let _ = writeln!(text, "checked: {revised}");
        }
        text
    }

    fn interval(&self, n: u64, random: &mut Random) -> String {
        let months = *random.one(&[12, 12, 24, 24, 36, 48, 60]);
        if n < ROUNDS {
            return "routine: true\n".into();
        }
        if !self.gear.is_empty() {
            return format!("for: [{}]\nevery: {{own: {} h, calendar: {months} months}}\n", list(&self.gear), 100 * random.between(2, 8));
        }
        match random.below(20) {
            0 => "occasions: [after-grounding]\n".into(),
            1 => format!("every: {{calendar: {months} months}}\nnotice: 3 months\n"),
            2..6 => format!("every: {{engine: {} h, calendar: {months} months}}\n", 100 * random.between(1, 8)),
            6 => format!("every: {{miles: {}}}\n", format_args!("{} nmi", 1_000 * random.between(2, 8))),
            7 => format!("every: {{engine: {} h}}\nfirst: {{engine: 50 h}}\n", 100 * random.between(1, 8)),
            _ => format!("every: {{calendar: {months} months}}\n"),
        }
    }

    fn intro(&self, size: Size, n: u64, random: &mut Random) -> String {
        let mut text = sentences(random, 2, 5, self.thing);
        if n >= ROUNDS && size.guides > 24 && random.chance(20) {
            let other = random.below(size.guides);
            let (system, thing, _) = name(other);
            let _ = write!(text, " What stands in [the guide to the {thing}](../{}/{}.md) comes first.", SYSTEMS[system].0, id(other));
        }
        text.push('\n');
        if random.chance(15) {
            text.push_str("\n| you notice | likely | look at |\n|---|---|---|\n");
            for _ in 0..random.between(2, 5) {
                let words = *random.one(&[
                    "a squeal at the start | a slack fixing",
                    "drops below it | a hard seal",
                    "a warm housing | too little flow",
                ]);
                let _ = writeln!(text, "| {words} | the {} |", self.thing);
            }
        }
        if random.chance(8) {
            let (language, lines) = random.one(&CODE);
            let _ = write!(text, "\n```{language}\n{lines}\n```\n");
        }
        text
    }

    fn body(&mut self, random: &mut Random, tools: &[String], torque: &[usize], values: &[usize]) -> String {
        // Every figure, part and tool is named by one step; they are dealt out over the stages.
        let mut named: Vec<String> = Vec::new();
        named.extend(tools.iter().map(|id| format!("Have the {{{}}} at hand.", slug(id))));
        named.extend(self.parts.iter().map(|(item, _)| match item.kind {
            Kind::Pieces => format!("Fit the new {{{}}}.", item.id),
            Kind::Litres | Kind::Metres => format!("Use {{{}}} and no other.", item.id),
        }));
        named.extend(torque.iter().map(|&index| format!("Tighten the {{{}}} in two rounds.", slug(FASTENERS[index].0))));
        named.extend(values.iter().map(|&index| format!("Hold it to {{{}}}.", VALUES[index].0)));
        named.extend(self.readings.iter().map(|&index| format!("Write the figure down. {{read {}}}", READINGS[index].0)));

        let isolations = indices(random, ISOLATIONS.len(), 2);
        let mut text = String::from("## Make ready\n");
        self.stages.push("Make ready".into());
        let mut step = 0;
        for &index in &isolations {
            let (what, words) = ISOLATIONS[index];
            self.step(&mut text, &mut step, random, &format!("{words} {{isolate {what}}}"));
        }
        let first = random.one(&STEPS).replace('@', self.thing);
        self.step(&mut text, &mut step, random, &format!("{first} {{prove that nothing moves}}"));

        let count = random.between(2, 4);
        let middle: Vec<&str> = random.some(&STAGES, count).into_iter().copied().collect();
        let mut named = named.into_iter();
        for (nth, stage) in middle.iter().enumerate() {
            // The third stage fills the waits of the one above it.
            let marks = if nth == 2 { format!(" {{alongside {}}}", middle[1]) } else { String::new() };
            let _ = write!(text, "\n## {stage}{marks}\n");
            self.stages.push((*stage).to_owned());
            step = 0;
            let count = random.between(4, 8);
            for words in random.some(&STEPS, count) {
                let mut words = words.replace('@', self.thing);
                if let Some(more) = named.next() {
                    let _ = write!(words, " {more}");
                }
                if nth == 1 && random.chance(20) {
                    let _ = write!(words, " {{wait {} min: the sealing sets}}", 10 * random.between(1, 6));
                }
                if random.chance(10) {
                    words.push_str(" {safe stop}");
                }
                self.step(&mut text, &mut step, random, &words);
                if random.chance(6) {
                    let _ = write!(text, "\n   > {}\n\n", random.one(&CAUTIONS));
                }
            }
        }
        text.push_str("\n## Put back and prove\n");
        self.stages.push("Put back and prove".into());
        step = 0;
        for more in named {
            self.step(&mut text, &mut step, random, &more);
        }
        for &index in isolations.iter().rev() {
            let what = ISOLATIONS[index].0;
            self.step(&mut text, &mut step, random, &format!("Put it back as it was: {what}. {{restore {what}}}"));
        }
        self.step(&mut text, &mut step, random, "Run it for ten minutes and look again. {prove that nothing leaks or turns warm}");
        text
    }

    fn step(&mut self, text: &mut String, step: &mut u64, random: &mut Random, words: &str) {
        *step += 1;
        let minutes = *random.one(&[1, 2, 2, 3, 5, 5, 10, 15]);
        self.minutes += minutes;
        let _ = writeln!(text, "{step}. {words} {{takes {minutes} min}}");
    }
}

/// Up to so many different numbers below `length`, in order.
fn indices(random: &mut Random, length: usize, most: u64) -> Vec<usize> {
    let all: Vec<usize> = (0..length).collect();
    let count = random.below(most + 1);
    random.some(&all, count).into_iter().copied().collect()
}

/// Some sentences of prose about a thing.
pub fn sentences(random: &mut Random, least: u64, most: u64, thing: &str) -> String {
    let count = random.between(least, most);
    let chosen = random.some(&SENTENCES, count);
    list_by(chosen, " ").replace('@', thing)
}

fn list<T: AsRef<str>>(items: impl IntoIterator<Item = T>) -> String {
    list_by(items, ", ")
}

fn list_by<T: AsRef<str>>(items: impl IntoIterator<Item = T>, between: &str) -> String {
    items.into_iter().map(|item| item.as_ref().to_owned()).collect::<Vec<_>>().join(between)
}
