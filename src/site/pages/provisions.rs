//! What to buy for the days ahead, for a passage or for an occasion, to print and carry ashore.

use crate::book::model::{Amount, Level};
use crate::quantity::{Rounding, Unit};
use crate::reckon::{Ahead, DAYS_AHEAD, Held, MOST_TIMES, Provision, ProvisionLine, Remark, Standing, Use};
use crate::site::map::{PlannedFor, ProvisionPlan};
use crate::site::press::Press;
use crate::site::provision_csv::provision_csv;
use crate::site::view::{Link, ProvisionRow, ProvisionsPage, UseView};

/// Gear named one by one behind a guide; more of it is counted.
const MOST_GEAR: usize = 2;

/// A list with its title and its table.
pub struct Sheet {
    pub title: String,
    pub page: ProvisionsPage,
    pub csv: Vec<u8>,
}

/// The way from a list up to the top of the site.
#[must_use]
pub fn provisions_root(plan: &ProvisionPlan) -> &'static str {
    if plan.what == PlannedFor::DaysAhead { "" } else { "../" }
}

/// What a list looks ahead to. `None`: the plan is of another book, which had such a passage.
#[must_use]
pub fn provisions_ahead<'b>(press: &Press<'b>, plan: &'b ProvisionPlan) -> Option<Ahead<'b>> {
    match &plan.what {
        PlannedFor::DaysAhead => Some(Ahead::Until(press.reckoning.days_ahead())),
        PlannedFor::Passage(at) => press.book.passages.get(*at).map(Ahead::Passage),
        PlannedFor::Occasion(id) => Some(Ahead::Occasion(id)),
    }
}

/// Fills a list.
#[must_use]
pub fn provisions<'b>(press: &Press<'b>, plan: &ProvisionPlan, ahead: Ahead<'b>) -> Sheet {
    let provision = press.reckoning.provision(ahead);
    let root = provisions_root(plan);
    let rows = |standing| provision.standing(standing).map(|line| row(press, line, root)).collect();
    let others = press.map.provisions.iter().filter(|other| other.what != plan.what);
    let file = plan.path.rsplit('/').next().unwrap_or_default();
    let page = ProvisionsPage {
        what: what(press, &provision),
        others: others.map(|other| Link { text: name(press, other), href: format!("{root}{}.html", other.path) }).collect(),
        csv: Link { text: press.words.text("provisions.csv"), href: format!("{file}.csv") },
        buy_more: None,
        look_more: None,
        enough_more: None,
        buy: rows(Standing::Buy),
        look: rows(Standing::Look),
        enough: rows(Standing::Enough),
        total: provision.total.iter().map(ToString::to_string).collect(),
        unpriced: provision.unpriced,
    };
    let title = match plan.what {
        PlannedFor::DaysAhead => press.words.text("pages.provisions"),
        _ => press.words.say("provisions.title", &[("what", &name(press, plan))]),
    };
    Sheet { title, page, csv: provision_csv(&provision, |remark| said(press, remark)) }
}

/// `the next 90 days`, or the title of the passage or occasion.
fn name(press: &Press<'_>, plan: &ProvisionPlan) -> String {
    match &plan.what {
        PlannedFor::DaysAhead => press.words.count("provisions.days-ahead", DAYS_AHEAD),
        PlannedFor::Passage(at) => press.book.passages.get(*at).map(|passage| passage.title.clone()).unwrap_or_default(),
        PlannedFor::Occasion(id) => press.occasion_title(id),
    }
}

fn what(press: &Press<'_>, provision: &Provision<'_>) -> String {
    let day = |date| press.words.day(date);
    let last = day(provision.end);
    match provision.ahead {
        Ahead::Until(_) => press.words.say("provisions.until", &[("date", &last)]),
        Ahead::Passage(passage) => press.words.say("provisions.passage", &[("from", &day(passage.depart)), ("to", &last)]),
        Ahead::Occasion(_) => press.words.text("provisions.occasion"),
    }
}

