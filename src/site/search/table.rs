//! Lines by their keys, cut into files.

use super::index::File;
use super::shards::{Shard, cut, name_of};
use rayon::prelude::*;
use std::ops::Range;

/// Lines one behind the other.
#[derive(Debug, Default)]
pub struct Lines {
    /// With [`BETWEEN`] behind each.
    text: String,
    /// Where each ends, behind what parts it from the next.
    ends: Vec<usize>,
}

/// What stands between two lines of a file.
const BETWEEN: char = '|';

impl Lines {
    /// Adds the line that `write` appends to what is there.
    pub fn push(&mut self, write: impl FnOnce(&mut String)) {
        write(&mut self.text);
        self.text.push(BETWEEN);
        self.ends.push(self.text.len());
    }

    /// All of several behind each other; each goes as soon as it is copied.
    #[must_use]
    pub fn joined(all: Vec<Self>) -> Self {
        let mut joined = Self::default();
        joined.text.reserve_exact(all.iter().map(|lines| lines.text.len()).sum());
        joined.ends.reserve_exact(all.iter().map(|lines| lines.ends.len()).sum());
        for lines in all {
            let before = joined.text.len();
            joined.text.push_str(&lines.text);
            joined.ends.extend(lines.ends.iter().map(|end| before + end));
        }
        joined
    }

    /// Where a line begins: the end of the one before it.
    fn start(&self, line: usize) -> usize {
        line.checked_sub(1).and_then(|before| self.ends.get(before)).copied().unwrap_or_default()
    }

    fn sizes(&self) -> Vec<usize> {
        (0..self.ends.len()).map(|line| self.start(line + 1) - self.start(line)).collect()
    }

    /// Some lines, with what stands between them.
    fn stretch(&self, lines: Range<usize>) -> &str {
        let text = self.text.get(self.start(lines.start)..self.start(lines.end)).unwrap_or_default();
        text.strip_suffix(BETWEEN).unwrap_or(text)
    }
}

/// Lines in files of bounded size.
#[derive(Debug)]
pub struct Table {
    letter: char,
    lines: Lines,
    shards: Vec<Shard>,
}

impl Table {
    /// `keys`, sorted, are those of the lines; `letter` opens the names of the files, of which none holds more than
    /// `limit` bytes.
    #[must_use]
    pub fn new(letter: char, keys: &[&str], lines: Lines, limit: usize) -> Self {
        let shards = cut(keys, &lines.sizes(), limit);
        Self { letter, lines, shards }
    }

    /// Where each file begins.
    pub fn starts(&self) -> impl Iterator<Item = &str> {
        self.shards.iter().map(|shard| shard.start.as_str())
    }

    /// The files, each made when it is asked for.
    pub fn files(&self) -> impl IndexedParallelIterator<Item = File> {
        self.shards.par_iter().map(|shard| {
            let json = serde_json::to_string(self.lines.stretch(shard.range.clone())).unwrap_or_default();
            File { name: format!("{}-{}", self.letter, name_of(&shard.start)), json }
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn lines(all: &[&str]) -> Lines {
        let mut lines = Lines::default();
        all.iter().for_each(|line| lines.push(|out| out.push_str(line)));
        lines
    }

    #[test]
    fn lines_stand_in_the_files_of_their_keys() {
        let keys = ["oil", "pump", "seal"];
        let all = Lines::joined(vec![lines(&["oil A"]), Lines::default(), lines(&["pump B", "seal C"])]);
        let table = Table::new('t', &keys, all, 14);
        assert_eq!(table.starts().collect::<Vec<_>>(), ["o", "s"]);
        let files: Vec<(String, String)> = table.files().map(|file| (file.name, file.json)).collect();
        let expected = [("t-o", "\"oil A|pump B\""), ("t-s", "\"seal C\"")];
        assert_eq!(files, expected.map(|(name, json)| (name.to_owned(), json.to_owned())));
    }

    #[test]
    fn no_lines_need_no_file() {
        assert_eq!(Table::new('t', &[], Lines::default(), 14).files().count(), 0);
    }
}
