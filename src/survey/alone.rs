//! One person alone where somebody must be at hand.

use super::{Check, Context, GuideCheck, Rule};

const ID: &str = "alone";

pub(super) const RULE: Rule = Rule {
    id: ID,
    why: "Who hangs at the masthead, dives under the hull or faints in a tank cannot help himself. The second person holds \
          the safety line, watches, and calls for help.",
    check: Check::Guides(check),
};

/// Hazards that nobody faces alone.
const NEVER_ALONE: [&str; 3] = ["working-aloft", "diving", "confined-spaces"];

fn check<'c>(_: &'c Context<'_>) -> GuideCheck<'c> {
    Box::new(move |guide, _, notes| {
        if guide.crew >= 2 {
            return;
        }
        for hazard in guide.hazards.iter().filter(|hazard| NEVER_ALONE.contains(&hazard.value.as_str())) {
            notes.warning(
                ID,
                hazard.span,
                format!("one person alone, with the hazard `{}`", hazard.value),
                "write `crew: 2` or more, and say in a step who watches whom",
            );
        }
    })
}

#[cfg(test)]
mod tests {
    use crate::survey::testing::found;

    #[test]
    fn nobody_goes_aloft_alone() {
        assert_eq!(found("alone", "crew: 1\nhazards: [working-aloft, hot-surfaces]", "1. Climb."), ["4:11"]);
        assert_eq!(found("alone", "hazards: [diving]", "1. Dive."), ["3:11"]);
        assert!(found("alone", "crew: 2\nhazards: [working-aloft, diving, confined-spaces]", "1. Climb.").is_empty());
        assert!(found("alone", "crew: 1\nhazards: [hot-surfaces]", "1. Look.").is_empty());
    }
}
