//! Numbers that are the same on every run: `SplitMix64` (Steele, Lea, Flood 2014; in the public domain).

/// A stream of numbers of its own for each thing that is made, so that files can be made in any order.
#[derive(Debug, Clone)]
pub struct Random(u64);

impl Random {
    /// The stream of the `n`th thing of a kind.
    pub fn of(seed: u64, kind: &str, n: u64) -> Self {
        let kind = kind.bytes().fold(0xcbf2_9ce4_8422_2325_u64, |hash, byte| (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3));
        let mut all = Self(seed ^ kind);
        Self(all.next() ^ n.wrapping_mul(0xd1b5_4a32_d192_ed03))
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    /// A number below `limit`; 0 where that is 0.
    pub fn below(&mut self, limit: u64) -> u64 {
        self.next().checked_rem(limit).unwrap_or_default()
    }

    /// A number from `first` to `last`, both included.
    pub fn between(&mut self, first: u64, last: u64) -> u64 {
        first + self.below(last - first + 1)
    }

    /// True in so many of a hundred cases.
    pub fn chance(&mut self, percent: u64) -> bool {
        self.below(100) < percent
    }

    /// One of a list that is not empty.
    pub fn one<'a, T>(&mut self, list: &'a [T]) -> &'a T {
        &list[usize::try_from(self.below(list.len() as u64)).unwrap_or_default()]
    }

    /// So many different ones of a list, in its order.
    pub fn some<'a, T>(&mut self, list: &'a [T], count: u64) -> Vec<&'a T> {
        let mut left = count.min(list.len() as u64);
        let mut taken = Vec::new();
        for (passed, item) in list.iter().enumerate() {
            if self.below((list.len() - passed) as u64) < left {
                taken.push(item);
                left -= 1;
            }
        }
        taken
    }
}
