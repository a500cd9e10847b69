//! Shared files made by hand, as the format reference has them, so that what receives them is not tested
//! with what writes them.

use serde_json::{Value, json};

/// A guide that every reader of the format takes.
pub const GUIDE: &str = "---\n\
title: Change the raw-water filter\n\
summary: Shut the seacock, clean the basket, open it again.\n\
every: {engine: 100 h, calendar: 6 months}\n\
hazards: [flooding, cold-hands]\n\
tools: [strap-wrench, torch]\n\
parts: [{item: filter-basket, qty: 1, if-worn: true}, {item: silicone-grease, qty: 10 mL}]\n\
torque:\n\
- {at: lid nut, value: 12 N·m, source: handbook of the filter}\n\
values: {soak: 250 mL}\n\
licence: CC-BY-SA-4.0\n\
revised: 2026-01-10\n\
checked: 2026-01-11\n\
---\n\
See also [the seacocks](../hull/seacocks.md).\n\
\n\
## Clean\n\
1. Shut the seacock. {isolate seacock}\n\
2. Loosen the lid with the {strap-wrench} and lift the {filter-basket} out. {takes 5 min}\n\
\n   ![The basket](raw-water-filter/basket.png)\n\
\n\
3. Soak it in {soak} of vinegar. Tighten the {lid-nut}.\n\
4. Open the seacock. {restore seacock} {prove no leak}\n";

/// A picture of 3 × 2 pixels.
pub fn png() -> Vec<u8> {
    let picture = image_of(3, 2);
    let mut bytes = std::io::Cursor::new(Vec::new());
    picture.write_to(&mut bytes, image::ImageFormat::Png).expect("a PNG");
    bytes.into_inner()
}

fn image_of(width: u32, height: u32) -> image::DynamicImage {
    let colour = |x: u32, y: u32| image::Rgb([(x * 80) as u8, (y * 120) as u8, 40]);
    image::DynamicImage::ImageRgb8(image::RgbImage::from_fn(width, height, colour))
}

/// What a file holds: one guide with all that it names.
pub fn held() -> Value {
    let mut held = with_text(GUIDE);
    held["pictures"] = json!([picture("guides/engine/raw-water-filter/basket.png", "image/png", &png())]);
    held["meters"] = json!([{"id": "engine", "title": "Engine hours", "unit": "h"}]);
    held["stores"] = json!([
        {"id": "filter-basket", "title": "Basket of the raw-water filter", "part-number": "RB-7", "sold-in": ["1"]},
        {"id": "silicone-grease", "title": "Silicone grease", "sold-in": ["50 mL", "100 mL"], "note": "Not near rubber: it swells."},
    ]);
    held["tools"] = json!([{"id": "strap-wrench", "title": "Strap wrench"}, {"id": "torch", "title": "Torch"}]);
    held["cautions"] = json!([{
        "id": "cold-hands", "title": "Cold hands", "signal": "caution", "harm": "Cold fingers slip and are cut.",
        "avoid": ["Warm them first.", "Wear gloves."], "words": ["bare hands"],
    }]);
    held
}

/// What a file holds: one guide with this text, and nothing that it names.
pub fn with_text(text: &str) -> Value {
    json!({
        "format": "garboard-guides", "version": 1, "from": {"boat": "Tern of Ansker", "type": "Sloop"},
        "language": "en", "units": "metric", "licence": null, "made": "garboard 0.1.0",
        "guides": [{"id": "raw-water-filter", "system": "engine", "path": "guides/engine/raw-water-filter.md", "text": text}],
        "systems": [{"id": "engine", "title": "Engine"}],
        "meters": [], "stores": [], "tools": [], "cautions": [], "pictures": [],
    })
}

pub fn picture(path: &str, kind: &str, bytes: &[u8]) -> Value {
    json!({"path": path, "type": kind, "bytes": base64(bytes)})
}

/// RFC 4648, section 4.
pub fn base64(bytes: &[u8]) -> String {
    const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut text = String::new();
    for chunk in bytes.chunks(3) {
        let all = chunk.iter().fold(0_u32, |all, byte| all << 8 | u32::from(*byte)) << (8 * (3 - chunk.len()));
        for place in 0..4 {
            let letter = LETTERS[(all >> (18 - 6 * place) & 63) as usize];
            text.push(if place <= chunk.len() { char::from(letter) } else { '=' });
        }
    }
    text
}

/// The element that carries the data.
pub fn block(held: &Value) -> String {
    format!("<script type=\"application/json\" id=\"garboard-guides\">{}</script>", held.to_string().replace('<', "\\u003c"))
}

/// A whole file.
pub fn page(held: &Value) -> String {
    format!("<!DOCTYPE html>\n<html lang=\"en\"><head><title>Guides</title></head><body><p>Shared.</p>{}</body></html>\n", block(held))
}
