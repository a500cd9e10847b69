//! A caution that does not say what can happen, or not what to do about it.

use super::phrases::{Language, Text};
use super::{Context, Rule, each_guide};
use crate::book::diagnostic::Diagnostic;

const ID: &str = "bare-caution";

pub(super) const RULE: Rule = Rule {
    id: ID,
    why: "A caution works when it says three things: what the danger is, what it does to a person or the boat, and how to \
          avoid it (ANSI Z535.6 asks for all three). `Be careful` tells a tired reader nothing.",
    check,
};

/// Fewest words in which harm and a way to avoid it can be said.
const FEWEST_WORDS: usize = 7;

/// Words that say what to do or not to do.
fn ways(language: Language) -> &'static [&'static str] {
    match language {
        Language::English => &[
            "keep",
            "wear",
            "never",
            "not",
            "don",
            "no",
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
            "away",
            "out",
            "clear",
            "without",
            "take",
            "put",
            "hold",
            "switch",
            "turn",
            "disconnect",
            "tie",
            "clip",
            "watch",
            "test",
            "cover",
            "wash",
            "vent",
            "ventilate",
            "work",
            "stand",
            "leave",
            "go",
            "catch",
            "by",
            "if",
            "support",
            "lift",
            "lower",
            "lock",
            "isolate",
            "always",
            "both",
            "slowly",
            "pull",
            "push",
            "plug",
            "rinse",
            "mark",
            "renew",
            "tighten",
        ],
        Language::German => &[
            "nie",
            "nicht",
            "kein",
            "tragen",
            "halten",
            "lassen",
            "warten",
            "erst",
            "nur",
            "bevor",
            "bis",
            "vor",
            "fern",
            "weg",
            "ohne",
            "schließen",
            "öffnen",
            "abschalten",
            "trennen",
            "prüfen",
            "achten",
            "stellen",
            "nehmen",
            "sichern",
            "lüften",
            "niemals",
            "immer",
            "bleiben",
            "legen",
            "mit",
            "wenn",
            "beim",
            "vorher",
            "langsam",
            "beide",
            "festhalten",
            "abdecken",
            "waschen",
            "stützen",
        ],
    }
}

fn check(context: &Context<'_>) -> Vec<Diagnostic> {
    let Some(language) = context.language else { return Vec::new() };
    each_guide(context, |guide, notes| {
        for caution in &guide.outline.cautions {
            let quote = guide.source.slice(caution.span);
            let text = Text::new(quote);
            // The signal word itself is one of them.
            if text.len() > FEWEST_WORDS && text.has_any(ways(language)) {
                continue;
            }
            let lacks = if text.len() <= FEWEST_WORDS { "what can happen and how to avoid it" } else { "how to avoid the harm" };
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
    use crate::survey::testing::found;

    #[test]
    fn a_caution_says_the_harm_and_the_way() {
        assert_eq!(found("bare-caution", "crew: 1", "> WARNING: Be careful here.\n\n1. Open it."), ["5:3"]);
        assert_eq!(
            found("bare-caution", "crew: 1", "> WARNING: The oil in this pipe is hot and scalds hands badly.\n\n1. Open it."),
            ["5:3"]
        );
        assert!(
            found("bare-caution", "crew: 1", "> WARNING: Warm oil scalds. Wear gloves and keep clear of it.\n\n1. Open it.").is_empty()
        );
    }
}
