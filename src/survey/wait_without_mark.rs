//! Words that ask for a wait, without the mark that makes a timer of it.

use super::phrases::{Language, Text};
use super::{Context, Rule, each_guide};
use crate::book::diagnostic::Diagnostic;
use crate::book::outline::{MarkKind, Step};

const ID: &str = "wait-without-mark";

pub(super) const RULE: Rule = Rule {
    id: ID,
    why: "A `{wait}` gives the step a timer, tells the plan what to do meanwhile, and says how long is long enough. `Let it cool` \
          leaves that to impatience.",
    check,
};

/// Words that ask for a wait, and what is waited for some words on.
fn words(language: Language) -> (&'static [&'static str], &'static [&'static str]) {
    match language {
        Language::English => (&["let", "allow", "leave", "wait"], &["cool", "settle", "vent", "soak", "cure"]),
        Language::German => {
            (&["lass", "lassen", "abwarten", "warten"], &["abkühlen", "auskühlen", "absetzen", "lüften", "einweichen", "aushärten"])
        }
    }
}

/// Words between the two, and one more.
const REACH: usize = 6;

fn waits(step: &Step) -> bool {
    step.marks.iter().any(|mark| matches!(mark.kind, MarkKind::Wait { .. } | MarkKind::Run(_)))
}

fn check(context: &Context<'_>) -> Vec<Diagnostic> {
    let Some(language) = context.language else { return Vec::new() };
    let (asks, what) = words(language);
    each_guide(context, |guide, notes| {
        for stage in &guide.outline.stages {
            for (at, step) in stage.steps.iter().enumerate() {
                let text = Text::new(&step.words);
                // German puts the verb at the end: `abkühlen lassen`.
                let asked = text.has_near(asks, what, REACH) || (language == Language::German && text.has_near(what, asks, 1));
                // The wait may be a step of its own.
                let marked = waits(step) || stage.steps.get(at + 1).is_some_and(waits);
                if asked && !marked {
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
    use crate::survey::testing::found;

    #[test]
    fn a_wait_is_marked() {
        assert_eq!(found("wait-without-mark", "crew: 1", "1. Let the engine cool."), ["5:1"]);
        assert!(found("wait-without-mark", "crew: 1", "1. Let the engine cool. {wait 20 min: cool}").is_empty());
        assert!(found("wait-without-mark", "crew: 1", "1. Let the engine cool.\n2. Stay away. {wait 20 min: cool}").is_empty());
        assert!(found("wait-without-mark", "crew: 1", "1. Look at the cooler.").is_empty());
    }
}
