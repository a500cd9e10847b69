//! What is aboard: the last count, what was bought since, and what the log used since.
//!
//! Everything is kept in the unit of the count, and each movement by itself, so that a sum can be
//! followed back to the entries. What cannot be converted is left out and told of.

use std::collections::HashMap;

use jiff::civil::Date;

use super::as_of;
use super::exact::{minus, plus, whole};
use super::places::Findings;
use crate::book::model::{Amount, Book, Counted, Entry, Level, PartUse, StoreItem};
use crate::quantity::{Decimal, Exact, Number, Quantity, Rounding, Unit, round_to_decimals};

/// Digits after the point that a figure may have and still be said as it is.
const EXACT_DECIMALS: i32 = 4;
const UNITS: &str = "units-disagree";

/// So many pieces, or so much of a unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Held {
    pub value: Exact,
    /// `None`: pieces.
    pub unit: Option<Unit>,
}

impl Held {
    /// An amount as it was written.
    #[must_use]
    pub fn of(amount: &Amount) -> Self {
        match amount {
            Amount::Pieces(number) => Self { value: number.value(), unit: None },
            Amount::Measured(quantity) => Self { value: quantity.value(), unit: Some(quantity.unit()) },
        }
    }

    /// What a job uses of a part; without an amount one piece.
    #[must_use]
    pub fn used(part: &PartUse) -> Self {
        part.amount.as_ref().map_or(Self { value: whole(1), unit: None }, Self::of)
    }

    /// The value in another unit. `None`: they do not measure the same.
    #[must_use]
    pub fn in_unit(&self, unit: Option<Unit>) -> Option<Exact> {
        match (self.unit, unit) {
            (None, None) => Some(self.value),
            (Some(from), Some(to)) if from == to => Some(self.value),
            (Some(from), Some(to)) => crate::quantity::convert(&self.value, from, to),
            _ => None,
        }
    }

    /// With at most four digits after the point where that is exact; else with two, rounded so that
    /// it says no more than is there (down) or no less than is needed (up). With four where two would
    /// say that it is nothing.
    #[must_use]
    pub fn said(&self, rounding: Rounding) -> String {
        let rounded = |decimals| round_to_decimals(&self.value, decimals, rounding);
        let decimal = self
            .exactly()
            .or_else(|| rounded(2).filter(|rounded| rounded.units != 0))
            .or_else(|| rounded(EXACT_DECIMALS))
            // Too large for digits after its point.
            .or_else(|| rounded(0));
        let value = decimal.and_then(Decimal::value);
        let number = value.and_then(|value| [4, 2, 0].into_iter().find_map(|at_most| Number::from_value(&value, at_most)));
        match (number, self.unit) {
            (Some(number), Some(unit)) => Quantity::new(number, unit).to_string(),
            (Some(number), None) => number.to_string(),
            (None, Some(unit)) => format!("? {}", unit.symbol()),
            (None, None) => "?".to_owned(),
        }
    }

    /// Whether it is said as it is, and not rounded.
    #[must_use]
    pub fn is_said_exactly(&self) -> bool {
        self.exactly().is_some()
    }

    fn exactly(&self) -> Option<Decimal> {
        round_to_decimals(&self.value, EXACT_DECIMALS, Rounding::Down).filter(|decimal| decimal.value() == Some(self.value))
    }
}

/// Something that changed what is aboard since the count.
#[derive(Debug, Clone, Copy)]
pub struct Movement<'b> {
    pub on: Date,
    /// The entry that used it; `None`: it was bought.
    pub entry: Option<&'b Entry>,
    /// In the unit of the count; below zero where it was used.
    pub amount: Exact,
    /// As it was written; `None`: it was not said, and is one piece.
    pub written: Option<&'b Amount>,
}

