//! Packs: figures worked out by hand, a search of all purchases, and hostile sizes.

use proptest::prelude::*;

use super::{LOOKED, packs};
use crate::quantity::{Exact, Number};

fn number(text: &str) -> Exact {
    Number::parse(text).expect("a number").value()
}

fn numbers(text: &str) -> Vec<Exact> {
    text.split_whitespace().map(number).collect()
}

/// `2 × 5 + 1 × 1 = 11`, the largest size first.
#[track_caller]
fn case(short: &str, sizes: &str, expected: &str) {
    let written: Vec<&str> = sizes.split_whitespace().collect();
    let found = packs(&number(short), &numbers(sizes)).expect("a purchase");
    let packs: Vec<String> = found.packs.iter().map(|pack| format!("{} × {}", pack.count, written[pack.size])).collect();
    let total = crate::quantity::plain_decimal(&found.total, 9);
    assert_eq!(format!("{} = {total}", packs.join(" + ")), expected, "{short} in {sizes}");
    assert!(found.best, "{short} in {sizes}");
}

#[test]
fn the_least_left_over_then_the_fewest_packs() {
    // 7.5 L of oil by 1 L and 5 L: 5 + 1 + 1 + 1 = 8 leaves 0.5 over; 5 + 5 = 10 would leave 2.5.
    case("7.5", "1 5", "1 × 5 + 3 × 1 = 8");
    // Exactly ten: two of five, not ten of one.
    case("10", "1 5", "2 × 5 = 10");
    // Paint by 0.75 and 2.5, 5.5 short: 2.5 + 4 × 0.75 = 5.5 leaves nothing over.
    case("5.5", "0.75 2.5", "1 × 2.5 + 4 × 0.75 = 5.5");
    // 6.0: eight of 0.75; with one of 2.5: 3.5 in 0.75 is 5 (3.75), 6.25; with two: 2 × 0.75, 6.5.
    case("6", "0.75 2.5", "8 × 0.75 = 6");
    // 0.1 is not a binary fraction: 0.3 is three of them, not four.
    case("0.3", "0.1", "3 × 0.1 = 0.3");
    case("0.7", "0.1 0.2", "3 × 0.2 + 1 × 0.1 = 0.7");
    // Largest first would take 4 + 1 + 1; 3 + 3 is two packs.
    case("6", "1 3 4", "2 × 3 = 6");
    case("1", "10", "1 × 10 = 10");
    case("0.25", "1", "1 × 1 = 1");
    // Sizes that leave gaps: with 6, 9 and 20 the sum 43 cannot be made (the largest such sum; the
    // Frobenius number of 6, 9, 20 is 43, a textbook value); 44 = 20 + 9 + 9 + 6.
    case("43", "6 9 20", "1 × 20 + 2 × 9 + 1 × 6 = 44");
    // One size twice is one size.
    case("3", "2 2 2", "2 × 2 = 4");
}

#[test]
fn nothing_short_is_nothing_bought() {
    for short in ["0", "-3"] {
        let short = if short == "0" { number("0") } else { -number("3") };
        let found = packs(&short, &numbers("1 5")).expect("a purchase");
        assert!(found.packs.is_empty() && found.total == number("0"));
    }
    assert_eq!(packs(&number("1"), &[]), None);
    assert_eq!(packs(&number("1"), &[number("0")]), None);
}

#[test]
fn millions_of_litres_are_still_exact() {
    // 5,000,003 L by 1 L and 5 L: a million of five and three of one.
    case("5000003", "1 5", "1000000 × 5 + 3 × 1 = 5000003");
    // 10^11 + 0.5 by 0.75 and 2.5, in quarters 4 × 10^11 + 2 by 3 and 10. The rest by ten is 2:
    // 2 + 10 = 12 is four of three, one of ten fewer. Fewest: 40,000,000,000 − 1 of ten.
    case("100000000000.5", "0.75 2.5", "39999999999 × 2.5 + 4 × 0.75 = 100000000000.5");
}

