//! How a job stands, in words.

use crate::book::model::{Entry, Gear, Rule, RuleBy};
use crate::book::stages::titled;
use crate::quantity::Exact;
use crate::reckon::{JobState, LastDone as Done, Remaining, RuleState, State, StillIsolated, counted_by};
use crate::site::Edition;
use crate::site::press::Press;
use crate::site::view::{DueRow, DueView, LastDone, Link, OpenJob, RuleView};

/// Id of a state for style and script: `no-record`.
pub(super) fn state_id(state: State) -> String {
    state.word().replace(' ', "-")
}

/// A job as a line of a list.
pub(super) fn row(press: &Press<'_>, job: &JobState<'_>, root: &str) -> DueRow {
    let due = view(press, job, root);
    // Where there is an interval, it says so itself.
    let unchecked = job.guide.unchecked().filter(|_| due.rules.is_empty()).map(|_| press.words.text("received.mark"));
    DueRow {
        unchecked,
        guide: press.guide(job.guide, root),
        system: press.system(&job.guide.system, root),
        summary: job.guide.summary.clone(),
        due,
    }
}

/// How the jobs of a guide stand. For another boat each interval is said once.
pub(super) fn views(press: &Press<'_>, jobs: &[JobState<'_>], root: &str) -> Vec<DueView> {
    let mut views: Vec<DueView> = jobs.iter().map(|job| view(press, job, root)).collect();
    if press.edition == Edition::Shared {
        views.retain(|one| !one.rules.is_empty() || !one.occasions.is_empty());
        views.dedup_by(|later, kept| later.rules == kept.rules);
    }
    views
}

/// How a job stands; an interval of another boat says that nobody has held it against this one.
pub(super) fn view(press: &Press<'_>, job: &JobState<'_>, root: &str) -> DueView {
    let mut view = stands(press, job, root);
    if job.guide.unchecked().is_some() {
        view.rules.iter_mut().for_each(|rule| rule.text = press.words.say("received.marked", &[("what", &rule.text)]));
    }
    view
}

fn stands(press: &Press<'_>, job: &JobState<'_>, root: &str) -> DueView {
    if !press.shows_state() {
        return withheld(press, job, root);
    }
    let id = state_id(job.state);
    let state_text = if job.read_the_meter { press.words.text("states.read-the-meter") } else { press.words.text(&format!("states.{id}")) };
    let days = job.due_on.map(|date| press.days_to(date));
    DueView {
        gear: job.gear.map(|gear| press.gear(&gear.id.value, root)),
        state: id,
        state_text,
        due_on: job.due_on.map(|date| press.day(date)),
        governed_by: job.governed_by.as_deref().map(|by| press.counted_by(by)),
        estimated: job.estimated,
        read_the_meter: job.read_the_meter,
        days,
        days_text: days.map(|days| press.days_text(days)),
        rules: job.rules.iter().map(|rule| rule_view(press, rule, job.state)).collect(),
        occasions: job.guide.occasions.iter().map(|name| press.occasion(&name.value, root)).collect(),
        last: job.last_done.as_ref().map(|done| last_done(press, done, root)),
        open: job.open.iter().map(|entry| open_job(press, entry, root)).collect(),
    }
}

/// A job of which only the interval and the last time are said; for another boat neither that time nor the gear.
fn withheld(press: &Press<'_>, job: &JobState<'_>, root: &str) -> DueView {
    let is_lent = press.edition == Edition::Shared;
    let rules = job.guide.every.iter().map(|rule| RuleView { text: rule_text(press, rule, job.gear), ..RuleView::default() });
    DueView {
        gear: job.gear.filter(|_| !is_lent).map(|gear| press.gear(&gear.id.value, root)),
        state: if is_lent { press.edition.word() } else { "withheld" }.to_owned(),
        rules: rules.collect(),
        occasions: job.guide.occasions.iter().map(|name| press.occasion(&name.value, root)).collect(),
        last: job.last_done.as_ref().map(|done| last_done(press, done, root)),
        open: job.open.iter().map(|entry| open_job(press, entry, root)).collect(),
        ..DueView::default()
    }
}

fn last_done(press: &Press<'_>, done: &Done<'_>, root: &str) -> LastDone {
    LastDone {
        date: press.book_date(&done.date),
        href: press.entry_href(done.entry, root),
        title: press.entry_title(done.entry),
        meters: press.meters_of(done.entry),
        through: done.through.map(|guide| press.guide(guide, root)),
    }
}

/// An entry that is not finished.
pub(super) fn open_job(press: &Press<'_>, entry: &Entry, root: &str) -> OpenJob {
    OpenJob {
        entry: press.entry(entry, root),
        jobs: entry.jobs.iter().filter_map(|job| press.job(job, root)).collect(),
        since: press.book_date(entry.when.day()),
        reached: reached(press, entry, root),
        left: entry.left.clone(),
        finished: false,
    }
}

