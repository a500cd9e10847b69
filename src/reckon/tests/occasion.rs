//! What an occasion calls for.

use crate::book::model::Grade;
use crate::reckon::reckon;
use crate::reckon::testing::{Writing, book, day, entry, guide};

#[test]
fn its_jobs_by_urgency_and_what_is_to_be_put_right_before_it() {
    let book = book()
        .guide(guide("anodes").occasion("haul-out"))
        .guide(guide("antifouling").occasion("haul-out").every("calendar: 12 months"))
        .guide(guide("winterise").occasion("lay-up"))
        .entry(entry("2024-05-01-antifouling").job("antifouling"))
        .entry(entry("2026-01-01-look").finds("Weep", Grade::Watch).before("haul-out"))
        .entry(entry("2026-01-02-look").finds("Weep", Grade::Act).before("haul-out"))
        .entry(entry("2026-01-03-look").finds("Weep", Grade::Act).before("lay-up"));
    let (reckoning, _) = reckon(&book, day("2026-06-01"));
    let called = |id: &str| {
        let called = reckoning.for_occasion(id);
        let jobs: Vec<&str> = called.jobs_by_urgency().iter().map(|job| job.guide.id.as_str()).collect();
        let defects: Vec<&str> = called.defects.iter().map(|defect| defect.entry.id.as_str()).collect();
        (jobs.join(" "), defects.join(" "))
    };
    // In the book anodes come first. Antifouling was due on 2025-05-01, anodes on occasion only; a finding to act on comes before one to watch.
    assert_eq!(called("haul-out"), ("antifouling anodes".to_owned(), "2026-01-02-look 2026-01-01-look".to_owned()));
    assert_eq!(called("lay-up"), ("winterise".to_owned(), "2026-01-03-look".to_owned()));
    assert_eq!(called("fitting-out"), (String::new(), String::new()));
}
