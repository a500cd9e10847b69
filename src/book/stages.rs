//! What the stages of a guide wait for: that every stage named is there, and that none waits for itself.

use super::diagnostic::Notes;
use super::id::{key_of, loose_key_of};
use super::outline::{MarkKind, Stage};
use super::source::Name;
use std::collections::{HashMap, HashSet};

/// Most stages of a circle that are named.
const MOST_TITLES: usize = 12;

/// Most names that are tried as the parts of one title.
const MOST_PARTS: usize = 6;

/// Whether a title is that of one stage of the guide.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Called {
    One,
    Several,
}

/// The stages of a guide by their titles, as marks name them: by the same name, or else, since a mark cannot hold
/// every sign (a comma parts its names), by the same words.
#[derive(Debug)]
pub struct ByTitle {
    exact: HashMap<String, (usize, Called)>,
    loose: HashMap<String, (usize, Called)>,
}

impl ByTitle {
    /// Of several stages with one title the first is found.
    #[must_use]
    pub fn new(stages: &[Stage]) -> Self {
        let by = |key: fn(&str) -> String| {
            let mut found: HashMap<String, (usize, Called)> = HashMap::with_capacity(stages.len());
            for (at, stage) in stages.iter().enumerate() {
                found.entry(key(&stage.title)).and_modify(|(_, called)| *called = Called::Several).or_insert((at, Called::One));
            }
            found
        };
        Self { exact: by(key_of), loose: by(loose_key_of) }
    }

    /// As [`ByTitle::new`]; empty where no mark of a heading names a stage, as in most guides.
    #[must_use]
    pub fn of_marks(stages: &[Stage]) -> Self {
        if stages.iter().all(waits_for_all_above) { Self::new(&[]) } else { Self::new(stages) }
    }

    /// Which stage is meant, and whether several are called so.
    #[must_use]
    pub fn find(&self, name: &str) -> Option<(usize, Called)> {
        self.exact.get(&key_of(name)).or_else(|| self.loose.get(&loose_key_of(name))).copied()
    }
}

/// Which of some titles is meant, looked up as [`ByTitle`] does; for a name or two.
pub fn titled<'t>(titles: impl Iterator<Item = &'t str> + Clone, name: &str) -> Option<usize> {
    let by = |key: fn(&str) -> String| {
        let wanted = key(name);
        titles.clone().position(|title| key(title) == wanted)
    };
    by(key_of).or_else(|| by(loose_key_of))
}

/// Checks `alongside` and `after` of all stages.
pub(super) fn check(notes: &mut Notes<'_>, stages: &[Stage]) {
    let by_title = ByTitle::of_marks(stages);
    for (own, stage) in stages.iter().enumerate() {
        let parted = parted(notes, stages, stage, &by_title);
        for name in named(stage).filter(|name| !parted.contains(&std::ptr::from_ref(*name))) {
            match by_title.find(&name.value) {
                Some((at, _)) if at == own => {
                    notes.error("stage-reference", name.span, format!("the stage `{}` waits for itself", name.value), "name another stage");
                }
                Some((_, Called::Several)) => {
                    notes.warning(
                        "stage-reference",
                        name.span,
                        format!("several stages are called `{}`, and the first is taken", name.value),
                        "give each stage a title of its own",
                    );
                }
                Some((_, Called::One)) => {}
                None => {
                    let remedy = notes.nearest(&name.value, stages.iter().map(|stage| stage.title.as_str())).map_or_else(
                        || "write the title of a stage as its `##` heading has it".to_owned(),
                        |near| format!("did you mean `{near}`?"),
                    );
                    notes.error("stage-reference", name.span, format!("there is no stage `{}` in this guide", name.value), remedy);
                }
            }
        }
    }
    circle(notes, stages, &by_title);
}

/// Names that are one title, parted at its commas, by where they are held; told as that.
fn parted(notes: &mut Notes<'_>, stages: &[Stage], stage: &Stage, by_title: &ByTitle) -> HashSet<*const Name> {
    let mut found = HashSet::new();
    for names in [Some(&stage.alongside), stage.after.as_ref()].into_iter().flatten() {
        let mut at = 0;
        while at < names.len() {
            // A title has not many commas, and all the names of it stand in one mark.
            let runs = (at + 2..=names.len().min(at + MOST_PARTS)).rev().filter_map(|end| names.get(at..end));
            let whole = runs.filter(|run| run.iter().any(|name| by_title.find(&name.value).is_none())).find_map(|run| {
                let joined = run.iter().map(|name| name.value.as_str()).collect::<Vec<_>>().join(", ");
                let one_mark = run.iter().all(|name| Some(name.span) == run.first().map(|first| first.span));
                let (stage, _) = by_title.find(&joined).filter(|_| one_mark)?;
                Some((run, stages.get(stage)?.title.as_str()))
            });
            let Some((run, title)) = whole else {
                at += 1;
                continue;
            };
            let without = title.replace(',', "");
            notes.error(
                "stage-reference",
                run.first().map(|name| name.span).unwrap_or_default(),
                format!("the commas of the title `{title}` part it into {} names here", run.len()),
                format!("leave them out of the mark: `{without}`"),
            );
            found.extend(run.iter().map(std::ptr::from_ref));
            at += run.len();
        }
    }
    found
}

