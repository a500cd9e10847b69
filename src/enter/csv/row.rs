//! The entry that a row makes, and the line by which the row is known again.

use super::decisions::Decision;
use super::markdown::plain;
use super::names::one_line;
use super::table::Row;
use crate::book::quoted::quoted;
use crate::enter::front_lines::front_lines;

/// What the line begins with.
const OPENING: &str = "# row:";
/// Letters of a row's hash that are kept: 128 bits.
const LENGTH: usize = 32;

/// The hash in the line `# row: HASH` of the front matter, if there is one.
///
/// ```
/// let text = "---\n# row: 0123456789abcdef0123456789abcdef\ndate: 2026-11-24\n---\n";
/// assert_eq!(garboard::enter::csv::row_of(text), Some("0123456789abcdef0123456789abcdef"));
/// ```
#[must_use]
pub fn row_of(text: &str) -> Option<&str> {
    let hash = front_lines(text).find_map(|line| line.strip_prefix(OPENING))?.trim();
    (hash.len() == LENGTH && hash.bytes().all(|byte| byte.is_ascii_hexdigit())).then_some(hash)
}

/// What a row is known by: its words under the names of their columns, whatever separates them,
/// however they are encoded, and wherever the row stands.
#[must_use]
pub fn words_of(header: &[String], row: &Row) -> String {
    let mut words = String::new();
    for (at, cell) in row.cells.iter().enumerate().filter(|(_, cell)| !cell.is_empty()) {
        let name = header.get(at).map_or("", String::as_str);
        // No cell has these two: they part what would else run together.
        words.push_str(&format!("{name}\u{1f}{}\u{1e}", cell.replace("\r\n", "\n")));
    }
    words
}

/// The hash of these words; `count` tells rows with the same words apart, from 1.
#[must_use]
pub fn hash_of(words: &str, count: u32) -> String {
    let text = if count > 1 { format!("{words}{count}") } else { words.to_owned() };
    blake3::hash(text.as_bytes()).to_hex().chars().take(LENGTH).collect()
}

/// What a row says, each value as an entry writes it.
#[derive(Debug, Clone, Default)]
pub struct Values {
    pub date: String,
    pub jobs: Vec<String>,
    pub work: Vec<String>,
    /// Ids and values.
    pub meters: Vec<(String, String)>,
    pub time: Option<String>,
    pub cost: Option<String>,
    pub place: Option<String>,
    pub done_by: Option<&'static str>,
    pub by: Option<String>,
    /// Plain words.
    pub notes: Vec<String>,
}

impl Values {
    /// Adds what the job name means.
    pub fn add_job(&mut self, name: &str, meaning: &Decision) {
        match meaning {
            Decision::Jobs(jobs) => self.jobs.extend(jobs.iter().cloned()),
            Decision::Work => self.work.push(one_line(name)),
        }
    }

    /// The jobs, else the work, else what a plain note is called.
    #[must_use]
    pub fn what(&self) -> String {
        let all: Vec<&str> = self.jobs.iter().chain(&self.work).map(String::as_str).collect();
        if all.is_empty() { "note".to_owned() } else { all.join(", ") }
    }

    /// The row says nothing but its day.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.jobs.is_empty() && self.work.is_empty() && self.meters.is_empty() && self.notes.is_empty() && self.cost.is_none()
    }

    /// The text of the entry.
    #[must_use]
    pub fn text(&self, hash: &str) -> String {
        let mut text = format!("---\n{OPENING} {hash}\n");
        let mut line = |key: &str, value: &str| text.push_str(&format!("{key}: {value}\n"));
        if !self.jobs.is_empty() {
            line("jobs", &format!("[{}]", self.jobs.join(", ")));
        }
        if !self.work.is_empty() {
            let work: Vec<String> = self.work.iter().map(|work| quoted(work)).collect();
            line("work", &format!("[{}]", work.join(", ")));
        }
        line("date", &self.date);
        if !self.meters.is_empty() {
            let meters: Vec<String> = self.meters.iter().map(|(id, value)| format!("{id}: {value}")).collect();
            line("meters", &format!("{{{}}}", meters.join(", ")));
        }
        if let Some(time) = &self.time {
            line("time", time);
        }
        if let Some(cost) = &self.cost {
            line("costs", &format!("[{{what: {}, cost: {cost}}}]", quoted(&self.what())));
        }
        if let Some(hand) = self.done_by {
            line("done-by", hand);
        }
        if let Some(by) = &self.by {
            line("by", &quoted(&one_line(by)));
        }
        if let Some(place) = &self.place {
            line("place", &quoted(&one_line(place)));
        }
        text.push_str("---\n");
        let notes: Vec<String> = self.notes.iter().map(|notes| plain(notes)).collect();
        if !notes.is_empty() {
            text.push_str(&notes.join("\n\n"));
            text.push('\n');
        }
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_row_makes_an_entry() {
        let values = Values {
            date: "2026-03-14".to_owned(),
            jobs: vec!["oil".to_owned()],
            work: vec!["said \"#1\": done".to_owned()],
            meters: vec![("engine".to_owned(), "1840.5".to_owned())],
            time: Some("2 h".to_owned()),
            cost: Some("18.50 EUR".to_owned()),
            place: Some("Ansker".to_owned()),
            done_by: Some("yard"),
            by: Some("Tove".to_owned()),
            notes: vec!["- one".to_owned(), "two".to_owned()],
        };
        let expected = "---\n# row: 00000000000000000000000000000000\njobs: [oil]\nwork: [\"said \\\"#1\\\": done\"]\ndate: 2026-03-14\n\
                        meters: {engine: 1840.5}\ntime: 2 h\ncosts: [{what: \"oil, said \\\"#1\\\": done\", cost: 18.50 EUR}]\ndone-by: yard\n\
                        by: \"Tove\"\nplace: \"Ansker\"\n---\n\\- one\n\ntwo\n";
        let text = values.text(&"0".repeat(32));
        assert_eq!(text, expected);
        assert_eq!(row_of(&text), Some("0".repeat(32).as_str()));
        assert_eq!(row_of("---\n# row: xyz\n---\n"), None);
    }

    #[test]
    fn a_row_is_known_wherever_it_stands() {
        let header = ["Date".to_owned(), "Job".to_owned(), "New".to_owned()];
        let row = |line, cells: &[&str]| Row { line, cells: cells.iter().map(|cell| (*cell).to_owned()).collect() };
        let words = words_of(&header, &row(2, &["2026-03-14", "a\r\nb"]));
        assert_eq!(words, words_of(&header, &row(9, &["2026-03-14", "a\nb", ""])));
        assert_ne!(words, words_of(&header, &row(2, &["2026-03-14", "", "a\nb"])));
        assert_eq!(hash_of(&words, 1).len(), 32);
        assert_ne!(hash_of(&words, 1), hash_of(&words, 2));
    }
}
