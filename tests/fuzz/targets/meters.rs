//! `meters.csv`: every row that is read has its reading, and every other is told.

use garboard::book::decode::meters_csv;
use garboard::book::diagnostic::{Notes, tidy};
use garboard::book::source::Source;

pub fn check(bytes: &[u8]) {
    let Some(text) = super::text(bytes) else { return };
    for text in [text.to_owned(), format!("date,meter,value,replaced\n{text}")] {
        let source = Source::new("meters.csv", text.as_str());
        let mut notes = Notes::new(&source);
        let rows = meters_csv::decode(&mut notes);
        tidy(&mut notes.found);
        super::assert_told(&notes.found, &text);
        let Some(rows) = rows else {
            assert!(!notes.found.is_empty(), "refused without a word");
            continue;
        };
        assert!(rows.len() < text.split(['\n', '\r']).count());
        for row in rows {
            assert!((1800..=2999).contains(&row.date.year()));
        }
    }
}