/// A line of the stores as of a date.
#[derive(Debug, Clone)]
pub struct StockState<'b> {
    pub item: &'b StoreItem,
    /// The count that the sum starts from; `None`: never counted as of the date.
    pub counted: Option<&'b Counted>,
    /// What is aboard, below zero where the log used more than there was. `None`: it is not
    /// counted but judged by its level.
    pub aboard: Option<Held>,
    /// The unit it is reckoned in: that of its count, else the first that is written for it.
    /// `None`: pieces.
    pub unit: Option<Unit>,
    /// In the unit it is reckoned in.
    pub minimum: Option<Exact>,
    /// Since the count, oldest first.
    pub movements: Vec<Movement<'b>>,
    /// Under its minimum, or its level is low or none.
    pub low: bool,
}

impl StockState<'_> {
    /// Whether nobody ever counted it, though it is counted and not judged by its level.
    #[must_use]
    pub fn never_counted(&self) -> bool {
        self.counted.is_none() && self.aboard.is_some()
    }

    /// What can be taken from the shelf: what is aboard, and never less than none.
    #[must_use]
    pub fn usable(&self) -> Option<Held> {
        self.aboard.map(|held| Held { value: held.value.max(whole(0)), unit: held.unit })
    }

    /// What is lacking of an amount, in its unit. `None`: nothing is, or nobody can say.
    #[must_use]
    pub fn lacking(&self, needed: &Held) -> Option<Held> {
        let there = self.usable()?.in_unit(needed.unit)?;
        let value = minus(&needed.value, &there).filter(|value| *value > whole(0))?;
        Some(Held { value, unit: needed.unit })
    }
}

/// All stores in the order of `stores.yaml`; entries come oldest first.
pub(super) fn states<'b>(book: &'b Book, entries: &[&'b Entry], on: Date, findings: &mut Findings<'b>) -> Vec<StockState<'b>> {
    let mut used = uses(book, entries);
    let items = book.stores.iter().enumerate();
    items
        .map(|(at, item)| {
            let used = used.get_mut(at).map(std::mem::take).unwrap_or_default();
            state(item, &used, on, findings)
        })
        .collect()
}

/// Of each item the parts of the log that took from it.
fn uses<'b>(book: &'b Book, entries: &[&'b Entry]) -> Vec<Vec<(&'b Entry, &'b PartUse)>> {
    let items = book.stores.iter().enumerate().rev();
    let index: HashMap<&str, usize> = items.map(|(at, item)| (item.id.value.as_str(), at)).collect();
    let mut uses: Vec<Vec<(&Entry, &PartUse)>> = book.stores.iter().map(|_| Vec::new()).collect();
    for &entry in entries {
        for part in &entry.parts {
            let at = index.get(part.item.value.as_str());
            if let Some(list) = at.and_then(|at| uses.get_mut(*at)) {
                list.push((entry, part));
            }
        }
    }
    uses
}

fn state<'b>(item: &'b StoreItem, used: &[(&'b Entry, &'b PartUse)], on: Date, findings: &mut Findings<'b>) -> StockState<'b> {
    let counted = as_of::counted(item, on, findings);
    let unit = unit_of(item, counted).flatten();
    if counted.is_none()
        && let Some(level) = item.level
    {
        return StockState { item, counted: None, aboard: None, unit, minimum: None, movements: Vec::new(), low: level != Level::Plenty };
    }
    let minimum = item.minimum.as_ref().and_then(|minimum| {
        let value = Held::of(minimum).in_unit(unit);
        if value.is_none() {
            let place = findings.in_stores(item.span);
            disagree(findings, place, item, minimum.written(), unit, "its minimum");
        }
        value
    });
    let mut movements = Vec::new();
    let mut sum = whole(0);
    if let Some(counted) = counted {
        movements = bought_since(item, counted, unit, on, findings);
        movements.extend(used_since(item, counted, unit, used, findings));
        movements.sort_by_key(|movement| movement.on);
        sum = Held::of(&counted.amount).value;
        for movement in &movements {
            // A sum too large to hold is no sum that a boat could carry.
            sum = plus(&sum, &movement.amount).unwrap_or(sum);
        }
        if sum < whole(0) {
            let held = Held { value: sum, unit }.said(Rounding::Down);
            let (day, id) = (counted.on, &item.id.value);
            let place = findings.in_stores(counted.span);
            findings.warning(
                "negative-stock",
                place,
                format!("since the count of {day} the log used more `{id}` than there was: {held} aboard"),
                format!("count `{id}` again, and write the day and the number under `counted`; or note what was bought"),
            );
        }
    }
    StockState {
        item,
        counted,
        aboard: Some(Held { value: sum, unit }),
        unit,
        minimum,
        movements,
        low: minimum.is_some_and(|minimum| sum < minimum),
    }
}

