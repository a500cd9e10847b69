//! Numbers for texts: each text is held once, and found by its hash.
//!
//! All texts stand in one piece of memory, so that hundreds of thousands of short ones take little more room than their
//! letters. They come from the crew's own book or from a theme: a quick hash will do.

/// Texts with their numbers, from 0 in the order in which they came.
#[derive(Debug, Clone, Default)]
pub struct Interner {
    letters: String,
    /// Where each text ends.
    ends: Vec<u32>,
    /// Where a text is looked for by its hash, and behind it; at most three of four are taken.
    slots: Vec<Slot>,
}

/// The upper half of a hash, and the number of its text, raised by one; 0: free.
#[derive(Debug, Clone, Copy, Default)]
struct Slot {
    hash: u32,
    number: u32,
}

/// Slots of the smallest table.
const FEWEST: usize = 16;

impl Interner {
    /// How many texts there are.
    #[must_use]
    pub fn len(&self) -> usize {
        self.ends.len()
    }

    /// The number of a text, which is taken in where it is new.
    pub fn number(&mut self, text: &str) -> usize {
        if self.slots.len() * 3 <= self.ends.len() * 4 {
            self.grow();
        }
        let hash = hash_of(text.as_bytes());
        let at = match self.find(text, hash) {
            Ok(number) => return number,
            Err(at) => at,
        };
        let number = self.ends.len();
        self.letters.push_str(text);
        self.ends.push(narrow(self.letters.len()));
        if let Some(slot) = self.slots.get_mut(at) {
            *slot = Slot { hash: upper(hash), number: narrow(number + 1) };
        }
        number
    }

    /// The number of a text that was taken in.
    #[must_use]
    pub fn get(&self, text: &str) -> Option<usize> {
        self.find(text, hash_of(text.as_bytes())).ok()
    }

    /// The text of a number; none has an unknown one.
    #[must_use]
    pub fn text(&self, number: usize) -> &str {
        let from = number.checked_sub(1).and_then(|before| self.ends.get(before)).copied().unwrap_or_default();
        let to = self.ends.get(number).copied().unwrap_or(from);
        self.letters.get(from as usize..to as usize).unwrap_or_default()
    }

    /// All texts, by their numbers.
    pub fn texts(&self) -> impl ExactSizeIterator<Item = &str> {
        (0..self.len()).map(|number| self.text(number))
    }

    /// The number of a text, or the slot that it would take.
    fn find(&self, text: &str, hash: u64) -> Result<usize, usize> {
        let mut at = self.home(hash);
        loop {
            match self.slots.get(at) {
                Some(Slot { number: 0, .. }) | None => return Err(at),
                Some(slot) if slot.hash == upper(hash) && self.text(slot.number as usize - 1) == text => {
                    return Ok(slot.number as usize - 1);
                }
                Some(_) => at = (at + 1) & (self.slots.len() - 1),
            }
        }
    }

    /// Where the search for a hash begins. The number of slots is a power of two.
    fn home(&self, hash: u64) -> usize {
        // The lower bits: the upper ones tell texts with the same home apart.
        hash as usize & self.slots.len().saturating_sub(1)
    }

    fn grow(&mut self) {
        let size = (self.slots.len() * 2).max(FEWEST);
        self.slots = vec![Slot::default(); size];
        for number in 0..self.len() {
            let hash = hash_of(self.text(number).as_bytes());
            let mut at = self.home(hash);
            while let Some(Slot { number: 1.., .. }) = self.slots.get(at) {
                at = (at + 1) & (size - 1);
            }
            if let Some(slot) = self.slots.get_mut(at) {
                *slot = Slot { hash: upper(hash), number: narrow(number + 1) };
            }
        }
    }
}

/// Letters and texts stay far below four thousand million.
fn narrow(number: usize) -> u32 {
    u32::try_from(number).unwrap_or(u32::MAX)
}

fn upper(hash: u64) -> u32 {
    (hash >> 32) as u32
}

/// Eight bytes at a time, as `rustc` does it for its own tables.
fn hash_of(bytes: &[u8]) -> u64 {
    const FACTOR: u64 = 0x517c_c1b7_2722_0a95;
    let step = |hash: u64, piece: u64| (hash.rotate_left(5) ^ piece).wrapping_mul(FACTOR);
    let (pieces, rest) = bytes.as_chunks::<8>();
    let mut hash = pieces.iter().fold(bytes.len() as u64, |hash, piece| step(hash, u64::from_le_bytes(*piece)));
    if !rest.is_empty() {
        hash = step(hash, rest.iter().rev().fold(0, |piece, byte| piece << 8 | u64::from(*byte)));
    }
    // A product is mixed best in its upper bits.
    hash ^ hash >> 32
}

#[cfg(test)]
mod tests {
    use super::Interner;
    use std::collections::HashMap;

    #[test]
    fn a_text_has_the_same_number_whenever_it_comes() {
        let mut texts = Interner::default();
        assert_eq!((texts.get(""), texts.text(0), texts.len()), (None, "", 0));
        assert_eq!(["oil", "pump", "oil", "", "pump"].map(|text| texts.number(text)), [0, 1, 0, 2, 1]);
        assert_eq!(texts.texts().collect::<Vec<_>>(), ["oil", "pump", ""]);
        assert_eq!((texts.get("pump"), texts.get("pumps"), texts.get("")), (Some(1), None, Some(2)));
    }

    proptest::proptest! {
        #[test]
        fn it_agrees_with_a_map(words in proptest::collection::vec("[a-c]{0,5}|\\PC{0,20}", 0..200)) {
            let mut texts = Interner::default();
            let mut map = HashMap::new();
            for word in &words {
                let next = map.len();
                let expected = *map.entry(word.as_str()).or_insert(next);
                proptest::prop_assert_eq!(texts.number(word), expected);
            }
            proptest::prop_assert_eq!(texts.len(), map.len());
            #[expect(clippy::iter_over_hash_type, reason = "all of them hold, in any order")]
            for (word, number) in map {
                proptest::prop_assert_eq!(texts.get(word), Some(number));
                proptest::prop_assert_eq!(texts.text(number), word);
            }
        }
    }
}
