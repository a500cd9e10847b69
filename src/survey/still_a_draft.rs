//! A guide that still holds the words of the skeleton it was drafted from.

use super::{Check, Context, GuideCheck, Rule};
use crate::book::source::Span;

const ID: &str = "still-a-draft";

pub(super) const RULE: Rule = Rule {
    id: ID,
    why: "A skeleton has steps that say nothing, and cautions that only its words suggested. Once it is on a phone it looks like a \
          guide that somebody wrote and tried.",
    check: Check::Guides(check),
};

/// What only a skeleton says, in the languages it comes in; a test holds them to the skeletons.
const LEFT: [&str; 6] = [
    "nobody has written its steps yet",
    "nobody has held it against this job yet",
    "Write the first step here",
    "Die Schritte hat noch niemand geschrieben",
    "noch niemand hat ihn an dieser Arbeit geprüft",
    "Hier den ersten Schritt schreiben",
];

fn check<'c>(_: &'c Context<'_>) -> GuideCheck<'c> {
    Box::new(move |guide, _, notes| {
        let body = guide.source.slice(guide.body);
        let Some((at, words)) = LEFT.iter().filter_map(|words| Some((body.find(words)?, words))).min() else { return };
        let start = guide.body.start as usize + at;
        notes.advice(
            ID,
            Span::new(start, start + words.len()),
            "this guide is still a draft, and pages show it like any other",
            "write its steps and take these words out; until then keep the file outside `guides`",
        );
    })
}

#[cfg(test)]
mod tests {
    use super::LEFT;
    use crate::survey::testing::found;

    #[test]
    fn the_words_are_those_of_the_skeletons() {
        let skeletons = concat!(include_str!("../draft/skeleton.en.yaml"), include_str!("../draft/skeleton.de.yaml"));
        for words in LEFT {
            assert!(skeletons.contains(words), "{words}");
        }
    }

    #[test]
    fn a_draft_is_told_of_once_at_its_first_words() {
        let body = "**This is a draft: nobody has written its steps yet.**\n\n1. Write the first step here.";
        assert_eq!(found("still-a-draft", "occasions: [haul-out]", body), ["5:20"]);
        assert!(found("still-a-draft", "occasions: [haul-out]", "1. Write the day on the filter.").is_empty());
    }
}
