//! The stores: a count, what was bought and used since, and what is low.

use crate::book::model::{Book, Level, StoreItem};
use crate::quantity::{Exact, Rounding};
use crate::reckon::testing::{Writing, amount, book, day, entry, item, told};
use crate::reckon::{Held, StockState, reckon};

#[track_caller]
fn stock(book: &Book, on: &str, expected: &str, problems: &[&str]) {
    let (reckoning, found) = reckon(book, day(on));
    let state = reckoning.stock_of("oil").expect("the item");
    assert_eq!(line(state), expected);
    assert_eq!(told(&found), problems);
}

fn line(state: &StockState<'_>) -> String {
    let mut line = match &state.aboard {
        Some(held) => held.said(Rounding::Down),
        None => "by level".to_owned(),
    };
    if state.never_counted() {
        line.push_str(", never counted");
    }
    if state.low {
        line.push_str(", low");
    }
    line
}

fn with(item: StoreItem) -> Book {
    book().item(item)
}

#[test]
fn what_one_doing_lacks_is_said_in_the_unit_of_the_job() {
    #[track_caller]
    fn case(item: StoreItem, needed: &str, expected: Option<&str>) {
        let book = with(item);
        let (reckoning, _) = reckon(&book, day("2026-06-01"));
        let state = reckoning.stock_of("oil").expect("the item");
        let lacking = state.lacking(&Held::of(&amount(needed))).map(|held| held.said(Rounding::Up));
        assert_eq!(lacking.as_deref(), expected, "{needed}");
    }
    let counted = |qty: &str| item("oil").counted("2026-01-05", qty);
    case(counted("2"), "3", Some("1"));
    case(counted("3"), "3", None);
    // 6 L less 5000 mL.
    case(counted("5000 mL"), "6 L", Some("1 L"));
    // Litres of a thing that is counted by the piece: nobody can say.
    case(counted("2"), "3 L", None);
    // Never counted: none aboard.
    case(item("oil"), "1", Some("1"));
    // More was used than there was: the shelf is empty, and no more than the job takes is lacking.
    let book = with(counted("1")).entry(entry("2026-01-06-after").uses("oil", "4"));
    let (reckoning, _) = reckon(&book, day("2026-06-01"));
    let lacking = reckoning.stock_of("oil").and_then(|state| state.lacking(&Held::of(&amount("2"))));
    assert_eq!(lacking.map(|held| held.said(Rounding::Up)).as_deref(), Some("2"));
}

#[test]
fn the_last_count_with_what_was_bought_and_used_after_its_day() {
    let counted = item("oil").counted("2026-01-05", "3").bought("2026-01-05", "7").bought("2026-02-11", "4").bought("2026-06-01", "9");
    let book = with(counted)
        .entry(entry("2025-12-01-before").uses("oil", "1"))
        .entry(entry("2026-01-05-that-day").uses("oil", "1"))
        .entry(entry("2026-01-06-after").uses("oil", "2"))
        .entry(entry("2026-03-01-unsaid").uses("oil", ""))
        .entry(entry("2026-04-01-open open").uses("oil", "1").uses("plain words", "3"));
    stock(
        &book,
        "2026-01-05",
        "3",
        &[
            // What is later is told of, and left out.
            "warning log/2026-01-06-after.md:2 later-than-on: `2026-01-06` is later than 2026-01-05, so this entry is left out",
            "warning log/2026-03-01-unsaid.md:2 later-than-on: `2026-03-01` is later than 2026-01-05, so this entry is left out",
            "warning log/2026-04-01-open.md:2 later-than-on: `2026-04-01` is later than 2026-01-05, so this entry is left out",
        ],
    );
    // 3 − 2 + 4 − 1 − 1; the purchase of 1 June is not yet made, and then it is.
    stock(&book, "2026-05-31", "3", &[]);
    stock(&book, "2026-06-01", "12", &[]);
    let (reckoning, _) = reckon(&book, day("2026-05-31"));
    let movements: Vec<String> = reckoning
        .stock_of("oil")
        .expect("the item")
        .movements
        .iter()
        .map(|movement| {
            let by = movement.entry.map_or("bought", |entry| entry.id.as_str());
            format!("{by} {}", movement.amount)
        })
        .collect();
    assert_eq!(movements, ["2026-01-06-after -2", "bought 4", "2026-03-01-unsaid -1", "2026-04-01-open -1"]);
}

#[test]
fn volumes_are_converted_exactly() {
    // A US quart is 0.946352946 L (NIST SP 811 appendix B.8): 20 L less 8 of them is 12.42917… L.
    let book =
        with(item("oil").counted("2026-01-05", "20 L").minimum("3.28 US gal")).entry(entry("2026-02-01-change").uses("oil", "8 US qt"));
    // 3.28 US gal are 12.41637… L.
    stock(&book, "2026-02-01", "12.42 L", &[]);
    let more = book.entry(entry("2026-02-02-top-up").uses("oil", "15 mL"));
    stock(&more, "2026-02-02", "12.41 L, low", &[]);
}

