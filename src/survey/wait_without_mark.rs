//! Words that ask for a wait, without the mark that makes a timer of it.

use super::phrases::{Language, Text};
use super::{Check, Context, GuideCheck, Rule};
use crate::book::outline::{MarkKind, Step};

const ID: &str = "wait-without-mark";

pub(super) const RULE: Rule = Rule {
    id: ID,
    why: "A `{wait}` gives the step a timer, tells the plan what to do meanwhile, and says how long is long enough. `Let it cool` \
          leaves that to impatience.",
    check: Check::Guides(check),
};

/// Words that ask for a wait.
struct Words {
    asks: &'static [&'static str],
    /// What is waited for, some words on.
    what: &'static [&'static str],
    /// Behind what is waited for: `abkühlen lassen`.
    behind: &'static [&'static str],
    /// At the beginning of a sentence they ask for a wait by themselves: `Soak it in diesel`.
    first: &'static [&'static str],
}

const ENGLISH: Words =
    Words { asks: &["let", "allow", "leave", "wait"], what: &["cool", "settle", "vent", "soak", "cure"], behind: &[], first: &["soak"] };

const GERMAN: Words = Words {
    asks: &["lass", "warte", "warten", "abwarten"],
    what: &["abkühlen", "auskühlen", "absetzen", "lüften", "einweichen", "aushärten"],
    behind: &["lassen", "abwarten"],
    first: &[],
};

/// Words between the two, and one more.
const REACH: usize = 6;

fn asks(words: &Words, step: &str) -> bool {
    step.split(['.', ';', '!', '?']).map(Text::new).any(|sentence| {
        sentence.has_near(words.asks, words.what, REACH)
            || sentence.has_near(words.what, words.behind, 1)
            || sentence.first().is_some_and(|first| words.first.contains(&first))
    })
}

fn waits(step: &Step) -> bool {
    step.marks.iter().any(|mark| matches!(mark.kind, MarkKind::Wait { .. } | MarkKind::Run(_)))
}

fn check<'c>(context: &'c Context<'_>) -> GuideCheck<'c> {
    let waiting = match context.language {
        Some(Language::English) => &ENGLISH,
        Some(Language::German) => &GERMAN,
        None => return Box::new(|_, _, _| {}),
    };
    Box::new(move |guide, words, notes| {
        for stage in &guide.outline.stages {
            for (at, step) in stage.steps.iter().enumerate() {
                // The wait may be a step of its own.
                let marked = waits(step) || stage.steps.get(at + 1).is_some_and(waits);
                if !marked && asks(waiting, words.of_step(step)) {
                    notes.advice(
                        ID,
                        step.span,
                        "this step asks for a wait and does not say how long",
                        "write `{wait 20 min: until the hand can rest on it}` behind it, with the time it takes",
                    );
                }
            }
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::survey::testing::found;

    #[test]
    fn words_that_ask_for_a_wait() {
        for (step, words, expected) in [
            ("Let the oil cool.", &ENGLISH, true),
            ("Leave the glue to cure overnight.", &ENGLISH, true),
            ("Allow the locker to vent.", &ENGLISH, true),
            ("Let it stand. The dirt will settle.", &ENGLISH, false),
            ("Soak the strainer in vinegar.", &ENGLISH, true),
            ("Look at the cooler and the vent.", &ENGLISH, false),
            ("Lift the soaked cloth out.", &ENGLISH, false),
            ("Den Motor abkühlen lassen.", &GERMAN, true),
            ("Lass den Kleber aushärten.", &GERMAN, true),
            ("Den Kühler ansehen.", &GERMAN, false),
        ] {
            assert_eq!(asks(words, step), expected, "{step}");
        }
    }

    #[test]
    fn a_wait_is_marked() {
        assert_eq!(found("wait-without-mark", "crew: 1", "1. Let the engine cool."), ["5:1"]);
        assert!(found("wait-without-mark", "crew: 1", "1. Let the engine cool. {wait 20 min: cool}").is_empty());
        assert!(found("wait-without-mark", "crew: 1", "1. Let the engine cool.\n2. Stay away. {wait 20 min: cool}").is_empty());
        assert!(found("wait-without-mark", "crew: 1", "1. Look at the cooler.").is_empty());
    }

    #[test]
    fn words_are_those_that_are_read() {
        assert_eq!(found("wait-without-mark", "crew: 1", "1. **L**et it c*oo*l down."), ["5:1"]);
    }
}
