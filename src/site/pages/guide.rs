//! The page of one guide: the job sheet.

use super::{due, entry};
use crate::book::id::key_of;
use crate::book::model::{Guide, Hazard, PartUse, Signal};
use crate::book::names_of_guide::NamesOfGuide;
use crate::book::outline::MarkKind;
use crate::book::safety::{self, Piece};
use crate::book::source::Name;
use crate::quantity::{Duration, Exact, Figure, Rounding, minutes_text};
use crate::reckon::plan::{self, Basis, Plan};
use crate::reckon::{Held, LastDone, ReadingHistory, StockState, Times};
use crate::site::how_to::how_to;
use crate::site::map::Names;
use crate::site::surroundings::PageSurroundings;
use crate::site::view::{
    CautionView, CoverView, FigureView, GuidePage, HistoryRow, Html, IsolationView, Link, PartView, PastReading, ReadingPoint, ReadingView,
    ReceivedView, TimesView, ToolView, TorqueView,
};
use crate::site::{escape, figures, guide_body, press::Press, record_data};
use std::cell::LazyCell;
use std::collections::{BTreeMap, HashMap};

/// Times a job was done that stand on its page; the log has the rest.
const HISTORY: usize = 30;
/// Past values of a reading shown beside it.
const PAST_READINGS: usize = 3;
const ROOT: &str = "../";

/// Fills the page of a guide.
#[must_use]
pub fn guide(press: &Press<'_>, guide: &Guide) -> GuidePage {
    let surroundings = PageSurroundings { received: guide.received.as_deref(), ..press.surroundings(guide.source.path(), ROOT) };
    let body = guide_body::render(press.book, guide, press.words, &surroundings);
    let jobs = press.reckoning.jobs_of(&guide.id);
    let history = history(press, guide);
    let mut names = Names::default();
    // Why there is none was said when the book was read.
    let plan = plan::plan(guide, guide.crew).ok();
    let mut page = GuidePage {
        id: guide.id.clone(),
        revision: guide_body::revision(guide, &body.stages),
        title: guide.title.clone(),
        summary: guide.summary.clone(),
        system: press.system(&guide.system, ROOT),
        applies_to: guide.applies_to.clone(),
        source: guide.from.clone(),
        licence: licence(press, guide),
        revised: guide.revised.map(|date| press.day(date)),
        checked: guide.checked_here().map(|date| press.day(date)),
        received: received(press, guide),
        revisions: revisions(press, guide),
        routine: guide.routine,
        crew: guide.crew,
        intro: body.intro,
        cautions: cautions(press, guide, body.intro_cautions),
        no_hazards_listed: guide.hazards.is_empty(),
        states: due::views(press, jobs, ROOT),
        times: times(press, guide, plan.as_ref()),
        notice: guide.notice.as_ref().map(|span| press.span(span)),
        places: guide.places.iter().map(|place| press.words.text(&format!("places.{}", place.word()))).collect(),
        conditions: guide.conditions.clone(),
        wear: guide.wear.clone(),
        dispose: guide.dispose.clone(),
        isolations: isolations(press, guide),
        proofs: proofs(guide),
        tools: guide.tools.iter().map(|name| tool(press, &name.value, &mut names)).collect(),
        parts: guide.parts.iter().map(|used| part(press, used, &mut names)).collect(),
        torques: guide.torques.iter().map(|torque| torque_view(press, torque)).collect(),
        values: guide
            .values
            .iter()
            .map(|value| {
                let pair = figures::value(&press.book.boat, value);
                FigureView { id: value.id.clone(), name: value.name.clone(), value: pair.first, converted: pair.second }
            })
            .collect(),
        readings: readings(press, guide),
        plan: plan.as_ref().and_then(|plan| super::plan::plan(press.words, plan)),
        record: Html(record_data::job(press.book, guide)),
        stages: body.stages,
        footnotes: body.footnotes,
        covers: covers(press, guide),
        kept: super::kept::kept(press, guide, ROOT),
        plots: super::reading_plots::plots(press, guide, history.len() > HISTORY),
        history_more: history.len().saturating_sub(HISTORY),
        history: history.into_iter().take(HISTORY).map(|done| history_row(press, guide, done)).collect(),
        defects: of_guide(&press.defects, guide).iter().map(|defect| super::defects::view(press, defect, ROOT)).collect(),
        how_to: None,
    };
    page.how_to = how_to(press, guide, plan.as_ref(), &page);
    page
}

