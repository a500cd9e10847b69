//! A part or a tool that is listed and that no step uses.

use super::figure_never_used::names;
use super::phrases::{Text, texts};
use super::{Context, Rule, each_guide};
use crate::book::diagnostic::Diagnostic;
use crate::book::model::Guide;
use crate::book::source::Name;

const ID: &str = "never-used";

pub(super) const RULE: Rule = Rule {
    id: ID,
    why: "What is listed is fetched from its locker, or bought. A step that says where it is used tells why, and shows it at hand \
          when its turn comes.",
    check,
};

/// Shortest word by which a thing is known again: `oil` is one, `to` is none.
const TELLING: usize = 3;

fn check(context: &Context<'_>) -> Vec<Diagnostic> {
    each_guide(context, |guide, notes| {
        if guide.outline.stages.iter().all(|stage| stage.steps.is_empty()) {
            return;
        }
        let used = names(guide);
        let texts = texts(guide);
        let tools = guide.tools.iter().map(|tool| (tool, context.book.tool(&tool.value).map(|tool| tool.title.as_str())));
        let parts = guide.parts.iter().map(|part| (&part.item, context.book.store(&part.item.value).map(|item| item.title.as_str())));
        for (name, title) in tools.chain(parts) {
            if !used.contains(name.value.as_str()) && !spoken_of(guide, name, title, &texts) {
                notes.advice(
                    ID,
                    name.span,
                    format!("no step uses `{}`", name.value),
                    "write its id in braces in the step it is for, or take it out of the list",
                );
            }
        }
    })
}

/// Whether a text names the thing in plain words: any telling word of its title.
fn spoken_of(guide: &Guide, name: &Name, title: Option<&str>, texts: &[(Text, crate::book::source::Span)]) -> bool {
    let words = Text::new(title.unwrap_or(&name.value)).telling(TELLING);
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    let prose = Text::new(guide.source.slice(guide.body));
    texts.iter().any(|(text, _)| text.has_any(&words)) || prose.has_any(&words)
}

#[cfg(test)]
mod tests {
    use crate::survey::testing::found;

    #[test]
    fn what_is_listed_is_used() {
        assert_eq!(found("never-used", "tools: [torque wrench, big hammer]", "1. Strike it with the hammer."), ["3:9"]);
        assert!(found("never-used", "tools: [big hammer]", "1. Strike it with the hammer.").is_empty());
        assert_eq!(found("never-used", "parts: [{item: copper washer}]", "1. Look."), ["3:16"]);
    }
}
