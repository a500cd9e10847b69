//! Checks against values published or computed outside this project.
//!
//! Sources are named at each table. Where a table gives a rounded or cut figure, the tolerance says
//! how far the two may differ.

use uom::si::f64 as si;

use super::{Exact, Figure, Number, Quantity, Rounding, Unit, convert, round_to_digits, to_f64};

/// The fraction of a plain decimal of any length.
#[track_caller]
fn fraction(decimal: &str) -> Exact {
    let (whole, part) = decimal.split_once('.').unwrap_or((decimal, ""));
    let numeral: i128 = format!("{whole}{part}").parse().expect(decimal);
    Exact::new(numeral, 10_i128.pow(u32::try_from(part.len()).expect(decimal)))
}

#[track_caller]
fn unit(spelling: &str) -> Unit {
    Unit::parse(spelling).expect(spelling)
}

/// NIST SP 811 appendix B.8 factors, and the exact definitions behind them (inch and pound of 1959,
/// standard gravity, US gallon of 231 cubic inches, imperial gallon of 4.54609 L).
#[test]
fn exact_definitions() {
    #[track_caller]
    fn case(from: &str, value: &str, to: &str) {
        let one = Exact::from_integer(1);
        assert_eq!(convert(&one, unit(from), unit(to)), Some(fraction(value)), "{from}");
    }
    case("lbf·ft", "1.3558179483314004", "N·m");
    case("kgf·m", "9.80665", "N·m");
    case("in", "25.4", "mm");
    case("ft", "0.3048", "m");
    case("mi", "1.609344", "km");
    case("nmi", "1.852", "km");
    case("lb", "0.45359237", "kg");
    case("oz", "28.349523125", "g");
    case("US gal", "3.785411784", "L");
    case("US qt", "946.352946", "mL");
    case("US pt", "473.176473", "mL");
    case("US fl oz", "29.5735295625", "mL");
    case("imp gal", "4.54609", "L");
    case("imp qt", "1136.5225", "mL");
    case("imp pt", "568.26125", "mL");
    case("imp fl oz", "28.4130625", "mL");
    case("bar", "100", "kPa");
    // Not terminating: lbf·in is lbf·ft / 12, psi is lbf / in².
    assert_eq!(convert(&Exact::from_integer(12), Unit::PoundInch, Unit::PoundFoot), Some(Exact::from_integer(1)));
    let pound_force = fraction("0.45359237") * fraction("9.80665");
    let square_inch = fraction("0.0254") * fraction("0.0254");
    assert_eq!(
        convert(&Exact::from_integer(1), Unit::PoundPerSquareInch, Unit::Kilopascal),
        Some(pound_force / square_inch / Exact::from_integer(1000))
    );
    // The definition of the pound-force foot, from its three parts.
    assert_eq!(convert(&Exact::from_integer(1), Unit::PoundFoot, Unit::NewtonMetre), Some(pound_force * fraction("0.3048")));
}

/// Computed with Python's exact fractions; the library pint 0.25.3 agrees. Relative tolerance 1e-9.
#[test]
fn converted_pairs() {
    #[track_caller]
    fn case(written: &str, expected: f64, to: &str) {
        let quantity = Quantity::parse(written).or_else(|_| Quantity::parse_bare(written, unit(to))).expect(written);
        let found = to_f64(&quantity.in_unit(unit(to)).expect(written));
        assert!(((found - expected) / expected).abs() < 1e-9, "{written} is {found} {to}, not {expected}");
    }
    case("25 lbf·ft", 33.895_448_708_29, "N·m");
    case("45 N·m", 33.190_296_717_48, "lbf·ft");
    case("100 lbf·in", 11.298_482_902_76, "N·m");
    case("6 kgf·m", 58.8399, "N·m");
    case("1 lbf·in", 0.112_984_829_027_616_7, "N·m");
    case("1 US qt", 946.352_946, "mL");
    case("5 US gal", 18.927_058_92, "L");
    case("5 imp gal", 22.730_45, "L");
    case("8 US fl oz", 236.588_236_5, "mL");
    case("20 imp fl oz", 568.261_25, "mL");
    case("250 mL", 8.453_505_675_461, "US fl oz");
    case("1 imp pt", 1.200_949_925_505, "US pt");
    case("32 ft", 9.7536, "m");
    case("0.375 in", 9.525, "mm");
    case("120 nmi", 222.24, "km");
    case("120 nmi", 138.093_533_762_8, "mi");
    case("10 kg", 22.046_226_218_49, "lb");
    case("3 oz", 85.048_569_375, "g");
    case("90 psi", 620.528_156_385_2, "kPa");
    case("1 psi", 6.894_757_293_168_361, "kPa");
    case("1.5 bar", 21.755_660_659_53, "psi");
    case("180 °F", 82.222_222_222_22, "°C");
    case("80 °C", 176.0, "°F");
    case("-40 °F", -40.0, "°C");
}

/// A litre and a kilogram never convert without a density, nor a month into days.
#[test]
fn what_does_not_convert() {
    let one = Exact::from_integer(1);
    for (from, to) in [("L", "kg"), ("months", "days"), ("nmi", "mm"), ("L", "L/h")] {
        assert_eq!(convert(&one, unit(from), unit(to)), None, "{from} {to}");
    }
}

