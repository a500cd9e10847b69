//! A stage that by the plan begins before what it lies alongside is isolated.

use super::{Check, Context, GuideCheck, Rule};
use crate::reckon::plan::plan;

const ID: &str = "begun-too-early";

pub(super) const RULE: Rule = Rule {
    id: ID,
    why: "Work alongside may begin as soon as the other stage does. Where that stage first runs the engine, or waits, and takes the \
          key out only then, the plan puts somebody to work on a machine that is not dead yet.",
    check: Check::Guides(check),
};

fn check<'c>(_: &'c Context<'_>) -> GuideCheck<'c> {
    Box::new(move |guide, _, notes| {
        if guide.outline.stages.iter().all(|stage| stage.alongside.is_empty()) {
            return;
        }
        // Why there is none was said when the book was read.
        let Ok(plan) = plan(guide, guide.crew) else { return };
        for early in plan.early() {
            let (Some(stage), Some(by)) = (guide.outline.stages.get(early.stage), guide.outline.stages.get(early.by)) else { continue };
            let span = stage.alongside.first().map_or(stage.span, |name| name.span);
            notes.warning(
                ID,
                span,
                format!(
                    "by the work plan `{}` begins before {} is isolated in `{}`, step {}",
                    stage.title,
                    early.what,
                    by.title,
                    early.step + 1
                ),
                "put what comes before the isolation, and the isolation, into a stage of their own above both",
            );
        }
    })
}

#[cfg(test)]
mod tests {
    use super::ID;
    use crate::survey::testing::found;

    const FILTER: &str = "## Filter {alongside Drain}\n1. Spin it off. {takes 5 min}\n\n## Refill\n1. Key back. {restore key} {prove it}";

    #[track_caller]
    fn case(crew: u32, drain: &str, expected: &[&str]) {
        assert_eq!(found(ID, &format!("crew: {crew}"), &format!("{drain}\n{FILTER}")), expected, "crew of {crew}: {drain}");
    }

    #[test]
    fn nobody_begins_alongside_before_it_is_dead() {
        // Two people: one runs the engine, the other has his hands in it.
        let run = "## Drain\n1. Run it, stop it, key out. {takes 15 min} {isolate key}\n2. Wait. {wait 10 min: oil drains}";
        case(2, run, &["8:11"]);
        // One person has his hands full until the key is out.
        case(1, run, &[]);
        // One person too, while the engine runs by itself.
        case(1, "## Drain\n1. Run it. {wait 15 min: engine warms} \n2. Key out. {takes 1 min} {isolate key}", &["8:11"]);
        // Isolated before the wait, though both are marks of one step.
        case(1, "## Drain\n1. Key out. {takes 1 min} {isolate key} {wait 10 min: oil cools}", &[]);
        case(2, "## Warm up\n1. Run it, key out. {takes 15 min} {isolate key}\n## Drain\n1. Wait. {wait 10 min: oil drains}", &[]);
    }
}
