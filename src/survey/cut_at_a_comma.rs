//! A text in brackets that YAML cut in two at its comma.

use super::{Check, Context, Rule};
use crate::book::diagnostic::{Diagnostic, Notes};
use crate::book::front_matter;
use crate::book::node::{self, Kind, Node};
use crate::book::source::Source;
use rayon::prelude::*;

const ID: &str = "cut-at-a-comma";

pub(super) const RULE: Rule = Rule {
    id: ID,
    why: "In brackets a comma ends a text. `[Gloves, and never a ring]` is two items, and the second says half of what was meant: on \
          the page, and in the sheet that somebody works by.",
    check: Check::Book(check),
};

/// Lists of sentences; names of tools and ids are short, and stand in lists of their own.
const KEYS: [&str; 7] = ["conditions", "wear", "dispose", "safety", "work", "left", "except"];

/// What the second half of a sentence begins with, in small letters.
const BEGINNINGS: [&str; 11] = ["and", "or", "with", "then", "never", "but", "und", "oder", "mit", "dann", "nie"];

fn check(context: &Context<'_>) -> Vec<Diagnostic> {
    let guides = context.book.guides.par_iter().map(|guide| (&guide.source, guide.body.start));
    let entries = context.book.entries.par_iter().map(|entry| (&entry.source, entry.body.start));
    guides.chain(entries).filter(|(source, body)| may_be_cut(source, *body)).flat_map_iter(|(source, _)| of_file(source)).collect()
}

/// Whether it is worth reading the front matter once more: few files hold such words.
fn may_be_cut(source: &Source, body: u32) -> bool {
    let front = source.text().get(..body as usize).unwrap_or_default();
    front.match_indices(',').any(|(at, _)| is_half(front[at + 1..].trim_start()))
}

fn is_half(text: &str) -> bool {
    text.split_once(char::is_whitespace).is_some_and(|(word, _)| BEGINNINGS.contains(&word))
}

fn of_file(source: &Source) -> Vec<Diagnostic> {
    // What is wrong with the front matter itself was told when it was loaded.
    let mut reading = Notes::new(source);
    let root = front_matter::split(&mut reading).and_then(|parts| node::read(&mut reading, parts.yaml));
    let Some(Node { kind: Kind::Map(pairs), .. }) = root else { return Vec::new() };
    let mut notes = Notes::new(source);
    for (key, value) in &pairs {
        let Kind::List(items) = &value.kind else { continue };
        if !KEYS.contains(&&*key.text) {
            continue;
        }
        for pair in items.windows(2) {
            let [
                Node { kind: Kind::Scalar { text: before, plain: true }, span: one },
                Node { kind: Kind::Scalar { text, plain: true }, span },
            ] = pair
            else {
                continue;
            };
            let between = source.text().get(one.end as usize..span.start as usize).unwrap_or_default();
            if between.trim() == "," && is_half(text) {
                notes.advice(
                    ID,
                    *span,
                    format!("`{text}` is an item of its own here: in brackets a comma ends a text"),
                    format!("if it is one text, put the whole of it in quotes: `\"{before}, {text}\"`"),
                );
            }
        }
    }
    notes.found
}

#[cfg(test)]
mod tests {
    use super::ID;
    use crate::survey::small_book::{book, found, guide, places};

    #[track_caller]
    fn case(front: &str, expected: &[&str]) {
        assert_eq!(places(&found(ID, &guide(front, "1. Do it.\n"))), expected, "{front}");
    }

    #[test]
    fn half_a_sentence_is_told() {
        case("wear: [gloves, and never a ring]", &["3:16 and never a ring"]);
        case("dispose:\n  [old oil to the bank, with\n  its filter]", &["4:25 with"]);
        case("safety: [Ein Satz, und noch einer, nie allein]", &["3:20 und noch einer", "3:36 nie allein"]);
        let entry = "---\nwork: [Cleaned the tank, then filled it]\nstarted: 2020-02-01\nleft: [cock shut, but not locked]\n---\n";
        let found = found(ID, &book(&[("log/2020/2020-02-01-a.md", entry)]));
        assert_eq!(places(&found), ["2:26 then filled it", "4:19 but not locked"]);
        assert_eq!(found[0].remedy, "if it is one text, put the whole of it in quotes: `\"Cleaned the tank, then filled it\"`");
    }

    #[test]
    fn items_of_a_list_are_passed_over() {
        case("wear: [\"gloves, and never a ring\"]", &[]);
        case("wear: [gloves, 'and a hat']", &[]);
        case("wear:\n  - gloves,\n  - and a hat", &[]);
        case("wear: [gloves, android boots, Never a ring]", &[]);
        case("tools: [pump, or a bucket]", &[]);
        case("summary: Gloves, and never a ring", &[]);
    }
}
