//! Entries of the log.

use super::boat::{SPAN, date, gear, gear_count, meter};
use super::guide::{Guide, ROUNDS, sentences};
use super::random::Random;
use super::words::{ANCHORAGES, FINDINGS, LOCKERS, PEOPLE, READINGS, SYSTEMS, WORK};
use super::{File, Size};
use std::fmt::Write as _;

/// A defect that is put right is put right by the entry so many after it.
const CLEARED_AFTER: u64 = 37;

/// What an entry is about. All else about it is drawn from another stream, so that this can be asked for by itself.
struct Subject {
    /// The guides it names.
    jobs: Vec<u64>,
    day: u64,
    /// What its first finding is graded.
    grade: Option<&'static str>,
    cleared: bool,
    open: bool,
}

impl Subject {
    fn of(size: Size, n: u64) -> Self {
        let mut random = Random::of(size.seed, "subject", n);
        let kind = random.below(100);
        let job = |random: &mut Random| random.below(size.guides);
        let jobs = match kind {
            _ if size.guides == 0 => Vec::new(),
            0..10 => vec![random.below(ROUNDS.min(size.guides))],
            10..75 => vec![job(&mut random)],
            75..80 => vec![job(&mut random), job(&mut random)],
            _ => Vec::new(),
        };
        let grade = match random.below(100) {
            0..8 => Some("good"),
            8..14 => Some("watch"),
            14..16 => Some("act"),
            _ => None,
        };
        // Near the end of the log some jobs are still under way.
        let late = n + size.entries / 200 + 1 >= size.entries;
        let open = jobs.len() == 1 && jobs[0] >= ROUNDS && late && random.chance(40);
        Self { jobs, day: n * SPAN / size.entries.max(1), grade, cleared: random.chance(80), open }
    }
}

/// The guides of an entry without those that it names twice.
fn guides(size: Size, subject: &Subject) -> Vec<Guide> {
    let mut jobs = subject.jobs.clone();
    jobs.dedup();
    jobs.into_iter().map(|job| Guide::of(size, job)).collect()
}

/// The stem of the `n`th entry's file: its day, its subject, and a number where the day has several.
fn id(size: Size, n: u64) -> String {
    let subject = Subject::of(size, n);
    let about = guides(size, &subject).into_iter().next().map_or_else(|| "aboard".to_owned(), |guide| guide.id);
    let first = (subject.day * size.entries).div_ceil(SPAN);
    let nth = if n > first { format!("-{}", n - first + 1) } else { String::new() };
    format!("{}-{about}{nth}", date(subject.day))
}

/// The file of the `n`th entry, from 0; later ones are of later days.
pub fn file(size: Size, n: u64) -> File {
    let id = id(size, n);
    (format!("log/{}/{id}.md", &id[..4]), text(size, n))
}

fn text(size: Size, n: u64) -> String {
    let mut random = Random::of(size.seed, "entry", n);
    let subject = Subject::of(size, n);
    let guides = guides(size, &subject);
    let thing = guides.first().map_or(*random.one(&SYSTEMS[3].2), |guide| guide.thing);
    let mut text = String::from("---\n");
    about(&mut text, &mut random, size, &guides);
    let day = date(subject.day);
    if subject.open {
        let stages = guides.first().map_or(&[][..], |guide| &guide.stages);
        let stage = &stages[stages.len() / 2];
        let _ =
            writeln!(text, "started: {day}\nreached: {stage}\nleft: [\"cover of the {thing} off, its bolts in a tin on the chart table\"]");
    } else if random.chance(5) && subject.day > 3 {
        let _ = writeln!(text, "started: {}\ndone: {day}", date(subject.day - random.between(1, 3)));
    } else {
        let _ = writeln!(text, "date: {day}");
    }
    if random.chance(60) {
        let ids: &[&str] = if random.chance(30) { &["engine", "generator", "miles"] } else { &["engine"] };
        let values: Vec<String> = ids.iter().map(|id| format!("{id}: {}", meter(id, subject.day))).collect();
        let _ = writeln!(text, "meters: {{{}}}", values.join(", "));
    }
    used(&mut text, &mut random, &guides);
    found(&mut text, &mut random, size, n, &subject, &guides);
    if n >= CLEARED_AFTER {
        let earlier = Subject::of(size, n - CLEARED_AFTER);
        if earlier.cleared && matches!(earlier.grade, Some("watch" | "act")) {
            let _ = writeln!(text, "clears: [{}/1]", self::id(size, n - CLEARED_AFTER));
        }
    }
    if random.chance(2) {
        let gear = gear(random.below(gear_count(size)));
        let _ = writeln!(
            text,
            "fitted: [{{gear: {gear}, expires: {}-{:02}, serial: SN-{n:06}}}]",
            random.between(2027, 2034),
            random.between(1, 12)
        );
    }
    let _ = writeln!(text, "done-by: {}", random.one(&["owner", "owner", "owner", "yard"]));
    if random.chance(50) {
        let _ = writeln!(text, "by: {}\nplace: {}", random.one(&PEOPLE), random.one(&ANCHORAGES));
    }
    let _ = writeln!(text, "basis: {}", random.one(&["own record", "own record", "own record", "invoice"]));
    if random.chance(5) {
        text.push_str("except: [\"Not looked at from below, for want of light\"]\n");
    }
    if random.chance(2) {
        text.push_str("private: true\n");
    }
    let _ = write!(text, "---\n{}\n", sentences(&mut random, 2, 6, thing));
    if random.chance(10) {
        let _ = write!(text, "\n<!-- private -->\nThe bill is settled; {} has the receipt.\n<!-- /private -->\n", random.one(&PEOPLE));
    }
    if random.chance(10) {
        let _ = write!(text, "\n- [ ] look again after a week\n- [x] {}\n", sentences(&mut random, 1, 1, thing));
    }
    text
}

