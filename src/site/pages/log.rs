//! The log: its index, and its pages of at most a hundred entries.

use super::entry;
use crate::site::feeds::FEED;
use crate::site::map::LogPagePlan;
use crate::site::press::Press;
use crate::site::view::{Link, LogIndex, LogPage, LogYear};

/// With more entries than this the index names only the pages.
const LISTED: usize = 500;

/// Fills the index of the log.
#[must_use]
pub fn log_index(press: &Press<'_>) -> LogIndex {
    let entries = &press.reckoning.entries;
    let abridged = entries.len() > LISTED;
    let mut years: Vec<LogYear> = Vec::new();
    for plan in press.map.log_pages.iter().rev() {
        if years.last().is_none_or(|year| year.year != plan.year) {
            years.push(LogYear { year: plan.year, pages: Vec::new(), count: 0, count_text: String::new(), entries: Vec::new() });
        }
        let Some(year) = years.last_mut() else { continue };
        year.pages.insert(0, page_link(press, plan, ""));
        year.count += plan.range.len();
        if !abridged {
            let of_page = entries.get(plan.range.clone()).unwrap_or_default();
            year.entries.extend(of_page.iter().rev().map(|one| entry::reference(press, one, "")));
        }
    }
    for year in &mut years {
        year.count_text = press.words.count("log.entries", i64::try_from(year.count).unwrap_or(i64::MAX));
    }
    LogIndex { years, total: entries.len(), abridged, feed: (!entries.is_empty()).then(|| FEED.to_owned()) }
}

/// `2026`, or `2026, 2 of 3`.
fn page_link(press: &Press<'_>, plan: &LogPagePlan, root: &str) -> Link {
    let text = if plan.parts == 1 {
        plan.year.to_string()
    } else {
        press
            .words
            .say("log.part", &[("year", &plan.year.to_string()), ("part", &plan.part.to_string()), ("parts", &plan.parts.to_string())])
    };
    Link { text, href: format!("{root}{}", plan.path) }
}

/// Title of a page of the log.
#[must_use]
pub fn log_title(press: &Press<'_>, plan: &LogPagePlan) -> String {
    press.words.say("log.title", &[("year", &page_link(press, plan, "").text)])
}

/// Fills a page of the log, which stands at this place among them.
#[must_use]
pub fn log_page(press: &Press<'_>, at: usize, plan: &LogPagePlan) -> LogPage {
    let pages = &press.map.log_pages;
    let entries = press.reckoning.entries.get(plan.range.clone()).unwrap_or_default();
    LogPage {
        year: plan.year,
        part: plan.part,
        parts: if plan.parts == 1 {
            Vec::new()
        } else {
            pages.iter().filter(|other| other.year == plan.year).map(|other| page_link(press, other, "../")).collect()
        },
        entries: entries.iter().rev().map(|one| entry::view(press, one, "../")).collect(),
        earlier: at.checked_sub(1).and_then(|at| pages.get(at)).map(|other| page_link(press, other, "../")),
        later: pages.get(at + 1).map(|other| page_link(press, other, "../")),
    }
}
