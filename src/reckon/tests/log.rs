//! What else the log says: as of when, defects, open work, times and readings.

use crate::book::model::{Book, Entry, Grade};
use crate::reckon::testing::{Writing, book, day, entry, gear, guide, told};
use crate::reckon::{Reckoning, reckon};

#[test]
fn what_is_later_is_left_out_and_told_of() {
    let book = book()
        .row("2026-01-01,engine,10")
        .row("2026-09-01,engine,99")
        .entry(entry("2026-02-01-a"))
        .entry(entry("2026-05-01-b open"))
        .entry(entry("2026-03-01-c done 2026-04-02"))
        .entry(entry("2026-03-01-d open"));
    let (reckoning, problems) = reckon(&book, day("2026-04-01"));
    let ids = |entries: &[&crate::book::model::Entry]| -> Vec<String> { entries.iter().map(|entry| entry.id.clone()).collect() };
    assert_eq!(ids(&reckoning.entries), ["2026-02-01-a", "2026-03-01-d"]);
    assert_eq!(ids(&reckoning.open), ["2026-03-01-d"]);
    assert_eq!(reckoning.left_out, 3);
    assert_eq!(
        told(&problems),
        [
            "warning log/2026-03-01-c.md:2 later-than-on: `2026-04-02` is later than 2026-04-01, so this entry is left out",
            "warning log/2026-05-01-b.md:2 later-than-on: `2026-05-01` is later than 2026-04-01, so this entry is left out",
            "warning meters.csv:3 later-than-on: `2026-09-01` is later than 2026-04-01, so this reading is left out",
        ]
    );
    assert_eq!(reckoning.meter("engine").map(|meter| meter.readings.len()), Some(1));
}

#[test]
fn a_past_date_does_not_see_what_was_done_later() {
    let book =
        book().entry(entry("2026-02-01-check").finds("weep", Grade::Act)).entry(entry("2026-03-01-mend").clears("2026-02-01-check", 1));
    let (before, _) = reckon(&book, day("2026-02-28"));
    assert_eq!((before.defects.len(), before.cleared.len()), (1, 0));
    let (after, _) = reckon(&book, day("2026-03-01"));
    assert_eq!((after.defects.len(), after.cleared.len()), (0, 1));
}

#[test]
fn a_defect_stays_until_an_entry_clears_it() {
    let book = book()
        .entry(entry("2026-01-01-rig").finds("chafe", Grade::Watch).finds("sound", Grade::Good).finds("cracked", Grade::Act))
        .entry(entry("2026-02-01-rig").finds("rust", Grade::Watch).finds("loose", Grade::Act))
        // Looked at again and not mentioned, or cleared with a number that is not there.
        .entry(entry("2026-03-01-rig").job("rig").clears("2026-01-01-rig", 9))
        .entry(entry("2026-04-01-mend").clears("2026-02-01-rig", 1).clears("gone", 1));
    let (reckoning, problems) = reckon(&book, day("2026-06-01"));
    let defects: Vec<String> = reckoning
        .defects
        .iter()
        .map(|defect| {
            let finding = defect.finding().expect("a finding");
            format!("{} {}", defect.reference().unwrap_or_default(), finding.what)
        })
        .collect();
    assert_eq!(defects, ["2026-01-01-rig/3 cracked", "2026-02-01-rig/2 loose", "2026-01-01-rig/1 chafe"]);
    let cleared: Vec<String> = reckoning.cleared.iter().map(|cleared| format!("{} by {}", cleared.finding.what, cleared.by.id)).collect();
    assert_eq!(cleared, ["rust by 2026-04-01-mend"]);
    assert_eq!(told(&problems), [] as [&str; 0]);
}

