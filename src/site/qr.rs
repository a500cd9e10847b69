//! The address of a page as a QR code (ISO/IEC 18004), so that a sheet of paper leads back to it.
//!
//! A drawing of its own beside the pages: dark squares as one path, with the quiet zone of four
//! modules that the standard asks for.

use super::qr_mask;
use qrcode::{Color, EcLevel};
use std::fmt::Write as _;

/// Modules of white on every side (ISO/IEC 18004, 6.3.8).
const QUIET: usize = 4;

/// A drawing (SVG) of the code of `text`. `None`: it is too long for one.
#[must_use]
pub fn svg(text: &str) -> Option<String> {
    let (width, colors) = qr_mask::code(text, EcLevel::M)?;
    let side = width + 2 * QUIET;
    let mut path = String::new();
    for (row, line) in colors.chunks(width).enumerate() {
        let mut column = 0;
        while column < line.len() {
            let run = line.iter().skip(column).take_while(|color| **color == Color::Dark).count();
            if run > 0 {
                let _ = write!(path, "M{} {}h{run}v1h-{run}z", column + QUIET, row + QUIET);
            }
            column += run.max(1);
        }
    }
    Some(format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {side} {side}\" shape-rendering=\"crispEdges\">\
         <path fill=\"#fff\" d=\"M0 0h{side}v{side}H0z\"/><path d=\"{path}\"/></svg>\n"
    ))
}

/// Where a page is served; `None` where the boat names no place.
#[must_use]
pub fn address(site: Option<&str>, path: &str) -> Option<String> {
    let site = site?.trim_end_matches('/');
    let path = path.strip_suffix("index.html").unwrap_or(path);
    Some(format!("{site}/{path}"))
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::{address, svg};

    /// Size in modules of version 1 to 4: 17 + 4 × version (ISO/IEC 18004, table 1), and the quiet zone twice.
    #[test]
    fn the_drawing_has_the_size_of_its_version() {
        // Version 1-M holds 14 bytes, 2-M 26, 3-M 42, 4-M 62 (ISO/IEC 18004, table 7).
        for (bytes, version) in [(14, 1), (15, 2), (26, 2), (42, 3), (62, 4)] {
            let side = 17 + 4 * version + 8;
            let drawing = svg(&"a".repeat(bytes)).unwrap_or_default();
            assert!(drawing.contains(&format!("viewBox=\"0 0 {side} {side}\"")), "{bytes} bytes: {drawing:.90}");
        }
    }

    /// Paints the drawing, eight dots a module, and reads it with another project's decoder (`rqrr`).
    fn read_back(drawing: &str) -> String {
        const DOTS: usize = 8;
        let side: usize = drawing.split("viewBox=\"0 0 ").nth(1).and_then(|rest| rest.split(' ').next()).unwrap().parse().unwrap();
        let path = drawing.split("<path d=\"").nth(1).and_then(|rest| rest.split('"').next()).unwrap();
        let mut dark = vec![false; side * side];
        for run in path.split('M').skip(1) {
            let (place, run) = run.split_once('h').unwrap();
            let (x, y) = place.split_once(' ').unwrap();
            let (x, y): (usize, usize) = (x.parse().unwrap(), y.parse().unwrap());
            let length: usize = run.split('v').next().unwrap().parse().unwrap();
            dark[y * side + x..y * side + x + length].fill(true);
        }
        let mut image =
            rqrr::PreparedImage::prepare_from_greyscale(
                side * DOTS,
                side * DOTS,
                |x, y| {
                    if dark[(y / DOTS) * side + x / DOTS] { 0 } else { 255 }
                },
            );
        let grids = image.detect_grids();
        grids[0].decode().unwrap().1
    }

    #[test]
    fn another_decoder_reads_the_address() {
        let address = "https://skerrywake.example/book/guides/oil-and-filter.html";
        assert_eq!(read_back(&svg(address).unwrap()), address);
    }

    #[test]
    fn a_text_too_long_for_any_code_has_none() {
        assert_eq!(svg(&"a".repeat(8_000)), None);
    }

    #[test]
    fn addresses_lead_to_pages() {
        let site = Some("https://skerrywake.example/book/");
        assert_eq!(address(site, "guides/a.html").as_deref(), Some("https://skerrywake.example/book/guides/a.html"));
        assert_eq!(address(site, "index.html").as_deref(), Some("https://skerrywake.example/book/"));
        assert_eq!(address(None, "index.html"), None);
    }
}
