//! What can be found: a document with its places, and how it is written into the files of the index.

use crate::site::escape;

/// What a document is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    Guide,
    Store,
    Tool,
    Gear,
    Entry,
}

impl Kind {
    /// In the order of the numbers in the files, which is the order of documents that fit equally well.
    pub const ALL: [Self; 5] = [Self::Guide, Self::Store, Self::Tool, Self::Gear, Self::Entry];

    /// Key of its word.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Guide => "guide",
            Self::Store => "store",
            Self::Tool => "tool",
            Self::Gear => "gear",
            Self::Entry => "entry",
        }
    }

    /// The shelf it stands on.
    #[must_use]
    pub fn shelf(self) -> Shelf {
        match self {
            Self::Guide => Shelf::Guides,
            Self::Store | Self::Tool | Self::Gear => Shelf::Things,
            Self::Entry => Shelf::Entries,
        }
    }
}

/// Documents with numbers of their own, so that a new entry moves no number of a guide.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Shelf {
    Guides,
    Things,
    Entries,
}

impl Shelf {
    pub const ALL: [Self; 3] = [Self::Guides, Self::Things, Self::Entries];

    /// First letter of the files that hold its texts.
    #[must_use]
    pub fn letter(self) -> char {
        match self {
            Self::Guides => 'g',
            Self::Things => 'o',
            Self::Entries => 'e',
        }
    }

    /// Documents whose texts share a file.
    #[must_use]
    pub fn a_file(self) -> u32 {
        match self {
            // Most of what is shown of a guide is its steps: one guide is as long as twenty entries.
            Self::Guides => 1,
            Self::Things | Self::Entries => 20,
        }
    }
}

/// A place in a document that can be linked to.
#[derive(Debug, Clone, Default)]
pub struct Place {
    /// What it is called: `Drain, step 3`; empty: the document itself.
    pub label: String,
    /// Fragment on the page of the document; empty: where the document begins.
    pub fragment: String,
    /// The label is a heading, the title of a stage: it is searched, and counts for more than text.
    pub heading: bool,
    pub text: String,
}

/// A page, or a part of one, that can be found.
#[derive(Debug, Clone)]
pub struct Document {
    pub kind: Kind,
    /// Number on its shelf; later ones are shown first where two fit equally well.
    pub number: u32,
    pub title: String,
    /// From the top of the site.
    pub href: String,
    /// Said behind the title: the system of a guide, the day of an entry.
    pub detail: String,
    pub places: Vec<Place>,
}

/// Lengths to which the texts of places are cut until the document fits, in bytes.
const CUTS: [usize; 8] = [4000, 2000, 1000, 600, 400, 250, 150, 80];

impl Document {
    /// As JSON, at most `longest` bytes: `[kind,title,href,detail,[[label,fragment,text,heading],…]]`, heading
    /// 0 or 1. Long texts are cut; all words were indexed all the same.
    #[must_use]
    pub fn line(&self, longest: usize) -> String {
        let kind = Kind::ALL.iter().position(|kind| *kind == self.kind).unwrap_or_default();
        let title = cut(&self.title, 160);
        let detail = cut(&self.detail, 80);
        let line = |length: usize, places: usize| {
            let places: Vec<(&str, &str, &str, u8)> = self
                .places
                .iter()
                .take(places)
                .map(|place| (cut(&place.label, 100), place.fragment.as_str(), cut(&place.text, length), u8::from(place.heading)))
                .collect();
            escape::script_json(serde_json::to_string(&(kind, title, &self.href, detail, places)).unwrap_or_default())
        };
        let mut places = self.places.len();
        loop {
            for length in CUTS {
                let line = line(length, places);
                if line.len() <= longest || (places == 0 && length == CUTS[CUTS.len() - 1]) {
                    return line;
                }
            }
            places /= 2;
        }
    }
}

/// The beginning of a text, at most so many bytes, ending with a whole word where it can.
fn cut(text: &str, longest: usize) -> &str {
    if text.len() <= longest {
        return text;
    }
    let mut end = longest;
    while !text.is_char_boundary(end) {
        end -= 1;
    }
    let kept = text.get(..end).unwrap_or_default();
    match kept.rfind(' ') {
        Some(space) if space > longest / 2 => kept.get(..space).unwrap_or(kept),
        _ => kept,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn guide(steps: usize, words: &str) -> Document {
        let place = |n: usize| Place {
            label: format!("Work, {n}"),
            fragment: format!("s-work--{n}"),
            heading: false,
            text: format!("{n} {}", words.repeat(40)),
        };
        Document {
            kind: Kind::Guide,
            number: 0,
            title: "A job".to_owned(),
            href: "guides/a-job.html".to_owned(),
            detail: "Engine".to_owned(),
            places: (1..=steps).map(place).collect(),
        }
    }

    #[test]
    fn a_document_is_one_line_of_json() {
        let mut one = guide(0, "");
        one.title = "</script><!-- \"x\"".to_owned();
        one.places.push(Place { label: "Work, 1".to_owned(), fragment: "s-work--1".to_owned(), heading: false, text: "Do it.".to_owned() });
        let line = one.line(1000);
        assert_eq!(
            line,
            "[0,\"\\u003c/script>\\u003c!-- \\\"x\\\"\",\"guides/a-job.html\",\"Engine\",[[\"Work, 1\",\"s-work--1\",\"Do it.\",0]]]"
        );
        assert!(serde_json::from_str::<serde_json::Value>(&line).is_ok());
    }

    #[test]
    fn a_long_document_is_cut_evenly() {
        let line = guide(60, "öl und wasser ").line(9000);
        assert!((6000..=9000).contains(&line.len()), "{}", line.len());
        let value: serde_json::Value = serde_json::from_str(&line).expect("JSON");
        assert_eq!(value[4].as_array().map(Vec::len), Some(60), "every step is there");
        // So many steps that not even their beginnings fit.
        let line = guide(5000, "x ").line(9000);
        assert!(line.len() <= 9000, "{}", line.len());
    }

    #[test]
    fn text_is_cut_between_words_and_letters() {
        assert_eq!(cut("one two three", 9), "one two");
        assert_eq!(cut("onetwothree", 5), "onetw");
        assert_eq!(cut("ööö", 3), "ö");
        assert_eq!(cut("short", 9), "short");
    }
}