#[test]
fn only_finished_work_that_came_later_puts_right() {
    let found = || entry("2026-03-01-rig").finds("cracked", Grade::Act);
    let by = |clearing: &[&str]| {
        let book = clearing.iter().fold(book().entry(found()), |book, name| book.entry(entry(name).clears("2026-03-01-rig", 1)));
        let (reckoning, _) = reckon(&book, day("2026-06-01"));
        reckoning.cleared.iter().map(|cleared| cleared.by.id.clone()).collect::<Vec<_>>()
    };
    // One that is dated before the finding hides no later one.
    assert_eq!(by(&["2026-02-01-mend", "2026-04-01-mend"]), ["2026-04-01-mend"]);
    assert_eq!(by(&["2026-02-01-mend"]), [] as [&str; 0]);
    // Begun is not done.
    assert_eq!(by(&["2026-04-01-mend open"]), [] as [&str; 0]);
    assert_eq!(by(&["2026-04-01-mend done 2026-05-01"]), ["2026-04-01-mend"]);
}

#[test]
fn what_is_left_open_says_how_the_boat_was_left() {
    let book = book()
        .entry(entry("2026-01-01-a open").leaves("start key out"))
        .entry(entry("2026-01-02-b open"))
        .entry(entry("2026-01-03-c").leaves("forgotten line of a finished job"));
    let (reckoning, _) = reckon(&book, day("2026-06-01"));
    let left: Vec<&str> = reckoning.left().map(|entry| entry.id.as_str()).collect();
    assert_eq!(left, ["2026-01-01-a"]);
}

#[test]
fn times_are_those_of_entries_about_one_finished_job() {
    let book = book()
        .gear(gear("port"))
        .gear(gear("starboard"))
        .guide(guide("oil").formerly("engine-oil"))
        .guide(guide("belt").for_gear("port").for_gear("starboard"))
        .entry(entry("2026-01-01-a").job("oil").takes("2 h 40 min"))
        .entry(entry("2026-02-01-b").job("engine-oil").takes("1 h 30 min"))
        .entry(entry("2026-03-01-c").job("oil").takes("2 h"))
        .entry(entry("2026-04-01-two-jobs").job("oil").job("belt").takes("9 h"))
        .entry(entry("2026-05-01-unfinished open").job("oil").takes("9 h"))
        .entry(entry("2026-05-02-both-engines").job("belt").takes("9 h"))
        .entry(entry("2026-05-04-more-work").job("belt/port").takes("9 h").works("Painted the mount"))
        .entry(entry("2026-05-03-port").job("belt/port").takes("25 min"));
    let (reckoning, _) = reckon(&book, day("2026-06-01"));
    let times = reckoning.times.get("oil").expect("times");
    let minutes = |value: &crate::quantity::Exact| value.to_string();
    // Sorted 90, 120, 160: by type 7 the quartiles lie halfway, at 105 and 140.
    assert_eq!(times.count, 3);
    assert_eq!(minutes(&times.median), "120");
    assert_eq!(minutes(&times.lower_quartile), "105");
    assert_eq!(minutes(&times.upper_quartile), "140");
    assert_eq!((minutes(&times.shortest), minutes(&times.longest)), ("90".to_owned(), "160".to_owned()));
    assert_eq!((minutes(&times.last), times.last_entry.id.as_str()), ("120".to_owned(), "2026-03-01-c"));
    assert_eq!(reckoning.times.get("belt").map(|times| times.count), Some(1));
}

fn readings(reckoning: &Reckoning<'_>, guide: &str) -> Vec<String> {
    let histories = reckoning.readings_of(guide).iter();
    histories
        .map(|history| {
            let mut line = history.spec.id.clone();
            for word in [history.point, history.gear.map(|gear| gear.id.value.as_str())].into_iter().flatten() {
                line.push_str(&format!(" {word}"));
            }
            for value in &history.values {
                let sign = if value.outside { "!" } else { "" };
                line.push_str(&format!(", {}{sign}", value.written));
            }
            line
        })
        .collect()
}

fn compression() -> Book {
    book()
        .gear(gear("port"))
        .gear(gear("starboard"))
        .guide(
            guide("compression")
                .asks("pressure", "bar", "25..", &["cylinder 1", "Cylinder 2"])
                .asks("oil", "bar", "2.5..5.0", &[])
                .for_gear("port")
                .for_gear("starboard"),
        )
        .guide(guide("other").asks("oil", "bar", "2..", &[]))
}

