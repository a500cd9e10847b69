use super::{Exact, MOST_DECIMALS, Number, tenths};
use proptest::prelude::*;

#[track_caller]
fn case(written: &str, value: (i128, i128), decimals: u32, significant: u32) {
    let number = Number::parse_signed(written).unwrap_or_else(|error| panic!("{written}: {error}"));
    assert_eq!(number.value(), Exact::new(value.0, value.1), "{written}");
    assert_eq!(number.decimals(), decimals, "{written}");
    assert_eq!(number.significant_digits(), significant, "{written}");
}

#[track_caller]
fn refused(written: &str, message: &str, remedy: &str) {
    let error = Number::parse(written).expect_err(written);
    assert_eq!(error.to_string(), message, "for {written:?}");
    assert_eq!(error.remedy(), remedy, "for {written:?}");
}

#[test]
fn value_and_digits() {
    case("7", (7, 1), 0, 1);
    case("1840.5", (18_405, 10), 1, 5);
    case("0.25", (1, 4), 2, 2);
    case("7.50", (15, 2), 2, 3);
    case("120", (120, 1), 0, 3);
    case("0", (0, 1), 0, 1);
    case("010", (10, 1), 0, 2);
    case("1/4", (1, 4), 3, 3);
    case("3/8", (3, 8), 3, 3);
    case("1 1/2", (3, 2), 2, 3);
    case("½", (1, 2), 3, 3);
    case("-10", (-10, 1), 0, 2);
    case("999999999999.999999999", (999_999_999_999_999_999_999, 1_000_000_000), 9, 21);
}

#[test]
fn two_ways_to_read_are_one_too_many() {
    refused("7,5", "`7,5` has a decimal comma", "write a point: `7.5`");
    refused("0,250", "`0,250` has a decimal comma", "write a point: `0.250`");
    refused("1,200", "`1,200` has a separator in its thousands", "write `1200`");
    refused("1 200", "`1 200` has a separator in its thousands", "write `1200`");
    refused("1'200", "`1'200` has a separator in its thousands", "write `1200`");
    refused("1,200.5", "`1,200.5` has a separator in its thousands", "write `1200.5`");
    refused("1.200,5", "`1.200,5` has a separator in its thousands", "write `1200.5`");
    refused("1.200.000", "`1.200.000` has a separator in its thousands", "write `1200000`");
}

#[test]
fn other_spellings_say_what_to_write() {
    refused("1e3", "`1e3` is written with a power of ten", "write `1000`");
    refused("2.5E-3", "`2.5E-3` is written with a power of ten", "write `0.0025`");
    refused("1e99", "`1e99` is written with a power of ten", "write the number out in full");
    refused(".5", "`.5` lacks a digit beside its point", "write `0.5`");
    refused("5.", "`5.` lacks a digit beside its point", "write `5`");
    refused("+5", "`+5` has a sign where none is needed", "write `5`");
    refused("-5", "`-5` is below zero, which only a temperature can be", "write `5`");
    refused("1/0", "`1/0` divides by zero", "write a fraction such as `1/4`");
    refused("1-1/2", "`1-1/2` joins a whole number and a fraction with a hyphen", "write `1 1/2`");
    let figures = "write a number in figures, such as `7.5`";
    refused("inf", "`inf` is not a number", figures);
    refused("NaN", "`NaN` is not a number", figures);
    refused("two", "`two` is not a number", figures);
    refused("٣", "`٣` is not a number", figures);
    refused("", "the number is missing", figures);
    refused("1234567890123", "`1234567890123` has too many digits", "use at most 12 digits before the point and 9 after it");
    refused("0.1234567890", "`0.1234567890` has too many digits", "use at most 12 digits before the point and 9 after it");
    refused("1/2/3", "`1/2/3` is not a fraction", "write a fraction such as `1/4` or `1 1/2`, in whole numbers of at most four digits");
}

proptest! {
    #[test]
    fn a_decimal_is_in_lowest_terms(numeral in 0_u64.., decimals in 0..=MOST_DECIMALS as u32) {
        prop_assert_eq!(tenths(numeral, decimals), Exact::new(i128::from(numeral), 10_i128.pow(decimals)));
        let round = numeral / 1_000_000 * 1_000_000;
        prop_assert_eq!(tenths(round, decimals), Exact::new(i128::from(round), 10_i128.pow(decimals)));
    }
}
