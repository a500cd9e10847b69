//! Reading a unit as people spell it, and helping where the spelling is unknown or says too little.
//!
//! Capitals matter (`mL` is not `ML`), so a near miss is named, never silently taken. A bare gallon,
//! quart, pint or fluid ounce is asked about: the two kinds differ by a fifth.

use std::collections::HashMap;
use std::fmt;
use std::sync::LazyLock;

use super::dimension::Dimension;
use super::text::{either, quoted, tidy};
use super::unit::Unit;

/// Longest word worth comparing with the list; beyond it there is no near miss.
const LONGEST_MISSPELLING: usize = 24;

/// Units of other sizes that are one letter away from a listed one.
const NEAR_BUT_OTHER: [&str; 4] = ["mpa", "hpa", "mbar", "hbar"];

/// Why a word is not taken as a unit.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum UnitError {
    /// Nothing was written.
    Missing,
    /// Not on the list; `nearest` is the closest unit there, if one is close.
    Unknown { written: String, nearest: Option<Unit> },
    /// A known word for a unit that is written another way here.
    WriteInstead { written: String, unit: Unit },
    /// A unit, and then words that do not belong to it.
    Trailing { written: String, unit: Unit, extra: String },
    /// The word stands for more than one unit.
    Ambiguous { written: String, choices: Vec<Unit> },
}

impl fmt::Display for UnitError {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Missing => write!(formatter, "the unit is missing"),
            Self::Unknown { written, .. } => write!(formatter, "unknown unit {}", quoted(written)),
            Self::WriteInstead { written, unit } => write!(formatter, "{} is written {} here", quoted(written), quoted(unit.symbol())),
            Self::Trailing { extra, .. } => {
                write!(formatter, "{} cannot stand after a unit", quoted(extra))
            }
            Self::Ambiguous { written, .. } => {
                write!(formatter, "{} can mean more than one unit", quoted(written))
            }
        }
    }
}

impl std::error::Error for UnitError {}

impl UnitError {
    /// How to mend it, as one sentence.
    #[must_use]
    pub fn remedy(&self) -> String {
        match self {
            Self::Missing => "write the number, then its unit, such as `35 N·m`".to_owned(),
            Self::Unknown { nearest: None, .. } => format!(
                "use a unit of the list: {}",
                Unit::ALL
                    .iter()
                    .filter(|unit| unit.dimension() != Dimension::Rate)
                    .map(|unit| unit.symbol())
                    .collect::<Vec<_>>()
                    .join(", ")
            ),
            // Only a guess, and the wrong unit could hurt: it is asked, not proposed.
            Self::Unknown { nearest: Some(unit), .. } => format!("if {} is meant, write that", quoted(unit.symbol())),
            Self::WriteInstead { unit, .. } | Self::Trailing { unit, .. } => {
                format!("write {}", quoted(unit.symbol()))
            }
            Self::Ambiguous { choices, .. } => {
                format!("say which: {}", either(choices.iter().map(|unit| unit.symbol())))
            }
        }
    }

    /// The same error, knowing what its place asks for: where a torque stands, `NM` is no distance.
    pub(super) fn wanting(self, dimension: Option<Dimension>) -> Self {
        match (self, dimension) {
            (Self::WriteInstead { written, unit }, Some(wanted)) if unit.dimension() != wanted => {
                Self::Unknown { nearest: nearest(&join_parts(&written), |unit| unit.dimension() == wanted), written }
            }
            (other, _) => other,
        }
    }

    /// The units it can only have been meant to be; none where that would be a guess.
    #[must_use]
    pub fn choices(&self) -> Vec<Unit> {
        match self {
            Self::Missing | Self::Unknown { .. } => Vec::new(),
            Self::WriteInstead { unit, .. } | Self::Trailing { unit, .. } => vec![*unit],
            Self::Ambiguous { choices, .. } => choices.clone(),
        }
    }
}

impl Unit {
    /// The unit that a word stands for.
    ///
    /// # Errors
    /// A word that is not on the list, or that stands for several units; the error says what to
    /// write.
    pub fn parse(text: &str) -> Result<Self, UnitError> {
        let written = tidy(text);
        if written.is_empty() {
            return Err(UnitError::Missing);
        }
        // Joining changes no spelling of the list, so that most words are found as they are.
        if let Some(unit) = listed(&written) {
            return Ok(unit);
        }
        let key = join_parts(&written);
        if let Some(unit) = listed(&key) {
            return Ok(unit);
        }
        Err(explain(written.into_owned(), &key))
    }
}

