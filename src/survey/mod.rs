//! Checks of a sound book: what a careful reader would point out, one rule a file.
//!
//! Loading says what is wrong, reckoning what does not add up; this says what should or could be
//! better. Only `garboard survey` tells it: no page and no due date depends on it.

mod alone;
mod bare_caution;
mod begun_too_early;
mod cut_at_a_comma;
mod explain;
mod falling_torque_stages;
mod figure_by_hand;
mod figure_never_used;
mod hazard_words;
mod interval_never_kept;
mod left_when_done;
mod long_step;
mod never_due;
mod never_proved;
mod never_used;
mod not_fetched;
mod notice_for_injury;
mod own_words;
mod phrases;
mod reading_never_taken;
mod received_not_checked;
mod received_revision;
#[cfg(test)]
mod small_book;
mod still_a_draft;
mod still_open;
#[cfg(test)]
mod testing;
mod vocabulary;
mod wait_without_mark;
mod work_without_guide;

pub use explain::{Explanation, explain, rule_names};

use crate::book::diagnostic::{Diagnostic, Notes};
use crate::book::model::{Book, Guide};
use crate::reckon::Reckoning;
use own_words::OwnWords;
use phrases::Language;
use rayon::prelude::*;
use std::collections::BTreeSet;

/// What a rule looks at.
struct Context<'b> {
    book: &'b Book,
    reckoning: &'b Reckoning<'b>,
    /// The language the book is in, where there are words for it.
    language: Option<Language>,
}

/// What is told of one guide by one rule.
type GuideCheck<'c> = Box<dyn Fn(&Guide, &OwnWords<'_>, &mut Notes<'_>) + Sync + 'c>;

/// How a rule looks at a book.
enum Check {
    /// At the whole of it.
    Book(fn(&Context<'_>) -> Vec<Diagnostic>),
    /// At one guide after the other, once it has made ready.
    Guides(for<'c> fn(&'c Context<'_>) -> GuideCheck<'c>),
}

/// One rule.
struct Rule {
    id: &'static str,
    /// Why it matters; what it means and how to mend it stands in the format reference.
    why: &'static str,
    check: Check,
}

/// All rules, in the order of the alphabet.
const RULES: [Rule; 23] = [
    alone::RULE,
    bare_caution::RULE,
    begun_too_early::RULE,
    cut_at_a_comma::RULE,
    falling_torque_stages::RULE,
    figure_by_hand::RULE,
    figure_never_used::RULE,
    hazard_words::RULE,
    interval_never_kept::RULE,
    left_when_done::RULE,
    long_step::RULE,
    never_due::RULE,
    never_proved::RULE,
    never_used::RULE,
    not_fetched::RULE,
    notice_for_injury::RULE,
    reading_never_taken::RULE,
    received_not_checked::RULE,
    received_revision::RULE,
    still_a_draft::RULE,
    still_open::RULE,
    wait_without_mark::RULE,
    work_without_guide::RULE,
];

/// What could be better in a book. `broken` are the files that hold errors: of those nothing is said,
/// for they are mended first.
#[must_use]
pub fn survey(book: &Book, reckoning: &Reckoning<'_>, broken: &BTreeSet<&str>) -> Vec<Diagnostic> {
    let context = Context { book, reckoning, language: Language::of(&book.boat.language) };
    let of_book = RULES.par_iter().flat_map_iter(|rule| match rule.check {
        Check::Book(check) => check(&context),
        Check::Guides(_) => Vec::new(),
    });
    let checks: Vec<GuideCheck<'_>> = RULES.iter().filter_map(|rule| rule.for_guides(&context)).collect();
    let sound = book.guides.par_iter().filter(|guide| !broken.contains(guide.source.path()));
    let of_guides = sound.flat_map_iter(|guide| in_guide(guide, &checks));
    of_book.filter(|problem| !broken.contains(problem.place.file.as_str())).chain(of_guides).collect()
}

impl Rule {
    /// The rule made ready for this book, if it looks at guides.
    fn for_guides<'c>(&self, context: &'c Context<'_>) -> Option<GuideCheck<'c>> {
        match self.check {
            Check::Guides(make_ready) => Some(make_ready(context)),
            Check::Book(_) => None,
        }
    }
}

/// What all rules tell of a guide. Its words are read once for all of them and then forgotten: those of a
/// large book would not fit into the memory of a small machine.
fn in_guide(guide: &Guide, checks: &[GuideCheck<'_>]) -> Vec<Diagnostic> {
    let words = OwnWords::of(guide);
    let mut found = Vec::new();
    for check in checks {
        let mut notes = Notes::new(&guide.source);
        check(guide, &words, &mut notes);
        found.append(&mut notes.found);
    }
    found
}
