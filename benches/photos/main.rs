//! What 200 photos of 12 megapixels cost: `cargo bench --bench photos`, with `-- N` other than 200 of them.
//!
//! They are drawn here, no two alike, and stand in the log, ten an entry. The publish may hold 300 MB, must keep all
//! processors at work, and must not touch a photo the second time.

#![allow(clippy::disallowed_methods, reason = "a bench lays and reads files, and counts time")]

#[path = "draw.rs"]
mod draw;
#[expect(dead_code, reason = "other benches use more of it")]
#[path = "../measured.rs"]
mod measured;

use measured::{Cost, between, in_memory, measured};
use rayon::prelude::*;
use std::collections::BTreeMap;
use std::ffi::OsString;
use std::fs;
use std::io;
use std::path::Path;
use std::process::ExitCode;
use std::time::SystemTime;

const GARBOARD: &str = env!("CARGO_BIN_EXE_garboard");
/// Kilobytes as the system counts them.
const MOST_MEMORY: u64 = 300_000;
/// Of all processors, how much is used at the least.
const BUSY: f64 = 0.8;
const AN_ENTRY: u32 = 10;

fn main() -> ExitCode {
    let arguments: Vec<OsString> = std::env::args_os().skip(1).collect();
    if let Some(told) = between(&arguments) {
        return told;
    }
    let count = arguments.iter().filter_map(|word| word.to_str()?.parse().ok()).next().unwrap_or(200);
    measured::ended(photos(count))
}

/// Prints the table; false where a limit is not kept.
fn photos(count: u32) -> io::Result<bool> {
    let (folder, place) = in_memory()?;
    let book = folder.path().join("content");
    let site = folder.path().join("site");
    write(&book, count)?;
    let publish = || {
        let mut arguments: Vec<OsString> = ["publish", "--on", "2026-05-31", "--book"].map(OsString::from).to_vec();
        arguments.extend([book.clone().into(), "--to".into(), site.clone().into()]);
        measured(GARBOARD, &arguments)
    };
    let first = publish()?;
    let before = pictures(&site)?;
    // Another word in the log: the site is made anew, its pictures are not.
    let entry = book.join("log/2026-05-01-photos-0.md");
    fs::write(&entry, fs::read_to_string(&entry)? + "\nSeen again.\n")?;
    let second = publish()?;
    let touched = pictures(&site)?.iter().filter(|(path, written)| before.get(*path) != Some(written)).count();
    let threads = rayon::current_num_threads();
    println!("{count} photos of 12 megapixels, {place}; {threads} threads\n");
    println!("| publish | takes | work of all threads | MUST | memory | MUST |\n| --- | ---: | ---: | --- | ---: | --- |");
    let busy = |cost: Cost| cost.work.as_secs_f64() / cost.wall.as_secs_f64();
    let least = BUSY * threads as f64;
    println!(
        "| first | {:.1} s | {:.2} of {threads} | at least {least:.1} | {} MB | at most {} MB |",
        first.wall.as_secs_f64(),
        busy(first),
        first.memory / 1_000,
        MOST_MEMORY / 1_000
    );
    println!(
        "| second, one entry changed: {touched} of {} pictures touched | {:.2} s | {:.2} of {threads} | no picture | {} MB | |",
        before.len(),
        second.wall.as_secs_f64(),
        busy(second),
        second.memory / 1_000
    );
    Ok(first.memory <= MOST_MEMORY && busy(first) >= least && touched == 0)
}

/// A small book whose entries show all the photos.
fn write(book: &Path, count: u32) -> io::Result<()> {
    fs::create_dir_all(book.join("log"))?;
    fs::write(book.join("boat.yaml"), "name: Skerrywake\nlanguage: en\n")?;
    (0..count).into_par_iter().try_for_each(|n| fs::write(book.join(format!("log/photo-{n}.jpg")), draw::photo(n)?))?;
    (0..count.div_ceil(AN_ENTRY)).try_for_each(|entry| {
        let shown: String =
            (entry * AN_ENTRY..count.min((entry + 1) * AN_ENTRY)).map(|n| format!("\n![Photo {n}](photo-{n}.jpg)\n")).collect();
        fs::write(
            book.join(format!("log/2026-05-01-photos-{entry}.md")),
            format!("---\nwork: [\"Looked at everything, part {entry}\"]\ndate: 2026-05-01\n---\nAs it is.\n{shown}"),
        )
    })
}

/// The pictures of a site with the time at which each was written.
fn pictures(site: &Path) -> io::Result<BTreeMap<OsString, SystemTime>> {
    fs::read_dir(site.join("pictures"))?.map(|item| item.and_then(|item| Ok((item.file_name(), item.metadata()?.modified()?)))).collect()
}
