//! A step too long to be kept in mind.

use super::{Check, Context, GuideCheck, Rule};

const ID: &str = "long-step";

pub(super) const RULE: Rule = Rule {
    id: ID,
    why: "A step is read with the hands full, and ticked off as one thing. In a long one something is passed over.",
    check: Check::Guides(check),
};

/// Most words of a step.
const MOST_WORDS: usize = 60;

fn check<'c>(_: &'c Context<'_>) -> GuideCheck<'c> {
    Box::new(move |guide, words, notes| {
        for step in guide.outline.stages.iter().flat_map(|stage| &stage.steps) {
            let words = words.of_step(step).split_whitespace().filter(|word| word.contains(char::is_alphanumeric)).count();
            if words > MOST_WORDS {
                notes.advice(
                    ID,
                    step.span,
                    format!("this step is {words} words long"),
                    "make two of it: one act a step, and the reasons above the steps",
                );
            }
        }
    })
}

#[cfg(test)]
mod tests {
    use crate::survey::testing::found;

    #[test]
    fn sixty_words_are_enough() {
        assert_eq!(found("long-step", "crew: 1", &format!("1. Look.\n2. {}", "turn it ".repeat(31))), ["6:1"]);
        assert!(found("long-step", "crew: 1", &format!("1. {}", "turn it ".repeat(30))).is_empty());
    }
}
