//! Which known name a mistyped one is nearest to, found without comparing it with every one.
//!
//! Comparing two names takes the product of their lengths, so what cannot be near is passed over first: names that
//! are longer or shorter by more than may be wrong, and names that have too many other letters.

use std::borrow::Cow;
use std::collections::BTreeMap;

/// Names as long as a paragraph are no typing slips.
const LONGEST: usize = 200;
/// How many names are passed over in the time that it takes to compare one.
const COMPARING: u64 = 50;

/// A name in small letters, with what is soon compared.
#[derive(Debug)]
struct Letters<'n> {
    lower: Cow<'n, str>,
    length: usize,
    /// A bit for each letter that is in it. Different letters may share one, so that names look nearer than they are.
    bits: u64,
}

impl<'n> Letters<'n> {
    fn of(name: &'n str) -> Self {
        let small = |byte: u8| byte.is_ascii() && !byte.is_ascii_uppercase();
        let lower = if name.bytes().all(small) { Cow::Borrowed(name) } else { Cow::Owned(name.to_lowercase()) };
        let (mut length, mut bits) = (0, 0);
        for letter in lower.chars() {
            length += 1;
            bits |= 1_u64 << (u32::from(letter) % 64);
        }
        Self { lower, length, bits }
    }

    /// Whether so many slips could make one of the other: a slip takes out one letter and puts in another at most.
    fn may_be_within(&self, other: &Letters<'_>, slips: usize) -> bool {
        let lacking = |one: u64, other: u64| (one & !other).count_ones() as usize;
        self.length.abs_diff(other.length) <= slips && lacking(self.bits, other.bits).max(lacking(other.bits, self.bits)) <= slips
    }
}

/// A mistyped name on the search for the one that was meant.
struct Search<'t, 'n> {
    typed: Letters<'t>,
    /// The most slips that a better name may have.
    reach: usize,
    best: Option<(usize, &'n str)>,
    work: u64,
}

impl<'t, 'n> Search<'t, 'n> {
    /// `None`: what was typed is no name at all.
    fn of(typed: &'t str) -> Option<Self> {
        if typed.len() > LONGEST {
            return None;
        }
        let reach = (typed.chars().count() / 3).max(1);
        Some(Self { typed: Letters::of(typed), reach, best: None, work: 0 })
    }

    fn try_name(&mut self, name: &'n str, letters: &Letters<'n>) {
        self.work += 1;
        if !self.typed.may_be_within(letters, self.reach) {
            return;
        }
        self.work += COMPARING;
        let distance = strsim::osa_distance(&self.typed.lower, &letters.lower);
        if distance <= self.reach && self.best.is_none_or(|best| (distance, name) < best) {
            self.best = Some((distance, name));
            self.reach = distance;
        }
    }
}

/// The known name nearest to what was typed, if one is near enough to be meant. For one look among few names; see
/// [`Known`].
#[must_use]
pub fn nearest<'n>(typed: &str, known: impl IntoIterator<Item = &'n str>) -> Option<&'n str> {
    let mut search = Search::of(typed)?;
    known.into_iter().for_each(|name| search.try_name(name, &Letters::of(name)));
    search.best.map(|(_, name)| name)
}

/// Known names, made ready for looking many up.
#[derive(Debug)]
pub struct Known<'n> {
    by_length: BTreeMap<usize, Vec<(&'n str, Letters<'n>)>>,
}

impl<'n> Known<'n> {
    #[must_use]
    pub fn of(names: impl IntoIterator<Item = &'n str>) -> Self {
        let mut by_length: BTreeMap<usize, Vec<(&'n str, Letters<'n>)>> = BTreeMap::new();
        for name in names {
            let letters = Letters::of(name);
            by_length.entry(letters.length).or_default().push((name, letters));
        }
        Self { by_length }
    }

    /// As [`nearest`], with how much work it was.
    #[must_use]
    pub fn nearest(&self, typed: &str) -> (Option<&'n str>, u64) {
        self.search(typed).map_or((None, 0), |search| (search.best.map(|(_, name)| name), search.work))
    }

    /// From names of the same length outward, for each near name that is found brings the others nearer.
    fn search<'t>(&self, typed: &'t str) -> Option<Search<'t, 'n>> {
        let mut search = Search::of(typed)?;
        let length = search.typed.length;
        let mut off = 0;
        while off <= search.reach {
            let longer = Some(length + off);
            let shorter = if off == 0 { None } else { length.checked_sub(off) };
            for (name, letters) in [longer, shorter].into_iter().flatten().filter_map(|length| self.by_length.get(&length)).flatten() {
                search.try_name(name, letters);
            }
            off += 1;
        }
        Some(search)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Every name compared with every other, as the words above have it.
    fn by_hand<'n>(typed: &str, known: &[&'n str]) -> Option<&'n str> {
        let reach = (typed.chars().count() / 3).max(1);
        let distances = known.iter().map(|name| (strsim::osa_distance(&typed.to_lowercase(), &name.to_lowercase()), *name));
        distances.filter(|(distance, _)| *distance <= reach).min().map(|(_, name)| name)
    }

    #[test]
    fn a_few_of_many_names_are_compared() {
        let names: Vec<String> =
            (0..20_000).map(|number| format!("{}-{number:05}", ["filter", "impeller", "belt", "anode"][number % 4])).collect();
        let known = Known::of(names.iter().map(String::as_str));
        // Another length, or a paragraph: nothing is looked at.
        for typed in ["a-name-that-is-longer-than-any-other-in-the-stores-by-far", &"filter ".repeat(40)] {
            assert_eq!(known.nearest(typed), (None, 0), "{typed}");
        }
        // Other letters: names are passed over, and none is compared.
        assert_eq!(known.nearest("qqqqqqqqqqqq"), (None, 20_000));
        // One slip: one in ten is compared, and none with a length that is further off than the nearest name.
        let search = known.search("fitler-00400").expect("a name");
        assert_eq!(search.best, Some((1, "filter-00400")));
        assert!(search.work < 2_000 * COMPARING, "{}", search.work);
    }

    proptest! {
        #[test]
        fn the_same_name_is_found_as_by_comparing_all(typed in "[abAÄ-]{0,9}", known in proptest::collection::vec("[abBä-]{0,9}", 0..12)) {
            let known: Vec<&str> = known.iter().map(String::as_str).collect();
            let expected = by_hand(&typed, &known);
            prop_assert_eq!(nearest(&typed, known.iter().copied()), expected);
            prop_assert_eq!(Known::of(known.iter().copied()).nearest(&typed).0, expected);
        }
    }
}
