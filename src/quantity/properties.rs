//! What must hold for any input: no panic, the same figure after reading what was written, and
//! converted limits that never reach beyond the written ones.

use proptest::prelude::*;

use super::{
    Approximate, CalendarSpan, Dimension, Duration, DutyCycle, Exact, Figure, Money, Number, Quantity, Rounding, Unit, convert,
    counterparts, plain_decimal, round_to_digits,
};

fn number_text() -> impl Strategy<Value = String> {
    prop_oneof![
        "[0-9]{1,6}",
        "[0-9]{1,6}\\.[0-9]{1,5}",
        "[0-9]{1,12}\\.[0-9]{9}",
        "[1-9][0-9]{0,2}/[1-9][0-9]{0,2}",
        "[1-9][0-9]{0,2} [1-9]/[1-9][0-9]",
    ]
}

fn any_unit() -> impl Strategy<Value = Unit> {
    proptest::sample::select(Unit::ALL)
}

/// Text of the alphabet that figures are made of, so that the readers get past their first line.
fn near_text() -> impl Strategy<Value = String> {
    proptest::collection::vec(
        proptest::sample::select(vec![
            "1",
            "0",
            "35",
            "7.5",
            "..",
            ".",
            ",",
            "-",
            "–",
            "±",
            "+/-",
            "/",
            " ",
            "\u{a0}",
            "~",
            "e",
            "N·m",
            "Nm",
            "L",
            "US gal",
            "°",
            "°C",
            "%",
            "h",
            "min",
            "months",
            " at ",
            "L/min",
            " on",
            " off",
            "run ",
            ", ",
            "unattended",
            "EUR",
            "½",
            "…",
            "'",
            "é",
            "İ",
            "max ",
            "≤",
            "999999999999",
            ":",
            "inf",
        ]),
        0..12,
    )
    .prop_map(|parts| parts.concat())
}

