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

/// One document that has a word. Sorted by shelf, then weight, then number.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Posting(u32);

/// Documents of one shelf; more than any book has.
const NUMBER_BITS: u32 = 26;

impl Posting {
    /// `shelf` below 16; `number` below 2^26.
    #[must_use]
    pub fn new(shelf: u8, weight: Weight, number: u32) -> Self {
        Self(u32::from(shelf & 15) << (NUMBER_BITS + 2) | (weight as u32) << NUMBER_BITS | number & ((1 << NUMBER_BITS) - 1))
    }

    fn list(self) -> usize {
        (self.0 >> NUMBER_BITS) as usize
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

/// A number in digits of five bits, the lowest first; all but the last are raised by 32.
fn push_number(mut value: u32, out: &mut String) {
    while value >= 32 {
        out.push(digit(value & 31 | 32));
        value >>= 5;
    }
    out.push(digit(value));
}

/// The lists of a word, at most `longest` bytes. Where they would be longer the least prominent documents,
/// and of these the first, are left out, and the true count is given.
#[must_use]
pub fn lists(postings: &[Posting], longest: usize) -> String {
    let mut out = String::new();
    let weights = Weight::ALL.len();
    let shelves = MARKERS.len() / weights;
    let mut all: Vec<(usize, Vec<u32>)> = Vec::new();
    for posting in postings {
        match all.last_mut() {
            Some((list, numbers)) if *list == posting.list() => numbers.push(posting.number()),
            _ => all.push((posting.list(), vec![posting.number()])),
        }
    }
    // By weight first: what does not fit is the least that there is.
    all.sort_by_key(|(list, _)| (list % weights, list / weights));
    let mut whole = true;
    for (list, numbers) in all.iter().filter(|(list, _)| list / weights < shelves) {
        let Some(marker) = MARKERS.chars().nth(*list) else { continue };
        let mut from = 0;
        loop {
            let kept = numbers.get(from..).unwrap_or_default();
            let text = list_of(kept);
            if out.len() + text.len() < longest || kept.is_empty() {
                if !kept.is_empty() {
                    out.push(marker);
                    out.push_str(&text);
                }
                break;
            }
            whole = false;
            from += kept.len().div_ceil(4);
        }
    }
    if !whole {
        out.push(CUT);
        push_number(u32::try_from(postings.len()).unwrap_or(u32::MAX), &mut out);
    }
    out
}

/// Rising numbers, the shorter way.
fn list_of(numbers: &[u32]) -> String {
    let mut steps = String::with_capacity(numbers.len() + 4);
    let mut next = 0;
    for number in numbers {
        push_number(number.saturating_sub(next), &mut steps);
        next = number + 1;
    }
    let (Some(first), Some(last)) = (numbers.first(), numbers.last()) else { return steps };
    let sextets = ((last - first) / 6 + 1) as usize;
    if sextets + 4 >= steps.len() {
        return steps;
    }
    let mut bits = vec![0_u32; sextets];
    for number in numbers {
        let at = number - first;
        if let Some(sextet) = bits.get_mut((at / 6) as usize) {
            *sextet |= 1 << (at % 6);
        }
    }
    let mut out = String::with_capacity(sextets + 4);
    out.push(BITS);
    push_number(*first, &mut out);
    out.extend(bits.into_iter().map(digit));
    if out.len() < steps.len() { out } else { steps }
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
