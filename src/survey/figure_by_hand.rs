//! A figure written by hand into a step, where the front matter should hold it.

use super::{Context, Rule, each_guide};
use crate::book::diagnostic::Diagnostic;
use crate::quantity::{Dimension, Quantity};

const ID: &str = "figure-by-hand";

pub(super) const RULE: Rule = Rule {
    id: ID,
    why: "A torque or a pressure that stands only in a sentence is in no table of figures, has no source, is shown in one unit \
          alone, and is forgotten when the value is corrected elsewhere.",
    check,
};

/// What is declared, not written by hand: figures that break things when they are wrong.
const DECLARED: [Dimension; 2] = [Dimension::Torque, Dimension::Pressure];

fn check(context: &Context<'_>) -> Vec<Diagnostic> {
    each_guide(context, |guide, notes| {
        for step in guide.outline.stages.iter().flat_map(|stage| &stage.steps) {
            for figure in figures(&step.words) {
                notes.advice(
                    ID,
                    step.span,
                    format!("`{figure}` is written by hand in this step"),
                    "declare it under `torque` or `values`, and write its name in braces where it belongs",
                );
            }
        }
    })
}

/// Torques and pressures in a text: a number, and a unit behind it with or without a space.
fn figures(text: &str) -> Vec<String> {
    let words: Vec<&str> = text.split_whitespace().collect();
    let mut found = Vec::new();
    for (at, word) in words.iter().enumerate() {
        let Some(first) = word.trim_start_matches(['(', '“', '"']).get(..) else { continue };
        if !first.starts_with(|letter: char| letter.is_ascii_digit()) {
            continue;
        }
        let two = words.get(at + 1).map(|next| format!("{first} {next}"));
        for candidate in two.into_iter().chain([first.to_owned()]) {
            let candidate = candidate.trim_end_matches(['.', ',', ';', ':', ')', '!', '?', '”', '"']);
            if let Ok(quantity) = Quantity::parse(candidate)
                && DECLARED.contains(&quantity.unit().dimension())
            {
                found.push(candidate.to_owned());
                break;
            }
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::figures;
    use crate::survey::testing::found;

    #[test]
    fn torques_and_pressures_are_seen_and_nothing_else() {
        for (text, expected) in [
            ("Tighten to 25 N·m, then wait.", vec!["25 N·m"]),
            ("Tighten to 25 Nm.", vec!["25 Nm"]),
            ("Pump it up to 2.5 bar (36 psi).", vec!["2.5 bar", "36 psi"]),
            ("Take the 13 mm spanner and 2 L of oil.", vec![]),
            ("Open all 4 bars.", vec![]),
            ("", vec![]),
        ] {
            assert_eq!(figures(text), expected, "{text}");
        }
    }

    #[test]
    fn the_step_is_named() {
        assert_eq!(found("figure-by-hand", "crew: 1", "1. Look.\n2. Tighten to 25 Nm."), ["6:1"]);
        assert!(found("figure-by-hand", "torque: [{at: plug, value: 25 N·m}]", "1. Tighten the {plug}.").is_empty());
    }
}