fn named(stage: &Stage) -> impl Iterator<Item = &Name> {
    stage.alongside.iter().chain(stage.after.iter().flatten())
}

/// How a stage waits for another one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Until {
    /// It starts no earlier than that one.
    Begun,
    /// It starts when that one is done.
    Done,
}

/// The stages that a stage waits for, by their numbers; it may name itself. One without marks waits for all above it,
/// of which only those are given that have not waited for one another: from the nearest one without marks on.
pub fn waits<'s>(stages: &'s [Stage], by_title: &'s ByTitle, at: usize) -> impl Iterator<Item = (usize, Until)> + 's {
    let stage = stages.get(at);
    let names = |names: Option<&'s Vec<Name>>, until| {
        names.into_iter().flatten().filter_map(move |name| by_title.find(&name.value)).map(move |(other, _)| (other, until))
    };
    let named =
        names(stage.map(|stage| &stage.alongside), Until::Begun).chain(names(stage.and_then(|stage| stage.after.as_ref()), Until::Done));
    let above = stage.filter(|stage| waits_for_all_above(stage)).and_then(|_| stages.get(..at)).unwrap_or_default();
    let from = above.iter().rposition(waits_for_all_above).unwrap_or(0);
    (from..above.len()).rev().map(|above| (above, Until::Done)).chain(named)
}

/// Whether a stage has no mark that says what it waits for.
#[must_use]
pub fn waits_for_all_above(stage: &Stage) -> bool {
    stage.after.is_none() && stage.alongside.is_empty()
}

/// What is shut, off or apart where a job goes on from this stage, in the order in which it was isolated: by the marks of
/// the stages that are done by then, which are those it waits for and what these wait for. A stage that it runs alongside
/// need not be done.
#[must_use]
pub fn isolated_before(stages: &[Stage], from: usize) -> Vec<&str> {
    let mut isolated: Vec<(String, &str)> = Vec::new();
    let done = done_before(stages, from);
    let steps = stages.iter().zip(done).filter(|(_, done)| *done).flat_map(|(stage, _)| &stage.steps);
    for mark in steps.flat_map(|step| &step.marks) {
        match &mark.kind {
            MarkKind::Isolate { what, .. } if !isolated.iter().any(|(key, _)| *key == key_of(what)) => isolated.push((key_of(what), what)),
            MarkKind::Restore(what) => isolated.retain(|(key, _)| *key != key_of(what)),
            _ => {}
        }
    }
    isolated.into_iter().map(|(_, what)| what).collect()
}

/// Which stages are done where a job goes on from this one.
fn done_before(stages: &[Stage], from: usize) -> Vec<bool> {
    let by_title = ByTitle::of_marks(stages);
    let mut done = vec![false; stages.len()];
    let mut seen = vec![false; stages.len()];
    let mut way = vec![from];
    while let Some(at) = way.pop() {
        if seen.get_mut(at).is_none_or(|seen| std::mem::replace(seen, true)) {
            continue;
        }
        // A stage alongside another waits for what that one waits for.
        for (other, until) in waits(stages, &by_title, at) {
            if until == Until::Done
                && let Some(done) = done.get_mut(other)
            {
                *done = other != from;
            }
            way.push(other);
        }
    }
    done
}