#[test]
fn what_cannot_be_converted_is_left_out_and_told_of() {
    let litres = with(item("oil").counted("2026-01-05", "20 L"));
    stock(
        &litres.entry(entry("2026-02-01-a").uses("oil", "2 kg").uses("oil", "")),
        "2026-02-01",
        "20 L",
        &[
            "warning log/2026-02-01-a.md:4 units-disagree: `2 kg` cannot be reckoned with `oil`, which is counted in L: \
             this use is left out",
            "warning log/2026-02-01-a.md:4 units-disagree: `oil` is counted in L, and how much was used is not said: it \
             is left out of the stores",
        ],
    );
    let pieces = with(item("oil").counted("2026-01-05", "4").minimum("2 L").bought("2026-01-06", "5 L"));
    stock(
        &pieces.entry(entry("2026-02-01-a").uses("oil", "2 L")),
        "2026-02-01",
        "4",
        &[
            "warning stores.yaml:1 units-disagree: `2 L` cannot be reckoned with `oil`, which is counted in pieces: its \
             minimum is left out",
            "warning stores.yaml:1 units-disagree: `5 L` cannot be reckoned with `oil`, which is counted in pieces: this \
             purchase is left out",
            "warning log/2026-02-01-a.md:4 units-disagree: `2 L` cannot be reckoned with `oil`, which is counted in \
             pieces: this use is left out",
        ],
    );
}

#[test]
fn a_use_that_may_be_before_the_count_or_after_it_is_told_of() {
    let book = || with(item("oil").counted("2026-02-20", "2"));
    let told = "warning log/2026-02-01-a.md:4 used-about-the-count: `oil` was counted on 2026-02-20, and nobody can tell whether that \
                was before this use or after it: it is not taken off";
    stock(&book().entry(entry("2026-02-01-a on ~2026-02").uses("oil", "2")), "2026-04-01", "2", &[told]);
    // All of it was before the count; all of it after.
    stock(&book().entry(entry("2026-02-01-a on ~2026-01").uses("oil", "2")), "2026-04-01", "2", &[]);
    stock(&book().entry(entry("2026-02-01-a on ~2026-03").uses("oil", "2")), "2026-04-01", "0", &[]);
    stock(&book().entry(entry("2026-02-01-a on 2026-02-20").uses("oil", "2")), "2026-04-01", "2", &[]);
}

#[test]
fn more_used_than_there_was_asks_for_a_count() {
    let book = with(item("oil").counted("2026-01-05", "1").minimum("1")).entry(entry("2026-02-01-a").uses("oil", "3"));
    stock(
        &book,
        "2026-02-01",
        "-2, low",
        &["warning stores.yaml:1 negative-stock: since the count of 2026-01-05 the log used more `oil` than there was: -2 \
           aboard"],
    );
    let (reckoning, _) = reckon(&book, day("2026-02-01"));
    let usable = reckoning.stock_of("oil").and_then(StockState::usable);
    assert_eq!(usable.map(|held| held.said(Rounding::Down)).as_deref(), Some("0"));
}

#[test]
fn a_little_is_not_said_to_be_nothing() {
    // 0.002 − 0.005 = −0.003 kg.
    let book = with(item("oil").counted("2026-01-05", "0.002 kg")).entry(entry("2026-02-01-a").uses("oil", "5 g"));
    stock(
        &book,
        "2026-02-01",
        "-0.003 kg",
        &["warning stores.yaml:1 negative-stock: since the count of 2026-01-05 the log used more `oil` than there was: -0.003 kg \
           aboard"],
    );
    let said = |value, rounding| Held { value, unit: None }.said(rounding);
    // 1 1/3 thousandths have no end; two digits would say nothing at all.
    assert_eq!([Rounding::Down, Rounding::Up].map(|rounding| said(Exact::new(4, 3000), rounding)), ["0.0013", "0.01"]);
    assert_eq!([Rounding::Down, Rounding::Up].map(|rounding| said(Exact::new(4, 3), rounding)), ["1.33", "1.34"]);
    assert_eq!(said(Exact::new(4, 1000), Rounding::Down), "0.004");
    // Too large for digits after its point: 2¹²⁷ − 1.
    assert_eq!(said(Exact::from_integer(i128::MAX), Rounding::Up), "170141183460469231731687303715884105727");
}

#[test]
fn what_is_left_out_is_quoted_as_it_is_written() {
    stock(
        &with(item("oil").counted("2026-01-05", "20 L").minimum("0.375 kg")),
        "2026-02-01",
        "20 L",
        &["warning stores.yaml:1 units-disagree: `0.375 kg` cannot be reckoned with `oil`, which is counted in L: its minimum is \
           left out"],
    );
}

#[test]
fn what_was_never_counted_is_none_aboard_and_says_so() {
    stock(&with(item("oil").bought("2026-01-01", "5")), "2026-02-01", "0, never counted", &[]);
    stock(&with(item("oil").minimum("2 L")), "2026-02-01", "0 L, never counted, low", &[]);
    let later = with(item("oil").counted("2026-03-01", "5").minimum("1"));
    stock(
        &later,
        "2026-02-01",
        "0, never counted, low",
        &["warning stores.yaml:1 later-than-on: `2026-03-01` is later than 2026-02-01, so this count is left out"],
    );
}

#[test]
fn low_is_under_the_minimum_or_by_level() {
    stock(&with(item("oil").counted("2026-01-01", "2").minimum("2")), "2026-02-01", "2", &[]);
    stock(&with(item("oil").counted("2026-01-01", "1").minimum("2")), "2026-02-01", "1, low", &[]);
    stock(&with(item("oil").level(Level::Plenty)), "2026-02-01", "by level", &[]);
    stock(&with(item("oil").level(Level::Low)), "2026-02-01", "by level, low", &[]);
    stock(&with(item("oil").level(Level::None)), "2026-02-01", "by level, low", &[]);
}

#[test]
fn the_last_one_may_be_used_without_a_word() {
    let book = with(item("oil").counted("2026-01-05", "1")).entry(entry("2026-02-01-a").uses("oil", "1"));
    stock(&book, "2026-02-01", "0", &[]);
}
