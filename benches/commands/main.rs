//! How long the short commands take, beside what no program could do without: `cargo bench --bench commands`.
//!
//! Everything is a process of its own, by the clock, the rivals in turn; what is said is the median.

#![allow(clippy::disallowed_methods, reason = "a bench lays and reads files, and counts time")]

#[path = "../big_book/mod.rs"]
mod big_book;
mod floor;
#[expect(dead_code, reason = "other benches use more of it")]
#[path = "../measured.rs"]
mod measured;

use big_book::{LAST_DAY, Size, write};
use std::ffi::OsString;
use std::io;
use std::path::Path;
use std::process::{Command, ExitCode, Stdio};
use std::time::{Duration, Instant};

const GARBOARD: &str = env!("CARGO_BIN_EXE_garboard");
const ROUNDS: usize = 15;
/// A start may take three times as long as that of a program that does nothing, and this.
const START: Duration = Duration::from_millis(5);
/// A command may take so many times as long as reading and parsing alone.
const MOST: f64 = 3.0;

fn main() -> ExitCode {
    let arguments: Vec<OsString> = std::env::args_os().skip(1).collect();
    let told = match arguments.iter().map(|word| word.to_str()).collect::<Vec<_>>()[..] {
        [Some("floor"), Some(how), Some(folder)] => floor::read_all(Path::new(folder), how),
        _ => compare(),
    };
    measured::ended(told)
}

/// Prints the table; false where a limit is not kept.
fn compare() -> io::Result<bool> {
    let this = std::env::current_exe()?;
    let folder = tempfile::tempdir()?;
    let book = folder.path().join("content");
    write(&book, Size { guides: 200, entries: 2_000, seed: 1 })?;
    let floor = |how: &str| {
        let mut command = Command::new(&this);
        command.args(["floor", how]).arg(&book);
        command
    };
    let garboard = |name: &str| {
        let mut command = Command::new(GARBOARD);
        command.arg(name).arg("--book").arg(&book).args(["--on", LAST_DAY]);
        command
    };
    let mut help = Command::new(GARBOARD);
    help.arg("--help");
    let mut rivals = [floor("events"), floor("values"), garboard("due"), garboard("survey"), Command::new("true"), help]
        .map(|command| (command, Vec::new()));
    for _ in 0..ROUNDS {
        for (command, times) in &mut rivals {
            times.push(timed(command)?);
        }
    }
    let [events, values, due, survey, nothing, help] = rivals.map(|(_, times)| median(times));
    println!("200 guides and 2,000 entries; medians of {ROUNDS} runs on {} threads\n", rayon::current_num_threads());
    println!("| what | takes | of the floor | MUST |\n| --- | ---: | ---: | --- |");
    println!("| floor: read all, YAML events by granit-parser | {} | 1.0 | |", shown(events));
    println!("| floor: read all, YAML values by serde_yaml | {} | {:.1} | |", shown(values), ratio(values, events));
    let mut kept = true;
    for (name, time) in [("due", due), ("survey", survey)] {
        kept &= ratio(time, values) <= MOST;
        let (events, values) = (ratio(time, events), ratio(time, values));
        println!("| `garboard {name}` | {} | {events:.1}, {values:.1} of values | at most {MOST} of values |", shown(time));
    }
    kept &= help <= 3 * nothing + START;
    println!("| `true` | {} | | |", shown(nothing));
    println!("| `garboard --help` | {} | | at most {} |", shown(help), shown(3 * nothing + START));
    Ok(kept)
}

fn timed(command: &mut Command) -> io::Result<Duration> {
    let begun = Instant::now();
    let status = command.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null()).status()?;
    let took = begun.elapsed();
    if status.success() { Ok(took) } else { Err(io::Error::other(format!("{command:?} ended with {status}"))) }
}

fn median(mut times: Vec<Duration>) -> Duration {
    times.sort();
    times.get(times.len() / 2).copied().unwrap_or_default()
}

fn ratio(time: Duration, of: Duration) -> f64 {
    time.as_secs_f64() / of.as_secs_f64()
}

fn shown(time: Duration) -> String {
    format!("{:.1} ms", time.as_secs_f64() * 1e3)
}
