//! Planned passages: the list, and a sheet for each to work off before leaving.
//!
//! They say where the boat will be and when she is empty. Without passages in the book there is no
//! page, no link and no line of the contents, which is all that a public book needs.

use super::{defects, due, gear};
use crate::book::model::Passage;
use crate::quantity::Exact;
use crate::reckon::{JobOnPassage, MOST_TIMES, MeterCourse, OnPassage, PassageState, UnderWay, passage};
use crate::site::press::Press;
use crate::site::view::{DateView, Link, PassageGroup, PassageJob, PassageLine, PassageMeter, PassagePage, PassagesPage, TripView};

/// Fills the list of the passages.
#[must_use]
pub fn passages(press: &Press<'_>) -> PassagesPage {
    let mut all: Vec<&Passage> = press.book.passages.iter().collect();
    all.sort_by_key(|trip| trip.depart);
    let line = |trip: &Passage| {
        let state = passage(press.reckoning, trip);
        PassageLine {
            passage: link(press, trip, ""),
            trip: trip_view(press, &state),
            act: state.to_act_on.len(),
            before: state.jobs_that_are(OnPassage::Before).count(),
            under_way: state.jobs_that_are(OnPassage::UnderWay).count(),
        }
    };
    PassagesPage { passages: all.into_iter().map(line).collect() }
}

/// Fills the sheet of one passage.
#[must_use]
pub fn passage_sheet(press: &Press<'_>, trip: &Passage) -> PassagePage {
    let root = "../";
    let state = passage(press.reckoning, trip);
    let groups = [(UnderWay::Cannot, "passage.cannot"), (UnderWay::NotSaid, "passage.not-said"), (UnderWay::Can, "passage.can")];
    let group = |(under_way, heading): (UnderWay, &str)| PassageGroup {
        heading: press.words.text(heading),
        jobs: state.jobs_that_are(OnPassage::UnderWay).filter(|on| on.under_way == under_way).map(|on| job(press, on, root)).collect(),
        jobs_more: None,
    };
    PassagePage {
        id: trip.id.value.clone(),
        trip: trip_view(press, &state),
        no_figures: trip.days.is_none() && trip.miles.is_none() && trip.meters.is_empty(),
        provisions: provision_list(press, trip, root),
        act_more: None,
        left_more: None,
        to_put_right_more: None,
        limiting_more: None,
        before_more: None,
        expiring_more: None,
        clear_more: None,
        act: state.to_act_on.iter().map(|defect| defects::view(press, defect, root)).collect(),
        left: due::left(press, root),
        to_put_right: state.to_put_right.iter().map(|defect| defects::view(press, defect, root)).collect(),
        limiting: state.limiting.iter().map(|defect| defects::view(press, defect, root)).collect(),
        before: state.jobs_that_are(OnPassage::Before).map(|on| job(press, on, root)).collect(),
        under_way: groups.into_iter().map(group).filter(|group| !group.jobs.is_empty()).collect(),
        expiring: state.expiring.iter().map(|one| gear::row(press, one, root)).collect(),
        meters: state.course.meters.iter().map(|course| meter(press, trip, course, root)).collect(),
        clear: state.jobs_that_are(OnPassage::Clear).map(|on| clear(press, on, root)).collect(),
    }
}

/// Link to the sheet of a passage.
fn link(press: &Press<'_>, trip: &Passage, root: &str) -> Link {
    let page = press.map.passage(&trip.id.value).unwrap_or("passages.html");
    Link { text: trip.title.clone(), href: format!("{root}{page}") }
}

/// Link to what is to be bought for a passage, where the site has such a page.
fn provision_list(press: &Press<'_>, trip: &Passage, root: &str) -> Option<Link> {
    let page = format!("provisions/passage-{}.html", trip.id.value);
    press.map.holds(&page).then(|| Link { text: press.words.text("passage.provisions"), href: format!("{root}{page}") })
}

fn trip_view(press: &Press<'_>, state: &PassageState<'_, '_>) -> TripView {
    let trip = state.passage;
    let days = trip.days.map(|days| press.words.count("spans.days", i64::from(days)));
    let miles = trip.miles.as_ref().map(|miles| format!("{} nmi", miles.written()));
    let reserve = trip.reserve().map(|percent| press.words.say("passage.reserve", &[("percent", percent.written())]));
    TripView {
        depart: press.day(state.course.start),
        days_text: Some(press.days_text(press.days_to(state.course.start))),
        returns: press.day(state.course.end),
        figures: [days, miles, reserve].into_iter().flatten().collect(),
        departed: trip.depart < press.reckoning.on,
        over: state.course.end < press.reckoning.on,
    }
}

fn job(press: &Press<'_>, on: &JobOnPassage<'_, '_>, root: &str) -> PassageJob {
    let falls = &on.falls;
    let (days, more) = falls.first_days();
    let shown = |day: jiff::civil::Date| {
        let day = press.day(day);
        DateView { text: press.perhaps_about(day.text, falls.estimated), about: falls.estimated, ..day }
    };
    let times = i64::try_from(falls.times).unwrap_or(i64::MAX);
    let by: Vec<String> = falls.by.iter().map(|by| press.counted_by(by)).collect();
    PassageJob {
        row: due::row(press, on.job, root),
        more,
        days: days.into_iter().map(shown).collect(),
        times: (times > 1).then(|| {
            let key = if falls.times >= MOST_TIMES { "passage.times-or-more" } else { "passage.times" };
            press.words.count(key, times)
        }),
        by: (!by.is_empty()).then(|| press.words.say("passage.by", &[("meter", &by.join(", "))])),
    }
}

fn clear(press: &Press<'_>, on: &JobOnPassage<'_, '_>, root: &str) -> Link {
    let mut link = press.guide(on.job.guide, root);
    if let Some(gear) = on.job.gear {
        link.text.push_str(&format!(" ({})", gear.title));
    }
    link
}

fn meter(press: &Press<'_>, trip: &Passage, course: &MeterCourse, root: &str) -> PassageMeter {
    let state = press.reckoning.meter(&course.meter);
    let counted = |value: Option<Exact>| value.and_then(|value| state?.as_counted(&value)).map(|value| press.metered(&value, course.unit));
    let figure = match (&course.figure, trip.reserve()) {
        (Some(figure), Some(percent)) => press.words.say("passage.figure", &[("figure", figure.written()), ("percent", percent.written())]),
        (Some(figure), None) => figure.written().to_owned(),
        (None, _) if course.run > Exact::from_integer(0) => press.words.text("passage.use-rate"),
        (None, _) => press.words.text("passage.stands-still"),
    };
    PassageMeter {
        meter: Link { text: press.counted_by(&course.meter), href: format!("{root}meters.html#{}", course.meter) },
        start: counted(course.start).map(|start| press.perhaps_about(start, course.estimated)),
        runs: press.metered(&course.run, course.unit),
        end: counted(course.end()).map(|end| press.perhaps_about(end, true)),
        figure,
    }
}