/// The licence of a guide: her own for what was written aboard; what came from another boat is under theirs.
fn licence(press: &Press<'_>, guide: &Guide) -> Option<String> {
    let otherwise = match guide.received.as_deref() {
        Some(received) => received.licence.as_ref(),
        None => press.book.boat.licence.as_ref(),
    };
    guide.licence.as_ref().or(otherwise).cloned()
}

/// Where a guide of another boat came from, and whether it was held against this one since.
fn received(press: &Press<'_>, guide: &Guide) -> Option<ReceivedView> {
    let received = guide.received.as_deref()?;
    Some(ReceivedView {
        from: received.from.clone(),
        on: press.day(received.on),
        unchecked: guide.unchecked().is_some(),
        revises: received.revises.as_ref().and_then(|name| press.guide_by_id(&name.value, ROOT)),
        passed_over: received.passed_over.clone(),
    })
}

/// Other revisions of this guide that came from other boats.
fn revisions(press: &Press<'_>, guide: &Guide) -> Vec<Link> {
    of_guide(&press.users.revisions, guide).iter().map(|other| press.guide(other, ROOT)).collect()
}

/// What is kept by the ids of guides.
fn of_guide<'l, T>(lists: &'l BTreeMap<&str, Vec<T>>, guide: &Guide) -> &'l [T] {
    lists.get(guide.id.as_str()).map(Vec::as_slice).unwrap_or_default()
}

fn is_same(press: &Press<'_>, id: &str, guide: &Guide) -> bool {
    press.book.guide_or_former(id).is_some_and(|found| found.id == guide.id)
}

/// A usual caution.
pub(super) fn usual(press: &Press<'_>, hazard: &Hazard) -> CautionView {
    CautionView {
        signal: hazard.signal.word().to_owned(),
        word: press.words.text(&format!("signals.{}", hazard.signal.word())),
        title: Some(hazard.title.clone()),
        body: Html(format!("<p>{}</p>", escape::html(&hazard.harm))),
        avoid: hazard.avoid.clone(),
        defer: hazard.defer.clone(),
        origin: "usual".to_owned(),
    }
}

/// The usual cautions and the guide's own, gravest first.
fn cautions(press: &Press<'_>, guide: &Guide, intro: Vec<CautionView>) -> Vec<CautionView> {
    let usual_ones =
        guide.hazards.iter().filter_map(|name| press.book.hazard(&name.value)).map(|hazard| (hazard.signal, usual(press, hazard)));
    let own = guide.safety.iter().map(|caution| own_caution(press, guide, caution));
    let intro = intro.into_iter().map(|view| (Signal::from_word(&view.signal).unwrap_or(Signal::Caution), view));
    let mut all: Vec<(Signal, CautionView)> = own.chain(intro).chain(usual_ones).collect();
    all.sort_by_key(|(signal, _)| *signal);
    all.into_iter().map(|(_, view)| view).collect()
}

/// A caution of `safety`: it may open with its signal word; without one it is a CAUTION.
fn own_caution(press: &Press<'_>, guide: &Guide, caution: &Name) -> (Signal, CautionView) {
    let text = caution.value.as_str();
    let opened = text.split_once(':').and_then(|(word, rest)| Some((Signal::from_word(word.trim())?, rest.trim())));
    let (signal, words) = opened.unwrap_or((Signal::Caution, text));
    let view = CautionView {
        signal: signal.word().to_owned(),
        word: press.words.text(&format!("signals.{}", signal.word())),
        title: None,
        body: Html(format!("<p>{}</p>", with_figures(press, guide, caution, words))),
        avoid: Vec::new(),
        defer: None,
        origin: "own".to_owned(),
    };
    (signal, view)
}

