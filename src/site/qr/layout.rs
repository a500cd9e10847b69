//! What all QR codes of one size share: where the bits of the data go, and what the masks make of codes without data.
//!
//! A book of many guides has thousands of codes of a few sizes. The crate draws a code module by module; here it draws
//! eight of a size, and every code is then these with its own bits turned.

use qrcode::canvas::{Canvas, MaskPattern, Module};
use qrcode::{Color, EcLevel, Version};

/// Modules that fit into a row; only an address of some 900 bytes needs more.
pub const WIDEST: usize = 128;

/// A row of modules, the leftmost in the lowest bit; dark ones are set.
pub type Row = u128;

/// The level of all codes: a seventh of a code may be unreadable.
pub const LEVEL: EcLevel = EcLevel::M;

pub const MASKS: [MaskPattern; 8] = [
    MaskPattern::Checkerboard,
    MaskPattern::HorizontalLines,
    MaskPattern::VerticalLines,
    MaskPattern::DiagonalLines,
    MaskPattern::LargeCheckerboard,
    MaskPattern::Fields,
    MaskPattern::Diamonds,
    MaskPattern::Meadow,
];

/// Column that the vertical timing pattern has to itself.
const TIMING: i16 = 6;

/// The codes of one version, of which none is wider than [`WIDEST`].
#[derive(Debug)]
pub struct Layout {
    /// By mask: the rows of a code whose data are all light.
    stencils: [Vec<Row>; MASKS.len()],
    /// Row and column of each bit of the codewords.
    places: Vec<(u8, u8)>,
}

impl Layout {
    #[must_use]
    pub fn new(version: Version) -> Self {
        let mut bare = Canvas::new(version, LEVEL);
        bare.draw_all_functional_patterns();
        let stencils = MASKS.map(|mask| {
            let mut canvas = bare.clone();
            canvas.apply_mask(mask);
            rows(&canvas.into_colors(), usize::from(version.width().unsigned_abs()))
        });
        Self { stencils, places: places(&bare, version.width()) }
    }

    /// The rows of a code under each mask, in the order of [`MASKS`].
    #[must_use]
    pub fn masked(&self, codewords: impl IntoIterator<Item = u8>) -> [Vec<Row>; MASKS.len()] {
        let mut masked = self.stencils.clone();
        let mut data = vec![0; masked[0].len()];
        let bits = codewords.into_iter().flat_map(|word| (0..8).rev().map(move |bit| Row::from(word >> bit & 1)));
        for (bit, (row, column)) in bits.zip(&self.places) {
            data[usize::from(*row)] |= bit << *column;
        }
        for rows in &mut masked {
            rows.iter_mut().zip(&data).for_each(|(row, data)| *row ^= data);
        }
        masked
    }
}

fn rows(colors: &[Color], width: usize) -> Vec<Row> {
    let dark = |line: &[Color]| line.iter().rev().fold(0, |row, color| row << 1 | Row::from(*color == Color::Dark));
    colors.chunks(width).map(dark).collect()
}

/// In pairs of columns from the right, upwards and downwards in turn, wherever no pattern stands (ISO/IEC 18004, 7.7.3).
fn places(bare: &Canvas, width: i16) -> Vec<(u8, u8)> {
    let columns: Vec<i16> = (0..width).rev().filter(|column| *column != TIMING).collect();
    let mut places = Vec::new();
    for (at, pair) in columns.chunks(2).enumerate() {
        for step in 0..width {
            let row = if at % 2 == 0 { width - 1 - step } else { step };
            let free = pair.iter().filter(|column| bare.get(**column, row) == Module::Empty);
            // Both are below `WIDEST`.
            places.extend(free.map(|column| (row as u8, *column as u8)));
        }
    }
    places
}
