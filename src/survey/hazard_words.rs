//! Words that suggest a hazard which the guide does not name.

use super::phrases::{Phrase, texts};
use super::{Context, Rule, each_guide};
use crate::book::diagnostic::Diagnostic;
use crate::book::model::Hazard;

const ID: &str = "hazard-not-named";

pub(super) const RULE: Rule = Rule {
    id: ID,
    why: "The usual cautions come onto a page by the hazards its guide names. A guide that opens a fuel line or shuts a seacock \
          and does not name the hazard shows none of them.",
    check,
};

fn check(context: &Context<'_>) -> Vec<Diagnostic> {
    let hazards: Vec<(&Hazard, Vec<Phrase>)> =
        context.book.hazards.iter().map(|hazard| (hazard, hazard.words.iter().map(|words| Phrase::new(words)).collect())).collect();
    each_guide(context, |guide, notes| {
        let texts = texts(guide);
        for (hazard, phrases) in &hazards {
            if guide.hazards.iter().any(|named| named.value == hazard.id) {
                continue;
            }
            let mut first = None;
            let mut words = Vec::new();
            for (phrase, written) in phrases.iter().zip(&hazard.words) {
                if let Some((_, span)) = texts.iter().find(|(text, _)| text.find(phrase).is_some()) {
                    words.push(format!("`{written}`"));
                    first = first.into_iter().chain([*span]).min();
                }
            }
            if let Some(span) = first {
                notes.advice(
                    ID,
                    span,
                    format!("the words {} suggest the hazard `{}`, which this guide does not name", words.join(", "), hazard.id),
                    format!("add `{}` to `hazards` if it is met in this job, so that its cautions are shown", hazard.id),
                );
            }
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
}
