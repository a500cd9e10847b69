//! `stores.yaml`.

use super::fields::Fields;
use super::figures::{BAD_FIGURE, amount, money};
use super::ids::{Seen, id};
use super::price_of_which_unit;
use super::root;
use super::scalar::{choice, day, month, text, tick};
use crate::book::diagnostic::Notes;
use crate::book::keys::STORE_ITEM;
use crate::book::model::{Amount, Bought, Counted, Level, StoreItem};
use crate::book::node::Node;
use crate::quantity::Exact;

const LEVELS: [(&str, Level); 3] = [("plenty", Level::Plenty), ("low", Level::Low), ("none", Level::None)];

/// Reads the parts and consumables aboard; `None` where the file is no list.
pub fn decode(notes: &mut Notes<'_>, node: &Node<'_>) -> Option<Vec<StoreItem>> {
    let mut seen = Seen::default();
    root::records(notes, node, "stores", &STORE_ITEM, |notes, fields| item(notes, fields, &mut seen))
}

fn item(notes: &mut Notes<'_>, fields: Fields<'_, '_>, seen: &mut Seen) -> Option<StoreItem> {
    let id = fields.one(notes, "id", id);
    let title = fields.one(notes, "title", text);
    let part_number = fields.one(notes, "part-number", text);
    let stowed = fields.one(notes, "stowed", text);
    let counted = fields.record(notes, "counted").and_then(|fields| dated_amount(notes, fields));
    let counted = counted.map(|(on, amount, span)| Counted { on, amount, span });
    let level = fields.one(notes, "level", |notes, spot| choice(notes, spot, &LEVELS));
    let minimum = fields.one(notes, "minimum", amount);
    let sold_in = sold_in(notes, fields);
    let price = fields.one(notes, "price", money);
    let also_fits = fields.each(notes, "also-fits", text);
    let expires = fields.one(notes, "expires", month);
    let bought =
        fields.records(notes, "bought", |notes, fields| dated_amount(notes, fields).map(|(on, amount, span)| Bought { on, amount, span }));
    let note = fields.one(notes, "note", text);
    if fields.has("counted") && fields.has("level") {
        notes.error(
            "counted-and-level",
            fields.key_span("level"),
            "`level` stands beside `counted`",
            "keep `counted` for what you count, or `level` for what nobody counts",
        );
    }
    let id = id.filter(|id| seen.is_new(notes, id))?;
    let title = title.unwrap_or_else(|| id.value.clone());
    let span = fields.span;
    let item =
        StoreItem { id, title, part_number, stowed, counted, level, minimum, sold_in, price, also_fits, expires, bought, note, span };
    price_of_which_unit::check(notes, fields, &item);
    Some(item)
}

/// `{on: …, qty: …}`.
fn dated_amount(notes: &mut Notes<'_>, fields: Fields<'_, '_>) -> Option<(jiff::civil::Date, Amount, crate::book::source::Span)> {
    let on = fields.one(notes, "on", day);
    let amount = fields.one(notes, "qty", amount);
    Some((on?, amount?, fields.span))
}

fn sold_in(notes: &mut Notes<'_>, fields: Fields<'_, '_>) -> Vec<Amount> {
    let sizes = fields.one_or_each(notes, "sold-in", |notes, spot| {
        let size = amount(notes, spot)?;
        let value = match &size {
            Amount::Pieces(number) => number.value(),
            Amount::Measured(quantity) => quantity.value(),
        };
        if value == Exact::from_integer(0) {
            let message = "nothing is sold by nought".to_owned();
            notes.error(BAD_FIGURE, spot.span(), message, "write how it is sold, or take `sold-in` out if it is sold singly");
            return None;
        }
        Some(size)
    });
    let pieces = sizes.iter().filter(|size| matches!(size, Amount::Pieces(_))).count();
    if pieces > 0 && pieces < sizes.len() {
        // `[1,5 L]` is a list of one piece and five litres.
        let message = format!("{} mixes numbers of pieces and amounts with a unit", tick("sold-in"));
        let remedy = "give every size its unit; if a comma was meant as a decimal sign, write a point: `1.5 L`";
        notes.error(BAD_FIGURE, fields.value_span("sold-in"), message, remedy);
        return Vec::new();
    }
    sizes
}
