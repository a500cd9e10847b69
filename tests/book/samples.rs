//! Books that several tests publish.

use crate::support::{Book, entry, guide};
use std::fmt::Write as _;

/// A sound book with every kind of page: two years of log, a passage, defects, pictures.
pub fn fitted_out() -> Book {
    Book::sound()
        .file("guides/engine/Öl prüfen.md", guide("Öl prüfen", "routine: true\n", "## Prüfen\n\n1. Peilstab ziehen.\n"))
        .file(
            "guides/hull/aux-pump.md",
            guide(
                "Auxiliary pump",
                "every: {calendar: 12 months}\n",
                "## Work\n\n1. Do it.\n\n   ![The pump from above](aux-pump/pump.png \"Looking aft\")\n",
            ),
        )
        .file("guides/hull/aux-pump/pump.png", png())
        .file(
            "log/2025/2025-05-02-oil.md",
            format!(
                "{}Cold hands. See [the guide](../../guides/engine/oil.md).\n",
                entry("jobs: [oil]\ndate: 2025-05-02\nmeters: {engine: 1640}\n")
            ),
        )
        .file(
            "log/2026/2026-04-20-pump.md",
            entry("jobs: [aux-pump]\ndate: 2026-04-20\nfindings:\n  - {what: Weeping hose, grade: act, before: haul-out}\n"),
        )
        .file("log/2026/2026-05-20-begun.md", entry("jobs: [oil]\nstarted: 2026-05-20\nleft: [start key out, no oil in the engine]\n"))
        .file("passages.yaml", "- {id: north, title: North, depart: 2026-07-01, days: 10, miles: 400}\n")
}

/// A small picture.
pub fn png() -> Vec<u8> {
    encoded(image::ImageFormat::Png, 40, 30)
}

/// A picture of some size in some format: a gradient, so that it does not compress to nothing.
pub fn encoded(format: image::ImageFormat, width: u32, height: u32) -> Vec<u8> {
    let picture = image::RgbImage::from_fn(width, height, |x, y| {
        let part = |value: u32, of: u32| u8::try_from(value * 255 / of.max(1)).unwrap_or(255);
        image::Rgb([part(x, width), part(y, height), part(x + y, width + height)])
    });
    let mut bytes = std::io::Cursor::new(Vec::new());
    picture.write_to(&mut bytes, format).expect("a picture");
    bytes.into_inner()
}

/// A log of so many notes, all in 2025, four a day.
pub fn with_notes(mut book: Book, count: usize) -> Book {
    for number in 0..count {
        let (month, day) = (1 + number / 100, 1 + (number % 100) / 4);
        let mut text = String::new();
        let _ = write!(text, "---\ndate: 2025-{month:02}-{day:02}\nwork: [Note {number:03}]\n---\n");
        book = book.file(&format!("log/2025/2025-{month:02}-{day:02}-note-{number:03}.md"), text);
    }
    book
}