/// The unit an item is reckoned in; within that `None` for pieces. `None`: no amount is written for it at all.
pub(super) fn unit_of(item: &StoreItem, counted: Option<&Counted>) -> Option<Option<Unit>> {
    item.reckoned_as(counted).map(|amount| Held::of(amount).unit)
}

/// What was bought after the day of the count.
fn bought_since<'b>(
    item: &'b StoreItem,
    counted: &Counted,
    unit: Option<Unit>,
    on: Date,
    findings: &mut Findings<'b>,
) -> Vec<Movement<'b>> {
    let mut movements = Vec::new();
    for bought in &item.bought {
        if bought.on <= counted.on || bought.on > on {
            continue;
        }
        match Held::of(&bought.amount).in_unit(unit) {
            Some(amount) => movements.push(Movement { on: bought.on, entry: None, amount, written: Some(&bought.amount) }),
            None => {
                let place = findings.in_stores(bought.span);
                disagree(findings, place, item, bought.amount.written(), unit, "this purchase");
            }
        }
    }
    movements
}

/// What the log used after the day of the count, by open entries too.
fn used_since<'b>(
    item: &'b StoreItem,
    counted: &Counted,
    unit: Option<Unit>,
    used: &[(&'b Entry, &'b PartUse)],
    findings: &mut Findings<'b>,
) -> Vec<Movement<'b>> {
    let mut movements = Vec::new();
    for &(entry, part) in used {
        let day = entry.when.day();
        let on = day.date;
        if on <= counted.on || part.unclear {
            if day.last_day() > counted.on && !part.unclear {
                about_the_count(item, counted, entry, part, findings);
            }
            continue;
        }
        let one = Held { value: whole(1), unit: None };
        let held = part.amount.as_ref().map_or(one, Held::of);
        let amount = held.in_unit(unit);
        if let Some(amount) = amount.and_then(|amount| minus(&whole(0), &amount)) {
            movements.push(Movement { on, entry: Some(entry), amount, written: part.amount.as_ref() });
            continue;
        }
        let place = findings.in_entry(entry, part.item.span);
        match (&part.amount, unit) {
            (None, Some(unit)) => {
                let (id, symbol) = (&item.id.value, unit.symbol());
                findings.warning(
                    UNITS,
                    place,
                    format!("`{id}` is counted in {symbol}, and how much was used is not said: it is left out of the stores"),
                    format!("say how much, with its unit: `{{item: {id}, qty: 1 {symbol}}}`"),
                );
            }
            (written, unit) => disagree(findings, place, item, written.as_ref().map_or("1", Amount::written), unit, "this use"),
        }
    }
    movements
}

/// Tells of a use on a day only known about, which the count may have come before or after.
fn about_the_count<'b>(item: &StoreItem, counted: &Counted, entry: &'b Entry, part: &PartUse, findings: &mut Findings<'b>) {
    let (id, on) = (&item.id.value, counted.on);
    let place = findings.in_entry(entry, part.item.span);
    findings.warning(
        "used-about-the-count",
        place,
        format!("`{id}` was counted on {on}, and nobody can tell whether that was before this use or after it: it is not taken off"),
        format!("write the day of this work if you know it, or count `{id}` again"),
    );
}

fn disagree(
    findings: &mut Findings<'_>,
    place: crate::book::source::Place,
    item: &StoreItem,
    written: &str,
    unit: Option<Unit>,
    what: &str,
) {
    let counted = unit.map_or("pieces", Unit::symbol);
    let id = &item.id.value;
    findings.warning(
        UNITS,
        place,
        format!("`{written}` cannot be reckoned with `{id}`, which is counted in {counted}: {what} is left out"),
        format!("write it in {counted}, or count `{id}` in the unit it is used in"),
    );
}