#[test]
fn whatever_the_sizes_the_work_ends_and_nothing_is_lacking() {
    let many: Vec<Exact> = (1..=3000).map(|n| Exact::new(1_000_000_007 + n * n, 1_000_000_000)).collect();
    let hostile: [(Exact, Vec<Exact>); 7] = [
        // A table of all sums up to 999² + 997, times two sizes, would be two million.
        (number("999999.5"), numbers("0.997 0.999")),
        (number("999999999999"), numbers("0.000000001 0.000000002 999999999998")),
        (number("999999999.999999999"), numbers("0.000000007 0.000000011")),
        (number("123456.789"), numbers("0.333333333 1.414213562 2.718281828 3.141592653")),
        (number("999999999999"), many),
        (number("1"), numbers("999999999999.999999999 999999999999.999999998")),
        // A litre and a US gallon (3.785411784 L) have a tiny common measure.
        (number("23.7"), numbers("1 3.785411784 0.946352946")),
    ];
    for (short, sizes) in hostile {
        LOOKED.set(0);
        let found = packs(&short, &sizes).expect("a purchase");
        assert!(found.total >= short, "{short} in {sizes:?}: {found:?}");
        // A hundred thousand sums or trials, and each size by itself.
        let looked = LOOKED.get();
        assert!((1..=100_064).contains(&looked), "{short} in {sizes:?}: {looked}");
    }
    // Too large to hold: no figure, no panic.
    let huge = Exact::from_integer(i128::MAX);
    let _ = packs(&huge, &numbers("0.000000001 3"));
    let _ = packs(&number("3"), &[Exact::new(1, i128::MAX), Exact::new(1, i128::MAX - 1)]);
}

/// Every purchase tried: what is left over and how many packs.
fn best_by_trying_all(short: i128, sizes: &[i128]) -> (i128, i128) {
    fn walk(short: i128, sizes: &[i128], count: i128, best: &mut (i128, i128)) {
        if short <= 0 {
            *best = (*best).min((-short, count));
            return;
        }
        let Some((size, rest)) = sizes.split_first() else { return };
        let most = short / size + 1;
        for here in 0..=most {
            walk(short - here * size, rest, count + here, best);
        }
    }
    let mut best = (i128::MAX, i128::MAX);
    walk(short, sizes, 0, &mut best);
    best
}

proptest! {
    #[test]
    fn no_other_purchase_is_better(short in 1_i128..70, sizes in prop::collection::vec(1_i128..14, 1..4), parts in 1_i128..9) {
        let exact: Vec<Exact> = sizes.iter().map(|size| Exact::new(*size, parts)).collect();
        let found = packs(&Exact::new(short, parts), &exact).expect("a purchase");
        let count: u64 = found.packs.iter().map(|pack| pack.count).sum();
        let left = (found.total - Exact::new(short, parts)) * Exact::from_integer(parts);
        prop_assert_eq!((left.to_integer(), i128::from(count)), best_by_trying_all(short, &sizes));
        prop_assert!(found.best && left.is_integer());
    }

    /// The search finds what the table finds, where both can be done.
    #[test]
    fn the_search_agrees_with_the_table(needed in 1_i128..400, sizes in prop::collection::btree_set(1_i128..60, 2..4)) {
        let sizes: Vec<i128> = sizes.into_iter().rev().collect();
        let value = |found: &super::Found| {
            let held: i128 = sizes.iter().zip(&found.counts).map(|(size, count)| size * count).sum();
            (held, found.counts.iter().sum::<i128>())
        };
        let table = super::by_table(needed, &sizes).expect("a small table");
        let search = super::by_search(needed, &sizes).expect("a purchase");
        prop_assert!(search.best);
        prop_assert_eq!(value(&table), value(&search));
    }

    #[test]
    fn never_less_than_is_short(short in 1_i128..i128::from(u64::MAX), below in 1_i128..1_000_000_000, sizes in prop::collection::vec((1_i128..1_000_000_000_000, 1_i128..1_000_000_000), 1..7)) {
        let short = Exact::new(short, below);
        let sizes: Vec<Exact> = sizes.into_iter().map(|(above, below)| Exact::new(above, below)).collect();
        if let Some(found) = packs(&short, &sizes) {
            prop_assert!(found.total >= short);
            // Less than one whole pack of the smallest is left over, where the best is found.
            if found.best {
                prop_assert!(found.total - short < *sizes.iter().min().expect("a size"));
            }
        }
    }
}