/// The words of a caution of `safety`, with the figures that it names.
fn with_figures(press: &Press<'_>, guide: &Guide, caution: &Name, words: &str) -> String {
    let names = LazyCell::new(|| NamesOfGuide::of(guide));
    let mut marks = guide.outline.loose_marks.iter().filter(|mark| caution.span.contains(mark.span));
    let shown = safety::pieces(words).into_iter().map(|piece| match piece {
        Piece::Words(words) => escape::html(words),
        Piece::Open => "{".to_owned(),
        Piece::Mark(inner) => match marks.next().map(|mark| &mark.kind) {
            Some(MarkKind::Name(id)) => figures::named(press.book, guide, &names, id, ROOT, press.words),
            Some(MarkKind::Withheld { .. }) => escape::html(&press.words.text("marks.withheld")),
            // What could not be read stays as it was written.
            _ => escape::html(&format!("{{{inner}}}")),
        },
    });
    shown.collect()
}

/// How long the job takes: by its steps, by its front matter, according to the log.
fn times(press: &Press<'_>, guide: &Guide, plan: Option<&Plan<'_>>) -> TimesView {
    // What waits in a circle has no plan, but what there is to do can be added up.
    let sums = plan.map_or_else(|| plan::sums(guide), |plan| plan.sums.clone());
    let (by_steps, some_untimed) = match sums.basis {
        Basis::Steps { some_untimed } => (true, some_untimed),
        Basis::FrontMatter | Basis::Nothing => (false, false),
    };
    let shown = |minutes: &Exact| (by_steps && *minutes > Exact::from_integer(0)).then(|| minutes_text(minutes));
    let at_least = |text: String| if some_untimed { press.words.say("guide.at-least", &[("time", &text)]) } else { text };
    TimesView {
        hands_on: shown(&sums.hands_on).map(at_least),
        together: plan.is_some_and(|plan| plan.tasks.iter().any(|task| task.hands > 1)),
        waits: shown(&sums.waiting).map(unbroken),
        elapsed: plan.filter(|plan| plan.elapsed != sums.hands_on).and_then(|plan| shown(&plan.elapsed)).map(unbroken),
        stated: guide.time.as_ref().map(Duration::to_string),
        from_log: press.reckoning.times.get(guide.id.as_str()).map(|times| logged(press, times)),
    }
}

/// A time that no line break parts, in the midst of other words.
fn unbroken(time: String) -> String {
    time.replace(' ', "\u{a0}")
}

/// `According to the log usually 1 h 45 min (done 5 times, half of them in 1 h 20 min to 2 h), last time 1 h 30 min`.
fn logged(press: &Press<'_>, times: &Times<'_>) -> String {
    let count = i64::try_from(times.count).unwrap_or(i64::MAX).to_string();
    let [median, last, lower, upper] =
        [&times.median, &times.last, &times.lower_quartile, &times.upper_quartile].map(|time| unbroken(minutes_text(time)));
    let key = match times.count {
        1 => "guide.time-logged-once",
        // Quarters of fewer than four say nothing.
        4.. if lower != upper => "times.spread",
        _ => "guide.time-logged",
    };
    press.words.say(key, &[("n", &count), ("median", &median), ("last", &last), ("lower", &lower), ("upper", &upper)])
}

