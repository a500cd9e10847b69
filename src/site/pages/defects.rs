//! Findings not yet put right, and those put right lately.

use super::entry::{before_text, finding_href};
use crate::book::model::{Before, Grade};
use crate::reckon::Defect;
use crate::site::press::Press;
use crate::site::view::{ClearedView, DefectView, DefectsPage, Link};

/// Cleared defects shown.
const CLEARED: usize = 40;

/// Fills the page of the defects.
#[must_use]
pub fn defects(press: &Press<'_>) -> DefectsPage {
    let graded = |grade: Grade| {
        press.reckoning.defects.iter().filter(move |defect| defect.finding.grade == grade).map(|defect| view(press, defect, "")).collect()
    };
    DefectsPage {
        act: graded(Grade::Act),
        watch: graded(Grade::Watch),
        cleared: press
            .reckoning
            .cleared
            .iter()
            .take(CLEARED)
            .map(|cleared| ClearedView {
                what: cleared.defect.finding.what.clone(),
                found: press.book_date(cleared.defect.entry.when.day()),
                entry: found_in(press, &cleared.defect, ""),
                cleared_on: press.book_date(cleared.by.when.day()),
                cleared_by: press.entry(cleared.by, ""),
            })
            .collect(),
    }
}

fn found_in(press: &Press<'_>, defect: &Defect<'_>, root: &str) -> Link {
    Link { text: press.entry_title(defect.entry), href: finding_href(press, defect.entry, defect.number, root) }
}

/// The system a defect belongs to: of its gear, its guide, its entry's first job, or as the entry says.
pub(super) fn system_of(press: &Press<'_>, defect: &Defect<'_>) -> Option<String> {
    let book = press.book;
    let of_gear = defect
        .finding
        .gear
        .as_ref()
        .and_then(|name| book.boat.gear(&name.value))
        .and_then(|gear| gear.system.as_ref())
        .map(|name| name.value.clone());
    let of_guide = || defect.finding.guide.as_ref().and_then(|name| book.guide_or_former(&name.value)).map(|guide| guide.system.clone());
    let of_entry = || defect.entry.system.as_ref().map(|name| name.value.clone());
    let of_job = || defect.entry.jobs.first().and_then(|job| book.guide_or_former(&job.guide)).map(|guide| guide.system.clone());
    of_gear.or_else(of_guide).or_else(of_entry).or_else(of_job)
}

/// A defect in words.
pub(super) fn view(press: &Press<'_>, defect: &Defect<'_>, root: &str) -> DefectView {
    let finding = defect.finding;
    DefectView {
        grade: finding.grade.word().to_owned(),
        grade_text: press.words.text(&format!("grades.{}", finding.grade.word())),
        what: finding.what.clone(),
        found: press.book_date(defect.entry.when.day()),
        entry: found_in(press, defect, root),
        guide: finding.guide.as_ref().and_then(|name| press.guide_by_id(&name.value, root)),
        gear: finding.gear.as_ref().map(|name| press.gear(&name.value, root)),
        system: system_of(press, defect).map(|id| press.system(&id, root)),
        before: finding.before.as_ref().map(|before| before_text(press, before)),
        late: matches!(&finding.before, Some(Before::Month(month)) if month.last_day < press.reckoning.on),
        limits_use: finding.limits_use.clone(),
    }
}
