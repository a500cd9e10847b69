//! How often a job was really done, in words.

use super::due;
use crate::book::model::Guide;
use crate::quantity::{Exact, plain_decimal};
use crate::reckon::Kept;
use crate::site::press::Press;
use crate::site::view::KeptView;

/// Days below which an interval is given in days.
const DAYS: i128 = 60;
/// Days from which it is given in years.
const YEARS: i128 = 1096;

/// For each gear of a guide that has such a record.
pub(super) fn kept(press: &Press<'_>, guide: &Guide, root: &str) -> Vec<KeptView> {
    let jobs = press.reckoning.jobs_of(&guide.id).iter();
    jobs.filter_map(|job| {
        let kept = job.kept.as_ref()?;
        let rules: Vec<String> = job.guide.every.iter().map(|rule| due::rule_text(press, rule, job.gear)).collect();
        Some(KeptView {
            gear: job.gear.filter(|_| guide.for_gear.len() > 1).map(|gear| press.gear(&gear.id.value, root)),
            text: text(press, kept),
            rule: (!rules.is_empty()).then(|| rules.join(", ")),
        })
    })
    .collect()
}

/// `every 187 h and 11 months (5 spans in the log)`.
fn text(press: &Press<'_>, kept: &Kept<'_>) -> String {
    let runs = kept.meters.iter().map(|by| format!("{} {}", plain_decimal(&by.run, 0), by.meter.unit.symbol()));
    let all: Vec<String> = runs.chain(std::iter::once(stretch(press, &kept.days))).collect();
    let and = press.words.text("kept.and");
    press.words.say("kept.every", &[("interval", &all.join(&and)), ("n", &kept.intervals.to_string())])
}

/// Days in words: `24 days`, `11 months`, `3.5 years`.
fn stretch(press: &Press<'_>, days: &Exact) -> String {
    // The mean length of a month and a year of the calendar, over its 400 years.
    let (month, year) = (Exact::new(146_097, 4800), Exact::new(146_097, 400));
    let (key, amount) = if *days < Exact::from_integer(DAYS) {
        ("spans.days", plain_decimal(days, 0))
    } else if *days < Exact::from_integer(YEARS) {
        ("spans.months", plain_decimal(&(days / month), 0))
    } else {
        ("spans.years", plain_decimal(&(days / year), 1))
    };
    press.words.say(key, &[("n", &amount)])
}
