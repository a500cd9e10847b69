//! Words and phrases in a text: whole words, any case, with the endings English and German give them.

use crate::book::markdown::options;
use crate::book::model::{Guide, Tool};
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
    words: Vec<(String, usize)>,
}

impl Text {
    /// Cuts a text into words; hyphens and apostrophes part them.
    pub fn new(text: &str) -> Self {
        let mut words = Vec::new();
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
                words.push((text.get(start..end).unwrap_or_default().to_lowercase(), start));
                begun = None;
            }
        }
        Self { words }
    }

    /// How many words there are.
    pub fn len(&self) -> usize {
        self.words.len()
    }

    /// The last word.
    pub fn last(&self) -> Option<&str> {
        self.words.last().map(|(word, _)| word.as_str())
    }

    /// Every phrase of a list that stands in the text: its number in the list, and where it begins. Takes time by
    /// the length of the text, whatever the length of the list.
    pub fn found<'t>(&'t self, phrases: &'t Phrases) -> impl Iterator<Item = (usize, usize)> + 't {
        let words = self.words.iter().enumerate();
        words.flat_map(move |(at, (word, place))| {
            let rest = self.words.get(at..).unwrap_or_default();
            let candidates = bases(word).into_iter().filter_map(|base| phrases.by_first_word.get(&base)).flatten();
            candidates.filter(move |(_, phrase)| phrase.begins(rest)).map(|(number, _)| (*number, *place))
        })
    }

    /// The first word.
    pub fn first(&self) -> Option<&str> {
        self.words.first().map(|(word, _)| word.as_str())
    }

    /// Whether any of the words is one of these, endings aside.
    pub fn has_any(&self, wanted: &[&str]) -> bool {
        self.words.iter().any(|(word, _)| wanted.iter().any(|wanted| same(word, wanted)))
    }

    /// Whether a word of `first` is followed, at most `reach` words on, by a word of `second`.
    pub fn has_near(&self, first: &[&str], second: &[&str], reach: usize) -> bool {
        self.words.iter().enumerate().any(|(at, (word, _))| {
            first.iter().any(|wanted| same(word, wanted))
                && self.words.iter().skip(at + 1).take(reach).any(|(word, _)| second.iter().any(|wanted| same(word, wanted)))
        })
    }
}

/// Words that stand one behind the other.
#[derive(Debug, Clone)]
struct Phrase {
    words: Vec<String>,
}

impl Phrase {
    fn begins(&self, text: &[(String, usize)]) -> bool {
        text.len() >= self.words.len() && text.iter().zip(&self.words).all(|((word, _), wanted)| same(word, wanted))
    }
}

/// A list of phrases, found by their first words.
#[derive(Debug, Clone, Default)]
pub struct Phrases {
    by_first_word: HashMap<String, Vec<(usize, Phrase)>>,
}

impl Phrases {
    /// Phrases as a person writes them; they are numbered from 0.
    pub fn new<'p>(phrases: impl IntoIterator<Item = &'p str>) -> Self {
        let mut by_first_word: HashMap<String, Vec<(usize, Phrase)>> = HashMap::new();
        for (number, phrase) in phrases.into_iter().enumerate() {
            let words: Vec<String> = Text::new(phrase).words.into_iter().map(|(word, _)| word).collect();
            if let Some(first) = words.first() {
                by_first_word.entry(first.clone()).or_default().push((number, Phrase { words }));
            }
        }
        Self { by_first_word }
    }
}

/// All that a word can be, its endings taken off: what `same` would say yes to.
fn bases(word: &str) -> Vec<String> {
    let without = ENDINGS.iter().filter_map(|ending| word.strip_suffix(ending)).filter(|base| base.len() >= TAKES_ENDINGS);
    let mut bases: Vec<String> = without.map(str::to_owned).collect();
    bases.extend(word.strip_suffix("ing").map(|stem| format!("{stem}e")).filter(|base| base.len() > TAKES_ENDINGS));
    bases.push(word.to_owned());
    bases.sort();
    bases.dedup();
    bases
}

fn same(word: &str, wanted: &str) -> bool {
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
/// and tools. Its cautions are not among them.
pub fn passages(guide: &Guide, tools: &[Tool]) -> Vec<Passage> {
    let mut texts = vec![Passage::new(&guide.title, guide.title_span)];
    texts.extend(guide.summary.as_deref().map(|summary| Passage::new(summary, guide.title_span)));
    texts.extend(guide.tools.iter().map(|tool| {
        let known = tools.iter().find(|known| known.id.value == tool.value);
        Passage::new(known.map_or(tool.value.as_str(), |known| known.title.as_str()), tool.span)
    }));
    texts.push(intro(guide));
    for stage in &guide.outline.stages {
        texts.push(Passage::new(&stage.title, stage.span));
        texts.extend(stage.steps.iter().map(|step| Passage::new(&step.words, step.span)));
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
    fn a_base_of_a_word_is_what_the_word_is_the_same_as() {
        for wanted in ["seacock", "close", "gas", "as", "pol", "über"] {
            for ending in ENDINGS.into_iter().chain([""]) {
                let word = format!("{wanted}{ending}");
                assert_eq!(bases(&word).iter().any(|base| base == wanted), same(&word, wanted), "{word}");
            }
        }
        assert!(bases("closing").contains(&"close".to_owned()) && same("closing", "close"));
        assert!(!bases("being").contains(&"be".to_owned()) && !same("being", "bee"));
    }

    #[test]
    fn a_word_near_another_is_found_within_reach() {
        let text = Text::new("Let the old oil run down and cool");
        assert!(text.has_near(&["let"], &["cool"], 7));
        assert!(!text.has_near(&["let"], &["cool"], 3));
        assert!(!text.has_near(&["cool"], &["let"], 9));
    }
}
