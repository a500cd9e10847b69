//! How long a publish takes, and what memory it holds, beside what no program could do without: `cargo bench --bench floor`.
//! With `-- --all` the largest book too.
//!
//! Both are processes of their own, in turn; what is said is the median.

#![allow(clippy::disallowed_methods, reason = "a bench lays and reads files, and counts time")]

#[path = "../big_book/mod.rs"]
mod big_book;
#[path = "../measured.rs"]
mod measured;
#[path = "floor.rs"]
mod minimum;
mod plain;
mod twice;

use big_book::{LAST_DAY, Size, write};
use measured::{Cost, in_memory, measured, median};
use std::ffi::OsString;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

const GARBOARD: &str = env!("CARGO_BIN_EXE_garboard");
/// A publish may take so many times as long as the floor, in a book of 2,000 guides.
const MOST: f64 = 2.0;
/// Ten times the book may cost so many times the time and the memory.
const GROWTH: f64 = 11.0;
/// Bytes that the largest book may take, in kilobytes as the system counts them.
const LARGEST: u64 = 600_000;

fn main() -> ExitCode {
    let arguments: Vec<OsString> = std::env::args_os().skip(1).collect();
    if let Some(told) = measured::between(&arguments) {
        return told;
    }
    let told = match &arguments[..] {
        [what, book, sizes, site] if what == "floor" => floor(Path::new(book), Path::new(sizes), Path::new(site)).map(|()| true),
        others => compare(others.iter().any(|argument| argument == "--all")),
    };
    measured::ended(told)
}

fn floor(book: &Path, sizes: &Path, site: &Path) -> io::Result<()> {
    let sizes: Vec<minimum::Size> = fs::read_to_string(sizes)?
        .lines()
        .filter_map(|line| line.split_once(' '))
        .filter_map(|(size, path)| Some((path.to_owned(), size.parse().ok()?)))
        .collect();
    minimum::publish(book, &sizes, site)
}

/// A book and what its publishes cost.
struct Measured {
    name: &'static str,
    files: usize,
    ours: Cost,
    floor: Cost,
    again: twice::Again,
}

/// Prints the tables; false where a limit is not kept.
fn compare(all: bool) -> io::Result<bool> {
    let mut books = vec![("200 + 2,000", 200, 2_000, 11), ("2,000 + 20,000", 2_000, 20_000, 7)];
    if all {
        books.push(("10,000 + 100,000", 10_000, 100_000, 3));
    }
    let (folder, place) = in_memory()?;
    let mut told = Vec::new();
    for (name, guides, entries, rounds) in books {
        let here = folder.path().join(guides.to_string());
        let book = here.join("content");
        write(&book, Size { guides, entries, seed: 1 })?;
        told.push(one(name, &here, &book, rounds)?);
        fs::remove_dir_all(&here)?;
    }
    println!("Guides + entries; books and sites {place}; {} threads.\n", rayon::current_num_threads());
    println!(
        "| book | files | publish | floor | ratio | MUST | memory | of the floor |\n| --- | ---: | ---: | ---: | ---: | --- | ---: | ---: |"
    );
    let mut kept = true;
    for book in &told {
        let ratio = of(book.ours.wall.as_secs_f64(), book.floor.wall.as_secs_f64());
        let must = if book.name.starts_with("2,000") { format!("at most {MOST:.1}") } else { String::new() };
        kept &= must.is_empty() || ratio <= MOST;
        println!(
            "| {} | {} | {} | {} | {ratio:.2} | {must} | {} | {} |",
            book.name,
            book.files,
            seconds(book.ours),
            seconds(book.floor),
            megabytes(book.ours),
            megabytes(book.floor)
        );
    }
    println!("\n| growth | of the book | of the time | of the memory | MUST |\n| --- | ---: | ---: | ---: | --- |");
    for pair in told.windows(2) {
        if let [small, large] = pair {
            let times = if large.name.starts_with("10,000") { 5.0 } else { 10.0 };
            let most = GROWTH * times / 10.0;
            let time = of(large.ours.wall.as_secs_f64(), small.ours.wall.as_secs_f64());
            let memory = large.ours.memory as f64 / small.ours.memory as f64;
            kept &= time <= most && memory <= most;
            println!("| {} to {} | {times:.0} | {time:.1} | {memory:.1} | at most {most:.1} each |", small.name, large.name);
        }
    }
    if let Some(largest) = told.last() {
        kept &= largest.ours.memory < LARGEST;
        println!("\nThe largest takes {}; it MUST be under {} MB.", megabytes(largest.ours), LARGEST / 1_000);
    }
    println!();
    twice::print(told.iter().map(|book| (book.name, book.ours, &book.again)), &mut kept);
    Ok(kept)
}

/// Both in turn, each time into an empty folder, and then publishes into one that holds the site.
fn one(name: &'static str, here: &Path, book: &Path, rounds: usize) -> io::Result<Measured> {
    let site = here.join("site");
    let list = here.join("sizes");
    publish(book, &site)?;
    let sizes = twice::files(&site)?;
    let lines: Vec<String> = sizes.iter().map(|(path, file)| format!("{} {path}", file.size)).collect();
    fs::write(&list, lines.join("\n"))?;
    let this = std::env::current_exe()?;
    let (mut ours, mut floors) = (Vec::new(), Vec::new());
    for _ in 0..rounds {
        fs::remove_dir_all(&site)?;
        ours.push(publish(book, &site)?);
        fs::remove_dir_all(&site)?;
        let arguments = [OsString::from("floor"), book.into(), list.clone().into(), site.clone().into()];
        floors.push(measured(&this.to_string_lossy(), &arguments)?);
    }
    fs::remove_dir_all(&site)?;
    let again = twice::again(book, &site, rounds)?;
    Ok(Measured { name, files: sizes.len(), ours: middle(&ours), floor: middle(&floors), again })
}

fn publish(book: &Path, site: &Path) -> io::Result<Cost> {
    let mut arguments: Vec<OsString> = ["publish", "--on", LAST_DAY, "--book"].map(OsString::from).to_vec();
    arguments.extend([PathBuf::from(book).into(), "--to".into(), PathBuf::from(site).into()]);
    measured(GARBOARD, &arguments)
}

/// Each figure by itself.
fn middle(costs: &[Cost]) -> Cost {
    Cost {
        wall: median(costs.iter().map(|cost| cost.wall).collect()),
        work: median(costs.iter().map(|cost| cost.work).collect()),
        memory: median(costs.iter().map(|cost| cost.memory).collect()),
    }
}

fn of(one: f64, other: f64) -> f64 {
    one / other
}

fn seconds(cost: Cost) -> String {
    format!("{:.2} s ({:.2} s of work)", cost.wall.as_secs_f64(), cost.work.as_secs_f64())
}

fn megabytes(cost: Cost) -> String {
    format!("{:.0} MB", cost.memory as f64 / 1_000.0)
}
