//! The units a book may use: one table that gives each its symbol, kind, size and spellings.
//!
//! Sizes are exact fractions. Sources: NIST SP 811 appendix B.8 and the definitions it rests on
//! (inch 25.4 mm and pound 0.45359237 kg exactly, 1959; standard gravity 9.80665 m/s²; US gallon
//! 231 cubic inches; imperial gallon 4.54609 L; nautical mile 1852 m).

use super::dimension::{Dimension, System};

/// How a unit's numbers relate to the base of its kind.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Scale {
    /// So many base units, as a fraction.
    Times(i128, i128),
    /// Degrees Celsius, the base of temperatures.
    Celsius,
    /// Degrees Fahrenheit: not a multiple, the zeros differ.
    Fahrenheit,
    /// Calendar months, which have no length in seconds.
    Months(i128),
}

pub(super) struct Row {
    pub(super) symbol: &'static str,
    pub(super) dimension: Dimension,
    pub(super) system: System,
    pub(super) scale: Scale,
    /// Other accepted spellings, with `·` for whatever joins two parts.
    pub(super) spellings: &'static [&'static str],
}

macro_rules! units {
    ($($variant:ident $symbol:literal $dimension:ident $system:ident $scale:expr, [$($spelling:literal),*];)+) => {
        /// One unit of the book's list.
        #[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, PartialOrd, Ord)]
        pub enum Unit { $(#[doc = $symbol] $variant,)+ }

        impl Unit {
            /// Every unit, in the order the format reference lists them.
            pub const ALL: &'static [Self] = &[$(Self::$variant,)+];

            pub(super) fn row(self) -> &'static Row {
                match self {
                    $(Self::$variant => const { &Row {
                        symbol: $symbol,
                        dimension: Dimension::$dimension,
                        system: System::$system,
                        scale: $scale,
                        spellings: &[$($spelling),*],
                    } },)+
                }
            }
        }
    };
}

use Scale::{Celsius, Fahrenheit, Months, Times};

// Bases: N·m, L, mm, m, g, Pa, s, L/min; for the rest the unit itself.
units! {
    NewtonMetre "N·m" Torque Metric Times(1, 1), ["Nm"];
    PoundFoot "lbf·ft" Torque Imperial Times(13_558_179_483_314_004, 10_000_000_000_000_000),
        ["lb·ft", "ft·lb", "ft·lbf", "lbs·ft", "ft·lbs"];
    PoundInch "lbf·in" Torque Imperial Times(13_558_179_483_314_004, 120_000_000_000_000_000),
        ["lb·in", "in·lb", "in·lbf", "lbs·in", "in·lbs"];
    KilogramForceMetre "kgf·m" Torque Metric Times(980_665, 100_000), ["m·kgf"];

    Litre "L" Volume Metric Times(1, 1), ["l"];
    Millilitre "mL" Volume Metric Times(1, 1_000), ["ml"];
    UsGallon "US gal" Volume Imperial Times(3_785_411_784, 1_000_000_000), [];
    UsQuart "US qt" Volume Imperial Times(946_352_946, 1_000_000_000), [];
    UsPint "US pt" Volume Imperial Times(473_176_473, 1_000_000_000), [];
    UsFluidOunce "US fl oz" Volume Imperial Times(295_735_295_625, 10_000_000_000_000), [];
    ImperialGallon "imp gal" Volume Imperial Times(454_609, 100_000), [];
    ImperialQuart "imp qt" Volume Imperial Times(11_365_225, 10_000_000), [];
    ImperialPint "imp pt" Volume Imperial Times(56_826_125, 100_000_000), [];
    ImperialFluidOunce "imp fl oz" Volume Imperial Times(284_130_625, 10_000_000_000), [];

    Millimetre "mm" Length Metric Times(1, 1), [];
    Centimetre "cm" Length Metric Times(10, 1), [];
    Metre "m" Length Metric Times(1_000, 1), [];
    Inch "in" Length Imperial Times(254, 10), [];
    Foot "ft" Length Imperial Times(3_048, 10), [];

    NauticalMile "nmi" Distance Both Times(1_852, 1), [];
    Kilometre "km" Distance Metric Times(1_000, 1), [];
    StatuteMile "mi" Distance Imperial Times(1_609_344, 1_000), [];

    Gram "g" Mass Metric Times(1, 1), [];
    Kilogram "kg" Mass Metric Times(1_000, 1), [];
    Ounce "oz" Mass Imperial Times(28_349_523_125, 1_000_000_000), [];
    Pound "lb" Mass Imperial Times(45_359_237, 100_000), [];

    Bar "bar" Pressure Metric Times(100_000, 1), [];
    Kilopascal "kPa" Pressure Metric Times(1_000, 1), [];
    // lbf/in²: 0.45359237 × 9.80665 N over 0.0254² m²; the decimal does not end.
    PoundPerSquareInch "psi" Pressure Imperial Times(44_482_216_152_605, 6_451_600_000), ["PSI"];

    DegreeCelsius "°C" Temperature Metric Celsius, ["℃"];
    DegreeFahrenheit "°F" Temperature Imperial Fahrenheit, ["℉"];

    Second "s" Time Both Times(1, 1), [];
    Minute "min" Time Both Times(60, 1), [];
    Hour "h" Time Both Times(3_600, 1), [];
    Day "days" Time Both Times(86_400, 1), ["day"];
    Week "weeks" Time Both Times(604_800, 1), ["week"];
    Month "months" Time Both Months(1), ["month"];
    Year "years" Time Both Months(12), ["year"];

    LitrePerMinute "L/min" Rate Metric Times(1, 1), ["l/min"];
    LitrePerHour "L/h" Rate Metric Times(1, 60), ["l/h"];
    MillilitrePerMinute "mL/min" Rate Metric Times(1, 1_000), ["ml/min"];
    MillilitrePerHour "mL/h" Rate Metric Times(1, 60_000), ["ml/h"];
    UsGallonPerMinute "US gal/min" Rate Imperial Times(3_785_411_784, 1_000_000_000), [];
    UsGallonPerHour "US gal/h" Rate Imperial Times(3_785_411_784, 60_000_000_000), [];
    UsQuartPerMinute "US qt/min" Rate Imperial Times(946_352_946, 1_000_000_000), [];
    UsQuartPerHour "US qt/h" Rate Imperial Times(946_352_946, 60_000_000_000), [];
    UsPintPerMinute "US pt/min" Rate Imperial Times(473_176_473, 1_000_000_000), [];
    UsPintPerHour "US pt/h" Rate Imperial Times(473_176_473, 60_000_000_000), [];
    UsFluidOuncePerMinute "US fl oz/min" Rate Imperial Times(295_735_295_625, 10_000_000_000_000), [];
    UsFluidOuncePerHour "US fl oz/h" Rate Imperial Times(295_735_295_625, 600_000_000_000_000), [];
    ImperialGallonPerMinute "imp gal/min" Rate Imperial Times(454_609, 100_000), [];
    ImperialGallonPerHour "imp gal/h" Rate Imperial Times(454_609, 6_000_000), [];
    ImperialQuartPerMinute "imp qt/min" Rate Imperial Times(11_365_225, 10_000_000), [];
    ImperialQuartPerHour "imp qt/h" Rate Imperial Times(11_365_225, 600_000_000), [];
    ImperialPintPerMinute "imp pt/min" Rate Imperial Times(56_826_125, 100_000_000), [];
    ImperialPintPerHour "imp pt/h" Rate Imperial Times(56_826_125, 6_000_000_000), [];
    ImperialFluidOuncePerMinute "imp fl oz/min" Rate Imperial Times(284_130_625, 10_000_000_000), [];
    ImperialFluidOuncePerHour "imp fl oz/h" Rate Imperial Times(284_130_625, 600_000_000_000), [];

    Volt "V" Voltage Both Times(1, 1), [];
    Ampere "A" Current Both Times(1, 1), [];
    AmpereHour "Ah" Charge Both Times(1, 1), ["A·h"];
    Watt "W" Power Both Times(1, 1), [];
    Ohm "Ω" Resistance Both Times(1, 1), ["\u{2126}", "ohm"];

    Degree "°" Angle Both Times(1, 1), ["deg"];
    Percent "%" Share Both Times(1, 1), [];
}

impl Unit {
    /// The one spelling that pages and messages use.
    #[must_use]
    pub fn symbol(self) -> &'static str {
        self.row().symbol
    }

    /// The symbol as it stands after a number: `1 day`, `2 days`.
    #[must_use]
    pub fn symbol_after_one(self) -> &'static str {
        match self {
            Self::Day => "day",
            Self::Week => "week",
            Self::Month => "month",
            Self::Year => "year",
            other => other.symbol(),
        }
    }

    #[must_use]
    pub fn dimension(self) -> Dimension {
        self.row().dimension
    }

    #[must_use]
    pub fn system(self) -> System {
        self.row().system
    }

    /// The units that measure this, in the order of the format reference.
    pub fn of(dimension: Dimension) -> impl Iterator<Item = Self> {
        Self::ALL.iter().copied().filter(move |unit| unit.dimension() == dimension)
    }

    /// Whether a space stands between the number and the symbol (`90°`, but `10 %`).
    #[must_use]
    pub fn space_before(self) -> &'static str {
        if self == Self::Degree { "" } else { " " }
    }
}

#[cfg(test)]
mod tests {
    use super::{Dimension, Unit};

    #[test]
    fn no_two_units_share_a_spelling() {
        let mut seen = std::collections::BTreeMap::new();
        for &unit in Unit::ALL {
            for spelling in [unit.symbol()].iter().chain(unit.row().spellings) {
                assert_eq!(seen.insert(*spelling, unit), None, "{spelling}");
            }
        }
    }

    #[test]
    fn every_kind_has_a_unit_and_every_volume_two_rates() {
        for dimension in Dimension::ALL {
            assert!(Unit::of(dimension).count() > 0, "{dimension:?}");
        }
        for volume in Unit::of(Dimension::Volume) {
            for time in ["min", "h"] {
                let rate = format!("{}/{time}", volume.symbol());
                let rate = Unit::parse(&rate).expect("a listed rate");
                assert_eq!(rate.dimension(), Dimension::Rate);
                assert_eq!(rate.system(), volume.system());
            }
        }
    }
}
