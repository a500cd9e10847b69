//! What a guide says in its own words, with every byte at its place in the source.
//!
//! Marks, code and pictures are blanked out, and cautions where they are not asked for, so that a
//! place found in the words is a place in the file. Words are compared without capitals, accents and
//! plural endings.

use crate::book::id::id_of;
use crate::book::markdown;
use crate::book::model::Guide;
use crate::book::source::Span;
use pulldown_cmark::{Event, Tag, TagEnd};
use std::ops::Range;

/// Whether the words of cautions count.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Cautions {
    In,
    Out,
}

/// The source of a guide with blanks for all that is not its own words: as long as the source.
pub(super) fn own_words(guide: &Guide, cautions: Cautions) -> String {
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
    if cautions == Cautions::Out {
        for caution in &outline.cautions {
            blank(&mut words, caution.span);
        }
    }
    // Only whole spans between character boundaries were copied or blanked.
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
pub(super) struct Word {
    /// See [`stem`].
    pub stem: String,
    pub span: Span,
    /// A comma, a full stop or a bracket stands between it and the word before.
    pub after_pause: bool,
}

/// The words of a stretch of a text, in order.
pub(super) fn words_in(text: &str, within: Span) -> Vec<Word> {
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
pub(super) fn stem(word: &str) -> String {
    let mut folded = id_of(word);
    if folded.is_empty() {
        return word.to_lowercase();
    }
    if let Some(owner) = folded.strip_suffix("-s") {
        folded.truncate(owner.len());
    }
    if folded.len() > 3 && folded.ends_with('s') && !folded.ends_with("ss") {
        folded.pop();
    }
    folded
}

/// The words by which a thing is known: of an id, or of a title up to its first comma or bracket.
pub(super) fn name_words(name: &str) -> Vec<String> {
    let head = name.split([',', '(', ';', ':']).next().unwrap_or_default();
    words_in(head, Span::new(0, head.len())).into_iter().map(|word| word.stem).collect()
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
        let words = own_words(guide, Cautions::Out);
        assert_eq!(words.len(), guide.source.text().len());
        assert_eq!(words.split_whitespace().collect::<Vec<_>>(), ["One", "Fit", "the", "belt.", "Type", "with", "care", "."]);
        assert_eq!(words.find("care"), guide.source.text().find("care"));
        assert!(own_words(guide, Cautions::In).contains("Stand clear."));
    }

    #[track_caller]
    fn case(text: &str, expected: &[&str]) {
        let stems: Vec<String> = words_in(text, Span::new(0, text.len())).into_iter().map(|word| word.stem).collect();
        assert_eq!(stems, expected);
    }

    #[test]
    fn words_are_compared_without_capitals_accents_and_plurals() {
        case("Two Spanners, the boat’s", &["two", "spanner", "the", "boat"]);
        case("Größe Gänge", &["grosse", "gange"]);
        case("glass brass gas", &["glass", "brass", "gas"]);
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
