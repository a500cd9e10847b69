//! What a guide says in its own words, with every byte at its place in the source.
//!
//! Marks, code and pictures are blanked out, and cautions where they are not asked for, so that a
//! place found in the words is a place in the file. Words are compared without capitals, accents and
//! plural endings.

use crate::book::id::id_of;
use crate::book::markdown;
use crate::book::model::Guide;
use crate::book::outline::Step;
use crate::book::plain_steps::plain_steps;
use crate::book::source::Span;
use pulldown_cmark::{Event, Tag, TagEnd};
use std::borrow::Cow;
use std::cell::OnceCell;
use std::collections::HashMap;
use std::ops::Range;

/// Whether the words of cautions count.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Cautions {
    In,
    Out,
}

/// The own words of a guide, read when a rule first asks for them.
pub(super) struct OwnWords<'g> {
    guide: &'g Guide,
    with_cautions: OnceCell<String>,
    without_cautions: OnceCell<String>,
    steps: OnceCell<HashMap<Span, String>>,
}

impl<'g> OwnWords<'g> {
    pub fn of(guide: &'g Guide) -> Self {
        Self { guide, with_cautions: OnceCell::new(), without_cautions: OnceCell::new(), steps: OnceCell::new() }
    }

    /// The source of the guide with blanks for all that is not its own words: as long as the source.
    pub fn text(&self, cautions: Cautions) -> &str {
        let all = self.with_cautions.get_or_init(|| own_words(self.guide));
        match cautions {
            Cautions::In => all,
            Cautions::Out => self.without_cautions.get_or_init(|| without_cautions(self.guide, all)),
        }
    }

    /// The words of a step as they are read, without its marks, cautions and code: of no place in the source.
    pub fn of_step(&self, step: &Step) -> &str {
        let steps = self.steps.get_or_init(|| {
            let all = self.guide.outline.stages.iter().flat_map(|stage| &stage.steps);
            all.map(|step| step.span).zip(plain_steps(self.guide)).collect()
        });
        steps.get(&step.span).map(String::as_str).unwrap_or_default()
    }
}

fn own_words(guide: &Guide) -> String {
    let text = guide.source.text();
    let mut words = vec![b' '; text.len()];
    let mut skipping = 0_usize;
    for (event, range) in markdown::parse(text, guide.body) {
        match event {
            Event::Start(Tag::CodeBlock(_) | Tag::Image { .. } | Tag::HtmlBlock) => skipping += 1,
            Event::End(TagEnd::CodeBlock | TagEnd::Image | TagEnd::HtmlBlock) => skipping = skipping.saturating_sub(1),
            Event::Text(_) if skipping == 0 => copy(&mut words, text, range),
            _ => {}
        }
    }
    let outline = &guide.outline;
    let of_stages =
        outline.stages.iter().flat_map(|stage| stage.heading_marks.iter().chain(stage.steps.iter().flat_map(|step| &step.marks)));
    for mark in of_stages.chain(&outline.loose_marks) {
        blank(&mut words, mark.span);
    }
    // Only whole spans between character boundaries were copied or blanked.
    String::from_utf8(words).unwrap_or_default()
}

fn without_cautions(guide: &Guide, words: &str) -> String {
    let mut words = words.as_bytes().to_vec();
    for caution in &guide.outline.cautions {
        blank(&mut words, caution.span);
    }
    String::from_utf8(words).unwrap_or_default()
}

fn copy(words: &mut [u8], text: &str, range: Range<usize>) {
    if let (Some(to), Some(from)) = (words.get_mut(range.clone()), text.get(range)) {
        to.copy_from_slice(from.as_bytes());
    }
}

fn blank(words: &mut [u8], span: Span) {
    if let Some(part) = words.get_mut(span.range()) {
        part.fill(b' ');
    }
}

/// One word with its place in the text it was cut from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Word<'t> {
    /// See [`stem`].
    pub stem: Cow<'t, str>,
    pub span: Span,
    /// A comma, a full stop or a bracket stands between it and the word before.
    pub after_pause: bool,
}

