//! Programs as processes, with the time they take and the memory they hold at most.

use nix::sys::resource::{UsageWho, getrusage};
use std::ffi::OsString;
use std::io;
use std::path::PathBuf;
use std::process::{Command, ExitCode, Stdio};
use std::time::{Duration, Instant};

/// The argument that makes this program run another one and tell what it cost.
const RUN: &str = "run-and-tell";

/// What a process cost.
#[derive(Debug, Clone, Copy, Default)]
pub struct Cost {
    /// By the clock.
    pub wall: Duration,
    /// On all processors, in the program and in the system.
    pub work: Duration,
    /// The most it held, in kilobytes.
    pub memory: u64,
}

/// Runs a program in a process between, whose only child it is: the system tells the peak of all children together.
///
/// # Errors
/// It cannot be started, or ends with anything but 0.
pub fn measured(program: &str, arguments: &[OsString]) -> io::Result<Cost> {
    let output = Command::new(std::env::current_exe()?)
        .arg(RUN)
        .arg(program)
        .args(arguments)
        .stdin(Stdio::null())
        .stderr(Stdio::inherit())
        .output()?;
    let told = String::from_utf8_lossy(&output.stdout).into_owned();
    let numbers: Vec<u64> = told.split_whitespace().filter_map(|number| number.parse().ok()).collect();
    match numbers[..] {
        [wall, work, memory] if output.status.success() => {
            Ok(Cost { wall: Duration::from_micros(wall), work: Duration::from_micros(work), memory })
        }
        _ => Err(io::Error::other(format!("{program} {arguments:?} failed: {told}"))),
    }
}

/// The process between, where this is one.
#[must_use]
pub fn between(arguments: &[OsString]) -> Option<ExitCode> {
    let (first, rest) = arguments.split_first()?;
    (first == RUN).then(|| match tell(rest) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("{error}");
            ExitCode::FAILURE
        }
    })
}

fn tell(arguments: &[OsString]) -> io::Result<()> {
    let Some((program, arguments)) = arguments.split_first() else { return Ok(()) };
    let begun = Instant::now();
    let output = Command::new(program).args(arguments).stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::piped()).output()?;
    let wall = begun.elapsed().as_micros();
    if !output.status.success() {
        return Err(io::Error::other(format!("{}: {}", output.status, String::from_utf8_lossy(&output.stderr))));
    }
    let usage = getrusage(UsageWho::RUSAGE_CHILDREN)?;
    let work = usage.user_time() + usage.system_time();
    println!("{wall} {} {}", i128::from(work.tv_sec()) * 1_000_000 + i128::from(work.tv_usec()), usage.max_rss());
    Ok(())
}

/// A folder in memory where the system has one, so that no disk is measured; says where.
///
/// # Errors
/// No folder can be made.
pub fn in_memory() -> io::Result<(tempfile::TempDir, &'static str)> {
    let shared = PathBuf::from("/dev/shm");
    if shared.is_dir()
        && let Ok(folder) = tempfile::tempdir_in(shared)
    {
        return Ok((folder, "in memory (`/dev/shm`)"));
    }
    Ok((tempfile::tempdir()?, "on a disk, for there is no `/dev/shm`: the ratios are of little worth"))
}

/// How a bench ends: with 1 where a limit is not kept, or where it could not be measured.
#[must_use]
pub fn ended(told: io::Result<bool>) -> ExitCode {
    match told {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::FAILURE,
        Err(error) => {
            eprintln!("{error}");
            ExitCode::FAILURE
        }
    }
}

/// The middle one.
#[must_use]
pub fn median<T: PartialOrd + Copy + Default>(mut values: Vec<T>) -> T {
    values.sort_by(|a, b| a.partial_cmp(b).unwrap_or(std::cmp::Ordering::Equal));
    values.get(values.len() / 2).copied().unwrap_or_default()
}
