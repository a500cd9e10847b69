//! Which hazards the words of a title and of a system suggest.
//!
//! The words of each hazard stand in the usual cautions and in `cautions.yaml`; they count as whole
//! words. Besides, a system has hazards that most of its jobs share.

use crate::book::model::Hazard;

/// Hazards that most jobs on a system share, by words in its id or title (English and German). Common
/// practice, no source; a draft says that what does not belong is to be taken out.
const SYSTEMS: [(&[&str], &[&str]); 13] = [
    (&["engine", "engines", "motor", "maschine"], &["hot-surfaces", "moving-machinery"]),
    (&["fuel", "kraftstoff", "diesel"], &["fuel-vapour", "fire", "pollution"]),
    (&["drive", "gearbox", "shaft", "antrieb", "getriebe", "welle"], &["moving-machinery"]),
    (&["hull", "seacocks", "rumpf", "seeventile"], &["flooding"]),
    (&["rig", "rigging", "mast", "rigg"], &["working-aloft"]),
    (&["deck", "anchor", "windlass", "winches", "ankergeschirr", "winschen"], &["stored-energy"]),
    (&["steering", "rudder", "ruder", "ruderanlage", "steuerung"], &["loss-of-control"]),
    (&["electrics", "electric", "electrical", "batteries", "elektrik", "batterien"], &["batteries", "live-sources"]),
    (&["plumbing", "bilge", "water", "bilge", "wasser"], &["flooding"]),
    (&["heads", "toilet", "toilette", "sanitar"], &["sewage", "flooding"]),
    (&["gas", "galley", "kombuse"], &["gas"]),
    (&["heating", "heater", "heizung"], &["fire", "carbon-monoxide"]),
    (&["watermaker", "refrigeration", "hydraulics", "wassermacher", "hydraulik", "kuhlung"], &["pressure"]),
];

/// Hazards of jobs that a word of the title gives away, where the usual cautions wait for plainer words.
/// Common practice, no source.
const TITLES: [(&[&str], &[&str]); 7] = [
    (&["oil", "öl", "motoröl", "ölwechsel"], &["hot-liquids", "pollution"]),
    (&["coolant", "kühlmittel"], &["hot-liquids", "chemicals", "pollution"]),
    (&["toilet", "heads", "toilette"], &["sewage"]),
    (&["antifoul", "antifouling", "epoxy", "gelcoat"], &["solvents-and-dust", "boat-ashore", "pollution"]),
    (&["underwater", "under water", "unter wasser"], &["diving", "moving-machinery"]),
    (&["propeller", "prop"], &["moving-machinery"]),
    (&["mast", "masthead", "masttop"], &["working-aloft"]),
];

/// Hazards that nobody faces alone: somebody watches, holds the line, and calls for help.
const NEVER_ALONE: [&str; 3] = ["working-aloft", "diving", "confined-spaces"];

/// The hazards that a title and a system suggest, in the order that pages list them.
#[must_use]
pub fn suggested<'h>(hazards: &'h [Hazard], title: &str, system_id: &str, system_title: &str) -> Vec<&'h Hazard> {
    let text = words(&format!("{title} {system_id} {system_title}"));
    let system = words(&format!("{} {}", crate::book::id::id_of(system_id), crate::book::id::id_of(system_title)));
    let shared: Vec<&str> = SYSTEMS
        .iter()
        .filter(|(of, _)| of.iter().any(|word| system.contains(&format!(" {word} "))))
        .flat_map(|(_, hazards)| hazards.iter().copied())
        .collect();
    let own = words(title);
    let told = TITLES.iter().filter(|(of, _)| of.iter().any(|word| says(&own, word))).flat_map(|(_, hazards)| hazards.iter().copied());
    let shared: Vec<&str> = shared.into_iter().chain(told).collect();
    hazards.iter().filter(|hazard| shared.contains(&hazard.id.as_str()) || hazard.words.iter().any(|phrase| says(&text, phrase))).collect()
}

/// Whether one of these hazards asks for a second person.
#[must_use]
pub fn needs_two(hazards: &[&Hazard]) -> bool {
    hazards.iter().any(|hazard| NEVER_ALONE.contains(&hazard.id.as_str()))
}

/// Whether a text made by [`words`] has a phrase in it.
fn says(text: &str, phrase: &str) -> bool {
    let phrase = words(phrase);
    phrase.len() > 2 && text.contains(&phrase)
}

/// Lower case, one space round each word, so that a phrase is found only as whole words.
fn words(text: &str) -> String {
    let lower = text.to_lowercase();
    let words = lower.split(|letter: char| !letter.is_alphanumeric()).filter(|word| !word.is_empty());
    words.fold(" ".to_owned(), |text, word| text + word + " ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::usual::{HAZARDS, usual};

    #[track_caller]
    fn case(language: &str, title: &str, (id, system): (&str, &str), expected: &[&str]) {
        let hazards = usual(language);
        let found: Vec<&str> = suggested(&hazards, title, id, system).iter().map(|hazard| hazard.id.as_str()).collect();
        assert_eq!(found, expected, "{title} in {system}");
    }

    #[test]
    fn words_of_the_title_and_of_the_system_suggest_hazards() {
        // The words are those of the usual cautions.
        case("en", "Look over the alternator belt", ("engine", "Engine"), &["hot-surfaces", "moving-machinery"]);
        case("en", "Test the lamps", ("safety", "Safety"), &[]);
        case("en", "Service a seacock", ("x", "Other things"), &["flooding"]);
        case("en", "Go aloft", ("x", "Other things"), &["working-aloft"]);
        // Words of the title alone.
        case("en", "Change the oil", ("x", "Other things"), &["hot-liquids", "pollution"]);
        case("en", "Clean the propeller under water", ("x", "Other things"), &["diving", "moving-machinery"]);
        case("de", "Ölwechsel", ("x", "Anderes"), &["hot-liquids", "pollution"]);
        case("en", "Service the toilet", ("x", "Other things"), &["sewage"]);
        // A part of a word is none.
        case("en", "Aloftness of windlassing", ("x", "Other"), &[]);
        case("de", "Mit dem Bootsmannsstuhl nach oben", ("x", "Sonstiges"), &["working-aloft"]);
        case("de", "Prüfen", ("gas", "Gasanlage"), &["gas"]);
        case("de", "Prüfen", ("toilette", "Toilette"), &["flooding", "sewage"]);
        case("en", "🛟🛟", ("x", "🛟"), &[]);
    }

    #[test]
    fn every_hazard_of_a_system_ships() {
        for (_, hazards) in SYSTEMS {
            assert!(hazards.iter().all(|hazard| HAZARDS.contains(hazard)), "{hazards:?}");
        }
        assert!(NEVER_ALONE.iter().all(|hazard| HAZARDS.contains(hazard)));
    }
}