/// The words of a stretch of a text, in order.
pub(super) fn words_in(text: &str, within: Span) -> Vec<Word<'_>> {
    let base = within.start as usize;
    let part = text.get(within.range()).unwrap_or_default();
    let mut words = Vec::new();
    let mut pause = false;
    let mut start = None;
    for (at, letter) in part.char_indices().chain(std::iter::once((part.len(), ' '))) {
        let in_word = letter.is_alphanumeric() || (letter == '\'' || letter == '’') && start.is_some();
        match (start, in_word) {
            (None, true) => start = Some(at),
            (Some(begin), false) => {
                words.push(Word { stem: stem(&part[begin..at]), span: Span::new(base + begin, base + at), after_pause: pause });
                pause = false;
                start = None;
            }
            _ => {}
        }
        pause |= !in_word && !letter.is_whitespace() && letter != '-';
    }
    words
}

/// A word for comparing: lower case, no accents, no plural `s`.
pub(super) fn stem(word: &str) -> Cow<'_, str> {
    if word.bytes().all(|byte| byte.is_ascii_lowercase() || byte.is_ascii_digit()) {
        return Cow::Borrowed(singular(word));
    }
    let folded = id_of(word);
    if folded.is_empty() {
        return Cow::Owned(word.to_lowercase());
    }
    Cow::Owned(singular(folded.strip_suffix("-s").unwrap_or(&folded)).to_owned())
}

fn singular(word: &str) -> &str {
    match word.strip_suffix('s') {
        Some(one) if one.len() > 2 && !one.ends_with('s') => one,
        _ => word,
    }
}

/// The words by which a thing is known: of an id, or of a title up to its first comma or bracket.
pub(super) fn name_words(name: &str) -> Vec<String> {
    let head = name.split([',', '(', ';', ':']).next().unwrap_or_default();
    words_in(head, Span::new(0, head.len())).into_iter().map(|word| word.stem.into_owned()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::survey::small_book::guide;

    #[test]
    fn only_the_own_words_of_a_guide_are_kept_each_at_its_place() {
        let text = "Fit the belt. {takes 5 min}\n\n   > WARNING: It bites. Stand clear.\n\n2. Type `25 Nm` with *care*.\n";
        let book = guide("", &format!("## One\n\n1. {text}"));
        let guide = &book.guides[0];
        let own = OwnWords::of(guide);
        let words = own.text(Cautions::Out);
        assert_eq!(words.len(), guide.source.text().len());
        assert_eq!(words.split_whitespace().collect::<Vec<_>>(), ["One", "Fit", "the", "belt.", "Type", "with", "care", "."]);
        assert_eq!(words.find("care"), guide.source.text().find("care"));
        assert!(own.text(Cautions::In).contains("Stand clear."));
    }

    #[track_caller]
    fn case(text: &str, expected: &[&str]) {
        let stems: Vec<Cow<'_, str>> = words_in(text, Span::new(0, text.len())).into_iter().map(|word| word.stem).collect();
        assert_eq!(stems, expected);
    }

    #[test]
    fn words_are_compared_without_capitals_accents_and_plurals() {
        case("Two Spanners, the boat’s", &["two", "spanner", "the", "boat"]);
        case("Größe Gänge", &["grosse", "gange"]);
        case("glass brass gas", &["glass", "brass", "gas"]);
        case("Glass GASES ss s boss's", &["glass", "gase", "ss", "s", "boss"]);
        case("насос", &["насос"]);
        case("", &[]);
    }

    #[test]
    fn a_thing_is_known_by_what_stands_before_the_comma() {
        assert_eq!(name_words("Torque wrench, 10 to 60 N·m"), ["torque", "wrench"]);
        assert_eq!(name_words("gland-spanners"), ["gland", "spanner"]);
        assert_eq!(name_words("Gland spanners (pair)"), ["gland", "spanner"]);
    }
}
