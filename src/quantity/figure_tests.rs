use super::{Dimension, Figure, Quantity, Unit};

#[track_caller]
fn case(written: &str, tidied: &str) {
    let figure = Figure::parse(written).unwrap_or_else(|error| panic!("{written}: {error}"));
    assert_eq!(figure.to_string(), tidied, "for {written:?}");
}

#[track_caller]
fn refused(written: &str, message: &str, remedy: &str) {
    let error = Figure::parse(written).expect_err(written);
    assert_eq!(error.to_string(), message, "for {written:?}");
    assert_eq!(error.remedy(), remedy, "for {written:?}");
}

#[test]
fn forms_of_a_figure() {
    case("35 Nm", "35 N·m");
    case("30..35 Nm", "30..35 N·m");
    case("30 .. 35 Nm", "30..35 N·m");
    case("30 Nm..35 Nm", "30..35 N·m");
    case("30 Nm .. 35", "30..35 N·m");
    case("2.5.. bar", "2.5.. bar");
    case("2.5 bar..", "2.5.. bar");
    case("..5 bar", "..5 bar");
    case("35 ± 3 Nm", "35 ± 3 N·m");
    case("35±3Nm", "35 ± 3 N·m");
    case("35 +/- 3 N·m", "35 ± 3 N·m");
    case("35 N·m ± 3 N·m", "35 ± 3 N·m");
    case("-10..-5 °C", "-10..-5 °C");
    case("-10 ± 2 °C", "-10 ± 2 °C");
    case("85..95°", "85..95°");
    case("1/4..3/8 in", "1/4..3/8 in");
}

#[test]
fn other_ways_to_write_limits_are_turned_down_with_the_right_one() {
    refused("30-35 N·m", "`30-35` looks like a range", "write a range with two dots: `30..35 N·m`");
    refused("30 N·m - 35 N·m", "`30 N·m - 35 N·m` is not how limits are written", "write limits with two dots: `30 N·m..35 N·m`");
    refused("30 to 35 N·m", "`30 to 35 N·m` is not how limits are written", "write limits with two dots: `30..35 N·m`");
    refused("30...35 N·m", "`30...35 N·m` is not how limits are written", "write limits with two dots: `30..35 N·m`");
    refused("30…35 N·m", "`30…35 N·m` is not how limits are written", "write limits with two dots: `30..35 N·m`");
    refused("max 35 N·m", "`max 35 N·m` is not how limits are written", "write limits with two dots: `..35 N·m`");
    refused(">= 2.5 bar", "`>= 2.5 bar` is not how limits are written", "write limits with two dots: `2.5.. bar`");
    refused("1..2..3 bar", "`1..2..3 bar` is not how limits are written", "write limits as `2.5..5 bar`, `2.5.. bar` or `..5 bar`");
}

#[test]
fn limits_that_make_no_sense() {
    refused("35..30 N·m", "`35..30 N·m` has its lower limit above its upper one", "write `30..35 N·m`");
    refused("30 N·m..35 lbf·ft", "`30 N·m..35 lbf·ft` mixes two units", "give both numbers in one unit");
    refused("..", "`..` has no limit", "write limits as `2.5..5 bar`, `2.5.. bar` or `..5 bar`");
    refused("..bar", "`..bar` has no limit", "write limits as `2.5..5 bar`, `2.5.. bar` or `..5 bar`");
    refused("2.5..5", "`2.5..5` has no unit", "write its unit after the number, such as `2.5..5 L`");
    refused("35 ± 0 N·m", "`35 ± 0 N·m` has a tolerance of nothing", "write `35 N·m`");
    refused(
        "3 ± 5 L",
        "`3 ± 5 L` has a tolerance wider than its value",
        "write the tolerance after the sign, in the unit of the value: `35 ± 3 N·m`",
    );
    refused("35 N·m ± 10 %", "`35 N·m ± 10 %` mixes two units", "give both numbers in one unit");
    refused("-5..5 L", "`-5` is below zero, which only a temperature can be", "write `5 L`");
}

#[test]
fn limits_in_a_declared_unit() {
    let limits = |text| Figure::parse_bare(text, Unit::Bar);
    assert_eq!(limits("2.5..5.0").expect("bare").to_string(), "2.5..5.0 bar");
    assert_eq!(limits("2.5..").expect("bare").to_string(), "2.5.. bar");
    assert_eq!(limits("..5").expect("bare").to_string(), "..5 bar");
    assert_eq!(limits("..5 bar").expect("same").to_string(), "..5 bar");
    limits("..70 psi").expect_err("another unit");
}

#[test]
fn a_figure_must_fit_its_place() {
    let error = Figure::parse_in("2..3 L", Dimension::Torque).expect_err("a volume");
    assert_eq!(error.to_string(), "`2..3 L` is a volume, not a torque");
}

#[test]
fn within_limits_in_any_unit() {
    #[track_caller]
    fn case(figure: &str, quantity: &str, expected: Option<bool>) {
        let figure = Figure::parse(figure).expect(figure);
        let quantity = Quantity::parse(quantity).expect(quantity);
        assert_eq!(figure.contains(&quantity), expected, "{figure} {quantity}");
    }
    case("2.5..5.0 bar", "2.5 bar", Some(true));
    case("2.5..5.0 bar", "5.01 bar", Some(false));
    case("2.5..5.0 bar", "50 psi", Some(true));
    case("2.5..5.0 bar", "80 psi", Some(false));
    case("..5 bar", "0 bar", Some(true));
    case("35 ± 3 N·m", "38 N·m", Some(true));
    case("35 ± 3 N·m", "38.1 N·m", Some(false));
    case("80 ± 5 °C", "185 °F", Some(true));
    case("80 ± 5 °C", "186 °F", Some(false));
    case("35 N·m", "35.0 N·m", Some(true));
    case("35 N·m", "35 L", None);
}
