//! What the pages' scripts need to write a record on the phone: of a guide its parts, readings and
//! gear; of the boat her meters, stores and guides, in a file of its own that is loaded on use.
//!
//! Nothing private: what the pages show is what stands here.

use crate::book::model::{Amount, Boat, Book, Entry, Guide, PartUse, ReadingSpec};
use crate::enter::record_of;
use crate::quantity::{Figure, Unit, plain_decimal};
use crate::reckon::{MeterState, Reckoning, StockState};
use crate::site::escape;
use crate::site::figures::reading_title;
use serde::Serialize;

/// Largest `boat.js`, in bytes: a phone reads it from a stick without a wait.
pub const LARGEST: usize = 100_000;
/// Records whose ids stand in `boat.js`, the newest: enough for a phone that comes home now and then.
const RECORDS: usize = 200;
/// Places after the point of a limit.
const DECIMALS: u32 = 12;

#[derive(Serialize)]
struct Job<'b> {
    parts: Vec<Part<'b>>,
    readings: Vec<Reading<'b>>,
    gear: Vec<Named<'b>>,
}

#[derive(Serialize)]
struct Part<'b> {
    item: &'b str,
    title: &'b str,
    /// As an entry takes it.
    qty: &'b str,
    #[serde(skip_serializing_if = "is_false")]
    worn: bool,
}

#[derive(Serialize)]
struct Reading<'b> {
    id: &'b str,
    name: String,
    unit: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    low: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    high: Option<String>,
    #[serde(skip_serializing_if = "<[String]>::is_empty")]
    points: &'b [String],
}

#[derive(Serialize)]
struct Named<'b> {
    id: &'b str,
    title: &'b str,
}

#[derive(Serialize)]
struct BoatData<'b> {
    meters: Vec<MeterData<'b>>,
    systems: Vec<Named<'b>>,
    gear: Vec<Named<'b>>,
    stores: Vec<Store<'b>>,
    guides: Vec<GuideData<'b>>,
    /// Ids of records that are in the log with their latest state, so that a phone knows what it has brought home.
    records: Vec<(&'b str, u32)>,
    /// Something was left out, because there is too much of it.
    short: bool,
}

#[derive(Serialize)]
struct MeterData<'b> {
    id: &'b str,
    title: &'b str,
    unit: &'static str,
    last: Option<LastRead>,
}

#[derive(Serialize)]
struct LastRead {
    /// As the counter showed it.
    value: String,
    /// The value is only known about.
    #[serde(skip_serializing_if = "is_false")]
    about: bool,
    /// A month or a year where no more is known.
    day: String,
    /// The day is only known about.
    #[serde(skip_serializing_if = "is_false")]
    around: bool,
}

#[derive(Serialize)]
struct Store<'b> {
    id: &'b str,
    title: &'b str,
    /// `null`: by the piece.
    unit: Option<&'static str>,
}

#[derive(Serialize)]
struct GuideData<'b> {
    id: &'b str,
    title: &'b str,
    #[serde(skip_serializing_if = "is_false")]
    routine: bool,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    gear: Vec<&'b str>,
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "the shape that serde asks for")]
fn is_false(flag: &bool) -> bool {
    !flag
}

/// What a record of this guide is made from, as JSON that may stand in a page.
#[must_use]
pub fn job(book: &Book, guide: &Guide) -> String {
    json(&Job {
        parts: guide.parts.iter().map(|used| part(book, used)).collect(),
        readings: guide.readings.iter().map(reading).collect(),
        gear: guide.for_gear.iter().map(|name| gear(&book.boat, &name.value)).collect(),
    })
}

fn part<'b>(book: &'b Book, used: &'b PartUse) -> Part<'b> {
    let item = used.item.value.as_str();
    let qty = used.amount.as_ref().map_or("1", Amount::written);
    Part { item, title: book.store(item).map_or(item, |store| store.title.as_str()), qty, worn: used.if_worn }
}

fn reading(spec: &ReadingSpec) -> Reading<'_> {
    // Limits are in the unit of their reading: the book allows no other.
    let (low, high) = spec.limits.as_ref().map(Figure::bounds).unwrap_or_default();
    let text = |value| plain_decimal(&value, DECIMALS);
    Reading {
        id: &spec.id,
        name: reading_title(spec),
        unit: spec.unit.symbol(),
        low: low.map(text),
        high: high.map(text),
        points: &spec.points,
    }
}

fn gear<'b>(boat: &'b Boat, id: &'b str) -> Named<'b> {
    Named { id, title: boat.gear(id).map_or(id, |gear| gear.title.as_str()) }
}

/// The file `boat.js`. Of a book too large for it, first the gear of guides is left out, then the
/// guides that are no rounds, then stores from the end of the list; `short` tells that something was.
#[must_use]
pub fn boat(book: &Book, reckoning: &Reckoning<'_>) -> String {
    let mut data = BoatData {
        meters: reckoning.meters.iter().map(meter).collect(),
        systems: book.boat.systems.iter().map(|system| Named { id: &system.id.value, title: &system.title }).collect(),
        gear: book.boat.gear.iter().map(|gear| Named { id: &gear.id.value, title: &gear.title }).collect(),
        stores: reckoning.stock.iter().map(store).collect(),
        guides: book.guides.iter().map(guide_data).collect(),
        records: records(&reckoning.entries),
        short: false,
    };
    let mut text = file(&data);
    if text.len() > LARGEST {
        data.short = true;
        data.guides.iter_mut().for_each(|guide| guide.gear.clear());
        text = file(&data);
    }
    if text.len() > LARGEST {
        data.guides.retain(|guide| guide.routine);
        text = file(&data);
    }
    while text.len() > LARGEST && !data.stores.is_empty() {
        data.stores.truncate(data.stores.len() * 3 / 4);
        text = file(&data);
    }
    // A boat of thousands of meters or pieces of gear: the record is then made without lists.
    if text.len() > LARGEST {
        let empty = BoatData {
            meters: Vec::new(),
            systems: Vec::new(),
            gear: Vec::new(),
            stores: Vec::new(),
            guides: Vec::new(),
            records: Vec::new(),
            short: true,
        };
        text = file(&empty);
    }
    text
}

