//! What was shut for the winter, until a job of fitting out opens it again.

use crate::reckon::reckon;
use crate::reckon::testing::{Writing, book, day, entry, gear, guide};

/// What is still isolated: `2025-10-20-lay-up: intake until fitting-out, breaker until fitting-out`.
#[track_caller]
fn case(entries: &[&str], expected: &[&str]) {
    let lay_up = guide("lay-up").step(&["isolate Intake until fitting-out"]).step(&["isolate breaker until fitting-out"]);
    let fit_out = guide("fit-out").occasion("fitting-out").step(&["restore intake"]);
    let switch_on = guide("switch-on").occasion("fitting-out").occasion("haul-out").step(&["restore breaker"]);
    // Shuts and opens the intake itself, and is for no occasion.
    let impeller = guide("impeller").step(&["isolate intake"]).step(&["restore intake"]);
    // Of the occasion, and what it opens it has shut itself.
    let drains = guide("drains").occasion("fitting-out").step(&["isolate intake"]).step(&["restore intake"]);
    let book = [lay_up, fit_out, switch_on, impeller, drains].into_iter().fold(book(), Writing::guide);
    let book = entries.iter().fold(book, |book, written| {
        let (name, job) = written.split_once(": ").expect("a job");
        book.entry(entry(name).job(job))
    });
    let (reckoning, _) = reckon(&book, day("2026-06-01"));
    let found: Vec<String> = (reckoning.still_isolated().iter())
        .map(|one| {
            let what: Vec<String> = one.what.iter().map(|(what, occasion)| format!("{what} until {occasion}")).collect();
            format!("{}: {}", one.entry.id, what.join(", "))
        })
        .collect();
    assert_eq!(found, expected, "{entries:?}");
}

#[test]
fn it_stays_so_until_a_job_of_the_occasion_restores_it() {
    let both = ["2025-10-20-a: Intake until fitting-out, breaker until fitting-out"];
    case(&["2025-10-20-a: lay-up"], &both);
    case(&["2025-10-20-a: lay-up", "2026-04-01-b: fit-out"], &["2025-10-20-a: breaker until fitting-out"]);
    case(&["2025-10-20-a: lay-up", "2026-04-01-b: fit-out", "2026-04-02-c: switch-on"], &[]);
    // Of last spring, not finished yet, or of no such occasion.
    case(&["2025-04-01-b: fit-out", "2025-04-02-c: switch-on", "2025-10-20-a: lay-up"], &both);
    case(&["2025-10-20-a: lay-up", "2026-04-01-b open: fit-out"], &["2025-10-20-a: Intake until fitting-out, breaker until fitting-out"]);
    case(&["2025-10-20-a: lay-up", "2026-04-01-b: impeller"], &both);
    case(&["2025-10-20-a: lay-up", "2026-04-01-b: drains"], &both);
}

#[test]
fn only_a_finished_job_counts_and_of_several_the_last() {
    case(&[], &[]);
    case(&["2025-10-20-a open: lay-up"], &[]);
    case(&["2024-10-20-a: lay-up", "2025-10-22-b: lay-up"], &["2025-10-22-b: Intake until fitting-out, breaker until fitting-out"]);
}

#[test]
fn each_piece_of_gear_is_opened_by_itself() {
    let found = |entries: &[(&str, &str)]| {
        let shut = guide("shut").for_gear("galley").for_gear("heads").step(&["isolate seacock until fitting-out"]);
        let open = guide("open").for_gear("galley").for_gear("heads").occasion("fitting-out").step(&["restore seacock"]);
        // For the whole boat at once.
        let launch = guide("launch").occasion("fitting-out").step(&["restore seacock"]);
        let book = [shut, open, launch].into_iter().fold(book().gear(gear("galley")).gear(gear("heads")), Writing::guide);
        let book = entries.iter().fold(book, |book, (name, job)| book.entry(entry(name).job(job)));
        let (reckoning, _) = reckon(&book, day("2026-06-01"));
        let still = reckoning.still_isolated();
        still.iter().filter_map(|one| one.gear).map(|gear| gear.id.value.clone()).collect::<Vec<_>>()
    };
    let shut = [("2025-10-20-a", "shut/galley"), ("2025-10-21-b", "shut/heads")];
    let then = |more: &[(&'static str, &'static str)]| found(&[&shut[..], more].concat());
    assert_eq!(then(&[]), ["galley", "heads"]);
    assert_eq!(then(&[("2026-04-01-c", "open/galley")]), ["heads"]);
    assert_eq!(then(&[("2026-04-01-c", "open/galley"), ("2026-04-02-d", "open/heads")]), [] as [&str; 0]);
    assert_eq!(then(&[("2026-04-01-c", "launch")]), [] as [&str; 0]);
}