#[test]
fn readings_are_kept_by_point_and_gear_newest_first() {
    let book = compression()
        .entry(
            entry("2025-01-01-a")
                .job("compression/port")
                .measures("pressure", "cylinder 1", "27 bar")
                .measures("pressure", "cylinder 2", "24.9 bar")
                .measures("pressure", "cylinder 3", "1 bar")
                .measures("oil", "", "5 bar"),
        )
        .entry(entry("2026-01-01-b").job("compression/port").measures("pressure", "cylinder 1", "25 bar"))
        .entry(entry("2026-01-02-c").job("compression/starboard").measures("pressure", "cylinder 1", "26 bar"))
        .entry(entry("2026-01-03-d").job("compression").measures("pressure", "cylinder 1", "28 bar"))
        .entry(entry("2026-01-04-e open").job("other").measures("oil", "", "1.9 bar").measures("gone", "", "1 L"))
        .entry(entry("2026-01-05-f").job("other").job("other").measures("oil", "", "30 psi"));
    let (reckoning, _) = reckon(&book, day("2026-06-01"));
    assert_eq!(
        readings(&reckoning, "compression"),
        [
            "pressure cylinder 1, 28 bar",
            "pressure cylinder 1 port, 25 bar, 27 bar",
            "pressure cylinder 1 starboard, 26 bar",
            "pressure Cylinder 2 port, 24.9 bar!",
            "oil port, 5 bar",
        ]
    );
    // 30 psi are 2.068… bar (NIST SP 811 appendix B.8), within `2..`.
    assert_eq!(readings(&reckoning, "other"), ["oil, 30 psi, 1.9 bar!"]);
    assert_eq!(readings(&reckoning, "gone"), [] as [&str; 0]);
}

/// What follows a finding that an entry clears and finds something itself: its reference, or that it was put right.
#[track_caller]
fn followed(found: Entry, clearing: Entry, expected: &str) {
    let book = book()
        .gear(gear("galley"))
        .gear(gear("heads"))
        .guide(guide("wires").formerly("old-wires"))
        .guide(guide("seacocks").for_gear("galley").for_gear("heads"))
        .entry(found)
        .entry(clearing.clears("2025-01-01-a", 1));
    let (reckoning, _) = reckon(&book, day("2026-06-01"));
    let cleared = reckoning.cleared.first().expect("one is cleared");
    assert_eq!(cleared.followed_reference().as_deref().unwrap_or("put right"), expected);
}

#[test]
fn what_is_found_again_was_not_put_right() {
    let found = || entry("2025-01-01-a").finds("worn", Grade::Watch);
    let later = || entry("2026-01-01-b").finds("worse", Grade::Act);
    let again = "2026-01-01-b/1";
    // The same gear, whoever says it, and whatever job.
    followed(found().about_gear("heads"), later().about_gear("heads"), again);
    followed(found().about_gear("heads"), later().job("seacocks/heads"), again);
    followed(found().job("wires").on_gear("heads"), later().about_gear("heads"), again);
    followed(found().about_gear("heads").for_job("wires"), later().about_gear("heads").for_job("wires"), again);
    // Another piece, or one that has gear and one that has none.
    followed(found().job("seacocks/galley"), later().job("seacocks/heads"), "put right");
    followed(found().job("wires"), later().job("wires").about_gear("heads"), "put right");
    // Without gear: the job that either names, under whatever name, or that was done.
    followed(found().for_job("wires"), later().for_job("old-wires"), again);
    followed(found().job("wires"), later().job("wires"), again);
    followed(found().job("wires").for_job("seacocks"), later().job("wires"), "put right");
    followed(found(), later(), "put right");
}

#[test]
fn the_gravest_finding_follows_and_a_good_one_never() {
    let found = || entry("2025-01-01-a").job("wires").finds("worn", Grade::Watch);
    let later = || entry("2026-01-01-b").job("wires").finds("sound", Grade::Good);
    followed(found(), later(), "put right");
    followed(found(), later().finds("stiff", Grade::Watch).finds("broken", Grade::Act).finds("bent", Grade::Act), "2026-01-01-b/3");
}
