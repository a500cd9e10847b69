//! Words and phrases in a text: whole words, any case, with the endings English and German give them.

use super::own_words::OwnWords;
use crate::book::markdown::options;
use crate::book::model::Guide;
use crate::book::source::Span;
use pulldown_cmark::{Event, Parser, Tag, TagEnd};
use std::collections::HashMap;

/// A language that the rules about words know.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Language {
    English,
    German,
}

impl Language {
    /// The language of a tag such as `en` or `de-AT`.
    pub fn of(tag: &str) -> Option<Self> {
        let primary = tag.split(['-', '_']).next().unwrap_or_default();
        match primary.to_lowercase().as_str() {
            "en" => Some(Self::English),
            "de" => Some(Self::German),
            _ => None,
        }
    }
}

/// Endings that leave a word the same word.
const ENDINGS: [&str; 8] = ["s", "es", "ed", "d", "ing", "en", "e", "n"];

/// Bytes of the shortest word that takes endings: `gases` is of `gas`, but `ashes` is not of `as`.
const TAKES_ENDINGS: usize = 3;

/// A text as words in small letters, each with its place in the text.
#[derive(Debug, Clone, Default)]
pub struct Text {
    /// All words, one behind the other.
    letters: String,
    words: Vec<Cut>,
}

/// One word of a text.
#[derive(Debug, Clone, Copy)]
struct Cut {
    /// Where it stands in `letters`.
    start: usize,
    end: usize,
    /// Where it stands in the text.
    place: usize,
}

impl Text {
    /// Cuts a text into words; hyphens and apostrophes part them.
    pub fn new(text: &str) -> Self {
        let mut cut = Self { letters: String::with_capacity(text.len()), words: Vec::new() };
        let mut begun: Option<usize> = None;
        let mut letters = text.char_indices().peekable();
        while let Some((at, letter)) = letters.next() {
            if !letter.is_alphanumeric() {
                continue;
            }
            let start = *begun.get_or_insert(at);
            let goes_on = letters.peek().is_some_and(|(_, next)| next.is_alphanumeric());
            if !goes_on {
                let end = at + letter.len_utf8();
                cut.add(text.get(start..end).unwrap_or_default(), start);
                begun = None;
            }
        }
        cut
    }

    fn add(&mut self, word: &str, place: usize) {
        let start = self.letters.len();
        if word.is_ascii() {
            self.letters.extend(word.bytes().map(|byte| char::from(byte.to_ascii_lowercase())));
        } else {
            self.letters.push_str(&word.to_lowercase());
        }
        self.words.push(Cut { start, end: self.letters.len(), place });
    }

    fn letters_of(&self, word: &Cut) -> &str {
        self.letters.get(word.start..word.end).unwrap_or_default()
    }

    /// The words from the one at `from` on.
    fn words_from(&self, from: usize) -> impl Iterator<Item = &str> {
        self.words.get(from..).unwrap_or_default().iter().map(|word| self.letters_of(word))
    }

    /// How many words there are.
    pub fn len(&self) -> usize {
        self.words.len()
    }

    /// The last word.
    pub fn last(&self) -> Option<&str> {
        self.words.last().map(|word| self.letters_of(word))
    }

    /// Every phrase of a list that stands in the text: its number in the list, and where it begins. Takes time by
    /// the length of the text, whatever the length of the list.
    pub fn found<'t>(&'t self, phrases: &'t Phrases) -> impl Iterator<Item = (usize, usize)> + 't {
        let words = self.words.iter().enumerate();
        words.flat_map(move |(at, word)| {
            let candidates = phrases.that_may_begin(self.letters_of(word)).iter();
            candidates.filter(move |phrase| phrase.begins(self, at)).map(|phrase| (phrase.number, word.place))
        })
    }

    /// The first word.
    pub fn first(&self) -> Option<&str> {
        self.words.first().map(|word| self.letters_of(word))
    }

    /// Whether any of the words is one of these, endings aside.
    pub fn has_any(&self, wanted: &[&str]) -> bool {
        self.words_from(0).any(|word| wanted.iter().any(|wanted| same(word, wanted)))
    }

    /// Whether a word of `first` is followed, at most `reach` words on, by a word of `second`.
    pub fn has_near(&self, first: &[&str], second: &[&str], reach: usize) -> bool {
        self.has_near_but_behind(&[], first, second, reach)
    }

