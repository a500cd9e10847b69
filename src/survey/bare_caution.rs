//! A caution that does not say what can happen, or not what to do about it.
//!
//! Words tell most of it; a sentence without one of them counts for what the others leave out, for
//! no list of words is whole.

use super::phrases::{Language, Text};
use super::{Check, Context, GuideCheck, Rule};

const ID: &str = "bare-caution";

pub(super) const RULE: Rule = Rule {
    id: ID,
    why: "A caution works when it says three things: what the danger is, what it does to a person or the boat, and how to \
          avoid it (ANSI Z535.6 asks for all three). `Be careful` tells a tired reader nothing.",
    check: Check::Guides(check),
};

/// Sentences that say nothing by themselves, where they are no longer than this.
const EMPTY_WORDS: usize = 4;

/// Fewest words that say something.
const FEWEST_WORDS: usize = 2;

/// Words by which a caution is known to say something.
struct Words {
    /// Nothing but a call for attention.
    empty: &'static [&'static str],
    /// What can happen.
    harms: &'static [&'static str],
    /// What to do or not to do.
    ways: &'static [&'static str],
    /// What to do may stand last: `Handschuhe tragen`.
    act_last: bool,
}

impl Words {
    /// Whether a sentence says what to do by its first word, or its last.
    fn tell_to_act(&self, sentence: &Text) -> bool {
        let last = sentence.last().filter(|_| self.act_last);
        sentence.first().into_iter().chain(last).any(|word| Text::new(word).has_any(self.ways))
    }
}

const ENGLISH: Words = Words {
    empty: &["careful", "carefully", "care", "beware", "attention", "caution", "cautious", "dangerous", "danger", "warning"],
    harms: &[
        "hot",
        "burn",
        "scald",
        "cut",
        "crush",
        "kill",
        "die",
        "drown",
        "blind",
        "poison",
        "poisonous",
        "toxic",
        "hurt",
        "injure",
        "injury",
        "injuries",
        "break",
        "crack",
        "destroy",
        "ruin",
        "wreck",
        "damage",
        "flood",
        "sink",
        "explode",
        "explosion",
        "fire",
        "shock",
        "fall",
        "trap",
        "pinch",
        "sever",
        "strip",
        "shear",
        "leak",
        "spoil",
        "faint",
        "suffocate",
        "electrocute",
        "corrode",
        "seize",
        "jam",
        "tear",
        "bend",
        "spring",
        "strike",
        "sharp",
        "shatter",
        "overheat",
        "lose",
        "loses",
        "irritate",
    ],
    ways: &[
        "keep",
        "wear",
        "never",
        "not",
        "don",
        "no",
        "nothing",
        "stay",
        "use",
        "stop",
        "shut",
        "open",
        "let",
        "wait",
        "make",
        "look",
        "check",
        "have",
        "before",
        "until",
        "only",
        "clear",
        "without",
        "take",
        "put",
        "hold",
        "switch",
        "turn",
        "disconnect",
        "unplug",
        "tie",
        "clip",
        "watch",
        "test",
        "try",
        "cover",
        "wash",
        "vent",
        "ventilate",
        "stand",
        "leave",
        "catch",
        "support",
        "lift",
        "lower",
        "lock",
        "isolate",
        "always",
        "slowly",
        "pull",
        "push",
        "plug",
        "rinse",
        "renew",
        "tighten",
    ],
    act_last: false,
};

const GERMAN: Words = Words {
    empty: &["vorsicht", "vorsichtig", "achtung", "gefahr", "gefährlich", "aufpassen", "warnung"],
    harms: &[
        "heiß",
        "verbrenn",
        "verbrennt",
        "verbrennen",
        "verbrüht",
        "verbrühen",
        "schneidet",
        "schneiden",
        "quetscht",
        "quetschen",
        "tötet",
        "töten",
        "tödlich",
        "ertrinkt",
        "ertrinken",
        "blind",
        "giftig",
        "verletzt",
        "verletzen",
        "verletzung",
        "bricht",
        "brechen",
        "reißt",
        "reißen",
        "zerstört",
        "zerstören",
        "beschädigt",
        "beschädigen",
        "sinkt",
        "sinken",
        "explodiert",
        "explosion",
        "brand",
        "feuer",
        "schlag",
        "stromschlag",
        "stürzt",
        "fällt",
        "klemmt",
        "ätzt",
        "ätzend",
        "scharf",
        "ersticken",
    ],
    ways: &[
        "nie",
        "niemals",
        "nicht",
        "nichts",
        "kein",
        "keine",
        "keinen",
        "tragen",
        "halten",
        "lassen",
        "warten",
        "erst",
        "nur",
        "bevor",
        "bis",
        "fernhalten",
        "ohne",
        "schließen",
        "öffnen",
        "abschalten",
        "ausschalten",
        "trennen",
        "prüfen",
        "stellen",
        "nehmen",
        "sichern",
        "lüften",
        "immer",
        "bleiben",
        "legen",
        "vorher",
        "langsam",
        "festhalten",
        "abdecken",
        "waschen",
        "stützen",
    ],
    act_last: true,
};

