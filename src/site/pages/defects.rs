//! Findings not yet put right, readings outside their limits, and what was cleared lately.

use super::entry::{before_text, finding_href, followed};
use super::reading_words;
use crate::book::model::{Before, Grade};
use crate::reckon::{Cleared, Defect, Seen};
use crate::site::press::Press;
use crate::site::view::{ClearedView, DefectView, DefectsPage, Link};

/// Cleared defects shown.
const CLEARED: usize = 40;

/// Fills the page of the defects.
#[must_use]
pub fn defects(press: &Press<'_>) -> DefectsPage {
    let graded = |grade: Grade| {
        press.reckoning.defects.iter().filter(move |defect| defect.grade() == grade).map(|defect| view(press, defect, "")).collect()
    };
    DefectsPage {
        act: graded(Grade::Act),
        watch: graded(Grade::Watch),
        act_more: None,
        watch_more: None,
        cleared: cleared(press, |one| one.followed.is_none()),
        followed: cleared(press, |one| one.followed.is_some()),
    }
}

/// Some of those that were cleared lately.
fn cleared(press: &Press<'_>, is_wanted: fn(&Cleared<'_>) -> bool) -> Vec<ClearedView> {
    let lately = press.reckoning.cleared.iter().filter(|one| is_wanted(one)).take(CLEARED);
    let view = |one: &Cleared<'_>| ClearedView {
        what: one.finding.what.clone(),
        found: press.book_date(one.entry.when.day()),
        entry: Link { text: press.entry_title(one.entry), href: finding_href(press, one.entry, one.number, "") },
        cleared_on: press.book_date(one.by.when.day()),
        cleared_by: followed(press, one, "").unwrap_or_else(|| press.entry(one.by, "")),
    };
    lately.map(view).collect()
}

/// The system a defect belongs to: of its gear, its guide, its entry's first job, or as the entry says.
pub(super) fn system_of(press: &Press<'_>, defect: &Defect<'_>) -> Option<String> {
    let book = press.book;
    let of_gear = defect.gear().and_then(|id| book.boat.gear(id)).and_then(|gear| gear.system.as_ref()).map(|name| name.value.clone());
    let of_guide = || defect.guide().and_then(|id| book.guide_or_former(id)).map(|guide| guide.system.clone());
    let of_entry = || defect.entry.system.as_ref().map(|name| name.value.clone());
    let of_job = || defect.entry.jobs.first().and_then(|job| book.guide_or_former(&job.guide)).map(|guide| guide.system.clone());
    of_gear.or_else(of_guide).or_else(of_entry).or_else(of_job)
}

/// A defect in words.
pub(super) fn view(press: &Press<'_>, defect: &Defect<'_>, root: &str) -> DefectView {
    let grade = defect.grade().word();
    let (what, href) = match defect.seen {
        Seen::Finding { number, finding } => (finding.what.clone(), finding_href(press, defect.entry, number, root)),
        Seen::Reading(outside) => (reading_words::outside(press, &outside), press.entry_href(defect.entry, root)),
    };
    DefectView {
        grade: grade.to_owned(),
        grade_text: press.words.text(&format!("grades.{grade}")),
        what,
        readings: defect.readings.iter().map(|reading| reading_words::outside(press, reading)).collect(),
        found: press.book_date(defect.entry.when.day()),
        entry: Link { text: press.entry_title(defect.entry), href },
        guide: defect.guide().and_then(|id| press.guide_by_id(id, root)),
        gear: defect.gear().map(|id| press.gear(id, root)),
        system: system_of(press, defect).map(|id| press.system(&id, root)),
        before: defect.before().map(|before| before_text(press, before)),
        late: matches!(defect.before(), Some(Before::Month(month)) if month.last_day < press.reckoning.on),
        limits_use: defect.finding().and_then(|finding| finding.limits_use.clone()),
    }
}