fn isolations(press: &Press<'_>, guide: &Guide) -> Vec<IsolationView> {
    let mut views: Vec<IsolationView> = Vec::new();
    // What is isolated at this point, by its line of the table.
    let mut open: HashMap<String, usize> = HashMap::new();
    for (mark, step) in guide_body::marks_with_steps(guide) {
        match &mark.kind {
            MarkKind::Isolate { what, until } => {
                // Isolated already: a warning has said so, and one line is enough.
                if until.is_none() && open.contains_key(&key_of(what)) {
                    continue;
                }
                if until.is_none() {
                    open.insert(key_of(what), views.len());
                }
                let until = until.as_ref().map(|name| press.occasion(&name.value, ROOT));
                views.push(IsolationView { what: what.clone(), isolate: Some(step.link()), restore: None, until });
            }
            MarkKind::Restore(what) => match open.remove(&key_of(what)).and_then(|at| views.get_mut(at)) {
                Some(view) => view.restore = Some(step.link()),
                // Isolated by a guide of an earlier occasion.
                None => views.push(IsolationView { what: what.clone(), isolate: None, restore: Some(step.link()), until: None }),
            },
            _ => {}
        }
    }
    views
}

fn proofs(guide: &Guide) -> Vec<Link> {
    guide_body::marks_with_steps(guide)
        .filter_map(|(mark, step)| match &mark.kind {
            MarkKind::Prove(what) => Some(Link { text: what.clone(), href: step.href() }),
            _ => None,
        })
        .collect()
}

fn tool(press: &Press<'_>, written: &str, names: &mut Names) -> ToolView {
    let id = names.unique("tool", written);
    match press.book.tool(written) {
        Some(tool) => {
            ToolView { id, title: tool.title.clone(), stowed: tool.stowed.clone(), href: Some(press.map.tool(ROOT, &tool.id.value)) }
        }
        None => ToolView { id, title: written.to_owned(), stowed: None, href: None },
    }
}

fn part(press: &Press<'_>, used: &PartUse, names: &mut Names) -> PartView {
    let amount = figures::part_amount(used);
    let mut view = PartView {
        id: names.unique("part", &used.item.value),
        title: used.item.value.clone(),
        quantity: amount.as_ref().map(|pair| pair.first.clone()),
        quantity_converted: amount.and_then(|pair| pair.second),
        if_worn: used.if_worn,
        part_number: None,
        stowed: None,
        aboard: None,
        short: None,
        href: None,
    };
    let Some(item) = press.book.store(&used.item.value) else { return view };
    view.title.clone_from(&item.title);
    view.part_number.clone_from(&item.part_number);
    view.stowed.clone_from(&item.stowed);
    view.href = Some(press.map.store(ROOT, &item.id.value));
    let stock = press.reckoning.stock_of(&item.id.value);
    if let Some(stock) = stock.filter(|stock| super::stores::says_aboard(press, stock)) {
        view.aboard = Some(super::stores::aboard_text(press, stock));
        view.short = short(press, used, stock);
    }
    view
}

/// `short by 1`: what one doing of the job lacks.
fn short(press: &Press<'_>, used: &PartUse, stock: &StockState<'_>) -> Option<String> {
    let lacking = stock.lacking(&Held::used(used))?;
    Some(press.words.say("aboard.short", &[("amount", &lacking.said(Rounding::Up))]))
}

fn torque_view(press: &Press<'_>, torque: &crate::book::model::Torque) -> TorqueView {
    let pair = figures::torque(&press.book.boat, torque);
    TorqueView {
        id: torque.id.clone(),
        at: torque.at.clone(),
        value: pair.first,
        converted: pair.second,
        steps: torque.steps.iter().map(|step| figures::figure(&press.book.boat, &Figure::Exact(step.value.clone())).text()).collect(),
        then: torque.then.as_ref().map(ToString::to_string),
        fastener: torque.fastener.as_ref().map(|fastener| fastener.value.written().to_owned()),
        surface: torque.surface.map(|surface| press.words.text(&format!("surfaces.{}", surface.word()))),
        source: torque.source.clone(),
    }
}

