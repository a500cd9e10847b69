//! Stages of a torque that do not rise up to its value.

use super::{Check, Context, GuideCheck, Rule};
use crate::book::model::Torque;
use crate::quantity::{Exact, Quantity, Unit, convert};

const ID: &str = "falling-torque-stages";

pub(super) const RULE: Rule = Rule {
    id: ID,
    why: "Stages pull a joint together evenly, each tighter than the one before, and the value is the last. Who sets the wrench to a \
          stage that is higher overtightens, and a bolt that has yielded is not mended by a lower stage after it.",
    check: Check::Guides(check),
};

fn check<'c>(_: &'c Context<'_>) -> GuideCheck<'c> {
    Box::new(move |guide, _, notes| {
        for torque in &guide.torques {
            if let Some(problem) = problem(torque, guide.source.slice(torque.value_span)) {
                notes.warning(
                    ID,
                    torque.steps_span,
                    problem,
                    "write them rising, up to the value at the end; where the maker slackens the bolt in between, make that a step of the job",
                );
            }
        }
    })
}

/// The first stage that is higher than the value or lower than the one before it.
fn problem(torque: &Torque, value: &str) -> Option<String> {
    let in_newton_metres = |value: &Exact, unit: Unit| convert(value, unit, Unit::NewtonMetre);
    let of = |stage: &Quantity| in_newton_metres(&stage.value(), stage.unit());
    let most = torque.value.bounds().1.zip(torque.value.unit()).and_then(|(high, unit)| in_newton_metres(&high, unit));
    let too_high = torque.steps.iter().find(|stage| of(stage).zip(most).is_some_and(|(stage, most)| stage > most));
    if let Some(stage) = too_high {
        return Some(format!("the stage `{}` is more than the value `{}`", stage.written(), value.trim()));
    }
    let falls = torque.steps.windows(2).find_map(|pair| match pair {
        [one, next] if of(one).zip(of(next)).is_some_and(|(one, next)| next < one) => Some((one, next)),
        _ => None,
    });
    falls.map(|(one, next)| format!("the stage `{}` is less than `{}` before it", next.written(), one.written()))
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
        case("value: 35 N·m; steps: [20 N·m, 50 N·m]", &["6:12 the stage `50 N·m` is more than the value `35 N·m`"]);
        case("value: 35 N·m; steps: [30 N·m, 20 N·m]", &["6:12 the stage `20 N·m` is less than `30 N·m` before it"]);
        case("value: 30..35 N·m; steps: [36 N·m]", &["6:12 the stage `36 N·m` is more than the value `30..35 N·m`"]);
        // 26 lbf·ft are 35.3 N·m (NIST SP 811, B.8).
        case("value: 35 N·m; steps: [26 lbf·ft]", &["6:12 the stage `26 lbf·ft` is more than the value `35 N·m`"]);
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
