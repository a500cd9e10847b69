//! A book of one guide, and what a rule says of it.

use super::survey;
use crate::book::load::load;
use crate::reckon::reckon;
use std::collections::BTreeSet;
use std::fs;

/// Places, `line:column`, at which a rule finds something in a guide with this front matter (from
/// line 3 on, below the title) and body.
#[track_caller]
pub fn found(rule: &str, front: &str, body: &str) -> Vec<String> {
    let folder = tempfile::tempdir().expect("a folder");
    let write = |path: &str, text: &str| {
        let path = folder.path().join(path);
        fs::create_dir_all(path.parent().expect("a parent")).expect("a folder");
        fs::write(path, text).expect("a file");
    };
    write("boat.yaml", "name: Test\nsystems: [{id: hull, title: Hull}]\n");
    write("guides/hull/job.md", &format!("---\ntitle: The job\n{front}\n---\n{body}\n"));
    let loaded = load(folder.path()).expect("a book");
    let errors: Vec<_> = loaded.problems.iter().filter(|problem| problem.severity.word() == "error").collect();
    assert!(errors.is_empty(), "{errors:?}");
    let (reckoning, _) = reckon(&loaded.book, jiff::civil::date(2026, 6, 1));
    let found = survey(&loaded.book, &reckoning, &BTreeSet::new());
    found
        .into_iter()
        .filter(|problem| problem.rule == rule)
        .map(|problem| format!("{}:{}", problem.place.line, problem.place.column))
        .collect()
}
