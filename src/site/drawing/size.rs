//! How large a drawing is by itself: from its width and height, else from its viewBox.

use super::PictureError;
use super::tree::Element;

/// The longest side a page is told, in pixels; a larger drawing keeps its proportions.
const LONGEST_SIDE: f64 = 16_000.0;

/// A size in whole CSS pixels, at least one each way.
pub struct Size {
    pub width: u32,
    pub height: u32,
}

/// Reads the size of the root, and writes it there in pixels, with a viewBox that keeps the scale.
pub fn take_size(root: &mut Element) -> Result<Size, PictureError> {
    let stated = |name: &str| root.attributes.get(name).and_then(|value| pixels(value));
    let view = root.attributes.get("viewBox").and_then(|value| view_sides(value));
    let (width, height) = match (stated("width"), stated("height"), view) {
        (Some(width), Some(height), _) => (width, height),
        (Some(width), None, Some((view_width, view_height))) => (width, width * view_height / view_width),
        (None, Some(height), Some((view_width, view_height))) => (height * view_width / view_height, height),
        (None, None, Some(sides)) => sides,
        (_, _, None) => return Err(PictureError::DrawingWithoutSize),
    };
    if view.is_none() {
        root.set("viewBox", &format!("0 0 {width} {height}"));
    }
    let shrink = (LONGEST_SIDE / width.max(height)).min(1.0);
    let size = Size { width: whole_pixels(width * shrink), height: whole_pixels(height * shrink) };
    root.set("width", &size.width.to_string());
    root.set("height", &size.height.to_string());
    Ok(size)
}

/// A length in CSS pixels; 96 to the inch (CSS Values and Units 3, section 5.2). `None` for a share of the
/// page or a size of type, which say nothing by themselves.
fn pixels(length: &str) -> Option<f64> {
    let length = length.trim();
    let unit_start = length.trim_end_matches(|c: char| c.is_ascii_alphabetic() || c == '%').len();
    let (number, unit) = length.split_at_checked(unit_start)?;
    let in_pixels = match unit {
        "" | "px" => 1.0,
        "in" => 96.0,
        "cm" => 96.0 / 2.54,
        "mm" => 96.0 / 25.4,
        "pt" => 96.0 / 72.0,
        "pc" => 16.0,
        _ => return None,
    };
    positive(number.trim().parse::<f64>().ok()? * in_pixels)
}

/// Width and height of a viewBox, the last two of its four numbers.
fn view_sides(view: &str) -> Option<(f64, f64)> {
    let numbers: Option<Vec<f64>> = view
        .split(|c: char| c == ',' || c.is_ascii_whitespace())
        .filter(|word| !word.is_empty())
        .map(|word| word.parse().ok().filter(|number: &f64| number.is_finite()))
        .collect();
    match numbers?.as_slice() {
        [_, _, width, height] => Some((positive(*width)?, positive(*height)?)),
        _ => None,
    }
}

/// Sides so small or large that sums with them lose their meaning are no sides.
fn positive(side: f64) -> Option<f64> {
    (1e-3..=1e7).contains(&side).then_some(side)
}

#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to 1..=16,000 before")]
fn whole_pixels(side: f64) -> u32 {
    side.round().clamp(1.0, LONGEST_SIDE) as u32
}
