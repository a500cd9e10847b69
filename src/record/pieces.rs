//! Files with a line for each entry, made on all processors and handed on bit by bit.

use rayon::prelude::*;
use std::io::{self, Write};

/// Entries whose lines are made at once, and wait for each other in memory.
const AT_ONCE: usize = 1_024;
/// Of these, on one processor in one go.
const IN_A_ROW: usize = 64;

/// Writes what `line` appends for each of `all`, in their order; it is told the place of each.
///
/// # Errors
/// Those of `out`.
pub(super) fn write_lines<T: Sync>(all: &[T], out: &mut impl Write, line: impl Fn(usize, &T, &mut Vec<u8>) + Sync) -> io::Result<()> {
    for (some, first) in all.chunks(AT_ONCE).zip((0..).step_by(AT_ONCE)) {
        let pieces: Vec<Vec<u8>> = some
            .par_chunks(IN_A_ROW)
            .enumerate()
            .map(|(piece, row)| {
                let mut text = Vec::new();
                for (at, one) in row.iter().enumerate() {
                    line(first + piece * IN_A_ROW + at, one, &mut text);
                }
                text
            })
            .collect();
        for piece in pieces {
            out.write_all(&piece)?;
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_stand_in_order_and_know_their_place() {
        for count in [0, 1, IN_A_ROW, AT_ONCE, AT_ONCE + IN_A_ROW + 1] {
            let all: Vec<usize> = (0..count).collect();
            let mut out = Vec::new();
            write_lines(&all, &mut out, |at, one, text| {
                assert_eq!(at, *one);
                text.extend_from_slice(format!("{one}\n").as_bytes());
            })
            .expect("memory does not refuse");
            assert_eq!(String::from_utf8(out).expect("digits"), all.iter().map(|one| format!("{one}\n")).collect::<String>());
        }
    }
}