/// Jobs, other work, system and gear.
fn about(text: &mut String, random: &mut Random, size: Size, guides: &[Guide]) {
    let jobs: Vec<String> = guides
        .iter()
        .map(|guide| if guide.gear.is_empty() { guide.id.clone() } else { format!("{}/{}", guide.id, random.one(&guide.gear)) })
        .collect();
    if !jobs.is_empty() {
        let _ = writeln!(text, "jobs: [{}]", jobs.join(", "));
        return;
    }
    if random.chance(75) {
        let (_, _, things) = random.one(&SYSTEMS);
        let (work, thing, locker) = (random.one(&WORK), random.one(things), random.one(&LOCKERS));
        let _ = writeln!(text, "work: [\"{work} near the {thing}, {locker} side\"]");
        if random.chance(30) {
            let _ = writeln!(text, "gear: {}", gear(random.below(gear_count(size))));
        }
    }
    let _ = writeln!(text, "system: {}", random.one(&SYSTEMS).0);
}

/// Time, parts, costs and readings.
fn used(text: &mut String, random: &mut Random, guides: &[Guide]) {
    let minutes: u64 = guides.iter().map(|guide| guide.minutes).sum();
    if minutes > 0 && random.chance(70) {
        let took = minutes * random.between(80, 130) / 100;
        let _ = if took < 60 { writeln!(text, "time: {took} min") } else { writeln!(text, "time: {} h {} min", took / 60, took % 60) };
    }
    let mut parts: Vec<String> = Vec::new();
    for (item, count) in guides.iter().flat_map(|guide| &guide.parts) {
        let cost = if random.chance(30) { format!(", cost: {}.50 EUR", random.between(1, 80)) } else { String::new() };
        if random.chance(80) {
            parts.push(format!("{{item: {}, qty: {}{cost}}}", item.id, item.amount(*count)));
        }
    }
    if !parts.is_empty() {
        let _ = writeln!(text, "parts: [{}]", parts.join(", "));
    }
    if random.chance(6) {
        let _ = writeln!(
            text,
            "costs: [{{what: {}, cost: {} EUR}}]",
            random.one(&["crane", "yard hand", "taxi to the chandler"]),
            random.between(10, 600)
        );
    }
    let readings: Vec<String> =
        guides.first().map_or(&[][..], |guide| &guide.readings).iter().map(|&index| reading(random, index)).collect();
    if !readings.is_empty() {
        let _ = writeln!(text, "readings: {{{}}}", readings.join(", "));
    }
}

/// A value near the usual one.
fn reading(random: &mut Random, index: usize) -> String {
    let (name, unit, _, usual) = READINGS[index];
    let value = usual * random.between(90, 110) / 100;
    format!("{name}: {}.{:02} {unit}", value / 1000, value % 1000 / 10)
}

fn found(text: &mut String, random: &mut Random, size: Size, n: u64, subject: &Subject, guides: &[Guide]) {
    let Some(grade) = subject.grade else { return };
    let thing = guides.first().map_or("locker", |guide| guide.thing);
    let mut finding = format!("what: \"{}\", grade: {grade}", random.one(&FINDINGS).replace('@', thing));
    if grade == "good" {
        finding = format!("what: \"The {thing} sound as far as it can be seen\", grade: good");
    } else {
        if random.chance(30) && size.guides > 0 {
            let _ = write!(finding, ", guide: {}", Guide::of(size, random.below(size.guides)).id);
        }
        if random.chance(20) {
            let _ = write!(finding, ", gear: {}", gear(random.below(gear_count(size))));
        }
        if random.chance(30) {
            let before =
                if random.chance(30) { "haul-out".to_owned() } else { date(subject.day + random.between(200, 600))[..7].to_owned() };
            let _ = write!(finding, ", before: {before}");
        }
        if grade == "act" && random.chance(40) {
            finding.push_str(", limits-use: not to be loaded hard until then");
        }
    }
    let second =
        if n.is_multiple_of(5) { format!(", {{what: \"The rest of the {thing} clean and dry\", grade: good}}") } else { String::new() };
    let _ = writeln!(text, "findings: [{{{finding}}}{second}]");
}
