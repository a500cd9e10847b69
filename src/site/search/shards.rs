//! Cuts a sorted list of words into files of bounded size.
//!
//! All that begin with the same letters are one file, as long as they fit; else they are cut by one more
//! letter, and small neighbours share a file. A word more or less moves no cut but, now and then, one near
//! it, so that a changed entry changes few files.

/// A file: from the first word that begins so or comes later, up to the next file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Shard {
    /// Beginning of its first word, as short as the cutting left it.
    pub start: String,
    pub range: std::ops::Range<usize>,
}

/// Cuts `keys`, sorted, of which each takes `sizes` bytes, into shards of at most `limit` bytes. One that
/// is larger by itself has a shard to itself.
#[must_use]
pub fn cut(keys: &[&str], sizes: &[usize], limit: usize) -> Vec<Shard> {
    let mut shards = Vec::new();
    if !keys.is_empty() {
        cut_range(keys, sizes, limit, 0..keys.len(), 0, &mut shards);
    }
    shards
}

/// `depth`: letters that all keys of the range share.
fn cut_range(keys: &[&str], sizes: &[usize], limit: usize, range: std::ops::Range<usize>, depth: usize, shards: &mut Vec<Shard>) {
    let total: usize = sizes.get(range.clone()).unwrap_or_default().iter().sum();
    if total <= limit || range.len() == 1 {
        push(keys, range, depth, shards);
        return;
    }
    let letter = |at: usize| keys.get(at).and_then(|key| key.chars().nth(depth));
    let mut open = range.start..range.start;
    let mut open_size = 0;
    let mut from = range.start;
    while from < range.end {
        let first = letter(from);
        let mut to = from + 1;
        while to < range.end && letter(to) == first {
            to += 1;
        }
        let size: usize = sizes.get(from..to).unwrap_or_default().iter().sum();
        if open_size + size > limit && !open.is_empty() {
            push(keys, open.clone(), depth + 1, shards);
            open = from..from;
            open_size = 0;
        }
        if size > limit {
            cut_range(keys, sizes, limit, from..to, depth + 1, shards);
            open = to..to;
        } else {
            open.end = to;
            open_size += size;
        }
        from = to;
    }
    if !open.is_empty() {
        push(keys, open, depth + 1, shards);
    }
}

fn push(keys: &[&str], range: std::ops::Range<usize>, letters: usize, shards: &mut Vec<Shard>) {
    let start = keys.get(range.start).map(|key| key.chars().take(letters).collect()).unwrap_or_default();
    shards.push(Shard { start, range });
}

/// A file name of a beginning: letters and digits as they are, all else by its UTF-16 numbers.
#[must_use]
pub fn name_of(start: &str) -> String {
    let mut name = String::with_capacity(start.len());
    for unit in start.encode_utf16() {
        match u8::try_from(unit) {
            Ok(byte) if byte.is_ascii_lowercase() || byte.is_ascii_digit() => name.push(char::from(byte)),
            _ => name.push_str(&format!("_{unit:x}")),
        }
    }
    name
}

#[cfg(test)]
mod tests {
    use super::*;

    fn starts(keys: &[&str], limit: usize) -> Vec<String> {
        let sizes: Vec<usize> = keys.iter().map(|key| key.len()).collect();
        let shards = cut(keys, &sizes, limit);
        // Whatever the cuts: every key once, in order, where a look-up by `start` finds it.
        let covered: Vec<usize> = shards.iter().flat_map(|shard| shard.range.clone()).collect();
        assert_eq!(covered, (0..keys.len()).collect::<Vec<_>>());
        for (at, key) in keys.iter().enumerate() {
            let found = shards.iter().rposition(|shard| shard.start.as_str() <= *key).expect("a shard");
            assert!(shards[found].range.contains(&at), "{key} is not in {:?}", shards[found]);
        }
        shards.into_iter().map(|shard| shard.start).collect()
    }

    #[test]
    fn words_are_cut_by_their_letters() {
        assert_eq!(starts(&["oil", "pump", "seal"], 100), [""]);
        assert_eq!(starts(&["oil", "pump", "seal"], 8), ["o", "s"]);
        assert_eq!(starts(&["pan", "pump", "pumps", "seal"], 10), ["pa", "pu", "s"]);
        assert_eq!(starts(&["oil", "oils", "oily"], 4), ["oil", "oils", "oily"]);
        assert_eq!(starts(&["одно", "船"], 3), ["о", "船"]);
        assert_eq!(starts(&[], 4), [""; 0]);
    }

    #[test]
    fn a_word_more_moves_few_cuts() {
        let words: Vec<String> = (0..4000_u32).map(|n| format!("{:x}", n.wrapping_mul(2_654_435_761))).collect();
        let mut keys: Vec<&str> = words.iter().map(String::as_str).collect();
        keys.sort_unstable();
        keys.dedup();
        let before = starts(&keys, 500);
        keys.insert(0, "00new");
        keys.sort_unstable();
        let after = starts(&keys, 500);
        let moved = after.iter().filter(|start| !before.contains(start)).count();
        assert!(before.len() > 60 && moved <= 3, "{moved} of {}", before.len());
    }

    #[test]
    fn names_are_fit_for_every_file_system() {
        assert_eq!(name_of("imp"), "imp");
        assert_eq!(name_of("7.5"), "7_2e5");
        assert_eq!(name_of("масл"), "_43c_430_441_43b");
        assert_eq!(name_of(""), "");
    }
}