fn file(data: &BoatData<'_>) -> String {
    format!("window.garboardBoat={};\nif(window.garboard)garboard.part(\"boat\",function(){{return garboardBoat}});\n", json(data))
}

fn meter<'b>(state: &MeterState<'b>) -> MeterData<'b> {
    let last = state.last_reading().map(|reading| {
        // Of a day on which the counter was replaced, what the new one began with.
        let shown = reading.replaced.unwrap_or(reading.shown);
        let day = reading.day();
        let value = plain_decimal(&shown.value(), DECIMALS);
        LastRead { value, about: reading.value_about, day: day.known(), around: day.about }
    });
    MeterData { id: &state.meter.id.value, title: &state.meter.title, unit: state.meter.unit.symbol(), last }
}

fn store<'b>(state: &StockState<'b>) -> Store<'b> {
    Store { id: &state.item.id.value, title: &state.item.title, unit: state.unit.map(Unit::symbol) }
}

fn guide_data(guide: &Guide) -> GuideData<'_> {
    let gear = guide.for_gear.iter().map(|name| name.value.as_str()).collect();
    GuideData { id: &guide.id, title: &guide.title, routine: guide.routine, gear }
}

/// Records in the log, the newest first.
fn records<'b>(entries: &[&'b Entry]) -> Vec<(&'b str, u32)> {
    let found = entries.iter().rev().filter_map(|entry| record_of(entry.source.text()));
    found.map(|record| (record.id, record.state)).take(RECORDS).collect()
}

/// JSON in which no text can end the script it stands in.
pub(super) fn json<T: Serialize>(data: &T) -> String {
    escape::script_json(serde_json::to_string(data).unwrap_or_else(|_| "null".to_owned()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::model::{Bought, Counted, StoreItem, System};
    use crate::book::source::{Name, Span};
    use crate::quantity::Quantity;
    use crate::reckon::reckon;
    use jiff::civil::date;

    fn boat_of(book: &Book) -> serde_json::Value {
        let text = boat(book, &reckon(book, date(2026, 6, 1)).0);
        assert!(text.len() <= LARGEST, "{} bytes", text.len());
        let json = text.strip_prefix("window.garboardBoat=").and_then(|rest| rest.split_once(";\n")).expect("one value a line").0;
        serde_json::from_str(json).expect("JSON")
    }

    fn name(value: String) -> Name {
        Name::new(value, Span::default())
    }

    /// An item of which nothing is written but its name.
    fn item(id: &str, title: &str) -> StoreItem {
        StoreItem { id: name(id.to_owned()), title: title.to_owned(), ..StoreItem::default() }
    }

    #[test]
    fn an_item_is_used_in_the_unit_it_is_reckoned_in() {
        let litres = |text| Amount::Measured(Quantity::parse(text).expect("a quantity"));
        let bought = Bought { on: date(2026, 3, 1), amount: litres("5 L"), span: Span::default() };
        // Counted on a day that is yet to come: the unit is that of the minimum.
        let counted = Counted { on: date(2026, 7, 1), amount: litres("3 US gal"), span: Span::default() };
        let mut book = Book::default();
        book.stores.push(StoreItem { bought: vec![bought], ..item("coolant", "Coolant") });
        book.stores.push(StoreItem { counted: Some(counted), minimum: Some(litres("2 L")), ..item("oil", "Oil") });
        book.stores.push(item("rag", "Rag"));
        let data = boat_of(&book);
        let units: Vec<&serde_json::Value> = data["stores"].as_array().expect("a list").iter().map(|store| &store["unit"]).collect();
        assert_eq!(units, ["L", "L"].map(serde_json::Value::from).iter().chain([&serde_json::Value::Null]).collect::<Vec<_>>());
    }

    #[test]
    fn no_text_ends_the_script_it_stands_in() {
        let mut book = Book::default();
        book.boat.systems.push(System { id: name("engine".to_owned()), title: "</script><b>\u{2028}".to_owned() });
        let text = boat(&book, &reckon(&book, date(2026, 6, 1)).0);
        assert!(!text.contains('<') && !text.contains('\u{2028}'), "{text}");
        assert_eq!(boat_of(&book)["systems"][0]["title"], "</script><b>\u{2028}");
    }

    #[test]
    fn a_book_too_large_loses_its_last_stores_and_says_so() {
        let mut book = Book::default();
        for number in 0..5000 {
            book.stores.push(item(&format!("item-{number:04}"), &format!("Thing number {number:04}")));
        }
        let data = boat_of(&book);
        assert_eq!(data["short"], true);
        let stores = data["stores"].as_array().expect("a list");
        // 5000 lines of some 58 bytes are 290 kB; three quarters again and again come under 100 kB.
        assert!((1000..5000).contains(&stores.len()), "{}", stores.len());
        assert_eq!(stores[0]["id"], "item-0000");
        book.stores.truncate(10);
        assert_eq!(boat_of(&book)["short"], false);
    }
}
