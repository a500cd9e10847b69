//! Photos drawn by numbers: slopes of colour with noise over them, about as hard to pack as what a phone takes.

use image::codecs::jpeg::JpegEncoder;
use image::{ExtendedColorType, ImageEncoder};
use std::io;

const WIDTH: u32 = 4_000;
const HEIGHT: u32 = 3_000;
const QUALITY: u8 = 90;

/// The `n`th photo of 12 megapixels, as a JPEG file.
///
/// # Errors
/// It cannot be encoded.
pub fn photo(n: u32) -> io::Result<Vec<u8>> {
    let mut noise = 0x9e37_79b9_u32.wrapping_mul(n + 1);
    let mut pixels = Vec::with_capacity((WIDTH * HEIGHT * 3) as usize);
    for y in 0..HEIGHT {
        for x in 0..WIDTH {
            // Xorshift (Marsaglia, 2003).
            noise ^= noise << 13;
            noise ^= noise >> 17;
            noise ^= noise << 5;
            let grain = noise & 15;
            let [down, across, slant] = [y * 200 / HEIGHT, x * 200 / WIDTH, (x + y + 37 * n) / 40 % 200];
            pixels.extend([down, across, slant].map(|shade| (shade + grain) as u8));
        }
    }
    let mut file = Vec::new();
    JpegEncoder::new_with_quality(&mut file, QUALITY)
        .write_image(&pixels, WIDTH, HEIGHT, ExtendedColorType::Rgb8)
        .map_err(io::Error::other)?;
    Ok(file)
}