/// Finds the first circle of stages that wait for each other, and names it.
fn circle(notes: &mut Notes<'_>, stages: &[Stage], by_title: &ByTitle) {
    // That a stage waits for itself was said.
    let others = |at: usize| waits(stages, by_title, at).map(|(other, _)| other).filter(|other| *other != at).collect();
    let waits: Vec<Vec<usize>> = (0..stages.len()).map(others).collect();
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
    let title = |at: &usize| stages.get(*at).map(|stage| stage.title.as_str());
    let more = (round.len() > MOST_TITLES).then_some("…");
    let titles: Vec<&str> = round.iter().take(MOST_TITLES).filter_map(title).chain(more).chain(round.first().and_then(title)).collect();
    let span =
        round.iter().filter_map(|at| stages.get(*at)).find_map(|stage| named(stage).next()).map(|name| name.span).unwrap_or_default();
    notes.error(
        "stage-circle",
        span,
        format!("these stages wait for each other, so that none can begin: {}", titles.join(" → ")),
        "take one of the stages out of an `{after …}` or `{alongside …}`",
    );
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::load::guide_of;
    use crate::book::source::{Source, Span};

    fn stage(title: &str) -> Stage {
        Stage {
            title: title.to_owned(),
            id: String::new(),
            span: Span::default(),
            alongside: Vec::new(),
            after: None,
            heading_marks: Vec::new(),
            implicit: false,
            steps: Vec::new(),
        }
    }

    #[test]
    fn a_stage_is_found_by_its_name_and_else_by_its_words() {
        let titles = ["Drain, then wait", "Pole -", "Pole +", "Refill", "Насос"];
        let stages = ByTitle::new(&titles.map(stage));
        let case = |name: &str, expected: Option<(usize, Called)>| {
            assert_eq!(stages.find(name), expected, "{name}");
            assert_eq!(titled(titles.into_iter(), name), expected.map(|(at, _)| at), "{name}");
        };
        // A mark parts names at commas, so the title cannot be written out in it.
        case("Drain then wait", Some((0, Called::One)));
        case("drain-then-wait", Some((0, Called::One)));
        case("refill", Some((3, Called::One)));
        case("насос", Some((4, Called::One)));
        // The name itself goes before one of the same words that stands above it.
        case("pole +", Some((2, Called::One)));
        case("Pole −", Some((1, Called::One)));
        case("pole", Some((1, Called::Several)));
        case("Drain", None);
    }

    #[test]
    fn what_is_isolated_where_a_job_goes_on() {
        let text = "---\ntitle: A job\n---\n\
            ## Warm up\n\n1. x {isolate start key}\n\n\
            ## Drain\n\n1. x {isolate sump} {isolate fuel cock}\n2. y {restore Fuel Cock}\n\n\
            ## Filter {alongside Drain}\n\n1. x {isolate filter}\n\n\
            ## Refill {after Drain, Filter}\n\n1. x {restore sump} {restore filter}\n\n\
            ## Lay up {after Warm up}\n\n1. x {isolate seacock until fitting-out}\n\n\
            ## Run\n\n1. x {restore start key}\n";
        let (guide, _) = guide_of(&Source::new("guides/engine/a.md", text));
        let guide = guide.expect("it can be read");
        let stages = &guide.outline.stages;
        let case = |from: usize, expected: &[&str]| assert_eq!(isolated_before(stages, from), expected, "{}", stages[from].title);
        case(0, &[]);
        case(1, &["start key"]);
        // Whoever changes the filter may be doing so in the rests of draining.
        case(2, &["start key"]);
        case(3, &["start key", "sump", "filter"]);
        case(4, &["start key"]);
        case(5, &["start key", "seacock"]);
        assert_eq!(isolated_before(stages, 6), Vec::<&str>::new());
    }

    #[test]
    fn a_circle_of_any_number_of_stages_is_told() {
        let circle = |length: usize| {
            let stage = |at: usize| format!("## S{at} {{after S{}}}\n\n1. x\n\n", (at + 1) % length);
            let text = format!("---\ntitle: A job\n---\n{}", (0..length).map(stage).collect::<String>());
            let (_, problems) = guide_of(&Source::new("guides/engine/a.md", text));
            problems.iter().map(|one| (one.rule, one.place.line, one.message.matches(" → ").count())).collect::<Vec<_>>()
        };
        assert_eq!(circle(3), [("stage-circle", 4, 3)]);
        // Twelve of them are named, and the first at the end.
        assert_eq!(circle(600), [("stage-circle", 4, 13)]);
    }

    #[test]
    fn a_stage_without_marks_waits_for_those_above_it_down_to_the_next_one_without() {
        let after = |title: &str, after: &str| {
            let mut stage = stage(title);
            stage.after = Some(vec![Name::new(after.to_owned(), Span::default())]);
            stage
        };
        let mut beside = stage("E");
        beside.alongside = vec![Name::new("B".to_owned(), Span::default())];
        let stages = [stage("A"), stage("B"), after("C", "A"), after("D", "A"), stage("F"), beside];
        let by_title = ByTitle::new(&stages);
        let case = |at: usize, expected: &[(usize, Until)]| assert_eq!(waits(&stages, &by_title, at).collect::<Vec<_>>(), expected);
        case(0, &[]);
        case(1, &[(0, Until::Done)]);
        case(2, &[(0, Until::Done)]);
        // B has waited for A.
        case(4, &[(3, Until::Done), (2, Until::Done), (1, Until::Done)]);
        case(5, &[(1, Until::Begun)]);
        case(6, &[]);
    }

    #[test]
    fn a_title_that_its_commas_part_is_told_once() {
        let said = |after: &str| {
            let text = format!(
                "---\ntitle: A job\n---\n## Drain, then wait\n\n1. x\n\n## Filter\n\n1. y\n\n## Refill {{after {after}}}\n\n1. z\n"
            );
            let (_, problems) = guide_of(&Source::new("guides/engine/a.md", text));
            problems.iter().map(|one| format!("{} | {}", one.message, one.remedy)).collect::<Vec<_>>()
        };
        let told = "the commas of the title `Drain, then wait` part it into 2 names here | leave them out of the mark: `Drain then wait`";
        assert_eq!(said("Drain, then wait"), [told]);
        assert_eq!(said("Filter, Drain, then wait"), [told]);
        assert_eq!(said("Drain then wait, Filter"), Vec::<String>::new());
        assert_eq!(said("Drian, then wait").len(), 2);
    }
}
