//! Exact conversion between units, and how many digits of the result to show.
//!
//! NIST SP 811 B.7.2: the shown figure's relative rounding error (half its last digit) should match
//! that of the figure as written. Half of the last digit is one part in twice the numeral, so the
//! rule comes down to this: show the fewest digits which, read without their point, make a number
//! no smaller than the written digits do. 36 ft is 11.0 m, since 11 is below 36 and 110 is not.

use num_traits::{CheckedAdd, CheckedMul, CheckedSub};

use super::Exact;
use super::decimal::{Decimal, Rounding, round_to_decimals, round_to_digits};
use super::dimension::Dimension;
use super::number::Number;
use super::unit::{Scale, Unit};

/// More digits than the longest number that can be written.
const MOST_DIGITS: u32 = 24;

/// The exact value in another unit.
///
/// `None`: the units measure different things, a calendar month would have to become days, or the
/// value is too large to hold.
#[must_use]
pub fn convert(value: &Exact, from: Unit, to: Unit) -> Option<Exact> {
    if from.dimension() != to.dimension() {
        return None;
    }
    match (from.row().scale, to.row().scale) {
        (Scale::Times(from_above, from_below), Scale::Times(to_above, to_below)) => {
            let factor = Exact::new(from_above, from_below).checked_mul(&Exact::new(to_above, to_below).recip())?;
            value.checked_mul(&factor)
        }
        (Scale::Months(from), Scale::Months(to)) => value.checked_mul(&Exact::new(from, to)),
        (Scale::Celsius, Scale::Fahrenheit) => value.checked_mul(&Exact::new(9, 5))?.checked_add(&Exact::from_integer(32)),
        (Scale::Fahrenheit, Scale::Celsius) => value.checked_sub(&Exact::from_integer(32))?.checked_mul(&Exact::new(5, 9)),
        (from, to) => (from == to).then_some(*value),
    }
}

/// The units of the other system for a figure of this size (in its own unit); empty where both
/// systems share the unit.
///
/// The choices are common practice, no source: oil by the US quart, tanks by the US gallon,
/// sips by the fluid ounce. A torque in kgf·m gets both, since few wrenches still show it.
#[must_use]
pub fn counterparts(unit: Unit, size: &Exact) -> &'static [Unit] {
    use Unit as U;
    match unit {
        U::NewtonMetre => &[U::PoundFoot],
        U::KilogramForceMetre => &[U::NewtonMetre, U::PoundFoot],
        U::PoundFoot | U::PoundInch => &[U::NewtonMetre],
        U::Litre | U::Millilitre => litres_in_us_units(unit, size),
        U::UsGallon | U::ImperialGallon | U::UsQuart | U::ImperialQuart => &[U::Litre],
        U::UsPint | U::ImperialPint | U::UsFluidOunce | U::ImperialFluidOunce => &[U::Millilitre],
        U::Millimetre | U::Centimetre => &[U::Inch],
        U::Metre => &[U::Foot],
        U::Inch => &[U::Millimetre],
        U::Foot => &[U::Metre],
        U::NauticalMile | U::StatuteMile => &[U::Kilometre],
        U::Kilometre => &[U::NauticalMile],
        U::Gram => &[U::Ounce],
        U::Kilogram => &[U::Pound],
        U::Ounce => &[U::Gram],
        U::Pound => &[U::Kilogram],
        U::Bar | U::Kilopascal => &[U::PoundPerSquareInch],
        U::PoundPerSquareInch => &[U::Bar],
        U::DegreeCelsius => &[U::DegreeFahrenheit],
        U::DegreeFahrenheit => &[U::DegreeCelsius],
        U::LitrePerMinute => &[U::UsGallonPerMinute],
        U::LitrePerHour => &[U::UsGallonPerHour],
        U::MillilitrePerMinute => &[U::UsFluidOuncePerMinute],
        U::MillilitrePerHour => &[U::UsFluidOuncePerHour],
        U::UsGallonPerMinute
        | U::UsQuartPerMinute
        | U::UsPintPerMinute
        | U::ImperialGallonPerMinute
        | U::ImperialQuartPerMinute
        | U::ImperialPintPerMinute => &[U::LitrePerMinute],
        U::UsGallonPerHour
        | U::UsQuartPerHour
        | U::UsPintPerHour
        | U::ImperialGallonPerHour
        | U::ImperialQuartPerHour
        | U::ImperialPintPerHour => &[U::LitrePerHour],
        U::UsFluidOuncePerMinute | U::ImperialFluidOuncePerMinute => &[U::MillilitrePerMinute],
        U::UsFluidOuncePerHour | U::ImperialFluidOuncePerHour => &[U::MillilitrePerHour],
        U::Second
        | U::Minute
        | U::Hour
        | U::Day
        | U::Week
        | U::Month
        | U::Year
        | U::Volt
        | U::Ampere
        | U::AmpereHour
        | U::Watt
        | U::Ohm
        | U::Degree
        | U::Percent => &[],
    }
}

fn litres_in_us_units(unit: Unit, size: &Exact) -> &'static [Unit] {
    let below = |litres: i128| convert(&Exact::from_integer(litres), Unit::Litre, unit).is_some_and(|limit| *size < limit);
    if below(1) {
        &[Unit::UsFluidOunce]
    } else if below(10) {
        &[Unit::UsQuart]
    } else {
        &[Unit::UsGallon]
    }
}

/// The number in another unit with the digits it deserves, plus `extra` digits.
pub(super) fn rounded(number: &Number, from: Unit, to: Unit, rounding: Rounding, extra: u32) -> Option<Decimal> {
    let value = convert(&number.value(), from, to)?;
    if from.dimension() == Dimension::Temperature {
        return rounded_temperature(number, &value, from, to, rounding, extra);
    }
    // A torque of one digit would be off by half: 7 lbf·ft would show as 9 N·m. A limit of one
    // digit could go inward by as much: at least 5 bar (72.5 psi) would show as at least 80 psi.
    let least = if from.dimension() == Dimension::Torque || rounding != Rounding::HalfEven { 2 } else { 1 };
    let numeral = number.numeral()?;
    if numeral == Exact::from_integer(0) {
        return round_to_digits(&value, least, rounding);
    }
    for digits in least..=MOST_DIGITS {
        let candidate = round_to_digits(&value, digits, rounding)?;
        if Exact::from_integer(candidate.units.checked_abs()?) >= numeral {
            return if extra == 0 { Some(candidate) } else { round_to_digits(&value, digits + extra, rounding) };
        }
    }
    None
}

/// Temperatures have no natural zero, so a relative error says nothing of them: the last digit
/// shown is no coarser, in degrees, than the last digit written.
fn rounded_temperature(number: &Number, value: &Exact, from: Unit, to: Unit, rounding: Rounding, extra: u32) -> Option<Decimal> {
    let finer = u32::from(from == Unit::DegreeFahrenheit && to == Unit::DegreeCelsius);
    let decimals = number.decimals().checked_add(finer)?.checked_add(extra)?;
    round_to_decimals(value, i32::try_from(decimals).ok()?, rounding)
}
