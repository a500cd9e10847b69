//! What the stages of a guide wait for: that every stage named is there, and that none waits for itself.

use super::diagnostic::{Notes, nearest};
use super::id::key_of;
use super::outline::Stage;
use super::source::Name;
use std::collections::{HashMap, HashSet};

/// Guides with more stages than this are not searched for circles; none has a tenth of it.
const MOST_STAGES: usize = 500;

/// Checks `alongside` and `after` of all stages.
pub(super) fn check(notes: &mut Notes<'_>, stages: &[Stage]) {
    let mut by_title: HashMap<String, usize> = HashMap::new();
    for (at, stage) in stages.iter().enumerate() {
        by_title.entry(key_of(&stage.title)).or_insert(at);
    }
    let mut twice: HashSet<String> = HashSet::new();
    let mut once: HashSet<String> = HashSet::new();
    for stage in stages {
        let id = key_of(&stage.title);
        if !once.insert(id.clone()) {
            twice.insert(id);
        }
    }
    for (own, stage) in stages.iter().enumerate() {
        for name in named(stage) {
            match by_title.get(&key_of(&name.value)) {
                Some(at) if *at == own => {
                    notes.error("stage-reference", name.span, format!("the stage `{}` waits for itself", name.value), "name another stage");
                }
                Some(_) if twice.contains(&key_of(&name.value)) => {
                    notes.warning(
                        "stage-reference",
                        name.span,
                        format!("several stages are called `{}`, and the first is taken", name.value),
                        "give each stage a title of its own",
                    );
                }
                Some(_) => {}
                None => {
                    let remedy = nearest(&name.value, stages.iter().map(|stage| stage.title.as_str())).map_or_else(
                        || "write the title of a stage as its `##` heading has it".to_owned(),
                        |near| format!("did you mean `{near}`?"),
                    );
                    notes.error("stage-reference", name.span, format!("there is no stage `{}` in this guide", name.value), remedy);
                }
            }
        }
    }
    if stages.len() <= MOST_STAGES {
        circle(notes, stages, &by_title);
    }
}

fn named(stage: &Stage) -> impl Iterator<Item = &Name> {
    stage.alongside.iter().chain(stage.after.iter().flatten())
}

/// Stages that a stage waits for: those it names, else every stage above it.
fn waits_for(stages: &[Stage], by_title: &HashMap<String, usize>, at: usize) -> Vec<usize> {
    let Some(stage) = stages.get(at) else { return Vec::new() };
    if stage.after.is_none() && stage.alongside.is_empty() {
        return (0..at).collect();
    }
    // That a stage waits for itself was said.
    named(stage).filter_map(|name| by_title.get(&key_of(&name.value)).copied()).filter(|other| *other != at).collect()
}

/// Finds the first circle of stages that wait for each other, and names it.
fn circle(notes: &mut Notes<'_>, stages: &[Stage], by_title: &HashMap<String, usize>) {
    let waits: Vec<Vec<usize>> = (0..stages.len()).map(|at| waits_for(stages, by_title, at)).collect();
    // 0: not seen, 1: on the way, 2: done.
    let mut seen = vec![0_u8; stages.len()];
    for start in 0..stages.len() {
        let mut way: Vec<(usize, usize)> = vec![(start, 0)];
        if seen[start] != 0 {
            continue;
        }
        seen[start] = 1;
        while let Some((at, next)) = way.last_mut() {
            let Some(to) = waits[*at].get(*next).copied() else {
                seen[*at] = 2;
                way.pop();
                continue;
            };
            *next += 1;
            match seen[to] {
                0 => {
                    seen[to] = 1;
                    way.push((to, 0));
                }
                1 => {
                    let from = way.iter().position(|(stage, _)| *stage == to).unwrap_or(0);
                    let round: Vec<usize> = way[from..].iter().map(|(stage, _)| *stage).collect();
                    report(notes, stages, &round);
                    return;
                }
                _ => {}
            }
        }
    }
}

fn report(notes: &mut Notes<'_>, stages: &[Stage], round: &[usize]) {
    let titles: Vec<&str> = round.iter().chain(round.first()).filter_map(|at| stages.get(*at)).map(|stage| stage.title.as_str()).collect();
    let span =
        round.iter().filter_map(|at| stages.get(*at)).find_map(|stage| named(stage).next()).map(|name| name.span).unwrap_or_default();
    notes.error(
        "stage-circle",
        span,
        format!("these stages wait for each other, so that none can begin: {}", titles.join(" → ")),
        "take one of the stages out of an `{after …}` or `{alongside …}`",
    );
}
