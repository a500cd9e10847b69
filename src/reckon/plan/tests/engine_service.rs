//! The engine service of the demo book, its schedule reckoned by hand.

use super::{lines, times};
use crate::book::decode;
use crate::book::diagnostic::Notes;
use crate::book::model::Guide;
use crate::book::source::Source;
use crate::reckon::plan::{Filling, TaskKind, plan};

fn service() -> Guide {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/content/guides/engine/oil-and-filter.md");
    let text = std::fs::read_to_string(path).expect("the demo book");
    let source = Source::new("guides/engine/oil-and-filter.md", text);
    decode::guide::read(&mut Notes::new(&source)).expect("a guide")
}

#[test]
fn the_filter_fills_the_rests_of_the_pump() {
    // Warm up: 5 + 15 + 2, and 10 of waiting                                            0 to 32
    // Drain, alongside it the filter:
    //   suction tube 5                                                                 32 to 37
    //   6.5 L at 0.4 L/min run 16.25, in stretches of 10 and 6.25:                     37 to 47
    //   the pump rests at least 10, the filter takes 5 + 2 + 2 + 3 = 12                47 to 59
    //   the pump goes on when the hands are free, 6.25                                 59 to 65.25
    //   3 + 4                                                                       65.25 to 72.25
    // Refill: 8 + 8, 5 of waiting, 5                                                72.25 to 98.25
    // Run and look: 1 + 2 + 10, 10 of waiting, 3 + 5                               98.25 to 129.25
    // Hands-on: 22 + (5 + 16.25 + 3 + 4) + 12 + 21 + 21 = 104.25.
    // In sequence the pump's 10 of rest lie idle: 129.25 + 10 = 139.25 (the filter is counted once either way).
    let guide = service();
    times(&guide, 1, ["104.25", "129.25", "139.25"]);
    let plan = plan(&guide, 1).expect("a plan");
    let drain: Vec<String> = lines(&plan).into_iter().filter(|line| line.starts_with("Drain") || line.starts_with("Change")).collect();
    assert_eq!(
        drain,
        [
            "Drain 1 hands-on 32..37",
            "Drain 2 run 37..47",
            "Drain 2 rest 47..57",
            "Change the filter 1 hands-on 47..52",
            "Change the filter 2 hands-on 52..54",
            "Change the filter 3 hands-on 54..56",
            "Change the filter 4 hands-on 56..59",
            "Drain 2 run 59..65.25",
            "Drain 3 hands-on 65.25..68.25",
            "Drain 4 hands-on 68.25..72.25",
        ]
    );
    let [one] = plan.meanwhile().try_into().expect("one rest");
    assert_eq!((one.stage, one.step, one.kind), (1, 1, TaskKind::Rest));
    assert_eq!(one.filled_by, [Filling { stage: 2, first: 0, last: 3 }]);
}

#[test]
fn a_second_pair_of_hands_changes_the_filter_while_the_pump_runs() {
    // Drain alone: 5 + 10 + 10 + 6.25 + 3 + 4 = 38.25; the filter's 12 lie within it: 32 + 38.25 + 26 + 31.
    times(&service(), 2, ["104.25", "127.25", "139.25"]);
}
