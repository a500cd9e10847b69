//! Writes a large book: `cargo run --release --example big-book -- --guides 2000 --entries 20000 --seed 1 DIR`.

#![allow(clippy::disallowed_methods, reason = "a bench lays and reads files, and counts time")]

#[path = "mod.rs"]
mod big_book;

use big_book::{LAST_DAY, Size, write};
use clap::Parser;
use std::path::PathBuf;
use std::process::ExitCode;

/// Write a believable book of any size, the same one for the same numbers
#[derive(Debug, Parser)]
#[command(name = "big-book")]
struct Arguments {
    /// How many guides
    #[arg(long, default_value_t = 200)]
    guides: u64,
    /// How many entries of the log
    #[arg(long, default_value_t = 2_000)]
    entries: u64,
    /// Which of all books of that size
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// The folder for its files, as `--book` takes it
    dir: PathBuf,
}

fn main() -> ExitCode {
    let Arguments { guides, entries, seed, dir } = Arguments::parse();
    match write(&dir, Size { guides, entries, seed }) {
        Ok(count) => {
            println!("{count} files in {}; the last day is {LAST_DAY}", dir.display());
            ExitCode::SUCCESS
        }
        Err(error) => {
            eprintln!("{}: {error}", dir.display());
            ExitCode::FAILURE
        }
    }
}