fn read_with_everything(text: &str) {
    // Messages and remedies must not panic either.
    let said = [
        Number::parse(text).map_err(|error| (error.to_string(), error.remedy())).err(),
        Quantity::parse(text).map_err(|error| (error.to_string(), error.remedy())).err(),
        Unit::parse(text).map_err(|error| (error.to_string(), error.remedy())).err(),
        Duration::parse(text).map_err(|error| (error.to_string(), error.remedy())).err(),
        CalendarSpan::parse(text).map_err(|error| (error.to_string(), error.remedy())).err(),
        DutyCycle::parse(text).map_err(|error| (error.to_string(), error.remedy())).err(),
        Money::parse(text).map_err(|error| (error.to_string(), error.remedy())).err(),
        Approximate::parse(text).map_err(|error| (error.to_string(), error.remedy())).err(),
        Figure::parse(text).map_err(|error| (error.to_string(), error.remedy())).err(),
        Figure::parse_bare(text, Unit::Bar).map_err(|error| (error.to_string(), error.remedy())).err(),
    ];
    for (message, remedy) in said.into_iter().flatten() {
        assert!(!message.is_empty() && !remedy.is_empty(), "{text:?}");
        assert!(!message.ends_with('.') && !remedy.ends_with('.'), "{message}; {remedy}");
    }
    if let Ok(figure) = Figure::parse(text) {
        let _ = figure.converted();
        assert_eq!(Figure::parse(&figure.to_string()).as_ref(), Ok(&figure), "{text:?}");
    }
    if let Ok(span) = CalendarSpan::parse(text) {
        assert_eq!(CalendarSpan::parse(&span.to_string()), Ok(span));
    }
    if let Ok(duration) = Duration::parse(text) {
        assert_eq!(Duration::parse(&duration.to_string()), Ok(duration));
    }
    if let Ok(cycle) = DutyCycle::parse(text) {
        assert_eq!(DutyCycle::parse(&cycle.to_string()), Ok(cycle));
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_text_makes_it_panic(text in any::<String>(), near in near_text()) {
        read_with_everything(&text);
        read_with_everything(&near);
    }

    #[test]
    fn what_is_written_reads_back(number in number_text(), unit in any_unit()) {
        let quantity = Quantity::parse(&format!("{number} {}", unit.symbol()));
        let quantity = quantity.map_err(|error| TestCaseError::fail(error.to_string()))?;
        let again = Quantity::parse(quantity.written());
        prop_assert_eq!(again.as_ref(), Ok(&quantity));
        let in_place = Quantity::parse_in(quantity.written(), unit.dimension());
        prop_assert_eq!(in_place.as_ref(), Ok(&quantity));
    }

    /// ISO 4217: three capitals; currencies with no, two and three digits after the point.
    #[test]
    fn sums_of_money_read_back(number in "[0-9]{1,9}(\\.[0-9]{1,3})?", code in "[A-Z]{3}", other in "[0-9]{1,9}(\\.[0-9]{1,3})?", eighths in 0_i128..800) {
        let money = |number: &str| Money::parse(&format!("{number} {code}")).map_err(|error| TestCaseError::fail(error.to_string()));
        let first = money(&number)?;
        let sum = first.checked_add(&money(&other)?);
        let product = first.checked_mul(&Exact::new(eighths, 8));
        for sum in [Some(first), sum, product] {
            let sum = sum.ok_or_else(|| TestCaseError::fail("too large to hold"))?;
            let again = Money::parse(&sum.to_string());
            prop_assert_eq!(again.as_ref(), Ok(&sum));
        }
    }

    #[test]
    fn there_and_back_is_exact(number in number_text(), from in any_unit(), to in any_unit()) {
        let value = Number::parse(&number).expect("a number").value();
        if let Some(there) = convert(&value, from, to)
            && let Some(back) = convert(&there, to, from)
        {
            prop_assert_eq!(back, value);
        }
        prop_assert!(from.dimension() == to.dimension() || convert(&value, from, to).is_none());
    }

    /// B.7.2: the relative error of what is shown is not above that of what was written, so the
    /// two differ by no more than half of the written figure's last digit and half of their own.
    #[test]
    fn a_shown_value_is_as_close_as_the_written_one(
        number in "[1-9][0-9]{0,4}(\\.[0-9]{1,3})?",
        unit in any_unit(),
    ) {
        let quantity = Quantity::parse(&format!("{number} {}", unit.symbol())).expect("a quantity");
        for other in counterparts(unit, &quantity.value()) {
            let shown = quantity.rounded_in(*other).expect("small enough");
            let back = shown.in_unit(unit).expect("the same kind");
            let last_digit = Exact::new(1, 10_i128.pow(quantity.number().decimals()));
            let gap = if back > quantity.value() { back - quantity.value() } else { quantity.value() - back };
            prop_assert!(gap <= last_digit, "{} shown as {}", quantity, shown);
        }
    }

    #[test]
    fn limits_never_widen(
        low in "[0-9]{1,4}(\\.[0-9]{1,3})?",
        high in "[0-9]{1,4}(\\.[0-9]{1,3})?",
        unit in any_unit(),
    ) {
        let texts = [
            format!("{low}..{high} {}", unit.symbol()),
            format!("{low}.. {}", unit.symbol()),
            format!("..{high} {}", unit.symbol()),
            format!("{high} ± {low} {}", unit.symbol()),
        ];
        for text in texts {
            let Ok(figure) = Figure::parse(&text) else { continue };
            let (lowest, highest) = figure.bounds();
            if lowest == highest {
                continue;
            }
            let size = highest.or(lowest).expect("one limit");
            for other in counterparts(unit, &size) {
                let shown = figure.converted_to(*other);
                prop_assert!(shown.is_some(), "{} is not shown", figure);
                let (shown_low, shown_high) = shown.as_ref().expect("shown").bounds();
                let back = |value: Option<Exact>| value.and_then(|value| convert(&value, *other, unit));
                prop_assert_eq!(shown_low.is_some(), lowest.is_some());
                prop_assert_eq!(shown_high.is_some(), highest.is_some());
                prop_assert!(back(shown_low) >= lowest, "{} as {:?}", figure, shown);
                prop_assert!(back(shown_high) <= highest, "{} as {:?}", figure, shown);
            }
        }
    }

    /// An exact half apart, rounding goes to the nearest; the text says the same as the value.
    #[test]
    fn rounding_is_nearest(numerator in -1_000_000_000_i128..1_000_000_000, denominator in 1_i128..100_000, digits in 1_u32..12) {
        let value = Exact::new(numerator, denominator);
        let at = |rounding| round_to_digits(&value, digits, rounding).expect("small").value().expect("small");
        let (down, nearest, up) = (at(Rounding::Down), at(Rounding::HalfEven), at(Rounding::Up));
        prop_assert!(down <= value && value <= up);
        prop_assert!(nearest == down || nearest == up);
        let text = plain_decimal(&value, 9);
        prop_assert!(!text.contains('.') || !text.ends_with('0'));
    }

    #[test]
    fn a_duration_in_iso_form_adds_up(seconds in 0_i64..300_000_000) {
        let duration = Duration::from_seconds(seconds).expect("not below zero");
        let iso = duration.iso8601();
        let mut total = 0;
        let mut count = 0;
        let mut clock = false;
        for character in iso.chars().skip(1) {
            let size = match character {
                'T' => { clock = true; 0 }
                'D' => 86_400,
                'H' => 3_600,
                'M' if clock => 60,
                'S' => 1,
                digit => { count = count * 10 + i64::from(digit.to_digit(10).expect("a digit")); continue }
            };
            total += count * size;
            count = 0;
        }
        prop_assert_eq!(total, seconds, "{}", iso);
    }
}

#[test]
fn a_kind_never_takes_another_kinds_unit() {
    for dimension in Dimension::ALL {
        for unit in Unit::ALL {
            let text = format!("5 {}", unit.symbol());
            let fits = Quantity::parse_in(&text, dimension).is_ok();
            assert_eq!(fits, unit.dimension() == dimension, "{text} {dimension:?}");
        }
    }
}