/// What is shut, off or apart: by open jobs, and by finished ones until an occasion.
pub(super) fn left(press: &Press<'_>, root: &str) -> Vec<OpenJob> {
    let open = press.reckoning.left().map(|entry| open_job(press, entry, root));
    // Who does not see all entries cannot say that it was not restored since.
    let isolated = if press.shows_state() { press.reckoning.still_isolated() } else { Vec::new() };
    open.chain(isolated.iter().map(|one| still_isolated(press, one, root))).collect()
}

fn still_isolated(press: &Press<'_>, isolated: &StillIsolated<'_>, root: &str) -> OpenJob {
    let line = |(what, occasion): &(&str, &str)| {
        press.words.say("due.isolated-until", &[("what", what), ("occasion", &press.occasion_title(occasion))])
    };
    OpenJob {
        entry: press.entry(isolated.entry, root),
        jobs: vec![match isolated.gear {
            Some(gear) => Link { text: format!("{} ({})", isolated.guide.title, gear.title), ..press.guide(isolated.guide, root) },
            None => press.guide(isolated.guide, root),
        }],
        since: press.book_date(isolated.entry.when.day()),
        reached: None,
        left: isolated.what.iter().map(line).collect(),
        finished: true,
    }
}

/// The stage to go on from, as a link into the guide that has it.
pub(super) fn reached(press: &Press<'_>, entry: &Entry, root: &str) -> Option<Link> {
    let reached = entry.reached.as_ref()?;
    let guides = entry.jobs.iter().filter_map(|job| press.book.guide_or_former(&job.guide));
    let stages: Vec<_> = guides.flat_map(|guide| guide.outline.stages.iter().map(move |stage| (guide, stage))).collect();
    let at = titled(stages.iter().map(|(_, stage)| stage.title.as_str()), &reached.value);
    let found = at.and_then(|at| stages.get(at)).map(|(guide, stage)| Link {
        text: stage.title.clone(),
        href: format!("{root}guides/{}.html#{}", guide.id, crate::site::guide_body::stage_anchor(stage)),
    });
    Some(found.unwrap_or_else(|| Link { text: reached.value.clone(), href: press.entry_href(entry, root) }))
}

/// A rule of `every` in words: `every 150 h (Engine hours)`.
pub(super) fn rule_text(press: &Press<'_>, rule: &Rule, gear: Option<&Gear>) -> String {
    worded(press, rule, counted_by(rule, gear), false)
}

fn worded(press: &Press<'_>, rule: &Rule, by: &str, first: bool) -> String {
    let interval = match &rule.by {
        RuleBy::Calendar(span) => press.span(span),
        RuleBy::Meter { interval, .. } | RuleBy::Own { interval } => interval.written().to_owned(),
    };
    let meter = press.counted_by(by);
    let key = match (first, by) {
        (false, "calendar") => "rules.every",
        (false, _) => "rules.every-by",
        (true, "calendar") => "rules.first",
        (true, _) => "rules.first-by",
    };
    press.words.say(key, &[("interval", &interval), ("meter", &meter)])
}

fn rule_view(press: &Press<'_>, rule: &RuleState<'_>, state: State) -> RuleView {
    RuleView {
        text: worded(press, rule.rule, &rule.by, rule.first),
        remaining: rule
            .remaining
            .as_ref()
            .map(|remaining| press.perhaps_about(remaining_text(press, remaining), press.reckoning.is_carried_on(&rule.by))),
        due_on: rule.due_on.map(|date| press.day(date)),
        lately: rule.due_on.zip(rule.due_on_90).map(|(date, lately)| {
            // The date of the rule that governs is the job's, and stands above.
            let key = if rule.governs { "rules.lately" } else { "rules.both" };
            press.words.say(key, &[("date", &press.words.day(date)), ("lately", &press.words.day(lately))])
        }),
        calendar: rule.by == "calendar",
        estimated: rule.estimated,
        governs: rule.governs && state != State::NoRecord,
    }
}

/// `41.5 h left`, `12 days over`.
fn remaining_text(press: &Press<'_>, remaining: &Remaining) -> String {
    match remaining {
        Remaining::Days(days) if *days < 0 => press.words.count("days.over", days.saturating_neg()),
        Remaining::Days(days) => press.words.count("days.left", *days),
        Remaining::Meter { value, unit } => {
            let over = *value < Exact::from_integer(0);
            let size = if over { -*value } else { *value };
            let key = if over { "rules.over" } else { "rules.left" };
            press.words.say(key, &[("amount", &press.metered(&size, *unit))])
        }
    }
}
