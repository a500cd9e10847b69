//! libFuzzer calls one of the targets with bytes that it changes by what they reach in the program. Which one stands
//! in the environment, so that all are one build.
#![no_main]

mod targets;

use libfuzzer_sys::fuzz_target;
use std::sync::LazyLock;

static CHECK: LazyLock<fn(&[u8])> = LazyLock::new(|| {
    let name = std::env::var("GARBOARD_FUZZ").unwrap_or_default();
    let Some((_, check)) = targets::ALL.iter().find(|(known, _)| *known == name) else {
        let known: Vec<&str> = targets::ALL.iter().map(|(known, _)| *known).collect();
        panic!("GARBOARD_FUZZ names no target: `{name}`; there are {}", known.join(", "));
    };
    *check
});

fuzz_target!(|bytes: &[u8]| CHECK(bytes));
