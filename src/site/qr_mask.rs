//! The choice among the eight masks of a QR code (ISO/IEC 18004, 7.8.3): the one that least looks like what a reader
//! could take for something else.
//!
//! A book of many guides has thousands of codes, and the crate that draws them weighs a mask module by module. Here a
//! row is a number, and its modules are weighed together. What comes out is the same code.

use qrcode::canvas::{Canvas, MaskPattern};
use qrcode::{Color, EcLevel, QrCode, bits, ec};

const MASKS: [MaskPattern; 8] = [
    MaskPattern::Checkerboard,
    MaskPattern::HorizontalLines,
    MaskPattern::VerticalLines,
    MaskPattern::DiagonalLines,
    MaskPattern::LargeCheckerboard,
    MaskPattern::Fields,
    MaskPattern::Diamonds,
    MaskPattern::Meadow,
];

/// Modules that fit into a number; only an address of some 900 bytes needs more.
const WIDEST: usize = 128;

/// The modules a side, and all of them row by row. `None`: the text is too long for a code.
#[must_use]
pub fn code(text: &str, level: EcLevel) -> Option<(usize, Vec<Color>)> {
    let bits = bits::encode_auto(text.as_bytes(), level).ok()?;
    let version = bits.version();
    let width = usize::try_from(version.width()).ok()?;
    if width > WIDEST {
        let code = QrCode::with_error_correction_level(text, level).ok()?;
        return Some((code.width(), code.into_colors()));
    }
    let (data, correction) = ec::construct_codewords(&bits.into_bytes(), version, level).ok()?;
    let mut canvas = Canvas::new(version, level);
    canvas.draw_all_functional_patterns();
    canvas.draw_data(&data, &correction);
    let masked = MASKS.map(|mask| {
        let mut canvas = canvas.clone();
        canvas.apply_mask(mask);
        canvas.into_colors()
    });
    masked.into_iter().min_by_key(|colors| penalty(width, colors)).map(|colors| (width, colors))
}

/// The points of table 11 of the standard; the 360 of the three finders, which every mask has, are not taken off.
fn penalty(width: usize, colors: &[Color]) -> u32 {
    let mut rows = vec![0_u128; width];
    let mut columns = vec![0_u128; width];
    for (y, line) in colors.chunks(width).enumerate() {
        for (x, color) in line.iter().enumerate() {
            if *color == Color::Dark {
                rows[y] |= 1 << x;
                columns[x] |= 1 << y;
            }
        }
    }
    let lines = || rows.iter().chain(&columns);
    let runs: u32 = lines().map(|line| runs(*line, width)).sum();
    let finders: u32 = lines().map(|line| finders(*line, width)).sum();
    let blocks: u32 = rows.windows(2).map(|pair| blocks(pair[0], pair[1], width)).sum();
    let dark: u32 = rows.iter().map(|row| row.count_ones()).sum();
    let share = dark as usize * 200 / (width * width);
    runs + blocks + finders + u32::try_from(share.abs_diff(100)).unwrap_or(u32::MAX)
}

/// The lowest `count` bits.
fn lowest(count: usize) -> u128 {
    if count >= WIDEST { u128::MAX } else { (1 << count) - 1 }
}

/// Five or more alike in a row: their number, less two.
fn runs(mut line: u128, width: usize) -> u32 {
    let mut points = 0;
    let mut left = u32::try_from(width).unwrap_or_default();
    while left > 0 {
        let run = if line & 1 == 1 { line.trailing_ones() } else { line.trailing_zeros() }.min(left);
        points += if run >= 5 { run - 2 } else { 0 };
        left -= run;
        line = line.checked_shr(run).unwrap_or_default();
    }
    points
}

/// Three for every block of two by two alike.
fn blocks(upper: u128, lower: u128, width: usize) -> u32 {
    let alike = !(upper ^ lower);
    let beside = !(upper ^ upper >> 1);
    3 * (alike & alike >> 1 & beside & lowest(width - 1)).count_ones()
}

/// Forty for each dark-light-dark-dark-dark-light-dark with four light ones before or behind it; all is light outside.
fn finders(line: u128, width: usize) -> u32 {
    let mut found = line & !(line >> 1) & line >> 2 & line >> 3 & line >> 4 & !(line >> 5) & line >> 6 & lowest(width - 6);
    let mut points = 0;
    while found != 0 {
        let at = found.trailing_zeros() as usize;
        found &= found - 1;
        let before = if at >= 4 { line >> (at - 4) & 15 } else { line & lowest(at) };
        let behind = line.checked_shr(at as u32 + 7).unwrap_or_default() & 15;
        points += if before == 0 || behind == 0 { 40 } else { 0 };
    }
    points
}

#[cfg(test)]
mod tests {
    use super::code;
    use qrcode::{EcLevel, QrCode};

    /// The crate weighs every mask by the letter of the standard.
    #[test]
    fn the_mask_is_the_one_that_the_crate_finds_best() {
        for length in (1..=120).chain([300, 600]) {
            let text = format!("https://skerrywake.example/{}", "guides/oil-and-filter.html?".repeat(40).get(..length).unwrap_or_default());
            let expected = QrCode::with_error_correction_level(&text, EcLevel::M).expect("it fits");
            let (width, colors) = code(&text, EcLevel::M).expect("it fits");
            assert_eq!((width, &colors), (expected.width(), &expected.to_colors()), "{text}");
        }
    }

    #[test]
    fn a_code_too_wide_for_a_number_is_made_all_the_same() {
        let text = "x".repeat(1_500);
        let expected = QrCode::with_error_correction_level(&text, EcLevel::M).expect("it fits");
        assert_eq!(code(&text, EcLevel::M), Some((expected.width(), expected.to_colors())));
        assert_eq!(code(&"x".repeat(8_000), EcLevel::M), None);
    }
}