fn row(press: &Press<'_>, line: &ProvisionLine<'_>, root: &str) -> ProvisionRow {
    let up = |held: Option<Held>| held.map(|held| held.said(Rounding::Up));
    let item = line.item;
    ProvisionRow {
        title: line.title.to_owned(),
        href: item.map(|item| press.map.store(root, &item.id.value)),
        part_number: item.and_then(|item| item.part_number.clone()),
        stowed: item.and_then(|item| item.stowed.clone()),
        buy: up(line.buy),
        packs: packs(line),
        needed: up(line.needed).filter(|_| !line.needs.is_empty()),
        minimum: up(line.minimum),
        aboard: aboard(press, line),
        cost: line.cost.as_ref().map(ToString::to_string),
        uses: line.uses().iter().map(|used| use_view(press, used, root)).collect(),
        uses_more: None,
        remarks: line.remarks.iter().map(|remark| said(press, remark)).collect(),
    }
}

fn packs(line: &ProvisionLine<'_>) -> Option<String> {
    let pack = |(size, count): &(&Amount, u64)| format!("{count} × {}", size.written());
    line.packs_say_more().then(|| line.packs.iter().map(pack).collect::<Vec<_>>().join(" + "))
}

fn aboard(press: &Press<'_>, line: &ProvisionLine<'_>) -> String {
    let level = line.item.and_then(|item| item.level);
    match (line.aboard, level) {
        (Some(held), _) => press.words.say("aboard.amount", &[("amount", &held.said(Rounding::Down))]),
        (None, Some(Level::Plenty)) => press.words.text("aboard.plenty"),
        (None, Some(Level::Low)) => press.words.text("aboard.low"),
        (None, _) => press.words.text("aboard.none"),
    }
}

fn use_view(press: &Press<'_>, used: &Use<'_>, root: &str) -> UseView {
    let times = i64::try_from(used.times).unwrap_or(i64::MAX);
    let pieces = u64::try_from(used.gear.len()).unwrap_or(u64::MAX);
    let many = used.gear.len() > MOST_GEAR;
    UseView {
        guide: press.guide(used.guide, root),
        gear: used.gear.iter().filter(|_| !many).map(|gear| press.gear(&gear.id.value, root)).collect(),
        pieces: many.then(|| press.words.count("entry.pieces", i64::try_from(pieces).unwrap_or(i64::MAX))),
        // Once for each piece of gear is what its name says.
        times: (used.times > pieces.max(1)).then(|| press.words.count("provisions.times", times)),
        if_worn: used.if_worn,
    }
}

/// A remark in words.
fn said(press: &Press<'_>, remark: &Remark<'_>) -> String {
    let words = press.words;
    let measure = |unit: &Option<Unit>| unit.map_or_else(|| words.text("provisions.pieces"), |unit| unit.symbol().to_owned());
    match remark {
        Remark::NeverCounted => words.text("provisions.never-counted"),
        Remark::Negative { by, counted } => {
            words.say("provisions.negative", &[("amount", &by.said(Rounding::Up)), ("date", &words.day(*counted))])
        }
        Remark::Level(Level::Low) => words.text("provisions.level-low"),
        Remark::Level(_) => words.text("provisions.level-none"),
        Remark::NotInStores => words.text("provisions.not-in-stores"),
        Remark::NotComparable(unit) => words.say("provisions.not-comparable", &[("unit", &measure(unit))]),
        Remark::NoAmount => words.text("provisions.no-amount"),
        Remark::Unclear => words.text("provisions.unclear"),
        Remark::Expires(month) => words.say("provisions.expires", &[("date", &press.month(month).text)]),
        Remark::Begun { entry, used } => {
            words.say("provisions.begun", &[("job", &press.entry_title(entry)), ("amount", &used.said(Rounding::Down))])
        }
        Remark::SoldOtherwise(unit) => words.say("provisions.sold-otherwise", &[("unit", &measure(unit))]),
        Remark::NotChecked => words.text("provisions.not-checked"),
        Remark::CountedNoFurther => words.say("provisions.counted-no-further", &[("n", &MOST_TIMES.to_string())]),
        Remark::OtherPacks => words.text("provisions.other-packs"),
        Remark::TooLarge => words.text("provisions.too-large"),
    }
}
