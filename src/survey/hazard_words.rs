//! Words that suggest a hazard which the guide does not name.

use super::phrases::{Phrases, passages};
use super::{Check, Context, GuideCheck, Rule};
use crate::book::model::Hazard;
use crate::book::source::Span;
use std::collections::{BTreeMap, HashSet};

const ID: &str = "hazard-not-named";

pub(super) const RULE: Rule = Rule {
    id: ID,
    why: "The usual cautions come onto a page by the hazards its guide names. A guide that opens a fuel line or shuts a seacock \
          and does not name the hazard shows none of them.",
    check: Check::Guides(check),
};

fn check<'c>(context: &'c Context<'_>) -> GuideCheck<'c> {
    let hazards = context.book.hazards.iter();
    let words: Vec<(&Hazard, &str)> = hazards.flat_map(|hazard| hazard.words.iter().map(move |words| (hazard, words.as_str()))).collect();
    let tools = context.book.tools.iter().map(|tool| (tool.id.value.as_str(), tool.title.as_str())).collect();
    let phrases = Phrases::new(words.iter().map(|(_, words)| *words));
    Box::new(move |guide, own_words, notes| {
        let named: HashSet<&str> = guide.hazards.iter().map(|hazard| hazard.value.as_str()).collect();
        let mut suggested: BTreeMap<&str, (Span, Vec<&str>)> = BTreeMap::new();
        for passage in passages(guide, own_words, &tools) {
            for (number, at) in passage.text.found(&phrases) {
                let Some((hazard, words)) = words.get(number).filter(|(hazard, _)| !named.contains(hazard.id.as_str())) else { continue };
                let place = passage.place(at);
                let (first, all) = suggested.entry(&hazard.id).or_insert((place, Vec::new()));
                *first = place.min(*first);
                if !all.contains(words) {
                    all.push(words);
                }
            }
        }
        for (hazard, (first, words)) in suggested {
            let suggest = if words.len() == 1 { "suggests" } else { "suggest" };
            let words: Vec<String> = words.into_iter().map(|words| format!("`{words}`")).collect();
            notes.advice(
                ID,
                first,
                format!("{} {suggest} the hazard `{hazard}`, which this guide does not name", words.join(", ")),
                format!("add `{hazard}` to `hazards` if it is met in this job, so that its cautions are shown"),
            );
        }
    })
}

#[cfg(test)]
mod tests {
    use crate::survey::testing::found;

    #[test]
    fn going_aloft_without_the_hazard_is_seen_once() {
        assert_eq!(found("hazard-not-named", "crew: 2", "1. Look.\n2. Go aloft.\n3. Stay aloft."), ["6:1"]);
        assert!(found("hazard-not-named", "crew: 2\nhazards: [working-aloft]", "1. Go aloft.").is_empty());
        assert!(found("hazard-not-named", "crew: 2", "1. Wipe the table.").is_empty());
    }

    #[test]
    fn words_are_looked_for_in_tools_and_above_the_steps_too() {
        assert_eq!(found("hazard-not-named", "tools: [climbing harness]", "1. Look."), ["3:9"]);
        // Over a line end, and at its own place.
        assert_eq!(found("hazard-not-named", "crew: 1", "We shut every *skin\nfitting*.\n\n1. Look."), ["5:16"]);
        // Not in code, not in the target of a link, not in the guide's own caution.
        for intro in
            ["`acetone`", "    acetone", "[See](https://example.org/acetone)", "> WARNING: Acetone burns. Keep flames away.", "Gasket"]
        {
            assert!(found("hazard-not-named", "crew: 1", &format!("{intro}\n\n1. Look.")).is_empty(), "{intro}");
        }
    }
}
