//! The usual cautions that ship with the program, one for every hazard a guide can name.

use serde::Deserialize;

use super::model::{Hazard, Signal};

const ENGLISH: &str = include_str!("usual-cautions.yaml");
const GERMAN: &str = include_str!("usual-cautions.de.yaml");

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Shipped {
    id: String,
    title: String,
    signal: ShippedSignal,
    harm: String,
    avoid: Vec<String>,
    defer: Option<String>,
    words: Vec<String>,
}

#[derive(Deserialize)]
#[serde(rename_all = "lowercase")]
enum ShippedSignal {
    Danger,
    Warning,
    Caution,
    Notice,
}

/// The hazards that ship, in the order pages list them, in the language asked for (a tag such as
/// `de` or `de-AT`) where there is one, else in English.
#[must_use]
pub fn usual(language: &str) -> Vec<Hazard> {
    let primary = language.split(['-', '_']).next().unwrap_or_default();
    let text = if primary.eq_ignore_ascii_case("de") { GERMAN } else { ENGLISH };
    let shipped: Vec<Shipped> = serde_yaml::from_str(text).expect("the cautions that ship can be read: a test reads every language");
    shipped.into_iter().map(hazard).collect()
}

/// Ids of the hazards that ship, in the order of the format.
pub const HAZARDS: [&str; 28] = [
    "working-aloft",
    "over-the-side",
    "diving",
    "shock-in-water",
    "hot-liquids",
    "hot-surfaces",
    "moving-machinery",
    "stored-energy",
    "fluid-injection",
    "flooding",
    "gas",
    "fuel-vapour",
    "carbon-monoxide",
    "fire",
    "shore-power",
    "batteries",
    "live-sources",
    "confined-spaces",
    "heavy-lifts",
    "pressure",
    "sharp-wire",
    "solvents-and-dust",
    "chemicals",
    "sewage",
    "boat-ashore",
    "pyrotechnics",
    "loss-of-control",
    "pollution",
];

fn hazard(shipped: Shipped) -> Hazard {
    Hazard {
        id: shipped.id,
        title: shipped.title,
        signal: match shipped.signal {
            ShippedSignal::Danger => Signal::Danger,
            ShippedSignal::Warning => Signal::Warning,
            ShippedSignal::Caution => Signal::Caution,
            ShippedSignal::Notice => Signal::Notice,
        },
        harm: shipped.harm,
        avoid: shipped.avoid,
        defer: shipped.defer,
        words: shipped.words,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_language_has_the_hazards_of_the_format_with_the_same_gravity() {
        let english = usual("en");
        let ids: Vec<&str> = english.iter().map(|hazard| hazard.id.as_str()).collect();
        assert_eq!(ids, HAZARDS);
        for language in ["de", "DE", "de-AT"] {
            let other = usual(language);
            let ids: Vec<&str> = other.iter().map(|hazard| hazard.id.as_str()).collect();
            assert_eq!(ids, HAZARDS);
            for (a, b) in english.iter().zip(&other) {
                assert_eq!(a.signal, b.signal, "{}", a.id);
                assert_eq!(a.defer.is_some(), b.defer.is_some(), "{}", a.id);
                assert_ne!(a.harm, b.harm);
            }
        }
        assert_eq!(usual("fr").first().map(|hazard| hazard.title.clone()), usual("en").first().map(|hazard| hazard.title.clone()));
    }

    #[test]
    fn every_caution_says_what_can_happen_and_how_to_avoid_it() {
        for hazard in usual("en").into_iter().chain(usual("de")) {
            assert!(!hazard.title.is_empty() && !hazard.harm.is_empty() && !hazard.avoid.is_empty(), "{}", hazard.id);
            assert!(hazard.avoid.iter().all(|sentence| !sentence.trim().is_empty()), "{}", hazard.id);
        }
        // The trades that are regulated defer (the format's list: gas, shore power, diving, pyrotechnics).
        for id in ["gas", "shore-power", "diving", "pyrotechnics", "pressure"] {
            assert!(usual("en").iter().any(|hazard| hazard.id == id && hazard.defer.is_some()), "{id}");
        }
    }
}
