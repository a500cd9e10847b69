//! A spreadsheet: every row has a fate, and the entry that it becomes is read back without an error.

use garboard::book::diagnostic::any_error;
use garboard::book::load::entry_of;
use garboard::book::source::Source;
use garboard::enter::csv::{Columns, DateOrder, Dates, Fate, Names, Reading, Table, Target, decode, judge, row_of};
use jiff::civil::date;
use std::collections::{BTreeMap, BTreeSet};

pub fn check(bytes: &[u8]) {
    let Ok(decoded) = decode(bytes) else { return };
    let Ok(table) = Table::read(&decoded.text) else { return };
    // Rows beyond these teach nothing and take time.
    if table.rows.len() > 40 {
        return;
    }
    let book = super::book();
    let Ok(columns) = Columns::of(&table.header, &[], &book.book.boat) else { return };
    let order = if bytes.len().is_multiple_of(2) { DateOrder::DayFirst } else { DateOrder::Iso };
    let cells = table.rows.iter().filter_map(|row| Some((row.line, row.cell(columns.one(&Target::Job)?))));
    let mut names = Names::of(&book.book, cells, &BTreeMap::new());
    names.suppose();
    let on = date(2026, 11, 24);
    let reading = Reading { table: &table, columns: &columns, dates: Dates { order, not_after: on }, decimal: None, names: &names };
    let judgement = judge(book, reading, on);
    assert_eq!(judgement.rows.len(), table.rows.len());
    let mut paths = BTreeSet::new();
    for row in &judgement.rows {
        match &row.fate {
            Fate::New(path) => {
                assert!(path.starts_with("log/") && paths.insert(path.to_lowercase()), "{path}");
                let (entry, problems) = entry_of(&Source::new(path, row.text.as_str()));
                assert!(entry.is_some() && !any_error(&problems), "{problems:?} in {}", row.text);
                assert!(row_of(&row.text).is_some(), "{}", row.text);
            }
            Fate::Already(path) => panic!("{path}: no row of this book came from a table"),
            Fate::Wrong => assert!(row.problems.iter().all(|problem| !problem.message.is_empty()) && !row.problems.is_empty(), "{row:?}"),
        }
    }
}
