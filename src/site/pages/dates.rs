//! The calendar of dates: jobs, gear and stores that expire, defects with a day, passages.
//!
//! It holds what the pages of the edition say: who does not see all entries is told of no due date.

use super::{defects, due};
use crate::book::date::Month;
use crate::book::model::{Before, Passage};
use crate::reckon::{Course, Defect, GearState, JobState, Seen, StockState};
use crate::site::feeds::calendar::{Calendar, CalendarDate};
use crate::site::feeds::identity;
use crate::site::press::Press;
use crate::site::qr;
use jiff::civil::Date;
use std::collections::HashSet;
use uuid::Uuid;

/// Fills the calendar, the earliest first.
#[must_use]
pub fn dates(press: &Press<'_>) -> Calendar {
    let mut dates: Vec<CalendarDate> = all(press).collect();
    dates.sort_by(|a, b| (a.first, &a.id).cmp(&(b.first, &b.id)));
    // A book with errors may have two things of one id; two dates of one name would be refused.
    let mut names = HashSet::new();
    dates.retain(|date| names.insert(date.id.clone()));
    Calendar { name: press.words.say("feeds.calendar-title", &[("boat", &press.book.boat.name)]), as_of: press.reckoning.on, dates }
}

/// Whether there is any date, and so a calendar.
#[must_use]
pub fn has_dates(press: &Press<'_>) -> bool {
    all(press).next().is_some()
}

/// All dates, in no order.
fn all(press: &Press<'_>) -> impl Iterator<Item = CalendarDate> {
    let reckoning = press.reckoning;
    let book = identity::of_book(&press.book.boat.name);
    let jobs = reckoning.jobs.iter().filter(move |_| press.shows_state()).filter_map(move |state| job(press, &book, state));
    let gear = reckoning.gear.iter().filter_map(move |state| gear(press, &book, state));
    let stores = reckoning.stock.iter().filter_map(move |state| store(press, &book, state));
    let defects = reckoning.defects.iter().filter_map(move |one| defect(press, &book, one));
    let passages = press.book.passages.iter().map(move |trip| passage(press, &book, trip));
    jobs.chain(gear).chain(stores).chain(defects).chain(passages)
}

fn on_day(id: String, day: Date, title: String, category: String) -> CalendarDate {
    CalendarDate { id, first: day, last: day, title, notes: Vec::new(), address: None, category, busy: false, notice: None }
}

fn address(press: &Press<'_>, path: &str) -> Option<String> {
    qr::address(press.book.boat.site.as_deref(), path)
}

fn job(press: &Press<'_>, book: &Uuid, job: &JobState<'_>) -> Option<CalendarDate> {
    let day = job.due_on?;
    let guide = press.guide(job.guide, "");
    let mut ids = vec![job.guide.id.as_str()];
    let mut title = guide.text;
    if let Some(gear) = job.gear {
        ids.push(&gear.id.value);
        title.push_str(&format!(" ({})", gear.title));
    }
    if job.estimated {
        title = press.words.say("feeds.estimated", &[("what", &title)]);
    }
    let state = due::view(press, job, "");
    let mut notes: Vec<String> = Vec::new();
    notes.extend(state.read_the_meter.then_some(state.state_text));
    for rule in state.rules {
        notes.push(match rule.remaining {
            Some(remaining) => format!("{}: {remaining}", rule.text),
            None => rule.text,
        });
        notes.extend(rule.lately);
    }
    notes.extend(state.last.map(|last| format!("{} {}", press.words.text("guide.last-done"), last.date.text)));
    notes.push(format!("{} {}", press.words.text("home.as-of"), press.words.day(press.reckoning.on)));
    let date = on_day(identity::of_date(book, "due", &ids), day, title, press.system(&job.guide.system, "").text);
    Some(CalendarDate { notes, address: address(press, &guide.href), notice: job.notice_days(), ..date })
}

fn expiry(press: &Press<'_>, id: String, month: Month, title: &str, category: String) -> CalendarDate {
    on_day(id, month.last_day, press.words.say("feeds.expires", &[("what", title)]), category)
}

fn gear(press: &Press<'_>, book: &Uuid, state: &GearState<'_>) -> Option<CalendarDate> {
    let link = press.gear(&state.gear.id.value, "");
    let category = state.gear.system.as_ref().map_or_else(|| press.words.text("pages.gear"), |name| press.system(&name.value, "").text);
    let id = identity::of_date(book, "gear", &[&state.gear.id.value]);
    let date = expiry(press, id, state.expires?, &link.text, category);
    Some(CalendarDate { address: address(press, &link.href), ..date })
}

fn store(press: &Press<'_>, book: &Uuid, state: &StockState<'_>) -> Option<CalendarDate> {
    let item = state.item;
    let id = identity::of_date(book, "store", &[&item.id.value]);
    let date = expiry(press, id, item.expires?, &item.title, press.words.text("pages.stores"));
    Some(CalendarDate { address: address(press, &format!("stores.html#{}", item.id.value)), ..date })
}

fn defect(press: &Press<'_>, book: &Uuid, defect: &Defect<'_>) -> Option<CalendarDate> {
    let Seen::Finding { number, .. } = defect.seen else { return None };
    let Some(Before::Month(month)) = defect.before() else { return None };
    let view = defects::view(press, defect, "");
    let id = identity::of_date(book, "finding", &[&defect.entry.id, &number.to_string()]);
    let title = press.words.say("feeds.put-right", &[("what", &view.what)]);
    let category = defects::system_of(press, defect).map_or_else(|| press.words.text("pages.defects"), |id| press.system(&id, "").text);
    let date = on_day(id, month.last_day, title, category);
    Some(CalendarDate { notes: view.limits_use.into_iter().collect(), address: address(press, &view.entry.href), ..date })
}

fn passage(press: &Press<'_>, book: &Uuid, trip: &Passage) -> CalendarDate {
    let course = Course::of_passage(press.reckoning, trip);
    let id = identity::of_date(book, "passage", &[&trip.id.value]);
    let page = press.map.passage(&trip.id.value).unwrap_or("passages.html");
    let date = on_day(id, course.start, trip.title.clone(), press.words.text("pages.passages"));
    CalendarDate { last: course.end, busy: true, address: address(press, page), ..date }
}
