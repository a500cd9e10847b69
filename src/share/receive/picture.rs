//! Pictures of another boat: told by their content, and written anew.

use super::read::LONGEST_NAME;
use crate::book::check::PICTURES;
use crate::book::id::is_reserved;
use crate::site::{PhotoLimits, rebuild_svg, sides, written_anew};

/// The largest picture as it stands in the file, in bytes.
const LARGEST: usize = 12 * 1024 * 1024;
/// The most pixels that are unpacked.
const MOST_PIXELS: u64 = 40_000_000;
/// The most pixels that are unpacked of one file, about five seconds of work. `garboard share` puts in pictures 1600
/// wide, 15 MB of them at most: a hundred photos or so, of two or three million pixels each.
pub const MOST_PIXELS_IN_ALL: u64 = 1_000_000_000;
/// The most memory that a picture may take once unpacked, in bytes.
const MEMORY: u64 = 8 * MOST_PIXELS;

/// The picture written anew; a drawing rebuilt from the elements and attributes that only draw.
///
/// # Errors
/// Why it cannot be taken.
pub fn anew(name: &str, bytes: &[u8]) -> Result<Vec<u8>, String> {
    if bytes.len() > LARGEST {
        return Err(format!("this picture has more than {} MB", LARGEST / (1024 * 1024)));
    }
    if name.to_ascii_lowercase().ends_with(".svg") {
        return rebuild_svg(bytes).map(|drawing| drawing.bytes).map_err(|error| error.to_string());
    }
    let limits = PhotoLimits { memory: MEMORY, ..PhotoLimits::default() };
    written_anew(bytes, &limits, MOST_PIXELS).map_err(|error| error.to_string())
}

/// How many pixels would be unpacked to write the picture anew: of one that is refused for its size, none.
pub fn pixels(bytes: &[u8]) -> u64 {
    let pixels = sides(bytes).map_or(0, |(width, height)| u64::from(width) * u64::from(height));
    if pixels > MOST_PIXELS || bytes.len() > LARGEST { 0 } else { pixels }
}

/// Why a file may not be called so, if it may not: a plain name that every system takes, of a kind that is
/// a picture.
pub fn wrong_name(name: &str) -> Option<&'static str> {
    let plain = |letter: char| letter.is_alphanumeric() || " ._-()+".contains(letter);
    if name.len() > LONGEST_NAME {
        Some("its name is too long")
    } else if !name.chars().all(plain) || name.starts_with(['.', ' ', '-']) || is_reserved(name) {
        Some("its name is not one that every system takes")
    } else if !PICTURES.iter().any(|ending| name.to_lowercase().ends_with(ending)) {
        Some("it is not called like a picture")
    } else {
        None
    }
}
