//! `meters.csv`: readings in bulk, as a spreadsheet or a logger writes them.
//!
//! Fields are cut by RFC 4180, but line by line, so that every one keeps its place and a quotation
//! mark that is never closed costs one row and not the rest of the file.

use super::ids::id_of_words;
use super::scalar::{plain_words, tick};
use crate::book::date::parse_day;
use crate::book::diagnostic::Notes;
use crate::book::id::looks_like_id;
use crate::book::model::MeterRow;
use crate::book::private_misplaced::in_value;
use crate::book::source::{Name, Span};
use crate::quantity::Number;

/// Most rows read; a reading a day for three hundred years.
const MOST_ROWS: usize = 100_000;
/// Most problems told of one file; beyond them the file is another one than was meant.
const MOST_PROBLEMS: usize = 50;

const HEADER: &str = "the first line must be `date,meter,value` or `date,meter,value,replaced`";

/// A field with its place; quotation marks taken off.
struct Cell {
    text: String,
    span: Span,
}

/// Reads the rows; those that cannot be read are noted and left out. `None`: another header.
pub fn decode(notes: &mut Notes<'_>) -> Option<Vec<MeterRow>> {
    let source = notes.source();
    if source.text().trim_start_matches('\u{feff}').trim().is_empty() {
        return Some(Vec::new());
    }
    let mut lines = lines(source.text());
    let columns = header(notes, lines.next())?;
    let before = notes.found.len();
    let mut rows = Vec::new();
    for (number, (line, span)) in lines.enumerate() {
        if number >= MOST_ROWS {
            notes.error(
                "too-large",
                span,
                format!("this file has more than {MOST_ROWS} rows"),
                "keep the readings that matter, such as one a month",
            );
            break;
        }
        if notes.found.len() - before >= MOST_PROBLEMS {
            notes.error("too-many-problems", span, "the rest of this file was not read", "mend what is told above first");
            break;
        }
        if line.contains('<') {
            in_value(notes, span, line);
        }
        if !line.trim().is_empty() {
            rows.extend(row(notes, line, span, columns));
        }
    }
    Some(rows)
}

/// The lines of the text with their places, without byte-order mark and line ends.
fn lines(text: &str) -> impl Iterator<Item = (&str, Span)> {
    let mut at = if text.starts_with('\u{feff}') { '\u{feff}'.len_utf8() } else { 0 };
    std::iter::from_fn(move || {
        let rest = text.get(at..).filter(|rest| !rest.is_empty())?;
        let raw = rest.split_inclusive('\n').next().unwrap_or_default();
        let line = raw.trim_end_matches(['\r', '\n']);
        let span = Span::new(at, at + line.len());
        at += raw.len();
        Some((line, span))
    })
}

/// How many columns there are, 3 or 4; `None` where the header is another (noted).
fn header(notes: &mut Notes<'_>, first: Option<(&str, Span)>) -> Option<usize> {
    let (line, span) = first.unwrap_or_default();
    let names = line.split(',').map(|name| name.trim().trim_matches('"').to_lowercase()).collect::<Vec<_>>();
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    match names.as_slice() {
        ["date", "meter", "value"] => Some(3),
        ["date", "meter", "value", "replaced"] => Some(4),
        _ => {
            let remedy = if line.contains([';', '\t']) { "separate the columns with commas: `date,meter,value`" } else { HEADER };
            notes.error("csv-header", span, "this is not the header of `meters.csv`", remedy);
            None
        }
    }
}

