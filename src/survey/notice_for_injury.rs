//! NOTICE where a person can be hurt.

use super::phrases::{Language, Text};
use super::{Context, Rule, each_guide};
use crate::book::diagnostic::Diagnostic;
use crate::book::model::Signal;

const ID: &str = "notice-for-injury";

pub(super) const RULE: Rule = Rule {
    id: ID,
    why: "NOTICE is for harm to things (ANSI Z535.6). Where a person can be hurt the word is CAUTION, WARNING or DANGER, and \
          readers rely on it.",
    check,
};

fn injuries(language: Language) -> &'static [&'static str] {
    match language {
        Language::English => &[
            "injure",
            "injury",
            "injuries",
            "scald",
            "electrocute",
            "drown",
            "maim",
            "kill",
            "blind",
            "suffocate",
            "wound",
            "fingers",
            "eyes",
            "skin",
        ],
        Language::German => {
            &["verletzt", "verletzen", "verbrüht", "verbrühen", "ertrinken", "tötet", "töten", "Finger", "augen", "haut", "ersticken"]
        }
    }
}

fn check(context: &Context<'_>) -> Vec<Diagnostic> {
    let Some(language) = context.language else { return Vec::new() };
    each_guide(context, |guide, notes| {
        for caution in guide.outline.cautions.iter().filter(|caution| caution.signal == Signal::Notice) {
            if Text::new(guide.source.slice(caution.span)).has_any(injuries(language)) {
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
    use crate::survey::testing::found;

    #[test]
    fn harm_to_a_person_is_no_notice() {
        assert_eq!(found("notice-for-injury", "crew: 1", "> NOTICE: The acid blinds you. Wear goggles.\n\n1. Pour."), ["5:3"]);
        assert!(found("notice-for-injury", "crew: 1", "> NOTICE: The motor burns out. Let it rest.\n\n1. Run it.").is_empty());
        assert!(found("notice-for-injury", "crew: 1", "> WARNING: The acid blinds you. Wear goggles.\n\n1. Pour.").is_empty());
    }
}
