//! What must hold whatever bytes come in: each target panics where it does not.
//!
//! `harness.rs` hands them to the fuzzer, `tests/fuzz.rs` replays every file of `corpus/` in the ordinary tests.

mod csv;
mod dates;
mod drawing;
mod entry;
mod files;
mod markdown;
mod marks;
mod meters;
mod page;
mod quantities;
mod receive;
mod tend;
mod terms;

use garboard::book::load::{Loaded, load};
use std::path::Path;

/// A check of bytes.
pub type Check = fn(&[u8]);

/// Every target by its name; `corpus/` has a folder for each.
pub const ALL: [(&str, Check); 12] = [
    ("csv", csv::check),
    ("dates", dates::check),
    ("drawing", drawing::check),
    ("entry", entry::check),
    ("files", files::check),
    ("markdown", markdown::check),
    ("marks", marks::check),
    ("meters", meters::check),
    ("quantities", quantities::check),
    ("receive", receive::check),
    ("tend", tend::check),
    ("terms", terms::check),
];

/// Bytes as text; `None` where they are none, which most targets have nothing to say about.
fn text(bytes: &[u8]) -> Option<&str> {
    std::str::from_utf8(bytes).ok()
}

/// Every problem has a place in the file, says something, and can be mended.
fn assert_told(problems: &[garboard::book::diagnostic::Diagnostic], text: &str) {
    let lines = text.split('\n').count();
    for problem in problems {
        assert!(!problem.message.is_empty() && !problem.remedy.is_empty(), "{problem:?}");
        assert!((1..=lines).contains(&problem.place.line) && problem.place.column >= 1, "{problem:?}");
        assert!(problem.place.excerpt.get(problem.place.mark.clone()).is_some(), "{problem:?}");
    }
}

/// The small sound book of the tests, read anew: what is judged goes into it.
fn book() -> Loaded {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    let folder =
        here.ancestors().map(|above| above.join("tests/broken/base")).find(|folder| folder.is_dir()).expect("the book of the tests");
    load(&folder).expect("a book")
}
