//! What must hold of the plan of any guide.

use super::guide_with;
use crate::quantity::Exact;
use crate::reckon::plan::plan;
use proptest::collection::vec;
use proptest::prelude::*;
use std::fmt::Write as _;

/// One step's marks.
fn step() -> impl Strategy<Value = String> {
    prop_oneof![
        (1_u32..30).prop_map(|minutes| format!("{{takes {minutes} min}}")),
        (1_u32..30, 1_u32..60).prop_map(|(minutes, wait)| format!("{{takes {minutes} min}} {{wait {wait} min}}")),
        (1_u32..30).prop_map(|minutes| format!("{{takes {minutes} min}} {{hands 2}}")),
        (1_u32..40, 1_u32..10, 1_u32..10)
            .prop_map(|(litres, on, off)| format!("{{run {litres} L at 2 L/min, {on} min on, {off} min off}}")),
        Just("{run 7 L at 3 L/min, 1 min on, 2 min off, unattended}".to_owned()),
        Just(String::new()),
    ]
}

/// Guides of up to five stages; marks of stages name those above.
fn guides() -> impl Strategy<Value = String> {
    vec((vec(step(), 1..4), 0_usize..4, any::<prop::sample::Index>()), 1..6).prop_map(|stages| {
        let mut body = String::new();
        for (at, (steps, kind, other)) in stages.iter().enumerate() {
            let other = if at == 0 { 0 } else { other.index(at) };
            let mark = match kind {
                _ if at == 0 => String::new(),
                0 => String::new(),
                1 => format!("{{after S{other}}}"),
                _ => format!("{{alongside S{other}}}"),
            };
            let _ = writeln!(body, "## S{at} {mark}\n");
            for (number, step) in steps.iter().enumerate() {
                let _ = writeln!(body, "{}. Do. {step}", number + 1);
            }
            body.push('\n');
        }
        body
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 80, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_plan_keeps_order_and_hands_and_is_never_longer_than_in_sequence(body in guides(), crew in 2_u32..4) {
        let guide = guide_with("crew: 2\n", &body);
        let plan = plan(&guide, crew).expect("a plan");
        prop_assert!(plan.bound <= plan.elapsed && plan.elapsed <= plan.sums.in_sequence);
        // Somebody has each of the person-minutes.
        prop_assert!(plan.sums.hands_on <= plan.elapsed * Exact::from_integer(i128::from(crew)));
        for task in &plan.tasks {
            let going = plan.tasks.iter().filter(|other| other.start <= task.start && task.start < other.end);
            prop_assert!(going.map(|other| other.hands).sum::<u32>() <= crew);
        }
        for stage in 0..guide.outline.stages.len() {
            let of_stage: Vec<_> = plan.tasks.iter().filter(|task| task.stage == stage).collect();
            for pair in of_stage.windows(2) {
                prop_assert!(pair[0].step <= pair[1].step && pair[0].end <= pair[1].start);
            }
        }
        let start = |stage: usize| plan.tasks.iter().filter(|task| task.stage == stage).map(|task| task.start).min();
        let end = |stage: usize| plan.tasks.iter().filter(|task| task.stage == stage).map(|task| task.end).max();
        for (at, stage) in guide.outline.stages.iter().enumerate() {
            let place = |name: &str| guide.outline.stages.iter().position(|other| other.title == name).expect("it is there");
            let Some(own) = start(at) else { continue };
            for other in &stage.alongside {
                prop_assert!(start(place(&other.value)).is_none_or(|other| other <= own));
            }
            for other in stage.after.iter().flatten() {
                prop_assert!(end(place(&other.value)).is_none_or(|other| other <= own));
            }
            if stage.after.is_none() && stage.alongside.is_empty() {
                prop_assert!((0..at).filter_map(end).all(|other| other <= own));
            }
        }
    }
}
