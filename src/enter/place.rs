//! Where an entry belongs in the log: the folder of its year, a name of its day and its work.

use crate::book::id::id_of;
use crate::book::model::Entry;

/// Longest that the work makes the name, in bytes: the day, the ending and a number follow.
const LONGEST: usize = 60;

/// A place in the log; `-2`, `-3` … is added to `stem` where it is taken.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Spot {
    /// `2026`.
    pub year: String,
    /// `2026-03-14-oil-and-filter`.
    pub stem: String,
}

impl Spot {
    /// The names to try in turn, `2026-03-14-oil`, `2026-03-14-oil-2` …
    pub fn names(&self) -> impl Iterator<Item = String> + Clone + '_ {
        self.numbered_from(1)
    }

    /// The names to try from this one of them on.
    pub fn names_from(&self, name: &str) -> impl Iterator<Item = String> + Clone + '_ {
        let number = name.strip_prefix(self.stem.as_str()).and_then(|rest| rest.strip_prefix('-')?.parse().ok());
        self.numbered_from(number.unwrap_or(1))
    }

    /// The names to try from the one with this number on; the first has none.
    pub fn numbered_from(&self, first: u32) -> impl Iterator<Item = String> + Clone + '_ {
        (first..).map(|number| if number == 1 { self.stem.clone() } else { format!("{}-{number}", self.stem) })
    }

    /// Path inside the book of an entry of this name.
    #[must_use]
    pub fn path(&self, name: &str) -> String {
        format!("log/{}/{name}.md", self.year)
    }
}

/// Where an entry belongs: by the day it was done (begun, while it is open) and by its first job,
/// else its first work, else `note`.
#[must_use]
pub fn spot_of(entry: &Entry) -> Spot {
    let day = entry.when.day();
    let job = entry.jobs.first().map(|job| id_of(&job.guide));
    let name = job.into_iter().chain(entry.work.first().map(|work| id_of(work))).find(|name| !name.is_empty());
    let name = name.unwrap_or_else(|| "note".to_owned());
    Spot { year: format!("{:04}", day.date.year()), stem: format!("{}-{}", day.known(), shortened(&name, LONGEST)) }
}

/// As many whole words of an id as fit into so many bytes.
#[must_use]
pub fn shortened(id: &str, longest: usize) -> &str {
    if id.len() <= longest {
        return id;
    }
    // An id is ASCII, so every byte is a boundary.
    let cut = id.get(..=longest).unwrap_or(id);
    match cut.rfind('-') {
        Some(at) if at > 0 => cut.get(..at).unwrap_or(cut),
        _ => id.get(..longest).unwrap_or(id),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::load::entry_of;
    use crate::book::source::Source;

    #[track_caller]
    fn case(front: &str, path: &str) {
        let (entry, found) = entry_of(&Source::new("log/2026/x.md", format!("---\n{front}\n---\n")));
        let spot = spot_of(&entry.unwrap_or_else(|| panic!("{found:?}")));
        assert_eq!(spot.path(&spot.stem), path, "for {front:?}");
    }

    #[test]
    fn the_day_and_the_work_make_the_name() {
        case("jobs: [oil-and-filter]\ndate: 2026-03-14", "log/2026/2026-03-14-oil-and-filter.md");
        case("jobs: [oil-and-filter/port-engine, anode]\ndate: 2026-03-14", "log/2026/2026-03-14-oil-and-filter.md");
        case("jobs: [Öl Wechsel]\ndate: 2026-03-14", "log/2026/2026-03-14-ol-wechsel.md");
        case("work: [Rewired the bow light]\ndate: 2026-03-14", "log/2026/2026-03-14-rewired-the-bow-light.md");
        case("meters: {engine: 1840}\ndate: 2026-03-14", "log/2026/2026-03-14-note.md");
        // A script without Latin letters makes no id.
        case("work: [Лодка]\ndate: 2026-03-14", "log/2026/2026-03-14-note.md");
        case("jobs: [oil]\nstarted: 2025-12-30\ndone: 2026-01-02", "log/2026/2026-01-02-oil.md");
        case("jobs: [oil]\nstarted: 2025-12-30", "log/2025/2025-12-30-oil.md");
        case("jobs: [oil]\ndate: ~2021-05", "log/2021/2021-05-oil.md");
        case("jobs: [oil]\ndate: ~2021", "log/2021/2021-oil.md");
        case("jobs: [oil]\ndate: ~2021-05-09", "log/2021/2021-05-09-oil.md");
        case("work: [../../etc/passwd]\ndate: 2026-03-14", "log/2026/2026-03-14-etc-passwd.md");
    }

    #[test]
    fn a_long_name_is_cut_between_words() {
        // 11 letters a word and a hyphen: five words make 5 × 12 − 1 = 59 letters, six too many.
        let work = "windlassing ".repeat(9);
        case(&format!("work: [{work}]\ndate: 2026-03-14"), &format!("log/2026/2026-03-14-{}.md", ["windlassing"; 5].join("-")));
        let word = "x".repeat(90);
        case(&format!("work: [{word}]\ndate: 2026-03-14"), &format!("log/2026/2026-03-14-{}.md", "x".repeat(60)));
    }

    #[test]
    fn names_that_are_taken_are_counted_on() {
        let spot = Spot { year: "2026".to_owned(), stem: "2026-03-14-oil".to_owned() };
        let names: Vec<String> = spot.names().take(3).collect();
        assert_eq!(names, ["2026-03-14-oil", "2026-03-14-oil-2", "2026-03-14-oil-3"]);
    }
}
