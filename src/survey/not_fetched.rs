//! A tool in the hand, or a new part, that the list at the head of the guide does not have.
//!
//! Names in braces are looked up when the book is read; here it is plain words. A tool counts where
//! its whole name stands in a step, a part only where it is put in (`a new oil filter`): most words
//! about parts are about the one that is there.

use super::own_words::{Cautions, OwnWords, Word, name_words, words_in};
use super::phrases::Language;
use super::vocabulary::new_words;
use super::{Check, Context, GuideCheck, Rule};
use crate::book::diagnostic::Notes;
use crate::book::model::Guide;
use crate::book::source::Span;
use std::cell::OnceCell;
use std::collections::{BTreeSet, HashMap};

const ID: &str = "not-fetched";

pub(super) const RULE: Rule = Rule {
    id: ID,
    why: "The list is read before the job and the step in the middle of it. What stands in the step alone is looked for with greasy \
          hands, and a part that is not listed is in no shopping list.",
    check: Check::Guides(check),
};

/// Something aboard, by the words of its id or of its title.
struct Thing<'b> {
    id: &'b str,
    part: bool,
    name: Vec<String>,
}

/// Everything aboard by the first word of its names.
type Aboard<'b> = HashMap<String, Vec<Thing<'b>>>;

fn check<'c>(context: &'c Context<'_>) -> GuideCheck<'c> {
    let aboard = aboard(context);
    let wording =
        Wording { new: context.language.map(new_words).unwrap_or_default(), verbs_come_first: context.language == Some(Language::English) };
    Box::new(move |guide, words, notes| in_guide(guide, words, &aboard, &wording, notes))
}

/// How the language of the boat says things.
struct Wording {
    /// Words before a part that is put in.
    new: &'static [&'static str],
    /// A sentence that begins with a word and no article asks for an act: `Pump by hand`.
    verbs_come_first: bool,
}

fn aboard<'b>(context: &Context<'b>) -> Aboard<'b> {
    let book = context.book;
    let tools = book.tools.iter().map(|tool| (tool.id.value.as_str(), tool.title.as_str(), false));
    let stores = book.stores.iter().map(|item| (item.id.value.as_str(), item.title.as_str(), true));
    let mut aboard: Aboard<'b> = HashMap::new();
    for (id, title, part) in tools.chain(stores) {
        let names: BTreeSet<Vec<String>> = [name_words(id), name_words(title)].into();
        for name in names {
            if let Some(first) = name.first() {
                aboard.entry(first.clone()).or_default().push(Thing { id, part, name });
            }
        }
    }
    aboard
}

fn in_guide(guide: &Guide, own: &OwnWords<'_>, aboard: &Aboard<'_>, wording: &Wording, notes: &mut Notes<'_>) {
    let listed: Vec<&str> = guide.tools.iter().chain(guide.parts.iter().map(|part| &part.item)).map(|name| name.value.as_str()).collect();
    // In a sound guide no step asks for them.
    let listed_words: OnceCell<Vec<BTreeSet<String>>> = OnceCell::new();
    let listed_words = || listed_words.get_or_init(|| listed.iter().map(|name| name_words(name).into_iter().collect()).collect());
    let text = own.text(Cautions::Out);
    let mut told: BTreeSet<&str> = BTreeSet::new();
    for step in guide.outline.stages.iter().flat_map(|stage| &stage.steps) {
        let words = words_in(text, step.span);
        for at in 0..words.len() {
            let Some(thing) = named_at(&words, at, aboard, wording.new) else { continue };
            if wording.verbs_come_first && thing.name.len() == 1 && is_act(text, &words, at) {
                continue;
            }
            // `wrench` is at hand where a `strap-wrench` is listed.
            let at_hand =
                listed.contains(&thing.id) || listed_words().iter().any(|listed| thing.name.iter().all(|word| listed.contains(word)));
            if !at_hand && told.insert(thing.id) {
                let span = words
                    .get(at..at + thing.name.len())
                    .and_then(|run| Some(Span { start: run.first()?.span.start, end: run.last()?.span.end }));
                let (list, example) =
                    if thing.part { ("parts", format!("{{item: {}, qty: 1}}", thing.id)) } else { ("tools", thing.id.to_owned()) };
                notes.advice(
                    ID,
                    span.unwrap_or(step.span),
                    format!("this step needs `{}`, and `{list}` does not list it", thing.id),
                    format!("add `{example}` to `{list}`, and write `{{{}}}` here", thing.id),
                );
            }
        }
    }
}

