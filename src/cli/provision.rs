//! `garboard provision`.

use super::args::{ProvisionArgs, ProvisionFormat};
use super::outcome::Exit;
use super::reckoned::{Slip, read, reckoned, tell_errors};
use super::table::aligned;
use crate::book::model::Level;
use crate::quantity::{Rounding, Unit};
use crate::reckon::{Ahead, Held, Provision, ProvisionLine, Reckoning, Remark, Standing, Use};
use crate::site::provision_csv;
use serde::Serialize;
use std::io::{self, Write};

/// Gear named one by one behind a guide; more of it is counted.
const MOST_GEAR: usize = 2;

/// A line as JSON; keys are never removed.
#[derive(Serialize)]
struct Row<'l> {
    item: &'l str,
    title: &'l str,
    needed: Option<String>,
    aboard: Option<String>,
    minimum: Option<String>,
    short: Option<String>,
    buy: Option<String>,
    r#for: Vec<&'l str>,
    cost: Vec<String>,
    packs: Vec<PackRow<'l>>,
}

#[derive(Serialize)]
struct PackRow<'l> {
    /// As it is written under `sold-in`.
    size: &'l str,
    count: u64,
}

impl<'l> From<&'l ProvisionLine<'_>> for Row<'l> {
    fn from(line: &'l ProvisionLine<'_>) -> Self {
        Self {
            item: line.id,
            title: line.title,
            needed: up(line.needed),
            aboard: line.aboard.map(|held| held.said(Rounding::Down)),
            minimum: up(line.minimum),
            short: up(line.short),
            buy: up(line.buy),
            r#for: line.uses().iter().map(|used| used.guide.id.as_str()).collect(),
            cost: line.cost.iter().map(ToString::to_string).collect(),
            packs: line.packs.iter().map(|(size, count)| PackRow { size: size.written(), count: *count }).collect(),
        }
    }
}

/// No less than is meant.
fn up(held: Option<Held>) -> Option<String> {
    held.map(|held| held.said(Rounding::Up))
}

pub fn run(args: &ProvisionArgs, out: &mut dyn Write, err: &mut dyn Write) -> io::Result<Exit> {
    let loaded = match read(&args.book) {
        Ok(loaded) => loaded,
        Err(error) => return super::no_book(err, &error),
    };
    let (reckoning, problems) = reckoned(&args.book, &loaded);
    let exit = tell_errors(err, &args.book, &problems)?;
    let ahead = match ahead(args, &reckoning) {
        Ok(ahead) => ahead,
        Err(slip) => return slip.told(err, exit),
    };
    let provision = reckoning.provision(ahead);
    match args.format {
        ProvisionFormat::Json => {
            let rows: Vec<Row<'_>> = provision.lines.iter().map(Row::from).collect();
            super::json(out, &rows)?;
        }
        ProvisionFormat::Csv => out.write_all(&provision_csv(&provision, said))?,
        ProvisionFormat::Text => {
            if exit == Exit::Problems {
                writeln!(out, "the book has errors, and this list may lack items\n")?;
            }
            text(out, &reckoning, &provision, args.all)?;
        }
    }
    Ok(exit)
}

/// What the options ask for; else what is wrong with them and what to do.
fn ahead<'b>(args: &ProvisionArgs, reckoning: &Reckoning<'b>) -> Result<Ahead<'b>, Slip> {
    match (&args.passage, &args.occasion, args.until) {
        (Some(id), ..) => super::reckoned::passage(reckoning.book, id).map(Ahead::Passage),
        (None, Some(id), _) => super::reckoned::occasion(reckoning.book, id).map(Ahead::Occasion),
        (None, None, Some(until)) if until < reckoning.on => Err(Slip {
            message: format!("{until} is over: the list is made as of {}", reckoning.on),
            remedy: "give a later day with `--until`".to_owned(),
        }),
        (None, None, until) => Ok(Ahead::Until(until.unwrap_or_else(|| reckoning.days_ahead()))),
    }
}

/// The list for people: what is to be bought, what cannot be reckoned, and, where asked for, what
/// there is enough of.
fn text(out: &mut dyn Write, reckoning: &Reckoning<'_>, provision: &Provision<'_>, all: bool) -> io::Result<()> {
    let on = reckoning.on;
    let what = match provision.ahead {
        Ahead::Until(until) => format!("for what falls due until {until}"),
        Ahead::Passage(passage) => {
            let left = if passage.depart < on { " (she left before the day of this list)" } else { "" };
            format!("for `{}`, {} to {}{left}", passage.id.value, passage.depart, provision.end)
        }
        Ahead::Occasion(id) => format!("for `{id}`"),
    };
    let order = [Standing::Buy, Standing::Look, Standing::Enough];
    let shown: Vec<&ProvisionLine<'_>> = order
        .into_iter()
        .filter(|standing| all || *standing != Standing::Enough)
        .flat_map(|standing| provision.standing(standing))
        .collect();
    if shown.is_empty() {
        let lines = if provision.lines.len() == 1 { "1 line".to_owned() } else { format!("{} lines", provision.lines.len()) };
        let more = if provision.lines.is_empty() { String::new() } else { format!("; `--all` lists {lines} of what is needed and aboard") };
        return writeln!(out, "nothing to buy {what}, as of {on}{more}");
    }
    writeln!(out, "to buy {what}, as of {on}\n")?;
    let head = ["buy", "item", "needed", "at least", "aboard", "cost", "for"].map(str::to_owned);
    aligned(out, "", std::iter::once(head).chain(shown.iter().map(|line| cells(line))).map(Vec::from).collect())?;
    if provision.standing(Standing::Buy).next().is_some() {
        let mut total: Vec<String> = provision.total.iter().map(ToString::to_string).collect();
        let no_price_known = provision.standing(Standing::Buy).all(|line| line.cost.is_none());
        match provision.unpriced {
            0 => {}
            1 if no_price_known => total.push("no prices known (1 item)".to_owned()),
            count if no_price_known => total.push(format!("no prices known ({count} items)")),
            count => total.push(format!("{count} without a price")),
        }
        if !total.is_empty() {
            writeln!(out, "\ntotal: {}", total.join(", "))?;
        }
    }
    let mut first = true;
    for line in shown {
        for remark in &line.remarks {
            let gap = if first { "\n" } else { "" };
            writeln!(out, "{gap}{}: {}", line.title, said(remark))?;
            first = false;
        }
    }
    Ok(())
}

