//! A publish that is killed leaves every file whole, and the next one puts all right.

use crate::samples::{fitted_out, with_notes};
use crate::support::{Book, Site};
use std::time::Duration;

const DAYS: [&str; 2] = ["2026-06-01", "2026-06-02"];

fn book() -> Book {
    with_notes(fitted_out(), 230)
}

/// No page or picture is anything but what a whole publish of one of the days writes.
#[track_caller]
fn assert_whole(site: &Site, days: &[Site; 2]) {
    for (path, bytes) in &site.files {
        if path.starts_with(".garboard-new/") {
            continue;
        }
        if path == "garboard-manifest.json" {
            assert!(serde_json::from_slice::<serde_json::Value>(bytes).is_ok(), "{path} is torn");
            continue;
        }
        let whole = days.iter().any(|day| day.files.get(path) == Some(bytes));
        assert!(whole, "{path} is torn: {} bytes", bytes.len());
    }
}

#[test]
fn killed_at_any_moment_no_file_is_torn() {
    let days = DAYS.map(|day| {
        let book = book();
        book.run(["publish", "--on", day]).status(0);
        book.site()
    });
    let book = book();
    let mut killed = 0;
    for round in 0..15_u64 {
        let day = DAYS[usize::try_from(round % 2).expect("small")];
        let mut child = book.start(["publish", "--on", day]);
        // Spread over the run, from before the first file to after the last: 97 has no factor in common with 400.
        std::thread::sleep(Duration::from_millis(5 + round * 97 % 400));
        if child.try_wait().expect("waits").is_none() {
            killed += 1;
        }
        let _ = child.kill();
        child.wait().expect("ends");
        assert_whole(&book.site(), &days);
    }
    assert!(killed > 0, "every run had ended before it was killed");
    for (day, expected) in DAYS.iter().zip(&days) {
        book.run(["publish", "--on", day]).status(0);
        book.site().assert_same_bytes(expected);
    }
}
