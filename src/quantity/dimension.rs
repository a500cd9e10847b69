//! What a unit measures, and which system of units it belongs to.
//!
//! Length and distance are kept apart on purpose: a hose in nautical miles or a passage in
//! millimetres is a slip, not a choice.

/// What kind of thing a unit measures.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, PartialOrd, Ord)]
pub enum Dimension {
    Torque,
    Volume,
    /// Sizes of things: millimetres to metres, inches, feet.
    Length,
    /// Ways travelled: nautical miles, kilometres, statute miles.
    Distance,
    Mass,
    Pressure,
    Temperature,
    Time,
    /// Volume per time.
    Rate,
    Voltage,
    Current,
    Charge,
    Power,
    Resistance,
    Angle,
    /// A part of a whole, in per cent.
    Share,
}

impl Dimension {
    pub const ALL: [Self; 16] = [
        Self::Torque,
        Self::Volume,
        Self::Length,
        Self::Distance,
        Self::Mass,
        Self::Pressure,
        Self::Temperature,
        Self::Time,
        Self::Rate,
        Self::Voltage,
        Self::Current,
        Self::Charge,
        Self::Power,
        Self::Resistance,
        Self::Angle,
        Self::Share,
    ];

    /// The everyday noun, lower case, as it stands in a message.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Torque => "torque",
            Self::Volume => "volume",
            Self::Length => "length",
            Self::Distance => "distance",
            Self::Mass => "mass",
            Self::Pressure => "pressure",
            Self::Temperature => "temperature",
            Self::Time => "time",
            Self::Rate => "rate",
            Self::Voltage => "voltage",
            Self::Current => "current",
            Self::Charge => "charge",
            Self::Power => "power",
            Self::Resistance => "resistance",
            Self::Angle => "angle",
            Self::Share => "share",
        }
    }

    /// One or two examples in backticks, for remedies. Every example can be read back.
    #[must_use]
    pub fn examples(self) -> &'static str {
        match self {
            Self::Torque => "`35 N·m` or `26 lbf·ft`",
            Self::Volume => "`7.5 L` or `2 US gal`",
            Self::Length => "`12 mm` or `1/2 in`",
            Self::Distance => "`120 nmi` or `40 km`",
            Self::Mass => "`5 kg` or `11 lb`",
            Self::Pressure => "`2.5 bar` or `36 psi`",
            Self::Temperature => "`80 °C` or `176 °F`",
            Self::Time => "`15 min` or `200 h`",
            Self::Rate => "`0.25 L/min` or `4 US gal/h`",
            Self::Voltage => "`12.6 V`",
            Self::Current => "`5 A`",
            Self::Charge => "`100 Ah`",
            Self::Power => "`60 W`",
            Self::Resistance => "`1.5 Ω`",
            Self::Angle => "`90°`",
            Self::Share => "`10 %`",
        }
    }
}

/// The system a unit belongs to.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum System {
    Metric,
    /// Imperial and United States customary units.
    Imperial,
    /// Used in either: hours, volts, degrees of angle, nautical miles.
    Both,
}
