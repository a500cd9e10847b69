//! Costs: by year and system, one sum a currency.

use crate::book::model::{Book, System};
use crate::reckon::testing::{Writing, book, day, entry, gear, guide, name};
use crate::reckon::{CostPlace, Costs, Sum, reckon};

fn boat() -> Book {
    let mut book = book()
        .guide(guide("oil").needs("oil-filter", "").needs("rags", ""))
        .guide(guide("fuel").in_system("fuel").needs("fuel-filter", "").needs("rags", ""))
        .guide(guide("lead").in_system("sounding"))
        .gear(gear("raft"));
    book.boat.systems = ["hull", "engine", "fuel"].map(|id| System { id: name(id), title: id.to_owned() }).into();
    if let Some(raft) = book.boat.gear.first_mut() {
        raft.system = Some(name("hull"));
    }
    book
}

fn sum(sum: &Sum) -> String {
    sum.as_ref().map_or_else(|| "too large".to_owned(), ToString::to_string)
}

/// A line a system: `EUR engine: 2026 18.50 EUR, 2025 -; 18.50 EUR`, and one of all.
fn lines(costs: &Costs<'_>) -> Vec<String> {
    let mut lines = Vec::new();
    for costs in &costs.currencies {
        for system in &costs.systems {
            let place = match system.place {
                CostPlace::System(_, id) => id,
                CostPlace::Several => "several",
                CostPlace::None => "none",
            };
            let years = costs.years.iter().zip(&system.by_year);
            let years: Vec<String> = years.map(|(year, spent)| format!("{year} {}", spent.as_ref().map_or("-".to_owned(), sum))).collect();
            lines.push(format!("{place}: {}; {}", years.join(", "), sum(&system.total)));
        }
        let years: Vec<String> = costs.years.iter().zip(&costs.by_year).map(|(year, spent)| format!("{year} {}", sum(spent))).collect();
        lines.push(format!("{}: {}; {}", costs.code, years.join(", "), sum(&costs.total)));
    }
    lines
}

#[track_caller]
fn case(book: &Book, on: &str, expected: &[&str]) {
    assert_eq!(lines(&reckon(book, day(on)).0.costs), expected);
}

#[test]
fn nothing_spent_is_no_table() {
    case(&boat().entry(entry("2026-03-14-oil").job("oil")), "2026-06-01", &[]);
}

#[test]
fn costs_and_parts_are_added_by_year_and_system() {
    let book = boat()
        .entry(entry("2025-04-01-oil").job("oil").buys("oil-filter", "17.50 EUR"))
        .entry(entry("2026-03-14-oil").job("oil").buys("oil-filter", "18.50 EUR").pays("oil bank", "4 EUR"))
        .entry(entry("2026-05-01-fuel").job("fuel").buys("fuel-filter", "15.20 EUR"));
    // 2026: 18.50 + 4 = 22.50 and 15.20, together 37.70; with 17.50 of 2025 it is 55.20.
    let expected = [
        "engine: 2026 22.50 EUR, 2025 17.50 EUR; 40.00 EUR",
        "fuel: 2026 15.20 EUR, 2025 -; 15.20 EUR",
        "EUR: 2026 37.70 EUR, 2025 17.50 EUR; 55.20 EUR",
    ];
    case(&book, "2026-06-01", &expected);
    // As of a day: what is later is not there yet.
    case(&book, "2025-12-31", &["engine: 2025 17.50 EUR; 17.50 EUR", "EUR: 2025 17.50 EUR; 17.50 EUR"]);
}

#[test]
fn currencies_are_never_added_and_the_usual_one_comes_first() {
    let book = boat()
        .entry(entry("2026-03-14-oil").job("oil").buys("oil-filter", "18.50 EUR").pays("oil bank", "4 EUR"))
        .entry(entry("2026-04-14-pin").job("oil").pays("pin", "120 AUD"));
    let expected = [
        "engine: 2026 22.50 EUR; 22.50 EUR",
        "EUR: 2026 22.50 EUR; 22.50 EUR",
        "engine: 2026 120 AUD; 120 AUD",
        "AUD: 2026 120 AUD; 120 AUD",
    ];
    case(&book, "2026-06-01", &expected);
}

#[test]
fn what_is_about_several_systems_is_not_shared_out() {
    let both = || entry("2026-03-14-both").job("oil").job("fuel");
    // Parts go to the job that lists them; the rags are in both, and the yard's bill is for both.
    let book = boat().entry(
        both()
            .buys("oil-filter", "18 EUR")
            .buys("fuel-filter", "15 EUR")
            .buys("rags", "3 EUR")
            .buys("hose", "9 EUR")
            .pays("yard", "100 EUR"),
    );
    let expected =
        ["engine: 2026 18 EUR; 18 EUR", "fuel: 2026 15 EUR; 15 EUR", "several: 2026 112 EUR; 112 EUR", "EUR: 2026 145 EUR; 145 EUR"];
    case(&book, "2026-06-01", &expected);
    // So it is with work on a system of its own beside a job.
    let book = boat().entry(entry("2026-03-14-more").job("oil").works("rewired").belongs_to("hull").pays("yard", "100 EUR"));
    case(&book, "2026-06-01", &["several: 2026 100 EUR; 100 EUR", "EUR: 2026 100 EUR; 100 EUR"]);
}

#[test]
fn work_belongs_to_the_system_it_names_else_to_that_of_its_gear() {
    let book = boat()
        .entry(entry("2026-03-14-a").works("painted").belongs_to("hull").pays("paint", "50 EUR"))
        .entry(entry("2026-03-15-b").works("repacked").on_gear("raft").pays("service", "600 EUR"))
        .entry(entry("2026-03-16-c").works("new raft").fits("raft", "2032-04").pays("raft", "1000 EUR"))
        .entry(entry("2026-03-17-d").works("odds and ends").pays("screws", "7 EUR"))
        .entry(entry("2026-03-18-e").job("lead").pays("line", "11 EUR"));
    // Systems as in `boat.yaml`, then those that it does not list, then none: 50 + 600 + 1000 = 1650.
    let expected =
        ["hull: 2026 1650 EUR; 1650 EUR", "sounding: 2026 11 EUR; 11 EUR", "none: 2026 7 EUR; 7 EUR", "EUR: 2026 1668 EUR; 1668 EUR"];
    case(&book, "2026-06-01", &expected);
}

#[test]
fn an_entry_counts_in_the_year_it_was_done_and_while_open_in_the_year_it_was_begun() {
    let book = boat()
        .entry(entry("2025-12-30-a done 2026-01-02").job("oil").pays("yard", "10 EUR"))
        .entry(entry("2024-12-30-b open").job("oil").pays("yard", "20 EUR"))
        .entry(entry("2021-01-01-c on ~2021").job("oil").pays("yard", "30 EUR"));
    let expected = ["engine: 2026 10 EUR, 2024 20 EUR, 2021 30 EUR; 60 EUR", "EUR: 2026 10 EUR, 2024 20 EUR, 2021 30 EUR; 60 EUR"];
    case(&book, "2026-06-01", &expected);
}