fn row(notes: &mut Notes<'_>, line: &str, span: Span, columns: usize) -> Option<MeterRow> {
    let cells = match cells(line, span) {
        Ok(cells) => cells,
        Err(at) => {
            notes.error(
                "csv-row",
                at,
                "a quotation mark is not in its place here",
                "take the quotation marks out: no value of this file needs them",
            );
            return None;
        }
    };
    // The last column may be left out where it is empty.
    if cells.len() > columns || cells.len() < 3 {
        let message = format!("this row has {} values, and the header names {columns}", cells.len());
        let remedy = if cells.len() > columns && columns == 3 && !line.contains('"') {
            "write one value a column, decimals with a point: `1840.5`; a replaced counter needs the column `replaced` in the header"
        } else if line.contains(';') {
            "separate the columns with commas"
        } else {
            "write one value a column, decimals with a point: `2026-03-14,engine,1840.5`"
        };
        notes.error("csv-row", span, message, remedy);
        return None;
    }
    let mut plain = Vec::with_capacity(cells.len());
    for cell in cells {
        plain.push(Cell { text: plain_words(notes, &cell.text, cell.span)?.into_owned(), span: cell.span });
    }
    let mut cells = plain.into_iter();
    let (date, meter, value, replaced) = (cells.next()?, cells.next()?, cells.next()?, cells.next());
    let day = match parse_day(&date.text) {
        Ok(day) => Some(day),
        Err(error) => {
            notes.error("bad-date", date.span, error.message, error.remedy);
            None
        }
    };
    let meter = self::meter(notes, &meter);
    let value = number(notes, &value);
    let replaced = match replaced.filter(|cell| !cell.text.is_empty()) {
        Some(cell) => Some(number(notes, &cell)?),
        None => None,
    };
    Some(MeterRow { date: day?, meter: meter?, value: value?, replaced, span })
}

fn meter(notes: &mut Notes<'_>, cell: &Cell) -> Option<Name> {
    if looks_like_id(&cell.text) {
        return Some(Name::new(cell.text.clone(), cell.span));
    }
    let id = id_of_words(notes, &cell.text, cell.span)?;
    let message = format!("{} is not the id of a meter", tick(&cell.text));
    notes.error("bad-id", cell.span, message, format!("write the id that `boat.yaml` gives it, such as {}", tick(&id)));
    None
}

fn number(notes: &mut Notes<'_>, cell: &Cell) -> Option<Number> {
    match Number::parse(&cell.text) {
        Ok(number) => Some(number),
        Err(error) => {
            notes.error("bad-figure", cell.span, error.to_string(), error.remedy());
            None
        }
    }
}

/// Cuts a line into its fields (RFC 4180); `Err` is the place of a quotation mark out of place.
fn cells(line: &str, span: Span) -> Result<Vec<Cell>, Span> {
    let base = span.start as usize;
    let mut found = Vec::new();
    let mut at = 0;
    loop {
        let rest = line.get(at..).unwrap_or_default();
        let indent = rest.len() - rest.trim_start().len();
        let start = at + indent;
        let (text, end) = match rest.trim_start().strip_prefix('"') {
            Some(_) => quoted_cell(line, start).ok_or_else(|| Span::new(base + start, span.end as usize))?,
            None => {
                let end = rest.find(',').map_or(line.len(), |comma| at + comma);
                let text = line.get(start..end.max(start)).unwrap_or_default().trim().to_owned();
                if let Some(quote) = text.find('"') {
                    return Err(Span::new(base + start + quote, base + start + quote + 1));
                }
                (text, end)
            }
        };
        let shown_end = line.get(start..end).map_or(end, |shown| start + shown.trim_end().len());
        let start = start.min(end);
        found.push(Cell { text, span: Span::new(base + start, base + shown_end.max(start)) });
        if end >= line.len() {
            return Ok(found);
        }
        at = end + 1;
    }
}

/// A field in quotation marks that begins at `start`, and where it ends; two marks stand for one.
fn quoted_cell(line: &str, start: usize) -> Option<(String, usize)> {
    let mut text = String::new();
    let mut at = start + 1;
    loop {
        let rest = line.get(at..)?;
        let mark = rest.find('"')?;
        text.push_str(rest.get(..mark)?);
        at += mark + 1;
        let after = line.get(at..)?;
        if after.starts_with('"') {
            text.push('"');
            at += 1;
            continue;
        }
        let end = at + (after.len() - after.trim_start().len());
        let closed = line.get(end..)?.is_empty() || line.get(end..)?.starts_with(',');
        return closed.then(|| (text.trim().to_owned(), end));
    }
}