/// NIST SP 811 B.7.1: the published examples, then three computed ones that binary floats get wrong.
#[test]
fn rounding_a_numeral() {
    #[track_caller]
    fn case(written: &str, digits: u32, expected: &str) {
        let number = Number::parse(written).expect(written);
        let rounded = round_to_digits(&number.value(), digits, Rounding::HalfEven);
        assert_eq!(rounded.expect(written).to_string(), expected, "{written}");
    }
    case("6.9749515", 3, "6.97");
    case("6.9749515", 5, "6.9750");
    case("6.9749515", 7, "6.974952");
    case("6.9749505", 7, "6.974950");
    case("2.675", 3, "2.68");
    case("1.15", 2, "1.2");
    case("0.285", 2, "0.28");
}

/// NIST SP 811 B.7.2 (36 ft) and NIST LC 1137 (36 in, 40.1 in) as published; the other rows are the
/// same rule, computed apart: the fewest digits whose relative error is not above the original's.
#[test]
fn rounding_a_converted_value() {
    #[track_caller]
    fn case(written: &str, expected: &str) {
        let unit_text = expected.split_once(' ').map(|(_, symbol)| symbol).expect(expected);
        let shown = Quantity::parse(written).expect(written).rounded_in(unit(unit_text));
        assert_eq!(shown.expect(written).written(), expected, "for {written}");
    }
    case("36 ft", "11.0 m");
    case("36 in", "91 cm");
    case("40.1 in", "101.9 cm");
    case("40.1 in", "1019 mm");
    case("25 lbf·ft", "34 N·m");
    case("9 lbf·ft", "12 N·m");
    case("45 N·m", "33.2 lbf·ft");
    case("12.5 N·m", "9.22 lbf·ft");
    case("120 N·m", "88.5 lbf·ft");
    case("110 lbf·in", "12.4 N·m");
    case("4.5 L", "4.8 US qt");
    case("90 psi", "621 kPa");
    case("66 mi", "106 km");
    case("0.25 in", "6.4 mm");
    // The bare rule gives 9 N·m for 9.49; a torque keeps two digits.
    case("7 lbf·ft", "9.5 N·m");
}

/// The rows of that table that go to the unit pages show.
#[test]
fn rounding_as_shown_on_pages() {
    #[track_caller]
    fn case(written: &str, expected: &str) {
        let figure = Figure::parse(written).expect(written);
        assert_eq!(figure.converted().as_deref(), Some(expected), "{written}");
    }
    case("36 ft", "11.0 m");
    case("40.1 in", "1019 mm");
    case("25 lbf·ft", "34 N·m");
    case("45 N·m", "33.2 lbf·ft");
    case("12.5 N·m", "9.22 lbf·ft");
    case("120 N·m", "88.5 lbf·ft");
    case("110 lbf·in", "12.4 N·m");
    case("4.5 L", "4.8 US qt");
    case("66 mi", "106 km");
    case("0.25 in", "6.4 mm");
}

/// The crate uom, whose factors are given to seven or more digits: relative tolerance 1e-6.
#[test]
fn the_crate_uom_agrees() {
    #[track_caller]
    fn case(from: Unit, to: Unit, expected: f64) {
        let seven = Exact::from_integer(7);
        let found = to_f64(&convert(&seven, from, to).expect("same kind"));
        assert!(((found - expected) / expected).abs() < 1e-6, "7 {from:?} is {found} {to:?}, not {expected}");
    }
    macro_rules! rows {
        ($quantity:ident, $module:ident: $($from:ident $theirs:ident),+; $to:ident $base:ident) => {
            $(case(
                Unit::$from,
                Unit::$to,
                si::$quantity::new::<uom::si::$module::$theirs>(7.0).get::<uom::si::$module::$base>(),
            );)+
        };
    }
    rows!(Torque, torque: PoundFoot pound_force_foot, PoundInch pound_force_inch,
        KilogramForceMetre kilogram_force_meter; NewtonMetre newton_meter);
    rows!(Volume, volume: Millilitre milliliter, UsGallon gallon, UsQuart quart_liquid,
        UsPint pint_liquid, UsFluidOunce fluid_ounce, ImperialGallon gallon_imperial,
        ImperialFluidOunce fluid_ounce_imperial; Litre liter);
    rows!(Length, length: Inch inch, Foot foot, Metre meter, Centimetre centimeter;
        Millimetre millimeter);
    rows!(Length, length: NauticalMile nautical_mile, StatuteMile mile; Kilometre kilometer);
    rows!(Mass, mass: Pound pound, Ounce ounce, Gram gram; Kilogram kilogram);
    rows!(Pressure, pressure: Bar bar, PoundPerSquareInch psi; Kilopascal kilopascal);
    rows!(ThermodynamicTemperature, thermodynamic_temperature:
        DegreeFahrenheit degree_fahrenheit; DegreeCelsius degree_celsius);
    rows!(Time, time: Hour hour, Minute minute, Day day; Second second);
    rows!(VolumeRate, volume_rate: UsGallonPerMinute gallon_per_minute; LitrePerMinute liter_per_minute);
}
