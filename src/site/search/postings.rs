//! The places of one word, as text that a script reads: which documents have it, and how prominently.
//!
//! A line is the word, a space, and a list for each kind of document and each weight that there is. A list
//! is a letter that says which, then the numbers, rising: as steps from one to the next, or, where they
//! lie close together, as one bit each. `search-index.js` of the theme reads what is written here.

/// How prominently a word stands in a document; the most prominent place counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Weight {
    /// In its title.
    Title,
    /// In the title of a stage.
    Heading,
    /// Three times or more.
    Often,
    Text,
}

impl Weight {
    const ALL: [Self; 4] = [Self::Title, Self::Heading, Self::Often, Self::Text];
}

/// One document that has a word. Sorted by weight, then shelf, then number.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Posting(u32);

/// Documents of one shelf; more than any book has.
const NUMBER_BITS: u32 = 26;
/// Shelves.
const SHELF_BITS: u32 = 4;
const PLACE_BITS: u32 = SHELF_BITS + NUMBER_BITS;

impl Posting {
    /// `shelf` below 16; `number` below 2^26.
    #[must_use]
    pub fn new(shelf: u8, weight: Weight, number: u32) -> Self {
        let place = u32::from(shelf & 15) << NUMBER_BITS | number & ((1 << NUMBER_BITS) - 1);
        Self((weight as u32) << PLACE_BITS | place)
    }

    /// From [`Self::place`] and [`Self::weight`].
    #[must_use]
    pub fn from_parts(place: u32, weight: u32) -> Self {
        Self(weight << PLACE_BITS | place & ((1 << PLACE_BITS) - 1))
    }

    /// Number of the document among those of all shelves: documents beside each other have numbers beside each other.
    #[must_use]
    pub fn place(self) -> u32 {
        self.0 & ((1 << PLACE_BITS) - 1)
    }

    /// Below 4.
    #[must_use]
    pub fn weight(self) -> u32 {
        self.0 >> PLACE_BITS
    }

    /// Which of the [`MARKERS`] opens its list.
    fn list(self) -> usize {
        (self.place() >> NUMBER_BITS) as usize * Weight::ALL.len() + self.weight() as usize
    }

    fn number(self) -> u32 {
        self.0 & ((1 << NUMBER_BITS) - 1)
    }
}

/// What opens the list of a shelf and a weight: four a shelf. None of them is a letter or a digit, and none
/// means anything in a script or in HTML.
pub const MARKERS: &str = "!#$%()*+,/:;";
/// Opens a list of bits, behind its marker.
const BITS: char = '=';
/// Opens the true count of a word whose lists were cut.
const CUT: char = '~';
/// 64 digits.
const DIGITS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";

fn digit(value: u32) -> char {
    char::from(DIGITS.get((value & 63) as usize).copied().unwrap_or(b'A'))
}

/// Digits that [`push_number`] writes.
fn digits(value: u32) -> usize {
    (32 - (value | 1).leading_zeros()).div_ceil(5) as usize
}

/// A number in digits of five bits, the lowest first; all but the last are raised by 32.
fn push_number(mut value: u32, out: &mut String) {
    while value >= 32 {
        out.push(digit(value & 31 | 32));
        value >>= 5;
    }
    out.push(digit(value));
}

/// Appends the lists of a word, of sorted documents, in at most `longest` bytes. Where they would be longer the least
/// prominent documents, and of these the first, are left out, and the true count is given.
pub fn push_lists(postings: &[Posting], longest: usize, out: &mut String) {
    let begin = out.len();
    let mut whole = true;
    // By weight first: what does not fit is the least that there is.
    for list in postings.chunk_by(|one, next| one.list() == next.list()) {
        let Some(marker) = list.first().and_then(|first| MARKERS.as_bytes().get(first.list())) else { continue };
        let mut kept = list;
        loop {
            let form = Form::of(kept);
            if out.len() - begin + form.length() < longest || kept.is_empty() {
                if !kept.is_empty() {
                    out.push(char::from(*marker));
                    form.push(kept, out);
                }
                break;
            }
            whole = false;
            kept = kept.get(kept.len().div_ceil(4)..).unwrap_or_default();
        }
    }
    if !whole {
        out.push(CUT);
        push_number(u32::try_from(postings.len()).unwrap_or(u32::MAX), out);
    }
}

/// How rising numbers are written, the shorter way, and in how many bytes.
enum Form {
    Steps { length: usize },
    Bits { sextets: usize, length: usize },
}

impl Form {
    fn of(list: &[Posting]) -> Self {
        let steps = steps(list).map(digits).sum();
        let (Some(first), Some(last)) = (list.first(), list.last()) else { return Self::Steps { length: steps } };
        let sextets = ((last.number() - first.number()) / 6 + 1) as usize;
        let bits = BITS.len_utf8() + digits(first.number()) + sextets;
        // For a byte or two it is not worth another form.
        if sextets + 4 >= steps || bits >= steps { Self::Steps { length: steps } } else { Self::Bits { sextets, length: bits } }
    }

    fn length(&self) -> usize {
        match self {
            Self::Steps { length } | Self::Bits { length, .. } => *length,
        }
    }

    fn push(&self, list: &[Posting], out: &mut String) {
        match self {
            Self::Steps { .. } => steps(list).for_each(|step| push_number(step, out)),
            Self::Bits { sextets, .. } => push_bits(list, *sextets, out),
        }
    }
}