fn readings(press: &Press<'_>, guide: &Guide) -> Vec<ReadingView> {
    let histories = press.reckoning.readings_of(&guide.id);
    guide
        .readings
        .iter()
        .map(|spec| {
            let of_spec: Vec<&ReadingHistory<'_>> = histories.iter().filter(|history| history.spec.id == spec.id).collect();
            let limits = spec.limits.as_ref().map(|limits| figures::limits(&press.book.boat, press.words, limits));
            let mut points: Vec<ReadingPoint> = of_spec.iter().map(|history| point(press, history)).collect();
            if points.is_empty() {
                let names: Vec<Option<String>> =
                    if spec.points.is_empty() { vec![None] } else { spec.points.iter().cloned().map(Some).collect() };
                points = names.into_iter().map(|point| ReadingPoint { point, last: Vec::new() }).collect();
            }
            ReadingView {
                id: spec.id.clone(),
                name: super::reading_words::title(spec),
                unit: spec.unit.symbol().to_owned(),
                limits: limits.as_ref().map(|pair| pair.first.clone()),
                limits_converted: limits.and_then(|pair| pair.second),
                when: spec.when.clone(),
                points,
            }
        })
        .collect()
}

fn point(press: &Press<'_>, history: &ReadingHistory<'_>) -> ReadingPoint {
    let gear = history.gear.map(|gear| gear.title.clone());
    let name = match (gear, history.point) {
        (Some(gear), Some(point)) => Some(format!("{gear}, {point}")),
        (gear, point) => gear.or_else(|| point.map(str::to_owned)),
    };
    let last = history.values.iter().take(PAST_READINGS).map(|value| PastReading {
        value: figures::read(history.spec, value.written),
        date: press.book_date(&value.date),
        href: press.entry_href(value.entry, ROOT),
        outside: value.outside,
    });
    ReadingPoint { point: name, last: last.collect() }
}

fn covers(press: &Press<'_>, guide: &Guide) -> CoverView {
    let covered_by = of_guide(&press.users.covered, guide);
    CoverView {
        covers: guide.covers.iter().filter_map(|name| press.guide_by_id(&name.value, ROOT)).collect(),
        covered_by: covered_by.iter().map(|other| press.guide(other, ROOT)).collect(),
    }
}

/// Entries of this guide over all its gear, newest first, each once.
fn history<'p>(press: &'p Press<'_>, guide: &Guide) -> Vec<&'p LastDone<'p>> {
    let mut all: Vec<&LastDone<'_>> = press.reckoning.jobs_of(&guide.id).iter().flat_map(|job| job.history.iter()).collect();
    all.sort_by(|a, b| b.date.cmp(&a.date).then_with(|| b.entry.id.cmp(&a.entry.id)));
    all.dedup_by(|later, kept| later.entry.id == kept.entry.id);
    all
}

fn history_row(press: &Press<'_>, guide: &Guide, done: &LastDone<'_>) -> HistoryRow {
    let entry = done.entry;
    let gear = entry
        .jobs
        .iter()
        .filter(|job| is_same(press, &job.guide, guide))
        .filter_map(|job| job.gear.as_ref())
        .map(|gear| press.gear(gear, ROOT).text)
        .collect();
    HistoryRow {
        date: press.book_date(&done.date),
        href: press.entry_href(entry, ROOT),
        title: press.entry_title(entry),
        gear,
        meters: press.meters_of(entry),
        time: entry.time.as_ref().map(Duration::to_string),
        readings: entry::readings(press, entry, Some(&guide.id)),
        findings: entry.findings.iter().enumerate().map(|(at, one)| entry::finding(press, entry, at + 1, one, ROOT)).collect(),
        done_by: entry.done_by.map(|by| press.words.text(&format!("done-by.{}", by.word()))),
        basis: entry.basis.map(|basis| press.words.text(&format!("basis.{}", basis.word().replace(' ', "-")))),
        open: entry.when.is_open(),
        through: done.through.map(|other| press.guide(other, ROOT)),
    }
}