/// One spelling for whatever people put between the parts of a unit: `N.m`, `N m`, `N*m`, `N⋅m`.
fn join_parts(written: &str) -> String {
    let mut key = String::with_capacity(written.len());
    for character in written.chars() {
        match character {
            ' ' | '.' | '*' | '-' | '·' | '⋅' | '∙' | '•' | '×' | '‑' | '‐' => {
                if !key.ends_with(['·', '/', '°']) {
                    key.push('·');
                }
            }
            '/' => {
                if key.ends_with('·') {
                    key.pop();
                }
                key.push('/');
            }
            'º' | '˚' => key.push('°'),
            other => key.push(other),
        }
    }
    if key.ends_with('·') {
        key.pop();
    }
    key
}

/// Every unit by its spellings, with `·` for their spaces.
static LISTED: LazyLock<HashMap<String, Unit>> = LazyLock::new(|| {
    let all = Unit::ALL.iter().flat_map(|unit| spellings(*unit).map(|spelling| (spelling.replace(' ', "·"), *unit)));
    all.collect()
});

/// The unit with this spelling, its parts joined.
pub(super) fn listed(key: &str) -> Option<Unit> {
    LISTED.get(key).copied()
}

fn spellings(unit: Unit) -> impl Iterator<Item = &'static str> {
    std::iter::once(unit.symbol()).chain(unit.row().spellings.iter().copied())
}

fn explain(written: String, key: &str) -> UnitError {
    if let Some(choices) = known_word(key).or_else(|| known_rate(key)) {
        return match choices.as_slice() {
            [unit] => UnitError::WriteInstead { written, unit: *unit },
            _ => UnitError::Ambiguous { written, choices },
        };
    }
    if let Some((unit, extra)) = unit_and_more(&written) {
        let extra = extra.to_owned();
        return UnitError::Trailing { written, unit, extra };
    }
    UnitError::Unknown { nearest: nearest(key, |_| true), written }
}

/// `mm socket`, `N·m (oiled)`, `h,`: the longest beginning that is a unit, and what follows it.
fn unit_and_more(written: &str) -> Option<(Unit, &str)> {
    let mut breaks: Vec<usize> =
        written.char_indices().filter(|(_, character)| matches!(character, ' ' | ',' | ';' | '(')).map(|(offset, _)| offset).collect();
    breaks.reverse();
    for offset in breaks {
        let (start, rest) = written.split_at_checked(offset)?;
        // More figures behind it are another value, not a remark.
        if rest.contains(|character: char| character.is_ascii_digit()) {
            return None;
        }
        if let Some(unit) = listed(&join_parts(start)) {
            return Some((unit, rest.trim()));
        }
    }
    None
}

