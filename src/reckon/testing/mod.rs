//! Small books for tests, written much as the crew writes them.

mod entries;
mod guides;
mod lines;
mod parts;
mod passages;
mod stores;

use jiff::civil::Date;

use crate::book::date::{Month, parse_day, parse_month};
use crate::book::model::{Amount, Book, Entry, Gear, Guide, Meter, MeterRow, StoreItem};
use crate::book::source::{Name, Placed, Source, Span};
use crate::quantity::{Number, Quantity, Unit};

pub(super) use entries::entry;
pub(super) use guides::{gear, guide};
pub(super) use lines::{case, line, told};
pub(super) use passages::passage;
pub(super) use stores::item;

pub(super) fn day(text: &str) -> Date {
    parse_day(text).expect("a day")
}

pub(super) fn number(text: &str) -> Number {
    Number::parse(text).expect("a number")
}

pub(super) fn quantity(text: &str) -> Quantity {
    Quantity::parse(text).expect("a quantity")
}

pub(super) fn name(text: &str) -> Name {
    Placed::new(text.to_owned(), Span::default())
}

fn month(text: &str) -> Month {
    parse_month(text).expect("a month")
}

/// `3` is pieces, `7.5 L` is measured.
pub(super) fn amount(text: &str) -> Amount {
    match Number::parse(text) {
        Ok(number) => Amount::Pieces(number),
        Err(_) => Amount::Measured(quantity(text)),
    }
}

/// A book with two meters, `engine` in hours and `miles`.
pub(super) fn book() -> Book {
    Book::default().meter("engine", "h").meter("miles", "nmi")
}

/// What tests add to a book.
pub(super) trait Writing: Sized {
    fn meter(self, id: &str, unit: &str) -> Self;
    fn gear(self, gear: Gear) -> Self;
    fn guide(self, guide: Guide) -> Self;
    fn entry(self, entry: Entry) -> Self;
    /// A row of `meters.csv`.
    fn row(self, row: &str) -> Self;
    fn item(self, item: StoreItem) -> Self;
    fn in_service(self, on: &str) -> Self;
}

impl Writing for Book {
    fn meter(mut self, id: &str, unit: &str) -> Self {
        self.boat.meters.push(Meter { id: name(id), title: id.to_owned(), unit: Unit::parse(unit).expect("a unit") });
        self
    }

    fn gear(mut self, gear: Gear) -> Self {
        self.boat.gear.push(gear);
        self
    }

    fn guide(mut self, guide: Guide) -> Self {
        self.guides.push(guide);
        self.guides.sort_by(|a, b| a.id.cmp(&b.id));
        self
    }

    fn entry(mut self, entry: Entry) -> Self {
        self.entries.push(entry);
        self.entries.sort_by(|a, b| a.id.cmp(&b.id));
        self
    }

    fn row(mut self, row: &str) -> Self {
        let path = "meters.csv";
        let mut text = match self.sources.get(path) {
            Some(source) => source.text().to_owned(),
            None => "date,meter,value,replaced\n".to_owned(),
        };
        let start = text.len();
        text.push_str(row);
        let span = Span::new(start, text.len());
        text.push('\n');
        self.sources.insert(path.into(), Source::new(path, text));
        let cells: Vec<&str> = row.split(',').collect();
        let [date, meter, value, replaced @ ..] = cells.as_slice() else {
            panic!("three cells or four: {row}");
        };
        self.readings.push(MeterRow {
            date: day(date),
            meter: name(meter),
            value: number(value),
            replaced: replaced.first().map(|first| number(first)),
            span,
        });
        self
    }

    fn item(mut self, item: StoreItem) -> Self {
        self.stores.push(item);
        self
    }

    fn in_service(mut self, on: &str) -> Self {
        self.boat.in_service = Some(day(on));
        self
    }
}
