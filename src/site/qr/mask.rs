//! How much a QR code looks like what a reader could take for something else (ISO/IEC 18004, 7.8.3): of the eight masks
//! the one with the fewest points is chosen.
//!
//! A row is a number, and its modules are weighed together, along the row as well as down the columns.

use super::layout::{Row, WIDEST};

/// A line of modules that readers look for: dark, light, three dark, light, dark.
const FINDER: [bool; 7] = [true, false, true, true, true, false, true];
/// Light modules before or behind it that make it one.
const CLEAR: isize = 4;

/// The points of table 11 of the standard for a square of rows; the 360 of the three finders, which every mask has, are
/// not taken off.
#[must_use]
pub fn penalty(rows: &[Row]) -> u32 {
    let width = rows.len();
    let dark: u32 = rows.iter().map(|row| row.count_ones()).sum();
    let share = dark as usize * 200 / (width * width);
    runs(rows) + blocks(rows) + finders(rows) + u32::try_from(share.abs_diff(100)).unwrap_or(u32::MAX)
}

/// The lowest `count` bits.
fn lowest(count: usize) -> Row {
    if count >= WIDEST { Row::MAX } else { (1 << count) - 1 }
}

/// Modules that are like the one to the right.
fn alike_beside(row: Row, width: usize) -> Row {
    !(row ^ row >> 1) & lowest(width - 1)
}

/// Modules that are like the one below.
fn alike_below(upper: Row, lower: Row, width: usize) -> Row {
    !(upper ^ lower) & lowest(width)
}

/// Five or more alike in a line: their number, less two. Where n are, n − 4 are the first of five: so many points, and
/// two for the first of them all.
fn runs(rows: &[Row]) -> u32 {
    let width = rows.len();
    let mut points = 0;
    for row in rows {
        let alike = alike_beside(*row, width);
        let five = alike & alike >> 1 & alike >> 2 & alike >> 3;
        points += five.count_ones() + 2 * (five & !(five << 1)).count_ones();
    }
    // The same downwards, a row of columns at a time.
    let mut alike = [0; 4];
    let mut before = 0;
    for (at, pair) in rows.windows(2).enumerate() {
        alike[at % 4] = alike_below(pair[0], pair[1], width);
        let five = alike[0] & alike[1] & alike[2] & alike[3];
        points += five.count_ones() + 2 * (five & !before).count_ones();
        before = five;
    }
    points
}

/// Three for every block of two by two alike.
fn blocks(rows: &[Row]) -> u32 {
    let width = rows.len();
    let block = |upper: Row, lower: Row| alike_beside(upper, width) & alike_beside(lower, width) & alike_below(upper, lower, width);
    rows.windows(2).map(|pair| 3 * block(pair[0], pair[1]).count_ones()).sum()
}

/// Forty for each [`FINDER`] with [`CLEAR`] light modules before or behind it; all is light outside.
fn finders(rows: &[Row]) -> u32 {
    let width = rows.len();
    let beside = |row: Row| begun(width, |step| if step < 0 { row << -step } else { row >> step });
    let below = |top: usize| begun(width, |step| top.checked_add_signed(step).and_then(|at| rows.get(at)).copied().unwrap_or_default());
    40 * rows.iter().map(|row| beside(*row)).chain((0..width).map(below)).sum::<u32>()
}

/// How many of a row of modules begin such a line. `at`: the modules so many steps further along it.
fn begun(width: usize, at: impl Fn(isize) -> Row) -> u32 {
    let line = FINDER.iter().zip(0..).fold(lowest(width), |line, (dark, step)| line & if *dark { at(step) } else { !at(step) });
    if line == 0 {
        return 0;
    }
    let clear = |from: isize| !(from..from + CLEAR).fold(0, |dark, step| dark | at(step));
    (line & (clear(-CLEAR) | clear(FINDER.len() as isize))).count_ones()
}