/// Words people use for the units of the list, which the list spells otherwise.
fn known_word(key: &str) -> Option<Vec<Unit>> {
    use Unit as U;
    // The sea's own clash: only here do capitals decide between a torque and a distance.
    match key {
        "NM" => return Some(vec![U::NauticalMile]),
        "nm" => return Some(vec![U::NewtonMetre, U::NauticalMile]),
        _ => {}
    }
    let lower = key.to_lowercase();
    Some(match lower.as_str() {
        "gal" | "gals" | "gallon" | "gallons" => vec![U::UsGallon, U::ImperialGallon],
        "qt" | "qts" | "quart" | "quarts" => vec![U::UsQuart, U::ImperialQuart],
        "pt" | "pts" | "pint" | "pints" => vec![U::UsPint, U::ImperialPint],
        "fl·oz" | "floz" | "fl·ozs" | "fluid·ounce" | "fluid·ounces" => {
            vec![U::UsFluidOunce, U::ImperialFluidOunce]
        }
        "us·gallon" | "us·gallons" | "usg" | "u·s·gal" | "usgal" => vec![U::UsGallon],
        "us·quart" | "us·quarts" | "u·s·qt" => vec![U::UsQuart],
        "us·pint" | "us·pints" => vec![U::UsPint],
        "uk·gal" | "imp·gallon" | "imp·gallons" | "imperial·gallon" | "imperial·gallons" | "imperial·gal" | "uk·gallon" | "uk·gallons" =>
        {
            vec![U::ImperialGallon]
        }
        "uk·qt" | "imperial·quart" | "imperial·quarts" => vec![U::ImperialQuart],
        "uk·pt" | "imperial·pint" | "imperial·pints" => vec![U::ImperialPint],
        "uk·fl·oz" => vec![U::ImperialFluidOunce],
        "liter" | "liters" | "litre" | "litres" | "ltr" | "ltrs" | "dm3" | "dm³" => vec![U::Litre],
        "milliliter" | "milliliters" | "millilitre" | "millilitres" | "cc" | "ccm" | "cm3" | "cm³" => vec![U::Millilitre],
        "hour" | "hours" | "hr" | "hrs" => vec![U::Hour],
        "minute" | "minutes" | "mins" => vec![U::Minute],
        "sec" | "secs" | "second" | "seconds" => vec![U::Second],
        "d" => vec![U::Day],
        "wk" | "wks" => vec![U::Week],
        "mo" | "mos" | "mth" | "mths" => vec![U::Month],
        "yr" | "yrs" => vec![U::Year],
        "nautical·mile" | "nautical·miles" => vec![U::NauticalMile],
        "mile" | "miles" => vec![U::NauticalMile, U::StatuteMile],
        "kms" | "kilometer" | "kilometers" | "kilometre" | "kilometres" => vec![U::Kilometre],
        "inch" | "inches" | "ins" | "\"" | "''" | "″" | "”" => vec![U::Inch],
        "foot" | "feet" | "'" | "′" | "’" => vec![U::Foot],
        "meter" | "meters" | "metre" | "metres" => vec![U::Metre],
        "lbs" | "pound" | "pounds" => vec![U::Pound],
        "ounce" | "ounces" | "ozs" => vec![U::Ounce],
        "gram" | "grams" | "gr" => vec![U::Gram],
        "kgs" | "kilo" | "kilos" => vec![U::Kilogram],
        "kg·m" | "kgm" | "kgfm" | "mkg" => vec![U::KilogramForceMetre],
        "ftlb" | "ftlbs" | "lbft" | "foot·pounds" | "foot·pound" => vec![U::PoundFoot],
        "inlb" | "inlbs" | "lbin" | "inch·pounds" | "inch·pound" => vec![U::PoundInch],
        "bars" => vec![U::Bar],
        "degrees" | "degree" => vec![U::Degree],
        "c" | "degc" | "deg·c" | "celsius" => vec![U::DegreeCelsius],
        "f" | "degf" | "deg·f" | "fahrenheit" => vec![U::DegreeFahrenheit],
        "volt" | "volts" => vec![U::Volt],
        "amp" | "amps" | "ampere" | "amperes" => vec![U::Ampere],
        "amp·hour" | "amp·hours" => vec![U::AmpereHour],
        "watt" | "watts" => vec![U::Watt],
        "ohms" => vec![U::Ohm],
        "percent" | "pct" => vec![U::Percent],
        "lpm" => vec![U::LitrePerMinute],
        "lph" => vec![U::LitrePerHour],
        "gpm" => vec![U::UsGallonPerMinute, U::ImperialGallonPerMinute],
        "gph" => vec![U::UsGallonPerHour, U::ImperialGallonPerHour],
        _ => return None,
    })
}

/// `gal/h`, `L/hr`: the volume and the time are each looked up as words.
fn known_rate(key: &str) -> Option<Vec<Unit>> {
    let (volume, time) = key.split_once('/')?;
    let volumes = listed(volume).map(|unit| vec![unit]).or_else(|| known_word(volume))?;
    let times = listed(time).map(|unit| vec![unit]).or_else(|| known_word(time))?;
    let [time @ (Unit::Minute | Unit::Hour)] = times[..] else {
        return None;
    };
    let rates: Vec<Unit> =
        volumes.iter().filter_map(|volume| listed(&join_parts(&format!("{}/{}", volume.symbol(), time.symbol())))).collect();
    (!rates.is_empty()).then_some(rates)
}

/// The unit, of those that `may` be meant, that differs by capitals only, else by the fewest slips of the pen.
fn nearest(key: &str, may: impl Fn(Unit) -> bool) -> Option<Unit> {
    let length = key.chars().count();
    let lower = key.to_lowercase();
    if length > LONGEST_MISSPELLING || NEAR_BUT_OTHER.contains(&lower.as_str()) {
        return None;
    }
    // One slip in a word of two letters is another word; there only capitals may differ.
    let farthest = match length {
        0..=2 => 0,
        3..=4 => 1,
        _ => 2,
    };
    Unit::ALL
        .iter()
        .filter(|unit| may(**unit))
        .flat_map(|unit| spellings(*unit).map(move |spelling| (*unit, spelling)))
        .map(|(unit, spelling)| {
            let spelling = spelling.to_lowercase().replace(' ', "·");
            (strsim::damerau_levenshtein(&lower, &spelling), unit)
        })
        .filter(|(slips, _)| *slips <= farthest)
        .min_by_key(|(slips, _)| *slips)
        .map(|(_, unit)| unit)
}

#[cfg(test)]
#[path = "spelling_tests.rs"]
mod tests;
