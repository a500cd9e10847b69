//! The file of decisions beside a spreadsheet: which job name means which guide.
//!
//! `"Oil & filter chg": oil-and-filter` or, for work that no guide describes, `work`; several guides
//! stand with commas between them. What stands in the file is the crew's: lines are only added.

use super::CsvProblem;
use super::names::{Doubtful, one_line};
use crate::book::diagnostic::nearest;
use crate::book::model::Book;
use crate::book::quoted::quoted;
use std::collections::BTreeMap;

/// Most wrong guides for which the nearest is looked up.
const MOST_LOOKED_UP: usize = 50;

/// What a job name means.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Decision {
    /// Guides, each perhaps with `/` and the gear.
    Jobs(Vec<String>),
    /// Work that no guide describes.
    Work,
}

impl Decision {
    /// As the file has it.
    #[must_use]
    pub fn written(&self) -> String {
        match self {
            Self::Jobs(jobs) => jobs.join(", "),
            Self::Work => "work".to_owned(),
        }
    }
}

/// Reads the decisions that were made.
///
/// # Errors
/// No map of words to words, or a guide that the book does not have: all of them are named.
pub fn read_decisions(text: &str, book: &Book) -> Result<BTreeMap<String, Decision>, Vec<CsvProblem>> {
    let words = words_of(text).map_err(|problem| vec![problem])?;
    let mut problems = Vec::new();
    let mut decisions = BTreeMap::new();
    for (name, meaning) in words {
        let meaning = meaning.trim();
        if meaning == "work" {
            decisions.insert(one_line(&name), Decision::Work);
            continue;
        }
        let jobs: Vec<String> = meaning.split(',').map(|job| job.trim().to_owned()).collect();
        for job in &jobs {
            let guide = job.split_once('/').map_or(job.as_str(), |(guide, _)| guide);
            if book.guide_or_former(guide).is_none() {
                let ids = || book.guides.iter().map(|guide| guide.id.as_str());
                let near = if problems.len() < MOST_LOOKED_UP { nearest(guide, ids()) } else { None };
                let remedy = near.map_or_else(String::new, |near| format!("did you mean `{near}`; else "));
                problems.push(CsvProblem::new(
                    format!("`{name}`: there is no guide `{guide}`"),
                    format!("{remedy}write the id of a guide, or `work` for work that no guide describes"),
                ));
            }
        }
        decisions.insert(one_line(&name), Decision::Jobs(jobs));
    }
    if problems.is_empty() { Ok(decisions) } else { Err(problems) }
}

fn words_of(text: &str) -> Result<BTreeMap<String, String>, CsvProblem> {
    let lines = text.strip_prefix('\u{feff}').unwrap_or(text).lines();
    if lines.clone().all(|line| line.trim().is_empty() || line.trim_start().starts_with('#')) {
        return Ok(BTreeMap::new());
    }
    serde_yaml::from_str(text).map_err(|error| {
        let first = error.to_string().lines().next().unwrap_or_default().to_owned();
        CsvProblem::new(
            format!("the decisions cannot be read: {first}"),
            "write one line a name: `\"Oil change\": oil-and-filter`, the name in quotes",
        )
    })
}

/// The text of the file with lines for names that nobody has decided on. `text` is what the file
/// holds, empty where there is none; `table` is the name of the spreadsheet.
///
/// # Errors
/// Lines cannot be added to what the file holds, because of how it is written.
pub fn add_suggestions(text: &str, doubtful: &[Doubtful], table: &str) -> Result<String, CsvProblem> {
    let mut whole = text.to_owned();
    if text.trim().is_empty() {
        whole = format!(
            "# Job names of `{table}` that are not the id or title of a guide, and what each becomes:\n\
             # the id of a guide (`oil-and-filter`, or `seacocks/galley-drain` for one piece of gear; several with\n\
             # commas between them), or `work` for work that no guide describes. Change what is wrong.\n"
        );
    } else if !text.ends_with('\n') {
        whole.push('\n');
    }
    for one in doubtful {
        let rows = if one.rows == 1 { "1 row".to_owned() } else { format!("{} rows", one.rows) };
        let others = if one.others.is_empty() { String::new() } else { format!("; or perhaps {}", one.others.join(", ")) };
        let name = quoted(&one.name);
        whole.push_str(&format!("{name}: {}   # {rows}, from line {}{others}\n", one.suggestion.written(), one.line));
    }
    let (before, after) = (words_of(text)?, words_of(&whole));
    let kept = after.is_ok_and(|after| {
        after.len() == before.len() + doubtful.len() && before.iter().all(|(name, meaning)| after.get(name) == Some(meaning))
    });
    if kept {
        return Ok(whole);
    }
    Err(CsvProblem::new(
        "no lines can be added to the decisions as they are written",
        "write them as one line a name, each from the beginning of its line: `\"Oil change\": oil-and-filter`",
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn doubtful(name: &str, suggestion: Decision) -> Doubtful {
        Doubtful { name: name.to_owned(), suggestion, others: vec!["oil-level".to_owned()], line: 4, rows: 2 }
    }

    #[test]
    fn suggestions_are_added_and_nothing_is_changed() {
        let oil = Decision::Jobs(vec!["oil".to_owned()]);
        let first = add_suggestions("", &[doubtful("Oil & \"filter\": chg #1", oil)], "history.csv").expect("written");
        assert!(first.ends_with("\n\"Oil & \\\"filter\\\": chg #1\": oil   # 2 rows, from line 4; or perhaps oil-level\n"), "{first}");
        let mine = first.replace(": oil ", ": work ").replace("2 rows", "mine");
        let second = add_suggestions(mine.trim_end(), &[doubtful("Wash", Decision::Work)], "history.csv").expect("written");
        assert_eq!(second, format!("{mine}\"Wash\": work   # 2 rows, from line 4; or perhaps oil-level\n"));
        let words = words_of(&second).expect("reads");
        assert_eq!(words.get("Oil & \"filter\": chg #1").map(String::as_str), Some("work"));
    }

    #[test]
    fn what_is_no_list_of_decisions_is_told_of() {
        assert!(add_suggestions("{a: work}\n", &[doubtful("Wash", Decision::Work)], "x.csv").is_err());
        let book = Book::default();
        for text in ["- a\n", "a: [b]\n", "a: b: c\n", "a: oyl\n"] {
            assert!(read_decisions(text, &book).is_err(), "{text}");
        }
        assert_eq!(read_decisions("# nothing yet\n", &book), Ok(BTreeMap::new()));
        assert_eq!(read_decisions("a: work\n", &book).map(|all| all.len()), Ok(1));
    }
}