/// The thing whose whole name begins at this word; of two the longer name.
fn named_at<'a, 'b>(words: &[Word<'_>], at: usize, aboard: &'a Aboard<'b>, new: &[&str]) -> Option<&'a Thing<'b>> {
    let things = aboard.get(words.get(at)?.stem.as_ref())?;
    let put_in =
        !words.get(at)?.after_pause && at.checked_sub(1).and_then(|before| words.get(before)).is_some_and(|word| is_new(word, new));
    let named = things.iter().filter(|thing| !thing.part || put_in).filter(|thing| {
        let run = words.get(at..at + thing.name.len()).unwrap_or_default();
        // What a pause divides is two things: `the oil, filter and seal`.
        run.len() == thing.name.len()
            && run
                .iter()
                .zip(&thing.name)
                .enumerate()
                .all(|(place, (word, wanted))| word.stem == *wanted && (place == 0 || !word.after_pause))
    });
    named.max_by_key(|thing| thing.name.len())
}

/// Whether a word that may be the name of a tool tells what to do: it begins a sentence, or stands behind `then` or `to`.
fn is_act(text: &str, words: &[Word<'_>], at: usize) -> bool {
    let (Some(word), Some(before)) = (words.get(at), at.checked_sub(1).and_then(|before| words.get(before))) else { return true };
    let between = text.get(before.span.end as usize..word.span.start as usize).unwrap_or_default();
    between.contains(['.', '!', '?', ':', ';']) || matches!(before.stem.as_ref(), "then" | "to")
}

fn is_new(word: &Word<'_>, new: &[&str]) -> bool {
    new.contains(&word.stem.as_ref())
}

#[cfg(test)]
mod tests {
    use super::ID;
    use crate::survey::small_book::{book_in, found, guide_text, places};

    #[track_caller]
    fn case_in(language: &str, front: &str, step: &str, expected: &[&str]) {
        let book = book_in(
            language,
            &[
                (
                    "tools.yaml",
                    "- {id: strap-wrench, title: \"Strap wrench, 100 mm\"}\n- {id: torch, title: Torch}\n- {id: zange, title: Zange}\n",
                ),
                ("stores.yaml", "- {id: oil-filter, title: Oil filter}\n- {id: filter-2, title: Ölfilter}\n"),
                ("guides/engine/job.md", &guide_text(front, &format!("## Work\n\n1. {step}\n"))),
            ],
        );
        assert_eq!(places(&found(ID, &book)), expected, "{front}: {step}");
    }

    #[track_caller]
    fn case(front: &str, step: &str, expected: &[&str]) {
        case_in("en", front, step, expected);
    }

    #[test]
    fn a_tool_in_the_words_of_a_step_that_is_not_listed_is_told_once() {
        case("", "Turn it with the strap wrench, the strap-wrench again.", &["7:21 strap wrench"]);
        case("", "Pump. Hold a torch to it.", &["7:17 torch"]);
        case("", "Torch, please: strap wrench next.", &["7:19 strap wrench"]);
        case_in("de", "", "Zange ansetzen.", &["7:4 Zange"]);
        case("tools: [torch]", "Look with the torches, turn with the Strap Wrench.", &["7:41 Strap Wrench"]);
        case("", "Screw in a new oil filter.", &["7:19 oil filter"]);
        case_in("de", "", "Einen neuen Ölfilter mit der Zange einsetzen.", &["7:16 Ölfilter", "7:33 Zange"]);
    }

    #[test]
    fn what_is_listed_and_what_is_only_looked_at_is_not() {
        case("tools: [strap-wrench]", "Turn it with the strap wrench.", &[]);
        case("tools: [big strap wrench]", "Turn it with the strap wrench.", &[]);
        case("tools: [strap-wrench]", "Look at the oil filter. {strap-wrench}", &[]);
        case("parts: [{item: oil-filter}]", "Screw in a new oil filter.", &[]);
        case("", "Take the strap, wrench it off. What is new: oil filter.", &[]);
        case("", "Look.\n\n   > CAUTION: A strap wrench crushes fingers. Keep them away.", &[]);
        case("", "Torch the old paint off. Then torch the rest.", &[]);
        // Without words for the language nobody can say what is new.
        case_in("fr", "", "Un new oil filter.", &[]);
    }
}