    /// As [`Text::has_near`], words of `first` passed over that stand right behind one of `behind`.
    pub fn has_near_but_behind(&self, behind: &[&str], first: &[&str], second: &[&str], reach: usize) -> bool {
        let is_behind = |at: usize| {
            let before = at.checked_sub(1).and_then(|before| self.words.get(before));
            before.is_some_and(|before| behind.contains(&self.letters_of(before)))
        };
        self.words_from(0).enumerate().any(|(at, word)| {
            first.iter().any(|wanted| same(word, wanted))
                && !is_behind(at)
                && self.words_from(at + 1).take(reach).any(|word| second.iter().any(|wanted| same(word, wanted)))
        })
    }
}

/// Words that stand one behind the other.
#[derive(Debug, Clone)]
struct Phrase {
    /// Its number in the list.
    number: usize,
    words: Vec<String>,
}

impl Phrase {
    /// Whether the words of a text from the one at `from` on are this phrase.
    fn begins(&self, text: &Text, from: usize) -> bool {
        let mut words = text.words_from(from);
        self.words.iter().all(|wanted| words.next().is_some_and(|word| same(word, wanted)))
    }
}

/// A list of phrases, found by how their first words begin.
#[derive(Debug, Clone, Default)]
pub struct Phrases {
    by_beginning: HashMap<[u8; TAKES_ENDINGS], Vec<Phrase>>,
}

/// The first bytes of a word, noughts behind a shorter one: words that are the same endings aside have
/// the same, for only from so many bytes on they take any.
fn beginning(word: &str) -> [u8; TAKES_ENDINGS] {
    let mut beginning = [0; TAKES_ENDINGS];
    for (to, from) in beginning.iter_mut().zip(word.bytes()) {
        *to = from;
    }
    beginning
}

impl Phrases {
    /// Phrases as a person writes them; they are numbered from 0.
    pub fn new<'p>(phrases: impl IntoIterator<Item = &'p str>) -> Self {
        let mut by_beginning: HashMap<[u8; TAKES_ENDINGS], Vec<Phrase>> = HashMap::new();
        for (number, phrase) in phrases.into_iter().enumerate() {
            let words: Vec<String> = Text::new(phrase).words_from(0).map(str::to_owned).collect();
            if let Some(first) = words.first() {
                by_beginning.entry(beginning(first)).or_default().push(Phrase { number, words });
            }
        }
        #[expect(clippy::iter_over_hash_type, reason = "each list is sorted by itself")]
        for phrases in by_beginning.values_mut() {
            phrases.sort_by(|a, b| a.words.first().cmp(&b.words.first()).then(a.number.cmp(&b.number)));
        }
        Self { by_beginning }
    }

    /// The phrases whose first word may be the same as this one: in the order of their first words, and
    /// of the list.
    fn that_may_begin(&self, word: &str) -> &[Phrase] {
        self.by_beginning.get(&beginning(word)).map_or(&[], Vec::as_slice)
    }
}

/// Whether a word is the wanted one, endings aside.
fn same(word: &str, wanted: &str) -> bool {
    // Most are told apart by their first letter.
    if word.as_bytes().first() != wanted.as_bytes().first() {
        return false;
    }
    match word.strip_prefix(wanted) {
        Some("") => true,
        Some(ending) => wanted.len() >= TAKES_ENDINGS && ENDINGS.contains(&ending),
        // `close` gives `closing`, `seize` gives `seized`.
        None => wanted
            .strip_suffix('e')
            .and_then(|stem| word.strip_prefix(stem))
            .is_some_and(|ending| wanted.len() > TAKES_ENDINGS && ending == "ing"),
    }
}

/// A text of a guide, and where it stands.
pub struct Passage {
    pub text: Text,
    span: Span,
    /// Places in the text are bytes from the beginning of the span.
    exact: bool,
}

impl Passage {
    fn new(text: &str, span: Span) -> Self {
        Self { text: Text::new(text), span, exact: false }
    }

    /// Where a word of the text stands in the file, as well as that is known.
    pub fn place(&self, at: usize) -> Span {
        if self.exact { Span::new(self.span.start as usize + at, self.span.end as usize) } else { self.span }
    }
}

