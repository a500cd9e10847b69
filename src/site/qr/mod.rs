//! The address of a page as a QR code (ISO/IEC 18004), so that a sheet of paper leads back to it.
//!
//! A drawing of its own beside the pages: dark squares as one path, with the quiet zone of four
//! modules that the standard asks for.

mod code;
mod layout;
mod mask;

use code::{Code, code};

/// Modules of white on every side (ISO/IEC 18004, 6.3.8).
const QUIET: usize = 4;

/// Letters of what is drawn of a run in all but the largest codes: `M10 10h10v1h-10z`.
const RUN: usize = 16;

/// Letters round the runs.
const ROUND: usize = 200;

/// A drawing (SVG) of the code of `text`. `None`: it is too long for one.
#[must_use]
pub fn svg(text: &str) -> Option<String> {
    let Code { width, runs } = code(text)?;
    let side = width + 2 * QUIET;
    let mut drawing = String::with_capacity(ROUND + runs.len() * RUN);
    drawing.push_str("<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 ");
    push_numbers(&mut drawing, &[("", side), (" ", side)]);
    drawing.push_str("\" shape-rendering=\"crispEdges\"><path fill=\"#fff\" d=\"");
    push_numbers(&mut drawing, &[("M0 0h", side), ("v", side)]);
    drawing.push_str("H0z\"/><path d=\"");
    for run in &runs {
        push_numbers(&mut drawing, &[("M", run.column + QUIET), (" ", run.row + QUIET), ("h", run.length), ("v1h-", run.length)]);
        drawing.push('z');
    }
    drawing.push_str("\"/></svg>\n");
    Some(drawing)
}

/// Each number behind its letters.
fn push_numbers(drawing: &mut String, numbers: &[(&str, usize)]) {
    for (letters, number) in numbers {
        drawing.push_str(letters);
        push_number(drawing, *number);
    }
}

/// There are hundreds in a drawing, nearly all of two digits: the formatting of the library would take most of the time.
fn push_number(drawing: &mut String, number: usize) {
    if number >= 10 {
        push_number(drawing, number / 10);
    }
    drawing.push(char::from(b'0' + (number % 10) as u8));
}

/// Where a page is served; `None` where the boat names no place.
#[must_use]
pub fn address(site: Option<&str>, path: &str) -> Option<String> {
    let site = site?.trim_end_matches('/');
    let path = path.strip_suffix("index.html").unwrap_or(path);
    Some(format!("{site}/{path}"))
}

#[cfg(test)]
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
