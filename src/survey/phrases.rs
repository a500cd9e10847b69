//! Words and phrases in a text: whole words, any case, with the endings English and German give them.

use crate::book::model::Guide;
use crate::book::source::Span;

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

/// Shortest word that takes endings: `gas` is no `gases`, but `as` is no `ashes`.
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

    /// The words that are at least so many letters long.
    pub fn telling(&self, letters: usize) -> Vec<String> {
        self.words.iter().map(|(word, _)| word).filter(|word| word.chars().count() >= letters).cloned().collect()
    }

    /// Where a phrase stands first.
    pub fn find(&self, phrase: &Phrase) -> Option<usize> {
        let length = phrase.words.len();
        if length == 0 {
            return None;
        }
        let fits = |window: &[(String, usize)]| window.iter().zip(&phrase.words).all(|((word, _), wanted)| same(word, wanted));
        self.words.windows(length).find(|window| fits(window)).and_then(|window| window.first()).map(|(_, at)| *at)
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
pub struct Phrase {
    words: Vec<String>,
}

impl Phrase {
    /// A phrase as a person writes it.
    pub fn new(text: &str) -> Self {
        Self { words: Text::new(text).words.into_iter().map(|(word, _)| word).collect() }
    }
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

/// The texts of a guide that say what is done in it, with where they stand.
pub fn texts(guide: &Guide) -> Vec<(Text, Span)> {
    let mut texts = vec![(Text::new(&guide.title), guide.title_span)];
    texts.extend(guide.summary.as_deref().map(|summary| (Text::new(summary), guide.title_span)));
    let steps = guide.outline.stages.iter().flat_map(|stage| {
        let title = (Text::new(&stage.title), stage.span);
        std::iter::once(title).chain(stage.steps.iter().map(|step| (Text::new(&step.words), step.span)))
    });
    texts.extend(steps);
    texts
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn found(text: &str, phrase: &str) -> bool {
        Text::new(text).find(&Phrase::new(phrase)).is_some()
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
    fn a_word_near_another_is_found_within_reach() {
        let text = Text::new("Let the old oil run down and cool");
        assert!(text.has_near(&["let"], &["cool"], 7));
        assert!(!text.has_near(&["let"], &["cool"], 3));
        assert!(!text.has_near(&["cool"], &["let"], 9));
    }
}
