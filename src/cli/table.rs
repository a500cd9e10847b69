//! Lists for people: columns aligned, two spaces between them.

use std::io::{self, Write};

/// Prints rows under their heads; the last column may be as long as it likes.
///
/// # Errors
/// The stream is closed.
pub fn table<const N: usize>(out: &mut dyn Write, head: [&str; N], rows: &[[String; N]]) -> io::Result<()> {
    let head = head.map(str::to_owned);
    let mut widths = head.each_ref().map(|cell| cell.chars().count());
    for row in rows {
        for (width, cell) in widths.iter_mut().zip(row) {
            *width = (*width).max(cell.chars().count());
        }
    }
    for row in std::iter::once(&head).chain(rows) {
        let mut line = String::new();
        for (cell, width) in row.iter().zip(widths) {
            line.push_str(cell);
            line.extend(std::iter::repeat_n(' ', width - cell.chars().count() + 2));
        }
        writeln!(out, "{}", line.trim_end())?;
    }
    Ok(())
}
