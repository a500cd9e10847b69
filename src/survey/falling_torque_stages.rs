//! Stages of a torque that do not rise up to its value.

use super::{Check, Context, GuideCheck, Rule};
use crate::book::model::Torque;
use crate::book::source::Span;
use crate::quantity::{Figure, Quantity};

const ID: &str = "falling-torque-stages";

/// Decimals to which the upper end of a tolerance is written.
const MOST_DECIMALS: u32 = 6;

pub(super) const RULE: Rule = Rule {
    id: ID,
    why: "Stages pull a joint together evenly, each tighter than the one before, and the value is the last. Who sets the wrench to a \
          stage that is higher overtightens, and a bolt that has yielded is not mended by a lower stage after it.",
    check: Check::Guides(check),
};

fn check<'c>(_: &'c Context<'_>) -> GuideCheck<'c> {
    Box::new(move |guide, _, notes| {
        for torque in &guide.torques {
            if let Some((stage, problem)) = problem(torque, guide.source.slice(torque.value_span)) {
                notes.warning(
                    ID,
                    stage,
                    problem,
                    "write them rising, up to the value at the end; where the maker slackens the bolt in between, make that a step of the job",
                );
            }
        }
    })
}

/// The first stage that is higher than the value or lower than the one before it.
fn problem(torque: &Torque, value: &str) -> Option<(Span, String)> {
    let most = match &torque.value {
        Figure::Exact(value) => Some(value.clone()),
        Figure::Range { high, .. } => high.clone(),
        Figure::Tolerance { value, .. } => {
            torque.value.bounds().1.and_then(|high| Quantity::from_value(&high, value.unit(), MOST_DECIMALS))
        }
    };
    let too_high = torque.steps.iter().find(|stage| most.as_ref().is_some_and(|most| is_more(&stage.value, most)));
    if let Some(stage) = too_high {
        return Some((stage.span, format!("the stage `{}` is more than the value `{}`", stage.value.written(), value.trim())));
    }
    torque.steps.windows(2).find_map(|pair| match pair {
        [one, next] if is_more(&one.value, &next.value) => {
            Some((next.span, format!("the stage `{}` is less than `{}` before it", next.value.written(), one.value.written())))
        }
        _ => None,
    })
}

/// Whether one torque is more than another. In two units they are held against each other as they would be shown in
/// either: 26 lbf·ft are shown as 35 N·m, and who writes both means one torque.
fn is_more(one: &Quantity, other: &Quantity) -> bool {
    if one.unit() == other.unit() {
        return one.value() > other.value();
    }
    let shown = |one: &Quantity, other: &Quantity| one.rounded_in(other.unit()).map(|one| one.value());
    shown(one, other).is_some_and(|one| one > other.value()) && shown(other, one).is_some_and(|other| one.value() > other)
}

#[cfg(test)]
mod tests {
    use crate::survey::small_book::{found, guide};

    #[track_caller]
    fn case(torque: &str, expected: &[&str]) {
        let book = guide(&format!("torque:\n  - at: bolt\n    {}", torque.replace("; ", "\n    ")), "1. Tighten the {bolt}.\n");
        let found = found("falling-torque-stages", &book);
        let said: Vec<String> = found.iter().map(|one| format!("{}:{} {}", one.place.line, one.place.column, one.message)).collect();
        assert_eq!(said, expected, "{torque}");
    }

    #[test]
    fn stages_rise_up_to_the_value() {
        case("value: 35 N·m; steps: [20 N·m, 50 N·m]", &["6:21 the stage `50 N·m` is more than the value `35 N·m`"]);
        case("value: 35 N·m; steps: [30 N·m, 20 N·m]", &["6:21 the stage `20 N·m` is less than `30 N·m` before it"]);
        case("value: 30..35 N·m; steps: [36 N·m]", &["6:13 the stage `36 N·m` is more than the value `30..35 N·m`"]);
        case("value: 35 ± 3 N·m; steps: [38.1 N·m]", &["6:13 the stage `38.1 N·m` is more than the value `35 ± 3 N·m`"]);
        case("value: 35 N·m; steps:;   - 20 N·m;   - 40 N·m", &["8:9 the stage `40 N·m` is more than the value `35 N·m`"]);
    }

    #[test]
    fn torques_in_two_units_are_compared_as_they_are_shown() {
        // By NIST SP 811, B.8, 26 lbf·ft are 35.25 N·m and 27 lbf·ft 36.6 N·m.
        case("value: 35 N·m; steps: [15 lbf·ft, 26 lbf·ft]", &[]);
        case("value: 35 N·m; steps: [27 lbf·ft]", &["6:13 the stage `27 lbf·ft` is more than the value `35 N·m`"]);
        case("value: 60 N·m; steps: [26 lbf·ft, 35 N·m, 26 lbf·ft]", &[]);
        case("value: 60 N·m; steps: [27 lbf·ft, 35 N·m]", &["6:24 the stage `35 N·m` is less than `27 lbf·ft` before it"]);
        // 26 lbf·ft are 312 lbf·in, exactly.
        case("value: 26 lbf·ft; steps: [312 lbf·in]", &[]);
        case("value: 26 lbf·ft; steps: [330 lbf·in]", &["6:13 the stage `330 lbf·in` is more than the value `26 lbf·ft`"]);
    }

    #[test]
    fn sound_stages_are_passed_over() {
        for sound in [
            "value: 35 N·m; steps: [20 N·m, 35 N·m]",
            "value: 35 N·m; steps: [20 N·m, 20 N·m]",
            "value: 30..35 N·m; steps: [20 N·m, 35 N·m]",
            "value: 35 ± 3 N·m; steps: [20 N·m, 35 N·m]",
            "value: 35 N·m; steps: [25 lbf·ft]",
            "value: 30.. N·m; steps: [20 N·m, 80 N·m]",
            "value: 35 N·m; then: 90°",
        ] {
            case(sound, &[]);
        }
    }
}
