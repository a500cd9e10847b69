//! A part or a tool that is listed and that no step uses.
//!
//! A thing is used where its name stands in braces, where its noun stands in plain words, and where
//! the step has its amount (`fill with {refill}` uses the oil) or asks for its work (a torque uses the
//! torque wrench).

use super::figure_never_used::names;
use super::own_words::{Cautions, OwnWords, name_words, words_in};
use super::{Check, Context, GuideCheck, Rule};
use crate::book::id::id_of;
use crate::book::model::{Amount, Guide, PartUse, ValueFigure};
use crate::book::source::Span;
use crate::quantity::Figure;
use std::borrow::Cow;
use std::cell::OnceCell;
use std::collections::{BTreeSet, HashMap, HashSet};

const ID: &str = "never-used";

pub(super) const RULE: Rule = Rule {
    id: ID,
    why: "What is listed is fetched from its locker, or bought. A step that says where it is used tells why, and shows it at hand \
          when its turn comes.",
    check: Check::Guides(check),
};

/// Words in the names of tools that set a torque.
const TORQUE: [&str; 2] = ["torque", "drehmoment"];

fn check<'c>(context: &'c Context<'_>) -> GuideCheck<'c> {
    let book = context.book;
    let tools: HashMap<&str, &str> = book.tools.iter().map(|tool| (tool.id.value.as_str(), tool.title.as_str())).collect();
    let stores: HashMap<&str, &str> = book.stores.iter().map(|item| (item.id.value.as_str(), item.title.as_str())).collect();
    Box::new(move |guide, words, notes| {
        // Without steps nothing can be used; another rule says so.
        if guide.outline.stages.iter().all(|stage| stage.steps.is_empty()) {
            return;
        }
        let used = Used::of(guide, words);
        let listed = guide.tools.iter().map(|tool| (tool, tools.get(tool.value.as_str()), None));
        let listed = listed.chain(guide.parts.iter().map(|part| (&part.item, stores.get(part.item.value.as_str()), Some(part))));
        for (name, title, part) in listed {
            if !used.has(&name.value, title.copied(), part) {
                notes.advice(
                    ID,
                    name.span,
                    format!("no step uses `{}`", name.value),
                    format!("write `{{{}}}` in the step it is for, or take it out of the list", id_of(&name.value)),
                );
            }
        }
    })
}

/// What the steps of a guide use.
struct Used<'g> {
    names: BTreeSet<&'g str>,
    own: &'g OwnWords<'g>,
    /// Where the guide's body stands in them.
    body: Span,
    /// Every word of the guide, once a thing is looked for that no mark names.
    words: OnceCell<HashSet<Cow<'g, str>>>,
    figures: Vec<&'g Figure>,
    any_torque: bool,
}

impl<'g> Used<'g> {
    fn of(guide: &'g Guide, own: &'g OwnWords<'_>) -> Self {
        let names = names(guide);
        let figures = guide.values.iter().filter(|value| names.contains(value.id.as_str())).filter_map(|value| match &value.figure {
            ValueFigure::Figure(figure) => Some(figure),
            _ => None,
        });
        let figures = figures.collect();
        let any_torque = guide.torques.iter().any(|torque| names.contains(torque.id.as_str()));
        Self { own, body: guide.body, words: OnceCell::new(), figures, any_torque, names }
    }

    fn says(&self, word: &str) -> bool {
        let words = self.words.get_or_init(|| {
            let words = words_in(self.own.text(Cautions::In), self.body);
            words.into_iter().map(|word| word.stem).collect()
        });
        words.contains(word)
    }

    fn has(&self, name: &str, title: Option<&str>, part: Option<&PartUse>) -> bool {
        if self.names.contains(id_of(name).as_str()) {
            return true;
        }
        let by_id = name_words(name);
        let by_title = title.map(name_words).unwrap_or_default();
        let noun_said = [by_id.last(), by_title.last()].into_iter().flatten().any(|noun| self.says(noun));
        let sets_torque = part.is_none() && by_id.iter().chain(&by_title).any(|word| TORQUE.iter().any(|torque| word.starts_with(torque)));
        // A name without any words in it cannot be looked for.
        (by_id.is_empty() && by_title.is_empty())
            || noun_said
            || (sets_torque && self.any_torque)
            || part.is_some_and(|part| self.has_amount_of(part))
    }

    fn has_amount_of(&self, part: &PartUse) -> bool {
        let Some(Amount::Measured(amount)) = &part.amount else { return false };
        self.figures.iter().any(|figure| {
            let value = figure.unit().and_then(|unit| amount.in_unit(unit));
            value.is_some_and(|value| figure.bounds() == (Some(value), Some(value)))
        })
    }
}

#[cfg(test)]
mod tests {
    use super::ID;
    use crate::survey::small_book::{book, found, guide_text, places};

    #[track_caller]
    fn case(front: &str, step: &str, expected: &[&str]) {
        let book = book(&[
            ("tools.yaml", "- {id: torque-wrench, title: \"Torque wrench, 10 to 60 N·m\"}\n- {id: pliers-2, title: Circlip pliers}\n"),
            ("stores.yaml", "- {id: engine-oil, title: Engine oil}\n- {id: belt-alternator, title: Alternator belt}\n"),
            ("guides/engine/job.md", &guide_text(front, &format!("## Work\n\n1. {step}\n"))),
        ]);
        assert_eq!(places(&found(ID, &book)), expected, "{front}: {step}");
    }

    #[test]
    fn what_is_listed_and_not_used_is_told() {
        case("tools: [torque-wrench, big hammer]", "Look.", &["3:24 big hammer", "3:9 torque-wrench"]);
        case("parts: [{item: belt-alternator}, {item: copper washer}]", "Look.", &["3:16 belt-alternator", "3:41 copper washer"]);
        // Other words of its name are no use of it.
        case("parts: [{item: engine-oil}]", "Stop the engine.", &["3:16 engine-oil"]);
    }

    #[test]
    fn a_name_in_braces_a_noun_an_amount_and_a_torque_are_uses() {
        case("tools: [torque-wrench, 17 mm socket]", "With the {torque-wrench} and the {17 mm socket}.", &[]);
        case("tools: [big hammer, pliers-2]", "Strike it with hammers, and use pliers.", &[]);
        case("parts: [{item: belt-alternator}]", "Turn on a new belt.", &[]);
        case("parts: [{item: engine-oil, qty: 2 L}]\nvalues: {refill: 2000 mL}", "Fill in {refill}.", &[]);
        case("tools: [torque-wrench]\ntorque: [{at: plug, value: 20 N·m}]", "Tighten the {plug}.", &[]);
    }

    #[test]
    fn a_guide_without_steps_uses_nothing_and_is_not_told_of_it() {
        let text = guide_text("tools: [big hammer]", "Look at it.\n");
        assert_eq!(found(ID, &book(&[("guides/engine/job.md", &text)])), []);
    }
}
