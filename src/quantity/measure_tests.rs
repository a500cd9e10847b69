use super::{Dimension, Exact, Quantity, Unit};

#[track_caller]
fn case(written: &str, tidied: &str, value: (i128, i128), unit: Unit) {
    let quantity = Quantity::parse(written).unwrap_or_else(|error| panic!("{written}: {error}"));
    assert_eq!(quantity.written(), tidied, "for {written:?}");
    assert_eq!(quantity.value(), Exact::new(value.0, value.1), "{written}");
    assert_eq!(quantity.unit(), unit, "for {written:?}");
}

#[track_caller]
fn refused(written: &str, message: &str, remedy: &str) {
    let error = Quantity::parse(written).expect_err(written);
    assert_eq!(error.to_string(), message, "for {written:?}");
    assert_eq!(error.remedy(), remedy, "for {written:?}");
}

#[track_caller]
fn misplaced(written: &str, place: Dimension, message: &str, remedy: &str) {
    let error = Quantity::parse_in(written, place).expect_err(written);
    assert_eq!(error.to_string(), message, "for {written:?}");
    assert_eq!(error.remedy(), remedy, "for {written:?}");
}

#[test]
fn where_a_torque_stands_a_word_for_miles_is_none() {
    misplaced("35 NM", Dimension::Torque, "unknown unit `NM`", "if `N·m` is meant, write that");
    misplaced("5 NM", Dimension::Distance, "`NM` is written `nmi` here", "write `5 nmi`");
    misplaced("2 hr", Dimension::Torque, "unknown unit `hr`", "write a torque, in `N·m`, `lbf·ft`, `lbf·in` or `kgf·m`");
}

#[test]
fn as_written_but_tidied() {
    case("35 Nm", "35 N·m", (35, 1), Unit::NewtonMetre);
    case("26 ft-lb", "26 lbf·ft", (26, 1), Unit::PoundFoot);
    case("7.50\u{a0}l", "7.50 L", (15, 2), Unit::Litre);
    case("12V", "12 V", (12, 1), Unit::Volt);
    case("90°", "90°", (90, 1), Unit::Degree);
    case("90 deg", "90°", (90, 1), Unit::Degree);
    case("10%", "10 %", (10, 1), Unit::Percent);
    case("1 1/2 in", "1 1/2 in", (3, 2), Unit::Inch);
    case("\u{2212}10 ° C", "-10 °C", (-10, 1), Unit::DegreeCelsius);
    case("1 day", "1 day", (1, 1), Unit::Day);
    case("1 months", "1 month", (1, 1), Unit::Month);
    case("2 US gal", "2 US gal", (2, 1), Unit::UsGallon);
    case("0.25 L / min", "0.25 L/min", (1, 4), Unit::LitrePerMinute);
}

#[test]
fn remedies_repeat_the_figure_as_it_should_stand() {
    refused("7,5 L", "`7,5` has a decimal comma", "write a point: `7.5 L`");
    refused("1,200 L", "`1,200` has a separator in its thousands", "write `1200 L`");
    refused("1e3 L", "`1e3` is written with a power of ten", "write `1000 L`");
    refused("-5 L", "`-5` is below zero, which only a temperature can be", "write `5 L`");
    refused("30-35 Nm", "`30-35` looks like a range", "write a range with two dots: `30..35 N·m`");
    refused("30–35 Nm", "`30–35` looks like a range", "write a range with two dots: `30..35 N·m`");
    refused("1-1/2 in", "`1-1/2` joins a whole number and a fraction with a hyphen", "write `1 1/2 in`");
    refused("200 hours", "`hours` is written `h` here", "write `200 h`");
    refused("5 gal", "`gal` can mean more than one unit", "say which: `5 US gal` or `5 imp gal`");
    refused("5 ML", "unknown unit `ML`", "if `mL` is meant, write that");
    refused("35", "`35` has no unit", "write its unit after the number, such as `35 L`");
    refused("~35 N·m", "`~35 N·m` is only approximate", "write `35 N·m`: no `~` can stand here");
    // Three numbers are no range.
    refused("2026-01-01", "`2026-01-01` is not a number", "write a number in figures, such as `7.5`");
    refused("30..35 N·m", "`30..35 N·m` is not one single value", "write one number with its unit");
    let figures = "write a number in figures, such as `7.5`";
    refused("inf L", "`inf L` is not a number", figures);
    refused("N·m", "`N·m` is not a number", figures);
    refused("  ", "the number is missing", figures);
}

#[test]
fn a_unit_must_fit_its_place() {
    misplaced("35 L", Dimension::Torque, "`35 L` is a volume, not a torque", "write a torque, such as `35 N·m` or `26 lbf·ft`");
    misplaced("35 mm", Dimension::Angle, "`35 mm` is a length, not an angle", "write an angle, such as `90°`");
    misplaced("3 MPa", Dimension::Pressure, "unknown unit `MPa`", "write a pressure, in `bar`, `kPa` or `psi`");
    misplaced("17 mm socket", Dimension::Length, "`socket` cannot stand after a unit", "write `17 mm`");
    misplaced(
        "35",
        Dimension::Torque,
        "`35` has no unit",
        "write a torque, such as `35 N·m` or `26 lbf·ft`; \
         the units are `N·m`, `lbf·ft`, `lbf·in` or `kgf·m`",
    );
}

#[test]
fn a_declared_unit_may_be_left_out_but_not_changed() {
    let bar = |text| Quantity::parse_bare(text, Unit::Bar);
    assert_eq!(bar("3.8").expect("bare").written(), "3.8 bar");
    assert_eq!(bar("3.8 bar").expect("repeated").written(), "3.8 bar");
    let error = bar("55 psi").expect_err("another unit");
    assert_eq!(error.to_string(), "`55 psi` is not in `bar`, the unit declared for it");
    assert_eq!(error.remedy(), "give it in `bar`, or without a unit");
    bar("-1").expect_err("below zero");
}

#[test]
fn the_examples_in_remedies_can_be_read() {
    for dimension in Dimension::ALL {
        for example in dimension.examples().split(" or ") {
            let example = example.trim_matches('`');
            Quantity::parse_in(example, dimension).unwrap_or_else(|error| panic!("{example}: {error}"));
        }
    }
}

#[test]
fn computed_values_drop_their_last_zeros() {
    let quantity = |value, unit| Quantity::from_value(&value, unit, 3).expect("small").to_string();
    assert_eq!(quantity(Exact::new(83, 2), Unit::Hour), "41.5 h");
    assert_eq!(quantity(Exact::from_integer(63), Unit::Day), "63 days");
    assert_eq!(quantity(Exact::from_integer(1), Unit::Day), "1 day");
}
