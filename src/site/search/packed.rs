//! The documents that have one word, held small while the index is made: a large book has millions of them.

use super::postings::Posting;

/// Documents in the order in which they came, as steps from one to the next. Documents are mostly added one after the
/// other, so that most steps, with the weight, take a byte.
#[derive(Debug)]
pub struct Packed {
    /// Most words of a book stand in one document: it takes no memory of its own.
    first: Posting,
    last: u32,
    steps: Vec<u8>,
}

impl Packed {
    #[must_use]
    pub fn new(first: Posting) -> Self {
        Self { first, last: first.place(), steps: Vec::new() }
    }

    pub fn push(&mut self, posting: Posting) {
        let step = i64::from(posting.place()) - i64::from(self.last);
        self.last = posting.place();
        // The sign last, so that a step back is as short as one ahead.
        let step = step.unsigned_abs() << 1 | u64::from(step < 0);
        let mut value = step << 2 | u64::from(posting.weight());
        // Seven bits a byte, the lowest first; all but the last are raised by 128.
        while value >= 128 {
            self.steps.push(value as u8 | 128);
            value >>= 7;
        }
        self.steps.push(value as u8);
    }

    /// Appends the documents to `all`.
    pub fn unpack(&self, all: &mut Vec<Posting>) {
        all.push(self.first);
        let mut place = i64::from(self.first.place());
        let (mut value, mut shift) = (0_u64, 0);
        for byte in &self.steps {
            value |= u64::from(byte & 127) << shift;
            shift += 7;
            if byte & 128 == 0 {
                let step = (value >> 3) as i64;
                place += if value >> 2 & 1 == 1 { -step } else { step };
                all.push(Posting::from_parts(place as u32, value as u32 & 3));
                (value, shift) = (0, 0);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::site::search::postings::Weight;

    fn packed(all: &[Posting]) -> Packed {
        let (first, rest) = all.split_first().expect("one at least");
        let mut packed = Packed::new(*first);
        rest.iter().for_each(|posting| packed.push(*posting));
        packed
    }

    #[test]
    fn documents_beside_each_other_take_a_byte_each() {
        let all: Vec<Posting> = (0..100).rev().map(|number| Posting::new(2, Weight::Text, 1_000_000 + number)).collect();
        assert_eq!(packed(&all).steps.len(), 99);
    }

    proptest::proptest! {
        #[test]
        fn what_is_packed_comes_back(all in proptest::collection::vec((0_u8..16, 0..4_usize, 0_u32..1 << 26), 1..60)) {
            let weights = [Weight::Title, Weight::Heading, Weight::Often, Weight::Text];
            let all: Vec<Posting> = all.into_iter().map(|(shelf, weight, number)| Posting::new(shelf, weights[weight], number)).collect();
            let mut back = Vec::new();
            packed(&all).unpack(&mut back);
            proptest::prop_assert_eq!(back, all);
        }
    }
}