/// What a caution does not say.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Lack {
    Harm,
    Way,
    Both,
}

/// What a caution lacks, its signal word left out.
fn lack(caution: &str, words: &Words) -> Option<Lack> {
    let sentences = caution.split(['.', ';', ':', '!', '?']).map(Text::new).filter(|sentence| sentence.len() > 0);
    let telling: Vec<Text> = sentences.filter(|sentence| sentence.len() > EMPTY_WORDS || !sentence.has_any(words.empty)).collect();
    let says = |wanted: &[&str]| telling.iter().any(|sentence| sentence.has_any(wanted));
    // `Wear gloves` is what to do; a sentence that begins otherwise tells what is so.
    let harm = says(words.harms) || telling.iter().any(|sentence| !words.tell_to_act(sentence));
    let advised = |sentence: &Text| sentence.len() >= FEWEST_WORDS && !sentence.has_any(words.harms);
    let way = says(words.ways) || (telling.len() > 1 && telling.iter().any(advised));
    match (harm, way) {
        (true, true) => None,
        (true, false) => Some(Lack::Way),
        (false, true) => Some(Lack::Harm),
        (false, false) => Some(Lack::Both),
    }
}

fn check<'c>(context: &'c Context<'_>) -> GuideCheck<'c> {
    let words = match context.language {
        Some(Language::English) => &ENGLISH,
        Some(Language::German) => &GERMAN,
        None => return Box::new(|_, _, _| {}),
    };
    Box::new(move |guide, _, notes| {
        for caution in &guide.outline.cautions {
            let mut text = guide.source.slice(caution.span);
            let signal = guide.source.slice(caution.word);
            text = text.split_once(signal).map_or(text, |(_, text)| text);
            // Of one without any words loading has told.
            if text.trim_matches(|letter: char| letter == '>' || letter.is_whitespace()).is_empty() {
                continue;
            }
            let lacks = match lack(text, words) {
                None => continue,
                Some(Lack::Harm) => "what can happen",
                Some(Lack::Way) => "how to avoid the harm",
                Some(Lack::Both) => "what can happen and how to avoid it",
            };
            notes.advice(
                ID,
                caution.word,
                format!("this caution does not say {lacks}"),
                "say what the danger is, what it does to you or the boat, and what to do: `Warm oil scalds. Wear gloves, and keep clear of the hose ends`",
            );
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::survey::testing::found;

    #[test]
    fn a_caution_says_the_harm_and_the_way() {
        for (caution, words, expected) in [
            ("Warm oil scalds. Wear gloves and keep clear of it.", &ENGLISH, None),
            ("Hot oil scalds. Let it cool.", &ENGLISH, None),
            ("Chlorine destroys the membrane. Flush with made water.", &ENGLISH, None),
            ("Heavy. Two people.", &ENGLISH, None),
            ("A running chain takes a hand with it, and nothing stops it. Stand behind it.", &ENGLISH, None),
            ("A bar cracks the shell; lever against the foot.", &ENGLISH, None),
            ("The oil in this pipe is hot and scalds hands badly.", &ENGLISH, Some(Lack::Way)),
            ("Mind your head!", &ENGLISH, Some(Lack::Way)),
            ("Wear gloves and keep clear of the hose ends.", &ENGLISH, Some(Lack::Harm)),
            ("Be careful here.", &ENGLISH, Some(Lack::Both)),
            ("Take care! Dangerous.", &ENGLISH, Some(Lack::Both)),
            ("", &ENGLISH, Some(Lack::Both)),
            ("Heißes Öl verbrüht. Handschuhe tragen.", &GERMAN, None),
            ("Heißes Öl verbrüht die Hände.", &GERMAN, Some(Lack::Way)),
            ("Handschuhe tragen.", &GERMAN, Some(Lack::Harm)),
            ("Vorsicht!", &GERMAN, Some(Lack::Both)),
        ] {
            assert_eq!(lack(caution, words), expected, "{caution}");
        }
    }

    #[test]
    fn the_signal_word_is_named() {
        assert_eq!(found("bare-caution", "crew: 1", "> WARNING: Be careful here.\n\n1. Open it."), ["5:3"]);
        assert!(found("bare-caution", "crew: 1", "> WARNING: Warm oil scalds. Wear gloves.\n\n1. Open it.").is_empty());
    }
}
