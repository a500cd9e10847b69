//! The dark modules of a QR code (ISO/IEC 18004), the same that the crate would draw.

use super::layout::{LEVEL, Layout, Row};
use super::mask::penalty;
use qrcode::{Color, QrCode, Version, bits, ec};
use std::sync::OnceLock;

/// The widest version of which a row is a number: 125 modules.
const WIDEST_VERSION: usize = 27;

static LAYOUTS: [OnceLock<Layout>; WIDEST_VERSION] = [const { OnceLock::new() }; WIDEST_VERSION];

/// A code as lines of dark modules.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Code {
    /// Modules a side.
    pub width: usize,
    /// Row by row, from the left.
    pub runs: Vec<Run>,
}

/// Dark modules side by side.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Run {
    pub row: usize,
    pub column: usize,
    pub length: usize,
}

/// The code of a text. `None`: it is too long for one.
#[must_use]
pub fn code(text: &str) -> Option<Code> {
    let bits = bits::encode_auto(text.as_bytes(), LEVEL).ok()?;
    let version = bits.version();
    let Some(layout) = layout(version) else { return wide(text) };
    let (data, correction) = ec::construct_codewords(&bits.into_bytes(), version, LEVEL).ok()?;
    let masked = layout.masked(data.into_iter().chain(correction));
    masked.into_iter().min_by_key(|rows| penalty(rows)).map(|rows| Code { width: rows.len(), runs: runs(&rows) })
}

/// `None`: its rows are no numbers.
fn layout(version: Version) -> Option<&'static Layout> {
    let Version::Normal(number) = version else { return None };
    let at = usize::try_from(number).ok()?.checked_sub(1)?;
    Some(LAYOUTS.get(at)?.get_or_init(|| Layout::new(version)))
}

fn runs(rows: &[Row]) -> Vec<Run> {
    let mut runs = Vec::with_capacity(rows.len() * rows.len() / 4);
    for (row, line) in rows.iter().enumerate() {
        let mut rest = *line;
        let mut column = 0;
        while rest != 0 {
            let light = rest.trailing_zeros();
            let length = (rest >> light).trailing_ones();
            column += light as usize;
            runs.push(Run { row, column, length: length as usize });
            column += length as usize;
            rest = (rest >> light).checked_shr(length).unwrap_or_default();
        }
    }
    runs
}

/// A code as the crate draws it, whatever its size.
fn wide(text: &str) -> Option<Code> {
    let code = QrCode::with_error_correction_level(text, LEVEL).ok()?;
    let width = code.width();
    let colors = code.into_colors();
    let mut runs = Vec::new();
    for (row, line) in colors.chunks(width).enumerate() {
        let mut column = 0;
        for alike in line.chunk_by(|one, next| one == next) {
            if alike.first() == Some(&Color::Dark) {
                runs.push(Run { row, column, length: alike.len() });
            }
            column += alike.len();
        }
    }
    Some(Code { width, runs })
}

#[cfg(test)]
mod tests {
    use super::{WIDEST_VERSION, code, wide};
    use crate::site::qr::layout::WIDEST;

    /// The crate weighs every mask by the letter of the standard.
    #[test]
    fn the_mask_is_the_one_that_the_crate_finds_best() {
        for length in (1..=120).chain([300, 600, 1100]) {
            let text = format!("https://skerrywake.example/{}", "guides/oil-and-filter.html?".repeat(60).get(..length).unwrap_or_default());
            assert_eq!(code(&text), Some(wide(&text).expect("it fits")), "{text}");
        }
    }

    #[test]
    fn addresses_of_one_length_have_masks_of_their_own() {
        for n in 0..300_u32 {
            let text = format!("https://skerrywake.example/guides/{:08x}.html", n.wrapping_mul(2_654_435_761));
            assert_eq!(code(&text), wide(&text), "{text}");
        }
    }

    #[test]
    fn a_code_too_wide_for_a_number_is_made_all_the_same() {
        let text = "x".repeat(1_500);
        assert!(code(&text).is_some_and(|code| code.width > WIDEST));
        assert_eq!(code(&"x".repeat(8_000)), None);
        // Each version is four modules wider than the one before (table 1).
        const { assert!(17 + 4 * WIDEST_VERSION <= WIDEST && 17 + 4 * (WIDEST_VERSION + 1) > WIDEST) };
    }
}
