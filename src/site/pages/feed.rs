//! The feed of the log: the newest entries, each with what it says in short.
//!
//! Names, places, costs and papers stay on the pages: a feed is kept by programs elsewhere.

use super::entry;
use crate::book::model::Entry;
use crate::site::feeds::atom::{Feed, FeedEntry};
use crate::site::feeds::{FEED, identity};
use crate::site::press::Press;
use crate::site::qr;
use crate::site::search::{plain_text, sentences};
use crate::site::view::{EntryView, Fact, FindingView};
use uuid::Uuid;

/// Entries in the feed.
const NEWEST: usize = 50;

/// Fills the feed, the newest entry first.
#[must_use]
pub fn feed(press: &Press<'_>) -> Feed {
    let boat = &press.book.boat;
    let book = identity::of_book(&boat.name);
    Feed {
        id: identity::of_log(&book),
        language: press.words.language().to_owned(),
        title: press.words.say("feeds.log-title", &[("boat", &boat.name)]),
        author: boat.name.clone(),
        page: place(press, "log.html".to_owned()),
        own: qr::address(boat.site.as_deref(), FEED),
        entries: press.reckoning.entries.iter().rev().take(NEWEST).map(|one| of_entry(press, &book, one)).collect(),
    }
}

/// Its address where the site is served; else the path beside the feed.
fn place(press: &Press<'_>, path: String) -> String {
    qr::address(press.book.boat.site.as_deref(), &path).unwrap_or(path)
}

fn of_entry(press: &Press<'_>, book: &Uuid, entry: &Entry) -> FeedEntry {
    let view = entry::view(press, entry, "");
    FeedEntry {
        id: identity::of_entry(book, &entry.id),
        title: view.title.clone(),
        updated: entry.when.day().date,
        page: place(press, press.entry_href(entry, "")),
        summary: summary(press, &view),
    }
}

/// The fields of an entry and its notes, a sentence each; at the least its day.
fn summary(press: &Press<'_>, view: &EntryView) -> String {
    let facts = |list: &[Fact]| list.iter().map(|fact| format!("{} {}", fact.label, fact.value)).collect::<Vec<_>>();
    let mut text = vec![view.date.text.clone()];
    if view.open {
        text.push(press.words.text("entry.open-job"));
        text.extend(view.reached.iter().map(|stage| format!("{} {}", press.words.text("due.go-on"), stage.text)));
        text.extend((!view.left.is_empty()).then(|| format!("{}: {}", press.words.text("entry.left"), view.left.join("; "))));
    }
    text.extend(facts(&view.meters));
    text.extend(view.time.clone());
    text.extend(view.done_by.clone());
    text.extend(view.parts.iter().map(|part| part.text.clone()));
    text.extend(facts(&view.readings));
    text.extend(view.findings.iter().map(finding));
    text.extend(view.clears.iter().map(|clears| format!("{}: {}", clears.text, press.words.text("grades.cleared"))));
    text.extend(view.follows.iter().map(|follows| format!("{}: {}", follows.text, press.words.text("grades.followed"))));
    text.extend(view.except.iter().cloned());
    text.push(plain_text(&view.notes.0));
    sentences(text)
}

fn finding(view: &FindingView) -> String {
    let limits = view.limits_use.iter().map(|limits| format!(" ({limits})")).collect::<String>();
    format!("{}: {}{limits}", view.what, view.grade_text)
}
