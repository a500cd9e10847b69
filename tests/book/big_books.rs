//! Large books, as `benches/big_book` makes them.

#[path = "../../benches/big_book/mod.rs"]
mod big_book;

use crate::support::{Book, files_under};
use big_book::{LAST_DAY, Size, write};

const SIZE: Size = Size { guides: 60, entries: 600, seed: 1 };

#[test]
fn a_made_book_has_no_errors_and_little_to_warn_of() {
    let book = Book::new();
    let count = write(&book.path("content"), SIZE).expect("a book");
    assert_eq!(files_under(&book.path("content")).len() as u64, count);
    let problems = book.run(["survey", "--format", "json", "--on", LAST_DAY]).status(0).json();
    let warnings = problems.as_array().expect("a list").iter().filter(|problem| problem["severity"] == "warning").count();
    assert!(warnings < 20, "{warnings} warnings: {problems}");
}

#[test]
fn a_made_book_is_the_same_for_the_same_seed_and_another_for_another() {
    let made = |size: Size| {
        let book = Book::new();
        write(&book.path("content"), size).expect("a book");
        files_under(&book.path("content"))
    };
    let first = made(SIZE);
    assert!(first == made(SIZE), "two runs differ");
    assert!(first != made(Size { seed: 2, ..SIZE }), "the seed changes nothing");
}
