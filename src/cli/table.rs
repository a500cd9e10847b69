//! Lists for people: columns aligned, two spaces between them.

use std::io::{self, Write};

/// Rows of cells in line, every line behind the indent.
///
/// # Errors
/// The stream is closed.
pub fn aligned(out: &mut dyn Write, indent: &str, rows: Vec<Vec<String>>) -> io::Result<()> {
    let mut widths: Vec<usize> = Vec::new();
    for row in &rows {
        widths.resize(widths.len().max(row.len()), 0);
        for (width, cell) in widths.iter_mut().zip(row) {
            *width = (*width).max(cell.chars().count());
        }
    }
    for row in &rows {
        let mut line = indent.to_owned();
        for (cell, width) in row.iter().zip(&widths) {
            line.push_str(cell);
            line.extend(std::iter::repeat_n(' ', width.saturating_sub(cell.chars().count()) + 2));
        }
        writeln!(out, "{}", line.trim_end())?;
    }
    Ok(())
}
