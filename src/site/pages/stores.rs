//! Stores: what is aboard, how that comes about, and who uses it.

use crate::book::model::Level;
use crate::quantity::{Exact, Rounding};
use crate::reckon::{Held, StockState};
use crate::site::figures;
use crate::site::press::Press;
use crate::site::view::{MoveView, StoreRow, StoresPage};

/// Fills the page of the stores.
#[must_use]
pub fn stores(press: &Press<'_>) -> StoresPage {
    let stores: Vec<StoreRow> = press.reckoning.stock.iter().map(|stock| row(press, stock, "")).collect();
    StoresPage { low: stores.iter().filter(|row| row.low).count(), stores, stores_more: None }
}

/// `2 aboard`, `plenty`, `never counted`; where the log used more than was counted, by how much, since
/// less than nothing cannot be aboard.
pub(super) fn aboard_text(press: &Press<'_>, stock: &StockState<'_>) -> String {
    match (stock.item.level, stock.aboard) {
        (Some(Level::Plenty), _) => press.words.text("aboard.plenty"),
        (Some(Level::Low), _) => press.words.text("aboard.low"),
        (Some(Level::None), _) => press.words.text("aboard.none"),
        (None, _) if stock.never_counted() => press.words.text("aboard.never-counted"),
        (None, Some(held)) if held.value < Exact::from_integer(0) => {
            let more = Held { value: -held.value, unit: held.unit };
            press.words.say("aboard.negative", &[("amount", &more.said(Rounding::Up))])
        }
        (None, Some(held)) => press.words.say("aboard.amount", &[("amount", &held.said(Rounding::Down))]),
        (None, None) => press.words.text("aboard.never-counted"),
    }
}

/// Whether it may be said how much is aboard: what others see was not counted, or not for them.
pub(super) fn says_aboard(press: &Press<'_>, stock: &StockState<'_>) -> bool {
    press.shows_state() || stock.item.level.is_some() || stock.item.counted.is_some()
}

/// `4 counted on 5 January 2026, 2 bought, 1 used since`.
fn reckoned(press: &Press<'_>, stock: &StockState<'_>) -> Option<String> {
    let counted = stock.counted?;
    let amount = figures::amount(&counted.amount).first;
    let mut text = press.words.say("stores.counted", &[("amount", &amount), ("date", &press.words.day(counted.on))]);
    let zero = Exact::from_integer(0);
    let unit = stock.aboard.and_then(|held| held.unit);
    let sum = |wanted: fn(&Exact, &Exact) -> bool| -> Exact {
        stock.movements.iter().map(|movement| movement.amount).filter(|amount| wanted(amount, &zero)).fold(zero, |sum, amount| sum + amount)
    };
    let said = |value: Exact| Held { value, unit }.said(Rounding::HalfEven);
    let bought = sum(|amount, zero| amount > zero);
    let used = sum(|amount, zero| amount < zero);
    if bought > zero {
        text.push_str(", ");
        text.push_str(&press.words.say("stores.bought", &[("amount", &said(bought))]));
    }
    if used < zero {
        text.push_str(", ");
        text.push_str(&press.words.say("stores.used", &[("amount", &said(-used))]));
    }
    Some(text)
}

/// Every movement since the count, with the entry it comes from.
fn moves(press: &Press<'_>, stock: &StockState<'_>, root: &str) -> Vec<MoveView> {
    let unit = stock.aboard.and_then(|held| held.unit);
    let zero = Exact::from_integer(0);
    stock
        .movements
        .iter()
        .map(|movement| {
            let (key, value) =
                if movement.amount < zero { ("stores.move-used", -movement.amount) } else { ("stores.move-bought", movement.amount) };
            let held = Held { value, unit };
            let said = || held.said(Rounding::HalfEven);
            let amount = movement.written.map_or_else(said, |written| figures::amount_counted_in(written, &held, Rounding::HalfEven));
            MoveView {
                date: press.day(movement.on),
                text: press.words.say(key, &[("amount", &amount)]),
                entry: movement.entry.map(|entry| press.entry(entry, root)),
            }
        })
        .collect()
}

/// `1`, `5 L`, `1 US gal (3.79 L)`.
fn minimum(stock: &StockState<'_>) -> Option<String> {
    let counted = Held { value: stock.minimum?, unit: stock.aboard.and_then(|held| held.unit) };
    stock.item.minimum.as_ref().map(|written| figures::amount_counted_in(written, &counted, Rounding::Up))
}

/// A line of the stores.
pub(super) fn row(press: &Press<'_>, stock: &StockState<'_>, root: &str) -> StoreRow {
    let item = stock.item;
    let users = press.users.parts.get(item.id.value.as_str()).map(Vec::as_slice).unwrap_or_default();
    let sold_in: Vec<String> = item.sold_in.iter().map(|size| figures::amount(size).first).collect();
    let told = says_aboard(press, stock);
    StoreRow {
        id: item.id.value.clone(),
        title: item.title.clone(),
        href: press.map.store(root, &item.id.value),
        part_number: item.part_number.clone(),
        stowed: item.stowed.clone(),
        aboard: if told { aboard_text(press, stock) } else { String::new() },
        reckoned: reckoned(press, stock),
        moves: if told { moves(press, stock, root) } else { Vec::new() },
        minimum: minimum(stock),
        low: told && stock.low,
        sold_in: if sold_in.is_empty() { None } else { Some(sold_in.join(", ")) },
        price: item.price.as_ref().map(ToString::to_string),
        also_fits: item.also_fits.clone(),
        note: item.note.clone(),
        expires: item.expires.as_ref().map(|month| press.month(month)),
        expired: item.expires.is_some_and(|month| month.last_day < press.reckoning.on),
        guides: users.iter().map(|guide| press.asking(guide, root)).collect(),
        guides_more: None,
    }
}
