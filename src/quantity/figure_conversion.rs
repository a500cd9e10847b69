//! A figure shown in other units.
//!
//! A single value goes to the nearest digit. Limits round inward (a minimum up, a maximum down), so
//! that nobody who keeps to the converted limits can break the written ones.

use num_traits::{CheckedMul, CheckedSub};

use super::Exact;
use super::convert::{convert, counterparts, rounded};
use super::decimal::{Decimal, Rounding, round_to_decimals};
use super::figure::Figure;
use super::measure::Quantity;
use super::number::Number;
use super::unit::Unit;

/// How many more digits may be spent to keep narrow limits apart.
const MOST_EXTRA_DIGITS: u32 = 8;

impl Figure {
    /// The figure as text in the other system's unit: `35 N·m` gives `25.8 lbf·ft`. `None` where
    /// both systems share the unit. Where two units are usual they are joined by a comma.
    #[must_use]
    pub fn converted(&self) -> Option<String> {
        let shown: Vec<String> = self.counterparts().iter().map(ToString::to_string).collect();
        (!shown.is_empty()).then(|| shown.join(", "))
    }

    /// The figure in each unit of the other system that is usual for its size; none where both systems
    /// share the unit.
    #[must_use]
    pub fn counterparts(&self) -> Vec<Self> {
        let size = match self {
            Self::Exact(value) | Self::Tolerance { value, .. } => Some(value),
            Self::Range { low, high } => high.as_ref().or(low.as_ref()),
        };
        let units = size.map(|size| counterparts(size.unit(), &size.value())).unwrap_or_default();
        units.iter().filter_map(|unit| self.converted_to(*unit)).collect()
    }

    /// The figure in a given unit, to the precision of what was written. `None`: the unit measures
    /// something else, or the figure is too large.
    #[must_use]
    pub fn converted_to(&self, unit: Unit) -> Option<Self> {
        match self {
            Self::Exact(value) => value.rounded_in(unit).map(Self::Exact),
            Self::Range { low: Some(low), high: Some(high) } => limits_inward(low, high, unit),
            Self::Range { low, high } => {
                let side = |side: &Option<Quantity>, rounding| match side {
                    None => Some(None),
                    Some(limit) => limit_in(limit, unit, rounding, 0).map(Some),
                };
                Some(Self::Range { low: side(low, Rounding::Up)?, high: side(high, Rounding::Down)? })
            }
            Self::Tolerance { value, .. } => self.tolerance_inward(value, unit),
        }
    }

    /// The value to its nearest digit, and as wide a tolerance as stays within the written bounds.
    fn tolerance_inward(&self, value: &Quantity, unit: Unit) -> Option<Self> {
        let (low, high) = self.bounds();
        let low = convert(&low?, value.unit(), unit)?;
        let high = convert(&high?, value.unit(), unit)?;
        // At least three quarters of the written width should be left of it.
        let wanted = high.checked_sub(&low)?.checked_mul(&Exact::new(3, 8))?;
        for extra in 0..=MOST_EXTRA_DIGITS {
            let middle = rounded(value.number(), value.unit(), unit, Rounding::HalfEven, extra)?;
            let room = high.checked_sub(&middle.value()?)?.min(middle.value()?.checked_sub(&low)?);
            let width = round_to_decimals(&room, middle.decimals, Rounding::Down)?;
            if width.units > 0 && width.value()? >= wanted {
                return Some(Self::Tolerance { value: quantity(middle, unit)?, plus_minus: quantity(width, unit)? });
            }
        }
        None
    }
}

fn limits_inward(low: &Quantity, high: &Quantity, unit: Unit) -> Option<Figure> {
    if low.value() == high.value() {
        // One value in the form of a range leaves no room to round into.
        let value = low.rounded_in(unit)?;
        return Some(Figure::Range { low: Some(value.clone()), high: Some(value) });
    }
    for extra in 0..=MOST_EXTRA_DIGITS {
        let lowest = limit_in(low, unit, Rounding::Up, extra)?;
        let highest = limit_in(high, unit, Rounding::Down, extra)?;
        if lowest.value() < highest.value() {
            return Some(Figure::Range { low: Some(lowest), high: Some(highest) });
        }
    }
    None
}

fn limit_in(limit: &Quantity, unit: Unit, rounding: Rounding, extra: u32) -> Option<Quantity> {
    quantity(rounded(limit.number(), limit.unit(), unit, rounding, extra)?, unit)
}

fn quantity(decimal: Decimal, unit: Unit) -> Option<Quantity> {
    Some(Quantity::new(Number::from_decimal(decimal)?, unit))
}

#[cfg(test)]
mod tests {
    use super::Figure;

    #[track_caller]
    fn case(written: &str, expected: &str) {
        let figure = Figure::parse(written).unwrap_or_else(|error| panic!("{written}: {error}"));
        assert_eq!(figure.converted().as_deref(), Some(expected), "{written}");
    }

    #[test]
    fn values_go_to_the_other_system() {
        case("35 N·m", "25.8 lbf·ft");
        case("26 lbf·ft", "35 N·m");
        case("100 lbf·in", "11.3 N·m");
        case("6 kgf·m", "59 N·m, 43 lbf·ft");
        case("250 mL", "8.45 US fl oz");
        case("7.5 L", "7.9 US qt");
        case("200 L", "52.8 US gal");
        case("5 US gal", "19 L");
        case("1.5 imp gal", "6.8 L");
        case("80 °C", "176 °F");
        case("-40 °F", "-40.0 °C");
        case("2.5 bar", "36 psi");
        case("8 mm", "0.31 in");
        case("32 ft", "9.8 m");
        case("10 kg", "22 lb");
        case("120 nmi", "222 km");
        case("0.25 L/min", "0.066 US gal/min");
    }

    #[test]
    fn fractions_of_an_inch_count_as_exact_to_three_digits() {
        case("1/4 in", "6.35 mm");
        case("3/4 in", "19.05 mm");
        case("1 1/2 in", "38.1 mm");
    }

    #[test]
    fn limits_round_inward() {
        case("30..35 N·m", "22.2..25.8 lbf·ft");
        // 36.26 and 72.52 psi; two digits each are at least as exact as the two written.
        case("2.5..5.0 bar", "37..72 psi");
        case("2.5.. bar", "37.. psi");
        case("..5 bar", "..72 psi");
        case("5.. bar", "73.. psi");
        case("80..95 °C", "176..203 °F");
        case("35 ± 3 N·m", "25.8 ± 2.1 lbf·ft");
        case("80 ± 5 °C", "176 ± 9 °F");
        case("30.0..30.1 N·m", "22.13..22.20 lbf·ft");
    }

    #[test]
    fn shared_units_have_no_other_system() {
        for written in ["12.6 V", "2 h", "90°", "10 %", "12 months", "1.5 Ω"] {
            let figure = Figure::parse(written).expect(written);
            assert_eq!(figure.converted(), None, "{written}");
        }
    }
}
