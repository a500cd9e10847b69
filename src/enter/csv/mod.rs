//! History from a spreadsheet: a table of comma-separated values becomes entries of the log.
//!
//! [`decode`] makes text of the bytes, [`Table::read`] rows of the text, [`Columns::of`] says which
//! column is what, [`Names::of`] which guides the job names mean, and [`judge`] makes an entry of
//! every row and holds all of them against the whole book at once. Nothing here touches the disk.

mod columns;
mod dates;
mod decisions;
mod judge;
mod markdown;
mod names;
mod numbers;
mod row;
mod similar;
mod table;
mod taken;
mod text;
mod units;
mod values;

pub use columns::{Columns, Target};
pub use dates::{DateOrder, Dates, Undecided, dates_of};
pub use decisions::{Decision, add_suggestions, read_decisions};
pub use judge::{Fate, Judged, Judgement, Reading, judge};
pub use markdown::plain;
pub use names::{Doubtful, Names};
pub use numbers::DecimalMark;
pub use row::row_of;
pub use table::{Row, Table};
pub use text::{Decoded, decode};

/// Something wrong with the file or what was asked of it; shown to the crew.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CsvProblem {
    /// What is wrong.
    pub message: String,
    /// How to mend it.
    pub remedy: String,
}

impl CsvProblem {
    fn new(message: impl Into<String>, remedy: impl Into<String>) -> Self {
        Self { message: message.into(), remedy: remedy.into() }
    }
}