/// The texts of a guide that say what is done in it: title, summary, what stands above the steps, stages, steps
/// and tools, of which `tools` has the titles by their ids. Its cautions are not among them.
pub fn passages(guide: &Guide, words: &OwnWords<'_>, tools: &HashMap<&str, &str>) -> Vec<Passage> {
    let mut texts = vec![Passage::new(&guide.title, guide.title_span)];
    texts.extend(guide.summary.as_deref().map(|summary| Passage::new(summary, guide.title_span)));
    texts.extend(guide.tools.iter().map(|tool| {
        let title = tools.get(tool.value.as_str()).copied();
        Passage::new(title.unwrap_or(&tool.value), tool.span)
    }));
    texts.push(intro(guide));
    for stage in &guide.outline.stages {
        texts.push(Passage::new(&stage.title, stage.span));
        texts.extend(stage.steps.iter().map(|step| Passage::new(words.of_step(step), step.span)));
    }
    texts
}

/// What stands above the first stage, without cautions, code and the targets of links.
fn intro(guide: &Guide) -> Passage {
    let end = guide.outline.stages.first().map_or(guide.body.end, |stage| stage.span.start);
    let span = Span::new(guide.body.start as usize, end.max(guide.body.start) as usize);
    let written = guide.source.slice(span);
    // Blanks as long as the text, with its plain words where they stand.
    let mut plain = vec![b' '; written.len()];
    let mut passed_over = 0_usize;
    for (event, range) in Parser::new_ext(written, options()).into_offset_iter() {
        match event {
            Event::Start(Tag::BlockQuote(_) | Tag::CodeBlock(_)) => passed_over += 1,
            Event::End(TagEnd::BlockQuote(_) | TagEnd::CodeBlock) => passed_over = passed_over.saturating_sub(1),
            Event::Text(words) if passed_over == 0 => {
                if let Some(place) = plain.get_mut(range).filter(|place| place.len() == words.len()) {
                    place.copy_from_slice(words.as_bytes());
                }
            }
            _ => {}
        }
    }
    Passage { text: Text::new(&String::from_utf8_lossy(&plain)), span, exact: true }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn found(text: &str, phrase: &str) -> bool {
        Text::new(text).found(&Phrases::new([phrase])).next().is_some()
    }

    #[test]
    fn whole_words_with_their_endings_are_found() {
        for (text, phrase, expected) in [
            ("Shut the seacocks.", "seacock", true),
            ("Shut the seacock", "Seacock", true),
            ("Before closing it", "close", true),
            ("A gasket", "gas", false),
            ("Degas it", "gas", false),
            ("the bosun's chair", "bosun’s chair", true),
            ("a chair of the bosun", "bosun's chair", false),
            ("Fuel-filter", "fuel filter", true),
            ("", "gas", false),
            ("gas", "", false),
        ] {
            assert_eq!(found(text, phrase), expected, "{phrase} in {text}");
        }
    }

    #[test]
    fn a_phrase_is_found_by_any_word_that_is_the_same_as_its_first() {
        for wanted in ["seacock", "close", "gas", "as", "pol", "über", "öl", "a"] {
            for ending in ENDINGS.into_iter().chain([""]) {
                for word in [format!("{wanted}{ending}"), format!("{}{ending}", wanted.trim_end_matches('e'))] {
                    assert_eq!(found(&word, wanted), same(&word, wanted), "{word}");
                }
            }
        }
        assert!(found("closing", "close") && same("closing", "close"));
        assert!(!found("being", "bee") && !same("being", "bee"));
    }

    #[test]
    fn phrases_of_one_place_come_by_their_first_words_and_then_as_listed() {
        let phrases = Phrases::new(["closing", "close the valve", "valve", "close"]);
        let text = Text::new("Closing the valve");
        assert_eq!(text.found(&phrases).collect::<Vec<_>>(), [(1, 0), (3, 0), (0, 0), (2, 12)]);
    }

    #[test]
    fn a_word_near_another_is_found_within_reach() {
        let text = Text::new("Let the old oil run down and cool");
        assert!(text.has_near(&["let"], &["cool"], 7));
        assert!(!text.has_near(&["let"], &["cool"], 3));
        assert!(!text.has_near(&["cool"], &["let"], 9));
    }
}