/// From each number to the next, less one; the first from 0.
fn steps(list: &[Posting]) -> impl Iterator<Item = u32> {
    let mut next = 0;
    list.iter().map(move |posting| {
        let step = posting.number().saturating_sub(next);
        next = posting.number() + 1;
        step
    })
}

fn push_bits(list: &[Posting], sextets: usize, out: &mut String) {
    let first = list.first().map_or(0, |first| first.number());
    out.push(BITS);
    push_number(first, out);
    let mut bits = vec![0_u8; sextets];
    for posting in list {
        let at = posting.number() - first;
        if let Some(sextet) = bits.get_mut((at / 6) as usize) {
            *sextet |= 1 << (at % 6);
        }
    }
    out.extend(bits.into_iter().map(|bits| digit(u32::from(bits))));
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;

    /// Reads what [`lists`] writes: list and number, and the count where something was cut.
    pub fn read(text: &str) -> (Vec<(usize, u32)>, Option<u32>) {
        let value = |letter: u8| DIGITS.iter().position(|digit| *digit == letter).expect("a digit") as u32;
        let number = |rest: &mut std::iter::Peekable<std::str::Bytes<'_>>| {
            let mut sum = 0;
            for shift in (0..).step_by(5) {
                let digit = value(rest.next().expect("more digits"));
                sum |= (digit & 31) << shift;
                if digit < 32 {
                    break;
                }
            }
            sum
        };
        let mut found = Vec::new();
        let mut count = None;
        let mut rest = text.bytes().peekable();
        while let Some(marker) = rest.next() {
            if char::from(marker) == CUT {
                count = Some(number(&mut rest));
                continue;
            }
            let list = MARKERS.find(char::from(marker)).expect("a marker");
            let more = |rest: &mut std::iter::Peekable<std::str::Bytes<'_>>| {
                rest.peek().is_some_and(|next| next.is_ascii_alphanumeric() || b"-_".contains(next))
            };
            if rest.next_if_eq(&(BITS as u8)).is_some() {
                let mut at = number(&mut rest);
                while more(&mut rest) {
                    let bits = value(rest.next().expect("a digit"));
                    found.extend((0..6).filter(|bit| bits >> bit & 1 == 1).map(|bit| (list, at + bit)));
                    at += 6;
                }
            } else {
                let mut at = 0;
                while more(&mut rest) {
                    at += number(&mut rest);
                    found.push((list, at));
                    at += 1;
                }
            }
        }
        found.sort_unstable();
        (found, count)
    }

    fn lists(postings: &[Posting], longest: usize) -> String {
        let mut out = "word ".to_owned();
        push_lists(postings, longest, &mut out);
        out.split_off("word ".len())
    }

    fn postings(all: &[(u8, Weight, u32)]) -> Vec<Posting> {
        let mut all: Vec<Posting> = all.iter().map(|(shelf, weight, number)| Posting::new(*shelf, *weight, *number)).collect();
        all.sort_unstable();
        all
    }

    #[test]
    fn few_places_are_written_as_steps() {
        use Weight::*;
        assert_eq!(lists(&postings(&[(0, Title, 0)]), 100), "!A");
        assert_eq!(lists(&postings(&[(0, Text, 3), (0, Text, 4), (0, Text, 40)]), 100), "%DAjB");
        assert_eq!(lists(&postings(&[(1, Title, 2), (0, Heading, 1), (2, Often, 31)]), 100), "(C#B:f");
    }

    #[test]
    fn many_places_close_together_are_written_as_bits() {
        let every_other: Vec<_> = (0..3000).map(|n| (1, Weight::Text, 100 + n * 2)).collect();
        let text = lists(&postings(&every_other), 10_000);
        assert!(text.starts_with("+="), "{}", &text[..4]);
        // 6,000 numbers at six a digit, and a few digits before.
        assert!((1000..1010).contains(&text.len()), "{}", text.len());
        assert_eq!(read(&text).0, every_other.iter().map(|(_, _, number)| (7, *number)).collect::<Vec<_>>());
    }

    #[test]
    fn what_is_too_long_loses_the_least_prominent_and_oldest() {
        let mut all: Vec<_> = (0..500).map(|n| (1, Weight::Text, n * 37)).collect();
        all.extend((0..50).map(|n| (0, Weight::Title, n * 3)));
        let text = lists(&postings(&all), 400);
        assert!(text.len() <= 410, "{}", text.len());
        let (found, count) = read(&text);
        assert_eq!(count, Some(550));
        assert_eq!(found.iter().filter(|(list, _)| *list == 0).count(), 50, "all titles are kept");
        let kept: Vec<u32> = found.iter().filter(|(list, _)| *list == 7).map(|(_, number)| *number).collect();
        assert!(kept.len() > 50 && kept.last() == Some(&(499 * 37)), "and the last of the others: {}", kept.len());
    }

    proptest::proptest! {
        #[test]
        fn what_is_written_is_read(numbers in proptest::collection::btree_set(0_u32..5000, 1..400), shelf in 0_u8..3, dense in proptest::bool::ANY) {
            let numbers: Vec<u32> = if dense { numbers.iter().map(|n| n % 500).collect::<std::collections::BTreeSet<_>>().into_iter().collect() } else { numbers.into_iter().collect() };
            let all: Vec<_> = numbers.iter().map(|number| (shelf, Weight::Often, *number)).collect();
            let (found, count) = read(&lists(&postings(&all), 100_000));
            proptest::prop_assert_eq!(count, None);
            proptest::prop_assert_eq!(found, numbers.iter().map(|number| (usize::from(shelf) * 4 + 2, *number)).collect::<Vec<_>>());
        }
    }
}