fn cells(line: &ProvisionLine<'_>) -> [String; 7] {
    let dash = |text: Option<String>| text.unwrap_or_else(|| "-".to_owned());
    let buy = match (line.standing, line.buy) {
        (Standing::Enough, _) => "enough".to_owned(),
        (Standing::Look, _) => "look".to_owned(),
        (Standing::Buy, Some(buy)) => bought(&buy, line),
        (Standing::Buy, None) => "some".to_owned(),
    };
    let part_number = line.item.and_then(|item| item.part_number.as_ref());
    [
        buy,
        part_number.map_or_else(|| line.title.to_owned(), |number| format!("{} ({number})", line.title)),
        dash(up(line.needed)),
        dash(up(line.minimum)),
        line.aboard.map_or_else(|| by_level(line), |held| held.said(Rounding::Down)),
        dash(line.cost.as_ref().map(ToString::to_string)),
        line.uses().iter().map(used).collect::<Vec<_>>().join(", "),
    ]
}

/// `6 L: 1 × 5 L, 1 × 1 L`; the packs only where they say more.
fn bought(buy: &Held, line: &ProvisionLine<'_>) -> String {
    let total = buy.said(Rounding::Up);
    let packs: Vec<String> = line.packs.iter().map(|(size, count)| format!("{count} × {}", size.written())).collect();
    if line.packs_say_more() { format!("{total}: {}", packs.join(", ")) } else { total }
}

fn by_level(line: &ProvisionLine<'_>) -> String {
    match line.item.and_then(|item| item.level) {
        Some(Level::Plenty) => "plenty".to_owned(),
        Some(Level::Low) => "low".to_owned(),
        Some(Level::None) => "none".to_owned(),
        None => "-".to_owned(),
    }
}

/// `raw-water-impeller (charging-set) ×2 if worn`.
fn used(used: &Use<'_>) -> String {
    let mut text = used.guide.id.clone();
    if !used.gear.is_empty() && used.gear.len() <= MOST_GEAR {
        let gear: Vec<&str> = used.gear.iter().map(|gear| gear.id.value.as_str()).collect();
        text.push_str(&format!(" ({})", gear.join(", ")));
    }
    if used.times != 1 {
        text.push_str(&format!(" ×{}", used.times));
    }
    if used.if_worn {
        text.push_str(" if worn");
    }
    text
}

/// A remark in words.
fn said(remark: &Remark<'_>) -> String {
    let measure = |unit: &Option<Unit>| unit.map_or("pieces", Unit::symbol);
    match remark {
        Remark::NeverCounted => "never counted, so it counts as none aboard".to_owned(),
        Remark::Negative { by, counted } => {
            let by = by.said(Rounding::Up);
            format!("the log used {by} more than there was since the count of {counted}, so it counts as none aboard: count it again")
        }
        Remark::Level(level) => {
            let level = if *level == Level::Low { "low" } else { "none" };
            format!("its level is {level}, so it counts as none aboard")
        }
        Remark::NotInStores => "not in the stores, so it counts as none aboard".to_owned(),
        Remark::NotComparable(unit) => {
            format!("it is counted in {}, and what is needed cannot be compared with that: see yourself", measure(unit))
        }
        Remark::NoAmount => "how much is needed is not said: see yourself".to_owned(),
        Remark::Unclear => "how much is needed cannot be read: see the guide".to_owned(),
        Remark::Expires(month) => {
            let day = month.last_day;
            format!("expires {}", if month.month_only { format!("{:04}-{:02}", day.year(), day.month()) } else { day.to_string() })
        }
        Remark::Begun { entry, used } => {
            let used = used.said(Rounding::Down);
            format!("`{}`, which is not finished, has used {used} already: less may be needed", entry.id)
        }
        Remark::SoldOtherwise(unit) => {
            format!("it is counted in {}, and how it is sold cannot be compared with that: see how many packs", measure(unit))
        }
        Remark::NotChecked => "asked for by a guide of another boat, not checked for this one".to_owned(),
        Remark::CountedNoFurther => format!("needed {} times or more: counted no further", crate::reckon::MOST_TIMES),
        Remark::OtherPacks => "of so many sizes other packs may leave less over".to_owned(),
        Remark::TooLarge => "the figures are too large to reckon with".to_owned(),
    }
}
