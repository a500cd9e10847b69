//! NOTICE where a person can be hurt.

use super::phrases::{Language, Text};
use super::{Check, Context, GuideCheck, Rule};
use crate::book::model::Signal;

const ID: &str = "notice-for-injury";

pub(super) const RULE: Rule = Rule {
    id: ID,
    why: "NOTICE is for harm to things (ANSI Z535.6). Where a person can be hurt the word is CAUTION, WARNING or DANGER, and \
          readers rely on it.",
    check: Check::Guides(check),
};

/// Words that tell of an injury.
struct Words {
    /// By themselves.
    plain: &'static [&'static str],
    /// Next to a person: a motor burns out, and acid burns you.
    acts: &'static [&'static str],
    persons: &'static [&'static str],
    /// Before words of `acts`, whoever is meant.
    causes: &'static [&'static str],
    /// Right before a word of `acts` that tells what something suffers: `is crushed`.
    suffered: &'static [&'static str],
}

const ENGLISH: Words = Words {
    plain: &["injure", "injury", "injuries", "scald", "electrocute", "electrocution", "drown", "maim", "suffocate", "asphyxiate"],
    acts: &["burn", "cut", "crush", "pinch", "trap", "hurt", "poison", "kill", "die", "blind", "fall", "hit", "strike", "bruise", "sever"],
    persons: &[
        "you",
        "your",
        "person",
        "people",
        "crew",
        "somebody",
        "someone",
        "anyone",
        "anybody",
        "whoever",
        "swimmer",
        "child",
        "children",
        "hand",
        "finger",
        "arm",
        "wrist",
        "foot",
        "feet",
        "leg",
        "face",
        "head",
        "eye",
        "skin",
        "lung",
        "overboard",
    ],
    causes: &["hot", "boiling", "steam", "acid", "sharp", "cause"],
    suffered: &["is", "are", "was", "were", "be", "been", "get", "gets", "got"],
};

const GERMAN: Words = Words {
    plain: &[
        "verletzt",
        "verletzen",
        "verletzung",
        "verbrüht",
        "verbrühen",
        "verbrühung",
        "ertrinken",
        "ertrinkt",
        "ersticken",
        "stromschlag",
    ],
    acts: &[
        "verbrennt",
        "verbrennen",
        "schneidet",
        "schneiden",
        "quetscht",
        "quetschen",
        "klemmt",
        "tötet",
        "töten",
        "trifft",
        "blendet",
        "verätzt",
        "verätzen",
        "stürzt",
        "fällt",
    ],
    persons: &[
        "dich", "dir", "sie", "ihnen", "mensch", "person", "jemand", "jemanden", "finger", "hand", "hände", "arm", "fuß", "füße",
        "gesicht", "kopf", "auge", "haut", "lunge",
    ],
    causes: &["heiß", "heiße", "heißes", "kochend", "säure", "scharf", "scharfe"],
    suffered: &[],
};

/// Words between an act and the person it is done to.
const REACH: usize = 5;

fn tells_of_injury(text: &Text, words: &Words) -> bool {
    text.has_any(words.plain)
        // What is crushed stands before that, and who turns the nut behind it.
        || text.has_near_but_behind(words.suffered, words.acts, words.persons, REACH)
        || text.has_near(words.persons, words.acts, REACH)
        || text.has_near(words.causes, words.acts, REACH)
}

fn check<'c>(context: &'c Context<'_>) -> GuideCheck<'c> {
    let words = match context.language {
        Some(Language::English) => &ENGLISH,
        Some(Language::German) => &GERMAN,
        None => return Box::new(|_, _, _| {}),
    };
    Box::new(move |guide, _, notes| {
        for caution in guide.outline.cautions.iter().filter(|caution| caution.signal == Signal::Notice) {
            if tells_of_injury(&Text::new(guide.source.slice(caution.span)), words) {
                notes.warning(
                    ID,
                    caution.word,
                    "NOTICE is for harm to things, and this speaks of harm to a person",
                    "write `CAUTION:` for a slight injury, `WARNING:` where it could kill or maim, `DANGER:` where it will",
                );
            }
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::survey::testing::found;

    #[test]
    fn harm_to_a_person_is_told_from_harm_to_things() {
        for (notice, words, expected) in [
            ("The acid blinds you.", &ENGLISH, true),
            ("Hot oil scalds.", &ENGLISH, true),
            ("Hot pipes may burn.", &ENGLISH, true),
            ("A drum that turns crushes fingers.", &ENGLISH, true),
            ("The boom can strike the head.", &ENGLISH, true),
            ("Your hand is crushed between the two.", &ENGLISH, true),
            ("A finger there can be crushed.", &ENGLISH, true),
            ("You are hit by it.", &ENGLISH, true),
            ("The seal is crushed if you turn it dry.", &ENGLISH, false),
            ("It crushes the gasket.", &ENGLISH, false),
            ("The wires get trapped under your panel.", &ENGLISH, false),
            ("The motor burns out if it runs on.", &ENGLISH, false),
            ("Salt kills the membrane.", &ENGLISH, false),
            ("Do not cut the hose short.", &ENGLISH, false),
            ("The kill switch is below.", &ENGLISH, false),
            ("The grease of a finger spoils the sensor.", &ENGLISH, false),
            ("Das Öl verbrüht.", &GERMAN, true),
            ("Die Trommel quetscht Finger.", &GERMAN, true),
            ("Der Motor brennt durch.", &GERMAN, false),
        ] {
            assert_eq!(tells_of_injury(&Text::new(notice), words), expected, "{notice}");
        }
    }

    #[test]
    fn harm_to_a_person_is_no_notice() {
        assert_eq!(found("notice-for-injury", "crew: 1", "> NOTICE: The acid blinds you. Wear goggles.\n\n1. Pour."), ["5:3"]);
        assert!(found("notice-for-injury", "crew: 1", "> NOTICE: The motor burns out. Let it rest.\n\n1. Run it.").is_empty());
        assert!(found("notice-for-injury", "crew: 1", "> WARNING: The acid blinds you. Wear goggles.\n\n1. Pour.").is_empty());
    }
}
